// Weather and a wall made up for tests and benchmarks: a cold continental year with sun, wind and storms.
// Invented data.
#pragma once

#include "assembly/assembly.h"
#include "climate/year.h"

namespace warmside::moisture {

/// 8760 hours for a face with a share of the sun (1 = facing it) and of the driving rain. Deterministic.
[[nodiscard]] climate::FaceWeather invented_weather(double sun_share = 1.0, double rain_share = 1.0);
/// 21 degC and a vapour excess that falls with the outdoor temperature.
[[nodiscard]] climate::Indoor invented_indoor(const climate::FaceWeather& outside);

/// Layers of the built-in catalogue by name; null pointers for a name that it does not have.
[[nodiscard]] assembly::Layer catalogue_layer(const char* material, double thickness);
[[nodiscard]] assembly::Layer catalogue_sheet(const char* membrane);

/// Painted board, wool, variable sheet, studs and wool, osb, wrap (the water layer), ventilated cavity,
/// siding; with `outer_board` 51 mm of stone wool between wrap and cavity.
[[nodiscard]] assembly::Assembly invented_wall(bool outer_board = false);

}  // namespace warmside::moisture
