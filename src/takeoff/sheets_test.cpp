#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "takeoff/cutting.h"

namespace {

using namespace warmside;
using takeoff::Rectangle;
using takeoff::SheetPlan;
using units::Exact;

Exact mm(std::int64_t n) {
    return Exact::millimetres(n);
}
Exact in(std::int64_t n) {
    return Exact::sixty_fourths_of_inch(n * 64);
}

struct Cut {
    std::int64_t left, low, right, high;
};

/// True when straight cuts through can part all pieces of a sheet, the saw's kerf between them.
bool parts_by_through_cuts(const std::vector<Cut>& pieces, std::int64_t kerf) {
    if (pieces.size() <= 1) return true;
    for (const bool across : {false, true}) {
        for (const Cut& candidate : pieces) {
            const std::int64_t at = across ? candidate.high : candidate.right;
            std::vector<Cut> before, after;
            bool clean = true;
            for (const Cut& piece : pieces) {
                const std::int64_t low = across ? piece.low : piece.left;
                const std::int64_t high = across ? piece.high : piece.right;
                if (high <= at)
                    before.push_back(piece);
                else if (low >= at + kerf)
                    after.push_back(piece);
                else
                    clean = false;
            }
            if (clean && !after.empty() && parts_by_through_cuts(before, kerf) &&
                parts_by_through_cuts(after, kerf))
                return true;
        }
    }
    return false;
}

void check_plan(const SheetPlan& plan) {
    std::vector<int> made(plan.pieces.size(), 0);
    std::vector<std::vector<Cut>> sheets(plan.sheets);
    for (const auto& placed : plan.placed) {
        REQUIRE(placed.sheet < plan.sheets);
        const Rectangle& piece = plan.pieces.at(placed.piece);
        CHECK((!placed.turned || piece.may_turn));
        const Exact width = placed.turned ? piece.height : piece.width;
        const Exact height = placed.turned ? piece.width : piece.height;
        CHECK(placed.x >= Exact{});
        CHECK(placed.y >= Exact{});
        CHECK(placed.x + width <= plan.sheet_width);
        CHECK(placed.y + height <= plan.sheet_height);
        ++made[placed.piece];
        sheets[placed.sheet].push_back(
            {placed.x.count(), placed.y.count(), (placed.x + width).count(), (placed.y + height).count()});
    }
    for (std::size_t i = 0; i < made.size(); ++i) CHECK(made[i] == plan.pieces[i].count);
    const std::int64_t kerf = plan.kerf.count();
    for (const auto& sheet : sheets) {
        CHECK_FALSE(sheet.empty());
        for (std::size_t a = 0; a < sheet.size(); ++a)
            for (std::size_t b = a + 1; b < sheet.size(); ++b)
                CHECK((sheet[a].right + kerf <= sheet[b].left || sheet[b].right + kerf <= sheet[a].left ||
                       sheet[a].high + kerf <= sheet[b].low || sheet[b].high + kerf <= sheet[a].low));
        CHECK(parts_by_through_cuts(sheet, kerf));
    }
    CHECK(plan.bound <= static_cast<double>(plan.sheets));
    CHECK(plan.used <= 1.0 + 1e-12);
}

SheetPlan plan_of(std::vector<Rectangle> pieces, Exact width, Exact height, Exact kerf = {}) {
    auto plan = takeoff::sheet_plan("test", std::move(pieces), width, height, kerf);
    REQUIRE(plan);
    check_plan(*plan);
    return std::move(*plan);
}

}  // namespace

TEST_CASE("pieces that tile a sheet come out of it, as counted by hand") {
    CHECK(plan_of({{in(24), in(48), 4}}, in(48), in(96)).sheets == 1);
    CHECK(plan_of({{in(48), in(96), 7}}, in(48), in(96), mm(3)).sheets == 7);
    // Halves of 47 15/16 in leave the saw its 1/8 in; halves of 48 in do not.
    CHECK(plan_of({{in(48), Exact::sixty_fourths_of_inch(48 * 64 - 4), 2}}, in(48), in(96),
                  Exact::sixty_fourths_of_inch(8))
              .sheets == 1);
    CHECK(plan_of({{in(48), in(48), 2}}, in(48), in(96), Exact::sixty_fourths_of_inch(8)).sheets == 2);
    // 3 x 2 and 2 x 3 about a 5 x 5 sheet: two of each and one of 1 x 1 would need a pinwheel, which no
    // through cut parts; without the middle piece 24 of 25 stay, four pieces, two sheets.
    CHECK(plan_of({{mm(300), mm(200), 2}, {mm(200), mm(300), 2}}, mm(500), mm(500)).sheets == 2);
    CHECK(plan_of({{mm(300), mm(200), 4, true}, {mm(500), mm(100), 1}}, mm(600), mm(500)).sheets == 1);
}

TEST_CASE("a piece turns only where it may") {
    CHECK(plan_of({{in(96), in(24), 2, true}}, in(48), in(96)).sheets == 1);
    const auto refused = takeoff::sheet_plan("osb", {{in(96), in(24), 2, false, "S4"}}, in(48), in(96), {});
    REQUIRE_FALSE(refused);
    CHECK(refused.error().code == Code::out_of_range);
    CHECK(refused.error().what.find("S4") != std::string::npos);
}

TEST_CASE("nothing to cut needs no sheet, a sheet needs a size, a stop is heard") {
    CHECK(takeoff::sheet_plan("none", {}, in(48), in(96), {})->sheets == 0);
    CHECK_FALSE(takeoff::sheet_plan("none", {}, in(0), in(96), {}));
    StopSource source;
    source.stop();
    Control control;
    control.stop = source.token();
    CHECK(takeoff::sheet_plan("osb", {{in(24), in(24), 1}}, in(48), in(96), {}, control).error().code ==
          Code::stopped);
}

TEST_CASE("random pieces: inside, apart by the kerf, all made, cut through, near the area they need") {
    std::mt19937 random(11);
    double used = 0.0;
    const int rounds = 60;
    for (int round = 0; round < rounds; ++round) {
        std::vector<Rectangle> pieces;
        const int kinds = 1 + static_cast<int>(random() % 12);
        for (int n = 0; n < kinds; ++n)
            pieces.push_back({mm(50 + static_cast<int>(random() % 1150)),
                              mm(50 + static_cast<int>(random() % 2300)),
                              1 + static_cast<int>(random() % 4),
                              random() % 2 == 0,
                              {}});
        used += plan_of(pieces, mm(1220), mm(2440), mm(3)).used;
    }
    MESSAGE("mean share of the sheets used by random pieces: " << used / rounds);
}
