#include <array>
#include <cmath>
#include <vector>

#include "thermal/air_layer.h"

namespace warmside::thermal {

namespace {

struct Row {
    HeatFlow flow;
    double thickness;                  // mm
    double mean;                       // degC
    double difference;                 // K
    std::array<double, 5> resistance;  // m2 K/W
};

constexpr std::array emittances{0.03, 0.05, 0.2, 0.5, 0.82};

// ASHRAE Handbook Fundamentals 2021 (SI), chapter 26, Table 3, selected rows. -17.8 degC and 5.6 K are 0 and
// 10 degF.
constexpr double cold = -17.8, mild = 10.0, small = 5.6, large = 16.7;
constexpr std::array rows{
    Row{HeatFlow::horizontal, 13, cold, small, {0.52, 0.50, 0.39, 0.27, 0.20}},
    Row{HeatFlow::horizontal, 20, cold, small, {0.66, 0.63, 0.46, 0.30, 0.22}},
    Row{HeatFlow::horizontal, 40, cold, small, {0.62, 0.59, 0.44, 0.29, 0.22}},
    Row{HeatFlow::horizontal, 90, cold, small, {0.61, 0.59, 0.44, 0.29, 0.22}},
    Row{HeatFlow::horizontal, 13, mild, small, {0.47, 0.45, 0.33, 0.22, 0.16}},
    Row{HeatFlow::horizontal, 20, mild, small, {0.65, 0.61, 0.41, 0.25, 0.18}},
    Row{HeatFlow::horizontal, 40, mild, small, {0.67, 0.62, 0.42, 0.26, 0.18}},
    Row{HeatFlow::horizontal, 90, mild, small, {0.64, 0.60, 0.41, 0.25, 0.18}},
    Row{HeatFlow::horizontal, 20, mild, large, {0.51, 0.49, 0.35, 0.23, 0.17}},
    Row{HeatFlow::horizontal, 90, mild, large, {0.47, 0.45, 0.33, 0.22, 0.16}},
    Row{HeatFlow::up, 20, cold, small, {0.39, 0.38, 0.31, 0.23, 0.18}},
    Row{HeatFlow::up, 20, mild, small, {0.40, 0.39, 0.30, 0.20, 0.15}},
    Row{HeatFlow::up, 90, mild, small, {0.49, 0.47, 0.34, 0.23, 0.16}},
    Row{HeatFlow::down, 20, mild, small, {0.68, 0.63, 0.42, 0.26, 0.18}},
    Row{HeatFlow::down, 40, mild, small, {1.16, 1.04, 0.58, 0.30, 0.20}},
    Row{HeatFlow::down, 90, cold, small, {2.11, 1.82, 0.89, 0.44, 0.29}},
    Row{HeatFlow::down, 90, mild, small, {1.96, 1.63, 0.72, 0.34, 0.22}},
};

// Rounding of the table's own degrees.
constexpr double slack = 0.06;
// The SI table's thicknesses are rounded from inches by up to 5 %.
constexpr double nominal = 0.05;

// A value between two nodes, or nothing when the wanted point lies outside both.
struct Node {
    double at;
    double value;
};

std::optional<double> between(const std::vector<Node>& nodes, double wanted, double same = slack) {
    for (const Node& node : nodes) {
        if (std::abs(node.at - wanted) <= same) return node.value;
    }
    for (std::size_t i = 1; i < nodes.size(); ++i) {
        const Node &a = nodes[i - 1], &b = nodes[i];
        if (wanted > a.at && wanted < b.at)
            return a.value + (b.value - a.value) * (wanted - a.at) / (b.at - a.at);
    }
    return std::nullopt;
}

std::optional<double> at_emittance(const Row& row, double emittance) {
    constexpr double rounding = 1e-9;
    for (std::size_t i = 0; i < emittances.size(); ++i) {
        if (std::abs(emittance - emittances[i]) < rounding) return row.resistance[i];
    }
    for (std::size_t i = 1; i < emittances.size(); ++i) {
        const double a = emittances[i - 1], b = emittances[i];
        if (emittance > a && emittance < b) {
            const double t = (emittance - a) / (b - a);
            return 1.0 / ((1.0 - t) / row.resistance[i - 1] + t / row.resistance[i]);
        }
    }
    return std::nullopt;
}

std::optional<double> at_thickness(const AirSpace& space, double mean, double difference) {
    std::vector<Node> nodes;
    for (const Row& row : rows) {
        if (row.flow != space.flow || row.mean != mean || row.difference != difference) continue;
        const auto value = at_emittance(row, space.emittance);
        if (!value) return std::nullopt;
        nodes.push_back({row.thickness, *value});
    }
    const double thickness = 1000.0 * space.thickness;
    return between(nodes, thickness, nominal * thickness);
}

std::optional<double> at_mean(const AirSpace& space, double difference) {
    std::vector<Node> nodes;
    for (const double mean : {cold, mild}) {
        if (const auto value = at_thickness(space, mean, difference)) nodes.push_back({mean, *value});
    }
    return between(nodes, space.temperature - 273.15);
}

}  // namespace

std::optional<double> handbook_air_space(const AirSpace& space) {
    std::vector<Node> nodes;
    for (const double difference : {small, large}) {
        if (const auto value = at_mean(space, difference)) nodes.push_back({difference, *value});
    }
    return between(nodes, space.temperature_difference);
}

}  // namespace warmside::thermal
