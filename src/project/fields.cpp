#include "project/fields.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace warmside::project {

namespace {

using Kind = Field::Kind;
using units::Limits;

constexpr std::string_view months =
    "January, February, March, April, May, June, July, August, September, October, November, December";
constexpr std::string_view sides = "north, east, south, west";

constexpr std::array chapter_table{
    Chapter{"file", "the file", "The tables that a house file may hold."},
    Chapter{"house", "[house]", "The house as a whole."},
    Chapter{"indoor", "[indoor]", "The air that people live in."},
    Chapter{"rain", "[rain]", "How hard rain hits the walls (ASHRAE 160)."},
    Chapter{"ladder", "[ladder.PART]", "The assemblies that a part could be built with, today's practice first. PART is wall, roof, ceiling, "
                                       "floor, slab or basement_wall."},
    Chapter{"assembly", "[assembly.NAME]", "One build-up."},
    Chapter{"layer", "layers = [ { ... }, ... ]", "One layer, from inside to outside. Each is one of material, membrane or air."},
    Chapter{"framing", "framing = { ... }", "Members that repeat within a layer."},
    Chapter{"fasteners", "fasteners = { ... }", "Screws or ties that cross a layer."},
    Chapter{"storey", "[storey.NAME]", "One floor of the house."},
    Chapter{"face", "[face.NAME]", "One straight wall of a storey."},
    Chapter{"opening", "openings = [ { ... }, ... ]", "A window or door in a face."},
    Chapter{"roof", "[roof.NAME]", "A roof over a storey."},
    Chapter{"floor", "[floor.NAME]", "The lowest floor."},
    Chapter{"foundation", "[foundation.NAME]", "What carries the house."},
};

const std::array field_table{
    Field{"file", "house", Kind::table, true, "", "name and place"},
    Field{"file", "indoor", Kind::table, false, "normal load of EN 15026", "indoor climate"},
    Field{"file", "rain", Kind::table, false, "medium exposure", "driving rain"},
    Field{"file", "ladder", Kind::table, false, "", "ladders, one a part"},
    Field{"file", "assembly", Kind::table, false, "", "build-ups by name"},
    Field{"file", "material", Kind::table, false, "", "materials of your own, by name"},
    Field{"file", "membrane", Kind::table, false, "", "membranes of your own, by name"},
    Field{"file", "storey", Kind::table, false, "", "storeys by name"},
    Field{"file", "face", Kind::table, false, "", "walls of the storeys by name"},
    Field{"file", "roof", Kind::table, false, "", "roofs by name"},
    Field{"file", "floor", Kind::table, false, "", "lowest floors by name"},
    Field{"file", "foundation", Kind::table, false, "", "foundations by name"},

    Field{"house", "name", Kind::text, true, "", "what you call it"},
    Field{"house", "place", Kind::text, false, "", "a built-in place (`warmside places`); or else `weather`"},
    Field{"house", "weather", Kind::text, false, "", "a weather file, TMY3 or NSRDB CSV, beside the house file"},
    Field{"house", "units", Kind::word, false, "inch-pound", "which units come first in the answers", nullptr, {}, "inch-pound, metric"},
    Field{"house", "start_month", Kind::month, false, "October", "moisture runs begin on its first day", nullptr, {}, months},

    Field{"indoor", "model", Kind::word, false, "normal load",
          "normal load and high load are those of EN 15026; humidity class is that of ISO 13788; ashrae 160 its simplified method", nullptr, {},
          "fixed, normal load, high load, humidity class, ashrae 160"},
    Field{"indoor", "temperature", Kind::quantity, false, "21 degC", "for fixed, humidity class and ashrae 160", &units::temperature, {278.15, 308.15}},
    Field{"indoor", "humidity", Kind::quantity, false, "40 %", "for fixed: relative humidity", &units::fraction, {0.05, 0.95}},
    Field{"indoor", "class", Kind::integer, false, "3", "for humidity class", nullptr, {1, 5}},

    Field{"rain", "exposure", Kind::level, false, "medium", "how open the site is: sheltered 0.7, medium 1.0, severe 1.3", &units::fraction,
          {0.1, 2.0}, "sheltered, medium, severe"},
    Field{"rain", "deposition", Kind::level, false, "low roof",
          "what shields the wall: steep roof 0.35, low roof 0.5, runoff from above 1.0", &units::fraction, {0.05, 2.0}, "steep roof, low roof, runoff"},

    Field{"ladder", "rungs", Kind::texts, true, "", "names of assemblies in climbing order"},

    Field{"assembly", "part", Kind::word, true, "", "where in the house it stands", nullptr, {}, "wall, roof, ceiling, floor, slab, basement wall"},
    Field{"assembly", "title", Kind::text, false, "the name", "in words, for tables and reports"},
    Field{"assembly", "layers", Kind::list, true, "", "from inside to outside"},
    Field{"assembly", "colour", Kind::level, false, "medium", "of the outer face: share of sunshine taken up; light 0.3, medium 0.6, dark 0.9",
          &units::fraction, {0.0, 1.0}, "light, medium, dark"},
    Field{"assembly", "emissivity", Kind::quantity, false, "0.9", "of the outer face, for heat radiated to the sky", &units::fraction, {0.02, 1.0}},
    Field{"assembly", "pitch", Kind::pitch, false, "that of the [roof] built with it", "of a roof, \"9/12\" or \"37 deg\""},
    Field{"assembly", "vented", Kind::flag, false, "false", "of a roof: a ventilated space above the insulation"},
    Field{"assembly", "rain_leak", Kind::quantity, false, "1 %", "share of the driving rain that gets past the cladding", &units::fraction, {0.0, 0.2}},
    Field{"assembly", "leak_layer", Kind::integer, false, "outer side of the water layer",
          "number of the layer on whose outer side the leak lands, 1 is innermost", nullptr, {1, 100}},

    Field{"layer", "material", Kind::text, false, "", "a material of the catalogue (`warmside materials`) or of your own"},
    Field{"layer", "membrane", Kind::text, false, "", "a membrane of the catalogue or of your own; it has no thickness"},
    Field{"layer", "air", Kind::word, false, "", "an air space (ISO 6946)", nullptr, {}, "still, slightly ventilated, ventilated"},
    Field{"layer", "thickness", Kind::length, false, "", "needed for material and air", nullptr, {0.0001, 1.0}},
    Field{"layer", "framing", Kind::table, false, "none", "members within the layer"},
    Field{"layer", "label", Kind::quantity, false, "from the catalogue", "the R printed on the package, \"R-23\"", &units::thermal_resistance, {0.01, 30.0}},
    Field{"layer", "airtight", Kind::flag, false, "false", "the one layer that the crew seals"},
    Field{"layer", "water", Kind::flag, false, "false", "the layer that sheds water; the rain leak lands on its outer side"},
    Field{"layer", "existing", Kind::flag, false, "false", "already there, kept in a retrofit"},
    Field{"layer", "voids", Kind::integer, false, "0", "air gaps by ISO 6946: 0 none, 1 gaps, 2 gaps with air moving round the insulation", nullptr, {0, 2}},
    Field{"layer", "fasteners", Kind::table, false, "none", "screws or ties through the layer"},
    Field{"layer", "start_moisture", Kind::quantity, false, "from the catalogue", "of wood as built: moisture content by mass, \"16 %\"", &units::fraction, {0.01, 2.0}},
    Field{"layer", "start_humidity", Kind::quantity, false, "from the catalogue", "as built: relative humidity of its pores, \"80 %\"", &units::fraction, {0.05, 1.0}},
    Field{"layer", "finish", Kind::text, false, "none", "paint or paper on its inner side, a membrane of the catalogue"},
    Field{"layer", "emissivity_inside", Kind::quantity, false, "0.9", "of the surface on the inner side of an air space; foil 0.05", &units::fraction, {0.02, 1.0}},
    Field{"layer", "emissivity_outside", Kind::quantity, false, "0.9", "of the surface on the outer side of an air space", &units::fraction, {0.02, 1.0}},
    Field{"layer", "air_change", Kind::quantity, false, "from the wind", "of a ventilated air space, \"100 1/h\"", &units::air_change, {0.0, 1.0}},

    Field{"framing", "kind", Kind::word, false, "solid", "solid lumber, I-joist, or truss with two chords", nullptr, {}, "solid, i-joist, truss"},
    Field{"framing", "member", Kind::text, false, "", "\"2x6\", \"45x195\" or two sizes; needed for solid; of a truss, its chord"},
    Field{"framing", "spacing", Kind::length, true, "", "centre to centre", nullptr, {0.03, 3.0}},
    Field{"framing", "run", Kind::word, false, "vertical; along",
          "in a wall vertical or horizontal; in a roof, ceiling or floor along its slope or span, or across", nullptr, {},
          "vertical, horizontal, along, across"},
    Field{"framing", "flat", Kind::flag, false, "true where the layer is as thick as the member is narrow", "laid flat, wide side to the wall"},
    Field{"framing", "offset", Kind::length, false, "0 in", "of the first member from the corner", nullptr, {0.0, 3.0}},
    Field{"framing", "material", Kind::text, false, "framing lumber", "what the members are made of"},
    Field{"framing", "width", Kind::length, false, "", "I-joist: flange across the face", nullptr, {0.01, 0.5}},
    Field{"framing", "depth", Kind::length, false, "", "I-joist and truss: whole depth through the wall", nullptr, {0.05, 1.0}},
    Field{"framing", "flange", Kind::length, false, "", "I-joist: flange through the wall", nullptr, {0.01, 0.2}},
    Field{"framing", "web", Kind::length, false, "", "I-joist and truss: thickness of the web across the face", nullptr, {0.001, 0.2}},
    Field{"framing", "web_share", Kind::quantity, false, "100 % of an I-joist", "truss: share of its length that has a web", &units::fraction, {0.001, 1.0}},
    Field{"framing", "web_material", Kind::text, false, "osb", "I-joist and truss: what the web is made of"},

    Field{"fasteners", "spacing", Kind::pair, true, "", "one fastener each ... by ..., [\"24 in\", \"16 in\"]", nullptr, {0.02, 3.0}},
    Field{"fasteners", "diameter", Kind::length, true, "", "of the shank", nullptr, {0.0005, 0.05}},
    Field{"fasteners", "metal", Kind::word, false, "steel", "50, 17 and 160 W/(m K)", nullptr, {}, "steel, stainless steel, aluminium"},
    Field{"fasteners", "conductivity", Kind::quantity, false, "of the metal", "when it is none of these metals", &units::conductivity, {0.05, 500.0}},

    Field{"storey", "floor", Kind::length, true, "", "level of the finished floor", nullptr, {-20.0, 200.0}},
    Field{"storey", "height", Kind::length, true, "", "floor to ceiling", nullptr, {1.0, 20.0}},
    Field{"storey", "outline", Kind::corners, true, "", "corners, x to the east and y to the north, counter-clockwise, along the inside of the walls",
          nullptr, {-300.0, 300.0}},
    Field{"storey", "heated", Kind::flag, false, "true", "false for a garage or porch"},

    Field{"face", "storey", Kind::text, true, "", "the storey that it belongs to"},
    Field{"face", "edge", Kind::integer, false, "", "the whole edge of the outline: 1 runs from the first corner to the second", nullptr, {1, 500}},
    Field{"face", "from", Kind::corner, false, "", "left corner, seen from outside; with `to`, instead of `edge`", nullptr, {-300.0, 300.0}},
    Field{"face", "to", Kind::corner, false, "", "right corner", nullptr, {-300.0, 300.0}},
    Field{"face", "height", Kind::length, false, "that of the storey", "floor to plate", nullptr, {0.1, 20.0}},
    Field{"face", "assembly", Kind::text, false, "the rung of the wall ladder in use", "what it is built with"},
    Field{"face", "openings", Kind::list, false, "none", "windows and doors"},

    Field{"opening", "name", Kind::text, false, "window 1, door 2 ...", "what you call it"},
    Field{"opening", "kind", Kind::word, false, "window", "", nullptr, {}, "window, door"},
    Field{"opening", "width", Kind::length, true, "", "rough opening", nullptr, {0.1, 15.0}},
    Field{"opening", "height", Kind::length, true, "", "rough opening", nullptr, {0.1, 10.0}},
    Field{"opening", "left", Kind::length, true, "", "from the left corner of the face, seen from outside", nullptr, {0.0, 300.0}},
    Field{"opening", "sill", Kind::length, false, "0 in", "above the floor", nullptr, {0.0, 20.0}},
    Field{"opening", "u", Kind::quantity, false, "not stated", "of the whole unit", &units::transmittance, {0.1, 10.0}},
    Field{"opening", "shgc", Kind::quantity, false, "not stated", "share of sunshine that gets in", &units::fraction, {0.0, 1.0}},

    Field{"roof", "form", Kind::word, true, "", "", nullptr, {}, "gable, shed, hip, flat"},
    Field{"roof", "pitch", Kind::pitch, false, "flat", "\"9/12\" or \"37 deg\"; needed unless flat"},
    Field{"roof", "ridge", Kind::word, false, "", "which way it runs; needed for a gable", nullptr, {}, "east-west, north-south"},
    Field{"roof", "high_side", Kind::word, false, "", "needed for a shed", nullptr, {}, sides},
    Field{"roof", "storey", Kind::text, false, "the highest", "the storey under it"},
    Field{"roof", "overhang", Kind::length, false, "0 in", "beyond the outer face of the wall, level", nullptr, {0.0, 5.0}},
    Field{"roof", "assembly", Kind::text, false, "the rung of the roof or ceiling ladder in use", "what it is built with"},
    Field{"roof", "over_attic", Kind::flag, false, "true, but false over a roof assembly", "true: an unheated attic, insulation in the ceiling"},

    Field{"floor", "over", Kind::word, true, "", "what lies below", nullptr, {}, "ground, crawl space, basement, outside, heated"},
    Field{"floor", "assembly", Kind::text, false, "the rung of the floor or slab ladder in use", "what it is built with"},
    Field{"floor", "area", Kind::quantity, false, "that of the lowest storey", "where it differs", &units::area, {0.1, 100000.0}},

    Field{"foundation", "kind", Kind::word, true, "", "", nullptr, {}, "slab, crawl space, basement, piers"},
    Field{"foundation", "depth", Kind::length, false, "0 in", "of its floor below the ground outside", nullptr, {0.0, 10.0}},
    Field{"foundation", "height_above_grade", Kind::length, false, "0 in", "of its top above the ground outside", nullptr, {0.0, 5.0}},
    Field{"foundation", "assembly", Kind::text, false, "the rung of its ladder in use", "of its wall or slab"},
};

std::string value_text(const Field& field) {
    switch (field.kind) {
        case Kind::text: return "text";
        case Kind::flag: return "true or false";
        case Kind::integer: return fmt::format("{:g} to {:g}", field.limits.least, field.limits.most);
        case Kind::quantity: return fmt::format("{}: {}", field.dimension->name.substr(field.dimension->name.find(' ') + 1), field.dimension->examples);
        case Kind::length: return "length: in, ft, mm, m";
        case Kind::word: return std::string(field.words);
        case Kind::level: return fmt::format("{}, or a number", field.words);
        case Kind::month: return "month";
        case Kind::pitch: return "rise/run or angle";
        case Kind::corner: return "corner `[x, y]`";
        case Kind::corners: return "list of corners `[x, y]`";
        case Kind::pair: return "two lengths";
        case Kind::texts: return "list of names";
        case Kind::table: return "table";
        case Kind::list: return "list of tables";
    }
    return {};
}

}  // namespace

std::span<const Chapter> chapters() { return chapter_table; }
std::span<const Field> fields() { return field_table; }

const Field* field(std::string_view table, std::string_view key) {
    const auto found = std::find_if(field_table.begin(), field_table.end(), [&](const Field& f) { return f.table == table && f.key == key; });
    return found == field_table.end() ? nullptr : &*found;
}

std::vector<std::string> words_of(const Field& field) {
    std::vector<std::string> out;
    std::string_view rest = field.words;
    while (!rest.empty()) {
        const auto comma = rest.find(", ");
        out.emplace_back(rest.substr(0, comma));
        rest = comma == std::string_view::npos ? std::string_view{} : rest.substr(comma + 2);
    }
    return out;
}

std::string describe_fields(std::string_view table) {
    std::string out = "| key | value | if absent | meaning |\n|---|---|---|---|\n";
    for (const Field& each : field_table) {
        if (each.table != table) continue;
        out += fmt::format("| `{}` | {} | {} | {} |\n", each.key, value_text(each), each.required ? "**needed**" : each.standard, each.meaning);
    }
    return out;
}

}  // namespace warmside::project
