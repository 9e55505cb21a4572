#include "house/shading.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace warmside::house {

namespace {

constexpr double degree = std::numbers::pi / 180.0;
constexpr double south = std::numbers::pi;
const Frontage window{1.2, 1.5};

// Does the ray from a point of the window towards the sun meet the sheet? Written without shadows or
// polygons: where it meets the sheet's plane, then the sides of the sheet in turn.
bool blocked(const Screen& s, double x, double y, const Spot& sun) {
    const auto minus = [](const Spot& a, const Spot& b) {
        return Spot{a[0] - b[0], a[1] - b[1], a[2] - b[2]};
    };
    const auto cross = [](const Spot& a, const Spot& b) {
        return Spot{a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
    };
    const auto dot = [](const Spot& a, const Spot& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; };
    const Spot normal = cross(minus(s.corners[1], s.corners[0]), minus(s.corners[2], s.corners[0]));
    const double along = dot(normal, sun);
    if (std::abs(along) < 1e-12) return false;
    const Spot from{x, y, 0.0};
    const double t = dot(normal, minus(s.corners[0], from)) / along;
    if (t <= 0.0) return false;
    const Spot at{x + t * sun[0], y + t * sun[1], t * sun[2]};
    for (std::size_t i = 0; i < s.corners.size(); ++i) {
        const Spot& a = s.corners[i];
        const Spot& b = s.corners[(i + 1) % s.corners.size()];
        if (dot(normal, cross(minus(b, a), minus(at, a))) < 0.0) return false;
    }
    return true;
}

double by_rays(const std::vector<Screen>& screens, const Spot& sun) {
    constexpr int n = 300;
    int lit = 0;
    for (int i = 0; i < n; ++i)
        for (int k = 0; k < n; ++k) {
            const double x = (i + 0.5) / n * window.width, y = (k + 0.5) / n * window.height;
            bool dark = false;
            for (const Screen& s : screens) dark = dark || blocked(s, x, y, sun);
            lit += dark ? 0 : 1;
        }
    return static_cast<double>(lit) / (n * n);
}

}  // namespace

TEST_CASE("the sun in the morning stands to the right of who looks at a south wall") {
    const Spot morning = toward(120.0 * degree, 20.0 * degree, south);
    CHECK(morning[0] > 0.0);
    CHECK(morning[2] == doctest::Approx(std::cos(60.0 * degree) * std::cos(20.0 * degree)));
    CHECK(toward(0.0, 20.0 * degree, south)[2] < 0.0);
}

TEST_CASE("a wide overhang shades depth x tangent of the sun's height, by hand") {
    // 0.6 m deep, 0.3 m above the head, sun in front at 45 degrees: 0.3 m of 1.5 m dark
    const std::vector<Screen> s{overhang(window, 0.3, 0.6, 50.0, 50.0)};
    CHECK(sunlit(window, s, toward(south, 45.0 * degree, south)) ==
          doctest::Approx(1.2 / 1.5).epsilon(1e-12));
    // The sun 60 degrees aside: the shadow reaches down depth x tan h / cos(60): twice as far, 0.9 m
    CHECK(sunlit(window, s, toward(south + 60.0 * degree, 45.0 * degree, south)) ==
          doctest::Approx(0.6 / 1.5).epsilon(1e-12));
    CHECK(sunlit(window, s, toward(south, 10.0 * degree, south)) == 1.0);
    CHECK(sunlit(window, s, toward(south, 85.0 * degree, south)) == 0.0);
    CHECK(sunlit(window, s, toward(0.0, 45.0 * degree, south)) == 0.0);
}

TEST_CASE("an overhang that ends at the jambs lets the slanting sun in beside its shadow, by hand") {
    // Sun 45 degrees to the east and low enough that tan h / cos(45) = 1: the shadow moves 0.6 m to the west
    // and 0.6 m down. Overhang at the head, as wide as the window: a parallelogram (0,0) to (1.2,0), down to
    // (-0.6, -0.6); within the window 0.6 m x (1.2 + 0.6)/2 = 0.54 m2.
    const double height = std::atan(std::cos(45.0 * degree));
    const std::vector<Screen> s{overhang(window, 0.0, 0.6, 0.0, 0.0)};
    CHECK(sunlit(window, s, toward(south - 45.0 * degree, height, south)) ==
          doctest::Approx(1.0 - 0.54 / 1.8).epsilon(1e-12));
    // A fin at the eastern jamb, seen on the right: its shadow is 0.6 m wide, from (1.2, y) to (0.6, y -
    // 0.6). The two meet in the corner and share nothing but their seam: 0.54 + 0.6 x 1.5 - triangle below
    // the sill 0.18 = 1.26 m2 dark.
    const std::vector<Screen> both{s[0], right_fin(window, 0.0, 0.6, 0.0, 0.0)};
    CHECK(sunlit(window, both, toward(south - 45.0 * degree, height, south)) ==
          doctest::Approx(1.0 - 1.26 / 1.8).epsilon(1e-12));
}

TEST_CASE("shadows agree with 90000 rays, overlapping screens counted once") {
    std::mt19937 draw(7);
    const auto between = [&](double a, double b) {
        return a + (b - a) * static_cast<double>(draw()) / 4294967296.0;
    };
    for (int i = 0; i < 12; ++i) {
        const std::vector<Screen> s{
            overhang(window, between(0.0, 0.4), between(0.1, 1.2), between(0.0, 1.0), between(0.0, 1.0)),
            left_fin(window, between(0.0, 0.3), between(0.1, 0.8), between(-0.5, 0.3), between(-0.2, 0.5)),
            right_fin(window, between(0.0, 0.3), between(0.1, 0.8), between(-0.5, 0.3), between(-0.2, 0.5)),
            Screen{{{-0.5, 1.9, 0.0}, {2.0, 1.9, 0.0}, {2.0, 1.6, 0.7}, {-0.5, 1.6, 0.7}}}};  // an eave
        const Spot sun = toward(south + between(-80.0, 80.0) * degree, between(2.0, 75.0) * degree, south);
        CAPTURE(i);
        CHECK(std::abs(sunlit(window, s, sun) - by_rays(s, sun)) < 0.005);
    }
}

TEST_CASE("sky under an endless overhang: crossed strings") {
    // Two-dimensional: from a strip of wall of height h under a level sheet of depth d at its top, the sheet
    // takes (h + d - sqrt(h^2 + d^2))/(2h) of all that the strip sees (Hottel's strings, memory); the sky is
    // one half.
    const double h = window.height, d = 0.9;
    const std::vector<Screen> s{overhang(window, 0.0, d, 500.0, 500.0)};
    const double taken = (h + d - std::sqrt(h * h + d * d)) / (2.0 * h);
    CHECK(seen(window, s).sky == doctest::Approx(1.0 - taken / 0.5).epsilon(0.002));
    CHECK(seen(window, s).ground == 1.0);
    CHECK(seen(window, {}).sky == 1.0);
}

TEST_CASE("fins take as much of the sky as of the ground") {
    const std::vector<Screen> s{left_fin(window, 0.0, 0.5, 500.0, 500.0),
                                right_fin(window, 0.0, 0.5, 500.0, 500.0)};
    const auto share = seen(window, s);
    CHECK(share.sky == doctest::Approx(share.ground).epsilon(1e-12));
    // Strings again, two fins of depth d beside a strip of width w: each takes (w + d - sqrt(w^2 + d^2))/(2w)
    const double w = window.width, d = 0.5;
    CHECK(share.sky == doctest::Approx(1.0 - (w + d - std::sqrt(w * w + d * d)) / w).epsilon(0.004));
}

namespace {

using assembly::Exact;
Exact m(double metres) {
    return Exact::nearest(metres);
}

assembly::House house(assembly::Roof::Form form) {
    assembly::House h;
    const std::vector<assembly::Point> plan{{m(0), m(0)}, {m(10), m(0)}, {m(10), m(8)}, {m(0), m(8)}};
    h.storeys.push_back({.name = "main", .floor = m(0), .height = m(2.5), .outline = plan});
    const char* names[] = {"south", "east", "north", "west"};
    for (std::size_t i = 0; i < 4; ++i)
        h.faces.push_back(
            {.name = names[i], .storey = "main", .from = plan[i], .to = plan[(i + 1) % 4], .height = m(2.5)});
    h.roofs.push_back({.name = "roof",
                       .form = form,
                       .pitch = 45.0 * degree,
                       .ridge = "east-west",
                       .high_side = "south",
                       .overhang = m(0.5)});
    return h;
}

const assembly::Opening opening{
    .name = "w", .width = m(1.0), .height = m(1.0), .left = m(2.0), .sill = m(0.5)};

}  // namespace

TEST_CASE("eaves hang over the long sides of a gable roof, rakes over its ends") {
    const auto h = house(assembly::Roof::Form::gable);
    const auto south_side = roof_screens(h, h.faces[0], opening);
    REQUIRE(south_side.size() == 1);
    // From the plate 2.0 m above the sill down 0.5 m over 0.5 m; from 2.5 m left of the window's left jamb
    CHECK(south_side[0].corners[0] == Spot{-2.5, 2.0, 0.0});
    CHECK(south_side[0].corners[2][0] == doctest::Approx(8.5));
    CHECK(south_side[0].corners[2][1] == doctest::Approx(1.5));
    CHECK(south_side[0].corners[2][2] == doctest::Approx(0.5));
    const auto end = roof_screens(h, h.faces[1], opening);
    REQUIRE(end.size() == 2);
    CHECK(end[0].corners[1][0] == doctest::Approx(2.0));  // the ridge, 4 m from the corner
    CHECK(end[0].corners[1][1] == doctest::Approx(6.0));
    CHECK(end[1].corners[0][0] == doctest::Approx(6.5));
}

TEST_CASE("a shed roof: high eave, low eave, sloping ends; a hip has eaves alone") {
    const auto h = house(assembly::Roof::Form::shed);
    CHECK(roof_screens(h, h.faces[0], opening)[0].corners[2][1] == doctest::Approx(2.0 + 8.0 + 0.5));
    CHECK(roof_screens(h, h.faces[2], opening)[0].corners[2][1] == doctest::Approx(1.5));
    // Looking at the east wall north is to the right: the low end there
    const auto east = roof_screens(h, h.faces[1], opening);
    REQUIRE(east.size() == 1);
    CHECK(east[0].corners[0][0] == doctest::Approx(6.5));
    CHECK(east[0].corners[0][1] == doctest::Approx(1.5));
    CHECK(east[0].corners[1][0] == doctest::Approx(-2.5));
    CHECK(east[0].corners[1][1] == doctest::Approx(10.5));
    const auto hip = house(assembly::Roof::Form::hip);
    for (const auto& face : hip.faces) CHECK(roof_screens(hip, face, opening).size() == 1);
}

TEST_CASE("a roof below the window's storey, or without overhang, shades nothing") {
    auto h = house(assembly::Roof::Form::flat);
    h.roofs[0].overhang = m(0.0);
    CHECK(roof_screens(h, h.faces[0], opening).empty());
    auto two = house(assembly::Roof::Form::gable);
    two.storeys.push_back(
        {.name = "upper", .floor = m(2.8), .height = m(2.5), .outline = two.storeys[0].outline});
    two.roofs[0].storey = "main";
    two.faces[0].storey = "upper";
    CHECK(roof_screens(two, two.faces[0], opening).empty());
}

}  // namespace warmside::house
