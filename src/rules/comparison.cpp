// What other countries ask, for information.
#include <fmt/format.h>

#include "rules/context.h"
#include "rules/practice_data.h"

namespace warmside::rules {

namespace {

/// Which figure of the list holds; nothing where bands of degree days are asked and none are given.
std::optional<std::size_t> band(const Comparison& c, const Winter& winter) {
    if (c.degree_days.empty()) return 0;
    if (!winter.degree_days) return std::nullopt;
    return band_of(c, *winter.degree_days);
}

Finding begin(const Comparison& c, std::string part) {
    return {.subject = Subject::comparison,
            .part = std::move(part),
            .rule = fmt::format("{}: {}", c.country, c.what),
            .citation = c.country,
            .evidence = c.origin.evidence,
            .origin = c.origin};
}

void say(bool within, Finding& f) {
    f.words = fmt::format("Asked there: {}. Here: {}, {}.", f.required->metric, f.provided->metric,
                          within ? "within" : "not within");
    f.notes.emplace_back(
        "For information: each country computes in its own way; here the code U of this program stands "
        "beside it.");
}

void compare_u(const Comparison& c, std::size_t at, std::string part, double u, Findings& out) {
    Finding f = begin(c, std::move(part));
    if (!c.resistance.empty()) {
        f.required = r_amount(c.resistance[at]);
        f.provided = r_amount(1.0 / u);
        say(at_least(1.0 / u, c.resistance[at]), f);
    } else {
        f.required = u_amount(c.u[at]);
        f.provided = u_amount(u);
        say(at_most(u, c.u[at]), f);
    }
    out.push_back(std::move(f));
}

bool same_part(const Surface& surface, const std::string& part) {
    if (!surface.assembly) return surface.row == part;
    return assembly::name_of(surface.assembly->part) == part;
}

std::optional<double> mean_window(const Inputs& in) {
    double area = 0.0, sum = 0.0;
    for (const Glazing& each : in.glazing) {
        if (each.kind != Glazing::Kind::window) continue;
        if (each.u <= 0.0) return std::nullopt;
        area += each.area;
        sum += each.area * each.u;
    }
    return area > 0.0 ? std::optional(sum / area) : std::nullopt;
}

std::optional<double> mean_envelope(const Inputs& in) {
    double area = 0.0, sum = 0.0;
    for (const Surface& each : in.surfaces) {
        if (!each.code_u || each.area <= 0.0) return std::nullopt;
        area += each.area;
        sum += each.area * *each.code_u;
    }
    for (const Glazing& each : in.glazing) {
        if (each.u <= 0.0) return std::nullopt;
        area += each.area;
        sum += each.area * each.u;
    }
    return area > 0.0 ? std::optional(sum / area) : std::nullopt;
}

void air(const Comparison& c, std::size_t at, const Leakage& leakage, Findings& out) {
    const auto rate = leakage.measured ? leakage.measured : leakage.expected;
    if (!rate) return;
    Finding f = begin(c, "house");
    f.required = ach_amount(c.air_change[at]);
    f.provided = ach_amount(*rate);
    say(at_most(*rate, c.air_change[at]), f);
    out.push_back(std::move(f));
}

}  // namespace

void comparisons(const Context& context, Findings& out) {
    for (const Comparison& c : practice().comparisons) {
        const auto at = band(c, context.in.winter);
        if (!at) continue;
        if (c.part == "air") {
            air(c, *at, context.in.leakage, out);
        } else if (c.part == "window") {
            if (const auto u = mean_window(context.in)) compare_u(c, *at, "windows", *u, out);
        } else if (c.part == "whole envelope") {
            const auto u = mean_envelope(context.in);
            if (!u || !context.in.slabs.empty()) continue;
            compare_u(c, *at, "house", *u, out);
            out.back().notes.emplace_back("Junctions are not in the mean here, and are in Sweden's.");
        } else {
            for (const Surface& surface : context.in.surfaces) {
                if (same_part(surface, c.part) && surface.code_u)
                    compare_u(c, *at, surface.part, *surface.code_u, out);
            }
        }
    }
}

}  // namespace warmside::rules
