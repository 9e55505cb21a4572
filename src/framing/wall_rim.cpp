// The rim of the floor above a wall, for headers that lie in it.
#include <algorithm>

#include "framing/flat.h"
#include "framing/wall_frame.h"

namespace warmside::framing {

namespace {

using assembly::Point;

// Where an edge of the floor's frame runs over the outer face of the wall's, on the wall's own u; `way` is
// +1 where u rises with the axis.
std::optional<Interval> run_over(const Point& a, const Point& b, const assembly::Face& face, int axis,
                                 Exact line) {
    const auto on = [](const Point& p, int of) { return of == 0 ? p.x : p.y; };
    if (on(a, 1 - axis) != line || on(b, 1 - axis) != line) return std::nullopt;
    const Exact from = on(face.from, axis);
    const bool rising = on(face.to, axis) > from, same_way = (on(b, axis) > on(a, axis)) == rising;
    // An edge that runs the other way has its inside on the other side.
    if (!same_way) return std::nullopt;
    return rising ? Interval{on(a, axis) - from, on(b, axis) - from}
                  : Interval{from - on(a, axis), from - on(b, axis)};
}

RimOver without(std::string why) {
    return {.thickness = {}, .depth = {}, .lacking = std::move(why)};
}

}  // namespace

RimOver rim_over(const assembly::House& house, const assembly::Assembly& rung, const Wall& wall) {
    const assembly::Face& face = *wall.face;
    const assembly::Storey* storey = house.storey(face.storey);
    const assembly::Storey* above = storey ? storey_upon(house, *storey) : nullptr;
    if (!above) return without("no floor stands above");
    if (face.height != storey->height) return without("the floor above does not lie on its walls");
    const auto plan = plan_of(house, *above, rung);
    const bool lies_along = (face.from.x == face.to.x) != (face.from.y == face.to.y);
    if (!plan || !lies_along) return without("the floor above is not framed along it");
    const Section joist = named_section(house, house.practice.joist.value);
    const RimBoard board = rim_board_of(house, joist.thickness, joist_lumber(house));
    RimOver out{.thickness = board.thickness, .depth = joist.width, .lumber = board.lumber};
    if (out.depth <= Exact{} || out.thickness <= Exact{} || out.thickness > wall.build->bearer().depth.size())
        return without("the rim board is thicker than the wall's frame");
    const int axis = face.from.y == face.to.y ? 0 : 1;
    const Exact outer = wall.build->bearer().depth.high;
    const bool rising = axis == 0 ? face.to.x > face.from.x : face.to.y > face.from.y;
    // Outwards lies to the right of the way.
    const Exact line = axis == 0 ? (rising ? face.from.y - outer : face.from.y + outer)
                                 : (rising ? face.from.x + outer : face.from.x - outer);
    const std::size_t n = plan->outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const auto run = run_over(plan->outline[i], plan->outline[(i + 1) % n], face, axis, line);
        if (!run) continue;
        // At its ends the rims of the neighbours pass or butt.
        const Interval clear{run->low + out.thickness, run->high - out.thickness};
        if (clear.size() > Exact{}) out.runs.push_back(clear);
    }
    return out;
}

}  // namespace warmside::framing
