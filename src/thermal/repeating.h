// The repeating cell of an assembly, solved in two or three dimensions: clear-field U.
#pragma once

#include "assembly/assembly.h"
#include "conduction/steady.h"
#include "thermal/layering.h"

namespace warmside::thermal {

/// Which members stand in the cell: none, those that carry load, all.
enum class Include { fills, structural, all };

struct RepeatingCell {
    conduction::Model model;  ///< environments 0 inside, 1 outside. y from inside to outside, 0 at the inner
                              ///< face; x along the face, across the members (2D) or across the vertical ones
                              ///< (3D); z up the face, across the horizontal ones (3D)
    double area = 0.0;        ///< m2 (2D: m) of face that the model covers
    bool mirrored = true;     ///< every side plane is one of symmetry, so that no heat crosses it
};

/// Inside and outside air at the temperatures of `states` (20 and 0 degC where it has none), and how deep
/// either is drawn, m: only its film counts.
[[nodiscard]] std::vector<conduction::Environment> environments_of(const States& states);
inline constexpr double drawn_air = 0.05;

/// One slice of the face as the cell has it, inside to outside.
struct Band {
    std::size_t layer = 0;   ///< index into Assembly::layers
    double thickness = 0.0;  ///< m
    double fill = 0.0;       ///< W/(m K): thickness over the resistance that counts
    double member = 0.0;     ///< W/(m K); 0 without members
    Ply::Run run = Ply::Run::none;
    Members members;  ///< read with members only
};

/// What counts of an assembly, in slices: what lies outside a ventilated layer is left out, what counts by
/// half has half the resistance, air conducts d/R, a membrane is nothing. Joists and trusses come in the
/// parts of assembly::slices: flange, web, flange; a truss web as a plate through the whole length, narrower
/// by its share of the length (the pitch of webs is not in the data).
[[nodiscard]] std::vector<Band> bands_of(const assembly::Assembly& assembly, const States& states,
                                         Include include);

/// The smallest piece of the face that repeats: half a period between planes of symmetry where the rows of
/// members of one direction have them (the same spacing and offset, or half a spacing apart), else `periods`
/// whole common periods cut in the widest bay (pattern.h). Horizontal members cross vertical ones: 3D; how
/// they are offset does not matter then. Layers, films and conductivities are those of `states`.
///
/// Problem  unsupported: members of one direction without a common period within 64 members (the caller
///          falls back), or no member at all (the layers add up, there is nothing to solve); out_of_range:
///          a layer that counts without a resistance
[[nodiscard]] Result<RepeatingCell> repeating_cell(const assembly::Assembly& assembly, const States& states,
                                                   Include include, int periods = 1);

struct CellValue {
    double u = 0.0;      ///< W/(m2 K), before point fasteners
    double error = 0.0;  ///< relative
    int dimensions = 1;  ///< 1: nothing is framed, the layers add up
    bool bound = true;   ///< error is a bound, not an estimate
    std::size_t cells = 0;
};

/// U of the repeating cell, films included. Without members the sum of the layers, with no solve.
/// Problem  those of repeating_cell and conduction::steady
[[nodiscard]] Result<CellValue> cell_u(const assembly::Assembly& assembly, const States& states,
                                       Include include, const conduction::SteadyOptions& options = {},
                                       const Control& control = {});

/// The cylinder that one fastener of a layer serves, about its axis: x the radius up to sqrt(1/(pi n)), y
/// from inside to outside.
///
/// The screw crosses its layer and whatever lies between it and the framing behind, and stands 38 mm (1 1/2
/// in) deep in the member there (assumed: the house file does not say it); without framing behind, 38 mm deep
/// in what lies there. Outside of its layer it passes through a batten where the next layer has some. The
/// member and the batten are posts as round as the member is wide. All other framing is left out.
/// `fastener` false: the same without the screw.
/// Problem  out_of_range: the layer has no fasteners or does not count
[[nodiscard]] Result<RepeatingCell> fastener_cell(const assembly::Assembly& assembly, const States& states,
                                                  std::size_t layer, bool fastener);

struct FastenerChi {
    double chi = 0.0;    ///< W/K of one
    double error = 0.0;  ///< W/K
};

/// chi of one fastener of a layer: the cylinder with it less the cylinder without it.
/// Problem  those of fastener_cell and conduction::steady
[[nodiscard]] Result<FastenerChi> fastener_chi(const assembly::Assembly& assembly, const States& states,
                                               std::size_t layer,
                                               const conduction::SteadyOptions& options = {},
                                               const Control& control = {});

}  // namespace warmside::thermal
