#include "leakage/pressures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "air/moist_air.h"
#include "leakage/ventilation.h"
#include "leakage/wind.h"
#include "leakage/year_columns.h"

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
    // `source`: what fans add, over the flow of a square metre of leaky face at 1 Pa.
    Balance(const Envelope& e, double exponent, double source, double buoyancy, double wind, double direction)
        : exponent_(exponent), source_(source) {
        for (const Patch& wall : e.walls) {
            const double outside = wind * wall_pressure_coefficient(direction - wall.azimuth);
            add(wall.area, buoyancy * wall.bottom - outside, buoyancy * wall.top - outside);
        }
        const double top = buoyancy * e.top_height - wind * top_coefficient(e, direction);
        add(e.top_area, top, top);
    }

    // Pa; nothing when `guess` cannot be brought to a root in 100 steps.
    [[nodiscard]] std::optional<double> root(double guess) const {
        // All flows in, all flows out, each at least as large as what the fans add.
        const double moved = std::pow(std::abs(source_) / area_, 1.0 / exponent_);
        double low = -most_ - 1.0 - moved, high = -least_ + 1.0 + moved;
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

    // What blows in at a pressure inside, over the flow of a square metre at 1 Pa.
    [[nodiscard]] double inward(double inside) const {
        double sum = 0.0;
        for (const Part& part : parts_)
            sum += part.area * inward_power(inside + part.bottom, inside + part.top, exponent_);
        return sum;
    }

private:
    struct Part {
        double area, bottom, top;  // Pa at both ends with no pressure inside
    };
    void add(double area, double bottom, double top) {
        parts_.push_back({area, bottom, top});
        area_ += area;
        most_ = std::max({most_, bottom, top});
        least_ = std::min({least_, bottom, top});
    }
    [[nodiscard]] Driven at(double inside) const {
        Driven sum{-source_, 0.0};
        for (const Part& part : parts_) {
            const Driven one = mean_power(inside + part.bottom, inside + part.top, exponent_);
            sum.flow += part.area * one.flow;
            sum.slope += part.area * one.slope;
        }
        return sum;
    }
    double exponent_, source_, area_ = 0.0, most_ = -1e300, least_ = 1e300;
    std::vector<Part> parts_;
};

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

double inward_power(double pressure_bottom, double pressure_top, double exponent) {
    const double low = std::min(pressure_bottom, pressure_top);
    const double high = std::max(pressure_bottom, pressure_top);
    if (low >= 0.0) return 0.0;
    if (high <= 0.0) return -mean_power(low, high, exponent).flow;
    return power(low, exponent).integral / (high - low);
}

double fan_pressure(const HouseLeakage& leakage, double imbalance) {
    return std::copysign(50.0 * std::pow(std::abs(imbalance) / leakage.at_50_pa, 1.0 / leakage.exponent),
                         imbalance);
}

Result<Pressures> pressures(const assembly::House& house, const climate::Year& year,
                            const climate::Indoor& indoor) {
    const auto envelope = envelope_of(house);
    if (!envelope) return fail(envelope.error());
    const auto leakage = house_leakage(house, *envelope);
    if (!leakage) return fail(leakage.error());
    const auto fans = fans_of(house);
    if (!fans) return fail(fans.error());
    return pressures(house, year, indoor, *leakage, fans->imbalance());
}

Result<Pressures> pressures(const assembly::House& house, const climate::Year& year,
                            const climate::Indoor& indoor, const HouseLeakage& leakage, double imbalance) {
    auto envelope = envelope_of(house);
    if (!envelope) return fail(envelope.error());
    if (house.air.fan != 0.0) imbalance = 0.0;  // the stated pressure stands for it
    if (imbalance != 0.0 && !(leakage.at_50_pa > 0.0))
        return fail(Code::out_of_range, "air pressures: unbalanced fans in a house without leaks",
                    house.air.origin.where);
    if (auto good = check_columns("air pressures", year, indoor); !good) return fail(good.error());
    Pressures out{.envelope = std::move(*envelope),
                  .direction = year.wind_direction,
                  .leakage = leakage,
                  .imbalance = imbalance};
    for (auto* column : {&out.inside, &out.buoyancy, &out.wind, &out.inflow}) column->reserve(hours);
    const double square_metre = leakage.at(1.0) / leaky_area(out.envelope);  // m3/s at 1 Pa
    const double source = imbalance == 0.0 ? 0.0 : imbalance / square_metre;
    const double slowed = wind_share(house.air.terrain, out.envelope.eaves);
    double guess = 0.0;
    for (std::size_t i = 0; i < hours; ++i) {
        const double outdoor = air::density(year.temperature[i], year.vapour_pressure[i], year.pressure[i]);
        const double room = air::density(indoor.temperature[i], indoor.vapour_pressure[i], year.pressure[i]);
        const double speed = slowed * year.wind_speed[i];
        out.buoyancy.push_back(gravity * (outdoor - room));
        out.wind.push_back(0.5 * outdoor * speed * speed);
        const Balance balance(out.envelope, leakage.exponent, source, out.buoyancy[i], out.wind[i],
                              out.direction[i]);
        const auto root = balance.root(guess);
        if (!root) return fail(Code::not_converged, fmt::format("air pressures: no balance in hour {}", i));
        guess = *root;
        out.inside.push_back(*root + house.air.fan);
        out.inflow.push_back(square_metre * balance.inward(out.inside.back()));
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
