// One roof over an outline with right angles: its sizes and the parts of frame_roofs. Inner part.
#pragma once

#include <array>
#include <vector>

#include "assembly/roof_shape.h"
#include "framing/patch.h"

namespace warmside::framing {

using assembly::RoofBody;
using assembly::RoofEdge;
using assembly::RoofLine;
using assembly::RoofPlane;
using assembly::Side;

/// What all parts of one roof share. Level lengths unless said otherwise.
struct RoofPlan {
    const assembly::House* house = nullptr;
    const assembly::Assembly* wall = nullptr;
    const assembly::Roof* roof = nullptr;
    const assembly::Storey* storey = nullptr;
    const assembly::Assembly* built = nullptr;  ///< roof or ceiling assembly; may be null
    Plan plan;
    assembly::RoofShape frame;  ///< over the outer faces of the walls' frames
    assembly::RoofShape edge;   ///< over the roof's edges: `frame` and the overhang all round
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
    Section ridge;  ///< also of hips and valleys
    std::string ridge_lumber;

    [[nodiscard]] Exact plate() const { return storey->floor + storey->height; }
    [[nodiscard]] bool hip() const { return roof->form == assembly::Roof::Form::hip; }
    [[nodiscard]] bool ridged() const { return hip() || roof->form == assembly::Roof::Form::gable; }
    /// Level distance from the tail to place v on the slope at height w.
    [[nodiscard]] double v_at(double level, double w) const;
    /// Of the rafters' underside at the tail's end, level distance `level` in: house's height, m.
    [[nodiscard]] double underside(double level) const;
    [[nodiscard]] Place where() const { return roof->origin.where; }
};

/// Unit vectors of a side in plan: along it from left to right seen from outside, and inwards.
struct Ways {
    std::array<double, 2> along, inwards;
    /// u grows with x or y of the house.
    [[nodiscard]] bool rising() const { return along[0] + along[1] > 0.0; }
};
[[nodiscard]] Ways ways_of(Side side);

/// What the wall below a side is built as: what its longest face names, else the rung.
[[nodiscard]] const assembly::Assembly& wall_under(const RoofPlan& plan, Side side);

/// Index of the layer that holds this framing; -1: none.
[[nodiscard]] int layer_of(const assembly::Assembly& built, const assembly::Framing* framing);

/// A plate of a wall: the section of its studs, or of their depth under I-joists and trusses.
struct Plate {
    Section section;
    std::string lumber;
    Exact thick;
};
[[nodiscard]] Plate plate_of(const RoofPlan& plan, const assembly::Assembly& wall);

/// Rafters, lookouts, plates and layers of one plane of `plan.edge` (slopes.cpp).
[[nodiscard]] Panel frame_plane(const RoofPlan& plan, const RoofPlane& plane, std::string name);
/// Layers of the covering on a plane: strapping, sheets, membranes (slope_cover.cpp).
void cover_plane(const RoofPlan& plan, const RoofPlane& plane, Panel& panel);

/// Valley that carries the other one where a wing's ridge dies in a slope: it runs on to the ridge above.
struct Support {
    RoofLine valley;          ///< from the eave
    assembly::RoofPoint end;  ///< under the ridge
};
[[nodiscard]] std::vector<Support> supports_of(const RoofPlan& plan);
/// Notes the joints that no valley runs on from, because another wing's is in its way.
void warn_uncarried(const RoofPlan& plan, Problems& notes);
/// Ridges, hips and valleys, a panel each (ridges.cpp).
void frame_lines(const RoofPlan& plan, std::vector<Panel>& panels);

/// All slopes, ridges, hips and valleys of a stick-built roof; deck alone over trusses.
void frame_slopes(const RoofPlan& plan, std::vector<Panel>& panels, Problems& notes);

/// Trusses or ceiling joists and the layers under them (ceilings.cpp), and the sets that lie on the main
/// trusses where a wing meets them.
[[nodiscard]] Panel frame_ceiling(const RoofPlan& plan, Problems& notes);
void frame_valley_sets(const RoofPlan& plan, std::vector<Panel>& panels);

/// Walls between plate and slope, where the roof has no attic.
void frame_gable_walls(const RoofPlan& plan, std::vector<Panel>& panels, Problems& notes);

/// How far the end rafter of a rake lies lower than the others, for lookouts that lie over it; zero without
/// an overhang.
[[nodiscard]] Exact rake_drop(const RoofPlan& plan);

/// The end of a body, or of a shed: a wall above the plate in the plane of the frame's outer face.
struct Rake {
    Side side = Side::south;      ///< it looks to
    double line = 0.0;            ///< m, of the frame's outer face, on the axis across it
    double from = 0.0, to = 0.0;  ///< m, on the axis along it
};
/// Ends of a gable's bodies, those of a shed and its high walls; none of a hip or a flat roof.
[[nodiscard]] std::vector<Rake> rakes_of(const RoofPlan& plan);
/// Is it the end of a whole plane, so that lookouts carry the overhang there?
[[nodiscard]] bool ends_plane(const RoofPlan& plan, const Rake& rake);

}  // namespace warmside::framing
