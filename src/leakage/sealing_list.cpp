#include "leakage/sealing_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <set>

namespace warmside::leakage {

namespace {

using assembly::Part;
using assembly::Penetration;

// A door wider than this is taken as a double door, per m2 (ours).
constexpr double widest_single_door = 1.4;
// Share of an open hole's area that counts as leakage area with a discharge coefficient of 1: a sharp edge
// (memory).
constexpr double sharp_edge = 0.611;

constexpr std::string_view airtight_sheet = "wall with continuous air barrier";
constexpr std::string_view plate_joint = "joint top plate, band joist";

std::string layer_title(const assembly::Assembly& a) {
    const auto layer = a.airtight_layer();
    return layer ? a.layers[*layer].title() : std::string("no airtight layer");
}

bool on_floor(const assembly::Opening& o) {
    return o.sill <= units::Exact{};
}

std::string sole(bool sealed) {
    return sealed ? "joint sole plate, caulked" : "joint sole plate, not caulked";
}

}  // namespace

SealingList::SealingList(const assembly::House& house, const assembly::Assembly& wall,
                         const ComponentTable& table, SealingPlan& out)
    : house_(house), table_(table), out_(out), areas_(assembly::areas(house)) {
    for (const assembly::Face& face : house.faces) {
        const assembly::Storey* storey = house.storey(face.storey);
        if (!storey || !storey->heated) continue;
        const assembly::Assembly* named = face.assembly.empty() ? nullptr : house.find(face.assembly);
        Wall w{.face = &face, .storey = storey, .assembly = named ? named : &wall};
        for (const auto& area : areas_.faces) {
            if (area.face != face.name) continue;
            w.length = area.length;
            w.net = area.net;
        }
        w.concrete = w.assembly->part == Part::basement_wall;
        w.sealed = w.assembly->airtight_layer().has_value();
        faces_.push_back(w);
    }
}

SealItem& SealingList::add(SealKind kind, std::string_view row, double quantity, std::string what,
                           bool sealed, bool stands_in) {
    const Component* component = table_.find(row);
    assert(component);
    SealItem item{.kind = kind, .what = std::move(what), .quantity = quantity};
    item.component = component->part;
    item.sealed = sealed;
    item.stands_in = stands_in;
    item.area = quantity * component->area;
    item.origin = component->origin;
    out_.items.push_back(std::move(item));
    return out_.items.back();
}

SealItem& SealingList::add(SealKind kind, std::string_view row, double quantity, std::string what,
                           const Wall& wall, bool stands_in) {
    SealItem& item = add(kind, row, quantity, std::move(what), wall.sealed, stands_in);
    item.face = wall.face->name;
    item.storey = wall.storey->name;
    return item;
}

void SealingList::note(Severity severity, std::string what, Place where) {
    out_.notes.push_back({.code = severity == Severity::warning ? Code::missing : Code::incomplete,
                          .severity = severity,
                          .what = std::move(what),
                          .where = std::move(where)});
}

bool SealingList::lowest(const assembly::Storey& storey) const {
    return std::none_of(house_.storeys.begin(), house_.storeys.end(),
                        [&](const auto& other) { return other.heated && other.floor < storey.floor; });
}
bool SealingList::heated_above(const assembly::Storey& storey) const {
    return std::any_of(house_.storeys.begin(), house_.storeys.end(),
                       [&](const auto& other) { return other.heated && other.floor > storey.floor; });
}
bool SealingList::under_roof(const assembly::Storey& storey) const {
    if (!heated_above(storey)) return true;
    return std::any_of(house_.roofs.begin(), house_.roofs.end(),
                       [&](const auto& roof) { return assembly::storey_under(house_, roof) == &storey; });
}

const assembly::Floor* SealingList::raised_floor() const {
    using Over = assembly::Floor::Over;
    for (const assembly::Floor& floor : house_.floors)
        if (floor.over != Over::ground && floor.over != Over::heated) return &floor;
    return nullptr;
}

void SealingList::field(const Wall& w, const std::vector<framing::Panel>& panels) {
    if (w.concrete) return;
    if (!w.sealed) {
        add(SealKind::bare_face, "wall with rigid sheathing", w.net, layer_title(*w.assembly), w);
        return;
    }
    SealItem& item = add(SealKind::laps, airtight_sheet, w.net, "laps of " + layer_title(*w.assembly), w);
    const int layer = static_cast<int>(*w.assembly->airtight_layer());
    for (const framing::Panel& panel : panels) {
        if (panel.kind != framing::Panel::Kind::wall || panel.name != w.face->name) continue;
        for (const framing::Seam& seam : panel.seams) {
            using Kind = framing::Seam::Kind;
            if (seam.layer == layer && (seam.kind == Kind::lap || seam.kind == Kind::end_lap))
                item.seams += seam.length.metres();
        }
    }
}

void SealingList::bottom(const Wall& w) {
    if (w.concrete) return;
    double length = w.length;
    for (const assembly::Opening& o : w.face->openings)
        if (on_floor(o)) length -= o.width.metres();
    const bool down = lowest(*w.storey);
    const assembly::Floor* raised = down ? raised_floor() : nullptr;
    SealItem& plate = add(SealKind::sole_plate, sole(w.sealed), std::max(0.0, length), "sole plate", w);
    plate.position =
        down && !raised ? "behind the baseboard, on the slab" : "behind the baseboard, on the subfloor";
    plate.above_floor = 0.0;
    if (!raised) return;
    // Where the floor has the airtight layer, rim and sill lie outside of it.
    const assembly::Assembly* floor = house_.find(raised->assembly);
    if (floor && floor->airtight_layer()) return;
    add(SealKind::rim, plate_joint, w.length, "rim joist", w).position = "below the lowest floor, from below";
    add(SealKind::foundation_sill, sole(w.sealed), w.length, "sill", w, true).position =
        "on the foundation wall";
}

void SealingList::top(const Wall& w) {
    if (under_roof(*w.storey)) {
        SealItem& joint = add(SealKind::ceiling_joint, "joint ceiling-wall", w.length, "wall to ceiling", w);
        joint.position = "under the ceiling";
        joint.above_floor = w.face->height.metres();
        return;
    }
    if (w.concrete) {
        add(SealKind::foundation_sill, sole(true), w.length, "sill", w, true).position =
            "on top of the basement wall";
    } else {
        SealItem& plate = add(SealKind::top_plate, plate_joint, w.length, "top plate", w);
        plate.position = "under the ceiling";
        plate.above_floor = w.face->height.metres();
    }
    add(SealKind::rim, plate_joint, w.length, "rim joist", w).position = "in the floor above";
}

void SealingList::openings(const Wall& w) {
    for (const assembly::Opening& o : w.face->openings) {
        const double width = o.width.metres(), height = o.height.metres(), area = width * height;
        const bool door = o.kind == assembly::Opening::Kind::door;
        const auto placed = [&](SealItem& item) {
            item.from_left = o.left.metres();
            item.above_floor = o.sill.metres();
            item.position = "all round";
        };
        if (door) {
            placed(add(SealKind::door_frame,
                       w.sealed ? "door frame, wood, caulked" : "door frame, wood, not caulked", area, o.name,
                       w));
            const bool wide = width > widest_single_door;
            placed(add(SealKind::door, wide ? "double door, weatherstripped" : "single door, weatherstripped",
                       wide ? area : 1.0, o.name, w));
        } else {
            placed(add(SealKind::window_frame,
                       w.sealed ? "window frame, wood, caulked" : "window frame, wood, not caulked", area,
                       o.name, w));
            placed(add(SealKind::window, "window, casement, weatherstripped", 2.0 * (width + height), o.name,
                       w));
        }
    }
}

void SealingList::walls(const std::vector<framing::Panel>& panels) {
    std::set<std::string_view> bare;
    for (const Wall& w : faces_) {
        if (!w.sealed && !w.concrete && bare.insert(w.assembly->name).second)
            note(Severity::warning,
                 fmt::format("wall {} has no airtight layer: the open rows of the table are taken for it",
                             w.assembly->name),
                 w.assembly->origin.where);
        field(w, panels);
        bottom(w);
        top(w);
        if (!w.concrete) {
            SealItem& corner =
                add(SealKind::corner, plate_joint, w.face->height.metres(), "right corner", w, true);
            corner.position = "seen from outside";
            corner.from_left = w.length;
        }
        openings(w);
    }
    if (panels.empty()) note(Severity::note, "the walls are not framed: metres of lap are not known", {});
}

void SealingList::boxes(const std::optional<std::vector<BoxInWall>>& boxes) {
    if (!boxes) return note(Severity::note, "electrical boxes are not known: none is counted", {});
    for (const BoxInWall& box : *boxes) {
        const auto w = std::find_if(faces_.begin(), faces_.end(),
                                    [&](const Wall& each) { return each.face->name == box.face; });
        if (w == faces_.end()) continue;
        // Without an airtight layer nothing stops what leaks into the box.
        if (w->sealed && !box.pierces_airtight) {
            ++out_.boxes_inside;
            continue;
        }
        SealItem& item =
            add(SealKind::box, w->sealed ? "outlet or switch, gasket" : "outlet or switch, no gasket", 1.0,
                box.name, *w);
        item.from_left = box.from_left;
        item.above_floor = box.above_floor;
        item.position = "in the wall";
    }
}

void SealingList::sheet(const assembly::Assembly* a, std::string_view part, double area,
                        std::string_view open_row) {
    if (area <= 0.0) return;
    if (a && a->airtight_layer()) {
        add(SealKind::laps, airtight_sheet, area, "laps of " + layer_title(*a), true, true).position = part;
        return;
    }
    note(Severity::warning,
         fmt::format("{} has no airtight layer: the table's \"{}\" is taken for it", part, open_row),
         a ? a->origin.where : house_.origin.where);
    add(SealKind::bare_face, open_row, area, std::string(part), false).position = part;
}

void SealingList::tops() {
    double covered = 0.0;
    for (const assembly::Roof& roof : house_.roofs) {
        const assembly::Storey* storey = assembly::storey_under(house_, roof);
        if (!storey || !storey->heated) continue;
        for (const auto& area : areas_.roofs) {
            if (area.roof != roof.name) continue;
            const assembly::Assembly* a = assembly::built_as(house_, roof);
            top_sealed_ = top_sealed_ && a && a->airtight_layer();
            covered += area.plan;
            sheet(a, fmt::format("{} {}", roof.over_attic ? "ceiling under roof" : "roof", roof.name),
                  area.attic ? area.plan : area.surface, "ceiling, general");
        }
    }
    if (covered > 0.0) return;
    // Without a roof in the file the highest storey's ceiling is the top.
    top_sealed_ = false;
    for (const assembly::Storey& storey : house_.storeys) {
        if (storey.heated && !heated_above(storey))
            sheet(nullptr, "ceiling of storey " + storey.name,
                  std::abs(assembly::signed_area(storey.outline)), "ceiling, general");
    }
}

void SealingList::floors() {
    using Over = assembly::Floor::Over;
    for (const assembly::Floor& floor : house_.floors) {
        // A slab passes no air; its edge is the sole plate's joint.
        if (floor.over == Over::ground || floor.over == Over::heated) continue;
        sheet(house_.find(floor.assembly), "floor " + floor.name,
              floor.area > 0.0 ? floor.area : areas_.ground_floor, "floor over crawl space");
    }
}

void SealingList::penetrations() {
    const bool walls_sealed =
        std::all_of(faces_.begin(), faces_.end(), [](const Wall& w) { return w.sealed || w.concrete; });
    for (const Penetration& p : house_.services.penetrations) {
        const bool sealed = p.ceiling ? top_sealed_ : walls_sealed;
        const double count = p.count;
        const std::string hole =
            sealed ? "pipe or wire penetration, caulked" : "pipe or wire penetration, not caulked";
        SealItem* item = nullptr;
        switch (p.kind) {
            case Penetration::Kind::pipe: item = &add(SealKind::pipe, hole, count, p.name, sealed); break;
            case Penetration::Kind::wire: item = &add(SealKind::wire, hole, count, p.name, sealed); break;
            case Penetration::Kind::duct:
                item = &add(SealKind::duct, hole, count, p.name, sealed, true);
                break;
            case Penetration::Kind::flue:
                item = &add(SealKind::flue, "ceiling or flue vent", count, p.name, sealed);
                break;
            case Penetration::Kind::hatch:
                item = &add(SealKind::hatch,
                            sealed ? "attic hatch, weatherstripped" : "attic hatch, not weatherstripped",
                            count, p.name, sealed);
                break;
            case Penetration::Kind::recessed_light:
                item = &add(SealKind::recessed_light, "recessed light", count, p.name, sealed);
                break;
            case Penetration::Kind::other:
                item = &add(SealKind::hole, hole, count, p.name, sealed, true);
                // A hole of a stated size is taken as left open.
                if (p.area) {
                    const double area = sharp_edge * *p.area * count;
                    item->area = {area, area, area};
                    item->component = "sharp-edged hole, discharge coefficient 0.611";
                    item->origin = p.origin;
                }
                break;
        }
        item->position = p.ceiling ? "through the ceiling" : "through an outer wall";
    }
    if (house_.services.penetrations.empty())
        note(Severity::warning,
             "the file names no pipes, wires, ducts, flues or hatches: none is counted; write "
             "[penetration.NAME]",
             house_.origin.where);
}

void SealingList::vents() {
    const auto& v = house_.services.ventilation;
    if (v.range_hood)
        add(SealKind::vent, "kitchen vent, damper closed", 1.0, "range hood", true).position = "kitchen";
    if (v.dryer) add(SealKind::vent, "dryer vent with damper", 1.0, "clothes dryer", true).position = "dryer";
    if (v.kind.value == assembly::Ventilation::Kind::exhaust)
        add(SealKind::vent, "bath vent, damper closed", 1.0, "exhaust fan", true).position = "at the fan";
}

}  // namespace warmside::leakage
