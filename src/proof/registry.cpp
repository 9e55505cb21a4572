#include <array>

#include "proof/field.h"
#include "proof/runner.h"

namespace warmside::proof {

const Operation* operation(std::string_view name) {
    const std::array rooms{air_operations(),      climate_operations(),     climate_generator_operations(),
                           material_operations(), assembly_operations(),    thermal_operations(),
                           junction_operations(), leakage_operations(),     moisture_operations(),
                           ground_operations(),   conduction_operations(),  moisture_solver_operations(),
                           framing_operations(),  structure_operations(),   takeoff_operations(),
                           rules_operations(),    house_money_operations(), house_glass_operations(),
                           field_operations()};
    for (const auto& room : rooms) {
        for (const Operation& each : room) {
            if (each.name == name) return &each;
        }
    }
    return nullptr;
}

}  // namespace warmside::proof
