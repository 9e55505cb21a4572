// Outlines of storeys as lengths: edges, turns, what lies over what.
#pragma once

#include <vector>

#include "assembly/assembly.h"

namespace warmside::thermal {

struct Edge {
    double x = 0.0, y = 0.0;    ///< m, start
    double dx = 0.0, dy = 0.0;  ///< unit vector, the house on the left
    double length = 0.0;        ///< m
};
[[nodiscard]] std::vector<Edge> edges_of(const assembly::Storey& storey);

/// m that two edges run along each other, the same way.
[[nodiscard]] double shared(const Edge& a, const Edge& b);
/// m of an edge that runs along any of the others.
[[nodiscard]] double shared(const Edge& a, const std::vector<Edge>& others);

struct Turns {
    int outer = 0, inner = 0;
    bool oblique = false;  ///< one of them is more than 5 degrees from square
};
[[nodiscard]] Turns turns_of(const std::vector<Edge>& outline);

}  // namespace warmside::thermal
