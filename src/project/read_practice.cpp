// [framing], [loads], [partition.NAME] and [box.NAME]: how the crew frames and what the house has to carry.
#include <algorithm>
#include <fmt/format.h>

#include "assembly/boxes.h"
#include "assembly/check.h"
#include "base/nearest.h"
#include "project/draft.h"
#include "project/read_framing.h"

namespace warmside::project {

using assembly::BoxKind;
using assembly::Loads;
using assembly::Partition;
using assembly::Practice;

namespace {

// More than any house has.
constexpr std::size_t most_partitions = 500, most_boxes = 2000;

void read_framing_table(Draft& draft, const toml::table& table) {
    Section r(table, "practice", "[framing]", draft.problems);
    Practice& p = draft.house.practice;
    p.origin = r.origin();
    take(r, "species", p.species, r.word("species"));
    take(r, "grade", p.grade, r.word("grade"));
    take(r, "stud_grade", p.stud_grade, r.word("stud_grade"));
    take(r, "stacked", p.stacked, r.flag("stacked"));
    take(r, "sized_headers", p.sized_headers, r.flag("sized_headers"));
    take(r, "edge_blocking", p.edge_blocking, r.flag("edge_blocking"));
    take(r, "sheet_width", p.sheet_width, r.length("sheet_width"));
    take(r, "sheet_length", p.sheet_length, r.length("sheet_length"));
    take(r, "roll_width", p.roll_width, r.length("roll_width"));
    take(r, "roll_length", p.roll_length, r.length("roll_length"));
    take(r, "lap", p.lap, r.length("lap"));
    take(r, "joist", p.joist, read_member_name(draft, r, "joist"));
    take(r, "joist_spacing", p.joist_spacing, r.length("joist_spacing"));
    take(r, "joist_run", p.joist_run, r.word("joist_run"));
    take(r, "bearing_line", p.bearing_line, r.flag("bearing_line"));
    take(r, "boxes", p.boxes, r.flag("boxes"));
    take(r, "box_reach", p.box_reach, r.length("box_reach"));
    take(r, "box_height", p.box_height, r.length("box_height"));
    take(r, "box_body", p.box_body, r.word("box_body"));
    if (p.sheet_length.value < p.sheet_width.value) {
        r.complain(r.has("sheet_length") ? "sheet_length" : "sheet_width", Code::conflict,
                   "a sheet is shorter than it is wide", "sheet_width is the shorter side");
    }
    if (p.lap.value.count() * 2 > p.roll_width.value.count()) {
        r.complain(r.has("lap") ? "lap" : "roll_width", Code::conflict,
                   "a lap takes more than half of the roll's width");
    }
    r.finish();
}

void read_loads(Draft& draft, const toml::table& table) {
    Section r(table, "loads", "[loads]", draft.problems);
    Loads& loads = draft.house.loads;
    loads.origin = r.origin();
    take(r, "ground_snow", loads.ground_snow, r.quantity("ground_snow"));
    take(r, "wind_speed", loads.wind_speed, r.quantity("wind_speed"));
    if (const auto word = r.word("exposure")) {
        using E = Loads::Exposure;
        loads.exposure = Sourced<E>{*word == "B" ? E::b : *word == "C" ? E::c : E::d, r.origin("exposure")};
    }
    take(r, "seismic", loads.seismic, r.word("seismic"));
    take(r, "floor_live", loads.floor_live, r.quantity("floor_live"));
    take(r, "floor_dead", loads.floor_dead, r.quantity("floor_dead"));
    take(r, "roof_dead", loads.roof_dead, r.quantity("roof_dead"));
    take(r, "attic_live", loads.attic_live, r.quantity("attic_live"));
    take(r, "cladding", loads.cladding, r.quantity("cladding"));
    if (loads.wind_speed && !r.has("exposure")) {
        r.warn("wind_speed", Code::incomplete, "wind_speed without an exposure: wind is not checked",
               "exposure = \"B\", \"C\" or \"D\"");
    }
    r.finish();
}

// The face that `key` names; a name that no face has is a problem.
const assembly::Face* face_of(Draft& draft, Section& r, const std::string& name) {
    const auto& faces = draft.house.faces;
    const auto found =
        std::find_if(faces.begin(), faces.end(), [&](const assembly::Face& f) { return f.name == name; });
    if (found != faces.end()) return &*found;
    if (draft.is_lost("face", name)) return nullptr;
    std::vector<std::string> known;
    for (const auto& each : faces) known.push_back(each.name);
    r.complain("face", Code::unknown_name, fmt::format("no face is called \"{}\"", name),
               nearest(name, known));
    return nullptr;
}

void read_partition(Draft& draft, const std::string& name, const toml::table& table) {
    Section r(table, "partition", fmt::format("[partition.{}]", name), draft.problems);
    Partition partition;
    partition.name = name;
    partition.origin = r.origin();
    const auto face = r.text("face");
    const auto at = r.length("at");
    const auto member = read_member_name(draft, r, "member");
    const bool named = member || !r.has("member");
    partition.member = member.value_or("2x4");
    r.finish();
    if (!face) return;
    const assembly::Face* found = face_of(draft, r, *face);
    if (!found || !at || !named) return;
    partition.face = *face;
    partition.at = *at;
    const auto size = assembly::member_size(draft.house.catalogue, partition.member);
    assembly::check_partition(*found, partition, size->wide, draft.house.partitions, r.place("at"),
                              draft.problems);
    draft.house.partitions.push_back(std::move(partition));
}

BoxKind box_kind(const std::string& word) {
    for (const BoxKind kind : {BoxKind::receptacle, BoxKind::wall_switch, BoxKind::light, BoxKind::data}) {
        if (word == assembly::name_of(kind)) return kind;
    }
    return BoxKind::receptacle;
}

void read_box(Draft& draft, const std::string& name, const toml::table& table) {
    Section r(table, "box", fmt::format("[box.{}]", name), draft.problems);
    const Practice& practice = draft.house.practice;
    assembly::ElectricalBox box{.name = name, .body = practice.box_body, .origin = r.origin()};
    const auto face = r.text("face");
    const auto at = r.length("at");
    if (const auto kind = r.word("kind")) box.kind = box_kind(*kind);
    box.height = box.kind == BoxKind::receptacle || box.kind == BoxKind::data
                     ? practice.box_height
                     : Sourced<units::Exact>{assembly::box_rules().height_of(box.kind),
                                             assembly::box_rules().practice_origin};
    const auto height = r.length("height");
    take(r, "height", box.height, height);
    take(r, "body", box.body, r.word("body"));
    r.finish();
    if (!face || !at || (r.has("height") && !height) || !face_of(draft, r, *face)) return;
    box.face = *face;
    box.at = {*at, r.origin("at")};
    draft.house.boxes.push_back(std::move(box));
}

}  // namespace

void read_practice(Draft& draft, const toml::table& root) {
    Section r(root, "file", "the file", draft.problems);
    if (const auto* table = r.table("framing")) read_framing_table(draft, *table);
    if (const auto* table = r.table("loads")) read_loads(draft, *table);
    each_named(draft, root, "partition", most_partitions,
               [&](const std::string& name, const toml::table& t) { read_partition(draft, name, t); });
    each_named(draft, root, "box", most_boxes,
               [&](const std::string& name, const toml::table& t) { read_box(draft, name, t); });
    const auto joist = assembly::member_size(draft.house.catalogue, draft.house.practice.joist.value);
    if (joist) assembly::check_framing(draft.house, joist->wide, draft.problems);
}

}  // namespace warmside::project
