// What the checks of a model share: a problem into the list, a length in words. Inner part of check.h.
#pragma once

#include <fmt/format.h>
#include <string>

#include "base/result.h"
#include "units/quantity.h"

namespace warmside::assembly {

inline void add(Problems& problems, Severity severity, Code code, std::string what, const Place& where,
                std::string suggestion = {}) {
    problems.push_back({.code = code,
                        .severity = severity,
                        .what = std::move(what),
                        .suggestion = std::move(suggestion),
                        .where = where});
}

/// "8 ft 1 1/8 in (2.467 m)"
[[nodiscard]] inline std::string feet(units::Exact length) {
    return fmt::format("{} ({:.3f} m)", units::feet_inches(length.metres()), length.metres());
}

}  // namespace warmside::assembly
