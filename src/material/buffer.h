// How much damp a bare surface takes up and gives back over a day.
#pragma once

namespace warmside::material {

/// Ideal moisture buffer value of a thick bare layer, kg/m2 per unit of relative humidity: 8 h at 75 %, 16 h
/// at 33 %.
///
///   MBV = 0.568 p_sat b sqrt(86400 s),  b = sqrt(delta xi / p_sat)
///
/// permeability         kg/(s m Pa)
/// capacity             xi, kg/m3 per unit of relative humidity
/// saturation_pressure  Pa, at the test's 23 degC about 2808
/// Source   Rode and others 2005, NORDTEST moisture buffer value, 0.00568 per percent (memory);
///          check: proof/material/buffer.toml
[[nodiscard]] double moisture_buffer_value(double permeability, double capacity, double saturation_pressure);

}  // namespace warmside::material
