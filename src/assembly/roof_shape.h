// The surface of a roof over an outline with right angles: its planes, ridges, hips and valleys.
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "assembly/geometry.h"

namespace warmside::assembly {

/// Sides in the order of the compass as an outline runs: south, east, north, west.
enum class Side { south, east, north, west };
[[nodiscard]] const char* name_of(Side side);
[[nodiscard]] Side opposite(Side side);
/// Runs from west to east: the south and the north side.
[[nodiscard]] bool runs_east_west(Side side);
/// Side that a roof of this form drains to where it has one only: opposite of the high side of a shed; of a
/// flat roof the south or west one, so that it spans the short way.
[[nodiscard]] Side low_side(const Roof& roof, const Rectangle& around);

/// Main body of a roof or a wing of it. Plan, m.
struct RoofBody {
    double west = 0.0, east = 0.0, south = 0.0, north = 0.0;  ///< its own part of the outline
    bool ridge_east_west = true;
    int parent = -1;         ///< index of the body whose eave side it stands at; -1: the main body
    Side tip = Side::south;  ///< where a wing's end looks to; of the main body the lower of both
    [[nodiscard]] double span() const { return ridge_east_west ? north - south : east - west; }
    [[nodiscard]] double middle() const { return ridge_east_west ? (north + south) / 2 : (east + west) / 2; }
};

/// What bounds a plane.
enum class RoofEdge {
    eave,   ///< the plane begins there, on its own line
    verge,  ///< the outline's edge elsewhere: rake of a gable, top of a shed
    ridge,
    hip,
    valley
};

/// A strip of a plane between two places along its eave; the level distance from the eave's line grows or
/// shrinks evenly between them. m.
struct RoofStrip {
    double from = 0.0, to = 0.0;  ///< on the axis that the eave runs along: x or y of the house
    double low_from = 0.0, low_to = 0.0, high_from = 0.0, high_to = 0.0;
    RoofEdge low = RoofEdge::eave, high = RoofEdge::ridge;
    [[nodiscard]] double low_at(double at) const { return low_from + (low_to - low_from) * share(at); }
    [[nodiscard]] double high_at(double at) const { return high_from + (high_to - high_from) * share(at); }
    [[nodiscard]] double area() const;    ///< m2 in plan
    [[nodiscard]] double moment() const;  ///< m3: integral of the level distance over the plan
private:
    [[nodiscard]] double share(double at) const { return (at - from) / (to - from); }
};

/// One connected plane that falls towards `side`.
struct RoofPlane {
    Side side = Side::south;
    double line = 0.0;  ///< m, of its eave, on the axis across it
    std::vector<RoofStrip> strips;
    [[nodiscard]] double from() const;
    [[nodiscard]] double to() const;
    [[nodiscard]] double area() const;  ///< m2 in plan
};

struct RoofPoint {
    double x = 0.0, y = 0.0, level = 0.0;  ///< m; level: height / tan(pitch)
};
/// A ridge, hip or valley, from its lower end.
struct RoofLine {
    RoofEdge kind = RoofEdge::ridge;
    RoofPoint from, to;
};

/// Equal pitch all over. Everything level: heights are level x tan(pitch).
///
///   hip    level(p) = greatest half side of a square around p within the outline: the straight skeleton of
///   an
///          outline with right angles, and the upper envelope of the hip roofs over all its greatest
///          rectangles
///   gable  a main body and wings, each a rectangle with its ridge at right angles to that of the body whose
///          eave it stands at and no wider than it; a wing runs on to that body's ridge; level(p) = the
///          highest
///   shed   one plane from the lowest edge of the outline
struct RoofShape {
    std::vector<RoofPlane> planes;
    std::vector<RoofLine> lines;
    std::vector<RoofBody>
        bodies;           ///< the main body first, parents before wings; of a hip where it divides so
    bool turned = false;  ///< a gable whose main ridge runs the other way than asked: only so it divides
    double plan = 0.0;    ///< m2
    double most = 0.0;    ///< m, the highest level
    double moment = 0.0;  ///< m3, integral of the level over the plan: volume = moment tan(pitch)

    /// Level over a point of the outline or in it, m.
    [[nodiscard]] double level(double x, double y) const;
    /// Integral of the level along a stretch of an edge of the outline, m2: wall above the plate /
    /// tan(pitch).
    [[nodiscard]] double along(const Point& a, const Point& b) const;

    /// A rectangle and which of its sides the roof rises from: parts of the envelope.
    struct Part {
        double west = 0.0, east = 0.0, south = 0.0, north = 0.0;  ///< where it reaches
        std::array<bool, 4> rises{};                              ///< by Side
        std::array<double, 4> line{};                             ///< of the eaves, by Side
    };
    std::vector<Part> parts;
    std::vector<double> x_breaks, y_breaks;  ///< between which everything changes evenly
};

/// Nothing where an edge does not run along an axis, the outline has more than 24 corners, or a gable divides
/// into no main body and wings.
/// Source: elementary geometry; straight skeleton: Aichholzer and others 1995 (memory). Check:
/// roof_shape_test.cpp by hand, and random outlines against the distance to the outline.
[[nodiscard]] std::optional<RoofShape> roof_shape(const std::vector<Point>& outline, const Roof& roof);

}  // namespace warmside::assembly
