// Reference design values of graded dimension lumber, and the factors on them.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/origin.h"

namespace warmside::structure {

/// Actual size, m: the narrow face and the depth in the direction of bending.
struct Size {
    double breadth = 0.0;
    double depth = 0.0;
    [[nodiscard]] double area() const { return breadth * depth; }
    [[nodiscard]] double modulus() const { return breadth * depth * depth / 6; }           ///< S, m3
    [[nodiscard]] double inertia() const { return breadth * depth * depth * depth / 12; }  ///< I, m4
};

/// NDS reference design values and size factors for one size of one grade. Pa.
struct Lumber {
    std::string species, grade;
    double bending = 0.0;                               ///< Fb
    double shear = 0.0;                                 ///< Fv
    double across = 0.0;                                ///< Fc perpendicular to the grain
    double compression = 0.0;                           ///< Fc along it
    double modulus = 0.0;                               ///< E
    double stability = 0.0;                             ///< Emin
    double gravity = 0.0;                               ///< specific gravity G, for fasteners
    double size_bending = 1.0, size_compression = 1.0;  ///< CF
    Origin origin;                                      ///< of the design values
    Origin size_origin, gravity_origin;
};

/// The values for a size of dimension lumber, 1 1/2 in thick and 3 1/2 to 11 1/4 in deep, dry.
///
/// species  "spruce-pine-fir", "douglas fir-larch", "hem-fir", "southern pine"
/// grade    "Select Structural", "No. 1", "No. 2", "No. 3", "Stud"; Stud of 2x8 and deeper counts as No. 3
/// Nothing  for any other size (Nordic, rough-sawn), species or grade ("none"): an engineer decides
/// Source   data/structure/lumber.toml; check: proof/structure/columns.toml
[[nodiscard]] std::optional<Lumber> lumber_of(std::string_view species, std::string_view grade,
                                              const Size& size);

/// "2x6" for a dry size of dimension lumber; empty for any other.
[[nodiscard]] std::string nominal_of(const Size& size);

/// Load duration CD and the repetitive member factor Cr, NDS 2018 Table 2.3.2 and 4.3.9.
struct Durations {
    double dead = 0.0, live = 0.0, snow = 0.0, construction = 0.0, wind = 0.0;
    double repetitive = 0.0;
    Origin origin, construction_origin;
    /// Of one of the durations above.
    [[nodiscard]] const Origin& origin_of(double duration) const {
        return duration == construction ? construction_origin : origin;
    }
};
[[nodiscard]] const Durations& durations();

}  // namespace warmside::structure
