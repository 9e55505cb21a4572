// Every expected value is worked by hand beside its check (evidence: computed).
#include "assembly/roof_shape.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace warmside;
using namespace warmside::assembly;

namespace {

std::vector<Point> outline(const std::vector<std::pair<double, double>>& corners) {
    std::vector<Point> out;
    for (const auto& [x, y] : corners) out.push_back({Exact::nearest(x), Exact::nearest(y)});
    return out;
}

// 12 m by 5 m along the south, 7 m by 9 m in the west.
const std::vector<std::pair<double, double>> ell{{0, 0}, {12, 0}, {12, 5}, {7, 5}, {7, 9}, {0, 9}};

RoofShape shape_of(const std::vector<std::pair<double, double>>& corners, Roof::Form form,
                   const char* ridge = "", const char* high = "") {
    const auto shape = roof_shape(outline(corners), {.form = form, .ridge = ridge, .high_side = high});
    REQUIRE(shape);
    return *shape;
}

double length(const RoofShape& shape, RoofEdge kind) {
    double out = 0.0;
    for (const RoofLine& l : shape.lines) {
        if (l.kind == kind) out += std::hypot(l.to.x - l.from.x, l.to.y - l.from.y);
    }
    return out;
}

// Half the side of the greatest square around a point within the outline: by the distance of each edge.
double square_around(const std::vector<Point>& corners, double x, double y) {
    double least = 1e9;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point &a = corners[i], &b = corners[(i + 1) % corners.size()];
        const auto beyond = [](double at, double p, double q) {
            return std::max({std::min(p, q) - at, at - std::max(p, q), 0.0});
        };
        least = std::min(
            least, std::max(beyond(x, a.x.metres(), b.x.metres()), beyond(y, a.y.metres(), b.y.metres())));
    }
    return least;
}

}  // namespace

TEST_CASE("a hip over an L: two ridges, a hip between their ends, one valley") {
    const RoofShape s = shape_of(ell, Roof::Form::hip);
    CHECK(s.plan == doctest::Approx(12 * 5 + 7 * 4));
    CHECK(s.planes.size() == 6);
    // West body 7 m wide: ridge at 3.5 m from y = 3.5 to 5.5; south body 5 m wide: ridge at 2.5 m from
    // x = 9.5 back to 4.5, where the valley from (7, 5) meets it.
    CHECK(s.most == doctest::Approx(3.5));
    CHECK(length(s, RoofEdge::ridge) == doctest::Approx(2 + 5));
    CHECK(length(s, RoofEdge::valley) == doctest::Approx(2.5 * std::sqrt(2.0)));
    // From four corners of the west end and the north end 3.5 m, 3.5 m, 3.5 m less what the valley takes:
    // corners (0,0), (0,9), (7,9): 3.5 m each; (12,0), (12,5): 2.5 m each; from (4.5, 2.5) to (3.5, 3.5): 1
    // m.
    CHECK(length(s, RoofEdge::hip) == doctest::Approx((3 * 3.5 + 2 * 2.5 + 1) * std::sqrt(2.0)));
    // In plan, trapezoids and triangles between those lines: south the corner strip below (4.5, 2.5) and
    // (3.5, 3.5) 24.75; west (9 + 2) / 2 x 3.5; ends 5 x 2.5 / 2 and 7 x 3.5 / 2; the wing's north (5 + 5) /
    // 2 x 2.5; the west body's east slope, the rest of 88: 13.
    const auto plan_of = [&](Side side) {
        std::vector<double> out;
        for (const RoofPlane& plane : s.planes) {
            if (plane.side == side) out.push_back(plane.area());
        }
        std::sort(out.begin(), out.end());
        return out;
    };
    const auto two = [&](Side side, double a, double b) {
        const auto areas = plan_of(side);
        REQUIRE(areas.size() == 2);
        CHECK(areas[0] == doctest::Approx(a));
        CHECK(areas[1] == doctest::Approx(b));
    };
    REQUIRE(plan_of(Side::south).size() == 1);
    CHECK(plan_of(Side::south)[0] == doctest::Approx(24.75));
    REQUIRE(plan_of(Side::west).size() == 1);
    CHECK(plan_of(Side::west)[0] == doctest::Approx(19.25));
    two(Side::east, 6.25, 13.0);
    two(Side::north, 12.25, 12.5);
    // Integral of the distance: west body alone 7 x 9: 3.5 x 7 (3 x 9 - 7) / 6 = 81.6667. The wing adds over
    // x > 7: a hip end of 5 m, 5 m deep. Prism from x = 7 to 9.5: 2.5 x 6.25 = 15.625, end 2.5^2 x 2.5 x 2 /
    // 3 = 10.41667. Within x < 7 it lies higher than the east slope of the west body by min(y, 5 - y) - (7 -
    // x) and not over the south hip end (level y there as well): a triangle, 5 m by 2.5 m of plan between the
    // lines to (7, 0) and (7, 5); over its half y > 2.5: 5 - y - (7 - x), over y < 2.5: y - (7 - x). Two
    // tetrahedra of base 2.5^2 / 2 and height 2.5: 2 x 2.5^3 / 6 = 5.20833.
    CHECK(s.moment == doctest::Approx(81.0 + 2.0 / 3 + 15.625 + 10.0 + 5.0 / 12 + 5.0 + 5.0 / 24));
}

TEST_CASE("a gable over an L: the wide body goes through, the wing's ridge dies in its slope") {
    const RoofShape s = shape_of(ell, Roof::Form::gable, "north-south");
    REQUIRE(s.bodies.size() == 2);
    CHECK_FALSE(s.turned);
    CHECK(s.bodies[0].span() == doctest::Approx(7));
    CHECK(s.bodies[1].span() == doctest::Approx(5));
    CHECK(s.bodies[1].west == doctest::Approx(7));
    CHECK(s.planes.size() == 4);
    // Main ridge 9 m; the wing's from its gable at x = 12 to where the east slope is 2.5 m in: x = 4.5.
    CHECK(length(s, RoofEdge::ridge) == doctest::Approx(9 + 7.5));
    CHECK(length(s, RoofEdge::valley) == doctest::Approx(2 * 2.5 * std::sqrt(2.0)));
    CHECK(length(s, RoofEdge::hip) == 0.0);
    // Main: 7^2 / 4 x 9 = 110.25; wing: 5^2 / 4 x 5 = 31.25; over the east slope a pyramid of base 5 x 2.5 /
    // 2 and height 2.5 ... its integral 2 x 2.5^3 / 6.
    CHECK(s.moment == doctest::Approx(110.25 + 31.25 + 2 * 15.625 / 6));
    // South edge: the main gable's triangle alone, 7^2 / 4; the wing's eave is at the plate.
    const auto o = outline(ell);
    CHECK(s.along(o[0], o[1]) == doctest::Approx(12.25));
    CHECK(s.along(o[1], o[2]) == doctest::Approx(6.25));
    CHECK(s.along(o[2], o[3]) == doctest::Approx(0.0));
    CHECK(s.along(o[3], o[4]) == doctest::Approx(0.0));
    CHECK(s.along(o[4], o[5]) == doctest::Approx(12.25));
    // Asked east-west, the body along the south is narrower than the other: it is turned, and says so.
    const RoofShape other = shape_of(ell, Roof::Form::gable, "east-west");
    CHECK(other.turned);
    CHECK(other.moment == doctest::Approx(s.moment));
}

TEST_CASE("a gable over a T of equal spans: both ridges meet, two valleys run up to them") {
    const RoofShape s = shape_of({{0, 0}, {14, 0}, {14, 6}, {10, 6}, {10, 11}, {4, 11}, {4, 6}, {0, 6}},
                                 Roof::Form::gable, "east-west");
    CHECK(length(s, RoofEdge::ridge) == doctest::Approx(14 + 5 + 3));
    CHECK(length(s, RoofEdge::valley) == doctest::Approx(2 * 3 * std::sqrt(2.0)));
    // 14 x 9 + 5 x 9 + two tetrahedra of 3^3 / 6
    CHECK(s.moment == doctest::Approx(126 + 45 + 9));
    // The north slope lies on both sides of the wing: two planes that touch at the ridge in one point.
    CHECK(s.planes.size() == 5);
}

TEST_CASE("a shed over an L is one plane from its lowest edge") {
    const RoofShape s = shape_of(ell, Roof::Form::shed, "", "north");
    CHECK(s.planes.size() == 1);
    CHECK(s.most == doctest::Approx(9));
    // 12 x 5^2 / 2 + 7 x (9^2 - 5^2) / 2
    CHECK(s.moment == doctest::Approx(150 + 196));
    const auto o = outline(ell);
    CHECK(s.along(o[0], o[1]) == doctest::Approx(0.0));
    CHECK(s.along(o[1], o[2]) == doctest::Approx(12.5));  // 5^2 / 2
    CHECK(s.along(o[2], o[3]) == doctest::Approx(25.0));  // 5 m long, 5 m up
    CHECK(s.along(o[3], o[4]) == doctest::Approx(28.0));  // (9^2 - 5^2) / 2
    CHECK(s.along(o[4], o[5]) == doctest::Approx(63.0));  // 7 m long, 9 m up
}

TEST_CASE("outlines that do not divide are told from those that do") {
    // A step of one end, whose ridge would go on lower from the gable.
    const auto stepped = outline({{0, 0}, {10, 0}, {10, 1}, {15, 1}, {15, 6}, {10, 6}, {10, 8}, {0, 8}});
    const auto turned = roof_shape(stepped, {.form = Roof::Form::gable, .ridge = "east-west"});
    REQUIRE(turned);
    CHECK(turned->turned);
    CHECK(turned->bodies.front().span() == doctest::Approx(10));
    const auto slanted = outline({{0, 0}, {10, 0}, {8, 6}, {0, 6}});
    CHECK_FALSE(roof_shape(slanted, {.form = Roof::Form::hip}));
    CHECK_FALSE(roof_shape(slanted, {.form = Roof::Form::shed, .high_side = "north"}));
}

TEST_CASE("a corner on a straight edge changes nothing") {
    for (const auto form : {Roof::Form::gable, Roof::Form::hip, Roof::Form::shed}) {
        const RoofShape a = shape_of({{0, 0}, {10, 0}, {10, 8}, {0, 8}}, form, "east-west", "north");
        const RoofShape b =
            shape_of({{0, 0}, {4, 0}, {10, 0}, {10, 8}, {5, 8}, {0, 8}}, form, "east-west", "north");
        CHECK(a.moment == doctest::Approx(b.moment));
        CHECK(a.planes.size() == b.planes.size());
        CHECK(a.lines.size() == b.lines.size());
    }
}

TEST_CASE(
    "hips over random outlines: level is the distance to the outline, planes cover it, volume by cells") {
    std::mt19937 dice(3);
    const auto pick = [&](int n) { return static_cast<double>(dice() % static_cast<unsigned>(n)); };
    for (int i = 0; i < 200; ++i) {
        const double a = 5 + pick(80) / 10, b = 5 + pick(60) / 10, c = 1 + pick(40) / 10,
                     d = 1 + pick(40) / 10;
        const std::vector<std::vector<std::pair<double, double>>> all{
            {{0, 0}, {a + c, 0}, {a + c, d}, {a, d}, {a, b + d}, {0, b + d}},
            {{0, 0},
             {2 * c + a, 0},
             {2 * c + a, b + d},
             {c + a, b + d},
             {c + a, b},
             {c, b},
             {c, b + d},
             {0, b + d}},
            {{0, 0}, {a, 0}, {a, d}, {a + c, d}, {a + c, d + b}, {c, d + b}, {c, b}, {0, b}},
            {{0, 0}, {a, 0}, {a, b}, {a - 2, b}, {a - 2, b + d}, {1, b + d}, {1, b}, {0, b}}};
        const auto& corners = all[i % all.size()];
        if (i % 4 == 2 && d >= b) continue;
        INFO(i << ": " << a << " " << b << " " << c << " " << d);
        const auto o = outline(corners);
        const auto shape = roof_shape(o, {.form = Roof::Form::hip});
        REQUIRE(shape);
        CHECK(shape->plan == doctest::Approx(std::abs(signed_area(o))).epsilon(1e-12));
        double x = 0, y = 0;
        for (const Point& p : o) x = std::max(x, p.x.metres()), y = std::max(y, p.y.metres());
        double sum = 0.0, most = 0.0, worst = 0.0;
        constexpr int n = 150;
        for (int k = 0; k < n * n; ++k) {
            const double u = x * (k % n + 0.5) / n, v = y * (k / n + 0.5) / n;
            const double level = shape->level(u, v);
            if (level <= 0.0) continue;
            worst = std::max(worst, std::abs(level - square_around(o, u, v)));
            sum += level * x * y / n / n;
            most = std::max(most, level);
        }
        CHECK(worst < 1e-9);
        // The cells' error falls with the square of their size, less at edges: 1 % of the volume.
        CHECK(shape->moment == doctest::Approx(sum).epsilon(0.01));
        CHECK(shape->most >= most);
        for (const auto& plane : shape->planes) {
            for (const RoofStrip& s : plane.strips) {
                CHECK(s.high_from + s.high_to > s.low_from + s.low_to);
                CHECK(s.low != RoofEdge::verge);
                CHECK(s.high != RoofEdge::verge);
            }
        }
    }
}

TEST_CASE("gables over random outlines: planes cover the outline, volume by cells, only valleys that fall") {
    std::mt19937 dice(5);
    const auto pick = [&](int n) { return static_cast<double>(dice() % static_cast<unsigned>(n)); };
    int divided = 0;
    for (int i = 0; i < 200; ++i) {
        const double a = 5 + pick(80) / 10, b = 5 + pick(60) / 10, c = 1 + pick(40) / 10,
                     d = 1 + pick(40) / 10;
        const std::vector<std::vector<std::pair<double, double>>> all{
            {{0, 0}, {a + c, 0}, {a + c, d}, {a, d}, {a, b + d}, {0, b + d}},
            {{0, 0},
             {2 * c + a, 0},
             {2 * c + a, b + d},
             {c + a, b + d},
             {c + a, b},
             {c, b},
             {c, b + d},
             {0, b + d}},
            {{0, 0}, {a, 0}, {a, d}, {a + c, d}, {a + c, d + b}, {c, d + b}, {c, b}, {0, b}}};
        if (i % 3 == 2 && d >= b) continue;
        const auto o = outline(all[i % all.size()]);
        const auto shape =
            roof_shape(o, {.form = Roof::Form::gable, .ridge = pick(2) == 0 ? "east-west" : "north-south"});
        INFO(i << ": " << a << " " << b << " " << c << " " << d);
        if (!shape) continue;
        ++divided;
        CHECK(shape->plan == doctest::Approx(std::abs(signed_area(o))).epsilon(1e-12));
        double x = 0, y = 0, sum = 0.0;
        for (const Point& p : o) x = std::max(x, p.x.metres()), y = std::max(y, p.y.metres());
        constexpr int n = 200;
        for (int k = 0; k < n * n; ++k)
            sum += shape->level(x * (k % n + 0.5) / n, y * (k / n + 0.5) / n) * x * y / n / n;
        CHECK(shape->moment == doctest::Approx(sum).epsilon(0.015));
        for (const RoofLine& l : shape->lines) {
            CHECK(l.kind != RoofEdge::hip);
            CHECK((l.kind == RoofEdge::valley) == (l.to.level > l.from.level));
        }
    }
    CHECK(divided > 100);
}
