// How airtight the house is: measured, stated, or expected by its sealing plan.
#pragma once

#include <optional>
#include <string>

#include "leakage/blower_door.h"
#include "leakage/sealing.h"

namespace warmside::leakage {

/// Volume and areas for a test whose readings have none: internal dimensions, walls gross with gables, top,
/// lowest floor (iso-9972: all that borders the volume tested, below grade too). Zero without storeys.
[[nodiscard]] TestedHouse tested_house(const assembly::House& house);

/// The whole house's leak, Q = C dp^n.
struct HouseTightness {
    enum class From { measured, stated, expected };
    From from = From::expected;
    double coefficient = 0.0, exponent = 0.0;  ///< m3/(s Pa^n)
    double at_50_pa = 0.0;                     ///< m3/s
    double air_change = 0.0;                   ///< 1/s at 50 Pa; 0: no volume is known
    /// m3/s at 50 Pa: 95 % limits of a fit, best and poor of a plan (independent parts); equal where not
    /// known.
    double at_50_pa_low = 0.0, at_50_pa_high = 0.0;
    std::string words;  ///< "measured on 2025-03-14", "as stated", "expected by the sealing plan"
    Origin origin;
};

/// A test that counts comes first, then `[air] blower_door` of the house file, then the plan's typical
/// figure. A test that does not count is passed over, and `words` says so. A stated figure takes the plan's
/// exponent.
///
/// Problem  missing: a stated air change but no volume
[[nodiscard]] Result<HouseTightness> tightness(const assembly::House& house, const SealingPlan& plan,
                                               const TestResult* test = nullptr);

/// A measured house against its plan.
struct PlanCheck {
    /// By the range of independent parts (`within`) and, beyond it, that of the sums.
    enum class Standing { tighter_than_all_best, better, within, worse, leakier_than_all_poor };
    Standing standing = Standing::within;
    double measured = 0.0;      ///< m2 at 4 Pa, discharge coefficient 1, with the plan's exponent
    double over_typical = 0.0;  ///< m2, what leaks beyond the typical; below zero: less
    std::string words;
};
/// By the flow at 50 Pa, carried to an area with the plan's exponent, so that plan and test compare like with
/// like at the pressure that was measured.
[[nodiscard]] PlanCheck compare(const TestResult& test, const SealingPlan& plan);

}  // namespace warmside::leakage
