#include "framing/wall_headers.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "framing/spans.h"

namespace warmside::framing {

namespace {

constexpr Exact two_by = Exact::sixty_fourths_of_inch(96);
constexpr double mph = 0.44704;  // m/s, 1609.344 m in 3600 s

// Plies that [details] asks for and `deep` has room for.
int told_plies(const Bench& bench, const FramePlan& plan, Exact ply, Problems& notes) {
    const auto& asked = bench.house.details.header_plies;
    const auto most = std::max(static_cast<int>(plan.depth.size().count() / ply.count()), 1);
    if (asked.value > most) {
        notes.push_back(
            {.code = Code::out_of_range,
             .severity = Severity::note,
             .what = fmt::format("headers of {} have {} of {} plies: its frame is {} deep, a ply {}",
                                 bench.wall.build->assembly->name, most, asked.value,
                                 units::inches(plan.depth.size().metres()), units::inches(ply.metres())),
             .suggestion = fmt::format("header_plies = {}, or a deeper frame", most),
             .where = asked.origin.where});
    }
    return std::clamp(asked.value, 1, most);
}

HeaderWish as_told(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const assembly::Details& details = bench.house.details;
    HeaderWish wish{.height = Exact::nearest(details.header.value),
                    .ply = plan.plate_thickness,
                    .lumber = plate_lumber(bench.house, *plan.layer->framing),
                    .notes = {}};
    wish.plies = told_plies(bench, plan, wish.ply, wish.notes);
    wish.jacks = std::max(details.jamb_studs.value - 1, 0);
    wish.dropped = plan.stud_high - wish.height - bay.head > wish.height;
    return wish;
}

// Extent of the inside of the building across the ridge, m; the shorter side of the outline where no roof
// says how it runs.
double width_across(const assembly::House& house, const assembly::Storey& storey) {
    if (storey.outline.empty()) return 0.0;
    Exact west = storey.outline.front().x, east = west, south = storey.outline.front().y, north = south;
    for (const assembly::Point& p : storey.outline) {
        west = std::min(west, p.x);
        east = std::max(east, p.x);
        south = std::min(south, p.y);
        north = std::max(north, p.y);
    }
    const double x = (east - west).metres(), y = (north - south).metres();
    for (const assembly::Roof& roof : house.roofs) {
        if (roof.ridge == "east-west") return y;
        if (roof.ridge == "north-south") return x;
    }
    return std::min(x, y);
}

struct Burden {
    double width = 0.0;
    Carries carries = Carries::roof;
    std::string beyond;  // why the table does not hold; empty: it does
};

Burden burden_of(const Bench& bench, const FramePlan& plan, Exact ply) {
    Burden out;
    const assembly::House& house = bench.house;
    const assembly::Storey* storey = house.storey(bench.wall.face->storey);
    if (!storey) return {.beyond = "the face has no storey"};
    out.width = width_across(house, *storey) + 2.0 * plan.depth.high.metres();
    const auto above = std::count_if(house.storeys.begin(), house.storeys.end(),
                                     [&](const assembly::Storey& s) { return s.floor > storey->floor; });
    if (above > 0) out.carries = Carries::roof_and_floor;
    const std::string& species = house.practice.species.value;
    const std::string& grade = house.practice.grade.value;
    const bool known = species == "spruce-pine-fir" || species == "douglas fir-larch" ||
                       species == "hem-fir" || species == "southern pine";
    if (above > 1) out.beyond = "more than one storey stands above it";
    if (above > 0 && !house.practice.bearing_line.value) out.beyond = "the floor above spans the whole width";
    if (ply != two_by) out.beyond = "the table is for 2x lumber";
    if (!known || (grade != "No. 2" && grade != "No. 1" && grade != "Select Structural"))
        out.beyond = fmt::format("the table does not hold for {} {}", species, grade);
    return out;
}

int kings(const Bench& bench, double span, int jacks) {
    const assembly::Loads& loads = bench.house.loads;
    if (!loads.wind_speed || !loads.exposure) return 1;
    const bool calm = loads.exposure->value == assembly::Loads::Exposure::b &&
                      loads.wind_speed->value <= 115 * mph + 0.01 && jacks > 0;
    return kings_for(span, calm).value_or(1);
}

// In one line what the table cannot say; `told` stands.
Problem engineer(const Bench& bench, const Bay& bay, const std::string& told, const std::string& why) {
    return {.code = Code::unsupported,
            .severity = Severity::warning,
            .what = fmt::format("{} of face {}: the header is taken {}, an engineer decides: {}",
                                bay.top().opening->name, bench.wall.face->name, told, why),
            .where = bay.top().opening->origin.where};
}

bool by_table(const Bench& bench) {
    return bench.house.practice.sized_headers.value && bench.house.loads.ground_snow;
}

// No header of the table fits: that of [details] then stands on no fewer jacks, and between no fewer kings,
// than the table gives the like of it, whose span is shorter.
void as_its_row(const Bench& bench, const Burden& burden, double span, HeaderWish& wish) {
    const std::string* like = nullptr;
    static const std::array<std::string, 5> members{"2x4", "2x6", "2x8", "2x10", "2x12"};
    for (const std::string& member : members) {
        if (*depth_of_two_by(member) <= wish.height) like = &member;
    }
    if (!like) return;
    const auto row = header_row(wish.plies, *like, burden.width, bench.house.loads.ground_snow->value,
                                burden.carries, !wish.dropped);
    if (!row) return;
    wish.jacks = std::max(wish.jacks, row->jacks);
    wish.kings = std::max(wish.kings, kings(bench, span, wish.jacks));
}

HeaderWish in_wall(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    HeaderWish told = as_told(bench, plan, bay);
    if (!by_table(bench)) return told;
    const Burden burden = burden_of(bench, plan, told.ply);
    const double span = bay.clear.size().metres(), room = (plan.stud_high - bay.head).metres();
    const auto most = static_cast<int>(plan.depth.size().count() / plan.plate_thickness.count());
    for (const bool braced : {true, false}) {
        if (!burden.beyond.empty()) break;
        const auto choice = header_for(span, burden.width, bench.house.loads.ground_snow->value,
                                       burden.carries, braced, most, room);
        if (!choice) continue;
        const Exact height = *depth_of_two_by(choice->member);
        // Tight under the plates only while the space below it is no higher than the header.
        const bool dropped = plan.stud_high - height - bay.head > height;
        if (dropped && braced) continue;
        return {.height = height,
                .ply = told.ply,
                .lumber = told.lumber,
                .plies = choice->plies,
                .jacks = choice->jacks,
                .kings = kings(bench, span, choice->jacks),
                .dropped = dropped,
                .notes = {}};
    }
    if (burden.beyond.empty()) as_its_row(bench, burden, span, told);
    told.notes.push_back(engineer(
        bench, bay, "as [details] says",
        burden.beyond.empty() ? "no row of IRC Table R602.7(1) here holds and fits in" : burden.beyond));
    return told;
}

// Full-height studs at each end of a header in the rim: those that half its span displaces (IRC R602.7.2,
// memory). Counted at the wall's own spacing, at most the table's, so never fewer.
int displaced(const Bench& bench, const FramePlan& plan, double span) {
    const double module = plan.layer->framing->spacing.metres();
    const int by_span = module > 0.0 ? static_cast<int>(std::ceil(0.5 * span / module - 1e-9)) : 1;
    return std::max({by_span, kings(bench, span, 0), 1});
}

HeaderWish in_rim(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const RimOver& rim = bench.wall.rim;
    const double span = bay.clear.size().metres();
    HeaderWish wish{.height = rim.depth,
                    .ply = rim.thickness,
                    .lumber = rim.lumber,
                    .jacks = 0,
                    .kings = displaced(bench, plan, span),
                    .at_rim = true,
                    .notes = {}};
    wish.plies = told_plies(bench, plan, rim.thickness, wish.notes);
    if (!by_table(bench)) return wish;
    const Burden burden = burden_of(bench, plan, rim.thickness);
    const auto most = static_cast<int>(plan.depth.size().count() / rim.thickness.count());
    const Section section = section_of(rim.thickness, rim.depth);
    for (int plies = 1; burden.beyond.empty() && plies <= most; ++plies) {
        const auto row = header_row(plies, section.name, burden.width, bench.house.loads.ground_snow->value,
                                    burden.carries, true);
        if (!row || row->span + 1e-9 < span) continue;
        wish.plies = plies;
        wish.notes.clear();
        return wish;
    }
    wish.notes.push_back(
        engineer(bench, bay, fmt::format("{}-{} in the rim", wish.plies, section.name),
                 burden.beyond.empty() ? "no row of IRC Table R602.7(1) here holds" : burden.beyond));
    return wish;
}

// Why no header can lie in the rim over this bay; empty: it can.
std::string rim_lacking(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const RimOver& rim = bench.wall.rim;
    if (!rim.lacking.empty()) return rim.lacking;
    const Exact beside = plan.thickness * displaced(bench, plan, bay.clear.size().metres());
    const Interval needed{bay.clear.low - beside, bay.clear.high + beside};
    const bool over = std::any_of(rim.runs.begin(), rim.runs.end(), [&](const Interval& run) {
        return run.low <= needed.low && needed.high <= run.high;
    });
    return over ? std::string() : std::string("the rim does not pass over all its studs in this wall's line");
}

}  // namespace

HeaderWish header_wish(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    if (bench.house.details.header_place.value != assembly::HeaderPlace::rim)
        return in_wall(bench, plan, bay);
    const std::string lacking = rim_lacking(bench, plan, bay);
    if (lacking.empty()) return in_rim(bench, plan, bay);
    HeaderWish wish = in_wall(bench, plan, bay);
    // Of a whole storey's walls once, of a single opening by its name.
    const std::string subject =
        bench.wall.rim.lacking.empty()
            ? fmt::format("{} of face {}: its header lies", bay.top().opening->name, bench.wall.face->name)
            : fmt::format("storey {}: headers lie", bench.wall.face->storey);
    wish.notes.push_back({.code = Code::unsupported,
                          .severity = Severity::note,
                          .what = fmt::format("{} in the wall, not in the rim: {}", subject, lacking),
                          .where = bench.house.details.header_place.origin.where});
    return wish;
}

}  // namespace warmside::framing
