// Histories of many rungs, sorted as they come: a rung is judged when its last run is done.
#pragma once

#include <functional>
#include <mutex>
#include <optional>
#include <vector>

#include "answer/runs.h"
#include "base/digest.h"
#include "moisture/simulate.h"

namespace warmside::answer {

/// Runs of one rung inside one call of the solver.
struct Batch {
    std::size_t rung = 0;
    Key key;
    std::size_t first = 0, count = 0;
    Plan plan;
};

/// Holds the histories of the rungs that are on their way and hands each full set over once, from the worker
/// thread that finished it; nothing is kept after that.
class Gather : public moisture::HistorySink {
public:
    using Whole = std::function<Result<void>(const Batch&, std::vector<moisture::History>)>;
    Gather(const std::vector<Batch>& batches, Whole whole);
    void finished(std::size_t run, moisture::History history) override;
    /// The first Problem of `whole`.
    [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

private:
    struct Set {
        std::vector<moisture::History> histories;
        std::size_t there = 0;
    };
    const std::vector<Batch>& batches_;
    Whole whole_;
    std::mutex guard_;
    std::vector<Set> sets_;
    std::optional<Problem> problem_;
};

}  // namespace warmside::answer
