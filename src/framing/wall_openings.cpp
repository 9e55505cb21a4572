// What stands around an opening: kings, jacks, header, and inside of the jambs studs, filler, sill and
// cripples.
#include <algorithm>
#include <fmt/format.h>

#include "framing/wall_frame.h"

namespace warmside::framing {

namespace {

using Group = std::vector<const Rough*>;

Interval centred(Exact centre, Exact width) {
    const Exact low = centre - half(width);
    return {low, low + width};
}

// Openings that a straight line across parts: `first` of them lie before it, in their order.
struct Split {
    std::size_t first = 0;
    Interval gap;
};

// The first gap between openings sorted on one axis.
template <class Low, class High>
std::optional<Split> split_of(Group& group, Low low, High high) {
    std::sort(group.begin(), group.end(), [&](const Rough* a, const Rough* b) { return low(*a) < low(*b); });
    Exact reach = high(*group.front());
    for (std::size_t i = 1; i < group.size(); ++i) {
        if (reach <= low(*group[i])) return Split{i, {reach, low(*group[i])}};
        reach = std::max(reach, high(*group[i]));
    }
    return std::nullopt;
}

// The members between the jambs of a bay, region by region. A region stands on wood and ends under wood.
class Inside {
public:
    Inside(const Bench& bench, FramePlan& plan, bool ends) : bench_(bench), plan_(plan), ends_(ends) {}

    Result<void> fill(const Interval& u, const Interval& v, Group group) {
        if (group.size() == 1) {
            one(u, v, *group.front());
            return {};
        }
        if (const auto level =
                split_of(group, [](const Rough& r) { return r.sill; }, [](const Rough& r) { return r.head; }))
            return upon(u, v, group, *level);
        if (const auto upright = split_of(
                group, [](const Rough& r) { return r.clear.low; },
                [](const Rough& r) { return r.clear.high; }))
            return beside(u, v, group, *upright);
        return fail(trouble(*group.front(), *group.back(),
                            "stand so that no straight stud or flat piece parts them",
                            "edges in one line, or openings further apart"));
    }
    std::vector<Piece> take() { return std::move(pieces_); }

private:
    [[nodiscard]] Problem trouble(const Rough& a, const Rough& b, const std::string& what,
                                  std::string suggestion) const {
        return {.code = Code::out_of_range,
                .what = fmt::format("{} and {} of face {} {}", a.opening->name, b.opening->name,
                                    bench_.wall.face->name, what),
                .suggestion = std::move(suggestion),
                .where = b.opening->origin.where};
    }

    // One above the other: a flat piece over the lower ones, a sill under the upper ones, cripples between.
    Result<void> upon(const Interval& u, const Interval& v, const Group& group, const Split& split) {
        const Group lower(group.begin(), group.begin() + static_cast<std::ptrdiff_t>(split.first)),
            upper(group.begin() + static_cast<std::ptrdiff_t>(split.first), group.end());
        const Exact t = plan_.plate_thickness;
        if (split.gap.size() < t) {
            return fail(trouble(
                *lower.back(), *upper.front(),
                fmt::format("have {} between head and sill, a flat piece takes {}",
                            units::feet_inches(split.gap.size().metres()), units::feet_inches(t.metres())),
                "move them apart, or make one opening of them"));
        }
        const Exact sill = split.gap.high - t, rest = sill - split.gap.low;
        lying(Role::sill, u, {sill, split.gap.high}, upper.front()->index);
        Exact ceiling = sill;
        if (rest >= least_piece) {
            const Exact thick = std::min(rest, t);
            const bool cripples = rest - thick >= least_piece;
            // What is too thin for cripples stays open over the lower opening.
            ceiling = cripples || rest <= t ? split.gap.low : sill - t;
            lying(Role::header_filler, u, {ceiling, ceiling + thick}, lower.back()->index);
            if (cripples)
                uprights(Role::cripple_below, u, {ceiling + thick, sill}, upper.front()->index, true);
        }
        if (auto done = fill(u, {v.low, ceiling}, lower); !done) return done;
        return fill(u, {split.gap.high, v.high}, upper);
    }

    // Side by side: a stud at each.
    Result<void> beside(const Interval& u, const Interval& v, const Group& group, const Split& split) {
        const Group left(group.begin(), group.begin() + static_cast<std::ptrdiff_t>(split.first)),
            right(group.begin() + static_cast<std::ptrdiff_t>(split.first), group.end());
        const Exact t = plan_.thickness;
        if (split.gap.size() < t * 2) {
            return fail(trouble(*left.back(), *right.front(),
                                fmt::format("need {} between them for their studs, there are {}",
                                            units::feet_inches((t * 2).metres()),
                                            units::feet_inches(split.gap.size().metres())),
                                "move them apart, or make one opening of them"));
        }
        upright({split.gap.low, split.gap.low + t}, v, left.back()->index);
        upright({split.gap.high - t, split.gap.high}, v, right.front()->index);
        uprights(Role::stud, {split.gap.low + t, split.gap.high - t}, v, right.front()->index, false);
        if (auto done = fill({u.low, split.gap.low}, v, left); !done) return done;
        return fill({split.gap.high, u.high}, v, right);
    }

    void one(const Interval& u, const Interval& v, const Rough& rough) {
        side({u.low, rough.clear.low}, true, v, rough);
        side({rough.clear.high, u.high}, false, v, rough);
        above(rough, v.high);
        below(rough, v.low);
    }

    // Between an opening and the jamb of the bay: a stud at the opening, the layout beside it.
    void side(const Interval& room, bool left, const Interval& v, const Rough& rough) {
        const Exact t = plan_.thickness;
        if (room.size() <= Exact{}) return;
        if (room.size() < least_piece) return slit(rough, room.size());
        const Exact thick = std::min(room.size(), t);
        const Interval at =
            left ? Interval{room.high - thick, room.high} : Interval{room.low, room.low + thick};
        upright(at, v, rough.index);
        uprights(Role::stud, left ? Interval{room.low, at.low} : Interval{at.high, room.high}, v, rough.index,
                 false);
    }

    // From the opening's head up to `under`: a flat piece and cripples on it; what is less than a flat piece
    // is ripped, what is less than least_piece stays open.
    void above(const Rough& rough, Exact under) {
        const Exact t = plan_.plate_thickness, gap = under - rough.head;
        if (gap <= Exact{}) return;
        if (gap < least_piece) return slit(rough, gap);
        const Exact first = std::min(gap, t), rest = gap - first;
        lying(Role::header_filler, rough.clear, {rough.head, rough.head + first}, rough.index);
        const Interval left{rough.head + first, under};
        if (rest <= Exact{}) return;
        if (rest < least_piece) return slit(rough, rest);
        if (rest < t) return lying(Role::header_filler, rough.clear, left, rough.index);
        uprights(Role::cripple_above, rough.clear, left, rough.index, ends_);
    }

    void below(const Rough& rough, Exact floor) {
        const Exact t = plan_.plate_thickness, room = rough.sill - floor;
        if (room <= Exact{}) return;
        if (room < least_piece) return slit(rough, room);
        const Exact thick = std::min(room, t), rest = room - thick;
        lying(Role::sill, rough.clear, {rough.sill - thick, rough.sill}, rough.index);
        if (rest > Exact{} && rest < least_piece) return slit(rough, rest);
        uprights(Role::cripple_below, rough.clear, {floor, rough.sill - thick}, rough.index, true);
    }

    void slit(const Rough& rough, Exact width) {
        plan_.slits.push_back(rough.opening->name);
        plan_.widest_slit = std::max(plan_.widest_slit, width);
    }

    void lying(Role role, const Interval& u, const Interval& v, int opening) {
        const Section section =
            v.size() == plan_.plate_thickness ? plan_.plate : section_of(v.size(), plan_.depth.size());
        pieces_.push_back({role, section, u, v, 0, opening});
    }

    void upright(const Interval& u, const Interval& v, int opening) {
        const Section section =
            u.size() == plan_.thickness ? plan_.stud : section_of(u.size(), plan_.depth.size());
        pieces_.push_back({Role::stud, section, u, v, 1, opening});
    }

    // Short studs over `v`: one at each end of `u` when `ends`, and on the layout between. One of the layout
    // nearer than a stud's thickness to an end one is dropped, or where it would reach out of u.
    void uprights(Role role, const Interval& u, const Interval& v, int opening, bool ends) {
        const Exact t = plan_.thickness;
        if (v.size() <= Exact{}) return;
        const auto add = [&](const Interval& at) {
            pieces_.push_back({role, plan_.stud, at, v, 1, opening});
        };
        if (ends && u.size() < t * 2) ends = false;
        if (ends) add({u.low, u.low + t});
        const Interval inner = ends ? Interval{u.low + t * 2, u.high - t * 2} : u;
        for (const Exact mark : plan_.marks) {
            const Interval at = centred(mark, t);
            if (at.low >= inner.low && at.high <= inner.high) add(at);
        }
        if (ends) add({u.high - t, u.high});
    }

    const Bench& bench_;
    FramePlan& plan_;
    bool ends_;
    std::vector<Piece> pieces_;
};

void header(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const Interval v{bay.header_low, bay.header_high};
    const Section section = section_of(bay.ply, v.size());
    for (int i = 0; i < bay.plies; ++i) {
        // At the outer side; insulation fills the rest of the depth.
        const Interval w{plan.depth.high - bay.ply * (i + 1), plan.depth.high - bay.ply * i};
        place(bench, Role::header, section, bay.header_lumber, bay.header, v, w, 0, bay.top().index);
    }
    if (!bay.dropped) return;
    for (const Exact mark : plan.marks) {
        const Interval at = centred(mark, plan.thickness);
        if (at.low < bay.header.low || at.high > bay.header.high) continue;
        place(bench, Role::cripple_above, plan.stud, plan.stud_lumber, at, {bay.header_high, plan.stud_high},
              plan.depth, 1, bay.top().index);
    }
}

}  // namespace

Result<std::vector<Piece>> inside_of(const Bench& bench, FramePlan& plan, const Bay& bay) {
    const bool under_header = plan.bearing && !bay.at_rim;
    Inside inside(bench, plan, plan.bearing);
    Group group;
    for (const Rough& rough : bay.openings) group.push_back(&rough);
    const Interval v{plan.stud_low, under_header ? bay.header_low : plan.stud_high};
    if (auto done = inside.fill(bay.clear, v, std::move(group)); !done) return fail(done.error());
    return inside.take();
}

void build_bay(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const Exact t = plan.thickness;
    for (int i = 0; i < bay.jacks + bay.kings; ++i) {
        const bool jack = i < bay.jacks;
        const Interval v{plan.stud_low, jack ? bay.header_low : plan.stud_high};
        for (const Exact low : {bay.clear.low - t * (i + 1), bay.clear.high + t * i}) {
            place(bench, jack ? Role::jack : Role::king, plan.stud, plan.stud_lumber, {low, low + t}, v,
                  plan.depth, 1, bay.top().index);
        }
    }
    if (plan.bearing) header(bench, plan, bay);
    for (const Piece& piece : bay.inside) {
        const std::string& lumber = piece.along == 1 ? plan.stud_lumber : plan.plate_lumber;
        place(bench, piece.role, piece.section, lumber, piece.u, piece.v, plan.depth, piece.along,
              piece.opening);
    }
}

}  // namespace warmside::framing
