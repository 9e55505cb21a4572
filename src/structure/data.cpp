#include "structure/data.h"

#include <algorithm>
#include <fmt/format.h>

namespace warmside::structure {

namespace {
// Lengths come through decimal text and exact fractions: 1 um is far below any real difference.
constexpr double slack = 1e-6;
}  // namespace

units::TableReader DataFile::open(std::string_view key) {
    static const toml::table none;
    const auto* node = table_.get(key);
    const auto* found = node ? node->as_table() : nullptr;
    if (!found)
        problems_.push_back({.code = Code::missing, .what = fmt::format("{} has no [{}]", name_, key)});
    return {found ? *found : none, fmt::format("[{}]", key), problems_};
}

std::vector<units::TableReader> DataFile::rows(std::string_view key) {
    std::vector<units::TableReader> out;
    const auto* node = table_.get(key);
    if (const auto* array = node ? node->as_array() : nullptr) {
        for (const toml::node& each : *array) {
            if (const auto* row = each.as_table())
                out.emplace_back(*row, fmt::format("[[{}]]", key), problems_);
        }
    }
    if (out.empty())
        problems_.push_back({.code = Code::missing, .what = fmt::format("{} has no [[{}]]", name_, key)});
    return out;
}

Origin DataFile::origin(units::TableReader& reader, std::string_view evidence) const {
    Place where = reader.place();
    where.file = name_;
    const auto source = reader.required(reader.text("source"), "source");
    return {Origin::Kind::standard, where, source.value_or(""), evidence_of(evidence)};
}

Origin DataFile::origin(units::TableReader& reader) const {
    const auto evidence = reader.required(reader.text("evidence"), "evidence");
    return origin(reader, evidence.value_or(""));
}

double value(units::TableReader& reader, std::string_view key, const units::Dimension& dimension) {
    return reader.required(reader.quantity(key, dimension), key).value_or(0.0);
}

double number(units::TableReader& reader, std::string_view key) {
    return value(reader, key, units::number);
}

std::vector<double> list(units::TableReader& reader, std::string_view key, double factor) {
    auto out = list(reader, key, units::number);
    for (double& each : out) each *= factor;
    return out;
}

std::vector<double> list(units::TableReader& reader, std::string_view key,
                         const units::Dimension& dimension) {
    return reader.required(reader.quantities(key, dimension), key).value_or(std::vector<double>{});
}

double unit_of(units::TableReader& reader, const units::Dimension& dimension) {
    const auto unit = reader.required(reader.text("unit"), "unit");
    return units::parse("1 " + unit.value_or(""), dimension).value_or(0.0);
}

std::optional<double> between(const std::vector<double>& x, const std::vector<double>& y, double at) {
    assert(!x.empty() && x.size() <= y.size());
    if (at < x.front() - slack || at > x.back() + slack) return std::nullopt;
    for (std::size_t i = 1; i < x.size(); ++i) {
        if (at <= x[i])
            return y[i - 1] + (y[i] - y[i - 1]) * (std::max(at, x[i - 1]) - x[i - 1]) / (x[i] - x[i - 1]);
    }
    return y[x.size() - 1];
}

}  // namespace warmside::structure
