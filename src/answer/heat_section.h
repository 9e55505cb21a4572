// Solved pieces of a house whose temperatures and heat flow are drawn: clear-field cells, junctions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"
#include "base/stop.h"
#include "conduction/steady.h"
#include "thermal/junction.h"
#include "thermal/worth.h"

namespace warmside::answer {

/// A conduction problem with its solution at the temperatures that it is shown for.
struct HeatSection {
    std::string name;   ///< "clear field", "outer corner"
    std::string title;  ///< what people read over the picture
    conduction::Model model;
    conduction::Steady solution;
    std::vector<double> temperatures;          ///< [environment] K
    std::optional<conduction::Point> coldest;  ///< of the inner surface, m
    double coldest_temperature = 0.0;          ///< K
    std::optional<double> factor;              ///< its temperature factor
    std::string factor_note;    ///< the film that both hold for, where the picture has another; a sentence
    bool upright = false;       ///< the picture stands with x up it, the room at the left
    bool upside_down = false;   ///< ... and x down it
    std::optional<double> psi;  ///< W/(m K), of a junction, internal dimensions
};

/// The repeating cell of an assembly, all members in it, at `conditions`.
/// Problem  those of thermal::winter_states and repeating_cell (unsupported: no members, nothing to draw) and
///          of conduction::steady
[[nodiscard]] Result<HeatSection> clear_field_section(const assembly::Assembly& assembly,
                                                      const thermal::Conditions& conditions,
                                                      const Control& control = {});

/// A junction as its rung has it, with the films of heat flow; the coldest place and f are those of the
/// junction, with Rsi 0.25.
/// Problem  those of conduction::steady
[[nodiscard]] Result<HeatSection> junction_section(const assembly::Assembly& assembly,
                                                   const thermal::Junction& junction,
                                                   const thermal::Conditions& conditions,
                                                   const Control& control = {});

}  // namespace warmside::answer
