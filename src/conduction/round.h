// One grid with its solutions, and what is told of it.
#pragma once

#include <memory>

#include "conduction/balance.h"
#include "conduction/bracket.h"

namespace warmside::conduction {

struct Round {
    System system;
    std::unique_ptr<Field> field;
    std::unique_ptr<Multigrid> multigrid;
    std::vector<std::vector<double>> x, t;  ///< [problem] by cell, by node
    std::vector<Fluxes> flux, sent;         ///< [problem] balanced; what balancing added
    Bracket bracket;
};

/// W/K, couplings below it are rounding: 1e-14 of all conductances to the air.
[[nodiscard]] double rounding(const System& system);

/// The field of an earlier round at the centres of the cells of another grid.
[[nodiscard]] std::vector<double> guess(const Round& old, std::size_t problem, const System& system);

/// What temperatures are read from: grid, weights, nodes.
[[nodiscard]] Steady view_of(const Round& round);

/// The same with couplings, flows, surfaces. `error` is the half width of the bracket.
[[nodiscard]] Steady outcome_of(const Model& model, const Round& round, double error);

}  // namespace warmside::conduction
