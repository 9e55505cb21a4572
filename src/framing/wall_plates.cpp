// What ties top plates together, and what closes a frame at corners that are not square.
#include <algorithm>
#include <cmath>
#include <map>

#include "framing/wall_frame.h"

namespace warmside::framing {

namespace {

// IRC Table R602.3.2, seismic categories A to C (memory): 3 in x 0.036 in galvanized steel, 6 in long with
// six 8d box nails on each side at corners and inner walls, 12 in with twelve at joints in a straight wall.
// The section's older text asks for the 6 in plate everywhere.
constexpr Exact short_plate = Exact::sixty_fourths_of_inch(6 * 64),
                long_plate = Exact::sixty_fourths_of_inch(12 * 64);
constexpr int short_nails = 6, long_nails = 12;
// A lap of two plates: 24 in, eight 16d nails on each side (IRC Table R602.3(1), quoted).
constexpr int lap_nails = 8;

PlateJoint steel(PlateJoint::Kind kind, Exact at) {
    const bool straight = kind == PlateJoint::Kind::straight;
    return {kind, at, true, straight ? long_plate : short_plate, straight ? long_nails : short_nails};
}

// Middle of what backs each inner wall.
std::vector<Exact> inner_walls(const Panel& panel) {
    std::map<std::string, Interval> found;
    for (const Member& m : panel.members) {
        if (m.partition.empty()) continue;
        const auto [at, fresh] = found.try_emplace(m.partition, u_of(m.box));
        if (!fresh)
            at->second = {std::min(at->second.low, m.box.low[0]), std::max(at->second.high, m.box.high[0])};
    }
    std::vector<Exact> out;
    for (const auto& [name, u] : found) out.push_back(u.low + half(u.size()));
    return out;
}

void close_end(const Bench& bench, const FramePlan& plan, const WallEnd& end, bool right) {
    const double half_turn = mitre_of(end);
    const Exact reach = mitre_reach(end, plan.depth);
    if (half_turn == 0.0 || reach < least_piece) return;
    // From the long point inwards, a stud's thickness at most and clear of the square end stud.
    const Exact thick = std::min(reach, plan.thickness);
    const Interval u = right ? Interval{plan.plate_run.high - thick, plan.plate_run.high}
                             : Interval{plan.plate_run.low, plan.plate_run.low + thick};
    // The mitre leaves that much of the depth.
    const Exact deep =
        std::min(Exact::nearest(thick.metres() / std::tan(std::abs(half_turn))), plan.depth.size());
    const Interval w = half_turn > 0.0 ? Interval{plan.depth.high - deep, plan.depth.high}
                                       : Interval{plan.depth.low, plan.depth.low + deep};
    Member* stud = put(bench.panel, Role::corner, plan.stud, plan.stud_lumber, u,
                       {plan.stud_low, plan.stud_high}, w, 1, bench.layer);
    if (stud) stud->rip = half_turn;
}

}  // namespace

void close_mitres(const Bench& bench, const FramePlan& plan) {
    close_end(bench, plan, bench.wall.left, false);
    close_end(bench, plan, bench.wall.right, true);
}

void tie_plates(const Bench& bench, const FramePlan& plan) {
    auto& joints = bench.panel.plate_joints;
    const bool single = plan.top_plates == 1;
    for (const Member& m : bench.panel.members) {
        if (m.role != Role::top_plate || m.layer != bench.layer) continue;
        const bool lowest = m.box.low[1] == plan.stud_high;
        const Exact end = lowest ? plan.plate_run.high : plan.upper_run.high;
        if (m.box.high[0] >= end) continue;
        joints.push_back(single ? steel(PlateJoint::Kind::straight, m.box.high[0])
                                : PlateJoint{PlateJoint::Kind::straight, m.box.high[0], false,
                                             plate_joint_offset, lap_nails});
    }
    // Each corner once, at the right end; a mitre has no lap.
    const WallEnd& right = bench.wall.right;
    if (right.kind == WallEnd::Kind::straight) {
        if (single) joints.push_back(steel(PlateJoint::Kind::straight, plan.run.high));
    } else if (right.kind != WallEnd::Kind::open && (single || right.kind == WallEnd::Kind::mitre)) {
        joints.push_back(steel(PlateJoint::Kind::corner, plan.run.high));
    }
    if (!single) return;
    for (const Exact at : inner_walls(bench.panel)) joints.push_back(steel(PlateJoint::Kind::inner_wall, at));
}

}  // namespace warmside::framing
