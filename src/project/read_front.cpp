#include <fmt/format.h>

#include "material/read.h"
#include "project/draft.h"

namespace warmside::project {

namespace {

// ASHRAE 160-2009, 4.6 (evidence: memory); the words are ours.
constexpr double sheltered = 0.7, medium_exposure = 1.0, severe = 1.3;
constexpr double steep_roof = 0.35, low_roof = 0.5, runoff = 1.0;

void read_house_table(Draft& draft, const toml::table& table) {
    Section r(table, "house", "[house]", draft.problems);
    draft.house.origin = r.origin();
    draft.house.name = r.text("name").value_or("");
    draft.house.place = r.text("place").value_or("");
    if (!draft.house.place.empty()) {
        if (auto found = climate::find_place(draft.house.place); !found) {
            found.error().where = r.place("place");
            draft.problems.push_back(std::move(found.error()));
        }
    }
    draft.house.weather_file = r.text("weather").value_or("");
    draft.house.units = r.word("units").value_or(draft.house.units);
    draft.house.start_month = r.month("start_month").value_or(draft.house.start_month);
    draft.house.prices = r.text("prices").value_or("");
    if (r.has("place") && r.has("weather")) {
        r.complain("weather", Code::conflict,
                   "[house] has both place and weather; the year comes from one of them", "leave one out");
    }
    if (!r.has("place") && !r.has("weather") && !r.is_misspelt("place") && !r.is_misspelt("weather")) {
        draft.add(Severity::warning, Code::missing,
                  "[house] has neither place nor weather: dryness and heat load cannot be computed",
                  r.place(), "place = \"Duluth, Minnesota\"; `warmside places` lists what is built in");
    }
    r.finish();
}

climate::IndoorModel model_of(const std::string& word) {
    using climate::IndoorModel;
    if (word == "fixed") return IndoorModel::fixed;
    if (word == "high load") return IndoorModel::en15026_high;
    if (word == "humidity class") return IndoorModel::iso13788_class;
    if (word == "ashrae 160") return IndoorModel::ashrae160_simplified;
    if (word == "from the house") return IndoorModel::house;
    return IndoorModel::en15026_normal;
}

void read_indoor(Draft& draft, const toml::table& table) {
    using climate::IndoorModel;
    Section r(table, "indoor", "[indoor]", draft.problems);
    climate::IndoorChoice& indoor = draft.house.indoor;
    draft.house.indoor_origin = r.origin();
    const auto word = r.word("model");
    if (word) indoor.model = model_of(*word);
    indoor.temperature = r.quantity("temperature").value_or(indoor.temperature);
    indoor.relative_humidity = r.quantity("humidity").value_or(indoor.relative_humidity);
    indoor.humidity_class = r.integer("class").value_or(indoor.humidity_class);
    indoor.cooling = r.quantity("cooling").value_or(indoor.cooling);
    indoor.cooled_humidity = r.quantity("cooled_humidity").value_or(indoor.cooled_humidity);
    if (r.has("cooled_humidity") && !r.has("cooling"))
        r.warn("cooled_humidity", Code::conflict, "cooled_humidity has no effect without cooling");
    const bool sound = word || !r.has("model");
    const auto idle = [&](std::string_view key, bool used) {
        if (!sound || used || !r.has(key)) return;
        r.warn(key, Code::conflict,
               fmt::format("{} has no effect with model = \"{}\"", key, word.value_or("normal load")));
    };
    const bool fixed = indoor.model == IndoorModel::fixed;
    const bool classed = indoor.model == IndoorModel::iso13788_class;
    idle("cooling", indoor.model != IndoorModel::house);
    idle("humidity", fixed);
    idle("class", classed);
    idle("temperature", fixed || classed || indoor.model == IndoorModel::ashrae160_simplified);
    r.finish();
}

void read_rain(Draft& draft, const toml::table& table) {
    Section r(table, "rain", "[rain]", draft.problems);
    climate::RainExposure& rain = draft.house.rain_exposure;
    draft.house.rain_exposure_origin = r.origin();
    rain.exposure = r.level("exposure", {sheltered, medium_exposure, severe}).value_or(rain.exposure);
    rain.deposition = r.level("deposition", {steep_roof, low_roof, runoff}).value_or(rain.deposition);
    r.finish();
}

void read_air(Draft& draft, const toml::table& table) {
    using Terrain = assembly::Airtightness::Terrain;
    Section r(table, "air", "[air]", draft.problems);
    assembly::Airtightness& air = draft.house.air;
    air.origin = r.origin();
    air.blower_door = r.quantity("blower_door").value_or(air.blower_door);
    air.leakage = r.quantity("leakage").value_or(air.leakage);
    air.fan = r.quantity("fan").value_or(air.fan);
    const auto word = r.word("terrain");
    if (word == "open") air.terrain = Terrain::open;
    if (word == "city") air.terrain = Terrain::city;
    draft.house.services.test = r.text("test").value_or("");
    r.finish();
}

}  // namespace

void read_front(Draft& draft, const toml::table& root) {
    Section r(root, "file", "the file", draft.problems);
    if (const auto* table = r.table("house")) read_house_table(draft, *table);
    if (const auto* table = r.table("indoor")) read_indoor(draft, *table);
    if (const auto* table = r.table("rain")) read_rain(draft, *table);
    if (const auto* table = r.table("air")) read_air(draft, *table);
    if (const auto* table = r.table("details")) read_details(draft, *table);
    if (!r.has("house") && !draft.lost.contains("house")) {
        draft.error(Code::missing, "the file has no [house] table", r.place(),
                    "[house] with a name and a place");
    }
    if (!r.has("assembly") && draft.lost.empty()) {
        draft.error(Code::missing, "the file has no assembly: there is nothing to answer for", r.place(),
                    "[assembly.w1] with part and layers");
    }
}

void read_own_materials(Draft& draft, const toml::table& root) {
    material::Catalogue& all = draft.house.catalogue;
    constexpr auto kind = Origin::Kind::house_file;
    each_named(draft, root, "material", 500, [&](const std::string& name, const toml::table& table) {
        if (all.material(name)) {
            draft.error(Code::duplicate, fmt::format("material \"{}\" is in the catalogue already", name),
                        units::place_of(table), "a name of your own, and based_on for what stays the same");
            return;
        }
        if (auto row = material::read_material(name, table, all, kind, draft.problems))
            all.materials.push_back(std::move(*row));
        else
            draft.lost.insert("material." + name);
    });
    each_named(draft, root, "membrane", 200, [&](const std::string& name, const toml::table& table) {
        if (all.membrane(name)) {
            draft.error(Code::duplicate, fmt::format("membrane \"{}\" is in the catalogue already", name),
                        units::place_of(table), "a name of your own, and based_on for what stays the same");
            return;
        }
        if (auto row = material::read_membrane(name, table, all, kind, draft.problems))
            all.membranes.push_back(std::move(*row));
        else
            draft.lost.insert("membrane." + name);
    });
}

}  // namespace warmside::project
