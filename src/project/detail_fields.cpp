// Every key of the detail file.
#include <array>

#include "project/fields.h"

namespace warmside::project {

namespace {

using Kind = Field::Kind;

// Lengths of a detail, m: a part of a building and the ground around it.
constexpr units::Limits reach{-1000.0, 1000.0};
constexpr std::string_view needed = "**needed**";

constexpr std::array chapter_table{
    Chapter{"detail file", "the file", "The tables that a detail file may hold."},
    Chapter{"detail", "[detail]", "The detail as a whole."},
    Chapter{"detail environment", "[environment.NAME]", "Air, or ground, of one temperature."},
    Chapter{"detail material", "[material.NAME]", "A material that the catalogue does not have."},
    Chapter{"detail region", "[region.NAME]",
            "A rectangle, a polygon or a box. Each is one of material, air, air_space or left_out."},
    Chapter{"detail probe", "[probe.NAME]", "A point whose temperature is wanted."},
    Chapter{"detail picture", "[picture]", "What the pictures show, where it is less than the whole."},
};

Field row(std::string_view table, Kind kind, std::string_view key, std::string_view standard,
          std::string_view meaning, std::string_view example = {}) {
    return {.table = table,
            .key = key,
            .kind = kind,
            .required = standard == needed && table != "detail file",
            .standard = standard,
            .meaning = meaning,
            .example = example};
}

Field with(Field field, const units::Dimension& dimension, units::Limits limits) {
    field.dimension = &dimension;
    field.limits = limits;
    return field;
}

Field words(Field field, std::string_view list) {
    field.words = list;
    return field;
}

std::vector<Field> make_fields() {
    std::vector<Field> out;
    const auto file = [&](std::string_view key, std::string_view standard, std::string_view meaning) {
        out.push_back(row("detail file", Kind::table, key, standard, meaning));
    };
    file("detail", needed, "name, geometry, tolerance");
    file("environment", needed, "what is warm and what is cold, by name; two at least");
    file("material", "", "materials of your own, by name");
    file("region", needed, "what stands where, by name; a later one lies over an earlier one");
    file("probe", "", "points whose temperature is wanted, by name");
    file("picture", "", "what the pictures show");

    std::string_view table = "detail";
    out.push_back(row(table, Kind::text, "name", needed, "what you call it", "name = \"Slab edge\""));
    out.push_back(words(row(table, Kind::word, "geometry", "plane",
                            "plane: a section, flows for each metre of length; axisymmetric: x is the "
                            "distance from the axis of a screw or pipe; solid: in three dimensions"),
                        "plane, axisymmetric, solid"));
    out.push_back(
        words(row(table, Kind::word, "units", "inch-pound", "which units come first"), "inch-pound, metric"));
    out.push_back(with(row(table, Kind::quantity, "tolerance", "0.1 %",
                           "how far the flows may be off: the grid is refined until they are not"),
                       units::fraction, {1e-5, 0.1}));
    out.push_back(with(row(table, Kind::quantity, "mean_temperature", "between warmest and coldest",
                           "at which conductivities of the catalogue are taken"),
                       units::temperature, {173.15, 473.15}));

    table = "detail environment";
    out.push_back(with(row(table, Kind::quantity, "temperature", needed, "of the air or ground",
                           "temperature = \"70 degF\""),
                       units::temperature, {73.15, 1273.15}));
    out.push_back(with(
        row(table, Kind::quantity, "film", needed,
            "surface film between it and what it touches; \"0 m2 K/W\" for none", "film = \"0.13 m2 K/W\""),
        units::thermal_resistance, {0.0, 10.0}));
    out.push_back(with(row(table, Kind::quantity, "humidity", "not stated",
                           "relative humidity; the pictures then show where the surface passes 80 %"),
                       units::fraction, {0.01, 1.0}));

    table = "detail material";
    out.push_back(with(row(table, Kind::quantity, "conductivity", needed, "as used, at any temperature",
                           "conductivity = \"50 W/(m K)\""),
                       units::conductivity, {1e-4, 5000.0}));
    out.push_back(words(row(table, Kind::word, "hatch", "plain", "how it is drawn"),
                        "batt, board, wood, sheathing, gypsum, concrete, brick, foam, plain"));

    table = "detail region";
    out.push_back(row(table, Kind::text, "material", "", "a name of the catalogue or of your own"));
    out.push_back(row(table, Kind::text, "air", "", "the environment whose air stands here"));
    out.push_back(words(row(table, Kind::word, "air_space", "",
                            "enclosed still air, by the way heat crosses it; a rectangle at most 300 mm "
                            "across its shorter side (ISO 6946)"),
                        "up, horizontal, down"));
    out.push_back(
        row(table, Kind::flag, "left_out", "false",
            "true: the detail ends here, no heat crosses the faces (symmetry, or far enough away)"));
    for (const std::string_view axis : {"x", "y", "z"}) {
        out.push_back(with(row(table, Kind::range, axis, "",
                               axis == "x"   ? "from and to, to the right; in a plane section with y"
                               : axis == "y" ? "from and to, upwards"
                                             : "from and to, along the third axis; solids only"),
                           units::length, reach));
    }
    out.push_back(with(row(table, Kind::corners, "corners", "", "a polygon in place of x and y"),
                       units::length, reach));
    out.push_back(row(table, Kind::flag, "over", "false",
                      "true: may lie over regions that stand before it in the file"));
    out.push_back(with(row(table, Kind::quantity, "film", "that of the environment",
                           "of air: on all that it touches here; of a material: on its own surface"),
                       units::thermal_resistance, {0.0, 10.0}));

    out.push_back(with(row("detail probe", Kind::point, "at", needed,
                           "where; on a surface it is the surface temperature", "at = [\"0 in\", \"4 in\"]"),
                       units::length, reach));

    for (const std::string_view axis : {"x", "y", "z"}) {
        out.push_back(with(row("detail picture", Kind::range, axis, "all that matters", "from and to"),
                           units::length, reach));
    }
    return out;
}

}  // namespace

std::span<const Chapter> detail_chapters() {
    return chapter_table;
}

std::span<const Field> detail_fields() {
    static const std::vector<Field> all = make_fields();
    return all;
}

}  // namespace warmside::project
