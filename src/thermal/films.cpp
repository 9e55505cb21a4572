#include "thermal/films.h"

#include <cmath>
#include <numbers>

#include "units/quantity.h"

namespace warmside::thermal {

const char* name_of(HeatFlow flow) {
    switch (flow) {
        case HeatFlow::up: return "up";
        case HeatFlow::horizontal: return "horizontal";
        case HeatFlow::down: return "down";
    }
    return "";
}

HeatFlow heat_flow(double tilt, bool outwards) {
    constexpr double quarter = std::numbers::pi / 2;
    constexpr double thirty = std::numbers::pi / 6;
    // A pitch of exactly 60 degrees arrives with rounding and still counts as horizontal flow.
    if (std::abs(tilt - quarter) <= thirty + 1e-9) return HeatFlow::horizontal;
    return (tilt < quarter) == outwards ? HeatFlow::up : HeatFlow::down;
}

Films iso_films(HeatFlow flow) {
    switch (flow) {
        case HeatFlow::up: return {.inside = 0.10, .outside = 0.04};
        case HeatFlow::horizontal: return {.inside = 0.13, .outside = 0.04};
        case HeatFlow::down: return {.inside = 0.17, .outside = 0.04};
    }
    return {};
}

double r_ip(double r) {
    return r / units::ip_r(1.0);
}

Films handbook_films(HeatFlow flow, Season season) {
    const double inside = flow == HeatFlow::up ? 0.61 : flow == HeatFlow::horizontal ? 0.68 : 0.92;
    return {.inside = r_ip(inside), .outside = r_ip(season == Season::winter ? 0.17 : 0.25)};
}

}  // namespace warmside::thermal
