// Blower-door test: from readings to leakage coefficient and exponent, air change, leakage areas, and what is
// wrong with the test.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "leakage/blower_door_readings.h"
#include "leakage/blower_door_rules.h"
#include "leakage/power_fit.h"

namespace warmside::leakage {

/// What is to be said of a test, worst first.
struct TestFinding {
    enum class Weight {
        note,    ///< taken as said; the figure stands
        breach,  ///< the standard asks otherwise; the figure stands, with less trust
        invalid  ///< the test does not count
    };
    Weight weight = Weight::note;
    std::string what;    ///< "the exponent is 0.43, outside 0.5 to 1"
    std::string clause;  ///< "ISO 9972:2015, 6.2 and annex C"; empty: none
    std::string advice;  ///< what to do about it, or empty
    Place where;
};

/// One direction, or the mean of both. Areas m2.
struct TestFigures {
    double coefficient = 0.0, exponent = 0.0;  ///< m3/(s Pa^n) at reference air; n
    Estimate at_50_pa;                         ///< m3/s
    double ela = 0.0;                          ///< 4 Pa, discharge coefficient 1 (astm-e779)
    double eqla = 0.0;                         ///< 10 Pa, discharge coefficient 0.611 (Canadian practice)
    double iso_ela = 0.0;  ///< 10 Pa, discharge coefficient 1, air of 1.20 kg/m3 (iso-9972)
};

struct TestDirection {
    bool depressurise = true;
    bool single_point = false;     ///< then the exponent is assumed
    double baseline = 0.0;         ///< Pa, taken off
    std::vector<double> pressure;  ///< [n] Pa, baseline off; the sign kept
    std::vector<double> flow;      ///< [n] m3/s through the envelope
    std::optional<PowerFit> fit;   ///< of these; the coefficient before the correction to reference air
    double air_factor = 1.0;       ///< on the coefficient: to reference air
    TestFigures figures;
};

/// For what the readings do not state: zero is unknown.
struct TestedHouse {
    double volume = 0.0;                           ///< m3
    double envelope_area = 0.0, floor_area = 0.0;  ///< m2
};

struct TestResult {
    std::string name, date, standard;
    std::vector<TestDirection> directions;
    TestFigures figures;  ///< of the one direction, or the mean of both: flows, areas and exponents each
    TestedHouse house;
    std::optional<Estimate> air_change;         ///< 1/s at 50 Pa
    std::optional<Estimate> per_envelope_area;  ///< m3/(s m2) at 50 Pa
    std::optional<Estimate> per_floor_area;     ///< m3/(s m2) at 50 Pa
    bool single_point = false;                  ///< in any direction
    std::vector<TestFinding> findings;          ///< worst first
    [[nodiscard]] bool valid() const;           ///< no finding is `invalid`
};

inline constexpr double assumed_exponent = 0.65;  ///< of a single-point test (memory: usual for houses)

/// Baseline, density, fit, areas and findings.
///
///   dp = read - mean of (mean before, mean after)
///   q_env = q T_out/T_in drawing out, q T_in/T_out blowing in      (mass: the fan passes the other air)
///   C_L = C_env (rho/rho_0)^(1-n) [(mu/mu_0)^(2n-1) by E779]        rho, mu of the air that passes the leaks
///   ELA = C (rho_0/2)^0.5 4^(n-0.5)    EqLA = Q(10 Pa) / (0.611 sqrt(20/rho_0))
///   ELA by ISO = C (1.20/2)^0.5 10^(n-0.5)
///
/// Air is dry; mu by Sutherland. Without both temperatures nothing is corrected, and a finding says so.
/// Limits of the mean of two directions: half-widths as of independent errors.
///
/// readings  as read_blower_door gives them
/// house     volume and areas where the readings have none
/// Problem   the rules cannot be read; a baseline that leaves a pressure of the wrong sign, with its place
/// Source    iso-9972, astm-e779 (memory); check: proof/leakage/blower-door.toml
[[nodiscard]] Result<TestResult> blower_door(const TestReadings& readings, TestStandard standard,
                                             const TestedHouse& house = {});

/// Against a largest air change at 50 Pa.
struct LimitCheck {
    double limit = 0.0, measured = 0.0;  ///< 1/s
    bool passes = false;   ///< by the value itself, as codes read it; never where the test is invalid
    bool certain = false;  ///< and both 95 % limits lie on the same side
    std::string words;     ///< "0.58 air changes at 50 Pa, 0.60 allowed: passes ..."
};
/// Problem  missing: no volume is known
[[nodiscard]] Result<LimitCheck> against(const TestResult& test, double limit);

}  // namespace warmside::leakage
