#include "leakage/wind.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace warmside::leakage {

namespace {

constexpr double degree = std::numbers::pi / 180.0;
using Row = std::array<double, 5>;  // at 0, 45, 90, 135, 180 degrees

// liddament-1996, table 2.2
constexpr Row wall{0.40, 0.10, -0.30, -0.35, -0.20};
constexpr Row roof_low{-0.6, -0.5, -0.4, -0.5, -0.6};
constexpr Row roof_middle{-0.4, -0.5, -0.6, -0.5, -0.4};
constexpr Row roof_steep{0.3, -0.4, -0.6, -0.4, -0.5};

double at(const Row& row, double angle) {
    const double away = std::abs(std::remainder(angle, 2.0 * std::numbers::pi)) / (45.0 * degree);
    const auto left = std::min(static_cast<std::size_t>(away), row.size() - 2);
    const double share = away - static_cast<double>(left);
    return (1.0 - share) * row[left] + share * row[left + 1];
}

struct Profile {
    double exponent, depth;  // depth of the boundary layer, m
};
constexpr Profile open_ground{0.14, 270.0}, suburban{0.22, 370.0}, city{0.33, 460.0};

}  // namespace

double wind_share(assembly::Airtightness::Terrain terrain, double height) {
    using Terrain = assembly::Airtightness::Terrain;
    const Profile& here = terrain == Terrain::open ? open_ground : terrain == Terrain::city ? city : suburban;
    return std::pow(open_ground.depth / 10.0, open_ground.exponent) *
           std::pow(std::max(height, 2.0) / here.depth, here.exponent);
}

double wall_pressure_coefficient(double angle) {
    return at(wall, angle);
}

double roof_pressure_coefficient(double angle, double pitch) {
    return at(pitch < 10.0 * degree ? roof_low : pitch <= 30.0 * degree ? roof_middle : roof_steep, angle);
}

}  // namespace warmside::leakage
