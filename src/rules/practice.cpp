// The share of R inside the sheet: a rule of practice, with a bound by the dew point where that is known.
#include <fmt/format.h>

#include "rules/context.h"
#include "rules/layers.h"
#include "rules/practice_data.h"
#include "rules/retarder.h"
#include "units/quantity.h"

namespace warmside::rules {

namespace {

/// The airtight sheet of Class I or II that stands deepest in the assembly.
std::optional<std::size_t> sheet_of(const Context& context, const assembly::Assembly& assembly) {
    std::optional<std::size_t> out;
    for (std::size_t i = 0; i < first_ventilated(assembly); ++i) {
        const auto& layer = assembly.layers[i];
        const auto* m = layer.membrane;
        if (layer.kind != assembly::Layer::Kind::membrane || !m) continue;
        constexpr double dry_cup = 0.25;
        const auto of_class = class_of(material::permeance(*m, dry_cup), context.tables(), context.zone());
        if (of_class == "I" || of_class == "II") out = i;
        if (out) break;
    }
    return out;
}

}  // namespace

// At the sheet T = Ti - share (Ti - Te): films and boards neglected, so the sheet comes out a little too warm
// or cold by less than their share. It stays above the dew point while share <= (Ti - Td)/(Ti - Te).
void share_inside(const Context& context, const Surface& surface, Findings& out) {
    if (!surface.assembly) return;
    const auto sheet = sheet_of(context, *surface.assembly);
    const Insulation in = insulation_of(*surface.assembly);
    if (!sheet || in.total() <= 0.0) return;
    double inside = 0.0;
    for (std::size_t i = 0; i < *sheet; ++i) {
        if (in.layers[i].as != LayerShare::As::nothing) inside += in.layers[i].r;
    }
    const double share = inside / in.total();
    double most = practice().share_inside;
    Finding f{.subject = Subject::sheet,
              .part = surface.part,
              .rule = "share of R inside the sheet",
              .citation = "rule of practice",
              .evidence = practice().share_origin.evidence,
              .origin = practice().share_origin};
    const Winter& winter = context.in.winter;
    if (winter.dew_point && winter.coldest && winter.inside > *winter.coldest) {
        const double dry = (winter.inside - *winter.dew_point) / (winter.inside - *winter.coldest);
        f.notes.push_back(
            fmt::format("Up to {} the sheet stays above the dew point indoors of {:.0f} degF at a mean of "
                        "{:.0f} degF outside "
                        "(computed, steady; nothing outside of the sheet is counted on).",
                        share_amount(std::max(0.0, dry)).text, units::fahrenheit(*winter.dew_point),
                        units::fahrenheit(*winter.coldest)));
        most = std::clamp(dry, 0.0, most);
    }
    f.required = share_amount(most);
    f.provided = share_amount(share);
    f.words =
        fmt::format("In practice at most about {} inside of \"{}\", less when colder or damper. There: {}.",
                    f.required->text, surface.assembly->layers[*sheet].title(), f.provided->text);
    if (!at_most(share, most)) {
        f.words += " That is more.";
        const double outside = most > 0.0 ? inside / most - in.total() : 0.0;
        f.change = most > 0.0 ? fmt::format("{} more outside of the sheet", r_amount(outside).text)
                              : std::string("the sheet on the warm face");
    }
    f.notes.emplace_back("Common practice, no source; the dryness verdict decides.");
    out.push_back(std::move(f));
}

}  // namespace warmside::rules
