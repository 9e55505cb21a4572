#include <ClpSimplex.hpp>
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "takeoff/cutting_programme.h"

namespace warmside::takeoff {

namespace {

constexpr int most_rounds = 5000;
// A pattern pays when its reduced cost is below this share of its cost.
constexpr double pays = 1e-9;

/// Rows of the programme: one a piece (at least its demand), then one a stock length of which only some are
/// there (at most those).
class Master {
public:
    explicit Master(const CuttingProblem& problem) : problem_(problem) {
        model_.setLogLevel(0);
        const std::size_t pieces = problem.demand.size();
        row_of_stock_.assign(problem.capacity.size(), -1);
        int rows = static_cast<int>(pieces);
        for (std::size_t k = 0; k < problem.capacity.size(); ++k)
            if (problem.available[k] >= 0) row_of_stock_[k] = rows++;
        limited_ = rows > static_cast<int>(pieces);
        model_.resize(rows, 0);
        for (std::size_t i = 0; i < pieces; ++i)
            model_.setRowBounds(static_cast<int>(i), problem.demand[i], COIN_DBL_MAX);
        for (std::size_t k = 0; k < problem.capacity.size(); ++k)
            if (row_of_stock_[k] >= 0) model_.setRowBounds(row_of_stock_[k], 0.0, problem.available[k]);
        if (limited_) add_shortage();
    }

    void add(const Column& column) {
        std::vector<int> rows;
        std::vector<double> values;
        for (std::size_t i = 0; i < column.cut.size(); ++i) {
            if (column.cut[i] == 0) continue;
            rows.push_back(static_cast<int>(i));
            values.push_back(column.cut[i]);
        }
        if (const int row = row_of_stock_[column.stock]; row >= 0) {
            rows.push_back(row);
            values.push_back(1.0);
        }
        model_.addColumn(static_cast<int>(rows.size()), rows.data(), values.data(), 0.0, COIN_DBL_MAX,
                         problem_.cost[column.stock]);
    }

    /// False when the simplex did not settle.
    [[nodiscard]] bool solve() {
        model_.primal(1);
        return model_.isProvenOptimal();
    }
    void read(Relaxed& out) const {
        const std::size_t pieces = problem_.demand.size();
        const double* dual = model_.dualRowSolution();
        out.cost = model_.objectiveValue();
        for (std::size_t i = 0; i < pieces; ++i) out.worth[i] = std::max(0.0, dual[i]);
        for (std::size_t k = 0; k < row_of_stock_.size(); ++k)
            out.stock_worth[k] = row_of_stock_[k] < 0 ? 0.0 : std::min(0.0, dual[row_of_stock_[k]]);
        const double* times = model_.primalColumnSolution();
        const std::size_t skip = limited_ ? pieces : 0;
        out.times.assign(times + skip, times + model_.numberColumns());
    }
    /// Pieces that no available stick holds in this solution.
    [[nodiscard]] double shortage() const {
        double sum = 0.0;
        for (std::size_t i = 0; limited_ && i < problem_.demand.size(); ++i)
            sum += model_.primalColumnSolution()[i];
        return sum;
    }

private:
    // Where sticks are few the first columns may not hold all pieces: a missing piece costs more than any
    // stick does, so that none stays missing unless it must.
    void add_shortage() {
        const double dear = 1e3 * *std::max_element(problem_.cost.begin(), problem_.cost.end());
        for (int i = 0; i < static_cast<int>(problem_.demand.size()); ++i) {
            const double one = 1.0;
            model_.addColumn(1, &i, &one, 0.0, COIN_DBL_MAX, dear);
        }
    }

    const CuttingProblem& problem_;
    ClpSimplex model_;
    std::vector<int> row_of_stock_;
    bool limited_ = false;
};

/// As many of one piece as fit, for each piece and stock length.
void add_plain_columns(const CuttingProblem& problem, std::vector<Column>& columns) {
    for (std::size_t i = 0; i < problem.weight.size(); ++i) {
        for (std::size_t k = 0; k < problem.capacity.size(); ++k) {
            const auto fits =
                std::min<std::int64_t>(problem.demand[i], problem.capacity[k] / problem.weight[i]);
            if (fits == 0) continue;
            Column column{k, std::vector<int>(problem.weight.size(), 0)};
            column.cut[i] = static_cast<int>(fits);
            columns.push_back(std::move(column));
        }
    }
}

double dual_value(const CuttingProblem& problem, const Relaxed& relaxed) {
    double value = 0.0;
    for (std::size_t i = 0; i < problem.demand.size(); ++i) value += problem.demand[i] * relaxed.worth[i];
    for (std::size_t k = 0; k < problem.capacity.size(); ++k)
        if (problem.available[k] >= 0) value += problem.available[k] * relaxed.stock_worth[k];
    return value;
}

}  // namespace

Result<Relaxed> relax(const CuttingProblem& problem, PatternSearch& search, std::vector<Column>& columns,
                      const Control& control) {
    if (columns.empty()) add_plain_columns(problem, columns);
    Master master(problem);
    for (const Column& column : columns) master.add(column);
    Relaxed out;
    out.worth.assign(problem.demand.size(), 0.0);
    out.stock_worth.assign(problem.capacity.size(), 0.0);
    for (int round = 0; round < most_rounds; ++round) {
        if (control.stop.stopped()) return fail(Code::stopped, "the cutting plan was stopped");
        if (!master.solve())
            return fail(Code::not_converged, "the linear programme of the cutting plan did not settle");
        master.read(out);
        search.set_worths(out.worth);
        double scale = 1.0;
        bool grown = false;
        for (std::size_t k = 0; k < problem.capacity.size(); ++k) {
            const Filling filling = search.best(k);
            scale = std::max(scale, (filling.at_most + out.stock_worth[k]) / problem.cost[k]);
            if (filling.worth + out.stock_worth[k] <= problem.cost[k] * (1.0 + pays)) continue;
            Column column{k, filling.cut};
            // One that is there already pays only within the simplex's tolerance: again it changes nothing.
            if (std::find(columns.begin(), columns.end(), column) != columns.end()) continue;
            columns.push_back(std::move(column));
            master.add(columns.back());
            grown = true;
        }
        out.bound = std::max(out.bound, dual_value(problem, out) / scale);
        if (grown) continue;
        if (master.shortage() > 1e-6)
            return fail(Code::out_of_range, "the available sticks do not hold all pieces");
        return out;
    }
    return fail(Code::not_converged, fmt::format("patterns still pay after {} rounds", most_rounds));
}

}  // namespace warmside::takeoff
