#include "conduction_problem.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <functional>

namespace warmside::bench_support {

namespace {

using Cell = std::array<std::size_t, 3>;

constexpr double insulation = 0.035, wood = 0.12, metal = 35.0;  // W/(m K)

std::uint64_t scrambled(std::uint64_t x) {  // splitmix64: the same blocks on every machine
    x += 0x9e3779b97f4a7c15U;
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9U;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebU;
    return x ^ (x >> 31);
}

std::vector<double> widths(std::size_t n, double stretch) {
    std::vector<double> w(n);
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        const double from_middle =
            std::abs((2.0 * static_cast<double>(i) + 1.0) / static_cast<double>(n) - 1.0);
        sum += w[i] = std::pow(stretch, from_middle);
    }
    for (double& v : w) v /= sum;
    return w;
}

// Which block a cell belongs to, along one axis.
std::vector<std::uint64_t> blocks(std::size_t n, std::uint64_t seed) {
    std::vector<std::uint64_t> block(n);
    std::uint64_t at = 0;
    for (std::size_t i = 0; i < n; ++at)
        for (std::size_t last = i + 3 + scrambled(seed + at) % 15; i < last && i < n; ++i) block[i] = at;
    return block;
}

double in_wall(const Cell& c, const Cell& n) {
    const std::size_t sheet = n[1] / 2;
    if (c[1] == sheet || c[1] == sheet + 1) return metal;
    if (c[0] == n[0] / 3 && c[2] == n[2] / 2) return metal;
    const auto share = [&](std::size_t a) {
        return (static_cast<double>(c[a]) + 0.5) / static_cast<double>(n[a]);
    };
    if (std::fmod(5.0 * share(0), 1.0) < 0.1) return wood;
    if (n[2] > 1 && share(1) > 0.8 && share(1) < 0.9 && std::fmod(5.0 * share(2), 1.0) < 0.1) return wood;
    return insulation;
}

double in_fins(const Cell& c, const Cell& n) {
    const bool reaches = c[1] > n[1] / 10 && c[1] < n[1] - n[1] / 10;
    const std::size_t apart = n[0] / 12 + 1;
    const bool along_z = c[0] % apart == apart / 2;
    const bool along_x = n[2] > 1 && c[1] > n[1] / 2 && c[2] % apart == apart / 2;
    return reaches && (along_z || along_x) ? metal : insulation;
}

std::function<double(const Cell&)> conductivity_of(Scene scene, const Cell& n) {
    switch (scene) {
        case Scene::wall: return [n](const Cell& c) { return in_wall(c, n); };
        case Scene::fins: return [n](const Cell& c) { return in_fins(c, n); };
        case Scene::corner:
            return [n](const Cell& c) {
                const bool outside = c[0] >= n[0] / 2 && c[1] < n[1] / 3;
                return outside ? 0.0 : in_wall(c, n);
            };
        case Scene::checkerboard: break;
    }
    std::array<std::vector<std::uint64_t>, 3> block;
    for (std::size_t a = 0; a < 3; ++a) block[a] = blocks(n[a], 1000 * (a + 1));
    return [block](const Cell& c) {
        const auto key = block[0][c[0]] + 4096 * (block[1][c[1]] + 4096 * block[2][c[2]]);
        return std::array{insulation, wood, metal}[scrambled(key) % 3];
    };
}

}  // namespace

std::string_view name_of(Scene scene) {
    switch (scene) {
        case Scene::wall: return "wall";
        case Scene::checkerboard: return "checkerboard";
        case Scene::fins: return "fins";
        case Scene::corner: return "corner";
    }
    return {};
}

Linear build(Scene scene, int dimensions, std::size_t side, double stretch) {
    Linear out;
    conduction::Stencil& s = out.stencil;
    const Cell n{side, side, dimensions == 3 ? side : 1};
    s.nx = n[0], s.ny = n[1], s.nz = n[2];
    for (std::size_t a = 0; a < 3; ++a) {
        s.width[a] = n[a] > 1 ? widths(n[a], stretch) : std::vector<double>{1.0};
        s.keep[a].assign(n[a] + 1, false);
    }
    const auto conductivity = conductivity_of(scene, n);
    const std::size_t cells = s.cells(), row = s.nx, plane = s.nx * s.ny;
    std::vector<float> k(cells);
    Cell c{};
    const auto each_cell = [&](const auto& visit) {
        std::size_t index = 0;
        for (c[2] = 0; c[2] < n[2]; ++c[2])
            for (c[1] = 0; c[1] < n[1]; ++c[1])
                for (c[0] = 0; c[0] < n[0]; ++c[0], ++index) visit(index);
    };
    each_cell([&](std::size_t i) { k[i] = static_cast<float>(conductivity(c)); });
    s.east.assign(cells, 0.0F);
    s.north.assign(cells, 0.0F);
    if (s.nz > 1) s.up.assign(cells, 0.0F);
    s.ground.assign(cells, 0.0F);
    out.right.assign(cells, 0.0);
    const auto face = [&](std::size_t a) {
        return s.width[(a + 1) % 3][c[(a + 1) % 3]] * s.width[(a + 2) % 3][c[(a + 2) % 3]];
    };
    const auto between = [&](std::size_t i, std::size_t a, std::size_t stride) {
        if (c[a] + 1 == n[a]) return 0.0F;
        const double here = static_cast<double>(k[i]), there = static_cast<double>(k[i + stride]);
        if (here != there) s.keep[a][c[a] + 1] = true;
        if (here == 0.0 || there == 0.0) return 0.0F;
        const double resistance = 0.5 * s.width[a][c[a]] / here + 0.5 * s.width[a][c[a] + 1] / there;
        return static_cast<float>(face(a) / resistance);
    };
    const auto film = [&](std::size_t i, double resistance, double temperature) {
        if (k[i] == 0.0F) return;
        const double half = 0.5 * s.width[1][c[1]] / static_cast<double>(k[i]);
        const auto conductance = static_cast<float>(face(1) / (resistance + half));
        s.ground[i] += conductance;
        out.right[i] += static_cast<double>(conductance) * temperature;
    };
    each_cell([&](std::size_t i) {
        s.east[i] = between(i, 0, 1);
        s.north[i] = between(i, 1, row);
        if (s.nz > 1) s.up[i] = between(i, 2, plane);
        if (c[1] == 0) film(i, 0.13, 1.0);
        if (c[1] + 1 == n[1]) film(i, 0.04, 0.0);
    });
    return out;
}

double residual_of(const Linear& problem, const std::vector<double>& x) {
    std::vector<double> y(x.size());
    conduction::multiply(problem.stencil, x.data(), y.data());
    double rest = 0.0, whole = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        rest += (problem.right[i] - y[i]) * (problem.right[i] - y[i]);
        whole += problem.right[i] * problem.right[i];
    }
    return std::sqrt(rest / whole);
}

std::size_t bytes_given(const Linear& problem) {
    const conduction::Stencil& s = problem.stencil;
    return sizeof(float) * (s.east.size() + s.north.size() + s.up.size() + s.ground.size()) +
           2 * sizeof(double) * problem.right.size();
}

}  // namespace warmside::bench_support
