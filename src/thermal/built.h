// Built R: the whole face of the house with all members and junctions.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "thermal/junction.h"
#include "thermal/worth.h"

namespace warmside::thermal {

/// What junctions add to the transmittance of a wall, W/(m2 K).
struct BuiltParts {
    double wood =
        0.0;  ///< plates, headers, corner studs and the like: sum of (psi - psi without members) l / A
    double place = 0.0;  ///< the rest: geometry, ground, frames; sum of psi without members l / A
};

/// All of them count for the wall, whole: corners, partitions, rims and ledgers, edges of openings, sills,
/// eaves and gables, none for the neighbour.
///
/// area  m2, of the wall without openings, internal dimensions; above 0
[[nodiscard]] BuiltParts built_parts(std::span<const Junction> junctions, double area);

/// Sets built R and the last two treads of the stair, which then ends at it:
///
///   U_built = U_field + sum of psi_internal l / A     (ISO 14683, internal dimensions; evidence: memory)
///
/// U_field is clear-field U, with the share of the placed members that belong to no junction where the walls
/// are framed. "plates and headers" is then what they add and the wood of the junctions, in place of the
/// framing fraction, so that no member counts twice; face R keeps the published fraction and is not part of
/// the stair.
void complete(Worth& worth, std::span<const Junction> junctions, double area);

/// sum of psi_internal l, W/K.
[[nodiscard]] double junction_heat(std::span<const Junction> junctions);

/// How built R came about; path "built_r" and one "junctions/<name>" each, with the details
/// of the house file that its drawing rests on.
[[nodiscard]] std::vector<Derivation> derive_built(const Worth& worth, std::span<const Junction> junctions,
                                                   double area, const assembly::Details& details);

}  // namespace warmside::thermal
