// The junctions of a house's outer walls: which there are, how long they are.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "framing/frame.h"
#include "thermal/junction.h"

namespace warmside::thermal {

struct PlacedJunction {
    JunctionDrawing drawing;
    double length = 0.0;  ///< m
};

struct HouseJunctions {
    std::vector<PlacedJunction> places;  ///< in the order of JunctionKind
    double wall_area = 0.0;              ///< m2, of the walls without openings, internal dimensions
    std::vector<std::string> notes;      ///< what is left out or taken as something else
};

/// Every junction of the outer walls, all of them built as `wall`, with lengths from the house's geometry:
/// corners by the turns of the outlines, rims where a storey stands on another, sills by floor and
/// foundation, eaves and gables by the roof's form, edges of windows and doors. Faces that name an assembly
/// outside the wall's ladder are left out. Partitions are those of the house file where it places any, else
/// as many as [details] says.
///
/// frame  the walls framed as `wall`: heads and jambs are then drawn with the headers and studs that stand
/// there,
///        one drawing for each kind of them; null: as [details] says
///
/// Problem  missing: no heated storey above ground, or no wall; those of buildup_of and of the ground's
/// method Source   lengths by internal dimensions (ISO 13789, ISO 14683; evidence: memory)
[[nodiscard]] Result<HouseJunctions> junctions_of(const assembly::House& house,
                                                  const assembly::Assembly& wall,
                                                  const Conditions& conditions,
                                                  const framing::Frame* frame = nullptr);

}  // namespace warmside::thermal
