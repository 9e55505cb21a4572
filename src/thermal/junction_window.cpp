// A window in the depth of a wall; section across one edge of the opening.
#include <algorithm>

#include "thermal/junction_draft.h"

namespace warmside::thermal {

using assembly::Details;
using assembly::FramePlace;
using conduction::rectangle;

namespace {

constexpr double pane = 0.040, pane_conductivity = 0.035,
                 pane_seen = 0.3;           // ISO 10077-2 (memory), 0.19 at least
constexpr double gap_conductivity = 0.036;  // W/(m K), wool or foam
constexpr double buck_conductivity = 0.13;  // W/(m K), plywood

// Depth of the frame in the wall, from the inner face.
struct Depth {
    double inner = 0.0, outer = 0.0;
    [[nodiscard]] double middle() const { return 0.5 * (inner + outer); }
};

Depth frame_depth(const Buildup& wall, const Details& details) {
    const double depth = std::min(details.frame_depth.value, wall.thickness());
    double outer = 0.0;
    switch (details.frame.value) {
        case FramePlace::sheathing:
            outer = wall.depth(std::min(wall.last_structural() + 2, wall.sheets.size()));
            break;
        case FramePlace::middle: outer = 0.5 * (wall.inner() + wall.outer() + depth); break;
        case FramePlace::inner: outer = wall.inner() + depth; break;
    }
    outer = std::clamp(outer, depth, wall.thickness());
    return {outer - depth, outer};
}

// Studs, header or sill at the opening's edge, and the buck that lines a wall of several frames.
void framing(Draft& draft, JunctionKind kind, const Buildup& wall, const Details& details) {
    const double s = details.member.value;
    const bool several = wall.first_structural() != wall.last_structural();
    const double buck = several ? details.buck.value : 0.0;
    if (several)
        draft.member("buck", rectangle({-buck, wall.inner()}, {0.0, wall.outer()}), buck_conductivity);
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        const Sheet& sheet = wall.sheets[i];
        if (!sheet.structural) continue;
        const double a = wall.depth(i), b = a + sheet.thickness;
        if (kind == JunctionKind::window_jamb)
            draft.member("jack and king", rectangle({-buck - details.jamb_studs.value * s, a}, {-buck, b}),
                         sheet.wood);
        if (kind == JunctionKind::window_sill)
            draft.member("rough sill", rectangle({-buck - s, a}, {-buck, b}), sheet.wood);
        if (kind == JunctionKind::window_head && i == wall.last_structural()) {
            const double plies = std::min(details.header_plies.value * s, sheet.thickness);
            draft.member("header", rectangle({-buck - details.header.value, b - plies}, {-buck, b}),
                         sheet.wood);
        }
    }
}

// Frame and pane with air on both sides, from x on; `low` and `high` the depths of the air.
void frame_and_pane(Draft& draft, const Details& details, const Depth& at) {
    const double from = details.gap.value, edge = from + details.frame_width.value;
    const double depth = at.outer - at.inner;
    const double conductivity = depth / (1.0 / details.frame_u.value - 0.13 - 0.04);
    const double thin = 0.5 * std::min(pane, depth), end = edge + pane_seen, middle = at.middle();
    // In halves, since only the inner ones have an inner film of their own.
    draft.glazing("frame", rectangle({from, at.inner}, {edge, middle}), conductivity);
    draft.lay("frame", rectangle({from, middle}, {edge, at.outer}), conductivity);
    draft.glazing("pane", rectangle({edge, middle - thin}, {end, middle}), pane_conductivity);
    draft.lay("pane", rectangle({edge, middle}, {end, middle + thin}), pane_conductivity);
}

}  // namespace

JunctionDrawing window(JunctionKind kind, const Buildup& wall, const Details& details, OpeningLine line) {
    Draft draft(kind);
    const Depth at = frame_depth(wall, details);
    const double gap = details.gap.value, end = gap + details.frame_width.value + pane_seen;
    const double far =
        -(reach(wall.thickness()) + (kind == JunctionKind::window_head ? details.header.value : 0.0));
    const double thickness = wall.thickness(), out_to = std::max(thickness, at.outer) + air_strip;
    const auto airs = [&](Draft& to, double from) {
        to.air(outdoors, rectangle({from, at.middle()}, {end, out_to}), wall.outside_film);
        to.air(indoors, rectangle({from, -air_strip}, {end, at.middle()}), wall.inside_film);
    };
    airs(draft, far);
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        draft.lay(wall.sheets[i].name, rectangle({far, wall.depth(i)}, {0.0, wall.depth(i + 1)}),
                  wall.sheets[i].conductivity);
    }
    framing(draft, kind, wall, details);
    draft.lay("gap", rectangle({0.0, at.inner}, {gap, at.outer}), gap_conductivity);
    const double lining = std::min(wall.sheets.front().thickness, gap), trim = std::min(0.0125, gap);
    if (at.inner > 0.0)
        draft.lay("inner reveal", rectangle({0.0, 0.0}, {lining, at.inner}),
                  wall.sheets.front().conductivity);
    if (at.outer < thickness) draft.lay("outer reveal", rectangle({0.0, at.outer}, {trim, thickness}), 0.13);
    frame_and_pane(draft, details, at);
    const double lap = std::min(details.frame_lap.value, details.frame_width.value);
    for (std::size_t i = wall.last_structural() + 2; lap > 0.0 && i < wall.sheets.size(); ++i) {
        if (wall.depth(i) < at.outer - 1e-9) continue;
        draft.lay(wall.sheets[i].name, rectangle({0.0, wall.depth(i)}, {gap + lap, wall.depth(i + 1)}),
                  wall.sheets[i].conductivity);
    }

    Draft alone(kind);
    airs(alone, gap);
    frame_and_pane(alone, details, at);
    JunctionDrawing& out = draft.out();
    out.apart = std::move(alone).done().model;
    out.opening = details.frame_width.value * details.frame_u.value +
                  pane_seen / (wall.inside_film + pane / pane_conductivity + wall.outside_film);
    const double counted = line == OpeningLine::frame ? gap * wall.u() : gap * details.frame_u.value;
    out.internal = out.overall = out.external = -far * wall.u() + counted;
    out.sharp = {{gap, at.inner},
                 {gap + details.frame_width.value, at.middle() - 0.5 * std::min(pane, at.outer - at.inner)}};
    out.notes.emplace_back("No spacer of the glass is drawn: its real edge is colder than said here.");
    return std::move(draft).done();
}

}  // namespace warmside::thermal
