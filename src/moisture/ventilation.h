// Openings, length and wind of a ventilated layer: as the house file says, else by its cladding.
#pragma once

#include <string>

#include "assembly/assembly.h"
#include "moisture/cavity_flow.h"

namespace warmside::moisture {

/// A ventilated layer of an assembly as the flow sees it.
struct Ventilation {
    Draught draught;
    double wind_coefficient = 0.0;  ///< difference of C_p between the ends
    std::string words;              ///< "10 mm slots below and above, 2.4 m high"
};
/// A cladding above 1200 kg/m3 and thicker than 15 mm (brick, stucco); null: none.
[[nodiscard]] bool is_masonry(const assembly::Layer* cladding);
/// By what the layer says, else by the cladding outside of it: sidings and roofings open at both ends,
/// masonry by weeps at the bottom alone; see
/// docs/methods/moisture.md.
[[nodiscard]] Ventilation ventilation_of(const assembly::Assembly& assembly, std::size_t layer);

}  // namespace warmside::moisture
