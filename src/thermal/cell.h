// A repeating cell of plane plies, some of them framed: the two limits of its resistance.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "base/result.h"
#include "units/quantity.h"

namespace warmside::thermal {

/// Members side by side along one direction of the face.
struct Members {
    units::Exact width;
    units::Exact spacing;  ///< centre to centre
    units::Exact offset;   ///< of the first centre
    [[nodiscard]] double share() const { return width.metres() / spacing.metres(); }
};

/// One slice of the cell, inside to outside. `fill` alone when nothing is framed.
struct Ply {
    enum class Run { none, vertical, horizontal };
    double fill = 0.0;    ///< m2 K/W through the fill
    double member = 0.0;  ///< m2 K/W through the member
    Run run = Run::none;
    Members members;
    bool structural = false;  ///< plates and headers pass through it
};

struct Cell {
    double inside_film = 0.0;   ///< m2 K/W
    double outside_film = 0.0;  ///< m2 K/W
    std::vector<Ply> plies;
    /// Share of the face where a plate or header fills every structural ply, besides the repeating members.
    double plates = 0.0;
};

/// What the fill paths alone add up to, films included, m2 K/W.
[[nodiscard]] double bay_resistance(const Cell& cell);

struct Limits {
    double upper = 0.0;  ///< m2 K/W, R'_T: parallel heat flow from air to air
    double lower = 0.0;  ///< m2 K/W, R''_T: every plane between plies isothermal
    [[nodiscard]] double combined() const { return 0.5 * (upper + lower); }
    [[nodiscard]] double relative_error() const { return (upper - lower) / (upper + lower); }
    [[nodiscard]] double ratio() const { return upper / lower; }
};

/// Both limits.
///
/// Vertical and horizontal members cross: the share of a crossing is the product of both shares. Members that
/// run the same way lie over each other as their spacing and offset say; where two spacings have no common
/// period within 64 members they are taken as independent, which is exact in the long run. Problem
/// out_of_range: a resistance that is negative or not finite, a framed ply without resistance, members wider
///          than their spacing, a share of plates outside 0 to 1
/// Source   ISO 6946:2017 6.7.2 (evidence: memory), ASHRAE Handbook Fundamentals ch. 27 (parallel path,
/// isothermal
///          planes; seen); check: proof/thermal/framed_walls.toml
[[nodiscard]] Result<Limits> limits(const Cell& cell);

/// A part of the face along one direction where the same plies are framed; `framed[i]` belongs to members[i].
struct Strip {
    double share = 0.0;
    std::vector<bool> framed;
};

/// The strips that members of one direction make together; shares sum to 1.
[[nodiscard]] std::vector<Strip> strips(std::span<const Members> members);

/// The least length after which all of them repeat; nothing where there is none within 64 members, the limit
/// of strips().
[[nodiscard]] std::optional<units::Exact> common_period(std::span<const Members> members);

}  // namespace warmside::thermal
