// Where in the house an assembly stands: what lies beyond its outer face, in figures.
#pragma once

#include <string>
#include <vector>

#include "answer/places.h"
#include "base/digest.h"
#include "moisture/beyond.h"

namespace warmside::answer {

struct Setting {
    enum class Kind { wall, roof, attic, crawl_space, open_air, basement_wall, slab, inside };
    Kind kind = Kind::wall;
    std::string words;   ///< for the verdict's basis; empty: nothing to say
    std::string absent;  ///< kind inside: why there is no verdict
    // Roofs and attics.
    double pitch = 0.0;  ///< rad
    enum class Slopes { any, north_south, east_west } slopes = Slopes::any;
    double vents = 0.0;                 ///< free area per m2; of a crawl space too
    double rise = 0.0;                  ///< m, low to high vents
    double height = 0.0;                ///< m3 of air per m2; of a crawl space too
    double area = 1.0;                  ///< m2 of deck per m2
    std::vector<assembly::Layer> deck;  ///< from the attic outwards
    double solar_absorptance = 0.85, emissivity = 0.9;
    // Crawl spaces.
    double air_change = 0.0, wall_loss = 0.0;  ///< 1/s, W/(m2 K)
    std::vector<assembly::Layer> cover;        ///< on the ground; empty: bare
    // Ground.
    climate::Soil soil;
    double soil_humidity = 0.99;
    moisture::FloorOnGround floor;
    double depth = 0.0, above_grade = 0.0;  ///< m, of a basement wall
};

/// From the roofs, floors and foundations of the house that are built with the assembly; what the file does
/// not say is taken as docs/methods/moisture.md has it, and said in `words`. Layers point into the house's
/// catalogue.
[[nodiscard]] Setting setting_of(const assembly::House& house, const assembly::Assembly& assembly);

void add(Digest& digest, const Setting& setting);

/// The cases that an assembly in this setting is run for, each in both weathers. Walls: those of `around`.
/// Problem: a floor whose size the ground's method refuses.
[[nodiscard]] Result<std::vector<FaceCase>> faces_of(const assembly::House& house, const Surroundings& around,
                                                     const Setting& setting);

}  // namespace warmside::answer
