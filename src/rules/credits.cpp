// What the envelope earns towards the additional efficiency that the code asks.
#include <fmt/format.h>

#include <array>

#include "rules/context.h"

namespace warmside::rules {

namespace {

struct Step {
    double limit = 0.0;
    std::string_view row;
};
// Rows of Table R408.2 (2024), the strictest first; between rows nothing is interpolated.
constexpr std::array conductance{
    Step{0.70, "total conductance -30 %"},   Step{0.80, "total conductance -20 %"},
    Step{0.85, "total conductance -15 %"},   Step{0.90, "total conductance -10 %"},
    Step{0.925, "total conductance -7.5 %"}, Step{0.95, "total conductance -5 %"},
    Step{0.975, "total conductance -2.5 %"}};
constexpr std::array with_recovery{Step{1.0, "1.0 ACH50 with recovery"}, Step{1.5, "1.5 ACH50 with recovery"},
                                   Step{2.0, "2.0 ACH50 with recovery"}};
// For credit: 75 % sensible recovery at 32 degF.
constexpr double credit_recovery = 0.75;

template <std::size_t n>
const Step* first_met(const std::array<Step, n>& steps, double value) {
    for (const Step& each : steps) {
        if (at_most(value, each.limit)) return &each;
    }
    return nullptr;
}

void credit(const Context& context, std::string_view row, const std::string& there, Findings& out) {
    const Cell* cell = context.find("credit", row);
    if (!cell || !cell->asked) return;
    Finding f = resting_on(*cell, Subject::credit, "house", fmt::format("credits: {}", row));
    const std::string text = fmt::format("{:.0f} credits", cell->value);
    f.provided = Amount{cell->value, "-", text, text};
    f.words =
        fmt::format("{} would earn {} in zone {}, of the 10 from at least two measures that the code asks.",
                    there, text, name_of(context.zone()));
    out.push_back(std::move(f));
}

void of_total(const Context& context, const Total& total, Findings& out) {
    const std::string there =
        fmt::format("A total conductance of {:.1f} % of the table's", 100.0 * total.ratio());
    if (const Step* step = first_met(conductance, total.ratio())) credit(context, step->row, there, out);
    const Cell* package = context.find("package", "total UA over the table's");
    if (!package) return;
    Finding f = resting_on(*package, Subject::credit, "house", "additional efficiency package: envelope");
    f.required = share_amount(package->value);
    f.provided = share_amount(total.ratio());
    f.words = fmt::format(
        "Total UA of at most {} of the table's, with SHGC likewise, is one of the packages. There: {}.",
        f.required->text, f.provided->text);
    out.push_back(std::move(f));
}

void of_leakage(const Context& context, Findings& out) {
    const Leakage& leakage = context.in.leakage;
    const auto rate = leakage.measured ? leakage.measured : leakage.expected;
    if (!rate) return;
    const double ach = *rate * 3600.0;
    const bool recovers = context.in.balanced && context.in.recovery.value_or(0.0) >= credit_recovery;
    const std::string there =
        fmt::format("{} of {:.2f} ACH50{}", leakage.measured ? "A test" : "An expected leakage", ach,
                    recovers ? " with heat recovery of 75 % or more" : "");
    constexpr double tight = 2.0, reduced = 2.5;
    if (recovers) {
        const Step* step = first_met(with_recovery, ach);
        credit(context, step ? step->row : "heat or energy recovery", there, out);
    } else if (context.in.balanced && at_most(ach, tight)) {
        credit(context, "2.0 ACH50 with balanced ventilation", there, out);
    }
    if (!recovers && ach >= tight && at_most(ach, reduced))
        credit(context, "reduced leakage 2.0 to 2.5 ACH50", there, out);
}

}  // namespace

void credits(const Context& context, const std::optional<Total>& total, Findings& out) {
    if (total) of_total(context, *total, out);
    of_leakage(context, out);
}

}  // namespace warmside::rules
