// Where walls meet walls; sections in plan.
#include "thermal/junction_draft.h"

namespace warmside::thermal {

using assembly::Details;
using conduction::rectangle;

namespace {

// Indoors x < 0, y < 0; every sheet runs round the corner.
Draft corner(const Buildup& wall) {
    Draft draft(JunctionKind::outer_corner);
    const double far = -reach(wall.thickness()), edge = wall.thickness() + air_strip;
    draft.air(outdoors, rectangle({far, far}, {edge, edge}), wall.outside_film);
    for (std::size_t i = wall.sheets.size(); i-- > 0;) {
        const double b = wall.depth(i + 1);
        draft.lay(wall.sheets[i].name, rectangle({far, far}, {b, b}), wall.sheets[i].conductivity);
    }
    draft.air(indoors, rectangle({far, far}, {0.0, 0.0}), wall.inside_film);
    JunctionDrawing& out = draft.out();
    out.internal = out.overall = -2.0 * far * wall.u();
    out.external = out.internal + 2.0 * wall.thickness() * wall.u();
    out.sharp = {{0.0, 0.0}};
    return draft;
}

}  // namespace

JunctionDrawing plain_corner(const Buildup& wall) {
    return corner(wall).done();
}

JunctionDrawing outer_corner(const Buildup& wall, const Details& details) {
    Draft draft = corner(wall);
    const double s = details.member.value;
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        const Sheet& sheet = wall.sheets[i];
        if (!sheet.structural) continue;
        const double a = wall.depth(i), b = a + sheet.thickness;
        draft.member("end stud", rectangle({b - s, a}, {b, b}), sheet.wood);
        draft.member("stud", rectangle({a, a - s}, {b, a}), sheet.wood);
        const bool room = sheet.thickness > 2.0 * s;
        if (details.corner_studs.value >= 3 && i == wall.first_structural() && room)
            draft.member("flat stud", rectangle({a, a}, {b - s, a + s}), sheet.wood);
    }
    return std::move(draft).done();
}

// Outdoors is the quarter beyond the outer faces; x and y run from the inner faces outwards.
JunctionDrawing inner_corner(const Buildup& wall, const Details& details) {
    Draft draft(JunctionKind::inner_corner);
    const double thickness = wall.thickness(), far = thickness + reach(thickness);
    const double back = -2.0 * air_strip;
    draft.air(indoors, rectangle({back, back}, {far, far}), wall.inside_film);
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        const double a = wall.depth(i);
        draft.lay(wall.sheets[i].name, rectangle({a, a}, {far, far}), wall.sheets[i].conductivity);
    }
    draft.air(outdoors, rectangle({thickness, thickness}, {far, far}), wall.outside_film);
    const double s = details.member.value;
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        const Sheet& sheet = wall.sheets[i];
        if (!sheet.structural) continue;
        const double a = wall.depth(i), b = a + sheet.thickness;
        // The wall along y runs through to a; the other one starts at its outer face with a stud, on backing.
        draft.member("end stud", rectangle({a, a}, {b, a + s}), sheet.wood);
        draft.member("stud", rectangle({b, a}, {b + s, b}), sheet.wood);
        if (sheet.thickness > 2.0 * s)
            draft.member("flat stud", rectangle({b - s, a + s}, {b, b}), sheet.wood);
    }
    JunctionDrawing& out = draft.out();
    out.internal = out.overall = 2.0 * far * wall.u();
    out.external = 2.0 * (far - thickness) * wall.u();
    out.sharp = {{0.0, 0.0}};
    return std::move(draft).done();
}

JunctionDrawing partition(const Buildup& wall, const Details& details) {
    // Lining of gypsum on 2x4, empty: still air of R 0.18 (ISO 6946 table, horizontal flow; memory).
    constexpr double lining = 0.0127, lining_conductivity = 0.25, depth = 0.0889, air = depth / 0.18;
    Draft draft(JunctionKind::partition);
    const double half = 0.5 * depth + lining, far = half + reach(wall.thickness());
    const double length = reach(wall.thickness());
    // x from the wall's inner face outwards, y along the wall, the partition on y = 0.
    draft.air(indoors, rectangle({-length, -far}, {0.0, far}), wall.inside_film);
    draft.air(outdoors, rectangle({0.0, -far}, {wall.thickness() + air_strip, far}), wall.outside_film);
    draft.upright(wall, -far, far);
    // It was framed before the innermost sheet went on, after anything else.
    const bool framed_first = wall.first_structural() > 0;
    const double end = framed_first ? wall.sheets[0].thickness : 0.0;
    const double s = details.member.value;
    draft.lay("lining", rectangle({-length, -half}, {end, half}), lining_conductivity);
    draft.lay("still air", rectangle({-length, -0.5 * depth}, {end, 0.5 * depth}), air);
    draft.member("partition's end stud", rectangle({end - s, -0.5 * depth}, {end, 0.5 * depth}), wall.wood());
    if (details.partition_stud.value) {
        const std::size_t i = wall.first_structural();
        draft.member("backing stud", rectangle({wall.depth(i), -0.5 * s}, {wall.depth(i + 1), 0.5 * s}),
                     wall.sheets[i].wood);
    }
    JunctionDrawing& out = draft.out();
    out.internal = 2.0 * (far - half) * wall.u();
    out.overall = out.external = 2.0 * far * wall.u();
    out.sharp = {{0.0, half}};
    if (!details.partition_stud.value)
        out.notes.emplace_back("On a ladder of blocks: the blocks, short and far apart, are not drawn.");
    return std::move(draft).done();
}

}  // namespace warmside::thermal
