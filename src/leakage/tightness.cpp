#include "leakage/tightness.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assembly/geometry.h"

namespace warmside::leakage {

namespace {

constexpr double square_centimetre = 1e-4;

std::string words_of(const TestResult& test) {
    std::string out = "measured";
    if (!test.date.empty()) out += " on " + test.date;
    if (test.single_point) out += fmt::format(", at one pressure with the exponent {}", assumed_exponent);
    return out;
}

const char* words_of(const PlanCheck& check) {
    using Standing = PlanCheck::Standing;
    switch (check.standing) {
        case Standing::tighter_than_all_best: return "tighter than the best work everywhere";
        case Standing::better: return "better than expected, near the best work everywhere";
        case Standing::worse: return "worse than expected: go through the list from the top";
        case Standing::leakier_than_all_poor:
            return "leakier than poor work everywhere explains: look for a hole that is not in the plan, "
                   "then go "
                   "through the list from the top";
        case Standing::within: break;
    }
    return check.over_typical > 0.0 ? "as expected, on the leaky side" : "as expected, on the tight side";
}

HouseTightness of_test(const TestResult& test) {
    const TestFigures& f = test.figures;
    HouseTightness out{.from = HouseTightness::From::measured,
                       .coefficient = f.coefficient,
                       .exponent = f.exponent,
                       .at_50_pa = f.at_50_pa.value,
                       .air_change = test.air_change ? test.air_change->value : 0.0,
                       .at_50_pa_low = f.at_50_pa.low,
                       .at_50_pa_high = f.at_50_pa.high,
                       .words = words_of(test)};
    out.origin = {.kind = Origin::Kind::house_file, .source = "blower-door test by " + test.standard};
    return out;
}

HouseTightness of_flow(double at_50_pa, const SealingPlan& plan) {
    HouseTightness out{.exponent = plan.exponent, .at_50_pa = at_50_pa};
    out.coefficient = at_50_pa / std::pow(50.0, out.exponent);
    out.at_50_pa_low = out.at_50_pa_high = at_50_pa;
    if (plan.volume > 0.0) out.air_change = at_50_pa / plan.volume;
    return out;
}

}  // namespace

TestedHouse tested_house(const assembly::House& house) {
    const auto areas = assembly::areas(house);
    TestedHouse out{.volume = areas.volume, .floor_area = areas.floor};
    double top = areas.ceiling + areas.roof;
    // Without a roof in the file the lowest floor stands for the top.
    if (top <= 0.0) top = areas.ground_floor;
    out.envelope_area = areas.walls_gross + top + areas.ground_floor;
    return out;
}

Result<HouseTightness> tightness(const assembly::House& house, const SealingPlan& plan,
                                 const TestResult* test) {
    if (test && test->valid()) {
        HouseTightness out = of_test(*test);
        if (out.air_change <= 0.0 && plan.volume > 0.0) out.air_change = out.at_50_pa / plan.volume;
        return out;
    }
    HouseTightness out;
    if (house.air.blower_door >= 0.0) {
        if (plan.volume <= 0.0)
            return fail(Code::missing, "the air change at 50 Pa is stated, but the house has no volume",
                        house.air.origin.where);
        out = of_flow(house.air.blower_door * plan.volume, plan);
        out.from = HouseTightness::From::stated;
        out.words = "as stated";
        out.origin = house.air.origin;
    } else {
        out = of_flow(plan.at_50_pa.independent.typical, plan);
        out.at_50_pa_low = plan.at_50_pa.independent.best;
        out.at_50_pa_high = plan.at_50_pa.independent.poor;
        out.words = "expected by the sealing plan";
        out.origin = plan.origin;
    }
    // The worst finding is the reason.
    if (test) out.words += fmt::format("; the test does not count: {}", test->findings.front().what);
    return out;
}

PlanCheck compare(const TestResult& test, const SealingPlan& plan) {
    PlanCheck out;
    out.measured = area_of_flow(test.figures.at_50_pa.value, 50.0, plan.exponent, plan.density);
    const Workmanship& expected = plan.area.independent;
    out.over_typical = out.measured - expected.typical;
    const Workmanship& all = plan.area.alike;
    using Standing = PlanCheck::Standing;
    out.standing = out.measured < all.best        ? Standing::tighter_than_all_best
                   : out.measured < expected.best ? Standing::better
                   : out.measured > all.poor      ? Standing::leakier_than_all_poor
                   : out.measured > expected.poor ? Standing::worse
                                                  : Standing::within;
    out.words = fmt::format("measured {:.0f} cm2 at 4 Pa, expected {:.0f} ({:.0f} to {:.0f}): ",
                            out.measured / square_centimetre, expected.typical / square_centimetre,
                            expected.best / square_centimetre, expected.poor / square_centimetre);
    out.words += words_of(out);
    return out;
}

}  // namespace warmside::leakage
