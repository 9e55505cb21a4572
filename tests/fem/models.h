// Invented details, written out by hand: what is compared with finite elements.
#pragma once

#include "conduction/model.h"

namespace warmside::fem {

// In the plane.
[[nodiscard]] conduction::Model stud_wall();
[[nodiscard]] conduction::Model steel_stud();    ///< a C of steel 1.2 mm thick: jump 1:1400
[[nodiscard]] conduction::Model outer_corner();  ///< three studs
[[nodiscard]] conduction::Model rim_joist();     ///< three temperatures
[[nodiscard]] conduction::Model slab_edge();     ///< on ground, 4 m each way
[[nodiscard]] conduction::Model window_jamb();   ///< with a film of its own on the glazing
[[nodiscard]] conduction::Model eave();          ///< roof at 35 degrees
[[nodiscard]] conduction::Model rotated_wall();  ///< layers turned by 30 degrees, aligned with no axis
// Solid.
[[nodiscard]] conduction::Model stud_and_furring();  ///< one crossing
[[nodiscard]] conduction::Model steel_bracket();     ///< a plate through insulation
[[nodiscard]] conduction::Model sloped_roof();       ///< rafters along the slope, battens across

}  // namespace warmside::fem
