// Areas and volumes of the house, internal dimensions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::assembly {

/// Internal dimensions throughout (ISO 13789: measured between finished inside faces): outlines run along
/// the inside faces of the walls, wall heights from finished floor to ceiling. Junctions that are added to
/// these areas must use psi values for internal dimensions.
inline constexpr const char* dimension_note = "internal dimensions: inside faces of walls, floor to ceiling";

/// m between two corners in plan.
[[nodiscard]] double distance(const Point& a, const Point& b);

/// Which way a face looks, rad from north clockwise, 0 to 2 pi. Walking from `from` to `to` the house is on
/// the left.
[[nodiscard]] double azimuth(const Face& face);

/// m2, positive for a counter-clockwise outline, negative for a clockwise one (Gauss's area formula).
[[nodiscard]] double signed_area(const std::vector<Point>& outline);

struct Rectangle {
    Point low, high;  ///< south-west and north-east corner
};
/// The outline where it is a rectangle along the axes, else nothing.
[[nodiscard]] std::optional<Rectangle> rectangle_of(const std::vector<Point>& outline);

struct FaceArea {
    std::string face;
    double length = 0.0;    ///< m
    double azimuth = 0.0;   ///< rad
    double gross = 0.0;     ///< m2, length x height, without the gable
    double openings = 0.0;  ///< m2, rough openings
    double gable = 0.0;     ///< m2, wall above the plate that a gable or shed roof without an attic adds
    double net = 0.0;       ///< m2, gross + gable - openings
};

struct RoofArea {
    std::string roof;
    double plan = 0.0;  ///< m2, area of the outline under it
    double surface =
        0.0;            ///< m2, plan / cos(pitch), without overhangs: the insulated slope of a cathedral roof
    double rise = 0.0;  ///< m, plate to ridge; 0 where the roof has no shape (roof_shape.h)
    double gable = 0.0;   ///< m2, all walls above the plate together: triangles, the high wall of a shed
    double volume = 0.0;  ///< m3 between plate and roof
    bool attic = true;    ///< true: the volume is an unheated attic, the ceiling is the envelope
};

struct Areas {
    std::vector<FaceArea> faces;
    std::vector<RoofArea> roofs;
    double floor = 0.0;         ///< m2, all heated storeys
    double ground_floor = 0.0;  ///< m2, lowest heated storey's outline
    double ceiling = 0.0;       ///< m2, ceilings under attics
    double roof = 0.0;          ///< m2, sloped surfaces of roofs without an attic
    double walls_gross = 0.0, walls_net = 0.0, openings = 0.0;  ///< m2
    double volume = 0.0;                                        ///< m3, heated, cathedral spaces included
    double attic_volume = 0.0;                                  ///< m3, unheated
    Problems notes;  ///< warnings: what could not be computed and is left out
};

/// Volumes, gables and rise by the roof's shape (roof_shape.h). An outline that has none gets the sloped
/// surface (equal pitch all over) and a warning that triangles and volume are left out. Over a rectangle:
///
///   gable  rise = span/2 tan p    triangle = span rise / 2 each    volume = span rise / 2 x length
///   shed   rise = span tan p      two triangles span rise / 2, high wall rise x length, volume = plan rise /
///   2 hip    rise = short/2 tan p   no wall                          volume = rise short (3 long - short) /
///   6
///
/// Source: elementary geometry of prisms and pyramids; worked by hand in geometry_test.cpp.
[[nodiscard]] Areas areas(const House& house);

}  // namespace warmside::assembly
