// One surface against its row of the R table and of the U table.
#include <fmt/format.h>

#include <cmath>

#include "rules/change.h"
#include "rules/context.h"
#include "rules/layers.h"
#include "units/quantity.h"

namespace warmside::rules {

namespace {

/// What a row that counts one figure for all insulation sees, and what the others see.
struct Provided {
    Insulation in;
    bool summed = false;  ///< ceiling, mass wall: cavity and continuous together
    [[nodiscard]] double missing_cavity(const LayerOption& o) const {
        return std::max(0.0, o.cavity - (summed ? in.total() : in.cavity));
    }
    [[nodiscard]] double missing_continuous(const LayerOption& o) const {
        return std::max(0.0, o.continuous - (summed && o.cavity > 0.0 ? in.total() : in.continuous));
    }
    [[nodiscard]] bool meets(const LayerOption& o) const {
        const double all = summed ? in.total() : in.cavity;
        return at_least(all, o.cavity) && at_least(in.continuous, o.continuous);
    }
};

bool is_summed(std::string_view row) {
    return row == "ceiling" || row.starts_with("mass wall");
}

/// Over half of the insulation on the inner side of the mass: the row's second figure.
LayerOption option_of(const Cell& cell, const LayerOption& option, const Insulation& in) {
    double inside = 0.0;
    for (const LayerShare& share : in.layers) {
        if (share.as == LayerShare::As::continuous_inside) inside += share.r;
    }
    if (cell.inside && inside > 0.5 * in.total()) return {*cell.inside, 0.0};
    return option;
}

struct Nearest {
    LayerOption option;
    bool met = false;
};

/// The way that is met, else the one that lacks least.
Nearest nearest_way(const Cell& cell, const Provided& provided) {
    Nearest best;
    double least = 0.0;
    for (const LayerOption& each : cell.options) {
        const LayerOption way = option_of(cell, each, provided.in);
        if (provided.meets(way)) return {way, true};
        const double missing = provided.missing_cavity(way) + provided.missing_continuous(way);
        if (least == 0.0 || missing < least) {
            least = missing;
            best.option = way;
        }
    }
    return best;
}

std::string change_of(const Surface& surface, const Provided& provided, const LayerOption& way) {
    const double cavity = provided.missing_cavity(way), continuous = provided.missing_continuous(way);
    if (provided.summed) return words_of_added(surface.assembly, std::max(cavity, continuous));
    std::string out;
    if (continuous > 0.0) out = words_of_added(surface.assembly, continuous);
    if (cavity > 0.0) {
        if (!out.empty()) out += ", and ";
        out += r_amount(cavity).text + " more in the cavity";
    }
    return out;
}

void add_notes(const Surface& surface, const Provided& provided, Finding& finding) {
    const auto& layers = surface.assembly->layers;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        const std::string& why = provided.in.layers[i].why;
        if (!why.empty()) finding.notes.push_back(fmt::format("{}: {}", layers[i].title(), why));
    }
    if (provided.in.existing(*surface.assembly)) {
        finding.notes.emplace_back(
            "Part of this insulation is kept: its R holds if it is sound, dry and as thick as stated. Work "
            "on "
            "existing buildings has rules of its own, not covered here.");
    }
    if (finding.outcome == Outcome::fails)
        finding.notes.emplace_back("The U table, or the total over the whole envelope, may be met instead.");
}

std::string memory_word(const Cell& cell) {
    return cell.origin.evidence == Evidence::memory ? ", memory" : "";
}

/// Thinner ceilings that the code lets stand for the row on conditions.
std::string exceptions(const Context& context, const Surface& surface, double total) {
    std::string out;
    if (surface.row != "ceiling") return out;
    const Cell* heel = context.find("raised heel", "ceiling");
    if (heel && heel->asked && at_least(total, heel->value)) {
        out += fmt::format(
            "; or full uncompressed depth over the plate on all of the area, where {} counts for the row "
            "({}{})",
            r_amount(heel->value).text, heel->citation, memory_word(*heel));
    }
    const Cell* small = context.find("without attic", "ceiling");
    if (small && surface.assembly->part == assembly::Part::roof && at_least(total, small->value)) {
        out += fmt::format(
            "; or at most 500 ft2 or 20 % of the insulated ceiling built so, where {} does ({}{})",
            r_amount(small->value).text, small->citation, memory_word(*small));
    }
    return out;
}

Provided provided_by(const Surface& surface) {
    return {insulation_of(*surface.assembly), is_summed(surface.row)};
}

}  // namespace

bool r_row_passes(const Context& context, const Surface& surface) {
    const Cell* cell = context.find("r", surface.row);
    if (!cell || !surface.assembly) return false;
    return !cell->asked || nearest_way(*cell, provided_by(surface)).met;
}

void r_row(const Context& context, const Surface& surface, Findings& out) {
    const std::string rule = "R of the " + surface.row;
    if (!surface.assembly) return;
    const Cell* cell = context.find("r", surface.row);
    if (!cell) {
        out.push_back(
            not_covered(context, Subject::r_row, surface.part, rule,
                        fmt::format("The R table of {} has no row for \"{}\" in zone {}.",
                                    context.tables().edition, surface.row, name_of(context.zone()))));
        return;
    }
    Finding f = resting_on(*cell, Subject::r_row, surface.part, rule);
    const Provided provided = provided_by(surface);
    const Nearest way = nearest_way(*cell, provided);
    const bool passes = !cell->asked || way.met;
    f.outcome = context.settle(passes, f.evidence);
    f.required = layers_amount(way.option.cavity, way.option.continuous);
    f.provided = provided.summed ? r_amount(provided.in.total())
                                 : layers_amount(provided.in.cavity, provided.in.continuous);
    f.words = fmt::format("Asked: {}. There: {}.", cell->words, f.provided->text);
    if (!passes) {
        f.change = change_of(surface, provided, way.option);
        f.change += exceptions(context, surface, provided.in.total());
    }
    add_notes(surface, provided, f);
    out.push_back(std::move(f));
}

void u_row(const Context& context, const Surface& surface, Findings& out) {
    const std::string rule = "U of the " + surface.row;
    const Cell* cell = context.find("u", surface.row);
    if (!cell || !surface.code_u) {
        out.push_back(
            not_covered(context, Subject::u_row, surface.part, rule,
                        cell ? "No code U is known: what the ground adds is not part of it."
                             : fmt::format("The U table of {} has no row for \"{}\" in zone {}.",
                                           context.tables().edition, surface.row, name_of(context.zone()))));
        return;
    }
    Finding f = resting_on(*cell, Subject::u_row, surface.part, rule);
    const double u = *surface.code_u;
    const bool passes = !cell->asked || at_most(u, cell->value);
    f.outcome = context.settle(passes, f.evidence);
    f.provided = u_amount(u);
    if (!cell->asked) {
        f.words = fmt::format("Nothing is asked. There: {}, by the code's way.", f.provided->text);
    } else {
        f.required = u_amount(cell->value);
        f.words = fmt::format("Asked: at most {}. There: {}, by the code's way.", f.required->text,
                              f.provided->text);
    }
    if (!passes) {
        if (const auto more = least_added(surface, cell->value))
            f.change = words_of_added(surface.assembly, *more);
        const double printed = std::round(units::ip_u(u) * 1000.0) / 1000.0;
        if (at_most(printed, units::ip_u(cell->value)))
            f.notes.emplace_back(
                "Rounded to three decimals, as the table prints it, it would equal the row.");
        f.notes.emplace_back("The R table, or the total over the whole envelope, may be met instead.");
    }
    for (const std::string& note : context.tables().footnotes("u")) {
        if (surface.row == "wall" && note.find("wall") != std::string::npos) f.notes.push_back(note);
    }
    out.push_back(std::move(f));
}

}  // namespace warmside::rules
