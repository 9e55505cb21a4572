// Invented walls and houses for the tests of this room; only tests include it.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "rules/findings.h"
#include "thermal/made_up.h"

namespace warmside::rules::made_up {

using assembly::AirKind;
using assembly::Assembly;
using assembly::Layer;
using assembly::Part;
using assembly::Run;
using thermal::made_up::air;
using thermal::made_up::board;
using thermal::made_up::framed;
using thermal::made_up::lumber;
using thermal::made_up::wall;

inline double si(const char* text, const units::Dimension& dimension) {
    const auto value = units::parse(text, dimension);
    REQUIRE_MESSAGE(value, text);
    return *value;
}
inline double r(const char* text) {
    return si(text, units::thermal_resistance);
}
inline double u(const char* text) {
    return si(text, units::transmittance);
}

inline Layer sheet(const char* name) {
    Layer layer;
    layer.kind = Layer::Kind::membrane;
    layer.membrane = material::built_in().membrane(name);
    REQUIRE_MESSAGE(layer.membrane, name);
    layer.airtight = true;
    return layer;
}
inline Layer labelled(Layer layer, const char* label) {
    layer.label_r = r(label);
    return layer;
}
inline Layer painted(Layer layer) {
    layer.finish = material::built_in().membrane("latex paint");
    return layer;
}
inline Layer gypsum() {
    return painted(board("gypsum board", "1/2 in"));
}
/// Batts of a stated R between studs.
inline Layer studs(const char* depth, const char* label, const char* spacing = "16 in") {
    return labelled(framed(board("stone wool batt", depth), lumber("1 1/2 in", depth, spacing)), label);
}
inline Layer osb() {
    return board("osb", "7/16 in");
}

/// Lining, sheet (or none), studs, OSB, then whatever is outside.
inline Assembly frame_wall(const char* retarder, Layer core, std::vector<Layer> outside = {}) {
    std::vector<Layer> layers{gypsum()};
    if (*retarder) layers.push_back(sheet(retarder));
    layers.push_back(std::move(core));
    layers.push_back(osb());
    for (Layer& each : outside) layers.push_back(std::move(each));
    return wall(std::move(layers));
}

inline const Tables& tables(int edition) {
    static const Tables t2018 = *tables_of(2018), t2021 = *tables_of(2021), t2024 = *tables_of(2024);
    return edition == 2018 ? t2018 : edition == 2021 ? t2021 : t2024;
}

/// Inputs for a zone that the house file states.
inline Inputs inputs(int edition, const char* zone) {
    Inputs in;
    in.tables = &tables(edition);
    in.zone = {*read_zone(zone), {Origin::Kind::house_file, {"house.toml", 3, 1}, "", Evidence::none}};
    return in;
}
inline Surface surface(const Assembly& assembly, std::optional<double> code_u = {}, double area = 0.0) {
    return {.part = "wall/" + assembly.name,
            .row = row_of(assembly.part),
            .assembly = &assembly,
            .area = area,
            .code_u = code_u};
}

inline std::vector<Finding> all(const Inputs& in) {
    auto out = findings(in);
    if (!out) FAIL(render(out.error()));
    return *out;
}
/// The first finding of a subject whose rule holds `rule`.
inline Finding one(const std::vector<Finding>& list, Subject subject, std::string_view rule = "") {
    const auto found = std::ranges::find_if(list, [&](const Finding& f) {
        return f.subject == subject && f.rule.find(rule) != std::string::npos;
    });
    REQUIRE_MESSAGE(found != list.end(), name_of(subject), " ", rule);
    return *found;
}
inline Finding one(const Inputs& in, Subject subject, std::string_view rule = "") {
    return one(all(in), subject, rule);
}
inline Finding of_wall(int edition, const char* zone, const Assembly& assembly, Subject subject,
                       std::optional<double> code_u = {}) {
    Inputs in = inputs(edition, zone);
    in.surfaces.push_back(surface(assembly, code_u));
    return one(in, subject);
}

}  // namespace warmside::rules::made_up
