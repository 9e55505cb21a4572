#include "structure/wind.h"

#include <algorithm>
#include <cmath>

#include "structure/data.h"

namespace warmside::structure {

namespace {

struct Tables {
    double base = 0.0;  ///< Pa at 1 mph, with Kz, Kd
    double mph = 1.0;
    double internal = 0.0, allowable = 0.0, deflection = 0.0;
    std::vector<double> positive, field, corner, areas;
    std::vector<double> heights, b, c, d;
    Limits limits;
};

Tables read(DataFile& file) {
    Tables t;
    auto p = file.open("pressure");
    t.base = value(p, "base", units::pressure) * number(p, "exposure") * number(p, "direction");
    t.mph = *units::parse("1 mph", units::speed);
    t.internal = number(p, "internal");
    t.positive = list(p, "positive");
    t.field = list(p, "field");
    t.corner = list(p, "corner");
    t.areas = list(p, "areas", units::area);
    t.limits.pressure = file.origin(p);
    auto a = file.open("allowable");
    t.allowable = number(a, "share");
    auto sag = file.open("deflection");
    t.deflection = number(sag, "share");
    t.limits.wind_for_deflection = file.origin(sag);
    auto e = file.open("engineer");
    t.limits.wind = value(e, "from", units::speed);
    auto h = file.open("height");
    t.heights = list(h, "heights", units::length);
    t.b = list(h, "b");
    t.c = list(h, "c");
    t.d = list(h, "d");
    auto l = file.open("limits");
    t.limits.stucco = number(l, "stucco");
    t.limits.other_brittle = number(l, "other_brittle");
    t.limits.gypsum = number(l, "gypsum");
    t.limits.flexible = number(l, "flexible");
    t.limits.rafter = number(l, "rafter");
    t.limits.rafter_with_ceiling = number(l, "rafter_with_ceiling");
    t.limits.floor = number(l, "floor");
    t.limits.ceiling = number(l, "ceiling");
    t.limits.header = number(l, "header");
    t.limits.origin = file.origin(l);
    auto s = file.open("scope");
    t.limits.snow = value(s, "snow", units::pressure);
    t.limits.storey = value(s, "storey", units::length);
    auto r = file.open("roof_live");
    t.limits.roof_live = value(r, "load", units::pressure);
    t.limits.roof_live_origin = file.origin(r);
    return t;
}

const Tables& tables() {
    static const Tables all = embedded_data<Tables>("data/structure/wind.toml", read);
    return all;
}

}  // namespace

const Limits& limits() {
    return tables().limits;
}

double allowable(double ultimate) {
    return tables().allowable * ultimate;
}

double for_deflection(double ultimate) {
    return tables().deflection * allowable(ultimate);
}

std::optional<WallPressure> ultimate_pressure(double speed, Exposure exposure, double height, double area) {
    const Tables& t = tables();
    // Asked this way round so that NaN is refused too.
    if (!(speed > 0 && speed < t.limits.wind)) return std::nullopt;
    const auto& row = exposure == Exposure::b ? t.b : exposure == Exposure::c ? t.c : t.d;
    const auto factor = between(t.heights, row, std::max(height, t.heights.front()));
    if (!factor) return std::nullopt;
    const double held = std::clamp(area, t.areas.front(), t.areas.back());
    const double share = std::log(held / t.areas.front()) / std::log(t.areas.back() / t.areas.front());
    const auto coefficient = [&](const std::vector<double>& ends) {
        return ends[0] + share * (ends[1] - ends[0]);
    };
    const double v = speed / t.mph, q = t.base * v * v * *factor;
    return WallPressure{q * (coefficient(t.positive) + t.internal), q * (coefficient(t.field) - t.internal),
                        q * (coefficient(t.corner) - t.internal)};
}

}  // namespace warmside::structure
