// What an assembly is worth: label R, clear-field R, code U, the R stair.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/origin.h"

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

/// One tread of the R stair, in the fixed order of design.md. R and U after the tread; changes sum exactly.
struct Tread {
    std::string name;  ///< label, boards, air spaces, films, temperature, studs, plates and headers, furring,
                       ///< fasteners, junctions
    std::string words;               ///< "studs take away R-3.1"
    std::optional<double> r_change;  ///< m2 K/W; nothing when not computed yet (junctions)
    double r_after = 0.0;            ///< m2 K/W
    double u_after = 0.0;            ///< W/(m2 K)
};

struct Worth {
    double thickness = 0.0;     ///< m
    double label_r = 0.0;       ///< m2 K/W
    double upper_r = 0.0;       ///< ISO 6946 R'_T
    double lower_r = 0.0;       ///< ISO 6946 R''_T
    double parallel_r = 0.0;    ///< handbook parallel path
    double isothermal_r = 0.0;  ///< handbook isothermal planes
    double clear_r = 0.0;       ///< m2 K/W, repeating members
    double clear_u = 0.0;       ///< W/(m2 K)
    double relative_error =
        0.0;                   ///< ISO 6946: (R' - R'')/(2 R_T); above ratio 1.5 the method is at its limit
    std::string clear_method;  ///< "ISO 6946 combined method; a 3D cell will replace it"
    double face_r = 0.0;       ///< m2 K/W, with plates, headers by published fractions; junctions not counted
    double framing_fraction = 0.0;  ///< whole face, published
    Origin framing_origin;
    double code_u = 0.0;  ///< W/(m2 K), the way the code means
    std::string code_note;
    std::optional<double> built_r;  ///< m2 K/W; nothing until junctions are computed
    double correction_u = 0.0;      ///< ISO 6946 Delta U for voids and fasteners, W/(m2 K)
    std::vector<LayerWorth> layers;
    std::vector<Tread> stair;              ///< from label R down to the last counted value
    std::vector<double> bay_temperatures;  ///< K at each interface, inside air first, outside air last
    std::vector<std::string> notes;
};

/// Problem: unsupported (a part or layer the method does not cover), out_of_range.
[[nodiscard]] Result<Worth> worth(const assembly::Assembly& assembly, const Conditions& conditions);

/// How each figure of `worth` came about. Paths are relative: "clear_r", "label_r", "code_u", "stair/studs",
/// "layers/3".
[[nodiscard]] std::vector<Derivation> derive(const assembly::Assembly& assembly, const Conditions& conditions,
                                             const Worth& worth);

}  // namespace warmside::thermal
