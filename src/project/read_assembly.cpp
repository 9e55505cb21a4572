#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "assembly/check.h"
#include "base/nearest.h"
#include "project/draft.h"
#include "project/read_framing.h"

namespace warmside::project {

using assembly::AirKind;
using assembly::Assembly;
using assembly::Layer;
using assembly::Part;

namespace {

constexpr std::array parts{Part::wall,  Part::roof, Part::ceiling,
                           Part::floor, Part::slab, Part::basement_wall};

// EN ISO 52016-1 and 13790, light, intermediate and dark surfaces (evidence: memory).
constexpr double light = 0.3, medium_colour = 0.6, dark = 0.9;

// Outer normal from straight up. Roofs get theirs from their pitch.
double tilt_of(Part part) {
    switch (part) {
        case Part::wall:
        case Part::basement_wall: return std::numbers::pi / 2;
        case Part::roof:
        case Part::ceiling: return 0.0;
        case Part::floor:
        case Part::slab: return std::numbers::pi;
    }
    return 0.0;
}

void read_start(Section& r, Layer& layer) {
    if (r.has("start_moisture") && r.has("start_humidity")) {
        r.complain("start_humidity", Code::conflict,
                   fmt::format("{} has both start_moisture and start_humidity", r.title()), "leave one out");
    }
    const auto moisture = r.quantity("start_moisture");
    const auto humidity = r.quantity("start_humidity");
    if (humidity) layer.start_humidity = *humidity;
    if (!moisture || !layer.material) return;
    if (!layer.material->is_wood) {
        r.complain("start_moisture", Code::conflict,
                   fmt::format("{} is not wood: start_moisture is a share of dry mass", layer.material->name),
                   "start_humidity = \"80 %\"");
        return;
    }
    const double water = *moisture * layer.material->density;
    const double most = material::moisture_content(*layer.material, 1.0);
    if (water > most) {
        r.complain("start_moisture", Code::out_of_range,
                   fmt::format("{} holds at most {:.0f} % of water", layer.material->name,
                               100.0 * most / layer.material->density));
        return;
    }
    layer.start_humidity = material::relative_humidity(*layer.material, water);
}

void read_fasteners(Draft& draft, Section& r, const toml::table& table, Layer& layer) {
    Section f(table, "fasteners", "the fastener of " + r.title(), draft.problems);
    const auto spacing = f.pair("spacing");
    const auto diameter = f.length("diameter");
    const auto metal = f.word("metal");
    const auto conductivity = f.quantity("conductivity");
    if (f.has("metal") && f.has("conductivity")) {
        f.complain("conductivity", Code::conflict, "fasteners have both metal and conductivity",
                   "leave one out");
    }
    // ISO 10456:2007 Table 3 (evidence: memory): steel, austenitic stainless steel, aluminium alloys.
    const double of_metal = metal == "stainless steel" ? 17.0 : metal == "aluminium" ? 160.0 : 50.0;
    if (spacing && diameter) {
        const double radius = diameter->metres() / 2;
        layer.fasteners =
            assembly::Fasteners{.per_area = 1.0 / (spacing->first.metres() * spacing->second.metres()),
                                .cross_section = std::numbers::pi * radius * radius,
                                .conductivity = conductivity.value_or(of_metal),
                                .origin = f.origin()};
    }
    f.finish();
}

void find_material(Draft& draft, Section& r, Layer& layer) {
    const auto name = r.text("material");
    if (!name) return;
    const auto& all = draft.house.catalogue;
    layer.material = all.material(*name);
    if (layer.material || draft.is_lost("material", *name)) return;
    if (all.membrane(*name)) {
        r.complain("material", Code::unknown_name, fmt::format("\"{}\" is a membrane, not a material", *name),
                   fmt::format("membrane = \"{}\"", *name));
    } else {
        r.complain("material", Code::unknown_name, fmt::format("no material is called \"{}\"", *name),
                   nearest(*name, all.material_names()));
    }
}

void find_membrane(Draft& draft, Section& r, std::string_view key, const material::Membrane*& out) {
    const auto name = r.text(key);
    if (!name) return;
    const auto& all = draft.house.catalogue;
    out = all.membrane(*name);
    if (out || draft.is_lost("membrane", *name)) return;
    if (key == "membrane" && all.material(*name)) {
        r.complain(key, Code::unknown_name, fmt::format("\"{}\" is a material, not a membrane", *name),
                   fmt::format("material = \"{}\" with its thickness", *name));
    } else {
        r.complain(key, Code::unknown_name,
                   fmt::format("no {} is called \"{}\"", key == "finish" ? "finish" : "membrane", *name),
                   nearest(*name, all.membrane_names()));
    }
}

bool read_kind(Section& r, Layer& layer) {
    std::string stated;
    int count = 0;
    for (const auto& [key, kind] :
         {std::pair{"material", Layer::Kind::material}, std::pair{"membrane", Layer::Kind::membrane},
          std::pair{"air", Layer::Kind::air}}) {
        if (!r.has(key)) continue;
        stated += (count++ > 0 ? " and " : "") + std::string(key);
        layer.kind = kind;
    }
    if (count == 1) return true;
    const std::string title = r.title();
    if (count == 0) {
        const bool misspelt = r.is_misspelt("material") || r.is_misspelt("membrane") || r.is_misspelt("air");
        if (!misspelt)
            r.complain("", Code::missing, fmt::format("{} is none of material, membrane, air", title),
                       "material = \"osb\"");
    } else
        r.complain("", Code::conflict, fmt::format("{} is {} at once", title, stated), "one layer for each");
    return false;
}

// Keys that have a meaning for some kinds of layer only.
void refuse_misplaced(Section& r, const Layer& layer) {
    const auto refuse = [&](std::string_view key, std::string why, std::string suggestion = {}) {
        if (r.has(key))
            r.complain(key, Code::conflict, fmt::format("{}: {}", r.title(), why), std::move(suggestion));
    };
    const bool air = layer.kind == Layer::Kind::air;
    const bool membrane = layer.kind == Layer::Kind::membrane;
    if (membrane) {
        refuse("thickness", "a membrane has no thickness", "leave thickness out");
        refuse("framing", "a membrane holds no framing", "framing belongs to the layer before or behind it");
        refuse("fasteners", "a membrane has no fasteners");
        refuse("label", "a membrane has no R value");
        refuse("finish", "a membrane takes no finish", "finish belongs to the board");
    }
    if (air) {
        refuse("label", "an air space has no R on its package");
        refuse("finish", "an air space takes no finish");
        refuse("airtight", "an air space is not airtight");
        refuse("water", "an air space sheds no water", "water = true on the layer behind it");
        refuse("fasteners", "fasteners belong to an insulation layer");
    }
    if (air || membrane) {
        refuse("voids", "voids belong to an insulation layer");
        refuse("contact", "only a material touches the one before it");
        refuse("start_moisture", "only a material holds water at the start");
        refuse("start_humidity", "only a material holds water at the start");
    }
    if (!air) {
        refuse("emissivity_inside", "only an air space has emissivities");
        refuse("emissivity_outside", "only an air space has emissivities");
    }
    if (!air || layer.air != AirKind::ventilated)
        refuse("air_change", "only a ventilated air space has an air change");
    const bool stated = r.has("air_change") && air;
    for (const auto key : {"opening", "opening_top", "length"}) {
        if (!air || layer.air == AirKind::still) {
            refuse(key, fmt::format("only a ventilated air space has {}", key));
        } else if (stated) {
            refuse(key, fmt::format("{} has no effect beside air_change", key), "leave one out");
        }
    }
}

AirKind air_of(const std::string& word) {
    if (word == "ventilated") return AirKind::ventilated;
    return word == "slightly ventilated" ? AirKind::slightly_ventilated : AirKind::still;
}

// False when the layer cannot stand in a model; its problems are reported.
bool read_layer(Draft& draft, const toml::table& table, const std::string& title, Part part, Layer& layer) {
    Section r(table, "layer", title, draft.problems);
    const auto before = draft.problems.size();
    layer.origin = r.origin();
    if (!read_kind(r, layer)) {
        r.finish();
        return false;
    }
    find_material(draft, r, layer);
    find_membrane(draft, r, "membrane", layer.membrane);
    const auto air = r.word("air");
    if (air) layer.air = air_of(*air);
    if (layer.kind != Layer::Kind::membrane) {
        layer.thickness = r.length("thickness").value_or(units::Exact{});
        if (layer.kind == Layer::Kind::air || layer.material)
            r.missing("thickness", title + " has no thickness", "thickness = \"1/2 in\"");
    }
    layer.label_r = r.quantity("label");
    layer.airtight = r.flag("airtight").value_or(false);
    layer.water = r.flag("water").value_or(false);
    layer.existing = r.flag("existing").value_or(false);
    layer.void_level = r.integer("voids").value_or(0);
    layer.emissivity_inside = r.quantity("emissivity_inside").value_or(layer.emissivity_inside);
    layer.emissivity_outside = r.quantity("emissivity_outside").value_or(layer.emissivity_outside);
    layer.air_change = r.quantity("air_change").value_or(0.0);
    layer.opening = r.length("opening");
    layer.opening_top = r.length("opening_top");
    layer.length = r.length("length");
    if (const auto* inner = r.table("fasteners")) read_fasteners(draft, r, *inner, layer);
    if (const auto* inner = r.table("framing"))
        layer.framing = read_framing(draft, *inner, title, part, layer.thickness);
    find_membrane(draft, r, "finish", layer.finish);
    const auto contact = r.word("contact");
    if (contact == "open") layer.contact = Layer::Contact::open;
    if (contact == "gap") layer.contact = Layer::Contact::gap;
    read_start(r, layer);
    if (!r.has("air") || air) refuse_misplaced(r, layer);
    r.finish();
    return usable({draft.problems.begin() + static_cast<std::ptrdiff_t>(before), draft.problems.end()});
}

bool read_layers(Draft& draft, Section& r, Assembly& assembly) {
    const auto* list = r.array("layers");
    if (!list) return false;
    if (list->empty() || list->size() > 100) {
        r.complain("layers", Code::out_of_range,
                   list->empty() ? r.title() + " has no layers"
                                 : fmt::format("{} has {} layers, more than 100", r.title(), list->size()));
        return false;
    }
    bool sound = true;
    for (std::size_t i = 0; i < list->size(); ++i) {
        const std::string title = fmt::format("layer {} of {}", i + 1, assembly.name);
        const auto* table = (*list)[i].as_table();
        if (!table) {
            draft.error(Code::wrong_type, title + " is not a table", units::place_of((*list)[i]),
                        "{ material = \"osb\", thickness = \"7/16 in\" }");
            sound = false;
            continue;
        }
        sound = read_layer(draft, *table, title, assembly.part, assembly.layers.emplace_back()) && sound;
    }
    return sound;
}

void read_faces_of(Section& r, Assembly& assembly, std::size_t layers) {
    const auto only = [&](std::string_view key, bool fits, std::string_view parts_text) {
        if (fits || !r.has(key)) return;
        r.complain(key, Code::conflict,
                   fmt::format("{} belongs to {}, {} is a {}", key, parts_text, assembly.name,
                               name_of(assembly.part)));
    };
    const bool roof = assembly.part == Part::roof;
    only("pitch", roof, "a roof");
    only("vented", roof, "a roof");
    only("rain_leak", roof || assembly.part == Part::wall, "a wall or roof");
    only("leak_layer", roof || assembly.part == Part::wall, "a wall or roof");
    assembly.solar_absorptance =
        r.level("colour", {light, medium_colour, dark}).value_or(assembly.solar_absorptance);
    assembly.emissivity = r.quantity("emissivity").value_or(assembly.emissivity);
    if (const auto pitch = r.pitch("pitch"); pitch && roof) assembly.tilt = *pitch;
    assembly.vented = r.flag("vented").value_or(false);
    assembly.rain_leak_origin = r.has("rain_leak")
                                    ? r.origin("rain_leak")
                                    : Origin{.source = "ASHRAE 160: 1 % of the rain that hits the wall",
                                             .evidence = Evidence::memory};
    assembly.rain_leak = r.quantity("rain_leak").value_or(assembly.rain_leak);
    if (const auto layer = r.integer("leak_layer")) {
        if (static_cast<std::size_t>(*layer) > layers) {
            r.complain(
                "leak_layer", Code::out_of_range,
                fmt::format("leak_layer {} is not there: {} has {} layers", *layer, assembly.name, layers));
        } else {
            assembly.leak_layer = *layer - 1;
        }
    }
}

void read_one(Draft& draft, const std::string& name, const toml::table& table) {
    const auto before = draft.problems.size();
    Section r(table, "assembly", fmt::format("[assembly.{}]", name), draft.problems);
    Assembly assembly;
    assembly.name = name;
    assembly.origin = r.origin();
    const auto part = r.word("part");
    for (const Part each : parts) {
        if (part && *part == name_of(each)) assembly.part = each;
    }
    assembly.tilt = tilt_of(assembly.part);
    assembly.title = r.text("title").value_or(name);
    const bool sound = read_layers(draft, r, assembly) && part;
    if (part) read_faces_of(r, assembly, assembly.layers.size());
    r.finish();
    if (sound) check_assembly(assembly, draft.problems);
    // Kept although it may be faulty: rungs and faces that name it are right to do so.
    draft.house.assemblies.push_back(std::move(assembly));
    if (!part ||
        !usable({draft.problems.begin() + static_cast<std::ptrdiff_t>(before), draft.problems.end()}))
        draft.lost.insert("assembly." + name);
}

}  // namespace

void read_assemblies(Draft& draft, const toml::table& root) {
    each_named(draft, root, "assembly", 500,
               [&](const std::string& name, const toml::table& table) { read_one(draft, name, table); });
}

}  // namespace warmside::project
