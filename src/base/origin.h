// Where a number comes from. Inputs carry an Origin; results carry a Derivation on request (`why`).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace warmside {

/// How well a published value is known; design.md, "Decisions".
enum class Evidence {
    seen,      ///< read in the source
    quoted,    ///< read in another work that gives it
    memory,    ///< recalled, not looked up
    computed,  ///< our own independent calculation
    practice,  ///< common practice, no source
    none,      ///< a choice of the user or of the program
};
[[nodiscard]] const char* name_of(Evidence evidence);
/// The word of a data file to the enumerator; `none` for anything else.
[[nodiscard]] Evidence evidence_of(std::string_view word);

struct Origin {
    enum class Kind { house_file, catalogue, standard, assumed, computed };
    Kind kind = Kind::assumed;
    Place where;         ///< in the house file, a data file, or none
    std::string source;  ///< title, edition, table: what a reader would look up
    Evidence evidence = Evidence::none;
};
/// One line for people: `house.toml:14`, `materials/wood.toml, spruce (K02, quoted)`, `assumed`.
[[nodiscard]] std::string describe(const Origin& origin);

/// A value with its Origin. `value` in SI.
template <class T>
struct Sourced {
    T value{};
    Origin origin;
};

/// One line of a Derivation: a named input, intermediate or result. SI; `unit` is SI text.
struct Term {
    std::string name;
    double value = 0.0;
    std::string unit;
    Origin origin;
    std::string path;  ///< another result's path when this term is one, else empty
};

/// How one figure came about.
struct Derivation {
    std::string path;      ///< `ladder/wall/w3/clear_r`
    std::string equation;  ///< in words or symbols
    std::string source;    ///< standard and clause, or paper
    double value = 0.0;    ///< SI
    std::string unit;      ///< SI text
    std::string note;      ///< limits, method in use
    std::vector<Term> terms;
};

}  // namespace warmside
