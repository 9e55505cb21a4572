// Where the heat goes: losses of the rooms by part.
#pragma once

#include <vector>

#include "house/build.h"
#include "house/simulate.h"

namespace warmside::house {

/// One line for each name that a Building's elements and links carry, in their order of appearance, and
/// "stored in inner walls and floors", which takes the rooms' air and furniture too.
///
///   year    sum over the heated hours of -(flow into the rooms) x share, J
///   design  the same of the steady house, W;  conductance  design/(indoors - outdoors), W/K
///
/// Heated hours are those in which the system gives the rooms heat, from the second hour of the run on (what
/// the air stored in the first is not known). Then the lines sum to heating + gains, in the year and at
/// design (losses_test). Heat that goes out by way of an attic counts where it leaves the rooms.
///
/// hourly, run     an hourly Building with its first-order run from hour 0
/// design, steady  the steady Building of the same input and its `steady`
/// outdoors        K, BuildInput::design
/// Problem         conflict: the two buildings do not have the same parts; incomplete: a run of other parts
[[nodiscard]] Result<std::vector<Loss>> losses(const Building& hourly, const Run& run, const Building& design,
                                               const Steady& steady, double outdoors);

/// J, heat given to the rooms in the heated hours that `losses` counts: by the system and as gains.
struct Given {
    double heating = 0.0, gains = 0.0;
};
[[nodiscard]] Given given(const Building& hourly, const Run& run);

}  // namespace warmside::house
