#include "thermal/cell.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>

using namespace warmside;
using namespace warmside::thermal;
using units::Exact;

namespace {

constexpr Exact inch = Exact::sixty_fourths_of_inch(64);
constexpr Exact half_inch = Exact::sixty_fourths_of_inch(32);

Members studs(Exact spacing, Exact offset = {}) {
    return {.width = inch + half_inch, .spacing = spacing, .offset = offset};
}

Ply framed(double fill, double member, Members m, Ply::Run run = Ply::Run::vertical, bool structural = true) {
    return {.fill = fill, .member = member, .run = run, .members = m, .structural = structural};
}

// The insulated timber-frame wall of the reference checks, outside to inside.
Cell timber_wall(double share) {
    Cell cell{.inside_film = 0.13, .outside_film = 0.04};
    const Members m{.width = Exact::millimetres(static_cast<std::int64_t>(share * 1000)),
                    .spacing = Exact::millimetres(1000),
                    .offset = {}};
    cell.plies = {Ply{.fill = 0.05}, framed(3.684, 1.077, m), Ply{.fill = 0.077}, Ply{.fill = 0.18},
                  Ply{.fill = 0.132}};
    return cell;
}

double share_where(const std::vector<Strip>& all, std::vector<bool> framed) {
    for (const Strip& s : all) {
        if (s.framed == framed) return s.share;
    }
    return 0.0;
}

}  // namespace

TEST_CASE("the timber-frame wall of the reference comes out: 3.485, 3.312, 3.398") {
    // reference iso6946-combined-timber, computed independently
    const auto both = limits(timber_wall(0.15));
    REQUIRE(both);
    CHECK(both->upper == doctest::Approx(3.485).epsilon(0.0006));
    CHECK(both->lower == doctest::Approx(3.312).epsilon(0.0006));
    CHECK(both->combined() == doctest::Approx(3.398).epsilon(0.0006));
}

TEST_CASE("without framing both limits are the sum of resistances") {
    Cell cell{.inside_film = 0.13, .outside_film = 0.04};
    cell.plies = {Ply{.fill = 1.0}, Ply{.fill = 2.0}};
    CHECK(limits(cell)->upper == doctest::Approx(3.17).epsilon(1e-14));
    CHECK(limits(cell)->lower == doctest::Approx(3.17).epsilon(1e-14));
}

TEST_CASE("lower limit <= upper limit <= bay for thousands of random cells, and order does not matter") {
    std::mt19937 random(7);  // a fixed seed: the same cells every time
    std::uniform_real_distribution<double> r(0.05, 6.0);
    std::uniform_int_distribution<int> kind(0, 2), mm(200, 900), width(30, 120);
    for (int n = 0; n < 2000; ++n) {
        Cell cell{.inside_film = 0.13, .outside_film = 0.04};
        for (int i = 0; i < 5; ++i) {
            const auto run = static_cast<Ply::Run>(kind(random));
            const double fill = r(random);
            const Members m{.width = Exact::millimetres(width(random)),
                            .spacing = Exact::millimetres(100 * (mm(random) / 100)),
                            .offset = Exact::millimetres(mm(random))};
            cell.plies.push_back(framed(fill, 0.05 + 0.9 * fill * r(random) / 6.0, m, run, i % 2 == 0));
        }
        cell.plates = n % 3 == 0 ? 0.1 : 0.0;
        const auto both = limits(cell);
        REQUIRE(both);
        REQUIRE(both->lower <= both->upper * (1 + 1e-12));
        REQUIRE(both->lower <= both->combined() * (1 + 1e-12));
        REQUIRE(both->combined() <= both->upper * (1 + 1e-12));
        Cell turned = cell;
        std::reverse(turned.plies.begin(), turned.plies.end());
        REQUIRE(limits(turned)->upper == doctest::Approx(both->upper).epsilon(1e-12));
        REQUIRE(limits(turned)->lower == doctest::Approx(both->lower).epsilon(1e-12));
    }
}

TEST_CASE("aligned studs in two rows line up, studs offset by half a bay never meet") {
    const auto aligned = strips(std::array{studs(inch * 16), studs(inch * 16)});
    CHECK(share_where(aligned, {true, true}) == doctest::Approx(1.5 / 16));
    CHECK(share_where(aligned, {true, false}) == 0.0);
    const auto offset = strips(std::array{studs(inch * 16), studs(inch * 16, inch * 8)});
    CHECK(share_where(offset, {true, true}) == 0.0);
    CHECK(share_where(offset, {false, true}) == doctest::Approx(1.5 / 16));
}

TEST_CASE("studs at 16 in and battens at 24 in meet every 48 in") {
    const auto both = strips(std::array{studs(inch * 16), studs(inch * 24)});
    CHECK(share_where(both, {true, true}) == doctest::Approx(1.5 / 48));
    CHECK(share_where(both, {true, false}) == doctest::Approx(2 * 1.5 / 48));
    CHECK(share_where(both, {false, true}) == doctest::Approx(1.5 / 48));
}

TEST_CASE("spacings without a common period are independent") {
    const auto both = strips(std::array{studs(inch * 16), studs(Exact::millimetres(457))});
    CHECK(share_where(both, {true, true}) == doctest::Approx(1.5 / 16 * 38.1 / 457).epsilon(1e-12));
}

TEST_CASE("shares of strips sum to 1, and each member keeps its own share") {
    const std::array members{studs(inch * 16, inch * 3), studs(inch * 24), studs(Exact::millimetres(600))};
    const auto all = strips(members);
    for (std::size_t i = 0; i < members.size(); ++i) {
        double sum = 0.0, own = 0.0;
        for (const Strip& s : all) {
            sum += s.share;
            if (s.framed[i]) own += s.share;
        }
        CHECK(sum == doctest::Approx(1.0).epsilon(1e-12));
        CHECK(own == doctest::Approx(members[i].share()).epsilon(1e-12));
    }
}

TEST_CASE("crossing furring meets studs on the product of both shares") {
    Cell cell{.inside_film = 0.1, .outside_film = 0.1};
    cell.plies = {framed(2.0, 0.5, studs(inch * 16), Ply::Run::horizontal),
                  framed(4.0, 1.0, studs(inch * 24))};
    const double h = 1.5 / 16, v = 1.5 / 24;
    const double u = (1 - h) * (1 - v) / 6.2 + h * (1 - v) / 4.7 + (1 - h) * v / 3.2 + h * v / 1.7;
    CHECK(limits(cell)->upper == doctest::Approx(1 / u).epsilon(1e-12));
}

TEST_CASE("plates lift the framed share of structural plies to the wanted fraction") {
    // s = 1.5/16, F = 0.25: P = (F - s)/(1 - s); the same wall with 25 % studs has the same limits
    Cell cell{.inside_film = 0.13, .outside_film = 0.04};
    cell.plies = {framed(3.684, 1.077, studs(inch * 16)), Ply{.fill = 0.4}};
    cell.plates = (0.25 - 1.5 / 16) / (1 - 1.5 / 16);
    Cell wide = cell;
    wide.plates = 0.0;
    wide.plies[0].members.width = inch * 4;
    CHECK(limits(cell)->upper == doctest::Approx(limits(wide)->upper).epsilon(1e-12));
    CHECK(limits(cell)->lower == doctest::Approx(limits(wide)->lower).epsilon(1e-12));
}

TEST_CASE("wrong cells are refused") {
    Cell cell{.inside_film = 0.13, .outside_film = 0.04};
    CHECK(limits(cell));
    cell.plies = {framed(2.0, 0.0, studs(inch * 16))};
    CHECK(limits(cell).error().code == Code::out_of_range);
    cell.plies = {framed(2.0, 0.5, studs(inch))};
    CHECK_FALSE(limits(cell));
    cell.plies = {Ply{.fill = -1.0}};
    CHECK_FALSE(limits(cell));
    cell.plies = {Ply{.fill = std::numeric_limits<double>::quiet_NaN()}};
    CHECK_FALSE(limits(cell));
    cell.plies.clear();
    cell.plates = 1.0;
    CHECK_FALSE(limits(cell));
    CHECK_FALSE(limits(Cell{}));
}
