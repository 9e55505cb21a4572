#include "material/buffer.h"

#include <cmath>

namespace warmside::material {

double moisture_buffer_value(double permeability, double capacity, double saturation_pressure) {
    constexpr double day = 86400.0;  // s
    const double effusivity = std::sqrt(permeability * capacity / saturation_pressure);
    return 0.568 * saturation_pressure * effusivity * std::sqrt(day);
}

}  // namespace warmside::material
