#include "material/family.h"

#include <array>

namespace warmside::material {

namespace {

// Mould: sensitivity classes of Ojanen and others 2010 (quoted): spruce, paper-faced and glued boards are
// sensitive, concrete and mineral wool medium resistant, glass, metal and smooth foam resistant.
// Start: ASHRAE 160-2009, water content in balance with 80 %, concrete 90 % (memory).
constexpr std::array families{
    Family{"wood", true, false, "wood", MouldClass::sensitive},
    Family{"panel", true, false, "sheathing", MouldClass::sensitive},
    Family{"gypsum", false, false, "gypsum", MouldClass::sensitive},
    Family{"cement board", false, false, "plain", MouldClass::medium_resistant},
    Family{"batt", false, true, "batt", MouldClass::medium_resistant},
    Family{"loose fill", false, true, "batt", MouldClass::medium_resistant},
    Family{"board insulation", false, true, "board", MouldClass::medium_resistant},
    Family{"foam", false, true, "foam", MouldClass::resistant},
    Family{"masonry", false, false, "brick", MouldClass::medium_resistant},
    Family{"concrete", false, false, "concrete", MouldClass::medium_resistant, 0.9},
    Family{"plaster", false, false, "plain", MouldClass::medium_resistant},
    Family{"roofing", false, false, "plain", MouldClass::resistant},
    Family{"metal", false, false, "plain", MouldClass::resistant},
    Family{"glass", false, false, "plain", MouldClass::resistant},
    Family{"other", false, false, "plain", MouldClass::medium_resistant},
};

}  // namespace

const Family* family_of(std::string_view name) {
    for (const Family& family : families) {
        if (family.name == name) return &family;
    }
    return nullptr;
}

std::vector<std::string> family_names() {
    std::vector<std::string> out;
    for (const Family& family : families) out.emplace_back(family.name);
    return out;
}

}  // namespace warmside::material
