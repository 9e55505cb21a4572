#include "moisture/allowance.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace warmside::moisture {
namespace {

constexpr std::size_t lanes = 8;
constexpr double span = 1500.0;  // highest over lowest level of the first round

/// `count` levels strictly within, at equal ratios, or at equal steps from zero.
void divide(double low, double high, std::size_t count, std::vector<double>& out) {
    for (std::size_t k = 1; k <= count; ++k) {
        const double share = static_cast<double>(k) / static_cast<double>(count + 1);
        out.push_back(low > 0.0 ? low * std::pow(high / low, share) : high * share);
    }
}

}  // namespace

LeakSearch::LeakSearch(double most, double tolerance) : most_(most), tolerance_(tolerance) {
    assert(most > 0.0 && tolerance > 0.0);
}

void LeakSearch::tell(double leak, Dryness dryness) {
    known_[leak] = dryness;
}

void LeakSearch::give_up(double leak) {
    unsolved_.insert(leak);
}

LeakSearch::Bracket LeakSearch::bracket(Dryness first_failing) const {
    Bracket out{.low = 0.0, .high = most_};
    const auto fails = std::find_if(known_.begin(), known_.end(),
                                    [&](const auto& each) { return each.second >= first_failing; });
    if (fails == known_.end()) {
        out.never_fails = true;
        out.low = known_.empty() ? 0.0 : known_.rbegin()->first;
        return out;
    }
    out.high = fails->first;
    if (fails == known_.begin()) {
        out.fails_at_once = true;
    } else {
        out.low = std::prev(fails)->first;
    }
    return out;
}

bool LeakSearch::open(const Bracket& b) const {
    return !b.never_fails && !b.fails_at_once && b.high > most_ / span * (1.0 + 1e-9) &&
           b.high > b.low * (1.0 + tolerance_);
}

std::vector<double> LeakSearch::next() const {
    std::vector<double> out;
    if (!known_.contains(0.0) && !unsolved_.contains(0.0)) {
        out.push_back(0.0);
        for (std::size_t k = 0; k + 1 < lanes; ++k)
            out.push_back(most_ * std::pow(span, static_cast<double>(k) / (lanes - 2) - 1.0));
        return out;
    }
    const Bracket dry = bracket(Dryness::watch), wet = bracket(Dryness::wet);
    const bool both = open(dry) && open(wet) && !(dry == wet);
    for (const Bracket& each : {dry, wet}) {
        if (!open(each) || (!both && !out.empty())) continue;
        divide(each.low, each.high, both ? lanes / 2 : lanes, out);
    }
    std::erase_if(out, [&](double level) { return unsolved_.contains(level); });
    std::sort(out.begin(), out.end());
    return out;
}

WettingAllowance LeakSearch::answer() const {
    const Bracket dry = bracket(Dryness::watch), wet = bracket(Dryness::wet);
    return {.dry = dry.fails_at_once ? 0.0 : dry.low,
            .not_wet = wet.fails_at_once ? 0.0 : wet.low,
            .assumed = 0.0,
            .dry_bounded = !dry.never_fails,
            .not_wet_bounded = !wet.never_fails,
            .most_tried = known_.empty() ? 0.0 : known_.rbegin()->first};
}

}  // namespace warmside::moisture
