#include "structure/cladding.h"

#include <algorithm>

#include "structure/data.h"

namespace warmside::structure {

namespace {

constexpr double slack = 1e-6;

struct FoamRow {
    std::string fastener;
    double spacing = 0.0;
    std::vector<double> near, far;  ///< by weight, furring at 16 and at 24 in
};

struct Tables {
    std::vector<double> weights;
    std::vector<FoamRow> rows;
    std::vector<FurringFastener> fasteners;
    double share = 0.0, gravity = 0.0, side = 0.0, largest = 0.0, near = 0.0, far = 0.0;
    std::vector<std::string> strong;
    Origin strong_origin;
    InnerFurring inner;
    CladdingCaution caution;
    Origin foam, rule;
};

Tables read(DataFile& file) {
    Tables t;
    auto foam = file.open("foam");
    const double inch = unit_of(foam, units::length), pound = *units::parse("1 lbf", units::force);
    t.weights = list(foam, "weights", units::pressure);
    t.foam = file.origin(foam);
    t.near = 16 * inch;
    t.far = 24 * inch;
    for (auto& row : file.rows("foam_row")) {
        t.rows.push_back({row.required(row.text("fastener"), "fastener").value_or(""),
                          number(row, "spacing") * inch, list(row, "furring_16", inch),
                          list(row, "furring_24", inch)});
    }
    for (auto& row : file.rows("fastener")) {
        t.fasteners.push_back({row.required(row.text("name"), "name").value_or(""),
                               value(row, "nominal", units::length), value(row, "diameter", units::length),
                               value(row, "yield", units::pressure), file.origin(row)});
    }
    auto into = file.open("penetration");
    const auto depths = list(into, "depths", units::length);
    if (depths.size() != t.fasteners.size())
        into.complain("depths", Code::incomplete, "a depth for each fastener");
    for (std::size_t i = 0; i < std::min(depths.size(), t.fasteners.size()); ++i) {
        t.fasteners[i].penetration = depths[i];
        t.fasteners[i].penetration_origin = file.origin(into);
    }
    std::stable_sort(t.fasteners.begin(), t.fasteners.end(),
                     [](const auto& a, const auto& b) { return a.nominal < b.nominal; });
    auto rule = file.open("rule");
    t.share = number(rule, "share");
    t.gravity = number(rule, "gravity");
    t.side = value(rule, "side", units::length);
    t.largest = value(rule, "largest_gap", units::length);
    t.rule = file.origin(rule);
    auto strong = file.open("strong_foam");
    t.strong = strong.required(strong.texts("materials"), "materials").value_or(std::vector<std::string>{});
    t.strong_origin = file.origin(strong);
    auto caution = file.open("caution");
    t.caution = {number(caution, "load_pounds") * pound, value(caution, "thickness", units::length),
                 file.origin(caution)};
    auto inner = file.open("inner");
    auto pull = file.open("pull");
    t.inner = {.diameter = value(inner, "diameter", units::length),
               .yield = value(inner, "yield", units::pressure),
               .penetration = value(inner, "penetration", units::length),
               .box = value(inner, "box", units::force),
               .pull = value(pull, "load", units::pressure),
               .origin = file.origin(inner),
               .pull_origin = file.origin(pull)};
    return t;
}

const Tables& tables() {
    static const Tables all = embedded_data<Tables>("data/structure/cladding.toml", read);
    return all;
}

}  // namespace

std::optional<FurringFastener> fastener_up_to(double diameter) {
    std::optional<FurringFastener> best;
    for (const auto& each : tables().fasteners) {
        if (each.nominal <= diameter + slack) best = each;
    }
    return best;
}

std::optional<FurringFastener> fastener_named(std::string_view name) {
    for (const auto& each : tables().fasteners) {
        if (each.name == name) return each;
    }
    return std::nullopt;
}

std::optional<double> foam_limit(std::string_view fastener, double spacing, double furring, double weight) {
    const Tables& t = tables();
    const auto column =
        std::find_if(t.weights.begin(), t.weights.end(), [&](double each) { return weight <= each + slack; });
    if (column == t.weights.end() || furring > t.far + slack) return std::nullopt;
    const auto at = static_cast<std::size_t>(column - t.weights.begin());
    for (const FoamRow& row : t.rows) {  // rows of a fastener stand in order of spacing
        if (row.fastener != fastener || spacing > row.spacing + slack) continue;
        return (furring > t.near + slack ? row.far : row.near)[at];
    }
    return std::nullopt;
}

double furring_capacity(const FurringFastener& fastener, double gap) {
    const Tables& t = tables();
    return t.share * lateral({.diameter = fastener.diameter,
                              .yield = fastener.yield,
                              .gravity = t.gravity,
                              .side = t.side,
                              .main = fastener.penetration,
                              .gap = gap});
}

double foam_by_rule(const FurringFastener& fastener, double load) {
    double low = 0.0, high = tables().largest;
    if (furring_capacity(fastener, low) < load) return 0.0;
    if (furring_capacity(fastener, high) >= load) return high;
    for (int i = 0; i < 60; ++i) {  // halves 4 in to below any float
        const double middle = (low + high) / 2;
        (furring_capacity(fastener, middle) >= load ? low : high) = middle;
    }
    return low;
}

double load_per_fastener(double weight, double spacing, double furring) {
    return weight * spacing * furring;
}

bool is_strong_foam(std::string_view material) {
    const auto& names = tables().strong;
    return std::find(names.begin(), names.end(), material) != names.end();
}

const Origin& strong_foam_origin() {
    return tables().strong_origin;
}

const InnerFurring& inner_furring() {
    return tables().inner;
}
const CladdingCaution& cladding_caution() {
    return tables().caution;
}
const Origin& foam_origin() {
    return tables().foam;
}
const Origin& furring_rule_origin() {
    return tables().rule;
}

}  // namespace warmside::structure
