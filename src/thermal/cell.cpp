#include "thermal/cell.h"

#include <cmath>
#include <fmt/format.h>

namespace warmside::thermal {

namespace {

// The plies that run one way, and the strips they make.
struct Direction {
    std::vector<std::size_t> plies;
    std::vector<Strip> strips;
};

Direction direction(const Cell& cell, Ply::Run run) {
    Direction out;
    std::vector<Members> members;
    for (std::size_t i = 0; i < cell.plies.size(); ++i) {
        if (cell.plies[i].run != run) continue;
        out.plies.push_back(i);
        members.push_back(cell.plies[i].members);
    }
    out.strips = strips(members);
    return out;
}

Result<void> check(const Cell& cell) {
    const auto good = [](double r) { return std::isfinite(r) && r >= 0.0; };
    if (!good(cell.inside_film) || !good(cell.outside_film)) {
        return fail(Code::out_of_range,
                    fmt::format("the films are {} and {} m2 K/W", cell.inside_film, cell.outside_film));
    }
    const bool is_share = cell.plates >= 0.0 && cell.plates < 1.0;
    if (!is_share) {
        return fail(Code::out_of_range,
                    fmt::format("the share of plates and headers is {}, outside 0 to 1", cell.plates));
    }
    for (std::size_t i = 0; i < cell.plies.size(); ++i) {
        const Ply& ply = cell.plies[i];
        if (!good(ply.fill)) {
            return fail(Code::out_of_range,
                        fmt::format("ply {} has a resistance of {} m2 K/W", i + 1, ply.fill));
        }
        if (ply.run == Ply::Run::none) continue;
        const bool both_resist = good(ply.member) && ply.member > 0.0 && ply.fill > 0.0;
        if (!both_resist) {
            return fail(Code::out_of_range,
                        fmt::format("ply {} is framed and has a resistance of {} m2 K/W beside a member "
                                    "of {} m2 K/W; both must be above 0",
                                    i + 1, ply.fill, ply.member));
        }
        if (ply.members.width.count() <= 0 || ply.members.width > ply.members.spacing) {
            return fail(Code::out_of_range, fmt::format("ply {} has members {} wide at {} centres", i + 1,
                                                        units::inches(ply.members.width.metres()),
                                                        units::inches(ply.members.spacing.metres())));
        }
    }
    if (bay_resistance(cell) <= 0.0) return fail(Code::out_of_range, "the cell has no resistance at all");
    return {};
}

// Conductance from air to air, averaged over all strips; `plates` puts a member into every structural ply.
double conductance(const Cell& cell, const Direction& up, const Direction& across, bool plates) {
    double sum = 0.0;
    std::vector<bool> framed(cell.plies.size(), false);
    for (const Strip& a : up.strips) {
        for (std::size_t k = 0; k < up.plies.size(); ++k) framed[up.plies[k]] = a.framed[k];
        for (const Strip& b : across.strips) {
            for (std::size_t k = 0; k < across.plies.size(); ++k) framed[across.plies[k]] = b.framed[k];
            double r = cell.inside_film + cell.outside_film;
            for (std::size_t i = 0; i < cell.plies.size(); ++i) {
                const Ply& ply = cell.plies[i];
                const bool plate = plates && ply.structural && ply.run != Ply::Run::none;
                r += framed[i] || plate ? ply.member : ply.fill;
            }
            sum += a.share * b.share / r;
        }
    }
    return sum;
}

double lower_limit(const Cell& cell) {
    double r = cell.inside_film + cell.outside_film;
    for (const Ply& ply : cell.plies) {
        if (ply.run == Ply::Run::none) {
            r += ply.fill;
            continue;
        }
        const double repeating = ply.members.share();
        const double share = ply.structural ? cell.plates + (1.0 - cell.plates) * repeating : repeating;
        r += 1.0 / (share / ply.member + (1.0 - share) / ply.fill);
    }
    return r;
}

}  // namespace

double bay_resistance(const Cell& cell) {
    double r = cell.inside_film + cell.outside_film;
    for (const Ply& ply : cell.plies) r += ply.fill;
    return r;
}

Result<Limits> limits(const Cell& cell) {
    if (auto good = check(cell); !good) return fail(good.error());
    const Direction up = direction(cell, Ply::Run::vertical);
    const Direction across = direction(cell, Ply::Run::horizontal);
    double u = (1.0 - cell.plates) * conductance(cell, up, across, false);
    if (cell.plates > 0.0) u += cell.plates * conductance(cell, up, across, true);
    return Limits{1.0 / u, lower_limit(cell)};
}

}  // namespace warmside::thermal
