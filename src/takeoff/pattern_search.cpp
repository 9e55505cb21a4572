#include "takeoff/pattern_search.h"

#include <algorithm>
#include <numeric>

namespace warmside::takeoff {

namespace {

// Cells of the whole table: 32 MB.
constexpr std::size_t most_cells = 4'000'000;
constexpr std::size_t most_width = 16'384;
constexpr std::size_t nodes_of_best = 200'000;
constexpr std::size_t nodes_of_all = 20'000'000;
// Two fillings whose worths differ by less count as equal; worths are costs of sticks of the order of 1.
constexpr double equal_worth = 1e-12;

}  // namespace

PatternSearch::PatternSearch(const CuttingProblem& problem) : problem_(problem) {
    std::int64_t divisor = 0;
    for (const std::int64_t each : problem.weight) divisor = std::gcd(divisor, each);
    // Room that is left over beyond a multiple of the divisor serves no piece.
    const std::int64_t longest = *std::max_element(problem.capacity.begin(), problem.capacity.end());
    const std::size_t rows = problem.weight.size() + 1;
    const auto cells = static_cast<std::int64_t>(std::min(most_width, most_cells / rows));
    grid_ = std::max(divisor, longest / cells + 1);
    // A multiple of the divisor would do as well, and no better.
    if (longest / divisor <= cells) grid_ = divisor;
    width_ = static_cast<std::size_t>(longest / grid_) + 1;
    table_.assign(rows * width_, 0.0);
}

void PatternSearch::set_worths(const std::vector<double>& worth) {
    worth_ = worth;
    for (std::size_t piece = worth.size(); piece-- > 0;) {
        const double* after = &table_[(piece + 1) * width_];
        double* row = &table_[piece * width_];
        std::copy(after, after + width_, row);
        if (worth[piece] <= 0.0) continue;
        const auto step = static_cast<std::size_t>(problem_.weight[piece] / grid_);
        const auto wanted = static_cast<std::size_t>(problem_.demand[piece]);
        if (step > 0 && wanted >= (width_ - 1) / step) {
            for (std::size_t room = step; room < width_; ++room)
                row[room] = std::max(row[room], row[room - step] + worth[piece]);
            continue;
        }
        for (std::size_t count = 1; count <= wanted && count * step < width_; ++count) {
            const double gain = static_cast<double>(count) * worth[piece];
            for (std::size_t room = count * step; room < width_; ++room)
                row[room] = std::max(row[room], after[room - count * step] + gain);
        }
    }
}

/// Depth first over the pieces, most of each first; a branch ends where its bound does.
struct PatternSearch::Walk {
    const PatternSearch& search;
    std::size_t nodes_left;
    std::vector<int> cut;

    [[nodiscard]] int most_of(std::size_t piece, std::int64_t room) const {
        return static_cast<int>(
            std::min<std::int64_t>(search.problem_.demand[piece], room / search.problem_.weight[piece]));
    }

    void best(std::size_t piece, std::int64_t room, double worth, Filling& so_far) {
        if (nodes_left == 0) return;
        --nodes_left;
        if (worth > so_far.worth + equal_worth) {
            so_far.worth = worth;
            so_far.cut = cut;
        }
        if (piece == cut.size()) return;
        for (int count = most_of(piece, room); count >= 0; --count) {
            const std::int64_t rest = room - count * search.problem_.weight[piece];
            const double here = worth + count * search.worth_[piece];
            if (here + search.bound(piece + 1, rest) <= so_far.worth + equal_worth) continue;
            cut[piece] = count;
            best(piece + 1, rest, here, so_far);
            if (nodes_left == 0) break;
        }
        cut[piece] = 0;
    }

    /// False when a limit was met.
    bool all(std::size_t piece, std::int64_t room, double missing, std::size_t most,
             std::vector<std::vector<int>>& found, const StopToken& stop) {
        if (nodes_left == 0 || (nodes_left % 4096 == 0 && stop.stopped())) return false;
        --nodes_left;
        if (piece == cut.size()) {
            for (std::size_t i = 0; i < cut.size(); ++i)
                if (cut[i] < search.problem_.demand[i] && search.problem_.weight[i] <= room) return true;
            if (found.size() == most) return false;
            found.push_back(cut);
            return true;
        }
        bool complete = true;
        for (int count = most_of(piece, room); count >= 0 && complete; --count) {
            const std::int64_t rest = room - count * search.problem_.weight[piece];
            const double still = missing - count * search.worth_[piece];
            if (search.bound(piece + 1, rest) < still) continue;
            cut[piece] = count;
            complete = all(piece + 1, rest, still, most, found, stop);
        }
        cut[piece] = 0;
        return complete;
    }
};

Filling PatternSearch::best(std::size_t stock) const {
    Filling out;
    out.cut.assign(worth_.size(), 0);
    const std::int64_t room = problem_.capacity[stock];
    Walk walk{*this, nodes_of_best, out.cut};
    walk.best(0, room, 0.0, out);
    out.at_most = walk.nodes_left > 0 ? out.worth : bound(0, room);
    return out;
}

bool PatternSearch::all(std::size_t stock, double least, std::size_t most,
                        std::vector<std::vector<int>>& found, const StopToken& stop) const {
    Walk walk{*this, nodes_of_all, std::vector<int>(worth_.size(), 0)};
    return walk.all(0, problem_.capacity[stock], least, found.size() + most, found, stop);
}

}  // namespace warmside::takeoff
