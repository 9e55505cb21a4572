// One frame of a wall: plates, studs, what stands around its openings, corners, backing and blocks. Inner
// part of frame_walls.
#pragma once

#include <vector>

#include "framing/wall_parts.h"

namespace warmside::framing {

/// An opening in a frame. Heights on v, the rest on u.
struct Rough {
    const assembly::Opening* opening = nullptr;
    int index = 0;
    Interval clear;  ///< the rough opening's width
    Interval zone;   ///< outer faces of its king studs
    Exact sill, head;
    Exact header_low, header_high;  ///< equal where the frame carries nothing: a flat piece is enough
    int kings = 1, jacks = 1, plies = 0;
    bool dropped = false;  ///< the header lies at the opening's head, cripples stand on it
    [[nodiscard]] Exact jack_width(Exact stud) const { return stud * jacks; }
};

/// A frame's sizes, all on the panel's axes.
struct FramePlan {
    const FramedLayer* layer = nullptr;
    bool bearing = true;
    Section stud;  ///< as bought
    Section plate;
    Exact thickness;  ///< of a stud across the face
    Exact plate_thickness;
    Interval depth;      ///< w
    Interval run;        ///< u of studs, bottom plate and the lowest top plate
    Interval upper_run;  ///< u of the second top plate, which laps the corners
    Exact height;
    Exact stud_low, stud_high;
    int top_plates = 2;
    std::vector<Exact> marks;  ///< centres of the layout, left to right
    std::vector<Rough> rough;  ///< left to right
    std::string stud_lumber, plate_lumber;
};

/// Problem  out_of_range: a head above what the header leaves, no room beside an opening; with its place
[[nodiscard]] Result<FramePlan> plan_frame(const Bench& bench, const FramedLayer& layer);

/// Studs, plates, openings, corners of one frame, in that order.
void build_frame(const Bench& bench, const FramePlan& plan);

/// What the openings of a face ask of a frame (wall_openings.cpp).
[[nodiscard]] Result<std::vector<Rough>> rough_openings(const Bench& bench, const FramePlan& plan);
void build_opening(const Bench& bench, const FramePlan& plan, const Rough& rough);

/// Backing of inner walls, blocks behind sheathing joints, fire blocks (wall_blocks.cpp).
[[nodiscard]] Result<void> back_partitions(const Bench& bench, const FramePlan& plan);
void block_edges(const Bench& bench, const FramePlan& plan);
void block_fire(const Bench& bench, const FramePlan& plan);

/// First mark of the storeys' common grid on an axis of the plan (0 east, 1 north): the lowest storey's west
/// or south inside face. Practice::stacked.
[[nodiscard]] Exact grid_origin(const assembly::House& house, int axis);

}  // namespace warmside::framing
