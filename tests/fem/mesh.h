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

/// The triangles that FreeFEM wrote (its .msh).
[[nodiscard]] Mesh read_triangles(const std::string& path);
/// Rectangles between lines, each cut in two: long thin ones beside edges cost less in a solid.
[[nodiscard]] Mesh cut_rectangles(const std::vector<double>& x, const std::vector<double>& y);
/// Tetrahedra: the triangles pulled along z.
[[nodiscard]] Mesh pulled(const Mesh& triangles, const std::vector<double>& levels);
/// Gives each element the last region that holds its centre, keeps what is material, and finds the films.
[[nodiscard]] Mesh material_of(const conduction::Model& model, Mesh mesh);
/// As FreeFEM reads it: .msh in the plane, .mesh for a solid. Elements are labelled by region, faces by film,
/// both from 1.
void write(const Mesh& mesh, const std::string& path);

}  // namespace warmside::fem
