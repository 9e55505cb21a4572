#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <memory>
#include <numbers>

#include "assembly/boxes.h"
#include "assembly/geometry.h"
#include "framing/boxes.h"
#include "framing/flat.h"
#include "framing/wall_frame.h"
#include "framing/wall_sheets.h"
#include "framing/wall_strips.h"

namespace warmside::framing {

namespace {

using assembly::Face;
using assembly::House;

struct Vector {
    double x = 0.0, y = 0.0;
};

Vector direction(const Face& face) {
    const double dx = (face.to.x - face.from.x).metres(), dy = (face.to.y - face.from.y).metres();
    const double length = std::hypot(dx, dy);
    return length > 0.0 ? Vector{dx / length, dy / length} : Vector{1.0, 0.0};
}

// The exact length of a face along an axis, else to the nearest count.
Exact length_of(const Face& face) {
    const Exact dx = face.to.x - face.from.x, dy = face.to.y - face.from.y, none;
    if (dy == none) return dx < none ? none - dx : dx;
    if (dx == none) return dy < none ? none - dy : dy;
    return Exact::nearest(assembly::distance(face.from, face.to));
}

bool same(const assembly::Point& a, const assembly::Point& b) {
    return std::abs((a.x - b.x).metres()) < 2e-3 && std::abs((a.y - b.y).metres()) < 2e-3;
}

WallEnd end_between(const Face& before, const Face& after) {
    const Vector a = direction(before), b = direction(after);
    const double turn = std::atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
    WallEnd end{.turn = turn};
    if (std::abs(turn) < 1e-4)
        end.kind = WallEnd::Kind::straight;
    else if (std::abs(turn - std::numbers::pi / 2) < 1e-6)
        end.kind = WallEnd::Kind::outer;
    else if (std::abs(turn + std::numbers::pi / 2) < 1e-6)
        end.kind = WallEnd::Kind::inner;
    else
        end.kind = WallEnd::Kind::mitre;
    end.level = before.height == after.height;
    return end;
}

// The faces of a house with how they are built: the ladder's rung, or what a face names.
class Walls {
public:
    Walls(const House& house, const assembly::Assembly& rung) : house_(house), rung_(rung) {}

    // Problem: the rung itself cannot be framed. A face that names something else is left out with a note.
    Result<std::vector<Wall>> list(Problems& notes) {
        for (const Face& face : house_.faces) {
            const assembly::Assembly* built = assembly_of(face);
            if (built && !builds_.contains(built)) {
                auto build = build_of(*built);
                if (!build && built == &rung_) return fail(build.error());
                builds_[built] = build ? std::make_unique<Build>(std::move(*build)) : nullptr;
            }
            if (build(face)) continue;
            notes.push_back({.code = Code::unsupported,
                             .severity = Severity::note,
                             .what = fmt::format("face {} is built as {}, which is not framed: left out",
                                                 face.name, face.assembly),
                             .where = face.origin.where});
        }
        std::vector<Wall> out;
        for (std::size_t i = 0; i < house_.faces.size(); ++i) {
            if (build(house_.faces[i])) out.push_back(wall(i, notes));
        }
        return out;
    }

private:
    const assembly::Assembly* assembly_of(const Face& face) const {
        return face.assembly.empty() || face.assembly == rung_.name ? &rung_ : house_.find(face.assembly);
    }
    const Build* build(const Face& face) const {
        const auto found = builds_.find(assembly_of(face));
        return found == builds_.end() ? nullptr : found->second.get();
    }
    Wall wall(std::size_t index, Problems& notes) const {
        const Face& face = house_.faces[index];
        Wall out{.face = &face, .index = index, .build = build(face), .length = length_of(face)};
        for (const Face& other : house_.faces) {
            if (&other == &face || other.storey != face.storey) continue;
            if (same(other.to, face.from)) out.left = join(other, face, other);
            if (same(other.from, face.to)) out.right = join(face, other, other);
        }
        if (house_.details.header_place.value == assembly::HeaderPlace::rim)
            out.rim = rim_over(house_, rung_, out);
        if (out.right.kind == WallEnd::Kind::mitre) notes.push_back(mitre_note(out));
        return out;
    }
    static Problem mitre_note(const Wall& wall) {
        const double between = 180 - std::abs(wall.right.turn) * 180 / std::numbers::pi;
        const Exact reach = mitre_reach(wall.right, wall.build->bearer().depth);
        const std::string how =
            mitre_of(wall.right) == 0.0
                ? std::string("both frames end square, the wedge between them is left out")
                : fmt::format(
                      "plates, sheets and membranes are mitred at {:.1f} degrees; {}; furring and battens "
                      "end square, and the insulation of the wedge, {} wide, is not counted",
                      std::abs(mitre_of(wall.right)) * 180 / std::numbers::pi,
                      reach < least_piece ? "the wedge is too thin for a stud"
                                          : "a bevelled stud closes each frame",
                      units::inches(reach.metres()));
        return {.code = Code::unsupported,
                .severity = Severity::note,
                .what = fmt::format("face {}: at its right end the walls meet at {:.0f} degrees; {}",
                                    wall.face->name, between, how),
                .where = wall.face->origin.where};
    }
    WallEnd join(const Face& before, const Face& after, const Face& other) const {
        WallEnd end = end_between(before, after);
        end.other = build(other);
        // A wall that is not framed (concrete) is no partner of a corner.
        if (!end.other) end.kind = WallEnd::Kind::open;
        return end;
    }

    const House& house_;
    const assembly::Assembly& rung_;
    std::map<const assembly::Assembly*, std::unique_ptr<Build>> builds_;
};

Panel panel_of(const House& house, const Wall& wall) {
    const Face& face = *wall.face;
    const assembly::Storey* storey = house.storey(face.storey);
    const Vector along = direction(face);
    Panel panel{.kind = Panel::Kind::wall,
                .name = face.name,
                .assembly = wall.build->assembly->name,
                .storey = face.storey,
                .face = wall.index};
    panel.opaque_length = wall.length;
    panel.origin = {face.from.x.metres(), face.from.y.metres(), storey ? storey->floor.metres() : 0.0};
    panel.u = {along.x, along.y, 0.0};
    panel.v = {0.0, 0.0, 1.0};
    panel.w = {along.y, -along.x, 0.0};
    return panel;
}

Result<Panel> frame_wall(const House& house, const Wall& wall, Problems& notes) {
    Panel panel = panel_of(house, wall);
    std::optional<FramePlan> bearing;
    for (const FramedLayer& layer : wall.build->framed) {
        if (layer.duty != Duty::bearing && layer.duty != Duty::second) continue;
        const Bench bench{house, wall, panel, notes, layer.layer};
        auto plan = plan_frame(bench, layer);
        if (!plan) return fail(plan.error());
        build_frame(bench, *plan);
        if (!plan->bearing) continue;
        if (auto done = back_partitions(bench, *plan); !done) return fail(done.error());
        tie_plates(bench, *plan);
        block_fire(bench, *plan);
        block_edges(bench, *plan);
        bearing = std::move(*plan);
    }
    panel.from = bearing->run.low;
    panel.length = bearing->run.size();
    panel.height = bearing->height;
    for (const FramedLayer& layer : wall.build->framed) {
        if (layer.duty == Duty::furring || layer.duty == Duty::batten)
            build_strips({house, wall, panel, notes, layer.layer}, layer, *bearing);
    }
    const Bench bench{house, wall, panel, notes, -1};
    build_bucks(bench);
    stop_gaps(bench);
    place_boxes(bench);
    lay_sheets(bench);
    lay_membranes(bench);
    mark_members(panel);
    return panel;
}

void remark(const House& house, const std::vector<Panel>& panels, Problems& notes) {
    const auto note = [&](std::string what) {
        notes.push_back({.code = Code::unsupported,
                         .severity = Severity::note,
                         .what = std::move(what),
                         .where = house.details.origin.where});
    };
    if (house.details.top_plates.value == 1) {
        note(
            "a single top plate has steel plates over its joints, corners and inner walls, which are listed "
            "(IRC Table R602.3.2, memory); rafters or joists lie within 1 in of the studs below");
    }
    const bool boxes = std::any_of(panels.begin(), panels.end(), [](auto& p) { return !p.boxes.empty(); });
    if (boxes)
        note(std::string(assembly::box_caution) +
             "; the rule for wall spaces of living rooms is taken everywhere, "
             "while kitchens, baths, halls and outdoors have rules of their own; inner walls are not wired "
             "here");
    if (house.details.top_plates.value == 1 && house.loads.seismic &&
        house.loads.seismic->value.starts_with("D"))
        note(
            "in seismic category D the steel plates of a single top plate may have to be longer: an engineer "
            "decides");
    if (house.details.corner_studs.value < 3) note("clips hold the lining at outer corners of two studs");
}

}  // namespace

Result<Frame> frame_walls(const House& house, const assembly::Assembly& wall) {
    Frame frame{.assembly = wall.name};
    Walls walls(house, wall);
    const auto list = walls.list(frame.notes);
    if (!list) return fail(list.error());
    for (const Wall& each : *list) {
        auto panel = frame_wall(house, each, frame.notes);
        if (!panel) return fail(panel.error());
        frame.panels.push_back(std::move(*panel));
    }
    remark(house, frame.panels, frame.notes);
    frame.factor = factor_of(house, wall, frame.panels);
    return frame;
}

}  // namespace warmside::framing
