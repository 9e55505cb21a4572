// How the crew builds the places where assemblies meet: what [details] of a house file says.
#pragma once

#include <string>

#include "base/origin.h"

namespace warmside::assembly {

/// Where the window's frame stands in the depth of the wall.
enum class FramePlace {
    sheathing,  ///< outer face flush with the outer face of the sheathing
    middle,     ///< in the middle of the framing's depth
    inner       ///< inner face flush with the inner face of the framing
};
[[nodiscard]] const char* name_of(FramePlace place);  ///< "sheathing"

/// Where the header over an opening lies.
enum class HeaderPlace {
    wall,  ///< under the top plates
    rim    ///< over them, in the rim of the floor above, where one stands there
};
[[nodiscard]] const char* name_of(HeaderPlace place);  ///< "rim"

/// Lengths in m. A default carries the Origin `assumed`; a key of the house file replaces value and Origin.
struct Details {
    template <class T>
    [[nodiscard]] static Sourced<T> common(T value) {
        return {value, {Origin::Kind::assumed, {}, "common practice, no source", Evidence::practice}};
    }
    /// No figure was to be had; ours.
    template <class T>
    [[nodiscard]] static Sourced<T> ours(T value) {
        return {value, {Origin::Kind::assumed, {}, "assumed, no source", Evidence::none}};
    }

    Sourced<int> corner_studs = common(3);      ///< 2 or 3 at an outer corner; the third lies flat
    Sourced<double> member = common(0.0381);    ///< thickness of studs and plates
    Sourced<int> top_plates = common(2);        ///< on a wall
    Sourced<int> bottom_plates = common(1);     ///< under a wall
    Sourced<double> deck = common(0.01825625);  ///< subfloor, 23/32 in
    Sourced<double> joist = common(0.23495);    ///< depth, 2x10; only where the storeys do not give it
    Sourced<double> rim_board = common(0.0381);
    Sourced<bool> rim_insulated = common(true);  ///< behind the rim board, over the depth of the framing
    Sourced<double> heel = ours(0.3048);  ///< from the plate to the roof, over the outer face of the framing
    Sourced<double> vent_gap = ours(0.0254);  ///< clear under the roof deck at the eave (IRC R806: 1 in)
    Sourced<FramePlace> frame = common(FramePlace::sheathing);
    Sourced<double> frame_lap = common(0.0);  ///< exterior insulation over the frame
    Sourced<double> frame_depth = ours(0.080);
    Sourced<double> frame_width = ours(0.115);  ///< in view
    Sourced<double> frame_u = ours(1.0);        ///< W/(m2 K), between films of 0.13 and 0.04 m2 K/W
    Sourced<double> gap = ours(0.0127);         ///< between frame and rough opening, foamed or stuffed
    Sourced<int> jamb_studs = common(2);        ///< king and jack beside an opening
    Sourced<double> header = common(0.23495);   ///< height, 2x10
    Sourced<int> header_plies = common(2);      ///< at the outer side of the framing; the rest is insulated
    Sourced<HeaderPlace> header_place = common(HeaderPlace::wall);
    Sourced<double> buck = ours(0.01825625);       ///< plywood box through a wall of several frames
    Sourced<int> partitions = ours(0);             ///< inner walls that meet the outer walls, on each storey
    Sourced<bool> partition_stud = common(false);  ///< a backing stud, else a ladder of blocks
    Sourced<double> stem_wall = common(0.2032);  ///< foundation wall under slab edge or crawl space, concrete
    Sourced<double> edge_insulation = ours(0.0508);  ///< between slab and foundation wall
    Sourced<double> foundation_depth = ours(1.22);   ///< of that wall below grade, 4 ft
    Sourced<double> balcony = ours(0.0);             ///< length of ledgers on the house
    Sourced<double> ledger = common(0.23495);        ///< height, 2x10
    Origin origin;                                   ///< of the table
};

}  // namespace warmside::assembly
