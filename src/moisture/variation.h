// One run with one thing changed: a driver taken away, or something that the builder could do otherwise.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "moisture/simulate.h"
#include "moisture/verdict.h"

namespace warmside::moisture {

/// A run and what it owns of its own; everything else still belongs to the run that it was made from.
struct Trial {
    Run run;
    std::shared_ptr<const assembly::Assembly> assembly;
    std::shared_ptr<const climate::FaceWeather> outside;
    std::shared_ptr<const climate::Indoor> inside;
    std::shared_ptr<const std::vector<double>> air;
    explicit Trial(const Run& from) : run(from) {}
};

inline constexpr std::array all_drivers{Driver::indoor_vapour, Driver::rain, Driver::sun,
                                        Driver::built_in_water, Driver::air_leakage};

/// Relative humidity in which all materials start when their built-in water is taken away.
inline constexpr double dry_start = 0.5;

/// The run with one driver taken away and nothing else changed; nothing where the run does not have the
/// driver.
///
///   vapour from inside  the room's air never holds more vapour than the air outside. (A vapour-tight room
///   face would
///                       also stop drying towards the room, and so charge a leak's water to the room.)
///   rain                none falls on the face and none leaks in
///   sun                 no short wave on the face
///   built-in water      all materials start in balance with `dry_start`
///   air leakage         no air through the assembly
[[nodiscard]] std::optional<Trial> without(const Run& run, Driver driver);
/// All of them at once; the sun, which dries more often than it wets, if asked.
[[nodiscard]] Trial without_any(const Run& run, bool sun_too);

/// kg/(m2 a) of driving rain on the run's face.
[[nodiscard]] double yearly_rain(const Run& run);
/// The share of the driving rain that leaks in, the assembly's own resolved.
[[nodiscard]] double rain_leak_of(const Run& run);

/// Something to change, for any run of the assembly.
struct Candidate {
    std::string what;
    std::function<Trial(const Run&)> apply;
};

/// What fits this assembly and this run: a variable retarder, open boards for foam outside, a ventilated
/// cavity, more wool outside, drier indoor air, half the leaks, a drier or later closing in, another colour
/// of a roof.
[[nodiscard]] std::vector<Candidate> candidates(const Run& run);

}  // namespace warmside::moisture
