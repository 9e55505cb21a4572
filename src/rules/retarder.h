// The vapour retarder of a wall: which layer it is, its class dry, and what it does wet.
#pragma once

#include <optional>
#include <string>

#include "assembly/assembly.h"
#include "rules/layers.h"
#include "rules/tables.h"

namespace warmside::rules {

/// A sheet, board or paint by its permeances.
struct Retarder {
    std::string name;                   ///< "variable retarder, medium"
    std::string vapour_class = "none";  ///< "I", "II", "III", or "none" above 10 perm
    double dry = 0.0;                   ///< kg/(s m2 Pa), dry cup (mean humidity 25 %)
    double wet = 0.0;                   ///< wet cup (75 %)
    Origin origin;                      ///< of the permeance
    std::size_t layer = 0;
};

/// Class by dry cup. Limits of the edition's "class" table.
[[nodiscard]] std::string class_of(double dry, const Tables& tables, Zone zone);

/// The tightest of the layers and paints inside of the frame that carries (without a frame: inside of the
/// first insulation). Nothing where no layer stands there.
[[nodiscard]] std::optional<Retarder> inner_retarder(const assembly::Assembly& assembly,
                                                     const Insulation& insulation, const Tables& tables,
                                                     Zone zone);
/// The tightest from the frame out to the first ventilated layer.
[[nodiscard]] std::optional<Retarder> outer_retarder(const assembly::Assembly& assembly,
                                                     const Insulation& insulation, const Tables& tables,
                                                     Zone zone);

}  // namespace warmside::rules
