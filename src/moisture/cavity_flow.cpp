#include "moisture/cavity_flow.h"

namespace warmside::moisture {

namespace {

constexpr double discharge = 0.6;      // of a slot with insect screen 0.5 to 0.65 (memory)
constexpr double viscosity = 1.81e-5;  // Pa s

}  // namespace

Draught draught(const CavityShape& s) {
    const double in = discharge * s.opening_in, out = discharge * s.opening_out;
    return {
        .openings = 0.5 * cavity_air_density * s.length * s.length * (1.0 / (in * in) + 1.0 / (out * out)),
        .friction = 12.0 * viscosity * s.length * s.length / (s.clear * s.gap * s.gap * s.gap),
        .rise = s.rise};
}

}  // namespace warmside::moisture
