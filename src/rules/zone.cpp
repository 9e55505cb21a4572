#include "rules/zone.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cctype>
#include <map>
#include <vector>

#include "base/embedded.h"
#include "base/nearest.h"
#include "units/reader.h"

namespace warmside::rules {

namespace {

constexpr std::string_view county_file = "data/rules/counties_2021.toml";
constexpr std::size_t marine_4 = columns - 1;

std::string lower(std::string_view text) {
    std::string out;
    for (const char c : text) out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

struct CountyMap {
    struct State {
        std::map<std::string, Zone> counties;
        std::optional<Zone> all;
        Place where;
    };
    std::map<std::string, State> states;
    Origin origin;
};

CountyMap read_counties() {
    CountyMap map;
    const auto text = embedded::find(county_file);
    assert(text && "the file is embedded");
    const auto table = units::parse_toml(county_file, *text);
    assert(table && "the file reads");
    const auto& head = *(*table)["map"].as_table();
    map.origin = {Origin::Kind::standard,
                  {std::string(county_file)},
                  head["source"].value_or(std::string{}),
                  evidence_of(head["evidence"].value_or(std::string{}))};
    for (const auto& [name, node] : *(*table)["state"].as_table()) {
        auto& state = map.states[std::string(name.str())];
        state.where = units::place_of(node);
        for (const auto& [zone_text, list] : *node.as_table()) {
            const auto zone = read_zone(zone_text.str());
            assert(zone && "the file names zones");
            for (const toml::node& county : *list.as_array()) {
                const auto word = county.value_or(std::string{});
                if (word == "*")
                    state.all = *zone;
                else
                    state.counties[word] = *zone;
            }
        }
    }
    return map;
}

const CountyMap& counties() {
    static const CountyMap map = read_counties();
    return map;
}

Problem no_county(std::string_view state, std::string_view county, std::vector<std::string> names) {
    return {.code = Code::unknown_name,
            .what = fmt::format("{} has no county \"{}\" in the map of 2021", state, county),
            .suggestion = nearest(county, names)};
}

}  // namespace

std::size_t column_of(Zone zone) {
    assert(zone.number >= 0 && zone.number <= 8);
    return zone.number == 4 && zone.regime == 'C' ? marine_4 : static_cast<std::size_t>(zone.number);
}

std::string column_name(std::size_t column) {
    return column == marine_4 ? "4C" : fmt::format("{}", column);
}

std::string name_of(Zone zone) {
    std::string out = fmt::format("{}", zone.number);
    if (zone.regime != '\0') out += zone.regime;
    return out;
}

Result<Zone> read_zone(std::string_view text) {
    const std::string word = lower(text);
    if (word == "marine 4" || word == "4 marine") return Zone{4, 'C'};
    const auto wrong = [&](std::string_view what) {
        return fail(Problem{.code = Code::unknown_name,
                            .what = fmt::format("\"{}\" {}", text, what),
                            .found = std::string(text),
                            .expected = "a zone from 0A to 8, such as 6A, 4C or 7"});
    };
    const bool shaped = (word.size() == 1 || word.size() == 2) && word[0] >= '0' && word[0] <= '8' &&
                        (word.size() == 1 || (word[1] >= 'a' && word[1] <= 'c'));
    if (!shaped) return wrong("is not a climate zone (0A to 8, such as 6A, 4C or 7)");
    Zone zone{word[0] - '0'};
    if (word.size() == 2) zone.regime = static_cast<char>(std::toupper(static_cast<unsigned char>(word[1])));
    if (zone.number == 4 && zone.regime == '\0')
        return wrong("needs its letter (4A, 4B or 4C): Marine 4 has rules of its own");
    if (zone.regime == 'C' && (zone.number < 3 || zone.number > 5))
        return wrong("is not a climate zone: only 3, 4 and 5 are marine");
    return zone;
}

Result<PlacedZone> zone_of_county(std::string_view state, std::string_view county) {
    const std::string name(climate::state_name(state));
    const auto found = counties().states.find(name);
    if (found == counties().states.end()) {
        return fail(Code::unknown_name,
                    fmt::format("the county map holds states with a county in zone 5 or colder; \"{}\" is "
                                "not among them: state the zone",
                                name));
    }
    Origin origin = counties().origin;
    origin.where.line = found->second.where.line;
    if (found->second.all) return PlacedZone{*found->second.all, origin};
    std::vector<std::string> names;
    for (const auto& [each, zone] : found->second.counties) {
        if (lower(each) == lower(county)) return PlacedZone{zone, origin};
        names.push_back(each);
    }
    return fail(no_county(name, county, std::move(names)));
}

Result<PlacedZone> zone_of(const climate::PlaceRow& place, int edition) {
    if (edition >= 2021) return zone_of_county(place.state, place.county);
    return read_zone(place.climate_zone).map([&](Zone zone) { return PlacedZone{zone, place.zone_origin}; });
}

}  // namespace warmside::rules
