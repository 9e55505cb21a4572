// How leaky the whole house is.
#pragma once

#include <string>

#include "assembly/assembly.h"
#include "base/result.h"
#include "leakage/envelope.h"

namespace warmside::leakage {

/// Q = at_50_pa (dp/50)^exponent, over walls and top together.
struct HouseLeakage {
    double at_50_pa = 0.0;  ///< m3/s, all leaks: windows, ducts and joints too
    double exponent = 0.0;
    std::string from;  ///< "from the blower door", "as stated", "assumed: ..."
    Origin origin;
    [[nodiscard]] double at(double pressure) const;  ///< m3/s at a pressure difference, Pa
    /// m2, ELA at 4 Pa with discharge coefficient 1 and air of 1.204 kg/m3.  Q_4 sqrt(rho / (2 x 4))
    /// Source  ASTM E779 (memory)
    [[nodiscard]] double area() const;
};

/// By the blower-door figure; else what leaks through the assemblies (as stated, or the class of the walls'
/// outer layers) over the share of it in the whole (data/leakage/defaults.toml).
/// Problem  the defaults cannot be read
[[nodiscard]] Result<HouseLeakage> house_leakage(const assembly::House& house, const Envelope& envelope);

/// What the outer walls are built as: the first face's own, else the first rung of the wall ladder, else the
/// first wall of the file. Null without any.
[[nodiscard]] const assembly::Assembly* outer_wall(const assembly::House& house);

}  // namespace warmside::leakage
