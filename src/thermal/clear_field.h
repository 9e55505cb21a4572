// Clear-field U: the repeating cell with its fasteners, and how the handbook values compare.
#pragma once

#include "base/stop.h"
#include "thermal/repeating.h"
#include "thermal/worth.h"

namespace warmside::thermal {

/// Clear-field U in its parts, W/(m2 K).
struct ClearField {
    double studs_u = 0.0;  ///< structural members only
    CellValue cell;        ///< all members
    std::vector<FastenerWorth> fasteners;
    double fastener_u = 0.0;      ///< sum of n chi
    double fastener_error = 0.0;  ///< of that, W/(m2 K)
    double void_u = 0.0;          ///< air voids, ISO 6946 annex F in full: the cell knows none
    [[nodiscard]] double u() const { return cell.u + fastener_u + void_u; }
    [[nodiscard]] double error() const { return (cell.error * cell.u + fastener_error) / u(); }  ///< relative
};

/// Two cells at most (one where every member is structural), and one cylinder a layer with fasteners. One
/// thread.
///
/// bay      m2 K/W, R_T,h of the element without members, films included: for the voids
/// Problem  those of cell_u and fastener_chi: the caller falls back on ISO 6946; stopped
[[nodiscard]] Result<ClearField> clear_field(const assembly::Assembly& assembly, const States& winter,
                                             double bay, const Control& control = {});

/// Delta U of a layer's fasteners by ISO 6946 annex F, before its 3 % rule, W/(m2 K); bay as clear_field().
[[nodiscard]] Result<double> iso_fasteners(const assembly::Layer& layer, const LayerState& state, double bay);

/// "3D conduction over the repeating cell, error at most 0.07 %; screws by chi".
[[nodiscard]] std::string method_of(const ClearField& field);

/// "ISO 6946 reads R-29.8 (5.25 m2 K/W), 1.2 % higher: ..." for a Worth with its cell and ISO figures.
[[nodiscard]] std::string iso_words(const Worth& worth);
/// The handbook's parallel path and isothermal planes beside clear-field R, and why they differ.
[[nodiscard]] std::string handbook_words(const Worth& worth);
/// What a fastener costs by its cylinder and by ISO 6946.
[[nodiscard]] std::string fastener_words(const FastenerWorth& fastener, const std::string& layer);

}  // namespace warmside::thermal
