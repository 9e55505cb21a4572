// Cladding on furring that is screwed through exterior insulation, and furring inside.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "structure/dowel.h"

namespace warmside::structure {

struct FurringFastener {
    std::string name;       ///< "screw, No. 10"
    double nominal = 0.0;   ///< m, as sold
    double diameter = 0.0;  ///< m, root of the threads
    double yield = 0.0;     ///< Pa
    Origin origin;
    double penetration = 0.0;  ///< m into the framing, at least
    Origin penetration_origin;
};
/// The thickest fastener of the table that is not thicker than `diameter` (m); nothing thinner than all.
[[nodiscard]] std::optional<FurringFastener> fastener_up_to(double diameter);
[[nodiscard]] std::optional<FurringFastener> fastener_named(std::string_view name);

/// Largest thickness of 15 psi foam under 1x furring by table, m: 0 where the table says "design required".
/// weight Pa, spacing and furring m (the next larger column counts). Nothing outside the table.
/// Source  IRC 2021 Table R703.15.2
[[nodiscard]] std::optional<double> foam_limit(std::string_view fastener, double spacing, double furring,
                                               double weight);

/// Dead load that the rule behind the table gives one fastener across a gap, N: 0.72 of the smallest yield
/// mode, side 3/4 in, both woods of G 0.42. A fit of ours to the table, not published.
/// Check  proof/structure/cladding.toml
[[nodiscard]] double furring_capacity(const FurringFastener& fastener, double gap);
/// Thickness at which `furring_capacity` meets a load (N), m, 0 to 4 in. The table says "design
/// required" where it falls below 1/2 in.
[[nodiscard]] double foam_by_rule(const FurringFastener& fastener, double load);

/// Weight that one fastener carries, N: pressure x spacing x furring.
[[nodiscard]] double load_per_fastener(double weight, double spacing, double furring);

/// True for catalogue foams that reach 15 psi.
[[nodiscard]] bool is_strong_foam(std::string_view material);
[[nodiscard]] const Origin& strong_foam_origin();

struct InnerFurring {
    double diameter = 0.0, yield = 0.0, penetration = 0.0;  ///< of the nail at each crossing; m, Pa
    double box = 0.0;                                       ///< N, on one crossing
    double pull = 0.0;                                      ///< Pa on the lining
    Origin origin, pull_origin;
};
[[nodiscard]] const InnerFurring& inner_furring();

struct CladdingCaution {
    double load = 0.0;       ///< N per screw
    double thickness = 0.0;  ///< m
    Origin origin;
};
[[nodiscard]] const CladdingCaution& cladding_caution();
[[nodiscard]] const Origin& foam_origin();
[[nodiscard]] const Origin& furring_rule_origin();

}  // namespace warmside::structure
