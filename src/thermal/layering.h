// From an assembly to plies with resistances: once for winter (ISO 6946), once the handbook's way.
#pragma once

#include "assembly/assembly.h"
#include "thermal/cell.h"
#include "thermal/films.h"
#include "thermal/worth.h"

namespace warmside::thermal {

/// One layer as a method sees it.
struct LayerState {
    double fill = 0.0;                ///< m2 K/W, through the fill
    double conductivity = 0.0;        ///< W/(m K) of the fill; 0 for air and membranes
    double mean_temperature = 0.0;    ///< K
    double member_temperature = 0.0;  ///< K at which members in the layer are taken
    double counted = 1.0;             ///< share that counts: 0 outside a ventilated layer
    std::string note;
    [[nodiscard]] double resistance() const {
        return counted * fill;
    }  ///< m2 K/W, through the fill, as it counts
};

/// Every layer, and the films that go with them.
struct States {
    std::vector<LayerState> layers;
    Films films;  ///< outside: the film in force, behind a ventilated layer the inside one
    std::vector<double> temperatures;  ///< K at each interface, inside air first, outside air last
};

/// A slab or basement wall: its layers end at the ground, whose own resistance (ISO 13370, ground.h) depends
/// on the floor's area and perimeter and is not in the figures of the assembly.
[[nodiscard]] bool on_ground(const assembly::Assembly& assembly);

/// What cannot be: members deeper than their layer,
/// materials without conductivity.
[[nodiscard]] Result<void> check(const assembly::Assembly& assembly);

/// Package R of a layer, m2 K/W: stated in the file, else of the catalogue, else thickness over tested
/// conductivity. Zero for what is no insulation.
[[nodiscard]] double label_of(const assembly::Layer& layer);

/// Layers through which plates and headers run: the bearing frame and further ones (assembly/duty.h).
[[nodiscard]] std::vector<bool> structural_layers(const assembly::Assembly& assembly);

/// Interfaces along the bay, K: inside air, inner face, behind each layer, outside air. Behind a layer that
/// is open to outside air it is as cold as outside.
[[nodiscard]] std::vector<double> bay_profile(const States& states, const Conditions& conditions);

/// Conductivities at each layer's own mean temperature, air layers by ISO 6946; the temperatures along the
/// bay are found by iteration. Outside a ventilated layer nothing counts and the inside film stands there; a
/// slightly ventilated layer is taken at openings of 1000 mm2/m, so half of it and of what is outside it
/// counts. Over a ceiling or a roof marked vented the inside film stands outside too. Problem  out_of_range
/// of an air layer; not_converged
[[nodiscard]] Result<States> winter_states(const assembly::Assembly& assembly, const Conditions& conditions);

/// Handbook: package R of insulation, conductivities at 24 degC, handbook films and air spaces (10 degC mean,
/// 10 degF difference; ISO 6946 formula where the table has no row). Outside a ventilated or slightly
/// ventilated layer nothing counts; the outside film stays (over a ceiling or a vented roof: the inside
/// film).
[[nodiscard]] Result<States> handbook_states(const assembly::Assembly& assembly);

/// m2 K/W through the member of a framed layer, webs and unframed depth included.
[[nodiscard]] double through_member(const assembly::Layer& layer, const LayerState& state);

/// The repeating cell. Joists with webs become flange, web and flange plies (assembly::slices).
[[nodiscard]] Cell cell_of(const assembly::Assembly& assembly, const States& states);

}  // namespace warmside::thermal
