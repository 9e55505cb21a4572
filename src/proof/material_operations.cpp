// Published checks of materials: wood, buffer value, water uptake, membranes, lumber, single layers.
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "base/nearest.h"
#include "material/buffer.h"
#include "material/material.h"
#include "material/wood.h"
#include "proof/operation.h"
#include "units/reader.h"

namespace warmside::proof {

namespace {

using units::TableReader;

Result<Outcome> finish(TableReader& given, Problems& problems, Outcome outcome) {
    given.finish();
    if (!usable(problems)) return fail(problems.front());
    return outcome;
}

// Humidities at one temperature.
Result<Outcome> wood_moisture(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto temperature = given.required(given.quantity("temperature", units::temperature), "temperature");
    const auto humidity =
        given.required(given.quantities("humidity", units::fraction, {0.0, 1.0}), "humidity");
    Outcome out;
    if (temperature && humidity) {
        for (const double rh : *humidity)
            out["moisture"].push_back(material::wood_moisture(*temperature, rh));
    }
    return finish(given, problems, std::move(out));
}

// Specific gravity, or a density at a moisture content as the handbooks print it.
Result<Outcome> wood_conductivity(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto moisture =
        given.required(given.quantity("moisture", units::fraction, {0.0, 0.25}), "moisture");
    auto gravity = given.quantity("specific_gravity", units::number, {0.1, 1.2});
    if (const auto moist = given.quantity("moist_density", units::density, {100.0, 1500.0});
        moist && moisture) {
        gravity = *moist / 1000.0 / (1.0 + *moisture);
    }
    if (!gravity) given.missing("specific_gravity");
    Outcome out;
    if (gravity && moisture) out["conductivity"] = {material::wood_conductivity(*gravity, *moisture)};
    return finish(given, problems, std::move(out));
}

Result<Outcome> wood_specific_heat(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto temperature = given.required(given.quantity("temperature", units::temperature), "temperature");
    const auto moisture = given.required(given.quantity("moisture", units::fraction, {0.0, 0.3}), "moisture");
    Outcome out;
    if (temperature && moisture)
        out["specific_heat"] = {material::wood_specific_heat(*temperature, *moisture)};
    return finish(given, problems, std::move(out));
}

// Per percent of relative humidity, as the classes are stated.
Result<Outcome> buffer_value(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto delta =
        given.required(given.quantity("permeability", units::permeability, {1e-16, 1e-9}), "permeability");
    const auto xi = given.required(given.quantity("capacity", units::density, {0.0, 1e5}), "capacity");
    const auto psat = given.required(given.quantity("saturation_pressure", units::pressure, {1.0, 1e5}),
                                     "saturation_pressure");
    Outcome out;
    if (delta && xi && psat)
        out["per_percent"] = {material::moisture_buffer_value(*delta, *xi, *psat) / 100.0};
    return finish(given, problems, std::move(out));
}

const material::Material* material_in(TableReader& given) {
    const auto name = given.required(given.text("material"), "material");
    const auto* found = name ? material::built_in().material(*name) : nullptr;
    if (name && !found) {
        given.complain("material", Code::unknown_name,
                       fmt::format("material \"{}\" is not in the catalogue", *name),
                       nearest(*name, material::built_in().material_names()));
    }
    return found;
}

// The water absorption coefficient that the liquid diffusivity leads to, by Parlange's integral:
// A^2 = integral of (w_f + w) D dw.
Result<Outcome> absorption_of_diffusivity(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    Outcome out;
    if (const auto* m = material_in(given)) {
        constexpr int steps = 4000;
        const double dw = m->free_saturation / steps;
        double sum = 0.0;
        for (int i = 0; i < steps; ++i) {
            const double w = (i + 0.5) * dw;
            sum += (m->free_saturation + w) * material::liquid_diffusivity(*m, w) * dw;
        }
        out["absorption"] = {std::sqrt(sum)};
    }
    return finish(given, problems, std::move(out));
}

// Equivalent air layer thickness at the mean humidities of the two cups, and the class as a number (0: none).
Result<Outcome> membrane(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto name = given.text("membrane");
    const auto stated = given.quantity("permeance", units::permeance, {1e-20, 1e-7});
    if (!name && !stated) given.missing("membrane");
    material::Membrane sheet;
    if (stated) sheet.permeance = {{0.5}, {*stated}};
    if (name) {
        if (const auto* found = material::built_in().membrane(*name)) {
            sheet = *found;
        } else {
            given.complain("membrane", Code::unknown_name,
                           fmt::format("membrane \"{}\" is not in the catalogue", *name),
                           nearest(*name, material::built_in().membrane_names()));
        }
    }
    Outcome out;
    if (usable(problems)) {
        const auto sd = [&](double rh) {
            return units::still_air_permeability / material::permeance(sheet, rh);
        };
        out["dry_cup"] = {sd(0.25)};
        out["wet_cup"] = {sd(0.75)};
        out["class"] = {static_cast<double>(material::retarder_class(sheet).size())};
    }
    return finish(given, problems, std::move(out));
}

Result<Outcome> lumber(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto names = given.required(given.texts("members"), "members");
    Outcome out;
    for (const auto& name : names.value_or(std::vector<std::string>{})) {
        if (const auto* stick = material::built_in().member(name)) {
            out["thickness"].push_back(stick->thickness);
            out["depth"].push_back(stick->depth);
            out["area"].push_back(stick->thickness * stick->depth);
        } else {
            given.complain("members", Code::unknown_name,
                           fmt::format("member \"{}\" is not in the catalogue", name));
        }
    }
    return finish(given, problems, std::move(out));
}

// Resistance of one layer at a mean temperature.
Result<Outcome> layer_resistance(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto* m = material_in(given);
    const auto thickness =
        given.required(given.quantity("thickness", units::length, {1e-4, 2.0}), "thickness");
    const auto temperature = given.required(given.quantity("temperature", units::temperature), "temperature");
    Outcome out;
    if (m && thickness && temperature)
        out["resistance"] = {*thickness / material::conductivity(*m, *temperature)};
    return finish(given, problems, std::move(out));
}

// How much deeper one member is than another.
Result<Outcome> depth_difference(const Given& table) {
    Problems problems;
    TableReader given(table, "given", problems);
    const auto depth_of = [&](std::string_view key) -> std::optional<double> {
        const auto text = given.required(given.text(key), key);
        if (!text) return std::nullopt;
        if (const auto* stick = material::built_in().member(*text)) return stick->depth;
        const auto length = units::parse(*text, units::length);
        if (length) return *length;
        given.complain(key, Code::unknown_name,
                       fmt::format("\"{}\" is neither a member nor a length", *text));
        return std::nullopt;
    };
    const auto deep = depth_of("deep");
    const auto shallow = depth_of("shallow");
    Outcome out;
    if (deep && shallow) out["difference"] = {*deep - *shallow};
    return finish(given, problems, std::move(out));
}

constexpr std::array operations{
    Operation{"material.wood_moisture", wood_moisture},
    Operation{"material.wood_conductivity", wood_conductivity},
    Operation{"material.wood_specific_heat", wood_specific_heat},
    Operation{"material.buffer_value", buffer_value},
    Operation{"material.absorption_of_diffusivity", absorption_of_diffusivity},
    Operation{"material.membrane", membrane},
    Operation{"material.lumber", lumber},
    Operation{"material.layer_resistance", layer_resistance},
    Operation{"material.depth_difference", depth_difference},
};

}  // namespace

std::span<const Operation> material_operations() {
    return operations;
}

}  // namespace warmside::proof
