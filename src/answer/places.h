// The weather stage: years, faces and indoor air of one house.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "answer/answer.h"
#include "leakage/air_flow.h"

namespace warmside::answer {

/// One face of the house in one weather.
struct FaceCase {
    std::string name;  ///< "north", "east"
    climate::Plane plane;
    bool stressed = false;
    climate::FaceWeather outside;
    std::shared_ptr<const moisture::Beyond> beyond;  ///< null: the weather meets the assembly
    bool always = false;  ///< run in full however it compares: a place of another kind than the other faces
};

/// Everything the runs need of the outside; made once for a place.
struct Surroundings {
    Weather summary;
    climate::Year typical, stressed;
    climate::Indoor indoor_typical, indoor_stressed;
    leakage::Pressures pressures_typical, pressures_stressed;
    std::vector<FaceCase> walls;  ///< eight faces from north, clockwise, each in both weathers
    double wall_rain = 0.0;       ///< kg/(m2 a) on the wettest wall, typical year
};

/// Problem: an unknown place, no weather at all.
[[nodiscard]] Result<climate::Year> year_of(const assembly::House& house, const Ask& ask);
[[nodiscard]] Result<Surroundings> surroundings(const assembly::House& house, climate::Year typical);
/// The faces of a roof of this tilt, eight (one if it is flat), each in both weathers.
[[nodiscard]] std::vector<FaceCase> roof_faces(const assembly::House& house, const Surroundings& around,
                                               double tilt);

}  // namespace warmside::answer
