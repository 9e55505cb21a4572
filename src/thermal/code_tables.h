// How published U tables of framed walls and roofs are computed.
#pragma once

#include "base/result.h"

namespace warmside::thermal {

/// A wood-framed wall of a U table; resistances in m2 K/W.
struct TableWall {
    double common = 0.0;       ///< films and boards that every path crosses
    double cavity = 0.0;       ///< between the studs, as installed
    double stud = 0.0;         ///< through the stud
    double header = 0.0;       ///< through the header and what insulates it
    double continuous = 0.0;   ///< over everything
    double studs_share = 0.0;  ///< studs, plates, sills
    double headers_share = 0.0;
};

/// U = sum of share/(common + path + continuous), W/(m2 K).
///
/// Problem  out_of_range: shares outside 0 to 1 together, a path without resistance
/// Source   ASHRAE 90.1 A3.4, parallel path (evidence: memory); check: proof/thermal/code_walls_*.toml
[[nodiscard]] Result<double> table_wall_u(const TableWall& wall);

}  // namespace warmside::thermal
