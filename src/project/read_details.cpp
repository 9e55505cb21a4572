// [details]: how the crew builds the places where assemblies meet.
#include "project/draft.h"

namespace warmside::project {

namespace {

template <class T, class U>
void take(Section& r, std::string_view key, Sourced<T>& into, const std::optional<U>& value) {
    if (value) into = {static_cast<T>(*value), r.origin(key)};
}

void length(Section& r, std::string_view key, Sourced<double>& into) {
    const auto value = r.length(key);
    if (value) into = {value->metres(), r.origin(key)};
}

void count(Section& r, std::string_view key, Sourced<int>& into) {
    take(r, key, into, r.integer(key));
}

void frame(Section& r, assembly::Details& details) {
    using assembly::FramePlace;
    const auto place = r.word("frame_place");
    if (place) {
        details.frame = {*place == "middle"  ? FramePlace::middle
                         : *place == "inner" ? FramePlace::inner
                                             : FramePlace::sheathing,
                         r.origin("frame_place")};
    }
    length(r, "frame_lap", details.frame_lap);
    length(r, "frame_depth", details.frame_depth);
    length(r, "frame_width", details.frame_width);
    take(r, "frame_u", details.frame_u, r.quantity("frame_u"));
    length(r, "gap", details.gap);
    count(r, "jamb_studs", details.jamb_studs);
    length(r, "header", details.header);
    count(r, "header_plies", details.header_plies);
    const auto header = r.word("header_place");
    if (header) {
        details.header_place = {*header == "rim" ? assembly::HeaderPlace::rim : assembly::HeaderPlace::wall,
                                r.origin("header_place")};
    }
    length(r, "buck", details.buck);
    if (details.frame_lap.value > 0.0 && details.frame.value != FramePlace::sheathing) {
        r.complain("frame_lap", Code::conflict,
                   "only frames at the sheathing are lapped by exterior insulation",
                   "frame_place = \"sheathing\"");
    }
    if (details.frame_lap.value > details.frame_width.value) {
        r.complain("frame_lap", Code::conflict, "frame_lap is more than the frame's width in view",
                   "frame_width = \"4 1/2 in\"");
    }
}

}  // namespace

void read_details(Draft& draft, const toml::table& table) {
    Section r(table, "details", "[details]", draft.problems);
    assembly::Details& details = draft.house.details;
    details.origin = r.origin();
    length(r, "stud", details.member);
    count(r, "corner_studs", details.corner_studs);
    count(r, "partitions", details.partitions);
    const auto backing = r.word("partition_backing");
    if (backing) details.partition_stud = {*backing == "stud", r.origin("partition_backing")};
    count(r, "top_plates", details.top_plates);
    count(r, "bottom_plates", details.bottom_plates);
    length(r, "deck", details.deck);
    length(r, "joist", details.joist);
    length(r, "rim_board", details.rim_board);
    const auto rim = r.word("rim");
    if (rim) details.rim_insulated = {*rim == "insulated", r.origin("rim")};
    length(r, "ledger", details.ledger);
    length(r, "balcony", details.balcony);
    length(r, "heel", details.heel);
    length(r, "vent_gap", details.vent_gap);
    frame(r, details);
    length(r, "foundation_wall", details.stem_wall);
    length(r, "foundation_depth", details.foundation_depth);
    length(r, "edge_insulation", details.edge_insulation);
    r.finish();
}

}  // namespace warmside::project
