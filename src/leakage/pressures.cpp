#include "leakage/pressures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "air/moist_air.h"
#include "leakage/defaults.h"
#include "leakage/wind.h"

namespace warmside::leakage {

namespace {

constexpr double gravity = 9.80665;
constexpr double steepest_slope = 80.0 * std::numbers::pi / 180.0;
constexpr std::size_t hours = climate::hours_in_year;

struct Power {
    double flow, integral;  // sign(p) |p|^n and its integral from zero
};
Power power(double pressure, double exponent) {
    const double size = std::abs(pressure);
    if (size == 0.0) return {0.0, 0.0};
    const double flow = std::pow(size, exponent);
    return {std::copysign(flow, pressure), flow * size / (exponent + 1.0)};
}

// Wind pressure coefficient of the top: the mean of both slopes. An attic is open half there and half at the
// eaves, where the wall's pressure stands (R806.2 asks for two fifths to a half of the vents near the ridge).
double top_coefficient(const Envelope& e, double direction) {
    const double angle = direction - e.slope_azimuth, behind = angle + std::numbers::pi;
    const double slopes =
        0.5 * (roof_pressure_coefficient(angle, e.pitch) + roof_pressure_coefficient(behind, e.pitch));
    if (!e.attic) return slopes;
    const double eaves = 0.5 * (wall_pressure_coefficient(angle) + wall_pressure_coefficient(behind));
    return 0.5 * (slopes + eaves);
}

// The flow out of the house as a function of the pressure inside, for one hour.
class Balance {
public:
    Balance(const Envelope& e, double exponent, double buoyancy, double wind, double direction)
        : exponent_(exponent) {
        for (const Patch& wall : e.walls) {
            const double outside = wind * wall_pressure_coefficient(direction - wall.azimuth);
            add(wall.area, buoyancy * wall.bottom - outside, buoyancy * wall.top - outside);
        }
        const double top = buoyancy * e.top_height - wind * top_coefficient(e, direction);
        add(e.top_area, top, top);
    }

    // Pa; nothing when `guess` cannot be brought to a root in 100 steps.
    [[nodiscard]] std::optional<double> root(double guess) const {
        double low = -most_ - 1.0, high = -least_ + 1.0;  // all flows in, all flows out
        double p = std::clamp(guess, low, high);
        for (int i = 0; i < 100; ++i) {
            const Driven sum = at(p);
            (sum.flow > 0.0 ? high : low) = p;
            double next = sum.slope > 0.0 ? p - sum.flow / sum.slope : low;
            const bool inside = next > low && next < high;  // false for NaN too
            if (!inside) next = 0.5 * (low + high);
            if (std::abs(next - p) < 1e-10 * (1.0 + std::abs(p))) return next;
            p = next;
        }
        return std::nullopt;
    }

private:
    struct Part {
        double area, bottom, top;  // Pa at both ends with no pressure inside
    };
    void add(double area, double bottom, double top) {
        parts_.push_back({area, bottom, top});
        most_ = std::max({most_, bottom, top});
        least_ = std::min({least_, bottom, top});
    }
    [[nodiscard]] Driven at(double inside) const {
        Driven sum;
        for (const Part& part : parts_) {
            const Driven one = mean_power(inside + part.bottom, inside + part.top, exponent_);
            sum.flow += part.area * one.flow;
            sum.slope += part.area * one.slope;
        }
        return sum;
    }
    double exponent_, most_ = -1e300, least_ = 1e300;
    std::vector<Part> parts_;
};

Result<void> whole(const std::vector<double>& column, const char* name) {
    if (column.size() == hours) return {};
    return fail(Code::incomplete,
                fmt::format("air pressures: {} has {} hours, not {}", name, column.size(), hours));
}

}  // namespace

Driven mean_power(double pressure_bottom, double pressure_top, double exponent) {
    const double rise = pressure_top - pressure_bottom;
    const double middle = 0.5 * (pressure_bottom + pressure_top);
    // Below this the difference of the integrals loses more digits than the middle of the straight line does.
    if (std::abs(rise) <= 1e-5 * std::abs(middle) || std::abs(rise) < 1e-12) {
        const double flow = power(middle, exponent).flow;
        return {flow, exponent * std::abs(flow) / std::max(std::abs(middle), 1e-12)};
    }
    const Power a = power(pressure_bottom, exponent), b = power(pressure_top, exponent);
    return {(b.integral - a.integral) / rise, (b.flow - a.flow) / rise};
}

Result<Pressures> pressures(const assembly::House& house, const climate::Year& year,
                            const climate::Indoor& indoor) {
    auto envelope = envelope_of(house);
    if (!envelope) return fail(envelope.error());
    const auto& given = defaults();
    for (const auto& [column, name] : {std::pair{&year.temperature, "outdoor temperature"},
                                       {&year.vapour_pressure, "outdoor vapour pressure"},
                                       {&year.pressure, "station pressure"},
                                       {&year.wind_speed, "wind speed"},
                                       {&year.wind_direction, "wind direction"},
                                       {&indoor.temperature, "indoor temperature"},
                                       {&indoor.vapour_pressure, "indoor vapour pressure"}}) {
        if (auto good = whole(*column, name); !good) return fail(good.error());
    }
    Pressures out{.envelope = std::move(*envelope), .direction = year.wind_direction};
    for (auto* column : {&out.inside, &out.buoyancy, &out.wind}) column->reserve(hours);
    const double slowed = wind_share(house.air.terrain, out.envelope.eaves);
    double guess = 0.0;
    for (std::size_t i = 0; i < hours; ++i) {
        const double outdoor = air::density(year.temperature[i], year.vapour_pressure[i], year.pressure[i]);
        const double room = air::density(indoor.temperature[i], indoor.vapour_pressure[i], year.pressure[i]);
        const double speed = slowed * year.wind_speed[i];
        out.buoyancy.push_back(gravity * (outdoor - room));
        out.wind.push_back(0.5 * outdoor * speed * speed);
        const Balance balance(out.envelope, given->exponent, out.buoyancy[i], out.wind[i], out.direction[i]);
        const auto root = balance.root(guess);
        if (!root) return fail(Code::not_converged, fmt::format("air pressures: no balance in hour {}", i));
        guess = *root;
        out.inside.push_back(*root + house.air.fan);
    }
    return out;
}

std::vector<double> across(const Pressures& p, const climate::Plane& face, double height) {
    std::vector<double> out;
    out.reserve(p.inside.size());
    const bool slope = face.tilt < steepest_slope;
    for (std::size_t i = 0; i < p.inside.size(); ++i) {
        const double angle = p.direction[i] - face.azimuth;
        const double coefficient =
            slope ? roof_pressure_coefficient(angle, face.tilt) : wall_pressure_coefficient(angle);
        out.push_back(p.inside[i] + p.buoyancy[i] * height - p.wind[i] * coefficient);
    }
    return out;
}

}  // namespace warmside::leakage
