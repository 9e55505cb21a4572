// JSON of what is built in, of derivations, problems and checks.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/json_parts.h"

namespace warmside::report {
namespace {

Json curve_json(const material::Curve& curve) {
    Json out;
    out["relative_humidity"] = curve.x;
    out["value"] = curve.y;
    return out;
}

Json known(double value) {
    return value > 0.0 ? Json(value) : Json(nullptr);
}

constexpr const char* mould_classes[] = {"very sensitive", "sensitive", "medium resistant", "resistant"};

Json material_json(const material::Material& m) {
    Json out;
    out["name"] = m.name;
    out["aliases"] = m.aliases;
    out["family"] = m.family;
    out["density"] = known(m.density);
    out["specific_heat"] = known(m.specific_heat);
    out["conductivity"] = known(m.conductivity);
    out["test_temperature"] = m.test_temperature;
    out["temperature_factor"] = m.temperature_factor;
    out["moisture_factor"] = m.moisture_factor;
    out["label_resistivity"] = m.label_resistivity ? Json(*m.label_resistivity) : Json(nullptr);
    out["is_insulation"] = m.is_insulation;
    out["porosity"] = known(m.porosity);
    out["free_saturation"] = known(m.free_saturation);
    out["sorption"] = curve_json(m.sorption);
    out["permeability"] = curve_json(m.permeability);
    out["absorption"] = m.absorption;
    out["air_permeability"] = known(m.air_permeability);
    out["mould_class"] = mould_classes[static_cast<std::size_t>(m.mould)];
    out["start_humidity"] = m.start_humidity;
    out["origin"] = json_of(m.origin);
    out["value_origins"] = Json::object();
    for (const auto& [key, origin] : m.value_origin) out["value_origins"][key] = json_of(origin);
    return out;
}

Json membrane_json(const material::Membrane& m) {
    Json out;
    out["name"] = m.name;
    out["aliases"] = m.aliases;
    out["permeance"] = curve_json(m.permeance);
    out["variable"] = m.variable;
    out["airtight_capable"] = m.airtight_capable;
    out["drains_water"] = m.drains_water;
    out["retarder_class"] = maybe(m.retarder_class);
    out["origin"] = json_of(m.origin);
    return out;
}

}  // namespace

Json why_json(const Derivation& d) {
    Json out;
    out["schema"] = schema;
    out["path"] = d.path;
    out["equation"] = d.equation;
    out["source"] = maybe(d.source);
    out["value"] = std::isfinite(d.value) ? Json(d.value) : Json(nullptr);
    out["unit"] = d.unit;
    out["note"] = maybe(d.note);
    out["terms"] = Json::array();
    for (const auto& t : d.terms) {
        Json row;
        row["name"] = t.name;
        row["value"] = std::isfinite(t.value) ? Json(t.value) : Json(nullptr);
        row["unit"] = t.unit;
        row["path"] = maybe(t.path);
        row["origin"] = json_of(t.origin);
        out["terms"].push_back(std::move(row));
    }
    return out;
}

Json paths_json(std::span<const std::string> paths) {
    Json out;
    out["schema"] = schema;
    out["paths"] = std::vector<std::string>(paths.begin(), paths.end());
    return out;
}

Json materials_json(const material::Catalogue& catalogue, std::string_view word) {
    const auto wanted = [&](std::string_view name, const std::vector<std::string>& aliases,
                            std::string_view family) {
        return contains(name, word) || contains(family, word) ||
               std::any_of(aliases.begin(), aliases.end(),
                           [&](const auto& alias) { return contains(alias, word); });
    };
    Json out;
    out["schema"] = schema;
    for (const char* list : {"materials", "membranes", "lumber"}) out[list] = Json::array();
    for (const auto& m : catalogue.materials) {
        if (wanted(m.name, m.aliases, m.family)) out["materials"].push_back(material_json(m));
    }
    for (const auto& m : catalogue.membranes) {
        if (wanted(m.name, m.aliases, "membrane")) out["membranes"].push_back(membrane_json(m));
    }
    for (const auto& l : catalogue.lumber) {
        if (!wanted(l.name, {}, l.region)) continue;
        Json row;
        row["name"] = l.name;
        row["thickness"] = l.thickness;
        row["depth"] = l.depth;
        row["region"] = l.region;
        row["origin"] = json_of(l.origin);
        out["lumber"].push_back(std::move(row));
    }
    return out;
}

Json places_json(std::span<const climate::PlaceRow> places, std::string_view word) {
    constexpr double degrees = 180.0 / std::numbers::pi;
    Json out;
    out["schema"] = schema;
    out["places"] = Json::array();
    for (const auto& p : places) {
        if (!matches(p, word)) continue;
        Json row;
        row["name"] = p.name;
        row["state"] = p.state;
        row["county"] = maybe(p.county);
        row["latitude"] = p.latitude * degrees;
        row["longitude"] = p.longitude * degrees;
        row["elevation"] = p.elevation;
        row["utc_offset"] = p.utc_offset;
        row["climate_zone"] = maybe(p.climate_zone);
        row["climate_zone_origin"] = json_of(p.zone_origin);
        row["months"] = Json::array();
        for (const auto& m : p.months) {
            Json month;
            month["temperature"] = m.temperature;
            month["dew_point"] = m.dew_point;
            month["relative_humidity"] = m.relative_humidity;
            month["wind_speed"] = m.wind_speed;
            month["global"] = m.global;
            month["rain"] = m.rain;
            row["months"].push_back(std::move(month));
        }
        row["origin"] = json_of(p.origin);
        out["places"].push_back(std::move(row));
    }
    return out;
}

Json problems_json(std::span<const Problem> problems) {
    Json out;
    out["schema"] = schema;
    out["problems"] = Json::array();
    for (const auto& p : problems) out["problems"].push_back(json_of(p));
    return out;
}

Json proof_json(std::span<const CheckRow> checks) {
    Json out;
    out["schema"] = schema;
    out["checks"] = Json::array();
    for (const auto& c : checks) {
        Json row;
        row["id"] = c.id;
        row["room"] = c.room;
        row["expected"] = c.expected;
        row["got"] = c.got && std::isfinite(*c.got) ? Json(*c.got) : Json(nullptr);
        row["tolerance"] = c.tolerance;
        row["unit"] = c.unit;
        row["source"] = c.source;
        row["evidence"] = c.evidence;
        row["result"] = c.result;
        row["note"] = maybe(c.note);
        out["checks"].push_back(std::move(row));
    }
    return out;
}

}  // namespace warmside::report
