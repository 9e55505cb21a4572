// Weather made up for tests and benchmarks: a cold continental year with sun, wind and storms. Invented data.
#pragma once

#include "climate/year.h"

namespace warmside::moisture {

/// 8760 hours for a face with a share of the sun (1 = facing it) and of the driving rain. Deterministic.
[[nodiscard]] climate::FaceWeather invented_weather(double sun_share = 1.0, double rain_share = 1.0);
/// 21 degC and a vapour excess that falls with the outdoor temperature.
[[nodiscard]] climate::Indoor invented_indoor(const climate::FaceWeather& outside);

}  // namespace warmside::moisture
