// What a stud wall must be by the code's tables: spacing, kings, bores.
#pragma once

#include <optional>
#include <string_view>

#include "structure/wind.h"

namespace warmside::structure {

/// What an outer wall carries, as the columns of IRC Table R602.3(5).
enum class Supports { roof, one_floor_and_roof, two_floors_and_roof, one_floor, nothing };
[[nodiscard]] const char* name_of(Supports supports);  ///< "one floor and roof"

struct SpacingRule {
    double spacing = 0.0;  ///< m, the largest; 0: not allowed
    double height = 0.0;   ///< m, the tallest wall of the row
    Origin origin, height_origin;
};
/// nominal  "2x4", "2x6"; deeper studs take the row of 2x6. Nothing for others.
[[nodiscard]] std::optional<SpacingRule> largest_spacing(std::string_view nominal, Supports supports);

struct KingRule {
    int kings = 0;  ///< full-height studs at each side
    Origin origin;
};
/// For an opening of a width, m. Nothing outside IRC Table R602.7.5: wider than 18 ft, 140 mph in exposure B
/// or 130 mph in C and more, exposure D.
/// jacks  beside them; a header on hangers, or in the rim, asks for the table's first column in light winds
/// too
[[nodiscard]] std::optional<KingRule> kings_for(double width, double wind, Exposure exposure,
                                                bool jacks = true);

/// True for the lumber that IRC Table R602.7(1) holds for.
[[nodiscard]] bool header_lumber(std::string_view species, std::string_view grade);

/// Holes and notches in studs, shares of the depth (IRC R602.6).
struct Bores {
    double bore = 0.0, doubled_above = 0.0, notch_bearing = 0.0, notch_nonbearing = 0.0;
    double edge = 0.0;  ///< m of wood left at the edge
    Origin origin;
};
[[nodiscard]] const Bores& bores();

}  // namespace warmside::structure
