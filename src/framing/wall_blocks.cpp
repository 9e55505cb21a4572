// Backing of inner walls, blocks behind sheathing joints, fire blocks.
#include <algorithm>
#include <fmt/format.h>

#include "assembly/geometry.h"
#include "framing/flat.h"
#include "framing/wall_frame.h"

namespace warmside::framing {

namespace {

// Rungs of a ladder: common practice, no source.
constexpr Exact rung = Exact::sixty_fourths_of_inch(24 * 64);
constexpr Exact nailing = Exact::sixty_fourths_of_inch(64);

struct Meeting {
    std::string name;
    Exact at;
    Exact half_width;
    const assembly::Partition* partition = nullptr;  // null: spread evenly, may move
};

// Inner walls of [details], evenly along the storey's faces.
std::vector<Meeting> spread(const Bench& bench) {
    const int count = bench.house.details.partitions.value;
    std::vector<Meeting> out;
    Exact before, all;
    for (const assembly::Face& face : bench.house.faces) {
        if (face.storey != bench.wall.face->storey) continue;
        if (&face == bench.wall.face) before = all;
        all += Exact::nearest(assembly::distance(face.from, face.to));
    }
    for (int i = 0; i < count; ++i) {
        const Exact at = Exact::eighths_of_micrometre(all.count() * (2 * i + 1) / (2 * count)) - before;
        if (at >= Exact{} && at < bench.wall.length)
            out.push_back(
                {fmt::format("partition {}", i + 1), at, Exact::sixty_fourths_of_inch(112), nullptr});
    }
    return out;
}

std::vector<Meeting> meetings(const Bench& bench) {
    if (bench.house.partitions.empty()) return spread(bench);
    std::vector<Meeting> out;
    for (const assembly::Partition& p : bench.house.partitions) {
        if (p.face == bench.wall.face->name)
            out.push_back({p.name, p.at, half(named_section(bench.house, p.member).width), &p});
    }
    return out;
}

Result<void> settle(const Bench& bench, const FramePlan& plan, Meeting& meeting) {
    const auto refuse = [&](std::string what) {
        return fail(
            {.code = Code::conflict, .what = std::move(what), .where = meeting.partition->origin.where});
    };
    if (meeting.partition && (meeting.at < Exact{} || meeting.at > bench.wall.length)) {
        return refuse(
            fmt::format("partition {} meets face {} {} from its left corner, but the face is {} long",
                        meeting.name, bench.wall.face->name, units::feet_inches(meeting.at.metres()),
                        units::feet_inches(bench.wall.length.metres())));
    }
    for (const Bay& bay : plan.bays) {
        for (const Rough& rough : bay.openings) {
            const Interval own{meeting.at - meeting.half_width, meeting.at + meeting.half_width};
            if (!own.overlaps(rough.clear)) continue;
            if (meeting.partition) {
                return refuse(fmt::format("partition {} meets face {} where {} is", meeting.name,
                                          bench.wall.face->name, rough.opening->name));
            }
            const bool left = meeting.at - bay.clear.low < bay.clear.high - meeting.at;
            meeting.at = left ? bay.zone.low - meeting.half_width : bay.zone.high + meeting.half_width;
        }
    }
    return {};
}

void mark_partition(const Bench& bench, std::size_t from, const std::string& name) {
    for (std::size_t i = from; i < bench.panel.members.size(); ++i) bench.panel.members[i].partition = name;
}

void ladder(const Bench& bench, const FramePlan& plan, const Interval& behind) {
    const Exact t = plan.plate_thickness, wide = plan.depth.size();
    const Interval w{plan.depth.low, plan.depth.low + t};
    for (Exact v = rung; v + half(wide) < plan.stud_high; v += rung) {
        const Interval height{v - half(wide), v - half(wide) + wide};
        for (const Interval& bay : free_bays(bench, plan.run, height, w)) {
            if (bay.overlaps(behind))
                place(bench, Role::backing, plan.plate, plan.plate_lumber, bay, height, w, 0);
        }
    }
}

void back(const Bench& bench, const FramePlan& plan, const Meeting& meeting) {
    const Interval height{plan.stud_low, plan.stud_high};
    const Interval behind{meeting.at - meeting.half_width - nailing,
                          meeting.at + meeting.half_width + nailing};
    if (bench.house.details.partition_stud.value) {
        const Exact low = meeting.at - half(plan.depth.size());
        const Interval flat{low, low + plan.depth.size()};
        const auto bays = free_bays(bench, plan.run, height, plan.depth);
        const bool room = std::any_of(bays.begin(), bays.end(), [&](const Interval& bay) {
            return bay.low <= flat.low && flat.high <= bay.high;
        });
        if (room) {
            place(bench, Role::backing, plan.stud, plan.stud_lumber, flat, height,
                  {plan.depth.low, plan.depth.low + plan.thickness}, 1);
            return;
        }
    }
    // A stud of the layout is in the way of a flat one, or blocks are wanted.
    ladder(bench, plan, behind);
}

}  // namespace

Result<void> back_partitions(const Bench& bench, const FramePlan& plan) {
    for (Meeting& meeting : meetings(bench)) {
        if (auto done = settle(bench, plan, meeting); !done) return done;
        const std::size_t from = bench.panel.members.size();
        back(bench, plan, meeting);
        mark_partition(bench, from, meeting.name);
    }
    return {};
}

void block_edges(const Bench& bench, const FramePlan& plan) {
    const Exact sheet = bench.house.practice.sheet_length.value, t = plan.plate_thickness;
    if (!bench.house.practice.edge_blocking.value || sheet <= Exact{}) return;
    for (Exact v = sheet; v < plan.height; v += sheet) {
        const Interval height{v - half(t), v - half(t) + t};
        for (const Interval& bay : free_bays(bench, plan.run, height, plan.depth))
            place(bench, Role::blocking, plan.plate, plan.plate_lumber, bay, height, plan.depth, 0);
    }
}

void block_fire(const Bench& bench, const FramePlan& plan) {
    const std::int64_t rows = (plan.height.count() - 1) / fire_stop.count();
    const Exact t = plan.plate_thickness;
    for (std::int64_t i = 1; i <= rows; ++i) {
        const Exact middle = Exact::eighths_of_micrometre(plan.height.count() * i / (rows + 1));
        const Interval height{middle - half(t), middle - half(t) + t};
        for (const Interval& bay : free_bays(bench, plan.run, height, plan.depth))
            place(bench, Role::fire_block, plan.plate, plan.plate_lumber, bay, height, plan.depth, 0);
    }
}

}  // namespace warmside::framing
