// What a published check can ask for: one named computation, SI in, SI out.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "units/toml.h"

namespace warmside::proof {

/// The `given` table of a case. Values are texts with units, numbers, lists or tables; use units::TableReader
/// or the readers below. A missing or bad value is a Problem with its place.
using Given = toml::table;

/// Results by name; a single value is a list of one. SI.
using Outcome = std::map<std::string, std::vector<double>, std::less<>>;

struct Operation {
    std::string_view name;  ///< "air.saturation_over_water"
    Result<Outcome> (*run)(const Given& given);
};

// One list a room, each in <room>_operations.cpp; registry.cpp joins them.
[[nodiscard]] std::span<const Operation> air_operations();
[[nodiscard]] std::span<const Operation> climate_operations();
[[nodiscard]] std::span<const Operation> climate_generator_operations();
[[nodiscard]] std::span<const Operation> material_operations();
[[nodiscard]] std::span<const Operation> assembly_operations();
[[nodiscard]] std::span<const Operation> thermal_operations();
[[nodiscard]] std::span<const Operation> junction_operations();
[[nodiscard]] std::span<const Operation> leakage_operations();
[[nodiscard]] std::span<const Operation> moisture_operations();
[[nodiscard]] std::span<const Operation> moisture_solver_operations();
[[nodiscard]] std::span<const Operation> ground_operations();
[[nodiscard]] std::span<const Operation> conduction_operations();
[[nodiscard]] std::span<const Operation> structure_operations();
[[nodiscard]] std::span<const Operation> takeoff_operations();
[[nodiscard]] std::span<const Operation> framing_operations();
[[nodiscard]] std::span<const Operation> rules_operations();
[[nodiscard]] std::span<const Operation> house_money_operations();
[[nodiscard]] std::span<const Operation> house_glass_operations();

}  // namespace warmside::proof
