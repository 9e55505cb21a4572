#include "moisture/series.h"

#include <algorithm>
#include <numeric>

namespace warmside::moisture {
namespace {

float mean(std::span<const float> values) {
    const double sum = std::accumulate(values.begin(), values.end(), 0.0);
    return static_cast<float>(sum / static_cast<double>(values.size()));
}

std::vector<float> means_of_parts(const std::vector<float>& values, std::size_t parts) {
    std::vector<float> out;
    for (std::size_t k = 0; k < parts; ++k) {
        const std::size_t begin = values.size() * k / parts, end = values.size() * (k + 1) / parts;
        out.push_back(mean(std::span(values).subspan(begin, end - begin)));
    }
    return out;
}

}  // namespace

std::vector<float> means_of_each(std::span<const float> values, std::size_t each) {
    std::vector<float> out;
    each = std::max<std::size_t>(each, 1);
    for (std::size_t begin = 0; begin < values.size(); begin += each)
        out.push_back(mean(values.subspan(begin, std::min(each, values.size() - begin))));
    return out;
}

std::vector<LayerMoisture> layer_means(const History& history, int columns) {
    std::vector<LayerMoisture> out;
    if (columns <= 0) return out;
    for (const auto& layer : history.layers) {
        // No more parts than values: a part without one has no mean.
        const auto parts = std::min(static_cast<std::size_t>(columns), layer.moisture.size());
        out.push_back({.layer = layer.layer,
                       .moisture = means_of_parts(layer.moisture, parts),
                       .wettest = means_of_parts(layer.wettest, parts)});
    }
    return out;
}

}  // namespace warmside::moisture
