// How much of each kind of loss of the house is a room's.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "house/outcome.h"

namespace warmside::house {

struct RoomShare {
    std::string room;
    /// 0 to 1 of the house's line of each kind, by Loss::Kind; 1 summed over all rows.
    std::array<double, static_cast<std::size_t>(Loss::Kind::other) + 1> of{};
    [[nodiscard]] double share(Loss::Kind kind) const { return of[static_cast<std::size_t>(kind)]; }
    double floor = 0.0;    ///< m2
    double exposed = 0.0;  ///< m, of its edges along outer walls
    /// m2 of rough opening by House::faces.
    std::vector<double> openings;
};

/// A room owns of each outer wall what its edges cover, and of each opening what of it lies there.
///
///   wall                 net wall area             window, door   U x area (area where a U is not stated)
///   junction             length along outer walls  leakage        gross outer wall area
///   ceiling, roof        floor area under a roof   floor, ground  floor area of the lowest heated storey
///   ventilation, other   floor area, and every kind of which the house file shows nothing
///
/// What no room covers is a last row "other rooms", unless it is below 0.5 % of every kind. Ours, in ASHRAE's
/// spirit of exposed areas; gable triangles count evenly.
/// Problem  unknown_name: a room's storey is not there or not heated; incomplete: no heated storey
[[nodiscard]] Result<std::vector<RoomShare>> room_shares(const assembly::House& house);

}  // namespace warmside::house
