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
    Exact sill, head;
};

/// A stick planned before it is placed; depth and layer are the frame's.
struct Piece {
    Role role = Role::stud;
    Section section;
    Interval u, v;
    int along = 1, opening = -1;
};

/// One opening, or several that stand one above the other: one pair of jambs and one header for all of them,
/// over the whole width between; inside of it every opening has its own studs, sill and flat head.
struct Bay {
    std::vector<Rough> openings;
    std::size_t governing = 0;      ///< the highest: jambs and header are counted to it
    Interval clear;                 ///< between the jambs
    Interval zone;                  ///< outer faces of its king studs
    Interval header;                ///< u
    Exact head;                     ///< highest of its openings
    Exact header_low, header_high;  ///< equal where the frame carries nothing: a flat piece is enough
    Exact ply;                      ///< thickness of one ply
    int kings = 1, jacks = 0, plies = 0;
    bool dropped = false;  ///< the header lies at the opening's head, cripples stand on it
    bool at_rim = false;   ///< it lies over the plates, in the rim of the floor above
    std::string header_lumber;
    std::vector<Piece> inside;  ///< between the jambs, under the header
    [[nodiscard]] const Rough& top() const { return openings[governing]; }
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
    Interval plate_run;  ///< u of bottom plate and lowest top plate: mitred ends to their long points
    Interval upper_run;  ///< u of the second top plate, which laps the corners
    Exact height;
    Exact stud_low, stud_high;
    int top_plates = 2;
    std::vector<Exact> marks;  ///< centres of the layout, left to right
    std::vector<Bay> bays;     ///< left to right
    /// Names of the openings beside which less than least_piece is left open, and the widest such slit.
    std::vector<std::string> slits;
    Exact widest_slit;
    std::string stud_lumber, plate_lumber;
};

/// Problem  out_of_range: a head above what the header leaves, no room beside an opening; with its place
[[nodiscard]] Result<FramePlan> plan_frame(const Bench& bench, const FramedLayer& layer);

/// Studs, plates, openings, corners of one frame, in that order.
void build_frame(const Bench& bench, const FramePlan& plan);

/// Jambs and headers that the openings of a face ask of a frame (wall_bays.cpp).
[[nodiscard]] Result<std::vector<Bay>> bays_of(const Bench& bench, FramePlan& plan);
/// What stands between the jambs (wall_openings.cpp). Problem: openings that leave no room for a stud or a
/// flat piece between them.
[[nodiscard]] Result<std::vector<Piece>> inside_of(const Bench& bench, FramePlan& plan, const Bay& bay);
void build_bay(const Bench& bench, const FramePlan& plan, const Bay& bay);

/// What ties the joints of the top plates of the frame that is built (wall_plates.cpp).
void tie_plates(const Bench& bench, const FramePlan& plan);
/// Bevelled studs that close the frame at mitred corners (wall_plates.cpp).
void close_mitres(const Bench& bench, const FramePlan& plan);

/// Backing of inner walls, blocks behind sheathing joints, fire blocks (wall_blocks.cpp).
[[nodiscard]] Result<void> back_partitions(const Bench& bench, const FramePlan& plan);
void block_edges(const Bench& bench, const FramePlan& plan);
void block_fire(const Bench& bench, const FramePlan& plan);

/// The rim of the floor that stands on a wall (wall_rim.cpp); `rung` is what the walls are built as.
[[nodiscard]] RimOver rim_over(const assembly::House& house, const assembly::Assembly& rung,
                               const Wall& wall);

/// First mark of the storeys' common grid on an axis of the plan (0 east, 1 north): the lowest storey's west
/// or south inside face. Practice::stacked.
[[nodiscard]] Exact grid_origin(const assembly::House& house, int axis);

}  // namespace warmside::framing
