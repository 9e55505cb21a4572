// How many batts fill given bays, whole and cut.
#pragma once

#include <vector>

#include "takeoff/bays.h"
#include "takeoff/packages.h"

namespace warmside::takeoff {

/// Batts of one size in bays.
struct BattPlan {
    PackageSize size;
    std::size_t bays = 0;      ///< that hold a piece
    std::size_t whole = 0;     ///< batts that go in as they come
    std::size_t cut = 0;       ///< pieces cut to width or length
    std::size_t cut_from = 0;  ///< batts that these come from
    double bound = 0.0;        ///< batts by the area of all pieces: no cutting needs fewer
    [[nodiscard]] std::size_t batts() const { return whole + cut_from; }
};

/// Fills bays with batts of one size, by `rule`: a batt goes in whole where it is at most `squeeze` wider
/// than its bay; a narrower bay takes pieces of its width and `friction` more, a wider one batts side by
/// side; one batt follows the other along the bay and the last is cut. Bays and ends under `least` are
/// stuffed with scraps. The pieces come out of whole batts in rows across the batt, the longest first, each
/// in the first row or batt with room; offcuts serve again. Not proven least: `bound` tells.
///
/// Source  common practice; rows by first fit, decreasing (textbook heuristic, memory)
[[nodiscard]] BattPlan fill_with_batts(const std::vector<Bay>& bays, const PackageSize& size,
                                       const BattRule& rule);

/// The narrowest batt that fills a bay; the widest where none does; null without sizes.
[[nodiscard]] const PackageSize* batt_for(const std::vector<PackageSize>& sizes, Exact bay);

}  // namespace warmside::takeoff
