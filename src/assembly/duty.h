// What each framed layer does: the one answer to "which layer carries" for framing, structure, take-off and
// heat.
#pragma once

#include <optional>
#include <vector>

#include "assembly/assembly.h"

namespace warmside::assembly {

enum class Duty {
    none,     ///< no members
    bearing,  ///< the frame that carries
    second,   ///< a further frame: the inner one of a double-stud wall, an outrigger of I-joists or trusses
    furring,  ///< inside of the bearing frame
    batten    ///< outside of it
};

/// Members at least this deep make a frame when they stand upright, a 2x3 on edge among them; shallower ones
/// are strips. Common practice, no source.
inline constexpr Exact least_frame_depth = Exact::millimetres(60);

/// One per layer. Nothing from the first ventilated layer outwards is a frame: it carries cladding.
///
/// bearing  of the frames (upright members of 60 mm or more, also along a roof's or a floor's run), in a wall
///          those of solid members before I-joists and trusses, then the deepest, of equals the one that OSB
///          or plywood is nailed to, then the outermost. Without a frame the deepest upright strips, else the
///          deepest members of any run.
/// second   the other frames; I-joists and trusses however they run
/// Source   common practice, no source
[[nodiscard]] std::vector<Duty> duties_of(const Assembly& assembly);

/// The layer whose duty is bearing; nothing where no layer has members.
[[nodiscard]] std::optional<std::size_t> bearing_layer(const Assembly& assembly);

/// True of a layer whose members stand upright and are deep enough for a frame.
[[nodiscard]] bool is_frame(const Layer& layer);

}  // namespace warmside::assembly
