#include "structure/headers.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "structure/data.h"

namespace warmside::structure {

namespace {

constexpr double slack = 1e-6;

struct Row {
    double snow = 0.0;
    int floors = 0, plies = 0;
    std::string member;
    std::vector<double> widths, spans, jacks;
};

struct Tables {
    std::vector<Row> rows;  ///< rising snow
    std::vector<std::string> species;
    double unbraced = 1.0;
    Origin origin;
};

Tables read(DataFile& file) {
    Tables t;
    auto head = file.open("table");
    t.origin = file.origin(head);
    t.unbraced = number(head, "unbraced");
    t.species = head.required(head.texts("species"), "species").value_or(std::vector<std::string>{});
    for (auto& row : file.rows("header")) {
        t.rows.push_back({value(row, "snow", units::pressure), static_cast<int>(number(row, "floors")),
                          static_cast<int>(number(row, "plies")), row.text("member").value_or(""),
                          list(row, "widths", units::length), list(row, "spans", units::length),
                          list(row, "jacks")});
        const Row& last = t.rows.back();
        if (last.widths.size() != last.spans.size() || last.widths.size() != last.jacks.size())
            row.complain("spans", Code::incomplete, "a span and jacks for each width");
    }
    std::stable_sort(t.rows.begin(), t.rows.end(),
                     [](const Row& a, const Row& b) { return a.snow < b.snow; });
    return t;
}

const Tables& tables() {
    static const Tables all = embedded_data<Tables>("data/structure/headers.toml", read);
    return all;
}

}  // namespace

bool header_species(std::string_view species) {
    const auto& all = tables().species;
    return std::find(all.begin(), all.end(), species) != all.end();
}

std::optional<HeaderLimit> header_limit(int plies, std::string_view member, double width, double snow,
                                        int floors, bool braced) {
    const Tables& t = tables();
    for (const Row& row : t.rows) {
        if (row.plies != plies || row.member != member || row.floors != floors || snow > row.snow + slack)
            continue;
        const double at = std::max(width, row.widths.front());
        const auto span = between(row.widths, row.spans, at);
        if (!span) continue;
        const auto jacks = between(row.widths, row.jacks, at);
        const bool deep = member != "2x4" && member != "2x6";
        return HeaderLimit{*span * (braced || !deep ? 1.0 : t.unbraced),
                           static_cast<int>(std::ceil(*jacks - slack)), t.origin};
    }
    return std::nullopt;
}

}  // namespace warmside::structure
