// A detail of the user's own, solved: what `warmside detail` says.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/stop.h"
#include "conduction/steady.h"
#include "project/detail.h"

namespace warmside::answer {

/// What holds at the surfaces of one environment.
struct DetailSurface {
    std::string environment;
    double temperature = 0.0;            ///< K, of the air
    double flow = 0.0;                   ///< W that leaves it into the material; a plane section: W/m
    bool touches = false;                ///< any material; nothing below counts otherwise
    double lowest = 0.0, highest = 0.0;  ///< K, surface
    conduction::Point lowest_at;         ///< m
    /// (lowest - coldest air)/(own air - coldest air); nothing for the coldest air itself.
    std::optional<double> factor;
    /// K: below it the surface passes 80 % relative humidity; nothing without a stated humidity.
    std::optional<double> critical;
};

struct DetailProbe {
    std::string name;
    conduction::Point at;      ///< m
    double temperature = 0.0;  ///< K
};

struct DetailAnswer {
    conduction::Steady solution;
    std::vector<DetailSurface> surfaces;  ///< [environment]
    std::vector<DetailProbe> probes;
    /// Of the environments nearer to the warmest than to the coldest: the one with the lowest factor.
    std::optional<std::size_t> coldest_inside;
};

/// Solves a detail to its tolerance, and reads surfaces and probes.
///
/// threads  0: one a core
/// Problem  those of conduction::steady; out_of_range at a probe that is not in or on a material
[[nodiscard]] Result<DetailAnswer> solve(const project::Detail& detail, const Control& control = {},
                                         unsigned threads = 0);

/// Air temperature at which vapour of `humidity` (0..1) at `temperature` (K) reaches 80 % relative humidity,
/// K: the lowest surface temperature without mould by ISO 13788 (limit 0.8; evidence: memory).
[[nodiscard]] double critical_temperature(double temperature, double humidity);

}  // namespace warmside::answer
