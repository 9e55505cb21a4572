// Checks of wood members, wind, bracing and fasteners.
#include <array>

#include "material/material.h"
#include "proof/inputs.h"
#include "structure/bracing.h"
#include "structure/cladding.h"
#include "structure/column.h"
#include "structure/span.h"
#include "structure/studs.h"

namespace warmside::proof {
namespace {

namespace s = warmside::structure;

s::Exposure exposure_in(Inputs& v) {
    const std::string word = v.word("exposure", {"B", "C", "D"});
    return word == "B" ? s::Exposure::b : word == "C" ? s::Exposure::c : s::Exposure::d;
}

Result<Outcome> outside() {
    return fail(Code::unsupported, "outside the table");
}

/// given: size (two lengths), length, species and grade, or bending, compression, stability and
/// size_compression; duration, repetitive, axial, across. Stresses, Pa, ratio, deflection, m.
Result<Outcome> column(const Given& given) {
    Inputs v(given);
    const auto size = v.list("size", units::length);
    s::ColumnCase c;
    c.size = {size.empty() ? 0.0 : size.front(), size.empty() ? 0.0 : size.back()};
    c.length = v.one("length", units::length);
    c.axial = v.one("axial", units::force);
    c.across = v.one_or("across", units::line_load, 0.0);
    c.duration = v.one("duration", units::number);
    c.repetitive = v.one_or("repetitive", units::number, 1.0);
    if (const auto species = v.reader().text("species")) {
        const auto grade = v.reader().text("grade");
        const auto found = s::lumber_of(*species, grade.value_or(""), c.size);
        if (!found) return fail(Code::unknown_name, "no such lumber");
        c.lumber = *found;
    } else {
        c.lumber.bending = v.one("bending", units::pressure);
        c.lumber.compression = v.one("compression", units::pressure);
        c.lumber.stability = v.one("stability", units::pressure);
        c.lumber.size_compression = v.one_or("size_compression", units::number, 1.0);
    }
    return v.then([&]() -> Result<Outcome> {
        const auto r = s::column(c);
        if (!r) return fail(r.error());
        Outcome out{{"euler", {r->euler}},
                    {"unbuckled", {r->unbuckled}},
                    {"stability", {r->stability}},
                    {"compression", {r->compression}},
                    {"bending", {r->bending}},
                    {"axial_stress", {r->axial_stress}},
                    {"bending_stress", {r->bending_stress}},
                    {"ratio", {r->ratio}}};
        if (c.lumber.modulus > 0)
            out["deflection"] = {s::deflection(c.size, c.lumber.modulus, c.length, c.across)};
        return out;
    });
}

Result<Outcome> spans(const Given& given, std::string_view live, double duration) {
    Inputs v(given);
    const double load = v.one(live, units::pressure), dead = v.one("dead", units::pressure);
    const double spacing = v.one("spacing", units::length), limit = v.one("limit", units::number);
    const auto species = v.reader().text("species"), grade = v.reader().text("grade");
    const auto members = v.reader().texts("members");
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        const auto& catalogue = material::built_in();
        for (const std::string& name : members.value_or(std::vector<std::string>{})) {
            const auto* lumber = catalogue.member(name);
            if (!lumber) return fail(Code::unknown_name, name);
            const s::Size size{lumber->thickness, lumber->depth};
            const auto values = s::lumber_of(species.value_or(""), grade.value_or(""), size);
            if (!values) return fail(Code::unknown_name, name);
            out["span"].push_back(s::longest_span({.size = size,
                                                   .lumber = *values,
                                                   .dead = dead * spacing,
                                                   .live = load * spacing,
                                                   .duration = duration,
                                                   .repetitive = s::durations().repetitive,
                                                   .limit = limit})
                                      .span());
        }
        return out;
    });
}

/// given: live, dead, spacing, limit, species, grade, members. Longest span of each, m.
Result<Outcome> joist(const Given& given) {
    return spans(given, "live", s::durations().live);
}
/// given: snow, dead, spacing, limit, species, grade, members. Longest span of each, m.
Result<Outcome> rafter(const Given& given) {
    return spans(given, "snow", s::durations().snow);
}

/// given: speed, exposure, height, area. Allowable-stress pressures, Pa.
Result<Outcome> wall_pressure(const Given& given) {
    Inputs v(given);
    const double speed = v.one("speed", units::speed), height = v.one("height", units::length);
    const double area = v.one("area", units::area);
    const auto exposure = exposure_in(v);
    return v.then([&]() -> Result<Outcome> {
        const auto p = s::ultimate_pressure(speed, exposure, height, area);
        if (!p) return outside();
        return Outcome{{"towards", {s::allowable(p->towards)}},
                       {"field", {s::allowable(p->field)}},
                       {"corner", {s::allowable(p->corner)}}};
    });
}

/// given: exposure, heights. Pressure over that of exposure B at 30 ft.
Result<Outcome> wind_exposure(const Given& given) {
    Inputs v(given);
    const auto exposure = exposure_in(v);
    const auto heights = v.list("heights", units::length);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        constexpr double speed = 50.0, area = 1.0, thirty_feet = 9.144;
        const auto base = s::ultimate_pressure(speed, s::Exposure::b, thirty_feet, area);
        for (const double height : heights) {
            const auto p = s::ultimate_pressure(speed, exposure, height, area);
            if (!p || !base) return outside();
            out["factor"].push_back(p->corner / base->corner);
        }
        return out;
    });
}

/// given: ultimate, Pa. What strength and deflection are judged under, Pa.
Result<Outcome> wind_loads(const Given& given) {
    Inputs v(given);
    const double ultimate = v.one("ultimate", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        return Outcome{{"allowable", {s::allowable(ultimate)}},
                       {"deflection", {s::for_deflection(ultimate)}}};
    });
}

/// given: speed, exposure, floors, storeys, spacing, rise, storey, lines, gypsum. Braced length, m.
Result<Outcome> braced_length(const Given& given) {
    Inputs v(given);
    s::BracedLine line;
    line.wind = v.one("speed", units::speed);
    line.exposure = exposure_in(v);
    line.floors = v.whole("floors", 0, 2);
    line.storeys = v.whole("storeys", 1, 3);
    line.spacing = v.one("spacing", units::length);
    line.rise = v.one("rise", units::length);
    line.storey = v.one("storey", units::length);
    line.lines = v.whole("lines", 2, 20);
    line.gypsum = v.flag("gypsum");
    return v.then([&]() -> Result<Outcome> {
        const auto length = s::braced_length(line);
        return length ? Result<Outcome>(Outcome{{"length", {*length}}}) : outside();
    });
}

/// given: opening, walls (heights). Least panel, m.
Result<Outcome> least_panel(const Given& given) {
    Inputs v(given);
    const double opening = v.one("opening", units::length);
    const auto walls = v.list("walls", units::length);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double wall : walls) {
            const auto least = s::least_panel(opening, wall);
            if (!least) return outside();
            out["length"].push_back(*least);
        }
        return out;
    });
}

/// given: width, speed, exposure. Full-height studs at each side.
Result<Outcome> kings(const Given& given) {
    Inputs v(given);
    const double width = v.one("width", units::length), speed = v.one("speed", units::speed);
    const auto exposure = exposure_in(v);
    return v.then([&]() -> Result<Outcome> {
        const auto rule = s::kings_for(width, speed, exposure);
        return rule ? Result<Outcome>(Outcome{{"kings", {static_cast<double>(rule->kings)}}}) : outside();
    });
}

/// given: diameter, yield, gravity, side, main, gap. Each yield mode and the least, N.
Result<Outcome> lateral(const Given& given) {
    Inputs v(given);
    const s::Dowel dowel{.diameter = v.one("diameter", units::length),
                         .yield = v.one("yield", units::pressure),
                         .gravity = v.one("gravity", units::number),
                         .side = v.one("side", units::length),
                         .main = v.one("main", units::length),
                         .gap = v.one_or("gap", units::length, 0.0)};
    return v.then([&]() -> Result<Outcome> {
        const auto modes = s::lateral_modes(dowel);
        Outcome out{{"least", {s::lateral(dowel)}}};
        for (std::size_t i = 0; i < modes.size(); ++i) out[s::yield_modes[i]] = {modes[i]};
        return out;
    });
}

/// given: gravity, diameter, penetration. Withdrawal, N/m and N.
Result<Outcome> withdrawal(const Given& given) {
    Inputs v(given);
    const double gravity = v.one("gravity", units::number), diameter = v.one("diameter", units::length);
    const double penetration = v.one("penetration", units::length);
    return v.then([&]() -> Result<Outcome> {
        const double each = s::withdrawal(gravity, diameter);
        return Outcome{{"per_length", {each}}, {"whole", {each * penetration}}};
    });
}

/// given: fastener, spacing, furring, weights. Thickness by the rule, m.
Result<Outcome> foam_thickness(const Given& given) {
    Inputs v(given);
    const auto name = v.reader().text("fastener");
    const double spacing = v.one("spacing", units::length), furring = v.one("furring", units::length);
    const auto weights = v.list("weights", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        const auto fastener = s::fastener_named(name.value_or(""));
        if (!fastener) return fail(Code::unknown_name, "no such fastener");
        Outcome out;
        for (const double weight : weights)
            out["thickness"].push_back(
                s::foam_by_rule(*fastener, s::load_per_fastener(weight, spacing, furring)));
        return out;
    });
}

constexpr std::array operations{Operation{"structure.column", column},
                                Operation{"structure.joist", joist},
                                Operation{"structure.rafter", rafter},
                                Operation{"structure.wall_pressure", wall_pressure},
                                Operation{"structure.wind_exposure", wind_exposure},
                                Operation{"structure.wind_loads", wind_loads},
                                Operation{"structure.braced_length", braced_length},
                                Operation{"structure.least_panel", least_panel},
                                Operation{"structure.kings", kings},
                                Operation{"structure.lateral", lateral},
                                Operation{"structure.withdrawal", withdrawal},
                                Operation{"structure.foam_thickness", foam_thickness}};

}  // namespace

std::span<const Operation> structure_operations() {
    return operations;
}

}  // namespace warmside::proof
