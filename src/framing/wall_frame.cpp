#include "framing/wall_frame.h"

#include <algorithm>
#include <fmt/format.h>

#include "framing/wall_strips.h"

namespace warmside::framing {

namespace {

Interval centred(Exact centre, Exact width) {
    const Exact low = centre - half(width);
    return {low, low + width};
}

void stud(const Bench& bench, const FramePlan& plan, Role role, const Interval& u, const Interval& w,
          int opening = -1) {
    place(bench, role, plan.stud, plan.stud_lumber, u, {plan.stud_low, plan.stud_high}, w, 1, opening);
}

// Stud lying flat that backs the lining at an outer corner, the sheathing at a re-entrant one.
void corner_flat(const Bench& bench, const FramePlan& plan, const std::vector<Interval>& upright,
                 const Interval& w) {
    const Exact width = plan.depth.size();
    Interval u{plan.run.high - plan.thickness - width, plan.run.high - plan.thickness};
    for (auto each = upright.rbegin(); each != upright.rend(); ++each) {
        // A stud of the layout stands in its way: it moves to that stud's left.
        if (each->overlaps(u)) u = {each->low - width, each->low};
    }
    const bool room = u.low >= plan.run.low + plan.thickness &&
                      std::none_of(upright.begin(), upright.end(), [&](auto& s) { return s.overlaps(u); }) &&
                      std::none_of(plan.bays.begin(), plan.bays.end(),
                                   [&](const Bay& bay) { return bay.zone.overlaps(u); });
    if (room) {
        stud(bench, plan, Role::corner, u, w);
        return;
    }
    bench.notes.push_back(
        {.code = Code::out_of_range,
         .severity = Severity::note,
         .what = fmt::format("face {}: no room for a flat stud at its right corner; clips hold "
                             "the lining there",
                             bench.wall.face->name),
         .where = bench.wall.face->origin.where});
}

void corners(const Bench& bench, const FramePlan& plan, const std::vector<Interval>& upright) {
    if (!plan.bearing) return;
    const Exact t = plan.thickness;
    const WallEnd::Kind right = bench.wall.right.kind;
    if (right == WallEnd::Kind::outer && bench.house.details.corner_studs.value >= 3)
        corner_flat(bench, plan, upright, {plan.depth.low, plan.depth.low + t});
    if (right == WallEnd::Kind::inner)
        corner_flat(bench, plan, upright, {plan.depth.high - t, plan.depth.high});
}

// Ends, layout and corner studs; the centres of those of the whole depth, where plates may be joined.
std::vector<Exact> studs(const Bench& bench, const FramePlan& plan) {
    const Exact t = plan.thickness;
    std::vector<Interval> upright;
    const Interval left{plan.run.low, plan.run.low + t}, right{plan.run.high - t, plan.run.high};
    const auto end_role = [](const WallEnd& end) {
        return end.kind == WallEnd::Kind::outer || end.kind == WallEnd::Kind::inner ||
                       end.kind == WallEnd::Kind::mitre
                   ? Role::corner
                   : Role::stud;
    };
    stud(bench, plan, end_role(bench.wall.left), left, plan.depth);
    upright.push_back(left);
    for (const Exact mark : plan.marks) {
        const Interval u = centred(mark, t);
        if (u.touches(left) || u.touches(right)) continue;
        if (std::any_of(plan.bays.begin(), plan.bays.end(), [&](auto& b) { return b.zone.touches(u); }))
            continue;
        stud(bench, plan, Role::stud, u, plan.depth);
        upright.push_back(u);
    }
    stud(bench, plan, end_role(bench.wall.right), right, plan.depth);
    upright.push_back(right);
    corners(bench, plan, {upright.begin(), upright.end() - 1});
    std::vector<Exact> out;
    for (const Interval& u : upright) out.push_back(u.low + half(u.size()));
    return out;
}

void plates(const Bench& bench, const FramePlan& plan, const std::vector<Exact>& joints) {
    const Exact t = plan.plate_thickness;
    const auto run = [&](Role role, const Interval& u, Exact low, const std::vector<Exact>& avoid) {
        std::vector<Exact> cuts;
        for (const Interval& piece : pieces_of(u, joints, avoid)) {
            Member* plate = put(bench.panel, role, plan.plate, plan.plate_lumber, piece, {low, low + t},
                                plan.depth, 0, bench.layer);
            if (plate && piece.low == u.low) plate->end_cut[0] = mitre_of(bench.wall.left);
            if (plate && piece.high == u.high) plate->end_cut[1] = mitre_of(bench.wall.right);
            if (piece.high < u.high) cuts.push_back(piece.high);
        }
        return cuts;
    };
    for (Exact v; v < plan.stud_low; v += t) run(Role::bottom_plate, plan.plate_run, v, {});
    std::vector<Exact> below;
    for (int i = 0; i < plan.top_plates; ++i) {
        const Interval& u = i % 2 == 1 ? plan.upper_run : plan.plate_run;
        below = run(Role::top_plate, u, plan.stud_high + t * i, below);
    }
}

}  // namespace

Exact grid_origin(const assembly::House& house, int axis) {
    const assembly::Storey* lowest = nullptr;
    for (const assembly::Storey& storey : house.storeys) {
        if (!storey.outline.empty() && (!lowest || storey.floor < lowest->floor)) lowest = &storey;
    }
    if (!lowest) return {};
    const auto on_axis = [&](const assembly::Point& p) { return axis == 0 ? p.x : p.y; };
    Exact least = on_axis(lowest->outline.front());
    for (const assembly::Point& p : lowest->outline) least = std::min(least, on_axis(p));
    return least;
}

// At k x module from the left end of the frame, or on the storeys' grid; the ends themselves are none.
std::vector<Exact> marks_of(const Bench& bench, const assembly::Framing& framing, const Interval& run) {
    const Exact module = framing.spacing;
    std::vector<Exact> marks;
    if (module <= Exact{}) return marks;
    const assembly::Face& face = *bench.wall.face;
    const bool east_west = face.from.y == face.to.y, north_south = face.from.x == face.to.x;
    Exact first = run.low + framing.offset;
    if (bench.house.practice.stacked.value && (east_west || north_south)) {
        const Exact origin = grid_origin(bench.house, east_west ? 0 : 1) + framing.offset;
        const Exact from = east_west ? face.from.x : face.from.y, to = east_west ? face.to.x : face.to.y;
        first = from < to ? origin - from : from - origin;
    }
    const std::int64_t back = (first - run.low).count() / module.count() + 1;
    for (Exact at = first - module * back; at < run.high; at += module) {
        if (at > run.low) marks.push_back(at);
    }
    return marks;
}

Result<FramePlan> plan_frame(const Bench& bench, const FramedLayer& layer) {
    const assembly::Framing& framing = *layer.framing;
    const assembly::Details& details = bench.house.details;
    const bool bearing = layer.duty == Duty::bearing;
    FramePlan plan{.layer = &layer, .bearing = bearing, .stud = section_of(framing), .depth = layer.depth};
    plan.thickness = framing.width;
    plan.plate_thickness =
        framing.kind == assembly::Framing::Kind::solid ? framing.width : Exact::nearest(details.member.value);
    plan.plate = framing.kind == assembly::Framing::Kind::solid
                     ? plan.stud
                     : section_of(plan.plate_thickness, layer.depth.size());
    plan.run = extent_of(bench.wall, layer.layer, layer.depth);
    plan.plate_run = long_extent_of(bench.wall, layer.layer, layer.depth);
    plan.upper_run = bearing ? long_extent_of(bench.wall, layer.layer, layer.depth, true) : plan.plate_run;
    plan.height = bench.wall.face->height;
    plan.top_plates = bearing ? std::max(details.top_plates.value, 1) : 1;
    plan.stud_low = plan.plate_thickness * (bearing ? std::max(details.bottom_plates.value, 1) : 1);
    plan.stud_high = plan.height - plan.plate_thickness * plan.top_plates;
    plan.stud_lumber = stud_lumber(bench.house, framing);
    plan.plate_lumber = plate_lumber(bench.house, framing);
    if (plan.run.size() < plan.thickness * 2 || plan.stud_high <= plan.stud_low) {
        return fail(
            {.code = Code::out_of_range,
             .what = fmt::format("face {} is too small to be framed: {} long, {} high", bench.wall.face->name,
                                 units::feet_inches(bench.wall.length.metres()),
                                 units::feet_inches(plan.height.metres())),
             .where = bench.wall.face->origin.where});
    }
    plan.marks = marks_of(bench, framing, plan.run);
    auto bays = bays_of(bench, plan);
    if (!bays) return fail(bays.error());
    plan.bays = std::move(*bays);
    return plan;
}

void build_frame(const Bench& bench, const FramePlan& plan) {
    const std::vector<Exact> centres = studs(bench, plan);
    for (const Bay& bay : plan.bays) build_bay(bench, plan, bay);
    plates(bench, plan, centres);
    close_mitres(bench, plan);
}

}  // namespace warmside::framing
