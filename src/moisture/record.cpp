#include "moisture/record.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "moisture/potential.h"

namespace warmside::moisture {
namespace {

std::size_t samples_of(const Run& run, const Options& options) {
    return static_cast<std::size_t>(run.years * climate::hours_in_year / std::max(1, options.probe_every));
}

// "4.2", "200": never an exponent, so runs that are alike read alike.
std::string two_figures(double value) {
    if (value < 10.0) return fmt::format("{:.2g}", value);
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    return fmt::format("{:.0f}", std::round(value / unit) * unit);
}

}  // namespace

HistoryRecorder::HistoryRecorder(const Run& run, const Built& built, const Options& options,
                                 std::size_t number, CarpetSink* sink)
    : built_(built),
      number_(number),
      sink_(sink),
      probe_moisture_(options.probe_moisture),
      frost_(run, built, samples_of(run, options)),
      free_water_(run, built, samples_of(run, options)) {
    history_.name = run.name;
    history_.start_hour = run.start_hour;
    history_.hours = run.years * climate::hours_in_year;
    history_.probe_every = std::max(1, options.probe_every);
    history_.notes = built.notes;
    history_.beyond = built.beyond;
    history_.space = built.space;
    history_.sheltered = built.sheltered;
    history_.cells = static_cast<int>(built.column.nodes.size());
    for (const Spot& spot : built.spots) {
        Probe probe{.name = spot.name,
                    .layer = spot.layer,
                    .depth = built.column.nodes[spot.node].position,
                    .sensitive = spot.sensitive,
                    .temperature = {},
                    .relative_humidity = {},
                    .moisture = {}};
        history_.probes.push_back(std::move(probe));
    }
    for (const Span& span : built.spans) {
        plans_.push_back(plan(built.column, span));
        LayerMoisture layer{.layer = span.layer, .moisture = {}, .wettest = {}};
        history_.layers.push_back(std::move(layer));
    }
    vent_flow_.assign(built.vents.size(), 0.0);
    prefix_.resize(built.column.nodes.size() + 1);
    humidity_.resize(built.column.nodes.size());
    history_.carpet.columns = std::min(options.carpet_columns, history_.hours);
    history_.carpet.columns -= history_.carpet.columns % run.years;
    history_.carpet.rows = options.carpet_rows;
    plan_rows();
}

template <class Do>
void HistoryRecorder::each_series(Do act) {
    for (Probe& probe : history_.probes) {
        act(probe.temperature);
        act(probe.relative_humidity);
        if (probe_moisture_) act(probe.moisture);
    }
    for (std::size_t k = 0; k < places_.size(); ++k) {
        Probe& probe = history_.depths[k];
        act(probe.temperature);
        act(probe.relative_humidity);
        if (places_[k].holds_water) act(probe.moisture);
    }
    for (LayerMoisture& layer : history_.layers) {
        act(layer.moisture);
        act(layer.wettest);
    }
    frost_.each_series(act);
}

// When the run begins, not before: runs that wait their turn take no memory.
void HistoryRecorder::reserve() {
    const auto samples = static_cast<std::size_t>(history_.hours / history_.probe_every);
    each_series([&](std::vector<float>& series) { series.reserve(samples); });
}

void HistoryRecorder::keep_depths(std::vector<DepthPlace> places) {
    places_ = std::move(places);
    for (const DepthPlace& place : places_) {
        Probe probe{.name = fmt::format("at {:.1f} mm", 1e3 * place.depth),
                    .layer = place.layer,
                    .depth = place.depth,
                    .temperature = {},
                    .relative_humidity = {},
                    .moisture = {}};
        history_.depths.push_back(std::move(probe));
    }
}

HistoryRecorder::LayerPlan HistoryRecorder::plan(const Column& column, const Span& span) {
    LayerPlan plan{.span = span, .thickness = 0.0, .windows = {}};
    std::vector<double> edge{0.0};
    for (std::size_t j = span.first; j <= span.last; ++j)
        edge.push_back(edge.back() + column.nodes[j].volume);
    plan.thickness = edge.back();
    const double width = 0.010 * span.area;
    if (plan.thickness <= width * 1.001) return plan;
    const auto place = [&](double x) {
        const auto above = std::upper_bound(edge.begin() + 1, edge.end() - 1, x);
        const auto k = static_cast<std::size_t>(above - edge.begin()) - 1;
        return std::pair{span.first + k, (x - edge[k]) / (edge[k + 1] - edge[k])};
    };
    // The wettest window of a piecewise constant profile begins or ends at an edge of a node.
    for (const double x : edge) {
        for (const double begin : {x, x - width}) {
            if (begin < -1e-12 || begin + width > plan.thickness + 1e-12) continue;
            const auto [from, from_share] = place(std::max(begin, 0.0));
            const auto [to, to_share] = place(std::min(begin + width, plan.thickness));
            plan.windows.push_back({from, to, from_share, to_share, width});
        }
    }
    return plan;
}

void HistoryRecorder::plan_rows() {
    Carpet& carpet = history_.carpet;
    const auto& nodes = built_.column.nodes;
    for (int r = 0; r < carpet.rows; ++r) {
        const double depth = built_.thickness * (r + 0.5) / carpet.rows;
        carpet.depth.push_back(static_cast<float>(depth));
        std::size_t j = 0;
        while (j + 2 < nodes.size() && nodes[j + 1].position < depth) ++j;
        const double gap = nodes[j + 1].position - nodes[j].position;
        mix_.push_back({j, gap > 0.0 ? std::clamp((depth - nodes[j].position) / gap, 0.0, 1.0) : 0.0});
    }
    const auto cells = static_cast<std::size_t>(carpet.columns * carpet.rows);
    carpet.relative_humidity.assign(cells, 0.0F);
    carpet.temperature.assign(cells, 0.0F);
    sum_humidity_.assign(nodes.size(), 0.0);
    sum_temperature_.assign(nodes.size(), 0.0);
    // About 28 samples a column are a mean; every hour would only cost time.
    sample_every_ = std::max(1, history_.hours / std::max(carpet.columns, 1) / 28);
}

void HistoryRecorder::hour(int hours_done, const Snapshot& now) {
    if (hours_done == 0) return reserve();
    ++recorded_;
    if (recorded_ % history_.probe_every == 0) {
        probe(now);
        depths(now);
        layers(now);
        frost_.sample(now);
        free_water_.sample(now);
    }
    carpet(now);
    vents(hours_done, now);
}

// Every fifth hour is enough for a mean, and meets all hours of the day.
void HistoryRecorder::vents(int hours_done, const Snapshot& now) {
    if (built_.vents.empty() || hours_done % 5 != 0) return;
    built_.column.weather(hours_done - 1, hour_);
    for (std::size_t k = 0; k < built_.vents.size(); ++k) {
        const Built::Vent& vent = built_.vents[k];
        const Ambient& out = hour_.ambient[vent.exchange];
        const double T = now.t(vent.node);
        const double vapour = humidity_at(built_.column, now, vent.node) * saturation_pressure(T);
        vent_flow_[k] += draw(built_.column.exchanges[vent.exchange].draught, out.temperature,
                              out.vapour_pressure, T, vapour, out.wind_square)
                             .flow;
    }
    ++vent_samples_;
}

void HistoryRecorder::forget_year() {
    recorded_ -= climate::hours_in_year;
    const auto samples = static_cast<std::size_t>(recorded_ / history_.probe_every);
    each_series([&](std::vector<float>& series) { series.resize(samples); });
    free_water_.cut(samples);
    column_ -= history_.carpet.columns * climate::hours_in_year / history_.hours;
}

void HistoryRecorder::repeat_year() {
    recorded_ += climate::hours_in_year;
    const auto samples = static_cast<std::size_t>(recorded_ / history_.probe_every);
    const auto a_year = static_cast<std::size_t>(climate::hours_in_year / history_.probe_every);
    each_series([&](std::vector<float>& series) {
        while (series.size() < samples) series.push_back(series[series.size() - a_year]);
    });
    free_water_.repeat(samples, a_year);
    Carpet& carpet = history_.carpet;
    const int back = carpet.columns * climate::hours_in_year / history_.hours;
    const auto rows = static_cast<std::ptrdiff_t>(carpet.rows);
    for (int k = 0; k < back; ++k, ++column_) {
        for (auto* cells : {&carpet.relative_humidity, &carpet.temperature})
            std::copy_n(cells->begin() + rows * (column_ - back), rows, cells->begin() + rows * column_);
        send_column();
    }
}

void HistoryRecorder::tell_settling(int years_marched, double yearly_change, bool settled) {
    history_.years_marched = years_marched;
    history_.yearly_change = yearly_change;
    history_.settled = settled;
}

void HistoryRecorder::send_column() {
    if (!sink_) return;
    const auto rows = static_cast<std::size_t>(history_.carpet.rows);
    sink_->column(
        number_, column_,
        std::span(history_.carpet.relative_humidity).subspan(static_cast<std::size_t>(column_) * rows, rows));
}

void HistoryRecorder::probe(const Snapshot& now) {
    for (std::size_t k = 0; k < built_.spots.size(); ++k) {
        const std::size_t node = built_.spots[k].node;
        history_.probes[k].temperature.push_back(static_cast<float>(now.t(node)));
        history_.probes[k].relative_humidity.push_back(
            static_cast<float>(humidity_at(built_.column, now, node)));
        if (probe_moisture_)
            history_.probes[k].moisture.push_back(
                static_cast<float>(now.w(node) / built_.column.nodes[node].volume));
    }
}

void HistoryRecorder::depths(const Snapshot& now) {
    const auto& nodes = built_.column.nodes;
    for (std::size_t k = 0; k < places_.size(); ++k) {
        const DepthPlace& place = places_[k];
        const auto between = [&](double from, double to) {
            return static_cast<float>((1.0 - place.share) * from + place.share * to);
        };
        Probe& probe = history_.depths[k];
        probe.temperature.push_back(between(now.t(place.from), now.t(place.to)));
        probe.relative_humidity.push_back(
            between(humidity_at(built_.column, now, place.from), humidity_at(built_.column, now, place.to)));
        if (place.holds_water)
            probe.moisture.push_back(between(now.w(place.from) / nodes[place.from].volume,
                                             now.w(place.to) / nodes[place.to].volume));
    }
}

void HistoryRecorder::layers(const Snapshot& now) {
    prefix_[0] = 0.0;
    for (std::size_t j = 0; j < now.nodes; ++j) prefix_[j + 1] = prefix_[j] + now.w(j);
    for (std::size_t k = 0; k < plans_.size(); ++k) {
        const LayerPlan& plan = plans_[k];
        const double mean = (prefix_[plan.span.last + 1] - prefix_[plan.span.first]) / plan.thickness;
        double wettest = mean;  // a thin layer wet at both faces has no window wetter than itself
        for (const Window& window : plan.windows) {
            const double begin = prefix_[window.from] + window.from_share * now.w(window.from);
            const double end = prefix_[window.to] + window.to_share * now.w(window.to);
            wettest = std::max(wettest, (end - begin) / window.length);
        }
        history_.layers[k].moisture.push_back(static_cast<float>(mean));
        history_.layers[k].wettest.push_back(static_cast<float>(wettest));
    }
}

void HistoryRecorder::carpet(const Snapshot& now) {
    Carpet& carpet = history_.carpet;
    if (carpet.columns <= 0) return;
    const auto ends = [&](int column) {
        return static_cast<int>(static_cast<long long>(history_.hours) * (column + 1) / carpet.columns);
    };
    const bool last = recorded_ >= ends(column_);
    if (recorded_ % sample_every_ == 0 || (last && samples_ == 0)) {
        for (std::size_t j = 0; j < now.nodes; ++j) {
            sum_humidity_[j] += humidity_at(built_.column, now, j);
            sum_temperature_[j] += now.t(j);
        }
        ++samples_;
    }
    if (!last) return;
    const std::size_t offset = static_cast<std::size_t>(column_) * static_cast<std::size_t>(carpet.rows);
    const double per = 1.0 / samples_;
    for (std::size_t r = 0; r < mix_.size(); ++r) {
        const auto [node, share] = mix_[r];
        const auto blend = [&](const std::vector<double>& sum) {
            return static_cast<float>(per * ((1.0 - share) * sum[node] + share * sum[node + 1]));
        };
        carpet.relative_humidity[offset + r] = blend(sum_humidity_);
        carpet.temperature[offset + r] = blend(sum_temperature_);
    }
    send_column();
    std::fill(sum_humidity_.begin(), sum_humidity_.end(), 0.0);
    std::fill(sum_temperature_.begin(), sum_temperature_.end(), 0.0);
    samples_ = 0;
    ++column_;
}

History HistoryRecorder::take(const MarchResult& r) {
    for (std::size_t k = 0; k < built_.vents.size(); ++k) {
        const Built::Vent& vent = built_.vents[k];
        history_.air_change.push_back(vent_flow_[k] / std::max(vent_samples_, 1) / vent.thickness);
        history_.notes.push_back(fmt::format(
            "{}, {}: mean outdoor air change {} /h by wind and buoyancy",
            vent.title.empty() ? fmt::format("ventilated cavity of {:.0f} mm", 1e3 * vent.thickness)
                               : vent.title,
            vent.words, two_figures(3600.0 * history_.air_change.back())));
    }
    Balance& b = history_.balance;
    b.water_in = r.through.water_in;
    b.water_out = r.through.water_out;
    b.water_stored = r.water_end - r.water_start;
    b.water_error = r.water_error();
    b.energy_error = r.energy_error();
    b.rain_absorbed = r.through.rain_absorbed;
    b.leak = r.through.leak_offered;
    b.rain_run_off = r.through.rain_offered - r.through.rain_absorbed + r.through.leak_offered -
                     r.through.leak_absorbed + r.through.drained;
    history_.frost = frost_.take();
    history_.free_water = free_water_.take();
    history_.steps = r.steps;
    history_.newton_iterations = r.iterations;
    history_.rejected = r.rejected;
    return std::move(history_);
}

}  // namespace warmside::moisture
