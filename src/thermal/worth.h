// What an assembly is worth: label R, clear-field R, code U, the R stair.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/origin.h"
#include "base/stop.h"
#include "conduction/periodic.h"
#include "framing/frame.h"

namespace warmside::thermal {

/// Winter conditions for conductivities and air layers. The code way uses 24 degC conductivity.
struct Conditions {
    double inside = 294.15;   ///< K
    double outside = 263.15;  ///< K, January mean of the place unless stated
};

/// One layer along the bay path (and along the framing path where there is framing).
struct LayerWorth {
    std::string title;
    double thickness = 0.0;                    ///< m
    double conductivity = 0.0;                 ///< W/(m K) as used; 0 for air and membranes
    double mean_temperature = 0.0;             ///< K
    double resistance = 0.0;                   ///< m2 K/W, bay
    std::optional<double> framing_resistance;  ///< m2 K/W, through the member
    double framing_share = 0.0;                ///< of the layer's area, repeating members only
    double label = 0.0;                        ///< m2 K/W counted in label R
    Origin origin;                             ///< of the conductivity
    std::string note;  ///< "as still air, ISO 6946", "not counted: outside a ventilated layer"
};

/// One tread of the R stair. R and U after the tread; changes sum exactly. The order is fixed:
/// label, boards, air spaces, films, temperature, studs, furring, fasteners (here stands clear-field R),
/// plates and headers (here stands face R), junctions. Plates come after furring so that clear-field R is a
/// tread.
struct Tread {
    std::string name;                ///< as in the list above
    std::string words;               ///< "studs take away R-3.1"
    std::optional<double> r_change;  ///< m2 K/W; nothing when not computed yet (junctions)
    double r_after = 0.0;            ///< m2 K/W
    double u_after = 0.0;            ///< W/(m2 K)
};

/// Fasteners through one layer.
struct FastenerWorth {
    std::size_t layer = 0;  ///< index into Assembly::layers
    double per_area = 0.0;  ///< 1/m2
    double chi = 0.0;       ///< W/K of one, by an axisymmetric cell
    double iso_u = 0.0;     ///< W/(m2 K), ISO 6946 annex F, before its 3 % rule
};

struct Worth {
    double thickness = 0.0;     ///< m
    double label_r = 0.0;       ///< m2 K/W
    double upper_r = 0.0;       ///< ISO 6946 R'_T
    double lower_r = 0.0;       ///< ISO 6946 R''_T
    double parallel_r = 0.0;    ///< handbook parallel path
    double isothermal_r = 0.0;  ///< handbook isothermal planes
    double iso_clear_r = 0.0;   ///< m2 K/W, ISO 6946 combined value with correction_u: a second opinion
    double clear_r = 0.0;       ///< m2 K/W, repeating members and fasteners
    double clear_u = 0.0;       ///< W/(m2 K)
    int clear_dimensions = 0;   ///< of the cell: 1 (nothing is framed), 2, 3; 0: no cell, ISO 6946 instead
    double clear_error = 0.0;   ///< relative, of clear_u: cell and fasteners
    std::size_t clear_cells = 0;
    double cell_u = 0.0;      ///< W/(m2 K), of the cell before fasteners and air voids
    double cell_error = 0.0;  ///< relative, of cell_u
    double fastener_u = 0.0;  ///< W/(m2 K), sum of n chi
    double void_u = 0.0;      ///< W/(m2 K), air voids by ISO 6946 annex F without its 3 % rule
    std::vector<FastenerWorth> fasteners;
    double relative_error =
        0.0;                   ///< ISO 6946: (R' - R'')/(2 R_T); above ratio 1.5 the method is at its limit
    std::string clear_method;  ///< "3D conduction over the repeating cell, 40000 cells, error at most 0.07 %"
    std::string iso_words;     ///< how the ISO 6946 value compares, and why
    std::string handbook_words;  ///< how parallel path and isothermal planes compare
    double face_r = 0.0;  ///< m2 K/W, with plates, headers by published fractions; junctions not counted
    double framing_fraction = 0.0;  ///< whole face: of the placed members, else published
    Origin framing_origin;
    std::optional<double> published_fraction;  ///< beside it
    std::optional<double> field_share;         ///< of the face, placed members that belong to no junction
    /// W/(m2 K), clear-field U with that share in place of the module's: what built R starts from.
    double field_u = 0.0;
    double code_u = 0.0;                     ///< W/(m2 K), the way the code means
    std::optional<double> code_u_published;  ///< with the published fraction, where members are placed
    std::string code_note;
    std::optional<double> built_r;              ///< m2 K/W; nothing until junctions are computed
    std::optional<conduction::Periodic> daily;  ///< along the bay, a swing of 24 h (dynamic.h)
    double correction_u = 0.0;                  ///< ISO 6946 Delta U for voids and fasteners, W/(m2 K)
    std::vector<LayerWorth> layers;
    std::vector<Tread> stair;              ///< from label R down to the last counted value
    std::vector<double> bay_temperatures;  ///< K at each interface, inside air first, outside air last
    std::vector<std::string> notes;
};

/// Label R sums package R of insulation layers. Clear-field U is the conduction of the repeating cell at
/// winter conductivities (repeating.h), chi of its fasteners and air voids added; where the cell cannot be
/// made or solved, the ISO 6946 combined value with its corrections, and clear_method says so. Face R adds
/// plates and headers as a share P of the face that is wood through every structural layer, so that the
/// framed share reaches the published fraction F: P = (F - s)/(1 - s), s the repeating share of the deepest
/// structural layer; the cell's R is taken times the ratio of the ISO 6946 combined values with P and
/// without. Code U is the handbook's parallel path, with the same P on a wall.
///
/// placed  how much wood stands in the house's own walls; its `whole` is then F, its `field` the share that
///         field_u counts with. Null: F is the published fraction, and field_u is clear-field U.
///
/// Solves two cells at most and a cylinder for each layer with fasteners: milliseconds in 2D, tens in 3D.
/// Callers keep the result.
///
/// Problem  unsupported (slab, basement wall: ISO 13370 needs the floor's area and perimeter, see ground.h),
///          missing (no layers), out_of_range (member deeper than its layer, no conductivity, still air above
///          0.3 m ...), not_converged (temperatures along the bay), stopped
/// Source   ISO 6946:2017 (evidence: memory), ASHRAE Handbook Fundamentals ch. 26 and 27 (seen)
/// Check    proof/thermal/*.toml
[[nodiscard]] Result<Worth> worth(const assembly::Assembly& assembly, const Conditions& conditions,
                                  const Control& control = {},
                                  const framing::FramingFactor* placed = nullptr);

/// How each figure of `worth` came about; solves nothing again. Paths are relative: "clear_r", "cell_u",
/// "iso_clear_r", "label_r", "code_u", "stair/studs", "stair/plates_and_headers", "layers/3" (from 1, inside
/// to outside). Terms carry the Origin of each input.
[[nodiscard]] std::vector<Derivation> derive(const assembly::Assembly& assembly, const Conditions& conditions,
                                             const Worth& worth);

}  // namespace warmside::thermal
