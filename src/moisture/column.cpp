#include "moisture/column.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace warmside::moisture {

const Substance* Column::keep(Substance substance) {
    substances.push_back(std::make_shared<const Substance>(std::move(substance)));
    return substances.back().get();
}

std::vector<double> graded(double thickness, int pieces, double first) {
    // x = L (1 + tanh(a (2 s - 1))/tanh a)/2: smooth, symmetric, steepest in the middle. `a` from the first
    // piece.
    const auto place = [&](double a, int i) {
        const double s = 2.0 * i / pieces - 1.0;
        return a < 1e-6 ? 0.5 * thickness * (1.0 + s)
                        : 0.5 * thickness * (1.0 + std::tanh(a * s) / std::tanh(a));
    };
    double low = 0.0, high = 6.0;
    for (int k = 0; k < 60; ++k) {
        const double a = 0.5 * (low + high);
        (place(a, 1) > first ? low : high) = a;
    }
    std::vector<double> places;
    for (int i = 0; i <= pieces; ++i) places.push_back(place(low, i));
    places.front() = 0.0;
    places.back() = thickness;
    return places;
}

void add_node(Column& column, const Node& node, const Link& joint, double temperature, double potential) {
    if (!column.nodes.empty()) {
        if (joint.membrane) column.membrane_links.push_back(static_cast<int>(column.links.size()));
        column.links.push_back(joint);
    }
    column.nodes.push_back(node);
    column.temperature.push_back(temperature);
    column.potential.push_back(potential);
}

void add_layer(Column& column, const Substance* substance, const std::vector<double>& places,
               double start_position, int layer, const Link& joint, double temperature, double potential,
               bool carries_air) {
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double left = i > 0 ? places[i] - places[i - 1] : 0.0;
        const double right = i + 1 < places.size() ? places[i + 1] - places[i] : 0.0;
        const Node node{.substance = substance,
                        .volume = 0.5 * (left + right),
                        .position = start_position + places[i],
                        .layer = layer};
        Link inner;
        inner.inverse_spacing = i > 0 ? 1.0 / left : 0.0;
        inner.carries_air = carries_air;
        add_node(column, node, i == 0 ? joint : inner, temperature, potential);
    }
}

Result<void> check(const Column& c) {
    const std::size_t n = c.nodes.size();
    if (n < 2 || c.links.size() + 1 != n || c.temperature.size() != n || c.potential.size() != n)
        return fail(Code::out_of_range, fmt::format("{}: {} nodes with {} links", c.name, n, c.links.size()));
    if (c.exchanges.size() > most_exchanges)
        return fail(Code::unsupported,
                    fmt::format("{}: {} exchanges, at most {}", c.name, c.exchanges.size(), most_exchanges));
    for (std::size_t i = 0; i < n; ++i) {
        // Asked this way round so that NaN is refused too.
        if (!(c.nodes[i].substance && c.nodes[i].volume > 0.0 && c.temperature[i] > 150.0 &&
              c.temperature[i] < 400.0 && std::isfinite(c.potential[i])))
            return fail(Code::out_of_range,
                        fmt::format("{}: node {} has no store or no start value", c.name, i));
    }
    for (const Exchange& e : c.exchanges) {
        if (e.node < 0 || e.node >= static_cast<int>(n))
            return fail(Code::out_of_range,
                        fmt::format("{}: an exchange at node {} of {}", c.name, e.node, n));
    }
    return {};
}

}  // namespace warmside::moisture
