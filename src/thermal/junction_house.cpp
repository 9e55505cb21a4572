#include "thermal/junction_house.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <map>

#include "assembly/geometry.h"
#include "assembly/roof_shape.h"
#include "framing/around_opening.h"
#include "thermal/outline.h"

namespace warmside::thermal {

using assembly::Assembly;
using assembly::Floor;
using assembly::Foundation;
using assembly::House;
using assembly::Opening;
using assembly::Part;
using assembly::Roof;
using assembly::Storey;

namespace {

const assembly::Ladder* ladder_of(const House& house, Part part) {
    for (const auto& ladder : house.ladders) {
        if (ladder.part == part) return &ladder;
    }
    return nullptr;
}

// By name, else the first rung of the part's ladder, else null.
const Assembly* built_with(const House& house, const std::string& name, Part part) {
    if (const Assembly* found = house.find(name)) return found->part == part ? found : nullptr;
    const auto* ladder = ladder_of(house, part);
    return ladder && !ladder->rungs.empty() ? &house.assemblies[ladder->rungs.front()] : nullptr;
}

bool in_ladder(const House& house, const Assembly& wall, const std::string& name) {
    if (name.empty() || name == wall.name) return true;
    const auto* ladder = ladder_of(house, Part::wall);
    return ladder && std::any_of(ladder->rungs.begin(), ladder->rungs.end(),
                                 [&](std::size_t i) { return house.assemblies[i].name == name; });
}

class Survey {
public:
    Survey(const House& house, const Assembly& wall, const Conditions& conditions,
           const framing::Frame* frame)
        : house_(house), assembly_(wall), conditions_(conditions), frame_(frame) {}

    Result<HouseJunctions> all() {
        for (const Storey& storey : house_.storeys) {
            if (storey.heated && storey.floor.metres() + 0.5 * storey.height.metres() > 0.0)
                storeys_.push_back(&storey);
        }
        std::stable_sort(storeys_.begin(), storeys_.end(),
                         [](const Storey* a, const Storey* b) { return a->floor < b->floor; });
        if (storeys_.empty()) return fail(Code::missing, "the house file states no heated storey");
        auto wall = buildup_of(assembly_, conditions_);
        if (!wall) return fail(wall.error());
        wall_ = std::move(*wall);
        measure_walls();
        if (!(out_.wall_area > 0.0)) return fail(Code::missing, "no face of the house is built as this wall");
        corners();
        rims();
        for (auto step : {&Survey::sill, &Survey::roofs}) {
            if (auto done = (this->*step)(); !done) return fail(done.error());
        }
        openings();
        return std::move(out_);
    }

private:
    void add(JunctionDrawing drawing, double length) {
        if (length > 1e-3) out_.places.push_back({std::move(drawing), length});
    }
    void note(std::string text) {
        if (std::find(out_.notes.begin(), out_.notes.end(), text) == out_.notes.end())
            out_.notes.push_back(std::move(text));
    }

    [[nodiscard]] bool counts(const assembly::Face& face) const {
        const bool here = std::any_of(storeys_.begin(), storeys_.end(),
                                      [&](const Storey* s) { return s->name == face.storey; });
        return here && in_ladder(house_, assembly_, face.assembly);
    }

    void measure_walls() {
        const assembly::Areas areas = assembly::areas(house_);
        for (const auto& face : house_.faces) {
            if (!counts(face)) {
                note("Walls that name another assembly keep their corners and edges in the lengths.");
                continue;
            }
            for (const auto& area : areas.faces) {
                if (area.face == face.name) out_.wall_area += area.net;
            }
        }
    }

    void corners() {
        double outer = 0.0, inner = 0.0, partitions = 0.0;
        for (const Storey* storey : storeys_) {
            const Turns turns = turns_of(edges_of(*storey));
            outer += turns.outer * storey->height.metres();
            inner += turns.inner * storey->height.metres();
            if (house_.partitions.empty())
                partitions += house_.details.partitions.value * storey->height.metres();
            if (turns.oblique) note("Corners that are not square are taken as square ones.");
        }
        for (const auto& placed : house_.partitions) {
            for (const auto& face : house_.faces) {
                if (face.name == placed.face && counts(face)) partitions += face.height.metres();
            }
        }
        add(outer_corner(wall_, house_.details), outer);
        add(inner_corner(wall_, house_.details), inner);
        add(partition(wall_, house_.details), partitions);
    }

    void rims() {
        double balcony = house_.details.balcony.value;
        for (std::size_t i = 0; i + 1 < storeys_.size(); ++i) {
            for (std::size_t j = i + 1; j < storeys_.size(); ++j) {
                const Storey &lower = *storeys_[i], &upper = *storeys_[j];
                double zone = (upper.floor - lower.floor - lower.height).metres();
                if (zone > 1.5 || zone < -0.5) continue;  // not the next storey, or beside it
                if (zone < house_.details.deck.value + 0.05)
                    zone = house_.details.deck.value + house_.details.joist.value;
                double length = 0.0;
                for (const Edge& edge : edges_of(lower)) length += shared(edge, edges_of(upper));
                const double ledger = std::min(balcony, length);
                if (length > 0.0) balcony -= ledger;
                double plain = length - ledger;
                for (const auto& [plies, share] : headers_in_rim(lower)) {
                    const double here = std::min(share, plain);
                    if (plies < 2 || here <= 0.0) continue;
                    assembly::Details details = house_.details;
                    details.rim_board.value *= plies;
                    JunctionDrawing drawing = rim_joist(wall_, details, zone);
                    drawing.name += fmt::format(", header of {} plies", plies);
                    add(std::move(drawing), here);
                    plain -= here;
                }
                add(rim_joist(wall_, house_.details, zone), plain);
                if (ledger > 0.0) add(balcony_ledger(wall_, house_.details, zone), ledger);
            }
        }
        if (balcony > 1e-3)
            note(
                "No storey stands on another along all of the stated balcony: the rest of its ledger is left "
                "out.");
    }

    // Edges of a storey that stand over nothing heated, m.
    [[nodiscard]] double hanging(std::size_t storey) const {
        double length = 0.0;
        for (const Edge& edge : edges_of(*storeys_[storey])) {
            double held = 0.0;
            for (std::size_t i = 0; i < storey; ++i) held += shared(edge, edges_of(*storeys_[i]));
            length += std::max(0.0, edge.length - held);
        }
        return length;
    }

    [[nodiscard]] GroundPlan ground() const {
        const Storey& lowest = *storeys_.front();
        GroundPlan out{.area = std::abs(assembly::signed_area(lowest.outline))};
        for (const Edge& edge : edges_of(lowest)) out.perimeter += edge.length;
        if (house_.foundations.empty()) return out;
        const Foundation& foundation = house_.foundations.front();
        // ISO 13370: clay 1.5, sand and where nothing is known 2.0 W/(m K) (evidence: memory).
        out.conductivity = foundation.soil == Foundation::Soil::clay ? 1.5 : 2.0;
        out.above_grade = foundation.height_above_grade.metres();
        out.depth = foundation.depth.metres();
        return out;
    }

    Result<void> sill() {
        const GroundPlan plan = ground();
        const Floor* floor = house_.floors.empty() ? nullptr : &house_.floors.front();
        const auto foundation =
            house_.foundations.empty() ? Foundation::Kind::slab : house_.foundations.front().kind;
        if (house_.floors.size() > 1)
            note(
                fmt::format("All of the lowest storey's edge is taken to be that of floor {}.", floor->name));
        if (auto done = overhangs(); !done) return done;
        const bool warm =
            foundation == Foundation::Kind::basement &&
            (!floor || floor->over == Floor::Over::ground || floor->over == Floor::Over::heated);
        if (warm) return heated_basement(plan);
        if (!floor) {
            note("No floor is stated: the sill is left out.");
            return {};
        }
        if (floor->over == Floor::Over::ground) return slab_edge(*floor, plan);
        const bool crawl = floor->over == Floor::Over::crawl_space;
        if (!crawl && floor->over != Floor::Over::outside) {
            note("The sill over an unheated basement or a heated room is left out.");
            return {};
        }
        return floor_edge(*floor, plan.perimeter, crawl);
    }

    Result<void> floor_edge(const Floor& floor, double length, bool crawl_space) {
        const Assembly* built = built_with(house_, floor.assembly, Part::floor);
        if (!built) {
            note(fmt::format("Floor {} has no layers: its edge is left out.", floor.name));
            return {};
        }
        const auto build = buildup_of(*built, conditions_);
        if (!build) return fail(build.error());
        add(exposed_floor(wall_, *build, house_.details, crawl_space), length);
        return {};
    }

    // Edges of upper storeys beyond the lower ones.
    Result<void> overhangs() {
        double length = 0.0;
        for (std::size_t i = 1; i < storeys_.size(); ++i) length += hanging(i);
        if (length < 1e-3) return {};
        for (const Floor& floor : house_.floors) {
            if (floor.over == Floor::Over::outside) return floor_edge(floor, length, false);
        }
        note(
            "An upper storey reaches over the lower one, but no floor over outside is stated: its edge is "
            "left out.");
        return {};
    }

    Result<void> slab_edge(const Floor& floor, const GroundPlan& plan) {
        const Assembly* built = built_with(house_, floor.assembly, Part::slab);
        if (!built) {
            note(fmt::format("Floor {} has no slab: its edge is left out.", floor.name));
            return {};
        }
        const auto build = buildup_of(*built, conditions_);
        if (!build) return fail(build.error());
        auto drawing = sill_on_slab(wall_, *build, house_.details, plan);
        if (!drawing) return fail(drawing.error());
        add(std::move(*drawing), plan.perimeter);
        return {};
    }

    Result<void> heated_basement(const GroundPlan& plan) {
        const Assembly* built = built_with(house_, house_.foundations.front().assembly, Part::basement_wall);
        if (!built) {
            note("The basement has no wall: its sill is left out.");
            return {};
        }
        const auto build = buildup_of(*built, conditions_);
        if (!build) return fail(build.error());
        Buildup floor{.name = "basement floor", .inside_film = 0.17, .outside_film = 0.0};
        floor.sheets = {{.name = "concrete", .thickness = 0.1, .conductivity = 2.0, .structural = true}};
        const Assembly* slab = built_with(house_, {}, Part::slab);
        if (slab) {
            const auto under = buildup_of(*slab, conditions_);
            if (!under) return fail(under.error());
            floor = *under;
        } else {
            note("The basement's floor is taken as 4 in. of concrete on the ground.");
        }
        const double zone =
            house_.details.member.value + house_.details.joist.value + house_.details.deck.value;
        auto drawing = sill_on_basement(wall_, *build, floor, house_.details, plan, zone);
        if (!drawing) return fail(drawing.error());
        add(std::move(*drawing), plan.perimeter);
        return {};
    }

    Result<void> roofs() {
        for (const Roof& roof : house_.roofs) {
            if (auto done = one_roof(roof); !done) return done;
        }
        if (house_.roofs.empty()) note("No roof is stated: eaves and gables are left out.");
        return {};
    }

    Result<void> one_roof(const Roof& roof) {
        const Storey* under = roof.storey.empty() ? storeys_.back() : house_.storey(roof.storey);
        const auto at = std::find(storeys_.begin(), storeys_.end(), under);
        if (at == storeys_.end()) return {};
        double eave = 0.0, gable = 0.0;
        for (const Edge& edge : edges_of(*under)) {
            double covered = 0.0;
            for (auto above = at + 1; above != storeys_.end(); ++above)
                covered += shared(edge, edges_of(**above));
            const double length = std::max(0.0, edge.length - covered);
            const double share = eave_share(roof, *under, edge);
            eave += share * length;
            gable += (1.0 - share) * length;
        }
        const Part part = roof.over_attic ? Part::ceiling : Part::roof;
        const Assembly* built = built_with(house_, roof.assembly, part);
        if (!built) {
            note(fmt::format("Roof {} has no {} with layers: its edges are left out.", roof.name,
                             assembly::name_of(part)));
            return {};
        }
        const auto build = buildup_of(*built, conditions_);
        if (!build) return fail(build.error());
        if (roof.over_attic) {
            add(eave_under_attic(wall_, *build, house_.details, roof.pitch), eave);
            add(gable_under_attic(wall_, *build, house_.details), gable);
        } else {
            JunctionDrawing low = eave_under_roof(wall_, *build, house_.details, roof.pitch);
            low.kind = JunctionKind::eave;  // of a flat roof too
            low.name = name_of(low.kind);
            add(std::move(low), eave);
            if (roof.form == Roof::Form::shed) note("The high wall under a shed roof is taken as a gable.");
            add(eave_under_roof(wall_, *build, house_.details, 0.0), gable / std::cos(roof.pitch));
        }
        return {};
    }

    // How much of an edge has the roof's surface begin at the plate: of a gable over a main body and wings
    // one edge may be the end of a body and then the eave of a wing. Over other outlines by the way it runs.
    [[nodiscard]] static double eave_share(const Roof& roof, const Storey& storey, const Edge& edge) {
        const bool by_way = is_eave(roof, edge);
        if (roof.form != Roof::Form::gable) return by_way ? 1.0 : 0.0;
        const auto shape = assembly::roof_shape(storey.outline, roof);
        if (!shape) return by_way ? 1.0 : 0.0;
        // Between these places along the edge the level changes evenly.
        std::vector<double> places{0.0, edge.length};
        const bool on_x = std::abs(edge.dx) > std::abs(edge.dy);
        for (const double at : on_x ? shape->x_breaks : shape->y_breaks) {
            const double along = (at - (on_x ? edge.x : edge.y)) * (on_x ? edge.dx : edge.dy);
            if (along > 0.0 && along < edge.length) places.push_back(along);
        }
        std::sort(places.begin(), places.end());
        double eave = 0.0;
        for (std::size_t i = 0; i + 1 < places.size(); ++i) {
            const double middle = (places[i] + places[i + 1]) / 2;
            if (shape->level(edge.x + middle * edge.dx, edge.y + middle * edge.dy) < 1e-6)
                eave += places[i + 1] - places[i];
        }
        return eave / edge.length;
    }

    [[nodiscard]] static bool is_eave(const Roof& roof, const Edge& edge) {
        // Walking with the house on the left, a wall that faces south runs east.
        switch (roof.form) {
            case Roof::Form::hip:
            case Roof::Form::flat: return true;
            case Roof::Form::gable:
                return (std::abs(edge.dy) > std::abs(edge.dx)) == (roof.ridge == "north-south");
            case Roof::Form::shed: break;
        }
        if (roof.high_side == "north") return edge.dx > 0.7;
        if (roof.high_side == "south") return edge.dx < -0.7;
        if (roof.high_side == "east") return edge.dy < -0.7;
        return edge.dy > 0.7;
    }

    // What is placed around an opening of a face; nothing without a frame.
    [[nodiscard]] std::optional<OpeningMembers> members_of(std::size_t face, std::size_t opening) const {
        if (!frame_) return std::nullopt;
        OpeningMembers out;
        for (const auto& panel : frame_->panels) {
            if (panel.face != face || panel.kind != framing::Panel::Kind::wall) continue;
            const auto placed = framing::around_opening(panel, house_.faces[face], static_cast<int>(opening));
            // Over a lower one of two openings lies a flat piece alone, as under a header in the rim.
            out.flat = placed.at_rim || placed.governing != static_cast<int>(opening);
            for (const auto* ply : placed.plies) {
                out.header = std::max(out.header, ply->box.size(1).metres());
                out.section = ply->section.name;
                ++out.plies;
            }
            if (out.flat) {
                // As one header over the whole depth of the frame.
                out.header = house_.details.member.value;
                out.section = "flat";
                out.plies = flat_plies(*placed.plies.front(), panel, out.header);
            }
            out.jambs = std::max(placed.jambs[0], placed.jambs[1]);
        }
        if (out.plies == 0 && out.jambs == 0) return std::nullopt;
        return out;
    }

    // Plies that a flat piece as deep as the wall's frame counts for.
    static int flat_plies(const framing::Member& header, const framing::Panel& panel, double ply) {
        double depth = 0.0;
        for (const auto& m : panel.members) {
            if (m.layer == header.layer && m.role == framing::Role::header_filler)
                depth = std::max(depth, m.box.size(2).metres());
        }
        return std::max(1, static_cast<int>(std::ceil(depth / ply - 1e-6)));
    }

    // Headers in the rim over a storey's walls: plies, and the length of all that have as many.
    [[nodiscard]] std::map<int, double> headers_in_rim(const Storey& lower) const {
        std::map<int, double> out;
        if (!frame_) return out;
        for (const auto& panel : frame_->panels) {
            if (panel.kind != framing::Panel::Kind::wall || panel.storey != lower.name ||
                panel.assembly != assembly_.name)
                continue;
            std::map<int, std::pair<int, double>> by_opening;
            for (const auto& m : panel.members) {
                if (m.role != framing::Role::header || m.box.low[1] < panel.height) continue;
                auto& [plies, length] = by_opening[m.opening];
                ++plies;
                length = m.length.metres();
            }
            for (const auto& [opening, header] : by_opening) out[header.first] += header.second;
        }
        return out;
    }

    // Heads, or jambs, of one kind of members.
    void edge(JunctionKind kind, const std::optional<OpeningMembers>& members, double length, bool several) {
        assembly::Details details = house_.details;
        if (members) {
            if (members->plies > 0) {
                details.header.value = members->header;
                details.header_plies.value = members->plies;
            }
            if (members->jambs > 0) details.jamb_studs.value = members->jambs;
        }
        JunctionDrawing drawing = window(kind, wall_, details);
        drawing.opening_members = members;
        if (members && several) {
            if (kind == JunctionKind::window_jamb)
                drawing.name += fmt::format(", {} studs", members->jambs);
            else
                drawing.name += members->flat ? std::string(", flat piece")
                                              : fmt::format(", {}-{}", members->plies, members->section);
        }
        add(std::move(drawing), length);
    }

    void openings() {
        using Kinds = std::map<std::optional<OpeningMembers>, double>;
        Kinds heads, jambs;
        double sills = 0.0;
        for (std::size_t f = 0; f < house_.faces.size(); ++f) {
            const auto& face = house_.faces[f];
            if (!counts(face)) continue;
            for (std::size_t i = 0; i < face.openings.size(); ++i) {
                const Opening& opening = face.openings[i];
                auto members = members_of(f, i);
                auto head = members, jamb = members;
                if (head) head->jambs = 0;
                if (jamb) *jamb = {.jambs = jamb->jambs};
                heads[head] += opening.width.metres();
                jambs[jamb] += 2.0 * opening.height.metres();
                if (opening.kind == Opening::Kind::window)
                    sills += opening.width.metres();
                else
                    note("Head and jambs of doors are taken as those of windows; thresholds are left out.");
            }
        }
        for (const auto& [members, length] : heads)
            edge(JunctionKind::window_head, members, length, heads.size() > 1);
        for (const auto& [members, length] : jambs)
            edge(JunctionKind::window_jamb, members, length, jambs.size() > 1);
        add(window(JunctionKind::window_sill, wall_, house_.details), sills);
    }

    const House& house_;
    const Assembly& assembly_;
    Conditions conditions_;
    const framing::Frame* frame_;
    Buildup wall_;
    std::vector<const Storey*> storeys_;  // heated, above ground, from below
    HouseJunctions out_;
};

}  // namespace

Result<HouseJunctions> junctions_of(const House& house, const Assembly& wall, const Conditions& conditions,
                                    const framing::Frame* frame) {
    auto out = Survey(house, wall, conditions, frame).all();
    if (!out) return out;
    std::stable_sort(
        out->places.begin(), out->places.end(),
        [](const PlacedJunction& a, const PlacedJunction& b) { return a.drawing.kind < b.drawing.kind; });
    return out;
}

}  // namespace warmside::thermal
