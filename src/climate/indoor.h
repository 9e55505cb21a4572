// The rules behind indoor_air (year.h), one function each. Outdoor temperatures are means, as each rule says.
#pragma once

#include "climate/year.h"

namespace warmside::climate {

/// Indoor temperature of EN 15026, K: 20 degC up to 10 degC outdoors, 25 degC from 20 degC on.
///
/// outdoor  K, daily mean
/// Source   en-15026, annex C (memory); check: proof/climate/indoor.toml
[[nodiscard]] double en15026_temperature(double outdoor);

/// Indoor relative humidity of EN 15026, 0..1: 30 % up to -10 degC outdoors, 60 % from 20 degC on, straight
/// between; `high` load adds 10 %.
///
/// outdoor  K, daily mean
/// Source   en-15026, annex C (memory); check: proof/climate/indoor.toml
[[nodiscard]] double en15026_humidity(double outdoor, bool high);

/// Design indoor relative humidity of ASHRAE 160, simplified method, 0..1: 40 % up to -10 degC outdoors,
/// 70 % from 20 degC on, straight between.
///
/// outdoor  K, 24 h mean
/// Source   ashrae-160, clause 4.3.1 (memory); check: proof/climate/indoor.toml
[[nodiscard]] double ashrae160_humidity(double outdoor);

/// Vapour pressure indoors above outdoors of ISO 13788, Pa: the class limit up to 0 degC outdoors, none from
/// 20 degC on, straight between.
///
/// humidity_class  1 to 5: 270, 540, 810, 1080, 1360 Pa
/// outdoor         K, monthly mean
/// Source          iso-13788, annex A (memory; class 3 quoted); check: proof/climate/indoor.toml
[[nodiscard]] double iso13788_excess(int humidity_class, double outdoor);

}  // namespace warmside::climate
