// What is not known, as JSON: null.
#pragma once

#include <cmath>
#include <optional>
#include <string>

#include "report/json.h"

namespace warmside::report {

[[nodiscard]] inline Json maybe(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? Json(*value) : Json(nullptr);
}
[[nodiscard]] inline Json maybe(const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
}

}  // namespace warmside::report
