// Electrical boxes in outer walls: their bodies, the layer that holds them, and whether they pierce the
// airtight layer.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::assembly {

[[nodiscard]] const char* name_of(BoxKind kind);  ///< "receptacle", "switch", "light", "data"

/// What is nailed to the wood.
struct BoxBody {
    std::string name;   ///< "device"
    std::string title;  ///< "device box 2 x 3 x 3 1/2 in"
    Exact width, height, depth;
    double volume = 0.0;             ///< m3, for wires
    bool flush_with_lining = false;  ///< its front edge; else in the face of the framing, a ring in front
    Origin origin;
};

/// Data: data/framing/boxes.toml.
struct BoxRules {
    std::vector<BoxBody> bodies;  ///< the one to prefer first
    Exact reach;                  ///< from any point of a wall space to a receptacle, along the floor line
    Exact least_space;            ///< a narrower wall space needs none
    Exact highest;                ///< a receptacle above counts for nothing
    Origin spacing_origin;
    Exact casing;                                ///< clear around a rough opening
    Exact edge;                                  ///< clear from an inside corner and an inner wall
    Exact receptacle, wall_switch, light, data;  ///< usual heights
    Origin practice_origin;
    [[nodiscard]] Exact height_of(BoxKind kind) const;
    [[nodiscard]] const BoxBody* body(std::string_view name) const;  ///< null: none
};

/// Problem  syntax, wrong_unit, missing, out_of_range, with the place
[[nodiscard]] Result<BoxRules> read_box_rules(std::string_view file_name, std::string_view text);
/// The built-in rows.
[[nodiscard]] const BoxRules& box_rules();

/// Which framed layer of a wall holds a box, and how far the box reaches through the wall.
struct BoxSeat {
    std::size_t layer = 0;
    const BoxBody* body = nullptr;
    Exact front, back;              ///< of the body, from the inside face of the lining
    bool inner_cavity = false;      ///< the layer lies on the inner side of the airtight one
    bool pierces_airtight = false;  ///< the box, or its ring, comes through the airtight layer
};

/// The innermost framed layer on the inner side of the airtight one that is deep enough (a wired service
/// cavity; without an airtight layer the innermost of all), else the innermost layer of upright members at
/// least 63 mm deep (2x3) that is. `body` is a name of box_bodies, or "deepest that fits". Nothing: no layer
/// is deep enough.
///
/// Source  ours; depths of bodies against cavities: NEC by excerpt (data/framing/boxes.toml)
[[nodiscard]] std::optional<BoxSeat> box_seat(const Assembly& wall, std::string_view body);

/// Boxes of the file against the house: inside their face, out of openings and inner walls, apart from each
/// other, no deeper than the layers of each rung that could hold them. Places are those of the boxes' values.
void check_boxes(const House& house, Problems& problems);

/// One calm line for wherever boxes are listed.
inline constexpr const char* box_caution =
    "electrical boxes are a first-order layout to count, seal and block for: a licensed electrician and the "
    "local "
    "code decide";

}  // namespace warmside::assembly
