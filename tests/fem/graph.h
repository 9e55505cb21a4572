// All edges of a model as one planar graph: split where they meet, cut to pieces fit for a mesh.
#pragma once

#include <array>
#include <vector>

#include "conduction/model.h"

namespace warmside::fem {

struct Graph {
    std::vector<std::array<double, 2>> node;  ///< m
    std::vector<std::array<std::size_t, 2>> edge;
};

/// How long pieces may be, m.
struct Sizes {
    double corner = 5e-4;  ///< at a corner of any outline
    double growth = 0.3;   ///< more per distance from it
    double most = 0.05;
};

/// Edges of all outlines and of the box around them, crossing nowhere but in nodes, in pieces.
[[nodiscard]] Graph graph_of(const conduction::Model& model, const Sizes& sizes);

/// The places along an axis (0 x, 1 y, 2 z) where something begins or ends, with more between them by the
/// same rule. For x and y of models whose edges follow the axes.
[[nodiscard]] std::vector<double> levels_of(const conduction::Model& model, const Sizes& sizes, int axis);

/// Whether every edge of every outline follows x or y.
[[nodiscard]] bool follows_axes(const conduction::Model& model);

}  // namespace warmside::fem
