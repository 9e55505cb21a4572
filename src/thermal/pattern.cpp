#include "thermal/pattern.h"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <fmt/format.h>
#include <optional>
#include <utility>

namespace warmside::thermal {

namespace {

// Lengths in quarters of a count, so that half widths, half spacings and middles of bays are whole.
constexpr std::int64_t scale = 4;

struct Row {
    std::int64_t spacing = 0, offset = 0, half = 0;  // half: of the width
};

double metres(std::int64_t quarters) {
    return static_cast<double>(quarters) / (8e6 * static_cast<double>(scale));
}

std::vector<Row> rows_of(std::span<const Members> members) {
    std::vector<Row> out;
    for (const Members& m : members) {
        assert(m.width.count() > 0 && m.width < m.spacing);
        out.push_back({scale * m.spacing.count(), scale * m.offset.count(), scale * m.width.count() / 2});
    }
    return out;
}

std::int64_t floor_div(std::int64_t a, std::int64_t b) {
    return a / b - (a % b < 0 ? 1 : 0);
}

// A place about which every row mirrors onto itself: a centre or the middle between two, of each row.
std::optional<std::int64_t> mirror(const std::vector<Row>& rows, std::int64_t period) {
    const Row& first = rows.front();
    for (std::int64_t k = 0; k < 2 * period / first.spacing; ++k) {
        const std::int64_t c = first.offset + k * first.spacing / 2;
        const bool all = std::all_of(rows.begin(), rows.end(),
                                     [&](const Row& r) { return 2 * (c - r.offset) % r.spacing == 0; });
        if (all) return c;
    }
    return std::nullopt;
}

// Members of one row that reach into [from, to], cut there.
std::vector<std::pair<std::int64_t, std::int64_t>> within(const Row& r, std::int64_t from, std::int64_t to) {
    std::vector<std::pair<std::int64_t, std::int64_t>> out;
    const std::int64_t first = floor_div(from - r.offset - r.half, r.spacing);
    for (std::int64_t k = first; r.offset + k * r.spacing - r.half < to; ++k) {
        const std::int64_t centre = r.offset + k * r.spacing;
        const std::int64_t a = std::max(from, centre - r.half), b = std::min(to, centre + r.half);
        if (a < b) out.emplace_back(a, b);
    }
    return out;
}

// The middle of the widest stretch of one period that the fewest rows cover.
std::int64_t cut(const std::vector<Row>& rows, std::int64_t period) {
    // Two periods from a centre on, so that a bay across the end of the period is seen whole.
    const std::int64_t from = rows.front().offset, to = from + 2 * period;
    std::vector<std::pair<std::int64_t, std::int64_t>> all;
    std::vector<std::int64_t> edges{from, to};
    for (const Row& r : rows) {
        for (const auto& m : within(r, from, to)) {
            all.push_back(m);
            edges.push_back(m.first);
            edges.push_back(m.second);
        }
    }
    std::sort(edges.begin(), edges.end());
    std::size_t fewest = rows.size() + 1;
    std::int64_t widest = 0, where = from;
    for (std::size_t i = 1; i < edges.size(); ++i) {
        const std::int64_t a = edges[i - 1], b = edges[i];
        if (a == b) continue;
        const auto covering = static_cast<std::size_t>(std::count_if(
            all.begin(), all.end(), [&](const auto& m) { return m.first <= a && b <= m.second; }));
        if (covering < fewest || (covering == fewest && b - a > widest)) {
            fewest = covering;
            widest = b - a;
            where = a + (b - a) / 2;
        }
    }
    return where;
}

}  // namespace

Result<Piece> piece_of(std::span<const Members> members, int periods) {
    assert(!members.empty() && periods > 0);
    const auto common = common_period(members);
    if (!common) {
        return fail(Code::unsupported,
                    fmt::format("members at {} and {} centres have no common period within 64 of them",
                                units::inches(members.front().spacing.metres()),
                                units::inches(members.back().spacing.metres())));
    }
    const std::vector<Row> rows = rows_of(members);
    const std::int64_t period = scale * common->count();
    Piece out;
    std::int64_t from = 0, length = periods * period;
    if (const auto centre = mirror(rows, period)) {
        out.mirrored = true;
        from = *centre;
        length = period / 2;
    } else {
        from = cut(rows, period);
    }
    out.length = metres(length);
    for (const Row& r : rows) {
        std::vector<Stretch>& row = out.members.emplace_back();
        for (const auto& [a, b] : within(r, from, from + length))
            row.push_back({metres(a - from), metres(b - from)});
    }
    return out;
}

}  // namespace warmside::thermal
