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
/// the bay, with the air that leaks through them; the worst two are run in full: the bay in both weathers,
/// the framing (members are tight) in stressed weather, and in the typical one on the worse of both. A
/// leaking joint is run in stressed weather on the worst face and on the one that most air leaves through in
/// winter.
class Plan {
public:
    /// `house`, `a`, `faces` and `around` outlive the plan and its runs. Problem: as leakage::air_flow.
    [[nodiscard]] static Result<Plan> make(const assembly::House& house, const assembly::Assembly& a,
                                           const std::vector<FaceCase>& faces, const Surroundings& around);

    /// The coarse year of every face, and one by the framing, which shows how finely to cut it.
    [[nodiscard]] std::vector<moisture::Run> pilots() const;
    /// Takes what the pilots showed, in their order.
    void choose(std::span<const moisture::Pilot> pilots, const moisture::Thresholds& limits);
    /// The runs of the chosen faces, the harshest in stressed weather last. They point into the plan.
    [[nodiscard]] std::vector<moisture::Run> runs() const;
    /// "north and southeast, the worst of eight faces"
    [[nodiscard]] std::string faces_in_words() const;
    [[nodiscard]] moisture::Basis basis() const;

private:
    enum class Air { none, spread, joint };
    Plan() = default;
    [[nodiscard]] moisture::Run run(std::size_t face, moisture::Path path, Air air) const;
    [[nodiscard]] bool leaks() const { return !air_.empty(); }

    const assembly::House* house_ = nullptr;
    const assembly::Assembly* assembly_ = nullptr;
    const std::vector<FaceCase>* faces_ = nullptr;
    const Surroundings* around_ = nullptr;
    std::vector<leakage::AirFlow> air_;  ///< of each case; empty: no air passes (ground)
    std::vector<std::size_t> tried_;     ///< indices of stressed cases
    std::vector<std::size_t> chosen_;    ///< of these, harshest first
    std::size_t windiest_ = 0;           ///< the stressed case that most air leaves through in winter
    moisture::Mesh bay_, framing_;
};

}  // namespace warmside::answer
