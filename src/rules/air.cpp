// Air leakage, and heat recovery where the code makes it mandatory.
#include <fmt/format.h>

#include "rules/context.h"

namespace warmside::rules {

namespace {

struct Rate {
    double value = 0.0;
    bool measured = false;
};

std::optional<Rate> rate_of(const Leakage& leakage) {
    if (leakage.measured) return Rate{*leakage.measured, true};
    if (leakage.expected) return Rate{*leakage.expected, false};
    return std::nullopt;
}

/// A test decides; what is expected of the sealing plan is stated and decides nothing.
void settle(const Context& context, bool passes, const Rate& rate, Finding& f) {
    if (rate.measured) {
        f.outcome = context.settle(passes, f.evidence);
    } else {
        f.outcome = Outcome::information;
        f.notes.push_back(fmt::format("Expected, not measured: it would {}. Only the test counts.",
                                      passes ? "pass" : "fail"));
    }
    if (!passes) f.change = fmt::format("a test of at most {}", f.required->text);
}

void prescriptive(const Context& context, const Rate& rate, Findings& out) {
    const Cell* cell = context.find("air", "prescriptive");
    if (!cell || !cell->asked) return;
    Finding f = resting_on(*cell, Subject::air, "house", "air leakage, prescriptive path");
    f.required = ach_amount(cell->value);
    f.provided = ach_amount(rate.value);
    f.words = fmt::format("Asked: at most {}. {}: {}.", f.required->text,
                          rate.measured ? "Measured" : "Expected", f.provided->text);
    settle(context, at_most(rate.value, cell->value), rate, f);
    out.push_back(std::move(f));
}

void cap(const Context& context, const Rate& rate, Findings& out) {
    const Cell* cell = context.find("air", "any path");
    if (!cell || !cell->asked) return;
    Finding f = resting_on(*cell, Subject::air, "house", "air leakage, cap on every other path");
    f.required = ach_amount(cell->value);
    f.provided = ach_amount(rate.value);
    bool passes = at_most(rate.value, cell->value);
    f.words = fmt::format("At most {}", f.required->text);
    const Cell* by_area = context.find("air by area", "any path");
    const Leakage& leakage = context.in.leakage;
    if (by_area && leakage.enclosure > 0.0 && leakage.volume > 0.0) {
        const double through = rate.value * leakage.volume / leakage.enclosure;
        passes = passes || at_most(through, by_area->value);
        f.words += fmt::format(" or {} of the enclosure", leakage_amount(by_area->value).text);
        f.words += fmt::format("; there: {}, {}", f.provided->text, leakage_amount(through).text);
    } else {
        f.words += fmt::format("; there: {}", f.provided->text);
    }
    f.words += ".";
    settle(context, passes, rate, f);
    out.push_back(std::move(f));
}

}  // namespace

void air_leakage(const Context& context, Findings& out) {
    const auto rate = rate_of(context.in.leakage);
    if (!rate) {
        Finding f = not_covered(context, Subject::air, "house", "air leakage, prescriptive path",
                                "Neither a test nor an expected air change is given.");
        if (const Cell* cell = context.find("air", "prescriptive")) {
            f.required = ach_amount(cell->value);
            f.citation = cell->citation;
            f.evidence = cell->origin.evidence;
            f.origin = cell->origin;
        }
        out.push_back(std::move(f));
        return;
    }
    prescriptive(context, *rate, out);
    cap(context, *rate, out);
}

void heat_recovery(const Context& context, Findings& out) {
    const Cell* cell = context.find("recovery", "sensible");
    if (!cell || !cell->asked) return;
    Finding f = resting_on(*cell, Subject::ventilation, "house", "heat recovery ventilation");
    const double there = context.in.balanced ? context.in.recovery.value_or(0.0) : 0.0;
    f.required = share_amount(cell->value);
    f.provided = share_amount(there);
    const bool passes = at_least(there, cell->value);
    f.outcome = context.settle(passes, f.evidence);
    f.words = fmt::format(
        "Asked: balanced ventilation that recovers at least {} of the heat at 32 degF. There: {}.",
        f.required->text,
        there > 0.0 ? f.provided->text : std::string(context.in.balanced ? "balanced, no recovery" : "none"));
    if (!passes)
        f.change = "balanced ventilation with a rated sensible recovery of at least " + f.required->text;
    f.notes.emplace_back(
        "The rated figure at 32 degF and the design flow counts, not the one of the energy run.");
    out.push_back(std::move(f));
}

}  // namespace warmside::rules
