// What the crew does, by operation: how many studs, metres of tape, square metres of wool.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "framing/frame.h"

namespace warmside::takeoff {

/// One operation and how much of it there is.
struct Work {
    std::string operation;  ///< key of the price book's [labour]
    std::string words;      ///< "set studs, kings, jacks, cripples and corners"
    double quantity = 0.0;
    std::string unit;  ///< m, m2, m3, piece
};

/// Every operation that `frame` asks for, in the order of the building site; none twice, none at zero.
///
/// Members count from their panels. Areas of layers are those of areas.h, as in the order. Shares of
/// operations that every rung has alike (services, windows themselves) are not in it.
[[nodiscard]] std::vector<Work> work_of(const assembly::House& house, const framing::Frame& frame);

/// Every operation that work_of can ask for, with its unit.
struct Operation {
    std::string_view key, words, unit;
};
[[nodiscard]] const std::vector<Operation>& operations();

}  // namespace warmside::takeoff
