#include "assembly/services.h"

namespace warmside::assembly {

const char* name_of(Fuel fuel) {
    switch (fuel) {
        case Fuel::electricity: return "electricity";
        case Fuel::natural_gas: return "natural gas";
        case Fuel::propane: return "propane";
        case Fuel::heating_oil: return "heating oil";
        case Fuel::wood: return "wood";
    }
    return "";
}

const char* name_of(Penetration::Kind kind) {
    using enum Penetration::Kind;
    switch (kind) {
        case pipe: return "pipe";
        case wire: return "wire";
        case duct: return "duct";
        case flue: return "flue";
        case hatch: return "hatch";
        case recessed_light: return "recessed light";
        case other: return "other";
    }
    return "";
}

}  // namespace warmside::assembly
