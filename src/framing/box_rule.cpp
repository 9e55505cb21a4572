// Where receptacles have to be along the outer walls.
#include <algorithm>
#include <cmath>

#include "framing/boxes.h"
#include "framing/flat.h"

namespace warmside::framing {

namespace {

using assembly::Face;
using assembly::House;

Exact length_of(const Face& face) {
    return Exact::nearest(std::hypot((face.to.x - face.from.x).metres(), (face.to.y - face.from.y).metres()));
}

// Along the floor line, between what breaks it.
std::vector<Interval> stretches(const House& house, const Face& face) {
    std::vector<Interval> taken = inner_walls(house, face);
    for (const assembly::Opening& o : face.openings) {
        if (o.kind == assembly::Opening::Kind::door) taken.push_back(u_of(o));
    }
    return free_of({Exact{}, length_of(face)}, std::move(taken));
}

bool same(const assembly::Point& a, const assembly::Point& b) {
    return a.x == b.x && a.y == b.y;
}

// The face that goes on at an end of `face`, in its storey.
const Face* next_to(const House& house, const Face& face, bool right) {
    for (const Face& other : house.faces) {
        if (&other == &face || other.storey != face.storey) continue;
        if (right ? same(other.from, face.to) : same(other.to, face.from)) return &other;
    }
    return nullptr;
}

// Width of the neighbour's stretch at the shared corner; zero: none.
Exact beyond(const House& house, const Face& face, bool right) {
    const Face* other = next_to(house, face, right);
    if (!other) return {};
    const auto all = stretches(house, *other);
    if (all.empty()) return {};
    if (right) return all.front().low == Exact{} ? all.front().size() : Exact{};
    return all.back().high == length_of(*other) ? all.back().size() : Exact{};
}

}  // namespace

std::vector<Interval> inner_walls(const House& house, const Face& face) {
    std::vector<Interval> out;
    for (const assembly::Partition& p : house.partitions) {
        if (p.face != face.name) continue;
        const Exact width = named_section(house, p.member).width;
        out.push_back({p.at - half(width), p.at - half(width) + width});
    }
    return out;
}

std::vector<WallSpace> wall_spaces(const House& house, const Face& face) {
    const Exact least = assembly::box_rules().least_space, length = length_of(face);
    std::vector<WallSpace> out;
    for (const Interval& stretch : stretches(house, face)) {
        WallSpace space{.u = stretch};
        const bool left = stretch.low == Exact{}, right = stretch.high == length;
        const Exact before = left ? beyond(house, face, false) : Exact{},
                    after = right ? beyond(house, face, true) : Exact{};
        if (stretch.size() < least) {
            // Of two short stretches at a corner the longer has the receptacle, of equals the one at the
            // right.
            const auto serves = [&](Exact other, bool first) {
                return other > Exact{} && other < least && other + stretch.size() >= least &&
                       (stretch.size() > other || (stretch.size() == other && first));
            };
            if (!serves(before, true) && !serves(after, false)) continue;
        }
        if (before < least) space.before = before;
        if (after < least) space.after = after;
        out.push_back(space);
    }
    return out;
}

}  // namespace warmside::framing
