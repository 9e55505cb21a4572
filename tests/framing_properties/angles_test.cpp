// Walls that meet at any angle: mitred plates and bevelled studs stand clear of each other.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "framing/frame.h"
#include "random_house.h"

using namespace warmside;
using namespace warmside::framing;

namespace {

struct Spot {
    double x = 0.0, y = 0.0;
};
using Outline = std::array<Spot, 4>;

// A member seen from above, m: its box, cut along the mitre at its ends and along its bevel. Of a ripped stud
// the mitre passes from the outer or inner corner of its free side to the opposite one of its other side.
Outline seen_from_above(const Panel& panel, const Member& m) {
    const double w0 = m.box.low[2].metres(), w1 = m.box.high[2].metres(), depth = w1 - w0;
    double low0 = m.box.low[0].metres(), low1 = low0, high0 = m.box.high[0].metres(), high1 = high0;
    // Positive: the long point lies outside.
    const double left = std::tan(m.end_cut[0]) * depth, right = std::tan(m.end_cut[1]) * depth;
    (left > 0 ? low0 : low1) += std::abs(left);
    (right > 0 ? high0 : high1) -= std::abs(right);
    if (m.rip != 0.0) {
        const double cut = std::min(std::tan(std::abs(m.rip)) * depth, high0 - low0);
        const bool at_left = m.box.low[0] < panel.from + half(panel.length);
        if (at_left)
            (m.rip > 0 ? low0 : low1) += cut;
        else
            (m.rip > 0 ? high0 : high1) -= cut;
    }
    const auto spot = [&](double u, double w) {
        return Spot{panel.origin[0] + panel.u[0] * u + panel.w[0] * w,
                    panel.origin[1] + panel.u[1] * u + panel.w[1] * w};
    };
    return {spot(low0, w0), spot(high0, w0), spot(high1, w1), spot(low1, w1)};
}

// Convex outlines overlap unless a side of one of them parts them (separating axis).
bool overlap(const Outline& a, const Outline& b) {
    for (const Outline* sides : {&a, &b}) {
        for (std::size_t i = 0; i < 4; ++i) {
            const Spot &p = (*sides)[i], &q = (*sides)[(i + 1) % 4];
            const double nx = q.y - p.y, ny = p.x - q.x, size = std::hypot(nx, ny);
            if (size < 1e-9) continue;
            const auto reach = [&](const Outline& of) {
                std::array<double, 2> out{1e9, -1e9};
                for (const Spot& s : of) {
                    const double at = (s.x * nx + s.y * ny) / size;
                    out = {std::min(out[0], at), std::max(out[1], at)};
                }
                return out;
            };
            const auto ra = reach(a), rb = reach(b);
            if (ra[1] <= rb[0] + 2e-6 || rb[1] <= ra[0] + 2e-6) return false;
        }
    }
    return true;
}

void no_overlaps(const Frame& frame) {
    struct Placed {
        const Panel* panel;
        const Member* member;
        Outline outline;
    };
    std::vector<Placed> all;
    for (const Panel& panel : frame.panels) {
        for (const Member& m : panel.members) {
            // Furring and battens end square before the mitre; they meet no other wall's frame.
            all.push_back({&panel, &m, seen_from_above(panel, m)});
        }
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t j = i + 1; j < all.size(); ++j) {
            const Member &a = *all[i].member, &b = *all[j].member;
            if (a.box.high[1] <= b.box.low[1] || b.box.high[1] <= a.box.low[1]) continue;
            if (!overlap(all[i].outline, all[j].outline)) continue;
            RC_FAIL(
                fmt::format("{} {} overlaps {} {}", all[i].panel->name, a.mark, all[j].panel->name, b.mark));
        }
    }
}

int draw(int below) {
    return *rc::gen::inRange(0, below);
}

// Corners on a circle, some pulled in so far that they are re-entrant; none along an axis.
std::vector<assembly::Point> any_outline() {
    const int n = 5 + draw(5);
    std::vector<assembly::Point> out;
    for (int i = 0; i < n; ++i) {
        const double angle = 2.0 * std::numbers::pi * (i + 0.01 * draw(40)) / n;
        const double radius = draw(3) ? 8.0 : 5.5;
        out.push_back({Exact::nearest(radius * std::cos(angle)), Exact::nearest(radius * std::sin(angle))});
    }
    return out;
}

// Plates end at the mitre on both sides of a corner: their long and short points are those of the next wall.
void plates_meet(const Frame& frame, int& mitres) {
    for (std::size_t i = 0; i < frame.panels.size(); ++i) {
        const Panel &here = frame.panels[i], &next = frame.panels[(i + 1) % frame.panels.size()];
        const auto last = [](const Panel& p, bool right) {
            const Member* found = nullptr;
            for (const Member& m : p.members) {
                if (m.role != Role::bottom_plate) continue;
                if (!found || (right ? m.box.high[0] > found->box.high[0] : m.box.low[0] < found->box.low[0]))
                    found = &m;
            }
            return found;
        };
        const Member *a = last(here, true), *b = last(next, false);
        RC_ASSERT(a != nullptr);
        RC_ASSERT(b != nullptr);
        if (a->end_cut[1] == 0.0) continue;
        ++mitres;
        RC_ASSERT(std::abs(a->end_cut[1] - b->end_cut[0]) < 1e-9);
        const Outline p = seen_from_above(here, *a), q = seen_from_above(next, *b);
        for (const auto& [one, other] : {std::pair{p[1], q[0]}, std::pair{p[2], q[3]}})
            RC_ASSERT(std::hypot(one.x - other.x, one.y - other.y) < 2e-6);
    }
}

}  // namespace

TEST_CASE("walls that meet at any angle: mitred plates meet, nothing overlaps") {
    int mitres = 0, framed = 0;
    const bool held = rc::check("any angle", [&] {
        auto random =
            tests::random_house(std::getenv("WARMSIDE_SOURCE") ? std::getenv("WARMSIDE_SOURCE") : ".", draw);
        RC_ASSERT(random.house);
        assembly::House& house = *random.house;
        const auto corners = any_outline();
        house.storeys.resize(1);
        house.storeys[0].outline = corners;
        house.details.header_place.value = assembly::HeaderPlace::wall;
        house.faces.clear();
        for (std::size_t i = 0; i < corners.size(); ++i) {
            house.faces.push_back({.name = std::to_string(i),
                                   .storey = house.storeys[0].name,
                                   .from = corners[i],
                                   .to = corners[(i + 1) % corners.size()],
                                   .height = house.storeys[0].height});
        }
        RC_LOG() << random.text << std::endl;
        const auto frame = frame_walls(house, *random.wall);
        if (!frame) {
            if (frame.error().code != Code::out_of_range) RC_FAIL(render(frame.error()));
            return;
        }
        ++framed;
        no_overlaps(*frame);
        plates_meet(*frame, mitres);
    });
    CHECK(held);
    MESSAGE(framed, " houses framed with ", mitres, " mitred corners");
    CHECK(mitres > framed);
}
