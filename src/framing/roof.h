// A roof over a rectangle: its sizes and the parts of frame_roofs. Inner part.
#pragma once

#include <array>
#include <vector>

#include "framing/flat.h"

namespace warmside::framing {

/// Sides in the order of the compass as an outline runs: south, east, north, west.
enum class Side { south, east, north, west };
[[nodiscard]] const char* name_of(Side side);

/// What all parts of one roof share. Level lengths unless said otherwise.
struct RoofPlan {
    const assembly::House* house = nullptr;
    const assembly::Assembly* wall = nullptr;
    const assembly::Roof* roof = nullptr;
    const assembly::Storey* storey = nullptr;
    const assembly::Assembly* built = nullptr;  ///< roof or ceiling assembly; may be null
    Plan plan;
    bool rafters = true;
    double pitch = 0.0;  ///< rad; 0 for a flat roof
    Exact overhang;      ///< from the frame's outer face: wall outside of it and the roof's overhang
    Section section;     ///< of rafters, or of the trusses' upper chords
    std::string lumber;
    Exact thick, depth;  ///< of a rafter across and along the slope's normal
    Exact spacing;
    Exact seat;      ///< of a rafter on its plate, level
    int layer = -1;  ///< of the rafters in `covering`
    const assembly::Assembly* covering =
        nullptr;    ///< layers of the slope: the roof's, or the attic's deck; or null
    Exact low;      ///< w of the rafters' underside
    Exact top;      ///< w where the layers outside of the rafters begin
    Section ridge;  ///< also of hips
    std::string ridge_lumber;

    [[nodiscard]] Exact plate() const { return storey->floor + storey->height; }
    /// Frame's length along a side and across it.
    [[nodiscard]] Exact along(Side side) const;
    [[nodiscard]] Exact across(Side side) const;
    /// Point of the frame's left corner of a side seen from outside, in plan.
    [[nodiscard]] assembly::Point left_corner(Side side) const;
    /// Level distance from the tail to place v on the slope at height w; the reverse of v_at.
    [[nodiscard]] double v_at(double level, double w) const;
    [[nodiscard]] Place where() const { return roof->origin.where; }
};

/// Unit vectors of a side in plan: along it from left to right seen from outside, and inwards.
struct Ways {
    std::array<double, 2> along, inwards;
};
[[nodiscard]] Ways ways_of(Side side);

/// What the wall below a side is built as: what its longest face names, else the rung.
[[nodiscard]] const assembly::Assembly& wall_under(const RoofPlan& plan, Side side);

/// A plate of a wall: the section of its studs, or of their depth under I-joists and trusses.
struct Plate {
    Section section;
    std::string lumber;
    Exact thick;
};
[[nodiscard]] Plate plate_of(const RoofPlan& plan, const assembly::Assembly& wall);

/// A slope of `plan` over `side`, empty: axes, size. `run`: level, from the tail to the ridge's middle.
[[nodiscard]] Panel slope_panel(const RoofPlan& plan, Side side, Exact run);

/// A rafter from the tail, level `run` to its upper plumb cut. `cheek`: rad in plan, of the upper cut.
void put_rafter(const RoofPlan& plan, Panel& panel, Exact centre, Exact run, Exact low, double cheek = 0.0);

/// Slopes, ridge and hips of a stick-built roof; deck alone over trusses.
void frame_slopes(const RoofPlan& plan, std::vector<Panel>& panels, Problems& notes);

/// Walls between plate and slope, where the roof has no attic.
void frame_gable_walls(const RoofPlan& plan, std::vector<Panel>& panels, Problems& notes);

/// How far the end rafter of a rake lies lower than the others, for lookouts that lie over it; zero without
/// an overhang.
[[nodiscard]] Exact rake_drop(const RoofPlan& plan);

/// Ends of a gable or shed, in the order of Side.
[[nodiscard]] std::vector<Side> rakes_of(const assembly::Roof& roof);
/// Sides with a slope that begins there.
[[nodiscard]] std::vector<Side> eaves_of(const RoofPlan& plan);

}  // namespace warmside::framing
