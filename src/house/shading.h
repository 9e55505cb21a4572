// What stands out from a wall and shades a window in it: overhangs, side fins, eaves and rakes of roofs.
#pragma once

#include <array>
#include <span>
#include <string_view>
#include <vector>

#include "assembly/assembly.h"
#include "climate/year.h"

namespace warmside::house {

/// m, seen from outside, from the lower left corner of the window's glass plane: right, up, outward.
using Spot = std::array<double, 3>;

/// A flat convex sheet that lets no sun through: its corners in order, none behind the wall.
struct Screen {
    std::vector<Spot> corners;
};

/// Window of width x height, from (0, 0) to (width, height).
struct Frontage {
    double width = 0.0, height = 0.0;  ///< m
};

/// Level sheet above the window: `above` its head, `depth` out, `left` and `right` beyond its jambs. m
[[nodiscard]] Screen overhang(const Frontage& window, double above, double depth, double left, double right);
/// Upright sheet beside the window, `beside` its jamb, `below` its sill to `above` its head. m
[[nodiscard]] Screen left_fin(const Frontage& window, double beside, double depth, double below,
                              double above);
[[nodiscard]] Screen right_fin(const Frontage& window, double beside, double depth, double below,
                               double above);

/// Towards the sun in the window's axes, unit length.
///
///   x = -sin(A - A_wall) cos h,  y = sin h,  z = cos(A - A_wall) cos h       upright planes
///
/// azimuth, elevation  rad, of the sun
[[nodiscard]] Spot toward(double azimuth, double elevation, double wall_azimuth);

/// Share of a window in the sun's beam, 0 to 1; 0 with the sun behind the wall. Exact: each screen's shadow
/// is a convex polygon on the wall; their union inside the window by inclusion and exclusion.
///
/// screens  eight at most, more are not counted
/// Check    shading_test: geometry by hand, rays
[[nodiscard]] double sunlit(const Frontage& window, std::span<const Screen> screens, const Spot& sun);

/// Light that comes evenly from the sky (above) and from the ground (below): what of it reaches the window
/// past black screens, over what would without them. By midpoints of `sunlit` over the directions, weighted
/// by the cosine: within 0.002.
struct SeenShares {
    double sky = 1.0, ground = 1.0;
};
[[nodiscard]] SeenShares seen(const Frontage& window, std::span<const Screen> screens);

/// Screens that the roofs above make for a window: eaves along the face, rakes over gables and at the ends of
/// a shed, as far as `overhang` of the roof goes out and as long as the face with the overhang at both ends.
/// The roof's plane passes through the top of the highest storey's wall; its thickness and the gutter are
/// left out. A roof whose storey is below the window's shades it not.
[[nodiscard]] std::vector<Screen> roof_screens(const assembly::House& house, const assembly::Face& face,
                                               const assembly::Opening& opening);

}  // namespace warmside::house
