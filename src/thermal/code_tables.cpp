#include "thermal/code_tables.h"

#include <array>
#include <cmath>
#include <fmt/format.h>

namespace warmside::thermal {

Result<double> table_wall_u(const TableWall& w) {
    const double cavity_share = 1.0 - w.studs_share - w.headers_share;
    const bool are_shares = w.studs_share >= 0.0 && w.headers_share >= 0.0 && cavity_share >= 0.0;
    if (!are_shares) {
        return fail(Code::out_of_range,
                    fmt::format("framing shares of {} and {} cannot be", w.studs_share, w.headers_share));
    }
    const std::array paths{std::pair{cavity_share, w.cavity}, std::pair{w.studs_share, w.stud},
                           std::pair{w.headers_share, w.header}};
    double u = 0.0;
    for (const auto& [share, path] : paths) {
        const double r = w.common + path + w.continuous;
        const bool resists = std::isfinite(r) && path >= 0.0 && w.continuous >= 0.0 && r > 0.0;
        if (!resists) {
            return fail(Code::out_of_range, fmt::format("a path of {} m2 K/W cannot be", r));
        }
        u += share / r;
    }
    return u;
}

}  // namespace warmside::thermal
