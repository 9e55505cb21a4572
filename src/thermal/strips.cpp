#include <algorithm>
#include <cassert>
#include <cstdint>
#include <map>
#include <numeric>

#include "thermal/cell.h"

namespace warmside::thermal {

namespace {

// Lengths in quarters of a count, so that half widths and midpoints of strips are whole.
constexpr std::int64_t scale = 4;

// Members whose spacings have a common period, in that period.
struct Group {
    std::int64_t period = 1;
    std::vector<std::size_t> which;
};

constexpr std::int64_t most_members = 64;

std::int64_t both(std::int64_t a, std::int64_t b) {
    return a / std::gcd(a, b) * b;
}

std::vector<Group> group(std::span<const Members> members) {
    // By spacing, so that the groups do not depend on the order of the layers.
    std::vector<std::size_t> order(members.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return members[a].spacing < members[b].spacing; });
    std::vector<Group> groups;
    for (const std::size_t i : order) {
        const std::int64_t spacing = scale * members[i].spacing.count();
        assert(spacing > 0);
        const auto fits = [&](const Group& g) { return both(g.period, spacing) <= most_members * spacing; };
        const auto home = std::find_if(groups.begin(), groups.end(), fits);
        if (home == groups.end()) {
            groups.push_back({spacing, {i}});
        } else {
            home->period = both(home->period, spacing);
            home->which.push_back(i);
        }
    }
    return groups;
}

std::int64_t wrap(std::int64_t x, std::int64_t period) {
    return ((x % period) + period) % period;
}

// Edges of all members of a group within one period.
std::vector<std::int64_t> edges(std::span<const Members> members, const Group& g) {
    std::vector<std::int64_t> all{0, g.period};
    for (const std::size_t i : g.which) {
        const Members& m = members[i];
        const std::int64_t spacing = scale * m.spacing.count();
        const std::int64_t half = scale * m.width.count() / 2;
        for (std::int64_t centre = scale * m.offset.count(), k = 0; k < g.period / spacing;
             ++k, centre += spacing) {
            all.push_back(wrap(centre - half, g.period));
            all.push_back(wrap(centre + half, g.period));
        }
    }
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

bool covers(const Members& m, std::int64_t x) {
    const std::int64_t spacing = scale * m.spacing.count();
    const std::int64_t from_centre = wrap(x - scale * m.offset.count(), spacing);
    const std::int64_t half = scale * m.width.count() / 2;
    return from_centre < half || spacing - from_centre < half;
}

using Shares = std::map<std::vector<bool>, double>;

Shares shares_of(std::span<const Members> members, const Group& g) {
    Shares shares;
    const std::vector<std::int64_t> cuts = edges(members, g);
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        std::vector<bool> framed(members.size(), false);
        const std::int64_t middle = cuts[i - 1] + (cuts[i] - cuts[i - 1]) / 2;
        for (const std::size_t k : g.which) framed[k] = covers(members[k], middle);
        shares[framed] += static_cast<double>(cuts[i] - cuts[i - 1]) / static_cast<double>(g.period);
    }
    return shares;
}

}  // namespace

std::optional<units::Exact> common_period(std::span<const Members> members) {
    const std::vector<Group> groups = group(members);
    if (groups.size() != 1) return std::nullopt;
    return units::Exact::eighths_of_micrometre(groups.front().period / scale);
}

std::vector<Strip> strips(std::span<const Members> members) {
    Shares all{{std::vector<bool>(members.size(), false), 1.0}};
    for (const Group& g : group(members)) {
        const Shares more = shares_of(members, g);
        Shares crossed;
        for (const auto& [a, share_a] : all) {
            for (const auto& [b, share_b] : more) {
                std::vector<bool> framed = a;
                for (std::size_t i = 0; i < framed.size(); ++i) framed[i] = framed[i] || b[i];
                crossed[framed] += share_a * share_b;
            }
        }
        all = std::move(crossed);
    }
    std::vector<Strip> out;
    for (const auto& [framed, share] : all) out.push_back({share, framed});
    return out;
}

}  // namespace warmside::thermal
