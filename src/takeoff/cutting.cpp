#include "takeoff/cutting.h"

#include <CoinError.hpp>
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <numeric>
#include <optional>

#include "takeoff/cutting_programme.h"

namespace warmside::takeoff {

namespace {

// Nodes of branch and bound over the generated columns, then over all that can be in a better plan.
constexpr int nodes_first = 400;
constexpr int nodes_closing = 2000;
constexpr std::size_t columns_closing = 20'000;
// Bounds are sums of some thousand products in double: relative error far below this.
constexpr double rounding_slack = 1e-7;
// A smaller gap is printed, not chased: where costs have no common measure it means millimetres.
constexpr double gap_let_be = 1e-3;
constexpr double no_plan = 1e30;

/// One stick as it is cut.
struct Stick {
    std::size_t stock = 0;
    std::vector<int> cut;
};
using Sticks = std::vector<Stick>;

double cost_of(const CuttingProblem& problem, const Sticks& sticks) {
    double sum = 0.0;
    for (const Stick& stick : sticks) sum += problem.cost[stick.stock];
    return sum;
}

std::int64_t used(const CuttingProblem& problem, const std::vector<int>& cut) {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < cut.size(); ++i) sum += cut[i] * problem.weight[i];
    return sum;
}

/// Every plan costs a whole multiple of this; 0 when costs (1 at most) have no common measure. Euclid's
/// algorithm; what is left of a division by rounding counts as nothing.
double step_of(const std::vector<double>& cost) {
    constexpr double nothing = 1e-9, finest = 1e-6;
    double measure = 0.0;
    for (const double each : cost) {
        double other = each;
        while (other > nothing) {
            double rest = std::fmod(measure, other);
            if (other - rest <= nothing) rest = 0.0;
            measure = other;
            other = rest;
        }
    }
    if (measure < finest) return 0.0;
    // Some hundred thousand sticks, each off by this, stay within the slack of a bound.
    const bool whole = std::all_of(cost.begin(), cost.end(), [&](double each) {
        return std::abs(each / measure - std::round(each / measure)) <= nothing * each / measure + 1e-10;
    });
    return whole ? measure : 0.0;
}

/// The least cost that a plan can have, given that none costs less than `bound`.
double next_cost(double bound, double step) {
    if (step <= 0.0) return bound;
    return std::ceil(bound / step * (1.0 - rounding_slack) - rounding_slack) * step;
}

/// Fills stick after stick with as much length as fits, in the stock length that costs least for what it
/// holds.
void fill_greedily(const CuttingProblem& problem, std::vector<int> left, std::vector<int> available,
                   Sticks& sticks) {
    CuttingProblem rest = problem;
    while (std::any_of(left.begin(), left.end(), [](int n) { return n > 0; })) {
        std::vector<std::size_t> index;
        rest.weight.clear();
        rest.demand.clear();
        for (std::size_t i = 0; i < left.size(); ++i) {
            if (left[i] == 0) continue;
            index.push_back(i);
            rest.weight.push_back(problem.weight[i]);
            rest.demand.push_back(left[i]);
        }
        PatternSearch search(rest);
        std::vector<double> length(index.size());
        const double unit =
            static_cast<double>(*std::max_element(problem.capacity.begin(), problem.capacity.end()));
        // A little more for long pieces: short ones still fit later.
        for (std::size_t i = 0; i < index.size(); ++i) {
            const double share = static_cast<double>(rest.weight[i]) / unit;
            length[i] = share * (1.0 + 0.05 * share);
        }
        search.set_worths(length);
        std::optional<Stick> best;
        double best_rate = 0.0;
        for (std::size_t k = 0; k < problem.capacity.size(); ++k) {
            if (available[k] == 0) continue;
            const Filling filling = search.best(k);
            const double rate = filling.worth / problem.cost[k];
            if (rate <= best_rate) continue;
            best_rate = rate;
            best = Stick{k, std::vector<int>(left.size(), 0)};
            for (std::size_t i = 0; i < index.size(); ++i) best->cut[index[i]] = filling.cut[i];
        }
        if (!best) return;  // sticks ran out; the caller counts what is missing
        // As often as it can be repeated.
        int times = available[best->stock] < 0 ? left[index[0]] + 1 : available[best->stock];
        for (std::size_t i = 0; i < left.size(); ++i)
            if (best->cut[i] > 0) times = std::min(times, left[i] / best->cut[i]);
        for (std::size_t i = 0; i < left.size(); ++i) left[i] -= times * best->cut[i];
        if (available[best->stock] > 0) available[best->stock] -= times;
        sticks.insert(sticks.end(), static_cast<std::size_t>(times), *best);
    }
}

/// Takes out pieces that are cut beyond the demand, moves sticks to the cheapest stock length that holds
/// them.
void trim(const CuttingProblem& problem, Sticks& sticks) {
    std::vector<int> surplus(problem.demand.size(), 0);
    std::vector<int> free = problem.available;
    for (const Stick& stick : sticks) {
        for (std::size_t i = 0; i < surplus.size(); ++i) surplus[i] += stick.cut[i];
        if (free[stick.stock] > 0) --free[stick.stock];
    }
    for (std::size_t i = 0; i < surplus.size(); ++i) surplus[i] -= problem.demand[i];
    for (Stick& stick : sticks) {
        for (std::size_t i = 0; i < surplus.size(); ++i) {
            const int out = std::min(stick.cut[i], std::max(0, surplus[i]));
            stick.cut[i] -= out;
            surplus[i] -= out;
        }
        const std::int64_t needed = used(problem, stick.cut);
        for (std::size_t k = 0; k < problem.capacity.size(); ++k) {
            if (problem.capacity[k] < needed || free[k] == 0 || problem.cost[k] >= problem.cost[stick.stock])
                continue;
            if (free[k] > 0) --free[k];
            if (free[stick.stock] >= 0) ++free[stick.stock];
            stick.stock = k;
        }
    }
    std::erase_if(sticks, [&](const Stick& stick) { return used(problem, stick.cut) == 0; });
}

bool holds_all(const CuttingProblem& problem, const Sticks& sticks) {
    std::vector<int> missing = problem.demand;
    for (const Stick& stick : sticks)
        for (std::size_t i = 0; i < missing.size(); ++i) missing[i] -= stick.cut[i];
    return std::all_of(missing.begin(), missing.end(), [](int n) { return n <= 0; });
}

/// The best plan so far and what is known about better ones.
struct Search {
    const CuttingProblem& problem;
    double step = 0.0;
    Sticks sticks;
    bool any = false;
    double cost = 0.0;
    double bound = 0.0;

    void offer(Sticks plan) {
        if (!holds_all(problem, plan)) return;
        trim(problem, plan);
        const double its_cost = cost_of(problem, plan);
        if (any && its_cost >= cost) return;
        sticks = std::move(plan);
        cost = its_cost;
        any = true;
    }
    void offer(const std::vector<Column>& columns, const std::vector<int>& times) {
        Sticks plan;
        for (std::size_t j = 0; j < times.size(); ++j)
            plan.insert(plan.end(), static_cast<std::size_t>(times[j]),
                        Stick{columns[j].stock, columns[j].cut});
        offer(std::move(plan));
    }
    [[nodiscard]] bool closed() const { return any && cost <= bound * (1.0 + rounding_slack); }
    /// What a better plan costs at most.
    [[nodiscard]] double better() const {
        if (!any) return no_plan;
        return step > 0.0 ? cost - 0.5 * step : cost * (1.0 - rounding_slack);
    }
};

/// Rounds the fractional plan down and fills the rest greedily.
Sticks round_down(const CuttingProblem& problem, const std::vector<Column>& columns, const Relaxed& relaxed) {
    Sticks sticks;
    std::vector<int> left = problem.demand, available = problem.available;
    for (std::size_t j = 0; j < columns.size(); ++j) {
        const int times = static_cast<int>(std::floor(relaxed.times[j] + 1e-9));
        for (int n = 0; n < times; ++n) {
            Stick stick{columns[j].stock, columns[j].cut};
            for (std::size_t i = 0; i < left.size(); ++i) stick.cut[i] = std::min(stick.cut[i], left[i]);
            for (std::size_t i = 0; i < left.size(); ++i) left[i] -= stick.cut[i];
            if (available[stick.stock] > 0) --available[stick.stock];
            sticks.push_back(std::move(stick));
        }
    }
    fill_greedily(problem, std::move(left), std::move(available), sticks);
    return sticks;
}

/// Every column that a plan better than the present one can use; nothing when they are too many.
std::optional<std::vector<Column>> columns_of_better(const Search& search, const PatternSearch& patterns,
                                                     const Relaxed& relaxed, const Control& control) {
    // A plan costs at least the bound plus the reduced cost of each column in it.
    const double room = search.better() - relaxed.bound + rounding_slack * search.cost;
    std::vector<Column> columns;
    for (std::size_t k = 0; k < search.problem.capacity.size(); ++k) {
        std::vector<std::vector<int>> found;
        const double least = search.problem.cost[k] - relaxed.stock_worth[k] - room;
        if (!patterns.all(k, least, columns_closing - columns.size(), found, control.stop))
            return std::nullopt;
        for (auto& cut : found) columns.push_back({k, std::move(cut)});
    }
    return columns;
}

Result<void> solve(Search& search, const Control& control) {
    PatternSearch patterns(search.problem);
    std::vector<Column> columns;
    auto relaxed = relax(search.problem, patterns, columns, control);
    if (!relaxed) return fail(std::move(relaxed).error());
    search.bound = next_cost(relaxed->bound, search.step);
    control.report("cutting", 0.4);

    Sticks greedy;
    fill_greedily(search.problem, search.problem.demand, search.problem.available, greedy);
    search.offer(std::move(greedy));
    search.offer(round_down(search.problem, columns, *relaxed));
    if (search.closed()) return {};
    auto first = solve_whole(search.problem, columns, {search.better(), search.step}, nodes_first, control);
    if (!first) return fail(std::move(first).error());
    if (first->found) search.offer(columns, first->times);
    control.report("cutting", 0.7);
    if (search.closed() || (search.any && search.cost - search.bound < gap_let_be * search.cost)) return {};

    // Only when the linear programme is solved over all patterns do its duals price all of them.
    const bool priced = relaxed->bound >= relaxed->cost * (1.0 - rounding_slack);
    const auto wider =
        search.any && priced ? columns_of_better(search, patterns, *relaxed, control) : std::nullopt;
    if (control.stop.stopped()) return fail(Code::stopped, "the cutting plan was stopped");
    if (!wider) {
        if (!search.any)
            return fail(Code::not_converged, "no cutting plan was found for the available sticks");
        return {};
    }
    auto last = solve_whole(search.problem, *wider, {search.better(), search.step}, nodes_closing, control);
    if (!last) return fail(std::move(last).error());
    if (last->found) search.offer(*wider, last->times);
    if (last->exhausted) search.bound = search.cost;
    return {};
}

/// Distinct lengths, longest first.
std::vector<Piece> gather(const std::vector<Piece>& pieces) {
    std::map<Exact, Piece, std::greater<>> by_length;
    for (const Piece& piece : pieces) {
        if (piece.count == 0) continue;
        auto [it, fresh] = by_length.try_emplace(piece.length, piece);
        if (fresh) continue;
        it->second.count += piece.count;
        if (!piece.mark.empty()) it->second.mark += it->second.mark.empty() ? piece.mark : ", " + piece.mark;
    }
    std::vector<Piece> out;
    for (auto& [length, piece] : by_length) out.push_back(std::move(piece));
    return out;
}

Result<void> check(const CutPlan& plan) {
    if (plan.kerf < Exact{}) return fail(Code::out_of_range, "the kerf is negative");
    if (plan.stock.empty()) return fail(Code::missing, fmt::format("{}: no stick to cut from", plan.name));
    Exact longest;
    for (const Stock& stock : plan.stock) {
        if (stock.length <= Exact{} || !(stock.cost >= 0.0))
            return fail(Code::out_of_range, "a stick needs a length, and a cost that is not negative");
        if (stock.available != 0) longest = std::max(longest, stock.length);
    }
    for (const Piece& piece : plan.pieces) {
        const std::string mark = piece.mark.empty() ? std::string("a piece") : piece.mark;
        if (piece.length <= Exact{} || piece.count < 0)
            return fail(Code::out_of_range, fmt::format("{}: {} has no length", plan.name, mark));
        if (piece.length > longest)
            return fail(Code::out_of_range, fmt::format("{}: {} is {} long, the longest stick {}", plan.name,
                                                        mark, units::millimetres(piece.length.metres(), 1),
                                                        units::millimetres(longest.metres(), 1)));
    }
    return {};
}

CuttingProblem problem_of(const CutPlan& plan) {
    CuttingProblem out;
    for (const Piece& piece : plan.pieces) {
        out.weight.push_back((piece.length + plan.kerf).count());
        out.demand.push_back(piece.count);
    }
    const bool priced =
        std::any_of(plan.stock.begin(), plan.stock.end(), [](const Stock& s) { return s.cost > 0.0; });
    for (const Stock& stock : plan.stock) {
        out.capacity.push_back((stock.length + plan.kerf).count());
        out.cost.push_back(priced && stock.cost > 0.0 ? stock.cost : stock.length.metres());
        out.available.push_back(stock.available);
    }
    return out;
}

/// Equal sticks become one pattern; the longest sticks come first, in them the longest pieces.
void write_patterns(const CuttingProblem& problem, const Sticks& sticks, CutPlan& plan) {
    std::map<std::pair<std::size_t, std::vector<int>>, int> times;
    for (const Stick& stick : sticks) ++times[{stick.stock, stick.cut}];
    for (const auto& [key, count] : times) {
        const auto& [stock, cut] = key;
        const std::int64_t rest = plan.stock[stock].length.count() - used(problem, cut);
        plan.patterns.push_back(
            {stock, cut, count, Exact::eighths_of_micrometre(std::max<std::int64_t>(0, rest))});
    }
    std::stable_sort(plan.patterns.begin(), plan.patterns.end(), [&](const Pattern& a, const Pattern& b) {
        const Exact left = plan.stock[a.stock].length, right = plan.stock[b.stock].length;
        return left != right ? left > right : a.cut > b.cut;
    });
}

}  // namespace

Result<CutPlan> cut_plan(std::string name, std::vector<Piece> pieces, std::vector<Stock> stock, Exact kerf,
                         const Control& control) {
    CutPlan plan;
    plan.name = std::move(name);
    plan.pieces = std::move(pieces);
    plan.stock = std::move(stock);
    plan.kerf = kerf;
    if (auto good = check(plan); !good) return fail(std::move(good).error());
    plan.pieces = gather(plan.pieces);
    plan.proven = plan.pieces.empty();
    if (plan.proven) return plan;
    CuttingProblem problem = problem_of(plan);
    // The solvers' tolerances are absolute, for costs of the order of one.
    const double unit = *std::max_element(problem.cost.begin(), problem.cost.end());
    for (double& cost : problem.cost) cost /= unit;
    Search search{problem, step_of(problem.cost)};
    try {
        if (auto done = solve(search, control); !done) {
            Problem trouble = std::move(done).error();
            trouble.what = fmt::format("{}: {}", plan.name, trouble.what);
            return fail(std::move(trouble));
        }
    } catch (const CoinError& error) {  // is no std::exception
        return fail(Code::not_converged,
                    fmt::format("{}: the solver gave up: {}", plan.name, error.message()));
    } catch (const std::exception& error) {
        return fail(Code::not_converged, fmt::format("{}: the solver gave up: {}", plan.name, error.what()));
    }
    write_patterns(problem, search.sticks, plan);
    plan.cost = search.cost * unit;
    plan.bound = std::min(search.bound, search.cost) * unit;
    plan.proven = search.closed();
    if (plan.proven) plan.bound = plan.cost;
    return plan;
}

}  // namespace warmside::takeoff
