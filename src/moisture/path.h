// What a straight line through an assembly meets: the bay between the members, or the members.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

struct Segment {
    enum class Kind { material, membrane, still_air, cavity };
    Kind kind = Kind::material;
    std::size_t layer = 0;
    const material::Material* material = nullptr;  ///< kind material
    double thickness = 0.0;                        ///< m
    bool first_of_layer = true, last_of_layer = true;
};

/// From inside to outside.
///
/// The framing path follows the member of the thickest framed layer. Other framed layers whose members run
/// the same way are met as members too; members that cross it (horizontal furring over vertical studs) meet
/// it at points only and count as bay. A solid member shallower than its layer stands at the layer's outer
/// side. Of an I-joist or truss the line meets both flanges (chords), with the fill between them: the web is
/// too thin for a line of its own. Battens in a ventilated cavity do not close it: their strip dries sideways
/// into the cavity.
[[nodiscard]] std::vector<Segment> path_through(const assembly::Assembly& wall, Path path,
                                                std::vector<std::string>& notes);

}  // namespace warmside::moisture
