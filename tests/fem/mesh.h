// Triangles or tetrahedra of the material, and its film faces.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "conduction/model.h"

namespace warmside::fem {

struct Film {
    std::size_t environment = 0;
    double resistance = 0.0;  ///< m2 K/W
};

struct Mesh {
    std::vector<std::array<double, 3>> node;
    std::vector<std::array<std::size_t, 4>> element;  ///< a triangle leaves the last unused
    std::vector<std::size_t> region;                  ///< [element]
    std::vector<std::array<std::size_t, 3>> face;     ///< with film; an edge leaves the last unused
    std::vector<std::size_t> film_of;                 ///< [face] index into film
    std::vector<Film> film;
    bool solid = false;
};

/// Reads the triangles that FreeFEM wrote (its .msh), pulls them along `levels` for a solid, and keeps what
/// is material.
[[nodiscard]] Mesh material_mesh(const conduction::Model& model, const std::string& triangles,
                                 const std::vector<double>& levels);
/// As FreeFEM reads it: .msh in the plane, .mesh for a solid. Elements are labelled by region, faces by film,
/// both from 1.
void write(const Mesh& mesh, const std::string& path);

}  // namespace warmside::fem
