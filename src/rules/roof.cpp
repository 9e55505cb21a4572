// Unvented roofs and the vents of attics, IRC R806.
#include <fmt/format.h>

#include <algorithm>

#include "rules/context.h"
#include "rules/layers.h"
#include "rules/retarder.h"
#include "rules/roof_deck.h"
#include "units/quantity.h"

namespace warmside::rules {

namespace {

// R806.5: underside of the sheathing above 45 degF with 68 degF inside.
constexpr double least_deck = 280.37222222222222;  // K
constexpr double room = 293.15;                    // K
// From this zone up the impermeable layer is or carries a Class II retarder; below, none is asked.
constexpr int retarder_zone = 5;

/// Insulation of an unvented roof as R806.5 counts it.
struct RoofParts {
    double above = 0.0;        ///< m2 K/W above the deck
    double impermeable = 0.0;  ///< against the deck from below
    double permeable = 0.0;    ///< below
    double below_class = 0.0;  ///< kg/(s m2 Pa) of the impermeable layer against the deck; 0: none
};

/// The sheathing on the rafters: the first panel outside of the frame. A second one over the insulation is no
/// deck.
std::size_t deck_of(const assembly::Assembly& roof, const Insulation& in) {
    for (std::size_t i = in.bearing ? *in.bearing + 1 : 0; i < roof.layers.size(); ++i) {
        const auto& layer = roof.layers[i];
        const bool board = layer.kind == assembly::Layer::Kind::material && !layer.framing;
        if (board && (layer.material->family == "panel" || layer.material->is_wood)) return i;
    }
    return roof.datum();
}

RoofParts parts_of(const assembly::Assembly& roof, const Insulation& in) {
    constexpr double dry_cup = 0.25;
    const std::size_t deck = deck_of(roof, in);
    RoofParts out;
    for (std::size_t i = 0; i < in.layers.size(); ++i) {
        if (in.layers[i].as == LayerShare::As::nothing) continue;
        const auto& layer = roof.layers[i];
        if (i > deck) {
            out.above += in.layers[i].r;
        } else if (is_foam(layer) && i + 1 >= deck) {
            out.impermeable += in.layers[i].r;
            out.below_class =
                material::vapour_permeability(*layer.material, dry_cup) / layer.thickness.metres();
        } else {
            out.permeable += in.layers[i].r;
        }
    }
    return out;
}

void by_temperature(const Context& context, const RoofParts& parts, Finding& f) {
    const auto& outside = context.in.winter.three_coldest;
    if (!outside || *outside >= least_deck) return;
    const double ratio = share_outside(least_deck, room, *outside);
    const double needed = ratio / (1.0 - ratio) * (parts.permeable + parts.impermeable);
    f.notes.push_back(fmt::format(
        "The other way, underside of the sheathing above 45 degF at the mean of the three coldest months "
        "({:.0f} "
        "degF) and 68 degF inside: {:.0f} % of the R above the deck, {} over what lies below (films and "
        "boards "
        "neglected). There: {}.",
        units::fahrenheit(*outside), 100.0 * ratio, r_amount(needed).text, r_amount(parts.above).text));
}

void conditions(const Context& context, const Surface& surface, const Insulation& in, const RoofParts& parts,
                Finding& f) {
    const auto inner = inner_retarder(*surface.assembly, in, context.tables(), context.zone());
    if (inner && inner->vapour_class == "I") {
        f.outcome = context.settle(false, f.evidence);
        f.words += fmt::format(" Class I on the ceiling side ({}) is not allowed.", inner->name);
        f.change += fmt::format("{}a ceiling without Class I", f.change.empty() ? "" : ", and ");
    }
    const bool foam_below = parts.impermeable > 0.0;
    const Cell* second = context.find("class", "II");
    if (foam_below && second && context.zone().number >= retarder_zone && parts.below_class > second->value)
        f.notes.emplace_back(
            "In zones 5 to 8 the air-impermeable insulation is, or carries, a Class II retarder: this "
            "foam alone is not.");
}

bool is_unvented(const assembly::Assembly& assembly) {
    return assembly.part == assembly::Part::roof && !assembly.vented &&
           first_ventilated(assembly) == assembly.layers.size();
}

}  // namespace

double share_outside(double deck, double inside, double outside) {
    return (deck - outside) / (inside - outside);
}

void unvented_roof(const Context& context, const Surface& surface, Findings& out) {
    if (!surface.assembly || surface.assembly->layers.empty() || !is_unvented(*surface.assembly)) return;
    const std::string rule = "unvented roof: R above the deck or air-impermeable against it";
    const Cell* cell = context.find("unvented roof", "R");
    if (!cell) {
        out.push_back(
            not_covered(context, Subject::roof, surface.part, rule,
                        fmt::format("Table R806.5 has no row for zone {}.", name_of(context.zone()))));
        return;
    }
    const Insulation in = insulation_of(*surface.assembly);
    const RoofParts parts = parts_of(*surface.assembly, in);
    Finding f = resting_on(*cell, Subject::roof, surface.part, rule);
    const double there = parts.above + parts.impermeable;
    const bool asked = parts.permeable > 0.0;
    const bool passes = !asked || at_least(there, cell->value);
    f.required = r_amount(cell->value);
    f.provided = r_amount(there);
    f.outcome = context.settle(passes, f.evidence);
    f.words =
        asked
            ? fmt::format(
                  "Asked beside air-permeable insulation: {}. There: {} above the deck, {} against it.",
                  f.required->text, r_amount(parts.above).text, r_amount(parts.impermeable).text)
            : fmt::format("All insulation is air-impermeable or above the deck ({}): the table asks nothing.",
                          f.provided->text);
    if (!passes)
        f.change = r_amount(cell->value - there).text +
                   " more above the deck, or a vented space over the insulation";
    by_temperature(context, parts, f);
    conditions(context, surface, in, parts, f);
    for (const std::string& note : context.tables().footnotes("unvented roof")) f.notes.push_back(note);
    out.push_back(std::move(f));
}

namespace {

/// In zones 6 to 8 the smaller vent area asks a Class I or II retarder at the ceiling; false where a ceiling
/// is given without one.
bool ceilings_retard(const Context& context) {
    constexpr int from_zone = 6;
    if (context.zone().number < from_zone) return true;
    return std::ranges::all_of(context.in.surfaces, [&](const Surface& each) {
        if (!each.assembly || each.assembly->part != assembly::Part::ceiling) return true;
        const auto inner =
            inner_retarder(*each.assembly, insulation_of(*each.assembly), context.tables(), context.zone());
        return inner && (inner->vapour_class == "I" || inner->vapour_class == "II");
    });
}

}  // namespace

void attic_vents(const Context& context, Findings& out) {
    const Cell* basic = context.find("attic vents", "basic");
    const Cell* reduced = context.find("attic vents", "reduced");
    if (!context.in.attic || !context.in.attic_vents || !basic || !reduced) return;
    const double there = *context.in.attic_vents;
    const auto ratio = [](double share) {
        const std::string text = share > 0.0 ? fmt::format("1/{:.0f}", 1.0 / share) : std::string("none");
        return Amount{share, "-", text, text};
    };
    Finding f = resting_on(*basic, Subject::roof, "roof/attic", "vent area of the attic");
    f.required = ratio(basic->value);
    f.provided = ratio(there);
    f.words = fmt::format("Asked: {} of the area, or {} on conditions. There: {}.", f.required->text,
                          ratio(reduced->value).text, f.provided->text);
    if (at_least(there, basic->value)) {
        f.outcome = context.settle(true, f.evidence);
    } else if (at_least(there, reduced->value) && ceilings_retard(context)) {
        f.outcome = Outcome::information;
        f.notes.emplace_back(
            "The smaller area holds where 40 to 50 % of it lies within 3 ft of the top, and in zones 6 to 8 "
            "a Class I or "
            "II retarder stands at the ceiling: where the vents are is not in the house file.");
    } else {
        f.outcome = context.settle(false, f.evidence);
        f.change = fmt::format("{} of free vent area", f.required->text);
        if (at_least(there, reduced->value)) f.change += ", or a Class I or II retarder at the ceiling";
    }
    out.push_back(std::move(f));
}

}  // namespace warmside::rules
