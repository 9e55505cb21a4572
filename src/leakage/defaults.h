// What is taken where the house file does not say: data/leakage/defaults.toml.
#pragma once

#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::leakage {

struct Defaults {
    std::vector<double> permeance;     ///< kg/(s m2 Pa), rising: upper limits of all classes but the last
    std::vector<double> at_75_pa;      ///< m3/(s m2) through the assembly itself, one more than `permeance`
    double exponent = 0.0;             ///< of the pressure
    double through_assemblies = 0.0;   ///< share of the blower-door figure
    double storey = 0.0, strip = 0.0;  ///< m: a joint wets a strip with a share of a storey's flow
    double gathers = 0.0;              ///< that share
    double side = 0.0, height = 0.0, floor_to_floor = 0.0;  ///< m, of the house without storeys
    Origin assembly, blower_door, concentrated, house;
    /// How much more flow the strip at a joint passes than the face.
    [[nodiscard]] double concentration() const { return gathers * storey / strip; }
};

/// Problem: syntax, a missing key, a value outside its limits, with place.
[[nodiscard]] Result<Defaults> read_defaults(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<Defaults>& defaults();

}  // namespace warmside::leakage
