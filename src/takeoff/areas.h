// Areas of panels and of their layers: the one source for materials, fasteners, hours and money per m2.
#pragma once

#include "assembly/assembly.h"
#include "framing/frame.h"

namespace warmside::takeoff {

/// m2 of the sheets placed in a layer (-1: a deck that no assembly describes), cut-outs out; 0 where none
/// are.
[[nodiscard]] double placed_area(const framing::Panel& panel, int layer);

/// m2 of a panel's inner face: of a wall internal length x height, rough openings out; of a gable wall
/// what its lining covers; of any other panel, and of a gable without lining, its largest layer of sheets,
/// else the outline of its frame.
[[nodiscard]] double face_area(const assembly::House& house, const framing::Panel& panel);

/// m2 of a layer: of its own sheets; else of the largest layer of sheets on its side of the structural layer
/// (on a wall only outside of it); else of the inner face.
[[nodiscard]] double layer_area(const assembly::House& house, const framing::Panel& panel, int layer);

}  // namespace warmside::takeoff
