#include "moisture/frost.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "moisture/potential.h"

namespace warmside::moisture {
namespace {

constexpr double begins = 0.005, ends = 0.010;  // m below the face
constexpr double damp_humidity = 0.99;
constexpr double least_free = 1e-3;  // kg/m2: below, the solver's rounding

}  // namespace

bool frost_sensitive(const material::Material& m) {
    constexpr std::array families{"masonry", "concrete", "plaster", "cement board"};
    return std::find(families.begin(), families.end(), m.family) != families.end();
}

FrostWatch::FrostWatch(const Run& run, const Built& built, std::size_t samples) {
    std::vector<std::string> notes;  // the solver's, already in its history
    const auto path = path_through(*run.assembly, run.path, notes);
    for (std::size_t i = 0; i < path.size(); ++i) {
        const Segment& segment = path[i];
        const bool whole = segment.first_of_layer && segment.last_of_layer;
        if (!segment.material || !whole || !frost_sensitive(*segment.material)) continue;
        const auto span = std::find_if(built.spans.begin(), built.spans.end(),
                                       [&](const Span& s) { return s.layer == segment.layer; });
        if (span == built.spans.end() || !(segment.material->porosity > 0.0)) continue;
        const bool to_cavity = i > 0 && path[i - 1].kind == Segment::Kind::cavity;
        const bool to_weather = i + 1 == path.size() || path[i + 1].kind == Segment::Kind::cavity;
        if (to_cavity) add(segment, *span, built, false, samples);
        if (to_weather) add(segment, *span, built, true, samples);
    }
}

void FrostWatch::add(const Segment& segment, const Span& span, const Built& built, bool outer,
                     std::size_t samples) {
    const double thickness = segment.thickness;
    const double from = std::min(begins, 0.5 * thickness), to = std::min(ends, thickness);
    const double low = outer ? thickness - to : from, high = outer ? thickness - from : to;
    Window window{.shares = {}, .pores = (high - low) * water_density * segment.material->porosity};
    double edge = 0.0;
    for (std::size_t j = span.first; j <= span.last; ++j) {
        const double next = edge + built.column.nodes[j].volume;
        const double overlap = std::min(next, high) - std::max(edge, low);
        if (overlap > 0.0) window.shares.push_back({j, overlap / (next - edge), overlap / (high - low)});
        edge = next;
    }
    windows_.push_back(std::move(window));
    FrostLayer layer{.name = fmt::format("{:.3g} to {:.3g} mm below the {} face of {}", 1e3 * from, 1e3 * to,
                                         outer ? "outer" : "inner", segment.material->name),
                     .layer = segment.layer,
                     .material = segment.material,
                     .temperature = {},
                     .saturation = {}};
    layer.temperature.reserve(samples);
    layer.saturation.reserve(samples);
    layers_.push_back(std::move(layer));
}

void FrostWatch::sample(const Snapshot& now) {
    for (std::size_t k = 0; k < windows_.size(); ++k) {
        double water = 0.0, temperature = 0.0;
        for (const Share& share : windows_[k].shares) {
            water += share.of_node * now.w(share.node);
            temperature += share.of_window * now.t(share.node);
        }
        layers_[k].temperature.push_back(static_cast<float>(temperature));
        layers_[k].saturation.push_back(static_cast<float>(std::min(1.0, water / windows_[k].pores)));
    }
}

bool takes_no_water_up(const material::Material& m) {
    return m.absorption == 0.0 && (m.is_insulation || m.free_saturation == 0.0) &&
           material::moisture_content(m, 0.98) < 0.2 * m.density;
}

FreeWaterWatch::FreeWaterWatch(const Run& run, const Built& built, std::size_t samples) : samples_(samples) {
    std::vector<std::string> notes;  // the solver's, already in its history
    const auto path = path_through(*run.assembly, run.path, notes);
    const double damp = potential_of_humidity(damp_humidity, reference_temperature);
    for (const Node& node : built.column.nodes) {
        const bool loose = std::any_of(path.begin(), path.end(), [&](const Segment& s) {
            return s.material && static_cast<int>(s.layer) == node.layer &&
                   s.material->name == node.substance->name && takes_no_water_up(*s.material);
        });
        const double water =
            loose ? node.substance->tables.at(Substance::water, damp).value : node.substance->saturation;
        held_.push_back(water * node.volume);
    }
    for (const Span& span : built.spans) {
        const std::size_t middle = (span.first + span.last) / 2;
        const auto add = [&](const char* side, std::size_t first, std::size_t last) {
            nodes_.push_back({first, last});
            halves_.push_back(
                {.name = fmt::format("{} half of {}", side,
                                     built.column.nodes[side[0] == 'i' ? first : last].substance->name),
                 .layer = span.layer,
                 .mass = {}});
        };
        add("inner", span.first, middle);
        add("outer", middle + 1, span.last);
    }
}

void FreeWaterWatch::sample(const Snapshot& now) {
    for (std::size_t k = 0; k < nodes_.size(); ++k) {
        double free = 0.0;
        for (std::size_t j = nodes_[k].first; j <= nodes_[k].last; ++j)
            free += std::max(0.0, now.w(j) - held_[j]);
        auto& mass = halves_[k].mass;
        if (mass.empty()) {
            if (free < least_free) continue;
            mass.reserve(samples_);
            mass.assign(done_, 0.0F);
        }
        mass.push_back(static_cast<float>(free));
    }
    ++done_;
}

void FreeWaterWatch::cut(std::size_t samples) {
    done_ = samples;
    for (FreeWater& half : halves_)
        if (half.mass.size() > samples) half.mass.resize(samples);
}

void FreeWaterWatch::repeat(std::size_t samples, std::size_t a_year) {
    done_ = samples;
    for (FreeWater& half : halves_) {
        auto& mass = half.mass;
        while (!mass.empty() && mass.size() < samples) mass.push_back(mass[mass.size() - a_year]);
    }
}

}  // namespace warmside::moisture
