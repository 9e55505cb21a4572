// Which runs of the moisture solver a rung gets, and what its verdict then rests on.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "answer/places.h"
#include "moisture/mesh.h"
#include "moisture/simulate.h"
#include "moisture/thresholds.h"
#include "moisture/verdict.h"

namespace warmside::answer {

[[nodiscard]] bool is_wall_like(const assembly::Assembly& a);

/// Why the transient model does not answer for an assembly; empty when it does.
[[nodiscard]] std::string outside_the_model(const assembly::House& house, const assembly::Assembly& a);

/// How the runs of one assembly are chosen. All faces are tried for one coarse year of stressed weather by
/// the bay; the worst two are run in full: both weathers, bay and framing.
class Plan {
public:
    /// `house`, `a`, `faces` and `around` outlive the plan and its runs.
    Plan(const assembly::House& house, const assembly::Assembly& a, const std::vector<FaceCase>& faces,
         const Surroundings& around);

    /// The coarse year of every face, and one by the framing, which shows how finely to cut it.
    [[nodiscard]] std::vector<moisture::Run> pilots() const;
    /// Takes what the pilots showed, in their order.
    void choose(std::span<const moisture::Pilot> pilots, const moisture::Thresholds& limits);
    /// The runs of the chosen faces, the harshest in stressed weather last. They point into the plan.
    [[nodiscard]] std::vector<moisture::Run> runs() const;
    /// "north and southeast, the worst of eight faces"
    [[nodiscard]] std::string faces_in_words() const;

private:
    [[nodiscard]] moisture::Run run(const FaceCase& face, moisture::Path path) const;

    const assembly::House* house_;
    const assembly::Assembly* assembly_;
    const std::vector<FaceCase>* faces_;
    const Surroundings* around_;
    std::vector<std::size_t> tried_;   ///< indices of stressed cases
    std::vector<std::string> chosen_;  ///< names of faces, harshest first
    moisture::Mesh bay_, framing_;
};

[[nodiscard]] moisture::Basis basis_of(const assembly::House& house, const assembly::Assembly& a,
                                       const Surroundings& around);

}  // namespace warmside::answer
