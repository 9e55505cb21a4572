#include "thermal/buildup.h"

#include <algorithm>
#include <fmt/format.h>

#include "thermal/layering.h"

namespace warmside::thermal {

using assembly::Layer;

double Buildup::thickness() const {
    return depth(sheets.size());
}

double Buildup::resistance() const {
    double r = 0.0;
    for (const Sheet& sheet : sheets) r += sheet.thickness / sheet.conductivity;
    return r;
}

double Buildup::u() const {
    return 1.0 / (inside_film + resistance() + outside_film);
}

double Buildup::depth(std::size_t sheet) const {
    double d = 0.0;
    for (std::size_t i = 0; i < sheet; ++i) d += sheets[i].thickness;
    return d;
}

std::size_t Buildup::first_structural() const {
    std::size_t i = 0;
    while (i + 1 < sheets.size() && !sheets[i].structural) ++i;
    return i;
}

std::size_t Buildup::last_structural() const {
    std::size_t i = sheets.size() - 1;
    while (i > 0 && !sheets[i].structural) --i;
    return i;
}

Result<Buildup> buildup_of(const assembly::Assembly& assembly, const Conditions& conditions) {
    if (auto good = check(assembly); !good) return fail(good.error());
    const auto states = winter_states(assembly, conditions);
    if (!states) return fail(states.error());
    const std::vector<bool> structural = structural_layers(assembly);
    Buildup out{
        .name = assembly.name, .inside_film = states->films.inside, .outside_film = states->films.outside};
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const LayerState& state = states->layers[i];
        const double r = state.resistance();
        if (layer.kind == Layer::Kind::membrane || !(r > 0.0)) continue;
        Sheet sheet{.name = layer.title(),
                    .thickness = layer.thickness.metres(),
                    .conductivity = layer.thickness.metres() / r,
                    .structural = structural[i]};
        if (layer.framing)
            sheet.wood = material::conductivity(*layer.framing->material, state.member_temperature);
        out.sheets.push_back(std::move(sheet));
    }
    if (out.sheets.empty()) {
        return fail(Code::missing, fmt::format("{} has no layer that counts", assembly.name),
                    assembly.origin.where);
    }
    const auto is_structural = [](const Sheet& sheet) { return sheet.structural; };
    if (std::none_of(out.sheets.begin(), out.sheets.end(), is_structural)) {
        std::max_element(out.sheets.begin(), out.sheets.end(), [](const Sheet& a, const Sheet& b) {
            return a.thickness < b.thickness;
        })->structural = true;
    }
    return out;
}

}  // namespace warmside::thermal
