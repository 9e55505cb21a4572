#include "assembly/check.h"

#include <algorithm>
#include <fmt/format.h>

#include "assembly/check_words.h"
#include "assembly/geometry.h"

namespace warmside::assembly {

namespace {

void warn(Problems& problems, std::string what, const Place& where, std::string suggestion = {}) {
    add(problems, Severity::warning, Code::conflict, std::move(what), where, std::move(suggestion));
}

std::string both(Exact length) {
    const double metres = length.metres();
    return fmt::format("{} ({})", units::inches(metres), units::millimetres(metres, 1));
}

// Air stands still behind an airtight layer, and weather stays outside of it: one sheet, no more, no less.
void check_airtight(const Assembly& assembly, Problems& problems) {
    const auto airtight = std::count_if(assembly.layers.begin(), assembly.layers.end(),
                                        [](const Layer& l) { return l.airtight; });
    const bool below_grade = assembly.part == Part::slab || assembly.part == Part::basement_wall;
    // A roof without insulation covers an attic: the ceiling below is airtight.
    const bool covers_attic =
        assembly.part == Part::roof &&
        std::none_of(assembly.layers.begin(), assembly.layers.end(),
                     [](const Layer& l) { return l.material && l.material->is_insulation; });
    if (airtight == 0 && !below_grade && !covers_attic) {
        warn(problems, fmt::format("{} has no airtight layer", assembly.name), assembly.origin.where,
             "airtight = true on the one layer that the crew seals");
    }
    if (airtight > 1) {
        const auto first = assembly.airtight_layer().value_or(0);
        for (std::size_t i = first + 1; i < assembly.layers.size(); ++i) {
            const Layer& layer = assembly.layers[i];
            if (!layer.airtight) continue;
            warn(problems,
                 fmt::format("{} has a second airtight layer, {} (layer {}); the first is {} (layer {})",
                             assembly.name, layer.title(), i + 1, assembly.layers[first].title(), first + 1),
                 layer.origin.where, "airtight = true on one layer only");
        }
    }
}

bool is_family(const Layer& layer, std::string_view family) {
    return layer.kind == Layer::Kind::material && layer.material && layer.material->family == family;
}

// Cladding is wood, panel or metal by family; the trade's word is in its name.
bool is_cladding(const Layer& layer) {
    if (layer.kind != Layer::Kind::material || !layer.material) return false;
    return layer.material->name.find("siding") != std::string::npos || layer.material->family == "roofing";
}

bool is_outside_only(const Layer& layer) {
    return is_cladding(layer) || (layer.kind == Layer::Kind::air && layer.air == AirKind::ventilated);
}

void check_order(const Assembly& assembly, Problems& problems) {
    const auto& layers = assembly.layers;
    if (layers.size() < 2) return;
    const bool outside_first = is_outside_only(layers.front());
    const bool inside_last = is_family(layers.back(), "gypsum") && !is_family(layers.front(), "gypsum") &&
                             (assembly.part == Part::wall || assembly.part == Part::roof);
    if (!outside_first && !inside_last) return;
    warn(problems,
         fmt::format("{} starts with {} and ends with {}: layers go from inside to outside", assembly.name,
                     layers.front().title(), layers.back().title()),
         layers.front().origin.where, "turn the list of layers round");
}

void check_framing(const Layer& layer, const Framing& framing, const std::string& title, Problems& problems) {
    if (framing.depth > layer.thickness) {
        add(problems, Severity::error, Code::out_of_range,
            fmt::format("{}: the {} is {} deep, its layer only {}", title, framing.member,
                        both(framing.depth), both(layer.thickness)),
            framing.origin.where, "a thicker layer, a smaller member, or flat = true for one laid flat");
    } else if (framing.depth.count() * 10 < layer.thickness.count() * 9) {
        add(problems, Severity::note, Code::conflict,
            fmt::format("{}: the {} fills {} of the {}; the rest of the layer runs past it unbroken", title,
                        framing.member, both(framing.depth), both(layer.thickness)),
            framing.origin.where);
    }
    if (framing.spacing <= framing.width) {
        add(problems, Severity::error, Code::out_of_range,
            fmt::format("{}: spacing {} leaves no room between members {} wide", title, both(framing.spacing),
                        both(framing.width)),
            framing.origin.where, "spacing from centre to centre, such as \"24 in\"");
    }
    if (framing.kind != Framing::Kind::solid) {
        if (framing.flange_depth * 2 >= framing.depth) {
            add(problems, Severity::error, Code::out_of_range,
                fmt::format("{}: two flanges of {} leave no web in a depth of {}", title,
                            both(framing.flange_depth), both(framing.depth)),
                framing.origin.where);
        }
        if (framing.web_thickness > framing.width) {
            add(problems, Severity::error, Code::out_of_range,
                fmt::format("{}: the web, {}, is wider than the flange, {}", title,
                            both(framing.web_thickness), both(framing.width)),
                framing.origin.where);
        }
    }
}

void check_layer(const Layer& layer, const std::string& title, Problems& problems) {
    if (layer.framing) check_framing(layer, *layer.framing, title, problems);
    if (layer.airtight && layer.kind == Layer::Kind::membrane && layer.membrane &&
        !layer.membrane->airtight_capable) {
        warn(problems, fmt::format("{}: {} is not made to be airtight", title, layer.title()),
             layer.origin.where);
    }
    if (layer.airtight && (is_family(layer, "batt") || is_family(layer, "loose fill"))) {
        warn(problems,
             fmt::format("{}: {} lets air through, it cannot be the airtight layer", title, layer.title()),
             layer.origin.where);
    }
    if (layer.water && layer.kind == Layer::Kind::membrane && layer.membrane &&
        !layer.membrane->drains_water) {
        warn(problems, fmt::format("{}: {} is not made to shed water", title, layer.title()),
             layer.origin.where);
    }
}

}  // namespace

void check_assembly(const Assembly& assembly, Problems& problems) {
    if (assembly.layers.empty()) return;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        check_layer(assembly.layers[i], fmt::format("layer {} of {}", i + 1, assembly.name), problems);
    }
    const bool solid = std::any_of(assembly.layers.begin(), assembly.layers.end(),
                                   [](const Layer& l) { return l.kind != Layer::Kind::membrane; });
    if (!solid) {
        add(problems, Severity::error, Code::conflict,
            fmt::format("{} holds membranes only, nothing with a thickness", assembly.name),
            assembly.origin.where);
    }
    check_airtight(assembly, problems);
    check_order(assembly, problems);
}

}  // namespace warmside::assembly
