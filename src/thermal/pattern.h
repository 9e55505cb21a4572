// Rows of members along one direction of the face: the piece of the pattern that repeats.
#pragma once

#include <span>
#include <vector>

#include "base/result.h"
#include "thermal/cell.h"

namespace warmside::thermal {

/// A stretch that a member takes within the piece, m from its start.
struct Stretch {
    double from = 0.0, to = 0.0;
};

struct Piece {
    double length = 0.0;                        ///< m
    bool mirrored = false;                      ///< both ends are planes of symmetry of the pattern
    std::vector<std::vector<Stretch>> members;  ///< [row], ascending, cut at the piece's ends
};

/// Half the common period between two planes of symmetry where the rows have them. Else `periods` whole
/// periods cut in the widest bay that the rows share: without symmetry a cut is not adiabatic, so a model
/// that makes it so resists a little too much (adding a plane no heat crosses can only raise R), the less the
/// more periods lie between cuts.
///
/// rows     at least one; every width below its spacing
/// Problem  unsupported: no common period within 64 members (as strips() takes it)
[[nodiscard]] Result<Piece> piece_of(std::span<const Members> rows, int periods = 1);

}  // namespace warmside::thermal
