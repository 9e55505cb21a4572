// From an assembly, a path through it and its weather to a column of the solver.
#pragma once

#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "moisture/column.h"
#include "moisture/potential.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

inline constexpr double stefan_boltzmann = 5.670374419e-8;  ///< W/(m2 K4)
/// Lewis: vapour over heat of a film, beta = h_c/(rho c_p R_v T) at 283 K.
inline constexpr double vapour_per_heat = 1.0 / (cavity_air_density * air_heat * vapour_constant * 283.15);

/// Tables made once and shared by all columns of a call.
class Shelf {
public:
    [[nodiscard]] std::shared_ptr<const Substance> of(const material::Material* material);
    [[nodiscard]] std::shared_ptr<const Substance> air();
    [[nodiscard]] std::shared_ptr<const Substance> film();
    [[nodiscard]] std::shared_ptr<const numerics::Tables> resistance(
        const std::vector<const material::Membrane*>& membranes, double fixed);

private:
    std::map<const material::Material*, std::shared_ptr<const Substance>> materials_;
    std::map<std::pair<std::vector<const material::Membrane*>, double>,
             std::shared_ptr<const numerics::Tables>>
        skins_;
    std::shared_ptr<const Substance> air_, film_;
};

/// A place whose history is kept.
struct Spot {
    std::size_t node = 0;
    std::size_t layer = 0;
    std::string name;
    bool sensitive = false;
};

/// Nodes of one layer that is made of a material.
struct Span {
    std::size_t layer = 0, first = 0, last = 0;
    double area = 1.0;  ///< m2 per m2 of the assembly; not 1 only beyond its outer face
};

struct Built {
    /// A cavity that wind and buoyancy ventilate.
    struct Vent {
        std::size_t node = 0;
        double thickness = 0.0;    ///< m
        std::string words;         ///< its openings
        std::size_t exchange = 0;  ///< index into Column::exchanges
        std::string title = {};    ///< empty: a ventilated cavity
    };
    Column column;
    std::vector<Vent> vents;
    std::vector<Spot> spots;
    std::vector<Span> spans;
    std::vector<Span> cuts;  ///< of each material segment, in order
    std::vector<std::string> notes;
    double thickness = 0.0;               ///< m, of the assembly
    std::vector<assembly::Layer> beyond;  ///< see History
    double space = 0.0;                   ///< m
    bool sheltered = false;
};

/// Rules that are not in the assembly (paths, cavities, leak, mesh) are stated in docs/methods/moisture.md.
/// Problem  unsupported: no material layer, missing weather, a layer that the method does not know
[[nodiscard]] Result<Built> build(const Run& run, const Options& options, Shelf& shelf);
/// Those of several runs, with tables of their own.
[[nodiscard]] Result<std::vector<Built>> build_all(std::span<const Run> runs, const Options& options);

}  // namespace warmside::moisture
