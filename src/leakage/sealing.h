// Sealing plan: every seam and penetration of the airtight layer, what it leaks by workmanship, and what the
// crew does about it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "framing/frame.h"
#include "leakage/components.h"

namespace warmside::leakage {

/// An electrical box in an outer wall, as framing places it.
struct BoxInWall {
    std::string name, face, storey;
    bool pierces_airtight = false;              ///< the box or its ring comes through the airtight layer
    double from_left = 0.0, above_floor = 0.0;  ///< m, its middle, seen from outside
};
/// Of panels that have boxes (framing::Panel::boxes).
template <class Panels>
[[nodiscard]] std::vector<BoxInWall> boxes_of(const Panels& panels) {
    std::vector<BoxInWall> out;
    for (const auto& panel : panels) {
        for (const auto& each : panel.boxes) {
            const auto& b = each.box;
            out.push_back({each.name, panel.name, panel.storey, each.pierces_airtight,
                           0.5 * (b.low[0].metres() + b.high[0].metres()),
                           0.5 * (b.low[1].metres() + b.high[1].metres())});
        }
    }
    return out;
}

/// What leaks; its order is that of the table of words in sealing_words.cpp.
enum class SealKind {
    laps,       ///< of the airtight layer, over a wall, ceiling or floor
    bare_face,  ///< a part without an airtight layer
    sole_plate,
    foundation_sill,  ///< sill on the foundation wall
    rim,              ///< rim or band joist
    top_plate,
    ceiling_joint,
    corner,
    box,
    pipe,  ///< plumbing stacks too
    wire,
    duct,
    flue,
    hatch,
    recessed_light,
    hole,
    vent,          ///< damper of a hood or dryer
    window_frame,  ///< frame to wall
    window,        ///< the unit's own crack
    door_frame,
    door
};
[[nodiscard]] const char* name_of(SealKind kind);  ///< "window frame in the wall"
[[nodiscard]] const char* work_of(SealKind kind);  ///< what the crew does; common practice, no source

/// One place to seal.
struct SealItem {
    SealKind kind = SealKind::laps;
    std::string what;          ///< "kitchen", "attic hatch", "laps of variable retarder, medium"
    std::string storey, face;  ///< empty: not of one
    std::string position;      ///< "behind the baseboard, on the slab"
    std::optional<double> from_left, above_floor;  ///< m, where it has a place; a window's lower left corner
    double quantity = 1.0;                         ///< in `per` of the component
    std::string component;                         ///< row of the component table
    bool stands_in = false;  ///< the table has no such part; the nearest row is taken (ours)
    bool sealed = true;      ///< the part has an airtight layer: the caulked, gasketed row
    double seams = 0.0;      ///< m to tape, for laps, where the frame is known
    Workmanship area;        ///< m2 at 4 Pa, discharge coefficient 1
    Origin origin;           ///< of the row
};

/// All items of a kind.
struct SealGroup {
    SealKind kind = SealKind::laps;
    std::vector<std::size_t> items;  ///< indices into SealingPlan::items
    Workmanship area;                ///< m2
    double share = 0.0;              ///< of the typical whole
};

/// Both ways to combine the parts. `alike`: the crew is best, typical or poor everywhere, the sums.
/// `independent`: each row of the table errs by itself (the same crew seals all places of a row alike):
///   typical -/+ root of the sum of squares of the rows' distances to best and poor.
struct SealingRange {
    Workmanship alike, independent;
};

struct SealingPlan {
    std::string assembly;           ///< rung that the walls are built as
    std::vector<SealItem> items;    ///< worst first, by the typical area
    std::vector<SealGroup> groups;  ///< worst first
    SealingRange area;              ///< m2 at 4 Pa, discharge coefficient 1
    SealingRange at_50_pa;          ///< m3/s
    SealingRange air_change;        ///< 1/s at 50 Pa
    double exponent = 0.0, density = 0.0, volume = 0.0;
    std::size_t boxes_inside = 0;  ///< boxes that stay on the warm side
    Problems notes;                ///< parts without an airtight layer, what is not counted
    Origin origin;                 ///< of the component table
};
inline constexpr const char* range_note =
    "sums: the whole crew works best, typically or poorly; independent: root of the sum of squares over the "
    "kinds "
    "of parts";

inline constexpr const char* table_note =
    "the typical figures describe ordinary houses; a crew that seals by a list and tests comes near the best";

/// Lists the airtight layer of the house with its walls built as `wall` (a face that names an assembly keeps
/// it). Heated storeys only. A part with an airtight layer takes the caulked, weatherstripped, gasketed rows;
/// one without takes the open rows and is told in `notes`.
///
/// panels   walls as framed, for the metres of lap to tape; may be empty
/// boxes    of the outer walls; nothing: not known, which a note says
/// Problem  missing: no heated storey with faces; the component table cannot be read
/// Source   ashrae-f26-2001 (memory); stand-ins and workmanship words ours
[[nodiscard]] Result<SealingPlan> sealing_plan(const assembly::House& house, const assembly::Assembly& wall,
                                               const std::vector<framing::Panel>& panels,
                                               const std::optional<std::vector<BoxInWall>>& boxes);

}  // namespace warmside::leakage
