// A settled year without brute repetition: the year's map of the moisture state to itself is brought to its
// fixed point by extrapolation.
#pragma once

#include <vector>

#include "moisture/march.h"
#include "moisture/record.h"

namespace warmside::moisture {

/// Records a run whose last year is settled: it ends as it began.
///
/// With x a state at the start of a year, G(x) the one at its end and f = G(x) - x, the next start is
/// Anderson's with one memory,
///
///   x <- G(x_k) - a (G(x_k) - G(x_{k-1})),   a = <f_k, f_k - f_{k-1}>/|f_k - f_{k-1}|^2,
///
/// layer by layer over the moisture variable; for one slow mode that is Aitken's. A jump that does not shrink
/// f is the last. Source: anderson-1965 (memory).
class SettlingRecorder : public Recorder {
public:
    SettlingRecorder(HistoryRecorder& history, const Column& column, int years, const Options& options);
    void hour(int hours_done, const Snapshot& now) override;
    [[nodiscard]] Next year(int years_done, const Snapshot& now) override;

private:
    struct State {
        std::vector<double> temperature, potential;
    };
    static State state_of(const Snapshot& now);
    [[nodiscard]] double change() const;
    [[nodiscard]] Next extrapolate();

    HistoryRecorder& history_;
    const Column& column_;
    int years_;
    double within_;
    int most_years_;
    State start_, end_;  // of the year just done
    std::vector<double> f_before_, end_before_, water_;
    double change_before_ = 0.0;
    bool jumped_ = false, may_jump_ = true;
};

}  // namespace warmside::moisture
