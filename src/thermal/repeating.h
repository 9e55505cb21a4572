// The repeating cell of an assembly, solved in two or three dimensions: clear-field U.
#pragma once

#include "assembly/assembly.h"
#include "conduction/steady.h"
#include "thermal/layering.h"

namespace warmside::thermal {

/// Which members stand in the cell: none, those that carry load, all.
enum class Include { fills, structural, all };

struct RepeatingCell {
    conduction::Model model;  ///< x along the wall, y up it (or z), inside to outside along the remaining
                              ///< axis; see repeating.cpp
    double area = 0.0;        ///< m2 (2D: m) of face that the model covers
};

/// The smallest piece of the face that repeats: half a period between planes of symmetry where members of one
/// direction are alike, a whole common period where spacings or offsets differ. Horizontal members cross
/// vertical ones: 3D. Layers, films and conductivities are those of `states`; what does not count is left
/// out. Problem  unsupported: members of one direction without a common period within the limit (the caller
/// falls back)
[[nodiscard]] Result<RepeatingCell> repeating_cell(const assembly::Assembly& assembly, const States& states,
                                                   Include include);

struct CellValue {
    double u = 0.0;      ///< W/(m2 K), before point fasteners
    double error = 0.0;  ///< relative
    bool solid = false;  ///< solved in 3D
    std::size_t cells = 0;
};
[[nodiscard]] Result<CellValue> cell_u(const assembly::Assembly& assembly, const States& states,
                                       Include include, const conduction::SteadyOptions& options = {},
                                       const Control& control = {});

/// chi of one fastener, W/K: axisymmetric cell of the area that one fastener serves, with it less without it.
[[nodiscard]] Result<double> fastener_chi(const assembly::Assembly& assembly, const States& states,
                                          const conduction::SteadyOptions& options = {});

}  // namespace warmside::thermal
