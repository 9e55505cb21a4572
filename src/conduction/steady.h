// Steady conduction through a model: flows, coupling coefficients, temperature factors, with an error bound.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "base/stop.h"
#include "conduction/grid.h"
#include "conduction/model.h"

namespace warmside::conduction {

struct SteadyOptions {
    double tolerance = 1e-3;     ///< relative, of the coupling coefficients
    std::size_t most_cells = 0;  ///< 0: what fits a quarter of the memory of the machine
    unsigned threads = 0;        ///< 0: one a core
    double finest = 0.0;         ///< m, no cell is split below it; 0: a thousandth of the thinnest feature
    /// Points whose temperature is wanted as well as the flows: the grid is made finer there too.
    std::vector<Point> sharp;
};

/// The lowest and highest temperature on the surfaces of one environment, for the model's temperatures.
struct SurfaceExtreme {
    double lowest = 0.0, highest = 0.0;  ///< K
    Point lowest_at, highest_at;
};

/// A piece of surface between a material and the air of an environment, within one cell.
struct Patch {
    std::size_t cell = 0;      ///< the material's
    std::uint16_t region = 0;  ///< the material
    std::uint16_t air = 0;     ///< region of the air
    std::uint16_t environment = 0;
    std::uint8_t side = 0;      ///< face of the cell: 0 low x, 1 high x, 2 low y ... 5 high z; 6 slope within
    double area = 0.0;          ///< m2 (plane: m)
    double film = 0.0;          ///< m2 K/W
    double conductance = 0.0;   ///< W/K, cell to air
    std::array<Point, 4> at{};  ///< ends of the piece: two in two dimensions, four in three
};

/// Part of a cell that a sloped edge crosses.
struct CutTriangle {
    std::size_t cell = 0;                 ///< i + nx j
    std::array<std::uint32_t, 3> node{};  ///< of a level
};

struct Steady {
    Grid grid;
    std::vector<std::uint16_t>
        region;  ///< [cell] index into Model::regions of the largest part; no_region outside
    /// Temperature weights g of ISO 10211 [environment][cell]: T = sum g_k T_k, sum g_k = 1. Zero outside
    /// material.
    std::vector<std::vector<double>> weight;
    /// The same weights at the nodes of the continuous field of the bracket [environment][node]: corner (i,
    /// j, k) of the cells at i + (nx + 1) j + stride k (k = 0 in two dimensions), then in each level the
    /// nodes that cutting adds. All 0 where no material meets.
    std::vector<std::vector<double>> corner;
    std::size_t stride = 0;             ///< nodes of one level
    std::vector<Point> node;            ///< x and y of those beyond the corners
    std::vector<CutTriangle> triangle;  ///< by ascending cell: in a cut cell the field is linear in each
    std::vector<Patch> patches;         ///< all surfaces
    /// W/K (2D plane: W/(m K)), row-major [i][j], symmetric, diagonal 0: heat from i to j is L_ij (T_i -
    /// T_j).
    std::vector<double> coupling;
    /// Half width of the bracket on each coupling, relative to the largest coupling: by the hypercircle
    /// theorem (Prager and Synge 1947) where no cell is cut, else the same formula as an estimate.
    double error = 0.0;
    bool bound = false;  ///< error is a bound, not an estimate
    std::vector<double>
        flow;  ///< W (W/m) that leaves each environment into the material, at the model's temperatures
    double imbalance = 0.0;               ///< |sum of flow| over the largest |flow|
    std::vector<SurfaceExtreme> surface;  ///< [environment]
    std::size_t rounds = 0, iterations = 0;

    [[nodiscard]] double between(std::size_t i, std::size_t j) const;  ///< L_ij
    /// K at a cell's centre, for the given environment temperatures; not a number outside material and in
    /// material that no environment reaches.
    [[nodiscard]] double temperature(std::size_t cell, std::span<const double> environments) const;
};

/// Solves one unit problem for each environment but one (superposition), on grids that are split where the
/// bracket between the complementary energies is widest, until its half width is below the tolerance.
///
/// Deterministic: the same bits whatever the number of threads.
/// Problem  those of check(); out_of_range: more cells than allowed before the tolerance is met (says which
/// error was
///          reached); not_converged: the linear solver; stopped
/// Source   ISO 10211:2017 (method, evidence: memory); finite volumes with harmonic interface conductances
/// Check    proof/conduction/*.toml, steady_test.cpp
[[nodiscard]] Result<Steady> steady(const Model& model, const SteadyOptions& options = {},
                                    const Control& control = {});

/// Temperature at a point of material or of its surface, K, by interpolation within its own region (films
/// included, so that a point on a surface gets the surface temperature).
/// Problem  out_of_range: the point is not in or on a material
[[nodiscard]] Result<double> temperature_at(const Model& model, const Steady& solution, const Point& point,
                                            std::span<const double> environments);

/// Weights g of each environment at a point, as temperature_at.
[[nodiscard]] Result<std::vector<double>> weights_at(const Model& model, const Steady& solution,
                                                     const Point& point);

/// The coldest and warmest place of each environment's surfaces, for the model's temperatures; lowest above
/// highest where an environment touches nothing.
[[nodiscard]] std::vector<SurfaceExtreme> surface_extremes(const Model& model, const Steady& solution);

/// The lowest temperature factor on surfaces that `inside` touches, of the named regions only when given
/// (indices into Model::regions): f = (T_s - T_outside)/(T_inside - T_outside) with all
/// other environments at T_outside: the weight of `inside`.
struct SurfaceFactor {
    double factor = 1.0;
    Point at;
    std::size_t region = 0;
};
[[nodiscard]] SurfaceFactor lowest_factor(const Model& model, const Steady& solution, std::size_t inside,
                                          std::span<const std::size_t> regions = {});

/// Heat flux density in a cell, W/m2, for the given environment temperatures (mean of its faces).
[[nodiscard]] Point flux(const Model& model, const Steady& solution, std::size_t cell,
                         std::span<const double> environments);

}  // namespace warmside::conduction
