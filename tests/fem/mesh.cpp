#include "mesh.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <optional>

namespace warmside::fem {

namespace {

using Place = std::array<double, 3>;

bool inside(const conduction::Shape& shape, const Place& p, bool solid) {
    if (solid && (p[2] < shape.bottom || p[2] > shape.top)) return false;
    bool in = false;
    const auto& o = shape.outline;
    for (std::size_t i = 0, j = o.size() - 1; i < o.size(); j = i++) {
        if ((o[i].y > p[1]) == (o[j].y > p[1])) continue;
        if (p[0] < o[i].x + (p[1] - o[i].y) * (o[j].x - o[i].x) / (o[j].y - o[i].y)) in = !in;
    }
    return in;
}

// The region that lies on top: later ones lie over earlier ones.
std::optional<std::size_t> region_at(const conduction::Model& model, const Place& p, bool solid) {
    for (std::size_t r = model.regions.size(); r-- > 0;)
        if (inside(model.regions[r].shape, p, solid)) return r;
    return {};
}

double volume(const Mesh& mesh, const std::array<std::size_t, 4>& e) {
    const auto& o = mesh.node[e[0]];
    std::array<Place, 3> d{};
    for (std::size_t k = 0; k < 3; ++k)
        for (std::size_t a = 0; a < 3; ++a) d[k][a] = mesh.node[e[k + 1]][a] - o[a];
    return d[0][0] * (d[1][1] * d[2][2] - d[1][2] * d[2][1]) -
           d[0][1] * (d[1][0] * d[2][2] - d[1][2] * d[2][0]) +
           d[0][2] * (d[1][0] * d[2][1] - d[1][1] * d[2][0]);
}

using Face = std::array<std::size_t, 3>;

std::vector<Face> faces_of(const std::array<std::size_t, 4>& e, bool solid) {
    std::vector<Face> faces;
    if (solid)
        faces = {{e[0], e[1], e[2]}, {e[0], e[1], e[3]}, {e[0], e[2], e[3]}, {e[1], e[2], e[3]}};
    else
        faces = {{e[0], e[1], 0}, {e[1], e[2], 0}, {e[0], e[2], 0}};
    for (Face& f : faces) std::sort(f.begin(), solid ? f.end() : f.begin() + 2);
    return faces;
}

std::size_t film_index(Mesh& mesh, const conduction::Region& material, const conduction::Region& air) {
    const double resistance = material.own_film.value_or(air.film);
    for (std::size_t k = 0; k < mesh.film.size(); ++k)
        if (mesh.film[k].environment == *air.environment && mesh.film[k].resistance == resistance) return k;
    mesh.film.push_back({*air.environment, resistance});
    return mesh.film.size() - 1;
}

}  // namespace

Mesh read_triangles(const std::string& path) {
    Mesh mesh;
    std::ifstream file(path);
    std::size_t nodes = 0, triangles = 0, edges = 0;
    int label = 0;
    file >> nodes >> triangles >> edges;
    mesh.node.resize(nodes);
    for (auto& p : mesh.node) file >> p[0] >> p[1] >> label;
    mesh.element.resize(triangles);
    for (auto& e : mesh.element) {
        file >> e[0] >> e[1] >> e[2] >> label;
        for (std::size_t k = 0; k < 3; ++k) --e[k];
    }
    return mesh;
}

Mesh cut_rectangles(const std::vector<double>& x, const std::vector<double>& y) {
    Mesh mesh;
    for (const double v : y)
        for (const double u : x) mesh.node.push_back({u, v, 0.0});
    for (std::size_t j = 0; j + 1 < y.size(); ++j) {
        for (std::size_t i = 0; i + 1 < x.size(); ++i) {
            const std::size_t a = i + x.size() * j, b = a + x.size();
            mesh.element.push_back({a, a + 1, b + 1, 0});
            mesh.element.push_back({a, b + 1, b, 0});
        }
    }
    return mesh;
}

// Each prism becomes three tetrahedra, cut from its lowest-numbered corners so that neighbours agree.
Mesh pulled(const Mesh& triangles, const std::vector<double>& levels) {
    Mesh mesh;
    mesh.solid = true;
    const std::size_t plane = triangles.node.size();
    for (const double z : levels)
        for (const auto& p : triangles.node) mesh.node.push_back({p[0], p[1], z});
    for (std::size_t k = 0; k + 1 < levels.size(); ++k) {
        for (auto t : triangles.element) {
            std::sort(t.begin(), t.begin() + 3);
            const std::size_t low = k * plane, high = low + plane;
            mesh.element.push_back({low + t[0], low + t[1], low + t[2], high + t[2]});
            mesh.element.push_back({low + t[0], low + t[1], high + t[1], high + t[2]});
            mesh.element.push_back({low + t[0], high + t[0], high + t[1], high + t[2]});
        }
    }
    return mesh;
}

Mesh material_of(const conduction::Model& model, Mesh mesh) {
    const std::size_t corners = mesh.solid ? 4 : 3;
    std::vector<std::optional<std::size_t>> region;
    std::map<Face, std::vector<std::size_t>> beside;
    for (std::size_t i = 0; i < mesh.element.size(); ++i) {
        auto& e = mesh.element[i];
        if (mesh.solid && volume(mesh, e) < 0.0) std::swap(e[2], e[3]);
        Place centre{};
        for (std::size_t k = 0; k < corners; ++k)
            for (std::size_t a = 0; a < 3; ++a)
                centre[a] += mesh.node[e[k]][a] / static_cast<double>(corners);
        region.push_back(region_at(model, centre, mesh.solid));
        for (const Face& f : faces_of(e, mesh.solid)) beside[f].push_back(i);
    }
    const auto is_air = [&](std::size_t i) { return region[i] && model.regions[*region[i]].environment; };
    const auto is_material = [&](std::size_t i) {
        return region[i] && !model.regions[*region[i]].environment;
    };
    for (const auto& [face, sides] : beside) {
        if (sides.size() != 2) continue;
        for (const auto& [a, b] : {std::pair{sides[0], sides[1]}, std::pair{sides[1], sides[0]}}) {
            if (!is_material(a) || !is_air(b)) continue;
            mesh.face.push_back(face);
            mesh.film_of.push_back(film_index(mesh, model.regions[*region[a]], model.regions[*region[b]]));
        }
    }
    // Only material stays, and only its nodes.
    std::vector<std::size_t> renamed(mesh.node.size(), 0);
    Mesh out;
    out.solid = mesh.solid;
    out.film = mesh.film;
    out.film_of = mesh.film_of;
    const auto name = [&](std::size_t n) {
        if (renamed[n] == 0) {
            out.node.push_back(mesh.node[n]);
            renamed[n] = out.node.size();
        }
        return renamed[n] - 1;
    };
    for (std::size_t i = 0; i < mesh.element.size(); ++i) {
        if (!is_material(i)) continue;
        auto e = mesh.element[i];
        for (std::size_t k = 0; k < corners; ++k) e[k] = name(e[k]);
        out.element.push_back(e);
        out.region.push_back(*region[i]);
    }
    for (Face f : mesh.face) {
        for (std::size_t k = 0; k + 1 < corners; ++k) f[k] = name(f[k]);
        out.face.push_back(f);
    }
    return out;
}

void write(const Mesh& mesh, const std::string& path) {
    std::ofstream file(path);
    if (!mesh.solid) {
        file << fmt::format("{} {} {}\n", mesh.node.size(), mesh.element.size(), mesh.face.size());
        for (const auto& p : mesh.node) file << fmt::format("{:.12g} {:.12g} 0\n", p[0], p[1]);
        for (std::size_t i = 0; i < mesh.element.size(); ++i) {
            const auto& e = mesh.element[i];
            file << fmt::format("{} {} {} {}\n", e[0] + 1, e[1] + 1, e[2] + 1, mesh.region[i] + 1);
        }
        for (std::size_t i = 0; i < mesh.face.size(); ++i)
            file << fmt::format("{} {} {}\n", mesh.face[i][0] + 1, mesh.face[i][1] + 1, mesh.film_of[i] + 1);
        return;
    }
    file << fmt::format("MeshVersionFormatted 2\nDimension 3\nVertices\n{}\n", mesh.node.size());
    for (const auto& p : mesh.node) file << fmt::format("{:.12g} {:.12g} {:.12g} 0\n", p[0], p[1], p[2]);
    file << fmt::format("Tetrahedra\n{}\n", mesh.element.size());
    for (std::size_t i = 0; i < mesh.element.size(); ++i) {
        const auto& e = mesh.element[i];
        file << fmt::format("{} {} {} {} {}\n", e[0] + 1, e[1] + 1, e[2] + 1, e[3] + 1, mesh.region[i] + 1);
    }
    file << fmt::format("Triangles\n{}\n", mesh.face.size());
    for (std::size_t i = 0; i < mesh.face.size(); ++i)
        file << fmt::format("{} {} {} {}\n", mesh.face[i][0] + 1, mesh.face[i][1] + 1, mesh.face[i][2] + 1,
                            mesh.film_of[i] + 1);
    file << "End\n";
}

}  // namespace warmside::fem
