// The stage of junctions: every wall rung's, solved over all cores, and what they make of its R.
#pragma once

#include "answer/answer.h"
#include "answer/stage.h"

namespace warmside::answer {

/// One wall rung's junctions, as kept by key.
struct RungJunctions {
    std::vector<thermal::Junction> list;
    double area = 0.0;  ///< m2
    std::vector<std::string> notes;
};

/// Fills junctions, built R and the last treads of the stair of every rung of the wall's ladder. Where they
/// cannot be had, `built_absent` says why.
///
/// Problem  stopped
[[nodiscard]] Result<void> add_junctions(const assembly::House& house, std::vector<LadderAnswer>& ladders,
                                         const thermal::Conditions& conditions, Stage<RungJunctions>& kept,
                                         const Control& control);

}  // namespace warmside::answer
