#include "project/fields.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <initializer_list>
#include <vector>

namespace warmside::project {

namespace {

using Kind = Field::Kind;

constexpr std::string_view months =
    "January, February, March, April, May, June, July, August, September, October, November, December";
constexpr std::string_view sides = "north, east, south, west";
constexpr std::string_view runs = "east-west, north-south";
constexpr std::string_view bodies = "deepest that fits, device, square";
// NGR and AWC names of the species groups; C14 to C30 of EN 338. What a check has no row for it refuses.
constexpr std::string_view species =
    "spruce-pine-fir, douglas fir-larch, hem-fir, southern pine, nordic spruce, other";
constexpr std::string_view grades =
    "Select Structural, No. 1, No. 2, No. 3, Stud, Construction, Standard, Utility, C14, C18, C24, C30, none";

constexpr std::array chapter_table{
    Chapter{"file", "the file", "The tables that a house file may hold."},
    Chapter{"house", "[house]", "The house as a whole."},
    Chapter{"indoor", "[indoor]", "The air that people live in."},
    Chapter{"rain", "[rain]", "How hard rain hits the walls (ASHRAE 160)."},
    Chapter{"air", "[air]",
            "How airtight the house is and what drives air through it. One of blower_door and leakage is "
            "enough."},
    Chapter{"details", "[details]",
            "How the crew builds the places where walls meet each other, floors, roofs and windows."},
    Chapter{"practice", "[framing]", "How the crew frames, beyond layers and [details]."},
    Chapter{"loads", "[loads]",
            "What the house has to carry. Nothing is guessed: a load that is not given is not checked."},
    Chapter{"ladder", "[ladder.PART]",
            "The assemblies that a part could be built with, today's practice first. PART is wall, roof, "
            "ceiling, "
            "floor, slab or basement_wall."},
    Chapter{"assembly", "[assembly.NAME]", "One build-up."},
    Chapter{"layer", "layers = [ { ... }, ... ]",
            "One layer, from inside to outside. Each is one of material, membrane or air."},
    Chapter{"framing", "framing = { ... }", "Members that repeat within a layer."},
    Chapter{"fasteners", "fasteners = { ... }", "Screws or ties that cross a layer."},
    Chapter{"storey", "[storey.NAME]", "One floor of the house."},
    Chapter{"face", "[face.NAME]", "One straight wall of a storey."},
    Chapter{"opening", "openings = [ { ... }, ... ]", "A window or door in a face."},
    Chapter{"partition", "[partition.NAME]", "An inner wall that meets an outer one."},
    Chapter{"box", "[box.NAME]", "An electrical box in an outer wall."},
    Chapter{"roof", "[roof.NAME]", "A roof over a storey."},
    Chapter{"floor", "[floor.NAME]", "The lowest floor."},
    Chapter{"foundation", "[foundation.NAME]", "What carries the house."},
    Chapter{"people", "[people]", "Who lives there, and at what temperatures."},
    Chapter{"ventilation", "[ventilation]", "Fans that change the air of the whole house."},
    Chapter{"heating", "[heating]", "What heats the house."},
    Chapter{"cooling", "[cooling]", "What cools it."},
    Chapter{"performance", "points = [ { ... }, ... ]",
            "What a heat pump or air conditioner does at one temperature outdoors, from the maker's sheet; "
            "coldest first."},
    Chapter{"energy", "[energy.NAME]",
            "What one kind of energy costs. One of price, blocks and hours; one table a fuel."},
    Chapter{"block", "blocks = [ { ... }, ... ]", "A price up to some use in a month; the last has no end."},
    Chapter{"hour", "hours = [ { ... }, ... ]",
            "A price by the hour of the day; together they fill it once."},
    Chapter{"money", "[money]", "How money is counted over the years (NIST Handbook 135)."},
    Chapter{"room", "[room.NAME]", "Part of a heated storey, for a heat load of its own."},
    Chapter{"appliance", "[appliance.NAME]", "Something that burns fuel, for reminders on its air."},
    Chapter{
        "penetration", "[penetration.NAME]",
        "What goes through the airtight layer, beyond the boxes, windows and joints that the model knows."},
    Chapter{"code", "[code]", "Which code the findings are for."},
};

// A key that has to be there; docs say so in the place of what holds without it.
constexpr std::string_view needed = "**needed**";

Field plain(Kind kind, std::string_view key, std::string_view standard, std::string_view meaning) {
    return {.key = key, .kind = kind, .standard = standard, .meaning = meaning};
}

Field quantity(std::string_view key, const units::Dimension& dimension, double least, double most,
               std::string_view standard, std::string_view meaning) {
    Field out = plain(Kind::quantity, key, standard, meaning);
    out.dimension = &dimension;
    out.limits = {least, most};
    return out;
}

// Lengths, corners and pairs of lengths; limits in m.
Field sizes(Kind kind, std::string_view key, double least, double most, std::string_view standard,
            std::string_view meaning) {
    Field out = quantity(key, units::length, least, most, standard, meaning);
    out.kind = kind;
    return out;
}

Field integer(std::string_view key, double least, double most, std::string_view standard,
              std::string_view meaning) {
    Field out = plain(Kind::integer, key, standard, meaning);
    out.limits = {least, most};
    return out;
}

Field word(Kind kind, std::string_view key, std::string_view words, std::string_view standard,
           std::string_view meaning) {
    Field out = plain(kind, key, standard, meaning);
    out.words = words;
    return out;
}

// A word that stands for a number, or the number.
Field level(std::string_view key, std::string_view words, double least, double most,
            std::string_view standard, std::string_view meaning) {
    Field out = quantity(key, units::fraction, least, most, standard, meaning);
    out.kind = Kind::level;
    out.words = words;
    return out;
}

struct Example {
    std::string_view table, key, text;
};
constexpr std::array examples{
    Example{"house", "name", "name = \"Heron Ridge\""},
    Example{"ladder", "rungs", "rungs = [\"w1\", \"w2\"]"},
    Example{"assembly", "part", "part = \"wall\""},
    Example{"assembly", "layers", "layers = [ { material = \"osb\", thickness = \"7/16 in\" } ]"},
    Example{"framing", "spacing", "spacing = \"24 in\""},
    Example{"fasteners", "spacing", "spacing = [\"24 in\", \"16 in\"]"},
    Example{"fasteners", "diameter", "diameter = \"1/4 in\""},
    Example{"storey", "floor", "floor = \"0 ft\""},
    Example{"storey", "height", "height = \"8 ft 1 1/8 in\""},
    Example{"storey", "outline", "outline = [[\"0 ft\", \"0 ft\"], [\"32 ft\", \"0 ft\"], ...]"},
    Example{"face", "storey", "storey = \"ground\""},
    Example{"opening", "width", "width = \"3 ft\""},
    Example{"opening", "height", "height = \"4 ft\""},
    Example{"opening", "left", "left = \"5 ft\""},
    Example{"partition", "face", "face = \"north\""},
    Example{"partition", "at", "at = \"12 ft\""},
    Example{"box", "face", "face = \"north\""},
    Example{"box", "at", "at = \"12 ft\""},
    Example{"roof", "form", "form = \"gable\""},
    Example{"floor", "over", "over = \"ground\""},
    Example{"foundation", "kind", "kind = \"slab\""},
};

std::vector<Field> make_fields() {
    std::vector<Field> out;
    const auto add = [&](std::string_view table, std::initializer_list<Field> rows) {
        for (Field each : rows) {
            each.table = table;
            each.required = each.standard == needed && table != "file";
            for (const Example& example : examples) {
                if (example.table == table && example.key == each.key) each.example = example.text;
            }
            out.push_back(each);
        }
    };
    add("file",
        {
            plain(Kind::table, "house", needed, "name and place"),
            plain(Kind::table, "indoor", "normal load of EN 15026", "indoor climate"),
            plain(Kind::table, "rain", "medium exposure", "driving rain"),
            plain(Kind::table, "air", "tight, suburban", "airtightness and wind"),
            plain(Kind::table, "details", "common practice", "corners, rims, window edges, sills"),
            plain(Kind::table, "framing", "common practice", "lumber, layout, joists, sheets"),
            plain(Kind::table, "loads", "not checked", "snow, wind, seismic, floors"),
            plain(Kind::table, "ladder", "", "ladders, one a part"),
            plain(Kind::table, "assembly", "", "build-ups by name"),
            plain(Kind::table, "material", "", "materials of your own, by name"),
            plain(Kind::table, "membrane", "", "membranes of your own, by name"),
            plain(Kind::table, "storey", "", "storeys by name"),
            plain(Kind::table, "face", "", "walls of the storeys by name"),
            plain(Kind::table, "partition", "", "inner walls that meet outer ones, by name"),
            plain(Kind::table, "box", "", "electrical boxes of the outer walls, by name"),
            plain(Kind::table, "roof", "", "roofs by name"),
            plain(Kind::table, "floor", "", "lowest floors by name"),
            plain(Kind::table, "foundation", "", "foundations by name"),
            plain(Kind::table, "people", "three bedrooms", "who lives there, and at what temperatures"),
            plain(Kind::table, "ventilation", "an exhaust fan", "fans, heat recovery"),
            plain(Kind::table, "heating", "a propane furnace", "what heats"),
            plain(Kind::table, "cooling", "none", "what cools"),
            plain(Kind::table, "energy", "a demo tariff", "prices, one a fuel, by name"),
            plain(Kind::table, "money", "$, 3 %, 30 years", "currency, discount rate, years"),
            plain(Kind::table, "room", "", "rooms by name"),
            plain(Kind::table, "appliance", "", "what burns fuel, by name"),
            plain(Kind::table, "penetration", "", "what goes through the airtight layer, by name"),
            plain(Kind::table, "code", "IECC and IRC 2021", "code, edition, climate zone"),
        });
    add("house",
        {
            plain(Kind::text, "name", needed, "what you call it"),
            plain(Kind::text, "place", "", "a built-in place (`warmside places`); or else `weather`"),
            plain(Kind::text, "weather", "", "a weather file, TMY3 or NSRDB CSV, beside the house file"),
            word(Kind::word, "units", "inch-pound, metric", "inch-pound",
                 "which units come first in the answers"),
            word(Kind::month, "start_month", months, "October", "moisture runs begin on its first day"),
            plain(Kind::text, "prices", "the built-in demo book", "a price book beside the house file"),
        });
    add("indoor",
        {
            word(Kind::word, "model",
                 "fixed, normal load, high load, humidity class, ashrae 160, "
                 "from the house",
                 "normal load",
                 "normal load and high load are those of EN 15026; humidity class is that of ISO 13788; "
                 "ashrae 160 its simplified method; from the house: by people, ventilation and leakage"),
            quantity("temperature", units::temperature, 278.15, 308.15, "21 degC",
                     "for fixed, humidity class and ashrae 160"),
            quantity("humidity", units::fraction, 0.05, 0.95, "40 %", "for fixed: relative humidity"),
            integer("class", 1, 5, "3", "for humidity class"),
            quantity("cooling", units::temperature, 288.15, 305.15, "no cooling",
                     "kept below in summer, while the day's mean outdoors is above 18 degC"),
            quantity("cooled_humidity", units::fraction, 0.2, 0.9, "50 %",
                     "with cooling: relative humidity that it keeps below"),
        });
    add("rain", {
                    level("exposure", "sheltered, medium, severe", 0.1, 2.0, "medium",
                          "how open the site is: sheltered 0.7, medium 1.0, severe 1.3"),
                    level("deposition", "steep roof, low roof, runoff", 0.05, 2.0, "low roof",
                          "what shields the wall: steep roof 0.35, low roof 0.5, runoff from above 1.0"),
                });
    add("air",
        {
            quantity("blower_door", units::air_change, 0.01 / 3600.0, 50.0 / 3600.0, "not stated",
                     "of the house at 50 Pa, \"0.6 ACH\"; about half of it is taken to pass through walls "
                     "and top"),
            quantity("leakage", units::air_leakage, 0.0, 0.02,
                     "from blower_door, else 0.14 to 0.55 m3/(h m2) by what lies outside",
                     "of walls, roofs and ceilings themselves at 50 Pa, \"0.4 m3/(h m2)\""),
            quantity("fan", units::pressure, -50.0, 50.0, "0 Pa",
                     "what ventilation adds to the pressure indoors; positive where more is blown in than "
                     "out"),
            word(Kind::word, "terrain", "open, suburban, city", "suburban",
                 "what slows the wind between the weather station and the house"),
            plain(Kind::text, "test", "none", "readings of a blower door, a CSV beside the house file"),
        });
    add("details",
        {
            sizes(Kind::length, "stud", 0.01, 0.2, "1 1/2 in", "thickness of studs and of plates"),
            integer("corner_studs", 2, 3, "3", "at an outer corner; the third lies flat behind the lining"),
            integer("partitions", 0, 100, "0", "inner walls that meet the outer walls, on each storey"),
            word(Kind::word, "partition_backing", "ladder, stud", "ladder",
                 "what stands in the outer wall behind an inner wall"),
            integer("top_plates", 0, 3, "2", "on a wall"),
            integer("bottom_plates", 0, 3, "1", "under a wall"),
            sizes(Kind::length, "deck", 0.005, 0.1, "23/32 in", "subfloor"),
            sizes(Kind::length, "joist", 0.05, 0.8, "9 1/4 in",
                  "depth, where the levels of storeys do not give it"),
            sizes(Kind::length, "rim_board", 0.01, 0.2, "1 1/2 in", "at the ends of the joists"),
            word(Kind::word, "rim", "insulated, bare", "insulated",
                 "behind the rim board, over the depth of the framing"),
            sizes(Kind::length, "ledger", 0.05, 0.5, "9 1/4 in", "height of a balcony's ledger"),
            sizes(Kind::length, "balcony", 0.0, 200.0, "0 ft", "length of all ledgers on the house"),
            sizes(Kind::length, "heel", 0.05, 2.0, "12 in",
                  "of a truss over an attic: from the plate to the roof, over the outer face of the framing"),
            sizes(Kind::length, "vent_gap", 0.0, 0.3, "1 in", "clear over the insulation at the eave"),
            word(Kind::word, "frame_place", "sheathing, middle, inner", "sheathing",
                 "where window frames stand: flush with the sheathing's outer face, in the middle of the "
                 "framing, "
                 "flush with its inner face"),
            sizes(Kind::length, "frame_lap", 0.0, 0.2, "0 in",
                  "of exterior insulation over frames at the sheathing"),
            sizes(Kind::length, "frame_depth", 0.04, 0.3, "80 mm", "of window frames, through the wall"),
            sizes(Kind::length, "frame_width", 0.03, 0.3, "115 mm", "of window frames, in view"),
            quantity("frame_u", units::transmittance, 0.4, 4.0, "1.0 W/(m2 K)", "of window frames"),
            sizes(Kind::length, "gap", 0.0, 0.05, "1/2 in", "between the frame and the rough opening"),
            integer("jamb_studs", 1, 5, "2", "king and jack beside an opening"),
            sizes(Kind::length, "header", 0.03, 0.6, "9 1/4 in", "height, over an opening"),
            integer("header_plies", 1, 6, "2", "at the outer side of the framing; the rest is insulated"),
            word(Kind::word, "header_place", "wall, rim", "wall",
                 "under the top plates, or in the rim of the floor above, where one stands there"),
            sizes(Kind::length, "buck", 0.0, 0.1, "23/32 in",
                  "plywood box in an opening through a wall of several frames"),
            sizes(Kind::length, "foundation_wall", 0.05, 1.0, "8 in",
                  "concrete under a slab's edge or a crawl space"),
            sizes(Kind::length, "foundation_depth", 0.0, 5.0, "4 ft", "of that wall below the ground"),
            sizes(Kind::length, "edge_insulation", 0.0, 0.5, "2 in", "between slab and foundation wall"),
        });
    add("practice",
        {
            word(Kind::word, "species", species, "spruce-pine-fir", "of all structural lumber"),
            word(Kind::word, "grade", grades, "No. 2", "of joists, rafters, headers and plates"),
            word(Kind::word, "stud_grade", grades, "Stud",
                 "of studs; none: ungraded or rough-sawn, for an engineer"),
            plain(Kind::flag, "stacked", "false", "one grid of studs through all storeys, the roof on it"),
            plain(Kind::flag, "sized_headers", "false",
                  "headers by their span table; else as [details] says"),
            plain(Kind::flag, "edge_blocking", "false", "blocks behind horizontal joints of the sheathing"),
            sizes(Kind::length, "sheet_width", 0.3, 3.0, "4 ft", "of sheathing, deck and lining"),
            sizes(Kind::length, "sheet_length", 0.6, 8.0, "8 ft", "their longer side"),
            sizes(Kind::length, "roll_width", 0.3, 6.0, "1500 mm", "of membranes"),
            sizes(Kind::length, "roll_length", 1.0, 200.0, "50 m", "of one roll"),
            sizes(Kind::length, "lap", 0.0, 0.5, "100 mm", "of one run of membrane over the next"),
            plain(Kind::text, "joist", "2x10", "of floors; rim boards are as deep"),
            sizes(Kind::length, "joist_spacing", 0.1, 1.3, "16 in", "centre to centre"),
            word(Kind::word, "joist_run", runs, "the short way", "which way joists run"),
            plain(Kind::flag, "bearing_line", "true", "joists meet over an inner wall or beam at mid span"),
            plain(Kind::flag, "boxes", "true",
                  "receptacles along the outer walls of heated storeys by box_reach; false: those of [box] "
                  "alone"),
            sizes(
                Kind::length, "box_reach", 0.3, 10.0, "6 ft",
                "farthest point of a wall space from a receptacle, along the floor (NEC 210.52(A), memory)"),
            sizes(Kind::length, "box_height", 0.05, 1.6, "16 in", "of receptacles, to their middle"),
            word(Kind::word, "box_body", bodies, "deepest that fits",
                 "device: 2 x 3 x 3 1/2 in, its front flush with the lining; square: 4 x 4 x 1 1/2 in behind "
                 "a ring"),
        });
    add("loads",
        {
            quantity("ground_snow", units::pressure, 0.0, 20000.0, "not checked", "\"60 psf\""),
            quantity("wind_speed", units::speed, 20.0, 120.0, "not checked",
                     "ultimate, gust of 3 s (ASCE 7), \"115 mph\""),
            word(Kind::word, "exposure", "B, C, D", "not checked",
                 "ground around the house: wooded or built up, open, by the water (ASCE 7)"),
            word(Kind::word, "seismic", "A, B, C, D0, D1, D2, E, F", "not checked",
                 "seismic design category"),
            quantity("floor_live", units::pressure, 0.0, 20000.0, "40 psf", "of rooms"),
            quantity("floor_dead", units::pressure, 0.0, 10000.0, "10 psf", "weight of a floor"),
            quantity("roof_dead", units::pressure, 0.0, 10000.0, "15 psf", "weight of a roof and ceiling"),
            quantity("attic_live", units::pressure, 0.0, 10000.0, "10 psf", "of an attic without storage"),
            quantity("cladding", units::pressure, 0.0, 5000.0, "from the layers",
                     "weight of cladding and battens on the wall"),
        });
    add("ladder", {
                      plain(Kind::texts, "rungs", needed, "names of assemblies in climbing order"),
                  });
    add("assembly",
        {
            word(Kind::word, "part", "wall, roof, ceiling, floor, slab, basement wall", needed,
                 "where in the house it stands"),
            plain(Kind::text, "title", "the name", "in words, for tables and reports"),
            plain(Kind::list, "layers", needed, "from inside to outside"),
            level("colour", "light, medium, dark", 0.0, 1.0, "medium",
                  "of the outer face: share of sunshine taken up; light 0.3, medium 0.6, dark 0.9"),
            quantity("emissivity", units::fraction, 0.02, 1.0, "0.9",
                     "of the outer face, for heat radiated to the sky"),
            plain(Kind::pitch, "pitch", "that of the [roof] built with it",
                  "of a roof, \"9/12\" or \"37 deg\""),
            plain(Kind::flag, "vented", "false", "of a roof: a ventilated space above the insulation"),
            quantity("rain_leak", units::fraction, 0.0, 0.2, "1 % of a wall, 0 of a roof",
                     "share of the driving rain that gets past the cladding"),
            integer("leak_layer", 1, 100, "outer side of the water layer",
                    "number of the layer on whose outer side the leak lands, 1 is innermost"),
        });
    add("layer",
        {
            plain(Kind::text, "material", "",
                  "a material of the catalogue (`warmside materials`) or of your own"),
            plain(Kind::text, "membrane", "",
                  "a membrane of the catalogue or of your own; it has no thickness"),
            word(Kind::word, "air", "still, slightly ventilated, ventilated", "", "an air space (ISO 6946)"),
            sizes(Kind::length, "thickness", 0.0001, 1.0, "", "needed for material and air"),
            plain(Kind::table, "framing", "none", "members within the layer"),
            quantity("label", units::thermal_resistance, 0.01, 30.0, "from the catalogue",
                     "the R printed on the package, \"R-23\""),
            plain(Kind::flag, "airtight", "false", "the one layer that the crew seals"),
            plain(Kind::flag, "water", "false",
                  "the layer that sheds water; the rain leak lands on its outer side"),
            plain(Kind::flag, "existing", "false", "already there, kept in a retrofit"),
            integer("voids", 0, 2, "0",
                    "air gaps by ISO 6946: 0 none, 1 gaps, 2 gaps with air moving round the insulation"),
            plain(Kind::table, "fasteners", "none", "screws or ties through the layer"),
            quantity("start_moisture", units::fraction, 0.01, 2.0, "from the catalogue",
                     "of wood as built: moisture content by mass, \"16 %\""),
            quantity("start_humidity", units::fraction, 0.05, 1.0, "from the catalogue",
                     "as built: relative humidity of its pores, \"80 %\""),
            plain(Kind::text, "finish", "none",
                  "paint or paper on its inner side, a membrane of the catalogue"),
            word(
                Kind::word, "contact", "full, open, gap", "full",
                "how its inner side meets the material before it: open breaks liquid water, gap also resists "
                "heat"),
            quantity("emissivity_inside", units::fraction, 0.02, 1.0, "0.9",
                     "of the surface on the inner side of an air space; foil 0.05"),
            quantity("emissivity_outside", units::fraction, 0.02, 1.0, "0.9",
                     "of the surface on the outer side of an air space"),
            quantity("air_change", units::air_change, 0.0, 1.0, "from wind and buoyancy",
                     "of a ventilated air space, fixed, \"100 1/h\""),
            sizes(Kind::length, "opening", 0.0001, 0.2, "10 mm; weeps behind brick",
                  "of a ventilated air space: height of the slot at its lower end; weeps as a slot of the "
                  "same area"),
            sizes(Kind::length, "opening_top", 0.0, 0.2, "as opening; none behind brick",
                  "of a ventilated air space: height of the slot at its upper end"),
            sizes(Kind::length, "length", 0.1, 30.0, "2.4 m; 5 m in a roof",
                  "of a ventilated air space: from the lower to the upper end"),
        });
    add("framing",
        {
            word(Kind::word, "kind", "solid, i-joist, truss", "solid",
                 "solid lumber, I-joist, or truss with two chords"),
            plain(Kind::text, "member", "",
                  "\"2x6\", \"45x195\" or two sizes; needed for solid; of a truss, its chord"),
            sizes(Kind::length, "spacing", 0.03, 3.0, needed, "centre to centre"),
            word(Kind::word, "run", "vertical, horizontal, along, across", "vertical; along",
                 "in a wall vertical or horizontal; in a roof, ceiling or floor along its slope or span, or "
                 "across"),
            plain(Kind::flag, "flat", "true where the layer is as thick as the member is narrow",
                  "laid flat, wide side to the wall"),
            sizes(Kind::length, "offset", 0.0, 3.0, "0 in", "of the first member from the corner"),
            plain(Kind::text, "material", "framing lumber", "what the members are made of"),
            sizes(Kind::length, "width", 0.01, 0.5, "", "I-joist: flange across the face"),
            sizes(Kind::length, "depth", 0.05, 1.0, "", "I-joist and truss: whole depth through the wall"),
            sizes(Kind::length, "flange", 0.01, 0.2, "", "I-joist: flange through the wall"),
            sizes(Kind::length, "web", 0.001, 0.2, "",
                  "I-joist and truss: thickness of the web across the face"),
            quantity("web_share", units::fraction, 0.001, 1.0, "100 % of an I-joist",
                     "truss: share of its length that has a web"),
            plain(Kind::text, "web_material", "osb", "I-joist and truss: what the web is made of"),
        });
    add("fasteners",
        {
            sizes(Kind::pair, "spacing", 0.02, 3.0, needed,
                  "one fastener each ... by ..., [\"24 in\", \"16 in\"]"),
            sizes(Kind::length, "diameter", 0.0005, 0.05, needed, "of the shank"),
            word(Kind::word, "metal", "steel, stainless steel, aluminium", "steel", "50, 17 and 160 W/(m K)"),
            quantity("conductivity", units::conductivity, 0.05, 500.0, "of the metal",
                     "when it is none of these metals"),
        });
    add("storey", {
                      sizes(Kind::length, "floor", -20.0, 200.0, needed, "level of the finished floor"),
                      sizes(Kind::length, "height", 1.0, 20.0, needed, "floor to ceiling"),
                      sizes(Kind::corners, "outline", -300.0, 300.0, needed,
                            "corners, x to the east and y to the north, counter-clockwise, along the inside "
                            "of the walls"),
                      plain(Kind::flag, "heated", "true", "false for a garage or porch"),
                  });
    add("face",
        {
            plain(Kind::text, "storey", needed, "the storey that it belongs to"),
            integer("edge", 1, 500, "",
                    "the whole edge of the outline: 1 runs from the first corner to the second"),
            sizes(Kind::corner, "from", -300.0, 300.0, "",
                  "left corner, seen from outside; with `to`, instead of `edge`"),
            sizes(Kind::corner, "to", -300.0, 300.0, "", "right corner"),
            sizes(Kind::length, "height", 0.1, 20.0, "that of the storey", "floor to plate"),
            plain(Kind::text, "assembly", "the rung of the wall ladder in use", "what it is built with"),
            plain(Kind::list, "openings", "none", "windows and doors"),
        });
    add("opening",
        {
            plain(Kind::text, "name", "window 1, door 2 ...", "what you call it"),
            word(Kind::word, "kind", "window, door", "window", ""),
            sizes(Kind::length, "width", 0.1, 15.0, needed, "rough opening"),
            sizes(Kind::length, "height", 0.1, 10.0, needed, "rough opening"),
            sizes(Kind::length, "left", 0.0, 300.0, needed,
                  "from the left corner of the face, seen from outside"),
            sizes(Kind::length, "sill", 0.0, 20.0, "0 in", "above the floor"),
            quantity("u", units::transmittance, 0.1, 10.0, "not stated", "of the whole unit"),
            quantity("shgc", units::fraction, 0.0, 1.0, "not stated", "share of sunshine that gets in"),
        });
    add("partition", {
                         plain(Kind::text, "face", needed, "the outer wall that it meets"),
                         sizes(Kind::length, "at", 0.0, 300.0, needed,
                               "its middle, from the left corner of the face, seen from outside"),
                         plain(Kind::text, "member", "2x4", "of its studs"),
                     });
    add("box", {
                   plain(Kind::text, "face", needed, "the outer wall that it stands in"),
                   sizes(Kind::length, "at", 0.0, 300.0, needed,
                         "its middle, from the left corner of the face, seen from outside; it goes to the "
                         "nearest wood"),
                   sizes(Kind::length, "height", 0.0, 20.0, "box_height; of a switch 48 in, of a light 80 in",
                         "its middle, above the floor"),
                   word(Kind::word, "kind", "receptacle, switch, light, data", "receptacle",
                        "a receptacle counts for the spacing rule"),
                   word(Kind::word, "body", bodies, "box_body of [framing]", "which box is nailed there"),
               });
    add("roof",
        {
            word(Kind::word, "form", "gable, shed, hip, flat", needed, ""),
            plain(Kind::pitch, "pitch", "flat", "\"9/12\" or \"37 deg\"; needed unless flat"),
            word(Kind::word, "ridge", "east-west, north-south", "", "which way it runs; needed for a gable"),
            word(Kind::word, "high_side", sides, "", "needed for a shed"),
            plain(Kind::text, "storey", "the highest", "the storey under it"),
            sizes(Kind::length, "overhang", 0.0, 5.0, "0 in", "beyond the outer face of the wall, level"),
            plain(Kind::text, "assembly", "the rung of the roof or ceiling ladder in use",
                  "what it is built with"),
            plain(Kind::flag, "over_attic", "true, but false over a roof assembly",
                  "true: an unheated attic, insulation in the ceiling"),
            level("vents", "1/150, 1/300, none", 0.0, 0.1, "1/300",
                  "of an attic: free area of all its vents over that of the ceiling"),
            plain(Kind::text, "deck", "OSB, felt and shingles",
                  "of an attic: a roof assembly that covers it"),
            word(Kind::word, "structure", "truss, rafters", "truss over an attic, else rafters",
                 "what carries it"),
            plain(Kind::text, "member", "that of the assembly, else 2x10", "of rafters"),
            sizes(Kind::length, "spacing", 0.2, 1.3, "that of the assembly, else 24 in",
                  "of trusses or rafters, centre to centre"),
        });
    add("floor",
        {
            word(Kind::word, "over", "ground, crawl space, basement, outside, heated", needed,
                 "what lies below"),
            plain(Kind::text, "assembly", "the rung of the floor or slab ladder in use",
                  "what it is built with"),
            quantity("area", units::area, 0.1, 100000.0, "that of the lowest storey", "where it differs"),
        });
    add("foundation",
        {
            word(Kind::word, "kind", "slab, crawl space, basement, piers", needed, ""),
            sizes(Kind::length, "depth", 0.0, 10.0, "0 in", "of its floor below the ground outside"),
            sizes(Kind::length, "height_above_grade", 0.0, 5.0, "0 in",
                  "of its top above the ground outside"),
            plain(Kind::text, "assembly", "the rung of its ladder in use", "of its wall or slab"),
            word(Kind::word, "soil", "sand, clay", "sand",
                 "the ground around it: sand or gravel, clay or silt (ISO 13370)"),
            quantity("soil_humidity", units::fraction, 0.5, 1.0, "99 %",
                     "relative humidity of the air in the ground"),
            level("vents", "1/150, 1/1500, none", 0.0, 0.1, "1/150",
                  "of a crawl space: free area of all its vents over that of the floor"),
            quantity("air_change", units::air_change, 0.0, 0.01, "0.5 1/h",
                     "of a crawl space without vents: outdoor air that leaks in"),
            plain(Kind::text, "ground_cover", "polyethylene",
                  "of a crawl space: a membrane of the catalogue or of your own, or \"bare\""),
        });
    const auto services = service_fields();
    out.insert(out.end(), services.begin(), services.end());
    return out;
}

std::string value_text(const Field& field) {
    switch (field.kind) {
        case Kind::text: return "text";
        case Kind::flag: return "true or false";
        case Kind::integer: return fmt::format("{:g} to {:g}", field.limits.least, field.limits.most);
        case Kind::quantity:
            return fmt::format("{}: {}", field.dimension->name.substr(field.dimension->name.find(' ') + 1),
                               field.dimension->examples);
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
        case Kind::range: return "two lengths `[from, to]`";
        case Kind::price: return "price: $/kWh, $/gallon, $/month";
        case Kind::amount: return "amount: kWh, therm, gallon";
        case Kind::clock: return "time of day, \"22:00\"";
        case Kind::point: return "place `[x, y]`, in a solid `[x, y, z]`";
    }
    return {};
}

}  // namespace

std::span<const Chapter> chapters() {
    return chapter_table;
}
std::span<const Field> fields() {
    static const std::vector<Field> all = make_fields();
    return all;
}

std::vector<const Field*> fields_of(std::string_view table) {
    std::vector<const Field*> out;
    for (const auto& all : {fields(), detail_fields()}) {
        for (const Field& each : all) {
            if (each.table == table) out.push_back(&each);
        }
    }
    return out;
}

const Field* field(std::string_view table, std::string_view key) {
    for (const auto& all : {fields(), detail_fields()}) {
        const auto found = std::find_if(all.begin(), all.end(),
                                        [&](const Field& f) { return f.table == table && f.key == key; });
        if (found != all.end()) return &*found;
    }
    return nullptr;
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
    for (const Field* each : fields_of(table)) {
        out += fmt::format("| `{}` | {} | {} | {} |\n", each->key, value_text(*each), each->standard,
                           each->meaning);
    }
    return out;
}

}  // namespace warmside::project
