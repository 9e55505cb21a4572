// Do the members of a framed house carry their loads? First order: IRC tables and NDS, given loads only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/origin.h"
#include "framing/frame.h"

namespace warmside::structure {

enum class Outcome {
    passes,
    fails,
    needs_engineer,  ///< outside the method's range, ungraded lumber, no recognised grade: no number
    not_given,       ///< a load that the house file does not give
    reminder         ///< stated, not decided: bracing lengths, fire blocks
};
[[nodiscard]] const char* name_of(Outcome outcome);  ///< "passes", "needs an engineer"

struct Input {
    std::string name;    ///< "ground snow"
    double value = 0.0;  ///< SI
    std::string unit;
    Origin origin;
};

/// One finding. Numbers only where the outcome rests on them.
struct Finding {
    std::string subject;   ///< "stud", "header living room", "rafter", "screws through exterior insulation"
    std::string where;     ///< panel and marks, "ground south: H1"
    std::string rule;      ///< "stud as beam-column, axial and wind"
    std::string citation;  ///< "NDS 2018 3.9.2", "IRC 2021 Table R602.7(1)"
    Outcome outcome = Outcome::reminder;
    std::optional<double> ratio;  ///< demand over capacity; at most 1 passes
    std::optional<double> demand, capacity;
    std::string unit;    ///< of demand and capacity, SI
    std::string words;   ///< one sentence with the figures
    std::string change;  ///< what would pass; empty where it passes
    std::vector<Input> inputs;
};

struct Structure {
    std::vector<Finding> findings;  ///< worst of each kind first
    std::vector<std::string>
        cautions;  ///< the usual caution; what is not covered (anchorage, uplift, hold-downs, ...)
    [[nodiscard]] Outcome worst() const;
    [[nodiscard]] std::size_t count(Outcome outcome) const;
};

/// Every check that the given loads allow, for the house framed as `frame`.
///
/// Problem  missing (no members)
/// Source   IRC 2021, NDS 2018 with its Supplement, AWC TR12, ASCE 7-16 where given; each Finding cites its
/// own Check    proof/structure/*.toml
[[nodiscard]] Result<Structure> check(const assembly::House& house, const assembly::Assembly& wall,
                                      const framing::Frame& frame);

}  // namespace warmside::structure
