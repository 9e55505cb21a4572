// Weather made up for tests and benchmarks: a cold continental year with sun, wind and storms. Invented data.
#pragma once

#include "assembly/assembly.h"
#include "climate/year.h"

namespace warmside::moisture {

/// 8760 hours for a face with a share of the sun (1 = facing it) and of the driving rain. Deterministic.
[[nodiscard]] climate::FaceWeather invented_weather(double sun_share = 1.0, double rain_share = 1.0);
/// 21 degC and a vapour excess that falls with the outdoor temperature.
[[nodiscard]] climate::Indoor invented_indoor(const climate::FaceWeather& outside);

/// Layers of the built-in catalogue, and walls of them, made up for tests and benchmarks.
namespace invented {

[[nodiscard]] assembly::Layer board(const char* material, double millimetres);
[[nodiscard]] assembly::Layer sheet(const char* membrane);
/// The layer with lumber of this depth (mm) in it.
[[nodiscard]] assembly::Layer framed(assembly::Layer layer, double depth);
[[nodiscard]] assembly::Layer cavity(double millimetres);
/// Painted board, variable sheet, 140 mm of framed wool, sheathing, wrap, cavity, siding.
[[nodiscard]] assembly::Assembly wall();
/// Painted board, service cavity, variable sheet, 184 mm of framed wool, sheathing, wrap, 51 mm of wool
/// outside or not, cavity, siding.
[[nodiscard]] assembly::Assembly deep_wall(bool outer_board = true);

}  // namespace invented

}  // namespace warmside::moisture
