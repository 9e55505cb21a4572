// Operations of the checks of junctions, proof/thermal/junctions*.toml.
#include <array>

#include "proof/inputs.h"
#include "thermal/junction.h"

namespace warmside::proof {

namespace {

/// `layers = [{ thickness = "12.5 mm", conductivity = "0.25 W/(m K)" }, { ..., structural = true }]`
thermal::Buildup buildup_of(Inputs& in) {
    thermal::Buildup out{.inside_film = in.one("inside_film", units::thermal_resistance),
                         .outside_film = in.one("outside_film", units::thermal_resistance)};
    const double wood = in.one("wood", units::conductivity);
    const toml::array* layers = in.reader().array("layers");
    if (!layers || layers->empty()) {
        in.reader().missing("layers");
        return out;
    }
    for (const toml::node& node : *layers) {
        const toml::table* table = node.as_table();
        if (!table) {
            in.reader().missing("layers");
            break;
        }
        units::TableReader row(*table, "layer", in.problems());
        const auto thickness = row.required(row.quantity("thickness", units::length), "thickness");
        const auto k = row.required(row.quantity("conductivity", units::conductivity), "conductivity");
        const bool structural = row.flag("structural").value_or(false);
        row.finish();
        out.sheets.push_back({.name = "layer",
                              .thickness = thickness.value_or(1.0),
                              .conductivity = k.value_or(1.0),
                              .structural = structural,
                              .wood = wood});
    }
    return out;
}

/// As the program itself solves a junction; `cell` is the width of the cells over which the source's surface
/// temperatures are means.
thermal::JunctionOptions options_of(Inputs& in) {
    thermal::JunctionOptions out;
    out.spot = in.one("cell", units::length);
    return out;
}

Result<Outcome> outcome(const Result<thermal::JunctionDrawing>& drawing,
                        const thermal::JunctionOptions& options) {
    if (!drawing) return fail(drawing.error());
    const auto solved = thermal::solve(*drawing, options);
    if (!solved) return fail(solved.error());
    Outcome out{{"psi_internal", {solved->psi_internal}},
                {"psi_overall", {solved->psi_overall}},
                {"psi_external", {solved->psi_external}},
                {"factor", {solved->factor}}};
    if (solved->factor_glazing) out["factor_glazing"] = {*solved->factor_glazing};
    return out;
}

Result<Outcome> plain_wall(const Given& given) {
    Inputs in(given);
    const auto wall = buildup_of(in);
    return in.then([&]() -> Result<Outcome> { return Outcome{{"u", {wall.u()}}}; });
}

Result<Outcome> corner(const Given& given) {
    Inputs in(given);
    const auto wall = buildup_of(in);
    assembly::Details details;
    const int studs = in.whole("studs", 0, 3);
    details.corner_studs.value = studs;
    const auto options = options_of(in);
    if (studs > 0) details.member.value = in.one("stud", units::length);
    return in.then([&] {
        return outcome(studs == 0 ? thermal::plain_corner(wall) : thermal::outer_corner(wall, details),
                       options);
    });
}

Result<Outcome> rim(const Given& given) {
    Inputs in(given);
    const auto wall = buildup_of(in);
    assembly::Details details;
    const double zone = in.one("zone", units::length);
    details.rim_board.value = in.one("rim_board", units::length);
    details.deck.value = in.one("deck", units::length);
    details.member.value = in.one("plate", units::length);
    details.top_plates.value = in.whole("top_plates", 0, 3);
    details.bottom_plates.value = in.whole("bottom_plates", 0, 3);
    details.rim_insulated.value = in.flag("insulated");
    const auto options = options_of(in);
    return in.then([&] { return outcome(thermal::rim_joist(wall, details, zone), options); });
}

Result<Outcome> jamb(const Given& given) {
    Inputs in(given);
    const auto wall = buildup_of(in);
    assembly::Details details;
    const auto place = in.word("place", {"sheathing", "middle", "inner"});
    details.frame.value = place == "middle"  ? assembly::FramePlace::middle
                          : place == "inner" ? assembly::FramePlace::inner
                                             : assembly::FramePlace::sheathing;
    details.frame_depth.value = in.one("frame_depth", units::length);
    details.frame_width.value = in.one("frame_width", units::length);
    details.frame_u.value = in.one("frame_u", units::transmittance);
    details.frame_lap.value = in.one("lap", units::length);
    details.gap.value = in.one("gap", units::length);
    details.member.value = in.one("stud", units::length);
    details.jamb_studs.value = in.whole("studs", 1, 4);
    auto options = options_of(in);
    options.glazing_film = in.one("frame_film", units::thermal_resistance);
    return in.then([&] {
        return outcome(
            thermal::window(thermal::JunctionKind::window_jamb, wall, details, thermal::OpeningLine::frame),
            options);
    });
}

/// Indoor humidity at 20 degC that keeps a surface at 80 %.
Result<Outcome> highest_humidity(const Given& given) {
    Inputs in(given);
    const double outside = in.one("outside", units::temperature);
    const auto factors = in.list("factor", units::number);
    return in.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double f : factors) out["humidity"].push_back(thermal::highest_humidity(f, outside));
        return out;
    });
}

constexpr std::array operations{
    Operation{"thermal.stud_free_wall", plain_wall},
    Operation{"thermal.outer_corner", corner},
    Operation{"thermal.rim_joist", rim},
    Operation{"thermal.window_jamb", jamb},
    Operation{"thermal.highest_humidity", highest_humidity},
};

}  // namespace

std::span<const Operation> junction_operations() {
    return operations;
}

}  // namespace warmside::proof
