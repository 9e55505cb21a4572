// What carries one opening among a wall's placed members.
#pragma once

#include <array>
#include <vector>

#include "framing/frame.h"

namespace warmside::framing {

/// Openings one above the other share jambs and a header: those of the highest of them.
struct AroundOpening {
    int governing = -1;                   ///< index of the opening that header and jambs are counted to
    std::vector<const Member*> plies;     ///< of the header; empty where none is placed
    std::array<int, 2> kings{}, jacks{};  ///< left, right
    std::array<int, 2>
        jambs{};               ///< uprights at the opening's own sides: kings and jacks, or a stud of its own
    Exact clear;               ///< between the jambs, what the header spans
    bool at_rim = false;       ///< the header lies over the plates
    bool cripples_on = false;  ///< on the header; those between it and an opening's head do not count
};

/// `opening` is its index in `face`, which `panel` is built of. `layer`: of the frame that carries, where
/// there are several, each with uprights of its own; -1: all.
[[nodiscard]] AroundOpening around_opening(const Panel& panel, const assembly::Face& face, int opening,
                                           int layer = -1);

}  // namespace warmside::framing
