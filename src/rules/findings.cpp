#include "rules/findings.h"

#include <fmt/format.h>

#include <cmath>

#include "rules/context.h"

namespace warmside::rules {

namespace {

Result<void> not_negative(double value, std::string_view what) {
    const bool good = std::isfinite(value) && value >= 0.0;
    if (good) return {};
    return fail(Code::out_of_range, fmt::format("{} of {} cannot be", what, value));
}

Result<void> check(const Surface& s) {
    if (s.row.empty()) return fail(Code::missing, fmt::format("{} names no row of the tables", s.part));
    if (s.row == "slab" || s.row == "heated slab")
        return fail(Code::conflict,
                    fmt::format("{} is a slab: its edge is judged, so it belongs to the slabs", s.part));
    if (s.code_u && !(std::isfinite(*s.code_u) && *s.code_u > 0.0))
        return fail(Code::out_of_range, fmt::format("U of {} is {}, not above 0", s.part, *s.code_u));
    return not_negative(s.area, fmt::format("area of {}", s.part));
}

Result<void> check(const Glazing& g) {
    if (auto good = not_negative(g.area, fmt::format("area of {}", g.name)); !good) return good;
    if (auto good = not_negative(g.u, fmt::format("U of {}", g.name)); !good) return good;
    return not_negative(g.solar_gain, fmt::format("solar gain of {}", g.name));
}

Result<void> check(const Slab& s) {
    for (const double value :
         {s.perimeter, s.edge.value_or(0.0), s.depth, s.full.value_or(0.0), s.f.value_or(0.0)}) {
        if (auto good = not_negative(value, fmt::format("a size of {}", s.part)); !good) return good;
    }
    return {};
}

Result<void> check(const Inputs& in) {
    if (!in.tables) return fail(Code::missing, "no tables of a code were given");
    const Zone zone = in.zone.zone;
    if (zone.number < 0 || zone.number > 8)
        return fail(Code::out_of_range, fmt::format("there is no climate zone {}", zone.number));
    for (const Surface& each : in.surfaces) {
        if (auto good = check(each); !good) return good;
    }
    for (const Glazing& each : in.glazing) {
        if (auto good = check(each); !good) return good;
    }
    for (const Slab& each : in.slabs) {
        if (auto good = check(each); !good) return good;
    }
    for (const double value : {in.leakage.measured.value_or(0.0), in.leakage.expected.value_or(0.0),
                               in.leakage.volume, in.leakage.enclosure, in.attic_vents.value_or(0.0)}) {
        if (auto good = not_negative(value, "a leakage, volume or vent area"); !good) return good;
    }
    return {};
}

Finding zone_finding(const Context& context) {
    const Origin& origin = context.in.zone.origin;
    Finding f{.subject = Subject::zone,
              .part = "house",
              .rule = "climate zone",
              .citation = fmt::format("edition {}", context.tables().edition),
              .evidence = origin.evidence,
              .origin = origin};
    f.words = fmt::format("Zone {} ({}).", name_of(context.zone()), describe(origin));
    if (origin.evidence == Evidence::memory) {
        f.notes.emplace_back(
            "The zone of this edition's map is from memory, so nothing below is confirmed: state the zone "
            "in [code] of the house file.");
    }
    for (const std::string& name : context.tables().amendments)
        f.notes.push_back(fmt::format("Local amendment: {}.", name));
    f.notes.emplace_back("Findings speak of envelope rows only. The adopted text and the official decide.");
    return f;
}

}  // namespace

std::string row_of(assembly::Part part) {
    switch (part) {
        case assembly::Part::roof: return "ceiling";
        case assembly::Part::wall:
        case assembly::Part::ceiling:
        case assembly::Part::floor:
        case assembly::Part::slab:
        case assembly::Part::basement_wall: return assembly::name_of(part);
    }
    return {};
}

Result<std::vector<Finding>> findings(const Inputs& inputs) {
    if (auto good = check(inputs); !good) return fail(good.error());
    const Context context{inputs};
    Findings out{zone_finding(context)};
    for (const Surface& surface : inputs.surfaces) {
        r_row(context, surface, out);
        u_row(context, surface, out);
        vapour_retarder(context, surface, out);
        share_inside(context, surface, out);
        unvented_roof(context, surface, out);
    }
    attic_vents(context, out);
    for (const Slab& slab : inputs.slabs) slab_row(context, slab, out);
    fenestration(context, out);
    const auto total = total_conductance(context, out);
    air_leakage(context, out);
    heat_recovery(context, out);
    credits(context, total, out);
    reminders(context, out);
    comparisons(context, out);
    return out;
}

}  // namespace warmside::rules
