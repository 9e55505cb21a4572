#include "moisture/settle.h"

#include <algorithm>
#include <cmath>

#include "moisture/potential.h"

namespace warmside::moisture {

namespace {

// One slow mode that loses a tenth a year asks for a jump of nine times the year's change; we go no further.
constexpr double longest_jump = 9.0;

}  // namespace

SettlingRecorder::SettlingRecorder(HistoryRecorder& history, const Column& column, int years,
                                   const Options& options)
    : history_(history),
      column_(column),
      years_(years),
      within_(options.settled_within),
      most_years_(std::max(options.most_years, years)) {}

SettlingRecorder::State SettlingRecorder::state_of(const Snapshot& now) {
    State out;
    for (std::size_t j = 0; j < now.nodes; ++j) {
        out.temperature.push_back(now.t(j));
        out.potential.push_back(now.u(j));
    }
    return out;
}

void SettlingRecorder::hour(int hours_done, const Snapshot& now) {
    if (hours_done == 0) start_ = state_of(now);
    history_.hour(hours_done, now);
}

double SettlingRecorder::change() const {
    double most = 0.0;
    for (std::size_t j = 0; j < column_.nodes.size(); ++j) {
        if (column_.nodes[j].weight < 1.0) continue;
        most = std::max(most, std::abs(end_.potential[j] - start_.potential[j]));
    }
    return most;
}

Next SettlingRecorder::year(int years_done, const Snapshot& now) {
    end_ = state_of(now);
    water_.resize(now.nodes);
    for (std::size_t j = 0; j < now.nodes; ++j) water_[j] = now.w(j);
    const double moved = change();
    // The first year starts from a made-up state, not from one that a year led to.
    const bool settled = years_done > 1 && moved <= within_;
    history_.tell_settling(years_done, moved, settled || within_ <= 0.0 || years_ < 3);
    Next next;
    if (within_ <= 0.0 || years_ < 3) {
        next.finish = history_.years() >= years_;
    } else if (settled) {
        while (history_.years() < years_) history_.repeat_year();
        next.finish = true;
    } else if (history_.years() == years_ && years_done >= most_years_) {
        next.finish = true;
    } else {
        if (jumped_ && moved > change_before_) may_jump_ = false;
        if (history_.years() == years_) history_.forget_year();
        if (history_.years() == years_ - 1 && may_jump_) next = extrapolate();
    }
    jumped_ = !next.temperature.empty();
    change_before_ = moved;
    f_before_.resize(end_.potential.size());
    for (std::size_t j = 0; j < f_before_.size(); ++j) f_before_[j] = end_.potential[j] - start_.potential[j];
    end_before_ = end_.potential;
    start_ = end_;
    if (jumped_) start_.potential = next.potential;
    return next;
}

Next SettlingRecorder::extrapolate() {
    if (f_before_.empty()) return {};
    Next next{.finish = false, .temperature = end_.temperature, .potential = end_.potential};
    double along = 0.0, bend = 0.0;
    for (std::size_t j = 0; j < f_before_.size(); ++j) {
        const double f = end_.potential[j] - start_.potential[j], turn = f - f_before_[j];
        along += water_[j] * f * turn;
        bend += water_[j] * turn * turn;
    }
    const double a = bend > 0.0 ? std::clamp(along / bend, -longest_jump, 0.5) : 0.0;
    for (std::size_t j = 0; j < f_before_.size(); ++j) {
        const double u = end_.potential[j] - a * (end_.potential[j] - end_before_[j]);
        next.potential[j] = std::clamp(u, lowest_potential(), std::max(full_potential(), end_.potential[j]));
    }
    return next;
}

}  // namespace warmside::moisture
