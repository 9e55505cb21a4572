// The R stair: from the label to the face, tread by tread.
#pragma once

#include "thermal/layering.h"

namespace warmside::thermal {

/// R after each counted tread, m2 K/W, in the order of the stair.
struct StairValues {
    double label = 0.0;
    double boards = 0.0;
    double air_spaces = 0.0;
    double films = 0.0;
    double temperature = 0.0;
    double studs = 0.0;
    double furring = 0.0;
    double fasteners = 0.0;        ///< clear-field R
    std::optional<double> plates;  ///< face R; nothing without a published fraction
};

/// The treads up to and with "temperature": resistances along the bay, no member in it.
[[nodiscard]] StairValues bay_values(const assembly::Assembly& assembly, const States& winter);

/// The cell with its structural members only.
[[nodiscard]] Cell without_furring(Cell cell);

/// Treads with words, inch-pound first. `part` settles what the missing treads say.
[[nodiscard]] std::vector<Tread> stair(const StairValues& values, assembly::Part part);

}  // namespace warmside::thermal
