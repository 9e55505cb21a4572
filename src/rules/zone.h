// Climate zones of the energy code: reading them, and which zone a place has by which edition's map.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/origin.h"
#include "base/result.h"
#include "climate/year.h"

namespace warmside::rules {

/// IECC climate zone: 0 hot to 8 subarctic; regime A moist, B dry, C marine.
struct Zone {
    int number = 0;
    char regime = '\0';  ///< 'A', 'B', 'C', or none where the text gives none
    friend bool operator==(const Zone&, const Zone&) = default;
};

/// Columns of every table here: zones 0 to 8 except Marine 4, then Marine 4 (4C).
inline constexpr std::size_t columns = 10;
[[nodiscard]] std::size_t column_of(Zone zone);
[[nodiscard]] std::string column_name(std::size_t column);  ///< "6", "4C"
[[nodiscard]] std::string name_of(Zone zone);               ///< "6A", "4C", "7"

/// Reads "6A", "7", "4C", "marine 4". Zone 4 needs its letter: Marine 4 has rules of its own.
/// Problem  unknown_name with what was expected
[[nodiscard]] Result<Zone> read_zone(std::string_view text);

struct PlacedZone {
    Zone zone;
    Origin origin;
};

/// By the county map of 2021, which 2024 keeps. State in full ("Minnesota") or by its postal code.
/// Problem  unknown_name: a state without a county in zone 5 or colder, or no such county in it
/// Source   data/rules/counties_2021.toml (seen); check: proof/rules/places.toml
[[nodiscard]] Result<PlacedZone> zone_of_county(std::string_view state, std::string_view county);

/// Of a built-in place. Editions from 2021 use the map of 2021; 2018 the older map, whose zones are
/// evidence memory (data/climate/places.csv). Problem  as the two functions above
[[nodiscard]] Result<PlacedZone> zone_of(const climate::PlaceRow& place, int edition);

}  // namespace warmside::rules
