// Families of materials and what their members have in common.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "material/material.h"

namespace warmside::material {

/// Defaults of a family; single keys of a row override them.
struct Family {
    std::string_view name;
    bool wood = false;
    bool insulation = false;
    std::string_view hatch;
    MouldClass mould = MouldClass::medium_resistant;
    double start_humidity = 0.8;
};

/// By name, null if none.
[[nodiscard]] const Family* family_of(std::string_view name);
[[nodiscard]] std::vector<std::string> family_names();

}  // namespace warmside::material
