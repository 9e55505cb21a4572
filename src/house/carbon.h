// Carbon of making the materials of an assembly, and the carbon that its wood holds.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/assembly.h"
#include "house/outcome.h"

namespace warmside::house {

/// data/house/carbon.toml.
struct CarbonFactor {
    std::string name;
    std::vector<std::string> materials;
    std::optional<double> per_volume, per_mass;  ///< kg CO2e/m3 or kg/kg: one of them
    double biogenic = 0.0;                       ///< kg carbon per kg of dry mass, from the air
    Origin origin;
};
struct SheetFactor {
    std::string name;
    std::map<std::string, double, std::less<>> mass;  ///< by membrane, kg/m2
    double per_mass = 0.0;                            ///< kg CO2e/kg
    Origin origin;
};
struct CarbonTable {
    std::vector<CarbonFactor> factors;
    std::vector<SheetFactor> sheets;
};
/// Problem: syntax, a missing key, both or neither of the factors, a material twice, with its line.
[[nodiscard]] Result<CarbonTable> read_carbon(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<CarbonTable>& carbon_table();

/// An amount of a material, or of a membrane.
struct Amount {
    const material::Material* material = nullptr;
    double volume = 0.0;  ///< m3
    const material::Membrane* membrane = nullptr;
    double area = 0.0;  ///< m2
};

/// What an assembly holds over an area: fills, repeating members and membranes. Plates, headers, waste, laps
/// and fasteners come on top.
///
/// area     m2, of the face
/// members  share of the face of members beside the repeating ones (plates, headers), in the bearing layer
/// Problem  out_of_range: an area or share below 0, not finite
[[nodiscard]] Result<std::vector<Amount>> amounts_of(const assembly::Assembly& assembly, double area,
                                                     double members = 0.0);

/// Sums volume x per_volume, volume x dry density x per_mass, area x mass x per_mass; stored: volume x
/// density x biogenic x 44/12, which is beside and not taken off. A factor of `entered` goes before the
/// table's.
///
/// entered  kg CO2e/kg by name of material, from the user
/// Problem  the table cannot be read; out_of_range: an entered factor that is not finite
/// Check    proof/house/carbon.toml
[[nodiscard]] Result<Embodied> embodied(std::span<const Amount> amounts,
                                        const std::map<std::string, double, std::less<>>& entered = {});

}  // namespace warmside::house
