// Screws through exterior insulation, and the inner furring.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "structure/cladding.h"
#include "structure/site.h"

namespace warmside::structure {

namespace {

constexpr const char* outside = "screws through exterior insulation";
constexpr const char* inside = "inner furring";

double pounds(double newtons) {
    static const double one = *units::parse("1 lbf", units::force);
    return newtons / one;
}

/// Insulation outside of the core that screws cross, and the furring that they hold.
struct Hung {
    double thickness = 0.0;  ///< m of insulation in the gap
    bool foam = true;        ///< every layer of it reaches 15 psi
    std::string names;
    const assembly::Fasteners* fasteners = nullptr;
    const assembly::Framing* furring = nullptr;
    std::size_t first = 0;   ///< innermost insulation layer
    std::size_t beyond = 0;  ///< the layer outside of it
};

std::optional<Hung> hung_of(const assembly::Assembly& wall, const Core& core) {
    Hung out;
    for (std::size_t i = core.layer + 1; i < wall.layers.size(); ++i) {
        const auto& layer = wall.layers[i];
        const bool insulation =
            layer.kind == assembly::Layer::Kind::material && !layer.framing && layer.material->is_insulation;
        if (insulation) {
            if (out.names.empty()) out.first = i;
            out.names += (out.names.empty() ? "" : ", ") + layer.material->name;
            out.thickness += layer.thickness.metres();
            out.foam = out.foam && is_strong_foam(layer.material->name);
            out.beyond = i + 1;
        }
        if (layer.fasteners) out.fasteners = &*layer.fasteners;
        if (layer.framing && !out.names.empty()) out.furring = &*layer.framing;
    }
    if (out.names.empty()) return std::nullopt;
    return out;
}

void foam(Finding f, const Hung& hung, const FurringFastener& fastener, double cladding, double spacing,
          std::vector<Finding>& out) {
    const double furring = hung.furring->spacing.metres();
    f.rule = "furring over foam of 15 psi by table";
    f.citation = "IRC 2021 Table R703.15.2";
    const auto limit = foam_limit(fastener.name, spacing, furring, cladding);
    if (!limit || *limit <= 0) {
        f.outcome = Outcome::needs_engineer;
        f.words =
            "The table says \"design required\", or has no such spacing or weight: an engineer decides.";
        f.inputs.clear();
        out.push_back(std::move(f));
        return;
    }
    judge(f, hung.thickness, *limit, "m");
    f.words = fmt::format(
        "{} of foam, at most {} with {} every {}, furring at {}, going {} into the studs; foam "
        "of 15 psi, furring 3/4 in or more.",
        units::inches(hung.thickness), units::inches(*limit), fastener.name, units::inches(spacing),
        units::inches(furring), units::inches(fastener.penetration));
    if (f.outcome == Outcome::fails) f.change = "closer or heavier fasteners, or a design";
    f.inputs.push_back({"largest thickness", *limit, "m", foam_origin()});
    f.inputs.push_back(
        {"foam taken to reach", *units::parse("15 psi", units::pressure), "Pa", strong_foam_origin()});
    f.inputs.push_back({"penetration", fastener.penetration, "m", fastener.penetration_origin});
    out.push_back(std::move(f));
}

/// What no table covers: load per screw beside what it yields at, decided by others.
void designed(Finding f, const Hung& hung, const FurringFastener& fastener, double load, bool graded,
              std::vector<Finding>& out) {
    const double capacity = furring_capacity(fastener, hung.thickness);
    const auto& caution = cladding_caution();
    f.outcome = Outcome::needs_engineer;
    f.rule = "cladding weight on each screw; no table for this insulation";
    f.citation = "IRC 2021 R703.15 names 15 psi foam only; AWC TR12 with the insulation as the gap";
    f.demand = load;
    f.capacity = capacity;
    f.unit = "N";
    f.words = fmt::format(
        "Each screw carries {:.1f} N ({:.1f} lb) through {} of {}; counted as a {}, its yield capacity "
        "across "
        "that gap is {:.1f} N ({:.1f} lb). A tested table of the board's maker or an engineer decides.",
        load, pounds(load), units::inches(hung.thickness), hung.names, fastener.name, capacity,
        pounds(capacity));
    if (!graded)
        f.words +=
            " The studs have no recognised grade: the figure is that of wood of specific gravity 0.42.";
    if (load > caution.load || hung.thickness > caution.thickness) {
        f.words +=
            " Above 10 lb a screw or 4 in: sag over the years is not covered by yield, and the rule was "
            "fitted "
            "to 4 in.";
        f.inputs.push_back({"caution above, a screw", caution.load, "N", caution.origin});
    }
    f.inputs.push_back({"penetration", fastener.penetration, "m", fastener.penetration_origin});
    f.inputs.push_back({"yield capacity rule", capacity, "N", furring_rule_origin()});
    out.push_back(std::move(f));
}

}  // namespace

void check_cladding(const Site& site, const assembly::Assembly& wall, std::vector<Finding>& out) {
    const auto core = core_of(wall);
    if (!core) return;
    const auto hung = hung_of(wall, *core);
    if (!hung) return;
    Finding f = unnumbered(Outcome::needs_engineer, outside, "all walls", "cladding weight on each screw",
                           "IRC 2021 R703.15", "");
    const auto fastener =
        hung->fasteners ? fastener_up_to(2 * std::sqrt(hung->fasteners->cross_section / std::numbers::pi))
                        : std::nullopt;
    if (!hung->fasteners || hung->fasteners->per_area <= 0 || !hung->furring || !fastener) {
        f.words = "The layers name no screws and furring that hold the cladding through the insulation.";
        out.push_back(std::move(f));
        return;
    }
    const auto& given = site.house().loads.cladding;
    const double cladding = given ? given->value : weight_of(wall, hung->beyond);
    const double insulation = weight_of(wall, hung->first) - weight_of(wall, hung->beyond);
    const double load = (cladding + insulation) / hung->fasteners->per_area;
    f.inputs = {given ? input("cladding and furring", *given, "Pa")
                      : Input{"cladding and furring, from the layers", cladding, "Pa", wall.origin},
                {"insulation hung with it", insulation, "Pa", wall.origin},
                {"screws per area", hung->fasteners->per_area, "1/m2", hung->fasteners->origin},
                {"screw counted as", fastener->diameter, "m", fastener->origin}};
    const bool graded = ungraded(site.house(), *core).empty();
    if (hung->foam && !graded) {
        f.rule = "furring over foam of 15 psi by table";
        f.citation = "IRC 2021 Table R703.15.2";
        f.words = "The table is for graded 2x studs: an engineer decides.";
        f.inputs.clear();
        out.push_back(std::move(f));
    } else if (hung->foam) {
        const double spacing = 1 / (hung->fasteners->per_area * hung->furring->spacing.metres());
        foam(std::move(f), *hung, *fastener, cladding, spacing, out);
    } else {
        designed(std::move(f), *hung, *fastener, load, graded, out);
    }
}

void check_inner_furring(const Site& site, const assembly::Assembly& wall, std::vector<Finding>& out) {
    const auto core = core_of(wall);
    if (!core) return;
    const assembly::Framing* strip = nullptr;
    for (std::size_t i = 0; i < core->layer; ++i) {
        const auto& layer = wall.layers[i];
        if (layer.framing && layer.framing->run == assembly::Run::horizontal) strip = &*layer.framing;
    }
    if (!strip) return;
    const auto& practice = site.house().practice;
    const auto stud = lumber_of(practice.species.value, practice.stud_grade.value, core->size);
    if (!stud || !ungraded(site.house(), *core).empty()) {
        out.push_back(unnumbered(Outcome::needs_engineer, inside, "all walls",
                                 "lining, insulation and boxes on one nail at each crossing", "NDS 2018 12.2",
                                 "The studs have no recognised grade, so their nails have no value here: an "
                                 "engineer decides."));
        return;
    }
    const double weight = weight_of(wall) - weight_of(wall, core->layer);
    const auto& inner = inner_furring();
    // One nail at each crossing of a strip with a stud.
    const double area = strip->spacing.metres() * core->framing->spacing.metres();
    const double load = weight * area + inner.box;
    const double lateral_value = durations().dead * lateral({.diameter = inner.diameter,
                                                             .yield = inner.yield,
                                                             .gravity = stud->gravity,
                                                             .side = strip->depth.metres(),
                                                             .main = inner.penetration,
                                                             .gap = 0.0});
    Finding f;
    f.subject = inside;
    f.where = "all walls";
    f.rule = "weight of lining, insulation and a box on one nail at each crossing";
    f.citation = "NDS 2018 Table 12.3.1A (lateral)";
    const std::vector<Input> nail{
        computed("area of a crossing", area, "m2"),
        {"nail, plain", inner.diameter, "m", inner.origin},
        {"penetration", inner.penetration, "m", inner.origin},
        {"specific gravity of the studs", stud->gravity, "-", stud->gravity_origin}};
    f.inputs = nail;
    f.inputs.push_back({"weight inside of the studs", weight, "Pa", wall.origin});
    f.inputs.push_back({"a box on the crossing", inner.box, "N", inner.origin});
    f.inputs.push_back({"load duration CD", durations().dead, "-", durations().origin});
    judge(f, load, lateral_value, "N");
    f.words = fmt::format(
        "{:.0f} N ({:.1f} lb) on a plain 0.131 in nail that goes 1 1/2 in into the stud, at most "
        "{:.0f} N ({:.1f} lb).",
        load, pounds(load), lateral_value, pounds(lateral_value));
    if (f.outcome == Outcome::fails) f.change = "two nails or a screw at each crossing";
    out.push_back(f);

    const double pull = inner.pull * area;
    const double held = durations().live * withdrawal(stud->gravity, inner.diameter) * inner.penetration;
    f.rule = "pull of 5 psf on the lining, one nail at each crossing";
    f.citation = "NDS 2018 12.2 (withdrawal); the 5 psf of IBC 1607 from memory";
    f.inputs = nail;
    f.inputs.push_back({"pull on the lining", inner.pull, "Pa", inner.pull_origin});
    judge(f, pull, held, "N");
    f.words = fmt::format(
        "{:.0f} N ({:.1f} lb) out of the stud, at most {:.0f} N ({:.1f} lb). Cabinets and "
        "railings need blocking of their own.",
        pull, pounds(pull), held, pounds(held));
    f.change = f.outcome == Outcome::fails ? "two nails or a screw at each crossing" : "";
    out.push_back(std::move(f));
}

}  // namespace warmside::structure
