// The edge of a slab against its rows of the R table and, where there is one, the F row.
#include <fmt/format.h>

#include "rules/context.h"
#include "units/quantity.h"

namespace warmside::rules {

namespace {

std::string row_of(const Slab& slab) {
    return slab.heated ? "heated slab" : "slab";
}

struct Judged {
    bool edge = true, depth = true, full = true;
    [[nodiscard]] bool passes() const { return edge && depth && full; }
};

Judged judge(const Cell& cell, const Slab& slab) {
    Judged out;
    if (!cell.asked || cell.options.empty()) return out;
    const LayerOption& asked = cell.options.front();
    const double edge = asked.continuous + asked.cavity;
    if (edge > 0.0) {
        out.edge = at_least(slab.edge.value_or(0.0), edge);
        out.depth = at_least(slab.depth, cell.depth);
    }
    if (cell.full > 0.0) out.full = at_least(slab.full.value_or(0.0), cell.full);
    return out;
}

std::string change_of(const Cell& cell, const Slab& slab, const Judged& judged) {
    std::vector<std::string> parts;
    const LayerOption& asked = cell.options.front();
    if (!judged.edge) {
        const double missing = asked.continuous + asked.cavity - slab.edge.value_or(0.0);
        parts.push_back(r_amount(missing).text + " more at the edge");
    }
    if (!judged.depth)
        parts.push_back(fmt::format("edge insulation reaching {} from the top of the slab",
                                    units::feet_inches(cell.depth)));
    if (!judged.full) parts.push_back(r_amount(cell.full).text + " under the whole slab");
    return fmt::format("{}", fmt::join(parts, ", and "));
}

void f_row(const Context& context, const Slab& slab, Findings& out) {
    const Cell* cell = context.find("f", row_of(slab));
    if (!cell || !slab.f) return;
    Finding f = resting_on(*cell, Subject::u_row, slab.part, "F of the " + row_of(slab));
    const bool passes = at_most(*slab.f, cell->value);
    f.outcome = context.settle(passes, f.evidence);
    f.required = f_amount(cell->value);
    f.provided = f_amount(*slab.f);
    f.words = fmt::format("Asked: at most {}. There: {}.", f.required->text, f.provided->text);
    if (!passes) f.change = "more insulation at the edge; the R row says how much is always enough";
    out.push_back(std::move(f));
}

}  // namespace

bool slab_row_passes(const Context& context, const Slab& slab) {
    const Cell* cell = context.find("r", row_of(slab));
    return cell && judge(*cell, slab).passes();
}

void slab_row(const Context& context, const Slab& slab, Findings& out) {
    const std::string rule = "R at the edge of the " + row_of(slab);
    const Cell* cell = context.find("r", row_of(slab));
    if (!cell) {
        out.push_back(
            not_covered(context, Subject::r_row, slab.part, rule,
                        fmt::format("The R table of {} has no row for a {} in zone {}.",
                                    context.tables().edition, row_of(slab), name_of(context.zone()))));
        return;
    }
    Finding f = resting_on(*cell, Subject::r_row, slab.part, rule);
    const Judged judged = judge(*cell, slab);
    const double asked =
        cell->options.empty() ? 0.0 : cell->options.front().continuous + cell->options.front().cavity;
    f.required = r_amount(asked);
    const bool known = slab.edge || asked == 0.0;
    if (slab.edge) f.provided = r_amount(*slab.edge);
    if (!known) {
        f.outcome = Outcome::not_covered;
        f.words = fmt::format("Asked: {}. The insulation at the edge is not given.", cell->words);
    } else {
        f.outcome = context.settle(judged.passes(), f.evidence);
        f.words =
            fmt::format("Asked: {}. There: {} to a depth of {}{}.", cell->words,
                        slab.edge ? f.provided->text : "no edge insulation", units::feet_inches(slab.depth),
                        slab.full ? ", " + r_amount(*slab.full).text + " under the slab" : "");
        if (!judged.passes()) f.change = change_of(*cell, slab, judged);
    }
    f.notes.emplace_back(
        "Insulation under the slab alone does not count for the edge: it must also part the slab from the "
        "outside at its edge.");
    out.push_back(std::move(f));
    f_row(context, slab, out);
}

}  // namespace warmside::rules
