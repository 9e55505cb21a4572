#include <fmt/format.h>

#include <algorithm>

#include "air/saturation.h"
#include "climate/year.h"

namespace warmside::climate {

Year stressed(const Year& year, const Stress& stress) {
    Year out = year;
    for (std::size_t h = 0; h < out.temperature.size(); ++h) {
        const double humidity = year.vapour_pressure[h] / air::over_water(year.temperature[h]);
        out.temperature[h] = year.temperature[h] - stress.cooling;
        out.vapour_pressure[h] =
            std::clamp(humidity + stress.humidity_rise, 0.0, 1.0) * air::over_water(out.temperature[h]);
        out.rain[h] = year.rain[h] * stress.rain_factor;
    }
    out.origin.kind = Origin::Kind::computed;
    out.notes.push_back(fmt::format(
        "Stressed: every hour {:.3g} K colder, relative humidity {:.3g} % higher (at most 100 %), "
        "rain times {:.3g}; sun, cloud and wind unchanged.",
        stress.cooling, 100.0 * stress.humidity_rise, stress.rain_factor));
    return out;
}

}  // namespace warmside::climate
