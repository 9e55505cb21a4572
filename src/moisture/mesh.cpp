#include "moisture/mesh.h"

#include <algorithm>
#include <cmath>
#include <memory>

#include "moisture/build.h"
#include "moisture/march.h"
#include "moisture/potential.h"
#include "moisture/record.h"

namespace warmside::moisture {

namespace {

constexpr int fewest = 3, most = 40;
constexpr int week = 168, sample_every = 6;

// Largest interpolation error of each material segment over the weeks of a run.
class CurvatureRecorder : public Recorder {
public:
    CurvatureRecorder(HistoryRecorder& history, const Built& built)
        : history_(history),
          built_(built),
          pressure_(built.column.nodes.size()),
          temperature_(built.column.nodes.size()),
          error_(built.cuts.size(), 0.0) {}

    void hour(int hours_done, const Snapshot& now) override {
        history_.hour(hours_done, now);
        // The first week still remembers how the run was started.
        if (hours_done <= week || hours_done % sample_every != 0) return;
        for (std::size_t j = 0; j < now.nodes; ++j) {
            pressure_[j] += humidity_at(built_.column, now, j) * saturation_pressure(now.t(j));
            temperature_[j] += now.t(j);
        }
        ++samples_;
        if (hours_done % week == 0) close_week();
    }

    [[nodiscard]] const std::vector<double>& errors() const { return error_; }

private:
    void close_week() {
        for (std::size_t j = 0; j < pressure_.size(); ++j) {
            pressure_[j] /= samples_;
            temperature_[j] /= samples_;
        }
        for (std::size_t k = 0; k < built_.cuts.size(); ++k) {
            const Span& cut = built_.cuts[k];
            for (std::size_t j = cut.first + 1; j < cut.last; ++j)
                error_[k] = std::max(error_[k], error_at(j));
        }
        std::fill(pressure_.begin(), pressure_.end(), 0.0);
        std::fill(temperature_.begin(), temperature_.end(), 0.0);
        samples_ = 0;
    }

    // e = h^2/8 (|p''|/p_s + 0.07/K phi |T''|) with the wider of both pieces.
    [[nodiscard]] double error_at(std::size_t j) const {
        const auto& nodes = built_.column.nodes;
        const double before = nodes[j].position - nodes[j - 1].position;
        const double after = nodes[j + 1].position - nodes[j].position;
        const auto bend = [&](const std::vector<double>& f) {
            return 2.0 * std::abs((f[j + 1] - f[j]) / after - (f[j] - f[j - 1]) / before) / (before + after);
        };
        const double saturated = saturation_pressure(temperature_[j]);
        const double wider = std::max(before, after);
        constexpr double by_temperature =
            0.07;  // 1/K, slope of the logarithm of saturation pressure near 5 degC
        return nodes[j].weight * wider * wider / 8.0 / saturated *
               (bend(pressure_) + by_temperature * pressure_[j] * bend(temperature_));
    }

    HistoryRecorder& history_;
    const Built& built_;
    std::vector<double> pressure_, temperature_;  // sums over the week's samples
    int samples_ = 0;
    std::vector<double> error_;
};

Mesh cut_for(const Built& built, const std::vector<double>& errors, double target) {
    Mesh mesh;
    for (std::size_t k = 0; k < built.cuts.size(); ++k) {
        const auto had = static_cast<double>(built.cuts[k].last - built.cuts[k].first);
        const int pieces =
            std::clamp(static_cast<int>(std::ceil(had * std::sqrt(errors[k] / target))), fewest, most);
        mesh.pieces.push_back(pieces);
        mesh.estimate = std::max(mesh.estimate, errors[k] * (had / pieces) * (had / pieces));
    }
    return mesh;
}

}  // namespace

Mesh finest(std::span<const Mesh> meshes) {
    Mesh out;
    for (const Mesh& mesh : meshes) {
        out.pieces.resize(std::max(out.pieces.size(), mesh.pieces.size()), fewest);
        for (std::size_t k = 0; k < mesh.pieces.size(); ++k)
            out.pieces[k] = std::max(out.pieces[k], mesh.pieces[k]);
        out.estimate = std::max(out.estimate, mesh.estimate);
    }
    return out;
}

Result<std::vector<Pilot>> pilot(std::span<const Run> runs, const Options& options, const Control& control) {
    Options coarse = options;
    coarse.mesh_level = 0;
    coarse.carpet_columns = 0;
    coarse.probe_every = std::max(3, options.probe_every);
    std::vector<Run> years(runs.begin(), runs.end());
    for (Run& run : years) {
        run.years = 1;
        run.mesh = nullptr;
    }
    const auto all = build_all(years, coarse);
    if (!all) return fail(all.error());
    const std::vector<Built>& built = *all;
    std::vector<std::unique_ptr<HistoryRecorder>> histories;
    std::vector<std::unique_ptr<CurvatureRecorder>> recorders;
    std::vector<Task> tasks;
    for (std::size_t i = 0; i < years.size(); ++i) {
        histories.push_back(std::make_unique<HistoryRecorder>(years[i], built[i], coarse, i, nullptr));
        recorders.push_back(std::make_unique<CurvatureRecorder>(*histories.back(), built[i]));
        tasks.push_back({.column = &built[i].column,
                         .hours = climate::hours_in_year,
                         .recorder = recorders.back().get()});
    }
    const auto results = march(tasks, {.tolerance = 2.0 * options.tolerance}, control);
    if (!results) return fail(results.error());
    std::vector<Pilot> pilots;
    for (std::size_t i = 0; i < years.size(); ++i)
        pilots.push_back({cut_for(built[i], recorders[i]->errors(), options.mesh_target),
                          histories[i]->take((*results)[i])});
    return pilots;
}

}  // namespace warmside::moisture
