// Does what a house file says of people, fans, heating, prices and rooms make sense? Errors for what cannot
// be computed, warnings for what has no effect or is probably a slip.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::assembly {

/// Set-points: heating below cooling (where the house is cooled), night below day, humidifier below
/// dehumidifier.
void check_people(const Occupancy& people, bool cooled, Problems& problems);

/// Recovery needs balanced flows; what has no effect without a fan or without recovery is a warning.
void check_ventilation(const Ventilation& ventilation, Problems& problems);

/// Kind against fuel; what has no effect with that kind is a warning.
void check_heating(const Heating& heating, Problems& problems);
void check_cooling(const Cooling& cooling, Problems& problems);

/// Points of a maker's sheet: temperatures rise, none twice. `places` holds one place a point.
void check_points(const std::string& title, const std::vector<PerformancePoint>& points,
                  const std::vector<Place>& places, Problems& problems);

/// Blocks of a tariff: each ends above the one before, only the last has no end. `places` holds one place a
/// block.
void check_blocks(const std::string& title, const std::vector<std::array<double, 2>>& blocks,
                  const std::vector<Place>& places, Problems& problems);

/// Hours of a tariff, in order: they fill the day once. `places` holds one place a row, `where` that of the
/// list.
void check_hours(const std::string& title, const std::vector<std::array<double, 3>>& hours,
                 const std::vector<Place>& places, const Place& where, Problems& problems);

/// Rooms: in a heated storey, inside its outline, none over another.
void check_rooms(const House& house, Problems& problems);

/// The edition is one that the tables hold: 2018, 2021, 2024.
void check_code(const CodeChoice& code, Problems& problems);

}  // namespace warmside::assembly
