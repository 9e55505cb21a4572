// Which pieces come out of which stick or sheet.
#pragma once

#include <string>
#include <vector>

#include "base/origin.h"
#include "base/result.h"
#include "base/stop.h"
#include "units/quantity.h"

namespace warmside::takeoff {

using units::Exact;

struct Piece {
    Exact length;
    int count = 1;
    std::string mark;  ///< where it goes
};
struct Stock {
    Exact length;
    double cost = 0.0;   ///< of one stick; 0: its length
    int available = -1;  ///< -1: as many as needed
};
/// One way to cut a stick, `times` over. cut[i] pieces of the i-th length.
struct Pattern {
    std::size_t stock = 0;
    std::vector<int> cut;
    int times = 0;
    Exact rest;
};
struct CutPlan {
    std::string name;           ///< "2x6 spruce-pine-fir No. 2"
    std::vector<Piece> pieces;  ///< distinct lengths, longest first
    std::vector<Stock> stock;
    Exact kerf;
    std::vector<Pattern> patterns;
    double cost = 0.0, bound = 0.0;  ///< of the plan; no plan can be below `bound`
    bool proven = false;             ///< cost == bound within rounding
    [[nodiscard]] double gap() const { return cost > 0.0 ? (cost - bound) / cost : 0.0; }
};

/// The cheapest set of sticks for all pieces: patterns by column generation, the integer programme by a
/// library's branch and bound; what is left open is the gap. Deterministic.
///
/// Problem  out_of_range (a piece longer than every stick, with its mark), not_converged, stopped
/// Source   Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963) (evidence: memory)
/// Check    proof/takeoff/cutting.toml: a published instance with known optimum
[[nodiscard]] Result<CutPlan> cut_plan(std::string name, std::vector<Piece> pieces, std::vector<Stock> stock,
                                       Exact kerf, const Control& control = {});

struct Rectangle {
    Exact width, height;
    int count = 1;
    bool may_turn = false;
    std::string mark;
};
struct PlacedRectangle {
    std::size_t sheet = 0, piece = 0;
    Exact x, y;
    bool turned = false;
};
struct SheetPlan {
    std::string name;
    Exact sheet_width, sheet_height, kerf;
    std::vector<Rectangle> pieces;
    std::vector<PlacedRectangle> placed;
    std::size_t sheets = 0;
    double bound = 0.0;  ///< sheets, by area: no plan can need fewer
    double used = 0.0;   ///< share of the sheets' area
};
/// A good plan of straight cuts through (guillotine); not proven best.
[[nodiscard]] Result<SheetPlan> sheet_plan(std::string name, std::vector<Rectangle> pieces, Exact width,
                                           Exact height, Exact kerf, const Control& control = {});

}  // namespace warmside::takeoff
