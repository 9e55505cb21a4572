// What stands and happens in heated rooms where the house file does not say: data/house/rooms.toml. Gains
// and set-points hour by hour.
#pragma once

#include <string>
#include <string_view>

#include "assembly/services.h"
#include "base/origin.h"
#include "house/network.h"

namespace warmside::house {

struct RoomData {
    double dwelling = 0.0, per_floor = 0.0, per_bedroom = 0.0;  ///< W, W/m2, W
    double day_from = 0.0, day_to = 0.0, day_ratio = 1.0;       ///< h, h, day's rate over the night's
    double convective_gains = 0.0, convective_sun = 0.0;        ///< shares to the air
    double convective_radiators = 0.0, convective_warm_air = 1.0;
    double furniture = 0.0;                             ///< J/(m2 K), with the air
    double partitions = 0.0, lining = 0.0, deck = 0.0;  ///< m2/m2, m, m
    double basement_air = 0.0, closed_air = 0.0;        ///< 1/s
    Origin gains, day, convective, furniture_origin, partition_origin, unheated;
};
/// Problem: syntax, a missing key, a value outside its limits, with place.
[[nodiscard]] Result<RoomData> read_rooms(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<RoomData>& room_data();

/// Sensible heat of people, light and appliances.
struct Gains {
    Series heat;        ///< W
    double mean = 0.0;  ///< W over the year
    std::string words;  ///< "815 W by the rule of IECC (memory) for 3 bedrooms and 143 m2"
    Origin origin;
};
/// As stated (Occupancy::gains), else dwelling + per_floor A + per_bedroom N, N the bedrooms, or the people
/// less one where they are stated; more by day than by night, the mean kept.
///
/// floor  m2, heated
[[nodiscard]] Gains gains_of(const assembly::Occupancy& people, double floor, const RoomData& data);

/// K, what heating keeps, with the night's where it is stated.
[[nodiscard]] Series heating_kept(const assembly::Occupancy& people);

/// Whether hour h of a day lies in [from, to), over midnight where from > to.
[[nodiscard]] bool within(int hour, double from, double to);

}  // namespace warmside::house
