#include "takeoff/cutting.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>

namespace {

using namespace warmside;
using takeoff::CutPlan;
using units::Exact;

Exact in(double inches) {
    return Exact::sixty_fourths_of_inch(std::llround(inches * 64.0));
}
Exact mm(std::int64_t n) {
    return Exact::millimetres(n);
}

CutPlan plan_of(std::vector<takeoff::Piece> pieces, std::vector<takeoff::Stock> stock, Exact kerf) {
    auto plan = takeoff::cut_plan("test", std::move(pieces), std::move(stock), kerf);
    REQUIRE_MESSAGE(plan.has_value(), (plan ? "" : plan.error().what));
    return std::move(*plan);
}

int sticks(const CutPlan& plan) {
    int sum = 0;
    for (const auto& pattern : plan.patterns) sum += pattern.times;
    return sum;
}

/// What must hold of any plan, whatever the pieces.
void check_plan(const CutPlan& plan) {
    std::vector<int> made(plan.pieces.size(), 0);
    std::vector<int> taken(plan.stock.size(), 0);
    double cost = 0.0;
    for (const auto& pattern : plan.patterns) {
        REQUIRE(pattern.cut.size() == plan.pieces.size());
        REQUIRE(pattern.times > 0);
        Exact used;
        int count = 0;
        for (std::size_t i = 0; i < made.size(); ++i) {
            made[i] += pattern.times * pattern.cut[i];
            used += plan.pieces[i].length * pattern.cut[i];
            count += pattern.cut[i];
        }
        CHECK(count > 0);
        CHECK(used + plan.kerf * (count - 1) <= plan.stock[pattern.stock].length);
        CHECK(pattern.rest >= Exact{});
        CHECK(used + pattern.rest <= plan.stock[pattern.stock].length);
        taken[pattern.stock] += pattern.times;
        const auto& stock = plan.stock[pattern.stock];
        cost += pattern.times * (stock.cost > 0.0 ? stock.cost : stock.length.metres());
    }
    for (std::size_t i = 0; i < made.size(); ++i) CHECK(made[i] == plan.pieces[i].count);
    for (std::size_t k = 0; k < taken.size(); ++k)
        CHECK((plan.stock[k].available < 0 || taken[k] <= plan.stock[k].available));
    CHECK(plan.cost == doctest::Approx(cost));
    CHECK(plan.bound <= plan.cost * (1.0 + 1e-9));
}

/// The cheapest plan by trying everything: pieces one after the other into each open or a new stick.
struct Exhaustive {
    std::vector<std::int64_t> pieces;
    std::vector<std::int64_t> capacity;
    std::vector<double> cost;
    std::vector<int> available;
    double best = 1e30;
    std::vector<std::pair<std::size_t, std::int64_t>> open;

    void go(std::size_t next, double so_far) {
        if (so_far >= best - 1e-9) return;
        if (next == pieces.size()) {
            best = so_far;
            return;
        }
        for (std::size_t s = 0; s < open.size(); ++s) {
            if (open[s].second < pieces[next]) continue;
            open[s].second -= pieces[next];
            go(next + 1, so_far);
            open[s].second += pieces[next];
        }
        for (std::size_t k = 0; k < capacity.size(); ++k) {
            if (capacity[k] < pieces[next] || available[k] == 0) continue;
            if (available[k] > 0) --available[k];
            open.emplace_back(k, capacity[k] - pieces[next]);
            go(next + 1, so_far + cost[k]);
            open.pop_back();
            if (available[k] >= 0) ++available[k];
        }
    }
};

double least_cost(const CutPlan& plan) {
    Exhaustive all;
    for (const auto& piece : plan.pieces)
        for (int n = 0; n < piece.count; ++n) all.pieces.push_back((piece.length + plan.kerf).count());
    for (const auto& stock : plan.stock) {
        all.capacity.push_back((stock.length + plan.kerf).count());
        all.cost.push_back(stock.cost > 0.0 ? stock.cost : stock.length.metres());
        all.available.push_back(stock.available);
    }
    all.go(0, 0.0);
    return all.best;
}

}  // namespace

// Encyclopedia article on the cutting stock problem, published example (seen): 73 bars; linear bound 72.9167.
TEST_CASE("the published cutting-stock instance is solved to its optimum and proven") {
    const std::map<int, int> demand{{1380, 22}, {1520, 25}, {1560, 12}, {1710, 14}, {1820, 18},
                                    {1880, 18}, {1930, 20}, {2000, 10}, {2050, 12}, {2100, 14},
                                    {2140, 16}, {2150, 18}, {2200, 20}};
    std::vector<takeoff::Piece> pieces;
    for (const auto& [length, count] : demand) pieces.push_back({mm(length), count, {}});
    const CutPlan plan = plan_of(pieces, {{mm(5600)}}, {});
    check_plan(plan);
    CHECK(sticks(plan) == 73);
    CHECK(plan.proven);
    CHECK(plan.bound == doctest::Approx(73 * 5.6));
}

// Panel P1 of our framing notes; 30 sticks by an integer programme of its own (computed).
TEST_CASE("the pieces of a hand-counted panel come out of thirty sticks of eight feet") {
    const CutPlan plan = plan_of({{in(93), 17, "stud"},
                                  {in(85.75), 6, "jack"},
                                  {in(60), 1, "sill"},
                                  {in(38.5), 1, "filler"},
                                  {in(36.25), 9, "cripple"},
                                  {in(36), 1, "sill"},
                                  {in(3.25), 4, "cripple"}},
                                 {{in(96)}}, in(0.125));
    check_plan(plan);
    CHECK(sticks(plan) == 30);
    CHECK(plan.proven);
}

TEST_CASE("the saw takes a kerf at each cut, none where pieces fill the stick") {
    CHECK(sticks(plan_of({{in(48), 2, {}}}, {{in(96)}}, {})) == 1);
    CHECK(sticks(plan_of({{in(48), 2, {}}}, {{in(96)}}, in(0.125))) == 2);
    CHECK(sticks(plan_of({{in(47.9375), 2, {}}}, {{in(96)}}, in(0.125))) == 1);
    CHECK(sticks(plan_of({{in(96), 3, {}}}, {{in(96)}}, in(0.125))) == 3);
    const CutPlan rest = plan_of({{in(40), 2, {}}}, {{in(96)}}, in(0.125));
    CHECK(rest.patterns.at(0).rest == in(15.75));
}

TEST_CASE("equal lengths are joined and keep their marks; nothing to cut is a plan") {
    const CutPlan plan =
        plan_of({{mm(500), 1, "A"}, {mm(900), 1, "B"}, {mm(500), 2, "C"}}, {{mm(2400)}}, mm(3));
    REQUIRE(plan.pieces.size() == 2);
    CHECK(plan.pieces[0].length == mm(900));
    CHECK(plan.pieces[1].count == 3);
    CHECK(plan.pieces[1].mark == "A, C");
    CHECK(plan_of({}, {{mm(2400)}}, mm(3)).proven);
}

TEST_CASE("a piece longer than every stick is refused by its mark") {
    const auto plan = takeoff::cut_plan("2x6", {{mm(2500), 1, "K3"}}, {{mm(2400)}}, mm(3));
    REQUIRE_FALSE(plan);
    CHECK(plan.error().code == Code::out_of_range);
    CHECK(plan.error().what == "2x6: K3 is 2500.0 mm long, the longest stick 2400.0 mm");
}

TEST_CASE("too few sticks are refused; just enough are used") {
    const std::vector<takeoff::Piece> pieces{{mm(1000), 4, {}}};
    CHECK_FALSE(takeoff::cut_plan("few", pieces, {{mm(2400), 0.0, 1}}, mm(3)));
    CHECK_FALSE(takeoff::cut_plan("few", {{mm(1300), 3, {}}}, {{mm(2400), 0.0, 2}}, mm(3)));
    const CutPlan plan = plan_of(pieces, {{mm(2400), 0.0, 1}, {mm(5400), 9.0, -1}}, mm(3));
    check_plan(plan);
    CHECK(plan.cost == doctest::Approx(9.0));
}

TEST_CASE("a stopped plan says so") {
    StopSource source;
    source.stop();
    Control control;
    control.stop = source.token();
    const auto plan = takeoff::cut_plan("2x4", {{mm(1000), 4, {}}}, {{mm(2400)}}, mm(3), control);
    REQUIRE_FALSE(plan);
    CHECK(plan.error().code == Code::stopped);
}

TEST_CASE("small random plans cost what trying everything finds, and say they are proven") {
    std::mt19937 random(7);
    const auto draw = [&](int from, int to) {
        return from + static_cast<int>(random() % static_cast<unsigned>(to - from + 1));
    };
    int unproven = 0;
    for (int round = 0; round < 300; ++round) {
        std::vector<takeoff::Piece> pieces;
        int left = draw(1, 8);
        // Inches and millimetres mixed in a third of the rounds.
        const bool mixed = round % 3 == 0;
        while (left > 0) {
            const int count = draw(1, std::min(left, 4));
            pieces.push_back(
                {mixed && draw(0, 1) ? in(draw(200, 4000) / 64.0 * 2) : mm(draw(150, 2300)), count, {}});
            left -= count;
        }
        std::vector<takeoff::Stock> stock{{mm(2440), 0.0, draw(0, 3) == 0 ? draw(1, 3) : -1}};
        if (draw(0, 1)) stock.push_back({mm(3660), draw(0, 1) ? 0.0 : 3.5, -1});
        stock.push_back({mm(4880), 0.0, -1});
        if (std::any_of(pieces.begin(), pieces.end(), [](const auto& p) { return p.length > mm(4800); }))
            continue;
        const CutPlan plan = plan_of(pieces, stock, draw(0, 1) ? mm(3) : Exact{});
        check_plan(plan);
        const double least = least_cost(plan);
        CHECK(plan.bound <= least * (1.0 + 1e-9));
        if (plan.proven) CHECK(plan.cost == doctest::Approx(least).epsilon(1e-9));
        unproven += plan.proven ? 0 : 1;
    }
    CHECK(unproven == 0);
}

// Tolerances of the linear programme are absolute: costs that are very small or large must not reach it.
TEST_CASE("a plan does not depend on the unit of money") {
    std::mt19937 random(5);
    std::vector<takeoff::Piece> pieces;
    for (int n = 0; n < 14; ++n)
        pieces.push_back(
            {mm(300 + static_cast<int>(random() % 2500)), 1 + static_cast<int>(random() % 9), {}});
    const auto priced = [&](double unit) {
        return plan_of(pieces, {{mm(2440), 7.0 * unit}, {mm(3660), 10.0 * unit}, {mm(4880), 13.0 * unit, 9}},
                       mm(3));
    };
    const CutPlan plain = priced(1.0);
    check_plan(plain);
    for (const double unit : {1e-7, 1e-4, 1e4, 1e9}) {
        const CutPlan other = priced(unit);
        check_plan(other);
        CHECK(other.cost == doctest::Approx(plain.cost * unit).epsilon(1e-9));
        CHECK(other.bound == doctest::Approx(plain.bound * unit).epsilon(1e-6));
        CHECK(other.proven == plain.proven);
    }
}

// By hand: sticks of 2403, 3606 and 4809 mm hold two, three and four pieces of 1200 mm and the cuts between.
TEST_CASE("few cheap sticks are used up to what is there, the rest comes from the others") {
    const CutPlan plan =
        plan_of({{mm(1200), 12, {}}}, {{mm(2403), 1.0, 2}, {mm(3606), 10.0, 2}, {mm(4809), 20.0, -1}}, mm(3));
    check_plan(plan);
    // 2 a + 3 b + 4 c = 12 with a, b <= 2: one, two and one, 1 + 20 + 20; next best are two, none and
    // two, 42.
    CHECK(plan.cost == doctest::Approx(41.0));
    CHECK(plan.proven);
}

TEST_CASE("the same pieces give the same plan") {
    std::mt19937 random(3);
    std::vector<takeoff::Piece> pieces;
    for (int n = 0; n < 40; ++n)
        pieces.push_back({mm(300 + static_cast<int>(random() % 3000)), 1 + n % 5, {}});
    const std::vector<takeoff::Stock> stock{{mm(3600)}, {mm(4200)}, {mm(5400)}};
    const CutPlan first = plan_of(pieces, stock, mm(3)), again = plan_of(pieces, stock, mm(3));
    check_plan(first);
    REQUIRE(first.patterns.size() == again.patterns.size());
    for (std::size_t p = 0; p < first.patterns.size(); ++p) {
        CHECK(first.patterns[p].cut == again.patterns[p].cut);
        CHECK(first.patterns[p].times == again.patterns[p].times);
    }
    CHECK(first.gap() < 0.01);
}
