// Where walls meet attics and roofs; upright sections, real slopes.
#include <algorithm>
#include <cmath>

#include "thermal/junction_draft.h"

namespace warmside::thermal {

using assembly::Details;
using conduction::Point;
using conduction::rectangle;
using conduction::Shape;

namespace {

// y at or below `at` + `slope` x.
struct Line {
    double at = 0.0, slope = 0.0;
    [[nodiscard]] double operator()(double x) const { return at + slope * x; }
};

// What of x from `left` to `right` lies between two lines; nothing where the lower one is above. Corners that
// would coincide are left out.
Shape between(double left, double right, const Line& low, const Line& high) {
    Shape out;
    const auto gap = [&](double x) { return high(x) - low(x); };
    // Where the lines cross within the strip, the shape ends there.
    if (low.slope != high.slope) {
        const double crossing = (low.at - high.at) / (high.slope - low.slope);
        if (crossing > left && crossing < right) (gap(left) > 0.0 ? right : left) = crossing;
    }
    if (gap(0.5 * (left + right)) <= 0.0) return out;
    constexpr double thin = 1e-6;  // m
    out.outline.push_back({left, low(left)});
    out.outline.push_back({right, low(right)});
    if (gap(right) > thin) out.outline.push_back({right, high(right)});
    if (gap(left) > thin) out.outline.push_back({left, high(left)});
    return out;
}

void lay(Draft& draft, const Sheet& sheet, const Shape& shape) {
    if (shape.outline.size() >= 3) draft.lay(sheet.name, shape, sheet.conductivity);
}

// A sheet cut by a sloping line above: flat up to where the line comes down on it, sloped from there.
void lay_under(Draft& draft, const Sheet& sheet, double left, double right, double low, double high,
               const Line& line) {
    // `line` falls outwards.
    const double corner = line.slope < 0.0 ? (high - line.at) / line.slope : right;
    const double flat = line(right) >= high ? right : std::clamp(corner, left, right);
    Shape shape;
    shape.outline.push_back({left, low});
    double end = right;
    if (line(right) < low) end = std::max(left, (low - line.at) / line.slope);
    if (end <= left) return;
    shape.outline.push_back({end, low});
    if (flat < right) {
        if (line(end) > low + 1e-6) shape.outline.push_back({end, line(end)});
        if (flat > left + 1e-6) shape.outline.push_back({flat, high});
    } else {
        shape.outline.push_back({right, high});
    }
    const double top_left = std::min(high, line(left));
    if (top_left > low + 1e-6) shape.outline.push_back({left, top_left});
    lay(draft, sheet, shape);
}

// `line`: underside of what lies over the insulation. `wall_top`: where the wall's outer sheets end.
Draft under_attic(JunctionKind kind, const Buildup& wall, const Buildup& ceiling, const Details& details,
                  const Line& line, double wall_top) {
    Draft draft(kind);
    const double far = reach(wall.thickness()), left = -reach(ceiling.thickness()), outer = wall.outer();
    const double seat = ceiling.inner();  // of the truss on the plates
    const double top = std::max(ceiling.thickness(), wall_top) + air_strip;
    const double edge = wall.thickness() + air_strip;
    draft.air(outdoors, rectangle({left, 0.0}, {edge, top}), ceiling.outside_film);
    draft.air(outdoors, rectangle({outer, -far}, {edge, wall_top}), wall.outside_film);
    draft.air(indoors, rectangle({left, -far}, {0.0, 0.0}), wall.inside_film);
    draft.upright(wall, 0, wall.last_structural() + 1, -far, seat);
    draft.upright(wall, wall.last_structural() + 1, wall.sheets.size(), -far, wall_top);
    for (std::size_t i = 0; i < ceiling.sheets.size(); ++i) {
        const bool below = i < ceiling.first_structural();
        const std::size_t before = draft.out().model.regions.size();
        lay_under(draft, ceiling.sheets[i], left, below ? 0.0 : outer, ceiling.depth(i), ceiling.depth(i + 1),
                  line);
        if (i == 0 && draft.out().model.regions.size() > before) draft.own_film(before, ceiling.inside_film);
    }
    draft.plates(wall, "top plates", seat - details.top_plates.value * details.member.value, seat);
    JunctionDrawing& out = draft.out();
    out.internal = out.overall = far * wall.u() - left * ceiling.u();
    out.external = out.internal + ceiling.thickness() * wall.u() + wall.thickness() * ceiling.u();
    out.sharp = {{0.0, 0.0}};
    out.notes.emplace_back("The attic is taken as cold as outdoors.");
    return draft;
}

}  // namespace

JunctionDrawing eave_under_attic(const Buildup& wall, const Buildup& ceiling, const Details& details,
                                 double pitch) {
    const double seat = ceiling.inner(), slope = std::tan(pitch);
    const double heel = std::max(details.heel.value, 2.0 * details.vent_gap.value);
    const double clear = heel - details.vent_gap.value / std::cos(pitch);
    const Line line{seat + std::max(clear, 0.02) + wall.outer() * slope, -slope};
    return under_attic(JunctionKind::eave, wall, ceiling, details, line, seat + heel).done();
}

JunctionDrawing gable_under_attic(const Buildup& wall, const Buildup& ceiling, const Details& details) {
    constexpr double chord = 0.0889, above = 0.3;  // m, 2x4 on edge; wall drawn over the insulation
    const double top = ceiling.thickness() + above;
    Draft draft =
        under_attic(JunctionKind::gable, wall, ceiling, details, {ceiling.thickness() + 1.0, 0.0}, top);
    const double seat = ceiling.inner(), outer = wall.outer();
    draft.member("chord of the gable truss",
                 rectangle({outer - details.member.value, seat}, {outer, seat + chord}), wall.wood());
    return std::move(draft).done();
}

JunctionDrawing eave_under_roof(const Buildup& wall, const Buildup& roof, const Details& details,
                                double pitch) {
    Draft draft(pitch > 0.0 ? JunctionKind::eave : JunctionKind::gable);
    const double cosine = std::cos(pitch), slope = -std::tan(pitch);
    const auto face = [&](double depth) { return Line{depth / cosine, slope}; };
    const double far = reach(wall.thickness()), length = reach(roof.thickness());
    const double left = -length * cosine, outer = wall.outer(), thickness = wall.thickness();
    const double edge = thickness + air_strip;
    const Line inner_face = face(0.0), underside = face(roof.inner());
    const Line over_structure = face(roof.outer()), outer_face = face(roof.thickness());
    const Line sky{outer_face.at + air_strip / cosine, slope};
    const Line ground{-far, 0.0};

    draft.air(outdoors, between(outer, edge, ground, sky), wall.outside_film);
    draft.air(outdoors, between(left, edge, outer_face, sky), roof.outside_film);
    draft.air(indoors, between(left, 0.0, ground, inner_face), wall.inside_film);
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        const Line& top = i <= wall.last_structural() ? underside : over_structure;
        lay(draft, wall.sheets[i], between(wall.depth(i), wall.depth(i + 1), ground, top));
    }
    for (std::size_t i = 0; i < roof.sheets.size(); ++i) {
        const double right = i < roof.first_structural()   ? 0.0
                             : i <= roof.last_structural() ? outer
                                                           : thickness;
        const std::size_t before = draft.out().model.regions.size();
        lay(draft, roof.sheets[i], between(left, right, face(roof.depth(i)), face(roof.depth(i + 1))));
        if (i == 0 && draft.out().model.regions.size() > before) draft.own_film(before, roof.inside_film);
    }
    // The rafters sit on the plates with a notch; between them blocks close the bays.
    const double s = details.member.value;
    double seat = 0.0;
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        const Sheet& sheet = wall.sheets[i];
        if (!sheet.structural) continue;
        const double a = wall.depth(i), b = a + sheet.thickness;
        seat = std::min(underside(a), over_structure(b));
        draft.member("top plates", rectangle({a, seat - details.top_plates.value * s}, {b, seat}),
                     sheet.wood);
    }
    const Shape block = between(outer - s, outer, {seat, 0.0}, over_structure);
    if (block.outline.size() >= 3) draft.member("blocking", block, roof.wood());
    JunctionDrawing& out = draft.out();
    out.internal = out.overall = far * wall.u() + length * roof.u();
    out.external =
        out.internal + std::max(0.0, outer_face(thickness)) * wall.u() + thickness / cosine * roof.u();
    out.sharp = {{0.0, 0.0}};
    return std::move(draft).done();
}

}  // namespace warmside::thermal
