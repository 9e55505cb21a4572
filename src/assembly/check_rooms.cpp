// Rooms within their storey and beside each other: polygons without holes, edge against edge.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "assembly/check_services.h"
#include "assembly/check_words.h"
#include "assembly/geometry.h"

namespace warmside::assembly {

namespace {

struct Spot {
    double x = 0.0, y = 0.0;  // m
};
using Ring = std::vector<Spot>;

// Outlines are typed to a sixteenth of an inch; less than this apart is together.
constexpr double slack = 2e-3;

Ring ring_of(const std::vector<Point>& outline) {
    Ring out;
    for (const Point& p : outline) out.push_back({p.x.metres(), p.y.metres()});
    return out;
}

Ring ring_of(const Room& room) {
    Ring out;
    for (const auto& [x, y] : room.outline) out.push_back({x.metres(), y.metres()});
    return out;
}

double cross(const Spot& a, const Spot& b, const Spot& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

double distance_to_edge(const Spot& p, const Spot& a, const Spot& b) {
    const double dx = b.x - a.x, dy = b.y - a.y;
    const double along = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

enum class Side { inside, edge, outside };

Side side_of(const Spot& p, const Ring& ring) {
    bool within = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Spot& a = ring[i];
        const Spot& b = ring[(i + 1) % ring.size()];
        if (distance_to_edge(p, a, b) <= slack) return Side::edge;
        const bool spans = (a.y > p.y) != (b.y > p.y);
        if (spans && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) within = !within;
    }
    return within ? Side::inside : Side::outside;
}

// The middles of the pieces into which `by` cuts the edges of `ring`: a piece lies on one side of `by`.
std::vector<Spot> middles(const Ring& ring, const Ring& by) {
    std::vector<Spot> out;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Spot& a = ring[i];
        const Spot& b = ring[(i + 1) % ring.size()];
        const double dx = b.x - a.x, dy = b.y - a.y;
        std::vector<double> cuts{0.0, 1.0};
        for (std::size_t k = 0; k < by.size(); ++k) {
            const Spot& c = by[k];
            const Spot& d = by[(k + 1) % by.size()];
            const double turn_c = cross(a, b, c), turn_d = cross(a, b, d);
            if ((turn_c > 0.0) != (turn_d > 0.0)) {
                const double share = turn_c / (turn_c - turn_d);
                const Spot at{c.x + share * (d.x - c.x), c.y + share * (d.y - c.y)};
                cuts.push_back(((at.x - a.x) * dx + (at.y - a.y) * dy) / (dx * dx + dy * dy));
            }
            // Edges along each other part at their corners.
            if (std::abs(turn_c) <= slack * std::hypot(dx, dy))
                cuts.push_back(((c.x - a.x) * dx + (c.y - a.y) * dy) / (dx * dx + dy * dy));
        }
        std::sort(cuts.begin(), cuts.end());
        const double length = std::hypot(dx, dy);
        for (std::size_t k = 1; k < cuts.size(); ++k) {
            const double from = std::clamp(cuts[k - 1], 0.0, 1.0), to = std::clamp(cuts[k], 0.0, 1.0);
            if ((to - from) * length <= 2.0 * slack) continue;
            const double half = 0.5 * (from + to);
            out.push_back({a.x + half * dx, a.y + half * dy});
        }
    }
    return out;
}

// A ring without holes holds what its edges hold.
bool leaves(const Ring& room, const Ring& storey) {
    const auto all = middles(room, storey);
    return std::any_of(all.begin(), all.end(),
                       [&](const Spot& p) { return side_of(p, storey) == Side::outside; });
}

bool apart(const Ring& a, const Ring& b) {
    const auto range = [](const Ring& ring, double Spot::* key) {
        const auto [low, high] = std::minmax_element(
            ring.begin(), ring.end(), [&](const Spot& p, const Spot& q) { return p.*key < q.*key; });
        return std::array{(*low).*key, (*high).*key};
    };
    for (const auto key : {&Spot::x, &Spot::y}) {
        const auto one = range(a, key), other = range(b, key);
        if (one[1] <= other[0] + slack || other[1] <= one[0] + slack) return true;
    }
    return false;
}

bool overlap(const Ring& a, const Ring& b) {
    if (apart(a, b)) return false;
    bool same = true;
    for (const auto& [one, other] : {std::pair(&a, &b), std::pair(&b, &a)}) {
        for (const Spot& p : middles(*one, *other)) {
            const Side side = side_of(p, *other);
            if (side == Side::inside) return true;
            same = same && side == Side::edge;
        }
    }
    return same;  // each runs along the other all round
}

}  // namespace

void check_rooms(const House& house, Problems& problems) {
    const auto& rooms = house.services.rooms;
    std::vector<Ring> rings;
    for (std::size_t i = 0; i < rooms.size(); ++i) {
        const Room& room = rooms[i];
        rings.push_back(ring_of(room));
        const Storey* storey = house.storey(room.storey);
        if (!storey) continue;
        if (!storey->heated) {
            add(problems, Severity::warning, Code::conflict,
                fmt::format("room {} is in storey {}, which is not heated: it has no load", room.name,
                            storey->name),
                room.origin.where);
        }
        if (leaves(rings[i], ring_of(storey->outline))) {
            add(problems, Severity::error, Code::conflict,
                fmt::format("room {} reaches outside of storey {}", room.name, storey->name),
                room.origin.where, "corners within the storey's outline");
        }
        for (std::size_t k = 0; k < i; ++k) {
            if (rooms[k].storey != room.storey || !overlap(rings[k], rings[i])) continue;
            add(problems, Severity::error, Code::conflict,
                fmt::format("room {} lies over room {}", room.name, rooms[k].name), room.origin.where,
                "each piece of floor once");
            break;
        }
    }
}

}  // namespace warmside::assembly
