#include "material/row.h"

#include <fmt/format.h>

namespace warmside::material {

using units::Dimension;
using units::Limits;
using units::TableReader;

Row::Row(const toml::table& table, std::string title, Origin::Kind kind, Problems& problems)
    : reader(table, std::move(title), problems), kind_(kind), problems_(problems) {
    origin_ = origin_in(reader, {});
    if (kind == Origin::Kind::house_file) return;
    if (!reader.has("source")) reader.missing("source");
    if (!reader.has("evidence")) reader.missing("evidence");
}

Origin Row::origin_in(TableReader& from, const Origin& fallback) {
    Origin out{
        .kind = kind_, .where = from.place(), .source = fallback.source, .evidence = fallback.evidence};
    if (auto source = from.text("source")) {
        out.source = std::move(*source);
        // A source of its own does not inherit the evidence of the other.
        out.evidence = Evidence::none;
    }
    if (const auto word = from.word("evidence", {"seen", "quoted", "memory", "computed", "practice"})) {
        out.evidence = evidence_of(*word);
    }
    return out;
}

Row::Value Row::value(std::string_view key, std::string_view more) {
    const toml::node* node = reader.node(key);
    if (!node) return {};
    Origin origin = origin_;
    Value out{.node = node};
    if (const toml::table* table = node->as_table()) {
        TableReader inner(*table, fmt::format("{} of {}", key, reader.title()), problems_);
        out = {.node = inner.node("value"), .around = table};
        if (!out.node) inner.missing("value");
        origin = origin_in(inner, origin_);
        if (!more.empty()) static_cast<void>(inner.node(more));
        inner.finish();
    }
    origin.where = units::place_of(*node);
    value_origin_.emplace_back(std::string(key), std::move(origin));
    return out;
}

std::optional<double> Row::quantity(std::string_view key, const Dimension& dimension, Limits limits) {
    const Value found = value(key);
    return found.node ? read(*found.node, key, dimension, limits) : std::nullopt;
}

std::optional<double> Row::read(const toml::node& node, std::string_view key, const Dimension& dimension,
                                Limits limits) {
    auto got = units::read_quantity(node, key, dimension, limits);
    if (got) return *got;
    problems_.push_back(std::move(got.error()));
    return std::nullopt;
}

std::optional<Curve> Row::pairs(std::string_view key, const toml::node& node, const Dimension& dimension,
                                Limits humidity, Limits limits) {
    const toml::array* list = node.as_array();
    if (!list || list->empty()) {
        complain(node, Code::wrong_type,
                 fmt::format("{} needs pairs of humidity and {}, such as [[\"50 %\", ...], [\"80 %\", ...]]",
                             key, dimension.name));
        return std::nullopt;
    }
    Curve out;
    for (const toml::node& item : *list) {
        const toml::array* two = item.as_array();
        if (!two || two->size() != 2) {
            complain(item, Code::wrong_type, fmt::format("{} has an entry that is not a pair", key));
            return std::nullopt;
        }
        const auto x = read((*two)[0], fmt::format("humidity of {}", key), units::fraction, humidity);
        const auto y = read((*two)[1], key, dimension, limits);
        if (!x || !y) return std::nullopt;
        if (!out.x.empty() && *x <= out.x.back()) {
            complain(item, Code::out_of_range, fmt::format("{} is not in rising order of humidity", key));
            return std::nullopt;
        }
        out.x.push_back(*x);
        out.y.push_back(*y);
    }
    return out;
}

void Row::complain(const toml::node& at, Code code, std::string what, std::string suggestion) {
    problems_.push_back({.code = code,
                         .what = std::move(what),
                         .suggestion = std::move(suggestion),
                         .where = units::place_of(at)});
}

}  // namespace warmside::material
