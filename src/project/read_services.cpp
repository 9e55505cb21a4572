// [people], [ventilation], [heating], [cooling], [money], [room.NAME], [appliance.NAME], [penetration.NAME],
// [code].
#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "assembly/check.h"
#include "assembly/check_services.h"
#include "base/nearest.h"
#include "project/draft.h"

namespace warmside::project {

using assembly::Cooling;
using assembly::Fuel;
using assembly::Heating;
using assembly::PerformancePoint;
using assembly::Ventilation;

namespace {

// More than any house has; keeps checks of each against each quick.
constexpr std::size_t most_rooms = 100, most_corners = 40, most_named = 200, most_points = 100;

// The index of the key's word among those of its field, as an enumerator.
template <class Word>
std::optional<Word> choice(Section& r, std::string_view kind, std::string_view key) {
    const auto word = r.word(key);
    if (!word) return std::nullopt;
    const auto all = words_of(*field(kind, key));
    return static_cast<Word>(std::find(all.begin(), all.end(), *word) - all.begin());
}

// Burnt fuels stand without electricity.
std::optional<Fuel> burnt(Section& r, std::string_view kind) {
    const auto index = choice<int>(r, kind, "fuel");
    return index ? std::optional(static_cast<Fuel>(*index + 1)) : std::nullopt;
}

// Whether a table had errors: its check is left out then, for a default in the place of a bad value misleads
// it.
class ErrorsSince {
public:
    explicit ErrorsSince(const Problems& problems) : problems_(problems), before_(problems.size()) {}
    [[nodiscard]] bool any() const {
        return std::any_of(problems_.begin() + static_cast<std::ptrdiff_t>(before_), problems_.end(),
                           [](const Problem& p) { return p.severity == Severity::error; });
    }

private:
    const Problems& problems_;
    std::size_t before_;
};

void read_people(Draft& draft, const toml::table& table) {
    Section r(table, "people", "[people]", draft.problems);
    auto& p = draft.house.services.people;
    p.origin = r.origin();
    take(r, "bedrooms", p.bedrooms, r.integer("bedrooms"));
    take(r, "people", p.people, r.quantity("people"));
    take(r, "heating", p.heating, r.quantity("heating"));
    take(r, "cooling", p.cooling, r.quantity("cooling"));
    take(r, "night", p.night, r.quantity("night"));
    const auto from = r.clock("night_from"), to = r.clock("night_to");
    p.night_from = from.value_or(p.night_from);
    p.night_to = to.value_or(p.night_to);
    take(r, "gains", p.gains, r.quantity("gains"));
    take(r, "moisture", p.moisture, r.quantity("moisture"));
    take(r, "humidifier", p.humidifier, r.quantity("humidifier"));
    take(r, "dehumidifier", p.dehumidifier, r.quantity("dehumidifier"));
    if ((from || to) && !r.has("night") && !r.is_misspelt("night")) {
        r.warn(from ? "night_from" : "night_to", Code::conflict,
               "the hours of the night have no effect without night", "night = \"65 degF\"");
    }
    r.finish();
}

void read_ventilation(Draft& draft, const toml::table& table) {
    Section r(table, "ventilation", "[ventilation]", draft.problems);
    const ErrorsSince start(draft.problems);
    Ventilation& v = draft.house.services.ventilation;
    v.origin = r.origin();
    take(r, "kind", v.kind, choice<Ventilation::Kind>(r, "ventilation", "kind"));
    take(r, "flow", v.flow, r.quantity("flow"));
    take(r, "run", v.run, r.quantity("run"));
    take(r, "heat_recovery", v.sensible, r.quantity("heat_recovery"));
    take(r, "moisture_recovery", v.moisture, r.quantity("moisture_recovery"));
    take(r, "frost", v.frost, r.quantity("frost"));
    take(r, "guard", v.guard, choice<Ventilation::Guard>(r, "ventilation", "guard"));
    take(r, "fan_power", v.fan_power, r.quantity("fan_power"));
    take(r, "ducted", v.ducted, r.flag("ducted"));
    take(r, "range_hood", v.range_hood, r.quantity("range_hood"));
    take(r, "dryer", v.dryer, r.quantity("dryer"));
    r.finish();
    if (!start.any()) assembly::check_ventilation(v, draft.problems);
}

std::vector<PerformancePoint> read_points(Draft& draft, Section& r, std::string_view title) {
    std::vector<PerformancePoint> out;
    const auto* list = r.array("points");
    if (!list) return out;
    if (list->size() > most_points) {
        r.complain("points", Code::out_of_range,
                   fmt::format("{} has {} points, more than {}", title, list->size(), most_points));
        return out;
    }
    std::vector<Place> places;
    const ErrorsSince start(draft.problems);
    std::size_t count = 0;
    for (const auto& item : *list) {
        const std::string name = fmt::format("point {} of {}", ++count, title);
        const auto* table = item.as_table();
        if (!table) {
            draft.error(Code::wrong_type, name + " is not a table", units::place_of(item),
                        "{ outdoor = \"17 degF\", capacity = \"24000 Btu/h\", efficiency = 2.4 }");
            continue;
        }
        Section row(*table, "performance", name, draft.problems);
        const auto outdoor = row.quantity("outdoor"), capacity = row.quantity("capacity"),
                   efficiency = row.quantity("efficiency");
        row.finish();
        out.push_back({outdoor.value_or(0.0), capacity.value_or(0.0), efficiency.value_or(0.0)});
        places.push_back(row.place());
    }
    if (!start.any()) assembly::check_points(std::string(title), out, places, draft.problems);
    return out;
}

void read_heating(Draft& draft, const toml::table& table) {
    Section r(table, "heating", "[heating]", draft.problems);
    const ErrorsSince start(draft.problems);
    Heating& h = draft.house.services.heating;
    h.origin = r.origin();
    take(r, "kind", h.kind, choice<Heating::Kind>(r, "heating", "kind"));
    if (h.kind.value == Heating::Kind::resistance || h.kind.value == Heating::Kind::heat_pump)
        h.fuel = assembly::Details::ours(Fuel::electricity);
    take(r, "fuel", h.fuel, choice<Fuel>(r, "heating", "fuel"));
    take(r, "efficiency", h.efficiency, r.quantity("efficiency"));
    take(r, "capacity", h.capacity, r.quantity("capacity"));
    h.points = read_points(draft, r, "[heating]");
    take(r, "cut_off", h.cut_off, r.quantity("cut_off"));
    take(r, "distribution", h.distribution, r.quantity("distribution"));
    r.finish();
    if (!start.any()) assembly::check_heating(h, draft.problems);
}

void read_cooling(Draft& draft, const toml::table& table) {
    Section r(table, "cooling", "[cooling]", draft.problems);
    const ErrorsSince start(draft.problems);
    Cooling& c = draft.house.services.cooling;
    c.origin = r.origin();
    take(r, "kind", c.kind, choice<Cooling::Kind>(r, "cooling", "kind"));
    c.points = read_points(draft, r, "[cooling]");
    take(r, "efficiency", c.efficiency, r.quantity("efficiency"));
    take(r, "capacity", c.capacity, r.quantity("capacity"));
    r.finish();
    if (!start.any()) assembly::check_cooling(c, draft.problems);
}

void read_money(Draft& draft, const toml::table& table) {
    Section r(table, "money", "[money]", draft.problems);
    auto& m = draft.house.services.money;
    m.origin = r.origin();
    if (auto currency = r.text("currency")) {
        if (units::is_currency(*currency))
            m.currency = *std::move(currency);
        else
            r.complain("currency", Code::out_of_range,
                       fmt::format("currency \"{}\" is no sign or short word", *currency),
                       "\"$\" or \"EUR\"");
    }
    take(r, "discount", m.discount, r.quantity("discount"));
    take(r, "years", m.years, r.integer("years"));
    r.finish();
}

void read_room(Draft& draft, const std::string& name, const toml::table& table) {
    const std::string title = fmt::format("[room.{}]", name);
    Section r(table, "room", title, draft.problems);
    const ErrorsSince start(draft.problems);
    assembly::Room room;
    room.name = name;
    room.origin = r.origin();
    const auto storey = r.text("storey");
    std::vector<Place> corners;
    const auto outline = r.corners("outline", corners);
    if (outline && outline->size() > most_corners) {
        r.complain(
            "outline", Code::out_of_range,
            fmt::format("{}: an outline of {} corners, more than {}", title, outline->size(), most_corners));
    } else if (outline) {
        assembly::check_outline("room " + name, *outline, r.place("outline"), corners, draft.problems);
    }
    r.finish();
    if (storey && !draft.house.storey(*storey) && !draft.is_lost("storey", *storey)) {
        std::vector<std::string> known;
        for (const auto& each : draft.house.storeys) known.push_back(each.name);
        r.complain("storey", Code::unknown_name, fmt::format("no storey is called \"{}\"", *storey),
                   nearest(*storey, known));
    }
    if (start.any()) return;
    room.storey = *storey;
    for (const auto& [x, y] : *outline) room.outline.push_back({x, y});
    draft.house.services.rooms.push_back(std::move(room));
}

void read_appliance(Draft& draft, const std::string& name, const toml::table& table) {
    using assembly::Appliance;
    Section r(table, "appliance", fmt::format("[appliance.{}]", name), draft.problems);
    const auto fuel = burnt(r, "appliance");
    const auto draught = choice<Appliance::Draught>(r, "appliance", "draught");
    r.finish();
    if (fuel && draught)
        draft.house.services.appliances.push_back(
            {.name = name, .fuel = *fuel, .draught = *draught, .origin = r.origin()});
}

void read_penetration(Draft& draft, const std::string& name, const toml::table& table) {
    using assembly::Penetration;
    Section r(table, "penetration", fmt::format("[penetration.{}]", name), draft.problems);
    Penetration p{.name = name, .origin = r.origin()};
    const auto kind = choice<Penetration::Kind>(r, "penetration", "kind");
    p.kind = kind.value_or(p.kind);
    p.count = r.integer("count").value_or(p.count);
    p.ceiling = r.word("through").value_or("ceiling") == "ceiling";
    p.area = r.quantity("area");
    if (kind == Penetration::Kind::other)
        r.missing("area", fmt::format("{} is of kind other and has no area", r.title()), "area = \"2 in2\"");
    r.finish();
    if (kind) draft.house.services.penetrations.push_back(std::move(p));
}

void read_code(Draft& draft, const toml::table& table) {
    Section r(table, "code", "[code]", draft.problems);
    auto& code = draft.house.services.code;
    code.origin = r.origin();
    take(r, "edition", code.edition, r.integer("edition"));
    code.zone = r.word("zone").value_or("");
    code.amendments = r.text("amendments").value_or("");
    r.finish();
    assembly::check_code(code, draft.problems);
}

}  // namespace

void read_services(Draft& draft, const toml::table& root) {
    Section r(root, "file", "the file", draft.problems);
    const ErrorsSince start(draft.problems);
    if (const auto* table = r.table("people")) read_people(draft, *table);
    if (const auto* table = r.table("cooling")) read_cooling(draft, *table);
    const auto& services = draft.house.services;
    if (!start.any())
        assembly::check_people(services.people, services.cooling.kind.value != Cooling::Kind::none,
                               draft.problems);
    if (const auto* table = r.table("ventilation")) read_ventilation(draft, *table);
    if (const auto* table = r.table("heating")) read_heating(draft, *table);
    if (const auto* table = r.table("money")) read_money(draft, *table);
    read_energy(draft, root);
    each_named(draft, root, "room", most_rooms,
               [&](const std::string& name, const toml::table& t) { read_room(draft, name, t); });
    each_named(draft, root, "appliance", most_named,
               [&](const std::string& name, const toml::table& t) { read_appliance(draft, name, t); });
    each_named(draft, root, "penetration", most_named,
               [&](const std::string& name, const toml::table& t) { read_penetration(draft, name, t); });
    if (const auto* table = r.table("code")) read_code(draft, *table);
    assembly::check_rooms(draft.house, draft.problems);
}

}  // namespace warmside::project
