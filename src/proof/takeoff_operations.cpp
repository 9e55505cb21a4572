// Checks of the cutting plan.
#include <array>
#include <cmath>

#include "proof/inputs.h"
#include "takeoff/cutting.h"
#include "takeoff/cutting_programme.h"

namespace warmside::proof {
namespace {

units::Exact exact(double metres) {
    return units::Exact::nearest(metres);
}

/// given: stock, kerf, lengths (list), counts (list). Sticks of the plan and of its proven least; the value
/// of the linear programme in sticks.
Result<Outcome> cutting(const Given& given) {
    Inputs v(given);
    const double stock = v.one("stock", units::length, {0.01}), kerf = v.one("kerf", units::length, {0.0});
    const auto lengths = v.list("lengths", units::length);
    const auto counts = v.list("counts", units::number);
    return v.then([&]() -> Result<Outcome> {
        if (lengths.size() != counts.size())
            return fail(Code::conflict, "as many counts as lengths are needed");
        std::vector<takeoff::Piece> pieces;
        takeoff::CuttingProblem problem;
        for (std::size_t i = 0; i < lengths.size(); ++i) {
            const int count = static_cast<int>(std::lround(counts[i]));
            pieces.push_back({exact(lengths[i]), count, {}});
            problem.weight.push_back((exact(lengths[i]) + exact(kerf)).count());
            problem.demand.push_back(count);
        }
        problem.capacity = {(exact(stock) + exact(kerf)).count()};
        problem.cost = {1.0};
        problem.available = {-1};
        const auto plan = takeoff::cut_plan("check", pieces, {{exact(stock), 1.0}}, exact(kerf));
        if (!plan) return fail(plan.error());
        takeoff::PatternSearch search(problem);
        std::vector<takeoff::Column> columns;
        const auto relaxed = takeoff::relax(problem, search, columns, {});
        if (!relaxed) return fail(relaxed.error());
        return Outcome{{"sticks", {plan->cost}}, {"least", {plan->bound}}, {"linear", {relaxed->bound}}};
    });
}

constexpr std::array operations{
    Operation{"takeoff.cutting", cutting},
};

}  // namespace

std::span<const Operation> takeoff_operations() {
    return operations;
}

}  // namespace warmside::proof
