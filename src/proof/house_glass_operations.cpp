// Glazing, and what shades a window.
#include <array>
#include <cmath>

#include "house/glass.h"
#include "house/shading.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace h = warmside::house;

h::Glazing glazing_in(Inputs& in) {
    h::Glazing out;
    const int panes = in.whole("panes", 1, 6);
    h::Pane pane{.thickness = in.one("thickness", units::length)};
    pane.refractive_index = in.one_or("index", units::number, pane.refractive_index);
    pane.extinction = in.one_or("extinction", units::number, pane.extinction);
    pane.emissivity_outer = pane.emissivity_inner =
        in.one_or("emissivity", units::fraction, pane.emissivity_outer);
    const double coated = in.one_or("coated", units::fraction, pane.emissivity_outer);
    for (int i = 0; i < panes; ++i) {
        out.panes.push_back(pane);
        if (i == 0) continue;
        out.panes.back().emissivity_outer = coated;
        out.gaps.push_back({});
    }
    if (panes > 1) {
        const double gap = in.one_or("gap", units::length, out.gaps.front().thickness);
        const auto gas = in.reader().has("gas") ? in.word("gas", {"air", "argon"}) : "air";
        for (auto& each : out.gaps) each = {gap, gas == "argon" ? h::Gas::argon : h::Gas::air};
    }
    return out;
}

/// given: panes, thickness, index, extinction (1/m); angle, or diffuse = true. Shares of what falls on it.
Result<Outcome> optics(const Given& given) {
    Inputs in(given);
    const h::Glazing glazing = glazing_in(in);
    const bool diffuse = in.flag("diffuse");
    const double angle = diffuse ? 0.0 : in.one("angle", units::angle);
    return in.then([&]() -> Result<Outcome> {
        if (auto good = h::check(glazing); !good) return fail(good.error());
        const auto found = diffuse ? h::diffuse_optics(glazing) : h::optics(glazing, std::cos(angle));
        return Outcome{{"transmittance", {found.transmittance}},
                       {"reflectance", {found.reflectance}},
                       {"absorptance", found.absorptance}};
    });
}

/// given: the same with gap, gas, emissivity, coated (outer faces of all panes but the first); outdoors,
/// indoors, outside and inside (films without radiation), sun. U, conductance face to face, SHGC.
Result<Outcome> glazing(const Given& given) {
    Inputs in(given);
    const h::Glazing glass = glazing_in(in);
    h::Sides sides;
    sides.outdoors = in.one_or("outdoors", units::temperature, sides.outdoors);
    sides.indoors = in.one_or("indoors", units::temperature, sides.indoors);
    sides.convection_outside = in.one_or("outside", units::transmittance, sides.convection_outside);
    sides.convection_inside = in.one_or("inside", units::transmittance, sides.convection_inside);
    sides.sun = in.one_or("sun", units::heat_flux, sides.sun);
    return in.then([&]() -> Result<Outcome> {
        const auto found = h::behaviour(glass, sides);
        if (!found) return fail(found.error());
        return Outcome{{"u", {found->u}}, {"conductance", {found->conductance}}, {"gain", {found->gain}}};
    });
}

/// given: gas, temperature. Properties at 101325 Pa.
Result<Outcome> gas(const Given& given) {
    Inputs in(given);
    const auto which = in.word("gas", {"air", "argon"}) == "argon" ? h::Gas::argon : h::Gas::air;
    const double temperature = in.one("temperature", units::temperature);
    return in.then([&]() -> Result<Outcome> {
        const auto found = h::properties_of(which, temperature);
        return Outcome{{"conductivity", {found.conductivity}},
                       {"viscosity", {found.viscosity}},
                       {"density", {found.density}},
                       {"specific_heat", {found.specific_heat}}};
    });
}

/// given: width, height, above, depth, left, right (of an overhang); aside (sun from the wall's normal,
/// positive clockwise), elevation. Share of the window in the sun.
Result<Outcome> sunlit(const Given& given) {
    Inputs in(given);
    const h::Frontage window{in.one("width", units::length), in.one("height", units::length)};
    const double above = in.one("above", units::length), depth = in.one("depth", units::length),
                 left = in.one("left", units::length), right = in.one("right", units::length);
    const double aside = in.one("aside", units::angle), elevation = in.one("elevation", units::angle);
    return in.then([&]() -> Result<Outcome> {
        const std::array screens{h::overhang(window, above, depth, left, right)};
        return Outcome{{"share", {h::sunlit(window, screens, h::toward(aside, elevation, 0.0))}}};
    });
}

constexpr std::array operations{
    Operation{"house.optics", optics},
    Operation{"house.glazing", glazing},
    Operation{"house.gas", gas},
    Operation{"house.sunlit", sunlit},
};

}  // namespace

std::span<const Operation> house_glass_operations() {
    return operations;
}

}  // namespace warmside::proof
