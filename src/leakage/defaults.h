// What is taken where the house file does not say: data/leakage/defaults.toml.
#pragma once

#include <string_view>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::leakage {

struct Defaults {
    double at_50_pa = 0.0;            ///< m3/(s m2) through the assembly itself
    double exponent = 0.0;            ///< of the pressure
    double through_assemblies = 0.0;  ///< share of the blower-door figure
    double storey = 0.0, strip = 0.0; ///< m: a joint gathers a storey's flow and wets a strip
    double side = 0.0, height = 0.0, floor_to_floor = 0.0;  ///< m, of the house without storeys
    Origin assembly, blower_door, concentrated, house;
    /// How much more flow the strip at a joint passes than the face.
    [[nodiscard]] double concentration() const { return storey / strip; }
};

/// Problem: syntax, a missing key, a value outside its limits, with place.
[[nodiscard]] Result<Defaults> read_defaults(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<Defaults>& defaults();

}  // namespace warmside::leakage
