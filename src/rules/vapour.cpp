// Vapour retarders of framed walls, IRC R702.7.
#include <fmt/format.h>

#include "rules/context.h"
#include "rules/layers.h"
#include "rules/retarder.h"
#include "units/quantity.h"

namespace warmside::rules {

namespace {

constexpr std::string_view design =
    "Always open: an approved hygrothermal design (R702.7). A dryness verdict of this program is no "
    "approval.";
// Tables that the code adds for responsive sheets and rainscreens came with this edition.
constexpr int responsive_edition = 2024;

/// The wall and all that the rules ask about it.
struct Wall {
    const Context& context;
    const Surface& surface;
    const assembly::Assembly& assembly;
    Insulation in;
    std::optional<Retarder> inner, outer;
    double counted = 0.0;  ///< m2 K/W, continuous outside with spray foam on the sheathing
    bool sprayed = false;
    [[nodiscard]] std::string inner_class() const { return inner ? inner->vapour_class : "none"; }
    [[nodiscard]] bool foam() const { return in.foam_outside > 0.0; }
    [[nodiscard]] int edition() const { return context.tables().edition; }
    /// Wet cup above 1 perm, 2024: 1 perm or more.
    [[nodiscard]] bool opens() const {
        const Cell* one = context.find("class", "II");
        if (!inner || !one) return false;
        return edition() >= responsive_edition ? at_least(inner->wet, one->value) : inner->wet > one->value;
    }
};

/// Spray foam of at most 1.5 perm against the sheathing counts with the continuous insulation.
double sprayed_r(const assembly::Assembly& assembly, const Insulation& in) {
    const double most = units::parse("1.5 perm", units::permeance).value_or(0.0);
    constexpr double dry_cup = 0.25;
    double out = 0.0;
    for (std::size_t i = 0; i + 1 < assembly.layers.size(); ++i) {
        const auto& layer = assembly.layers[i];
        const auto& next = assembly.layers[i + 1];
        const bool on_sheathing = next.kind == assembly::Layer::Kind::material && !next.framing &&
                                  (next.material->family == "panel" || next.material->family == "gypsum");
        const bool spray = is_foam(layer) && layer.material->name.find("spray") != std::string::npos;
        if (in.layers[i].as != LayerShare::As::cavity || !spray || !on_sheathing) continue;
        const double permeance =
            material::vapour_permeability(*layer.material, dry_cup) / layer.thickness.metres();
        if (at_most(permeance, most)) out += in.layers[i].r;
    }
    return out;
}

Wall wall_of(const Context& context, const Surface& surface) {
    Wall out{context, surface, *surface.assembly, insulation_of(*surface.assembly), {}, {}};
    out.inner = inner_retarder(out.assembly, out.in, context.tables(), context.zone());
    out.outer = outer_retarder(out.assembly, out.in, context.tables(), context.zone());
    out.counted = out.in.continuous_outside;
    if (context.tables().edition >= 2021) {
        const double sprayed = sprayed_r(out.assembly, out.in);
        out.sprayed = sprayed > 0.0;
        out.counted += sprayed;
    }
    return out;
}

std::string described(const Wall& wall) {
    if (!wall.inner) return "no layer inside of the frame retards vapour";
    const std::string cups = fmt::format("{} dry, {} wet", permeance_amount(wall.inner->dry).text,
                                         permeance_amount(wall.inner->wet).text);
    if (wall.inner_class() == "none") return fmt::format("no retarder ({}: {})", wall.inner->name, cups);
    return fmt::format("Class {} ({}: {})", wall.inner_class(), wall.inner->name, cups);
}

Finding begin(const Wall& wall, const Cell& cell, std::string rule) {
    Finding f = resting_on(cell, Subject::vapour, wall.surface.part, std::move(rule));
    if (wall.inner && wall.inner->origin.evidence == Evidence::memory)
        f.notes.push_back(
            fmt::format("The permeance of \"{}\" is from memory: take the maker's.", wall.inner->name));
    if (wall.sprayed)
        f.notes.emplace_back(
            "Spray foam of at most 1.5 perm on the sheathing counts as continuous insulation (R702.7.1).");
    return f;
}

/// "2x4" or "2x6"; nothing for cores that the tables do not reach.
std::optional<std::string> stud_row(const Wall& wall) {
    if (wall.in.core == Core::two_by_four || wall.in.core == Core::two_by_six)
        return std::string(name_of(wall.in.core));
    return std::nullopt;
}

void no_row(const Wall& wall, std::string_view why, Finding& f) {
    f.outcome = Outcome::not_covered;
    f.words = fmt::format("There: {}, {} of insulation in an insulated depth of {}. {}", described(wall),
                          layers_amount(wall.in.cavity, wall.counted).text,
                          units::inches(wall.in.insulated_depth), why);
    f.notes.emplace_back(design);
}

/// Continuous insulation against a table of R702.7; true when it is met.
void by_continuous(const Wall& wall, const Cell& cell, bool also, Finding& f) {
    const bool passes = !cell.asked || at_least(wall.counted, cell.value);
    f.required = r_amount(cell.value);
    f.provided = r_amount(wall.counted);
    f.outcome = wall.context.settle(passes && also, weaker(f.evidence, cell.origin.evidence));
    f.citation = cell.citation;
    f.words = fmt::format("Asked over {} studs: {} of continuous insulation outside. There: {}; {}.",
                          name_of(wall.in.core), f.required->text, f.provided->text, described(wall));
    if (!passes) {
        f.change =
            fmt::format("{} more continuous insulation outside", r_amount(cell.value - wall.counted).text);
    }
}

bool is_named_cladding(const assembly::Assembly& assembly) {
    const std::size_t gap = first_ventilated(assembly);
    for (std::size_t i = gap; i < assembly.layers.size(); ++i) {
        const auto& layer = assembly.layers[i];
        if (layer.kind != assembly::Layer::Kind::material) continue;
        const std::string& name = layer.material->name;
        if (name.find("vinyl") != std::string::npos || name.find("aluminium") != std::string::npos ||
            name.find("brick") != std::string::npos)
            return true;
    }
    return false;
}

/// Vented cladding in place of continuous insulation; true when it was decided.
bool by_vented_cladding(const Wall& wall, Finding& f) {
    const Cell* over = wall.context.find("class III vented", "over");
    const std::size_t gap = first_ventilated(wall.assembly);
    if (!over || gap >= wall.assembly.layers.size()) return false;
    const auto& air = wall.assembly.layers[gap];
    const std::string sheathing = sheathing_of(wall.assembly, wall.in);
    if (air.air != assembly::AirKind::ventilated || over->words.find(sheathing) == std::string::npos)
        return false;
    f.citation = over->citation;
    f.words = fmt::format(
        "Vented cladding over {} may stand for continuous insulation. There: {}, a ventilated gap "
        "over {}.",
        over->words, described(wall), sheathing);
    if (wall.edition() >= responsive_edition || is_named_cladding(wall.assembly)) {
        f.outcome = wall.context.settle(true, weaker(f.evidence, over->origin.evidence));
    } else {
        f.outcome = Outcome::not_covered;
        f.words += " This cladding is not among those named: the official may approve it as vented.";
    }
    for (const std::string& note : wall.context.tables().footnotes("class III vented"))
        f.notes.push_back(note);
    return true;
}

void class_three(const Wall& wall, const Cell& allowed, Findings& out) {
    Finding f = begin(wall, allowed, "vapour retarder, Class III inside");
    if (allowed.words == "yes") {
        f.outcome = wall.context.settle(true, f.evidence);
        f.words = fmt::format("Class III may stand inside in zone {}. There: {}.",
                              name_of(wall.context.zone()), described(wall));
        out.push_back(std::move(f));
        return;
    }
    const auto row = stud_row(wall);
    const Cell* cell = row ? wall.context.find("class III", *row) : nullptr;
    const bool by_insulation = cell && at_least(wall.counted, cell->value);
    if (by_insulation || !by_vented_cladding(wall, f)) {
        if (cell) {
            by_continuous(wall, *cell, true, f);
            if (!by_insulation) f.change += "; or a Class II or responsive membrane inside";
        } else {
            no_row(wall, "The table of continuous insulation stops at 2x6: no row, so no pass.", f);
            f.change = "a Class II or responsive membrane inside";
        }
    }
    out.push_back(std::move(f));
}

void no_retarder(const Wall& wall, const Cell& allowed, Findings& out) {
    Finding f = begin(wall, allowed, "no vapour retarder inside");
    const Cell* cell = wall.context.find("no retarder", "R");
    f.words = fmt::format("Zone {} asks for a retarder inside. There: {}.", name_of(wall.context.zone()),
                          described(wall));
    f.outcome = wall.context.settle(allowed.words == "yes", f.evidence);
    if (allowed.words == "yes") {
        f.words = fmt::format("Zone {} asks for no retarder inside. There: {}.", name_of(wall.context.zone()),
                              described(wall));
    } else {
        f.change = "a Class II or responsive membrane inside";
        if (cell) {
            const double most_inside = units::parse("R-5", units::thermal_resistance).value_or(0.0);
            const double inside = wall.in.total() - wall.in.continuous_outside;
            const Cell* one = wall.context.find("class", "II");
            const bool tight = wall.outer && one && at_most(wall.outer->dry, one->value);
            f.required = r_amount(cell->value);
            f.provided = r_amount(wall.in.continuous_outside);
            f.citation = cell->citation;
            f.outcome = wall.context.settle(
                at_least(wall.in.continuous_outside, cell->value) && at_most(inside, most_inside) && tight,
                weaker(f.evidence, cell->origin.evidence));
            f.words += fmt::format(
                " Without one: {} outside, at most R-5 inside of it, and a layer of at most 1 "
                "perm between. There: {} outside, {} inside, {}.",
                f.required->text, f.provided->text, r_amount(inside).text,
                tight ? "such a layer" : "no such layer");
            if (f.outcome == Outcome::passes) f.change.clear();
        }
    }
    out.push_back(std::move(f));
}

/// The sheet inside may not be so tight: what would do.
std::string looser(const Wall& wall) {
    const Cell* second = wall.context.find("retarder", "II");
    const bool class_two = second && second->words == "yes";
    return fmt::format("a responsive membrane (above 1 perm wet), {}Class III, or none where none is asked",
                       class_two ? "Class II, " : "");
}

void class_one_or_two(const Wall& wall, const Cell& allowed, Findings& out) {
    Finding f = begin(wall, allowed, fmt::format("vapour retarder, Class {} inside", wall.inner_class()));
    const bool one = wall.inner_class() == "I";
    const bool responsive_rule = wall.edition() >= 2021;
    const bool by_note_a = responsive_rule && wall.opens();
    f.required = permeance_amount(wall.context.find("class", wall.inner_class())->value);
    f.provided = permeance_amount(wall.inner->dry);
    if (allowed.words != "yes" && !by_note_a) {
        f.outcome = wall.context.settle(false, f.evidence);
        f.words = fmt::format(
            "Class {} may not stand inside in zone {} unless it opens above 1 perm wet. There: {}.",
            wall.inner_class(), name_of(wall.context.zone()), described(wall));
        f.change = looser(wall);
        out.push_back(std::move(f));
        return;
    }
    const bool foam_rule = responsive_rule && wall.foam() && (!one || wall.edition() >= responsive_edition);
    const auto row = stud_row(wall);
    if (foam_rule) {
        const Cell* cell = row ? wall.context.find("foam outside", *row) : nullptr;
        if (!cell) {
            no_row(wall, "The table for foam outside has no row for this wall: no pass.", f);
            f.change = "vapour-open insulation outside, with a Class II or responsive membrane inside";
        } else {
            by_continuous(wall, *cell, wall.opens(), f);
            if (!wall.opens()) {
                f.change += fmt::format("{}a membrane inside that opens above 1 perm wet",
                                        f.change.empty() ? "" : ", and ");
            }
        }
        out.push_back(std::move(f));
        return;
    }
    const bool tight_outside = wall.outer && wall.outer->vapour_class == "I";
    if (one && tight_outside && responsive_rule && !(wall.edition() >= responsive_edition && wall.opens())) {
        f.outcome = Outcome::not_covered;
        f.words = fmt::format(
            "Class I inside together with Class I outside ({}) needs an approved design. There: {}.",
            wall.outer->name, described(wall));
        f.change = looser(wall) + "; or an outside that is open to vapour";
        f.notes.emplace_back(design);
    } else {
        f.outcome = wall.context.settle(true, f.evidence);
        f.words = fmt::format("{} may stand inside in zone {}. There: {}.",
                              allowed.words == "yes" ? fmt::format("Class {}", wall.inner_class())
                                                     : std::string("A retarder above 1 perm wet"),
                              name_of(wall.context.zone()), described(wall));
        if (wall.in.core == Core::deeper)
            f.notes.emplace_back("The code does not ask how deep the core is; the dryness verdict does.");
    }
    out.push_back(std::move(f));
}

}  // namespace

void vapour_retarder(const Context& context, const Surface& surface, Findings& out) {
    if (!surface.assembly || surface.row != "wall" || surface.assembly->layers.empty()) return;
    const Wall wall = wall_of(context, surface);
    const Cell* allowed = context.find("retarder", wall.inner_class());
    if (!allowed) {
        out.push_back(not_covered(context, Subject::vapour, surface.part, "vapour retarder",
                                  fmt::format("R702.7 of {} has no row for zone {}.",
                                              context.tables().edition, name_of(context.zone()))));
    } else if (wall.inner_class() == "none") {
        no_retarder(wall, *allowed, out);
    } else if (wall.inner_class() == "III") {
        class_three(wall, *allowed, out);
    } else {
        class_one_or_two(wall, *allowed, out);
    }
}

}  // namespace warmside::rules
