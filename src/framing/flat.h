// What floors, ceilings and roofs share: the plan of a storey's frame, sticks, sheets and runs on an even
// field. Inner part of frame_floors and frame_roofs.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "framing/wall_parts.h"

namespace warmside::framing {

/// A rectangle on two axes.
struct Field {
    Interval u, v;
};

/// The frame of a storey seen from above: its outline moved out to the outer faces of the walls' bearing
/// frames, in coordinates of the house, east and north.
struct Plan {
    std::vector<assembly::Point> outline;  ///< corners of the frame
    Field whole;                           ///< the rectangle around it
    Field inside;                          ///< around the inside faces
    Exact beyond;  ///< the thickest wall, from the outer face of its frame to its outer face
    bool rectangle = true;
};
/// Nothing where an edge does not run along an axis.
[[nodiscard]] std::optional<Plan> plan_of(const assembly::House& house, const assembly::Storey& storey,
                                          const assembly::Assembly& wall);

/// Stretches of the outline's inside along `axis` (0 east, 1 north) at `at` on the other axis; at a corner
/// those just beyond it.
[[nodiscard]] std::vector<Interval> across(const std::vector<assembly::Point>& outline, int axis, Exact at);

/// An outline as rectangles, cut along `axis` where it has a corner.
[[nodiscard]] std::vector<Field> strips_of(const std::vector<assembly::Point>& outline, int axis);

/// The member of that name: a stick of the catalogue or two sizes.
[[nodiscard]] Section named_section(const assembly::House& house, const std::string& name);
/// "spruce-pine-fir No. 2": joists, rafters, ridges.
[[nodiscard]] std::string joist_lumber(const assembly::House& house);

/// The board at the ends of joists: as [details] names it, else of the joists' lumber.
struct RimBoard {
    Exact thickness;
    std::string lumber;  ///< "rim board" where it is no sawn lumber
};
[[nodiscard]] RimBoard rim_board_of(const assembly::House& house, Exact joist_thickness,
                                    const std::string& joist_lumber);
/// The storey whose floor lies on the walls of `below`; null: none, or one beside it.
[[nodiscard]] const assembly::Storey* storey_upon(const assembly::House& house,
                                                  const assembly::Storey& below);

/// m to the next 1/64 in above: what is cut at a slope is never short.
[[nodiscard]] Exact outward(double metres);

/// Centres at the multiples of `module` from `start` within `run`, and a member flush with each of its ends;
/// one that an end member leaves no room moves up to it, or is dropped where the bay stays within the module.
/// `thick` is the member's.
[[nodiscard]] std::vector<Exact> centres(const Interval& run, Exact start, Exact module, Exact thick);

/// What there is of a field in the row that begins at this place of the shorter side's axis.
using Extent = std::function<Interval(Exact)>;

/// Sheets over `field`, their long side along `long_axis` (0 u, 1 v), each second row moved on by half a
/// sheet, cut at the field's edges, or at `extent` where the field narrows.
void lay_sheets(const assembly::House& house, Panel& panel, int layer, const Field& field, const Interval& w,
                int long_axis = 0, const Extent& extent = {});
/// Runs of a membrane over `field`, along u, each lapped over the one below.
void lay_runs(const assembly::House& house, Panel& panel, int layer, const Field& field, const Interval& w);

/// Comes as sheets: gypsum board, sheathing, panels.
[[nodiscard]] bool is_sheet(const assembly::Layer& layer);

/// "K1", "K2" ... to each member.
void mark_members(Panel& panel);

[[nodiscard]] Problem note(std::string what, const Place& where);

}  // namespace warmside::framing
