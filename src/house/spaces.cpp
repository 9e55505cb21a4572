#include "house/spaces.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace warmside::house {

namespace {

using assembly::Roof;

constexpr double quarter = std::numbers::pi / 2;
constexpr double discharge = 0.6, pressure_difference = 0.6;  // C_d; dC_p between low and high vents
constexpr double average_shelter = 0.05;                      // f_w

// m, of the box around an outline: east-west, north-south.
std::pair<double, double> box_of(const std::vector<assembly::Point>& outline) {
    const auto extent = [&](auto of) {
        const auto [low, high] = std::minmax_element(
            outline.begin(), outline.end(), [&](const auto& a, const auto& b) { return of(a) < of(b); });
        return (of(*high) - of(*low)).metres();
    };
    return {extent([](const assembly::Point& p) { return p.x; }),
            extent([](const assembly::Point& p) { return p.y; })};
}

// A conductance that follows the wind.
Series by_wind(double per_wind, double least, const climate::Year& year, bool steady) {
    if (steady) {
        const double sum = std::accumulate(year.wind_speed.begin(), year.wind_speed.end(), 0.0);
        return {std::max(least, per_wind * sum / hours_in_year), {}};
    }
    Series out;
    for (const double v : year.wind_speed) out.hourly.push_back(std::max(least, per_wind * v));
    return out;
}

double quarter_of(const std::string& side) {
    return side == "east" ? quarter : side == "south" ? 2 * quarter : side == "west" ? 3 * quarter : 0.0;
}

// Share of a hip's surface that its two ends take.
double ends_of(const assembly::House& house, const Roof& roof) {
    const assembly::Storey* storey = assembly::storey_under(house, roof);
    if (!storey || !assembly::rectangle_of(storey->outline)) return 0.5;
    const auto [x, y] = box_of(storey->outline);
    return 0.5 * std::min(x, y) / std::max(x, y);
}

}  // namespace

std::vector<Slope> slopes_of(const assembly::House& house, const Roof& roof, const assembly::RoofArea& area) {
    const auto slope = [&](double azimuth, double share) {
        return Slope{{azimuth, roof.form == Roof::Form::flat ? 0.0 : roof.pitch}, share * area.surface};
    };
    const double along = roof.ridge == "north-south" ? quarter : 0.0;  // the first of the long slopes
    switch (roof.form) {
        case Roof::Form::flat: return {slope(0.0, 1.0)};
        case Roof::Form::gable: return {slope(along, 0.5), slope(along + 2 * quarter, 0.5)};
        case Roof::Form::shed:
            return {slope(std::fmod(quarter_of(roof.high_side) + 2 * quarter, 4 * quarter), 1.0)};
        case Roof::Form::hip: break;
    }
    const assembly::Storey* storey = assembly::storey_under(house, roof);
    const double ends = ends_of(house, roof), sides = 1.0 - ends;
    const auto [x, y] = storey ? box_of(storey->outline) : std::pair{1.0, 1.0};
    const double first = x >= y ? 0.0 : quarter;  // the long sides look this way and its opposite
    return {slope(first, 0.5 * sides), slope(first + 2 * quarter, 0.5 * sides),
            slope(first + quarter, 0.5 * ends),
            slope(std::fmod(first + 3 * quarter, 4 * quarter), 0.5 * ends)};
}

Series attic_air(double vents, double share, double least, const climate::Year& year, bool steady) {
    const double effective = vents / (2.0 * std::numbers::sqrt2);
    return by_wind(discharge * effective * std::sqrt(pressure_difference) * share, least, year, steady);
}

Series crawl_space_air(double vents, double least, const climate::Year& year, bool steady) {
    return by_wind(discharge * vents * average_shelter, least, year, steady);
}

double volume_under(const assembly::House& house, const Roof& roof, const assembly::RoofArea& area) {
    constexpr double least_height = 0.3;  // m, of a flat roof's space
    const assembly::Storey* storey = assembly::storey_under(house, roof);
    if (area.volume > 0.0 || !storey) return area.volume;
    const auto [x, y] = box_of(storey->outline);
    return area.plan * std::max(least_height, 0.25 * std::min(x, y) * std::tan(roof.pitch));
}

}  // namespace warmside::house
