// How much the parts of an envelope leak: data/leakage/components.toml.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::leakage {

/// One figure by how well the crew works.
struct Workmanship {
    double best = 0.0, typical = 0.0, poor = 0.0;
    friend Workmanship operator*(double factor, const Workmanship& w) {
        return {factor * w.best, factor * w.typical, factor * w.poor};
    }
    Workmanship& operator+=(const Workmanship& w) {
        best += w.best;
        typical += w.typical;
        poor += w.poor;
        return *this;
    }
};

enum class Per { each, metre, square_metre };
[[nodiscard]] const char* name_of(Per per);  ///< "each", "m", "m2"

/// Effective leakage area at 4 Pa with a discharge coefficient of 1.
struct Component {
    std::string part;  ///< "outlet or switch, gasket"
    Per per = Per::each;
    std::string of;         ///< what a length is of: "joint", "crack", "sash"
    Workmanship area;       ///< m2 each, m2/m or m2/m2
    bool one_value = true;  ///< the table has no minimum and maximum: all three are the same
    Origin origin;
};

struct ComponentTable {
    std::vector<Component> rows;
    double pressure = 0.0;  ///< Pa, of the areas
    double exponent = 0.0;  ///< of the pressure
    double density = 0.0;   ///< kg/m3
    Origin origin;
    [[nodiscard]] const Component* find(std::string_view part) const;
};

/// Problem  syntax, a missing key, best above typical or typical above poor, a part twice; with place
/// Source   ashrae-f26-2001 (memory)
[[nodiscard]] Result<ComponentTable> read_components(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<ComponentTable>& components();

/// m3/s at a pressure difference (Pa) through an effective leakage area (m2) that holds at `pressure`:
///
///   Q = A sqrt(2 p_r / rho) (dp / p_r)^n,     discharge coefficient 1
///
/// Check   proof/leakage/components.toml (computed)
[[nodiscard]] double flow_of_area(double area, double pressure_difference, double exponent, double density,
                                  double pressure = 4.0);
/// The inverse: m2, from a flow (m3/s) at a pressure difference.
[[nodiscard]] double area_of_flow(double flow, double pressure_difference, double exponent, double density,
                                  double pressure = 4.0);

}  // namespace warmside::leakage
