// What a steady conduction problem is made of: regions of material and of air, in two or three dimensions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"

namespace warmside::conduction {

/// m. In two dimensions z is left out; on an axis of revolution x is the radius.
struct Point {
    double x = 0.0, y = 0.0, z = 0.0;
};

/// A polygon in the x-y plane, either way round, pulled along z. Edges that are not parallel to an axis are
/// taken as they are (cut cells), not as stairs.
struct Shape {
    std::vector<Point> outline;      ///< at least three corners; z of the corners is not read
    double bottom = 0.0, top = 1.0;  ///< m along z; not read in two dimensions
};
[[nodiscard]] Shape rectangle(Point low, Point high);  ///< x-y rectangle, whole z of a 2D model
[[nodiscard]] Shape box(Point low, Point high);

/// A temperature that faces material through surface films.
struct Environment {
    std::string name;
    double temperature = 293.15;  ///< K
};

/// A piece of material, or of air that belongs to an environment. Regions are laid down in order; a later one
/// takes the place of an earlier one where both are, which `over` must allow.
struct Region {
    std::string name;
    Shape shape;
    double conductivity = 0.0;               ///< W/(m K), of a material, > 0; not read for air
    std::optional<std::size_t> environment;  ///< set: this is air of that environment
    double film = 0.0;  ///< m2 K/W, air: on every surface it touches; 0: surface at air temperature
    std::optional<double> own_film;  ///< m2 K/W, material: replaces the air's film on this region's surface
    bool over = false;               ///< may lie over earlier regions
    Place where;                     ///< for problems
};

enum class Geometry {
    plane,         ///< 2D, flows per metre of z
    axisymmetric,  ///< 2D, x is the radius from the axis x = 0, flows of the whole revolution
    solid          ///< 3D
};

/// The domain is the box around all regions. Its outer faces and the faces of what no region covers are
/// adiabatic: a symmetry or cut plane is where the model ends.
struct Model {
    std::string name;
    Geometry geometry = Geometry::plane;
    std::vector<Region> regions;
    std::vector<Environment> environments;
    Place where;
};

/// All that makes a model senseless, each with its place: outlines of fewer than three corners or crossing
/// themselves, no extent, materials without conductivity, films below 0, an environment that is not there,
/// fewer than one environment or none that touches material, regions that lie over others without `over`,
/// holes that touch material (`open` detail) unless `allow_holes`, absurd aspect ratios (domain over the
/// thinnest feature above 1e6).
void check(const Model& model, Problems& problems, bool allow_holes = true);

}  // namespace warmside::conduction
