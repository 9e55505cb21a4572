#include "units/reader.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "base/nearest.h"

namespace warmside::units {

Result<toml::table> parse_toml(std::string_view name, std::string_view text) {
    auto parsed = toml::parse(text, name);
    if (parsed) return std::move(parsed).table();
    const auto& error = parsed.error();
    const auto at = error.source().begin;
    return fail(Code::syntax, std::string(error.description()),
                Place{std::string(name), static_cast<int>(at.line), static_cast<int>(at.column)});
}

Place place_of(const toml::node& node) {
    const auto& source = node.source();
    return {source.path ? *source.path : std::string{}, static_cast<int>(source.begin.line),
            static_cast<int>(source.begin.column)};
}

namespace {

std::string_view kind_of(const toml::node& node) {
    switch (node.type()) {
        case toml::node_type::string: return "a text";
        case toml::node_type::integer:
        case toml::node_type::floating_point: return "a number";
        case toml::node_type::boolean: return "true or false";
        case toml::node_type::array: return "a list";
        case toml::node_type::table: return "a table";
        default: return "a date";
    }
}

// Text of a limit in the unit's own dimension; plain SI is clear enough in a message.
std::string limit_text(double value, const Dimension& dimension) {
    if (&dimension == &temperature) return fmt::format("{:g} degC", value - 273.15);
    if (dimension.si == "-") return fmt::format("{:g}", value);
    return fmt::format("{:g} {}", value, dimension.si);
}

}  // namespace

Result<double> read_quantity(const toml::node& node, std::string_view key, const Dimension& dimension,
                             Limits limits) {
    std::optional<double> value;
    std::string shown;
    if (const auto* text = node.as_string()) {
        shown = fmt::format("\"{}\"", text->get());
        const auto parsed = parse(text->get(), dimension);
        if (!parsed) {
            Problem problem = parsed.error();
            problem.what = fmt::format("{} {}", key, problem.what);
            problem.where = place_of(node);
            return fail(std::move(problem));
        }
        value = *parsed;
    } else if (node.is_number() && dimension.si == "-") {
        value = node.value<double>();
        shown = fmt::format("{:g}", value.value_or(0.0));
    } else {
        Problem problem;
        problem.code = node.is_number() ? Code::wrong_unit : Code::wrong_type;
        problem.what = node.is_number()
                           ? fmt::format("{} needs a unit, in quotes ({})", key, dimension.examples)
                           : fmt::format("{} is {}, not {} ({})", key, kind_of(node), dimension.name,
                                         dimension.examples);
        problem.expected = std::string(dimension.examples);
        problem.where = place_of(node);
        return fail(std::move(problem));
    }
    const bool within = value && std::isfinite(*value) && *value >= limits.least && *value <= limits.most;
    if (!within) {
        Problem problem;
        problem.code = Code::out_of_range;
        problem.what = fmt::format("{} {} is outside {} to {}", key, shown,
                                   limit_text(limits.least, dimension), limit_text(limits.most, dimension));
        problem.found = shown;
        problem.where = place_of(node);
        return fail(std::move(problem));
    }
    return *value;
}

const toml::node* TableReader::node(std::string_view key) {
    known_.emplace(key);
    return table_.get(key);
}

Place TableReader::place(std::string_view key) const {
    const auto* found = table_.get(key);
    return found ? place_of(*found) : place_of(table_);
}

std::optional<std::string> TableReader::text(std::string_view key) {
    const auto* found = node(key);
    if (!found) return std::nullopt;
    if (const auto* value = found->as_string()) return value->get();
    wrong_type(key, "a text in quotes");
    return std::nullopt;
}

std::optional<bool> TableReader::flag(std::string_view key) {
    const auto* found = node(key);
    if (!found) return std::nullopt;
    if (const auto* value = found->as_boolean()) return value->get();
    wrong_type(key, "true or false");
    return std::nullopt;
}

std::optional<std::int64_t> TableReader::integer(std::string_view key, std::int64_t least,
                                                 std::int64_t most) {
    const auto* found = node(key);
    if (!found) return std::nullopt;
    const auto* value = found->as_integer();
    if (!value) {
        wrong_type(key, "a whole number");
        return std::nullopt;
    }
    if (value->get() < least || value->get() > most) {
        complain(key, Code::out_of_range,
                 fmt::format("{} {} is outside {} to {}", key, value->get(), least, most));
        return std::nullopt;
    }
    return value->get();
}

std::optional<double> TableReader::quantity(std::string_view key, const Dimension& dimension, Limits limits) {
    const auto* found = node(key);
    if (!found) return std::nullopt;
    auto value = read_quantity(*found, key, dimension, limits);
    if (value) return *value;
    problems_.push_back(value.error());
    return std::nullopt;
}

std::optional<Exact> TableReader::exact(std::string_view key, Limits limits) {
    const auto metres = quantity(key, length, {std::max(limits.least, -1e6), std::min(limits.most, 1e6)});
    return metres ? std::optional(Exact::nearest(*metres)) : std::nullopt;
}

std::optional<std::string> TableReader::word(std::string_view key,
                                             std::initializer_list<std::string_view> words) {
    auto value = text(key);
    if (!value || std::find(words.begin(), words.end(), *value) != words.end()) return value;
    const std::vector<std::string> known(words.begin(), words.end());
    std::string list;
    for (const auto& each : known) list += (list.empty() ? "" : ", ") + each;
    Problem problem;
    problem.code = Code::unknown_name;
    problem.what = fmt::format("{} \"{}\" is not one of: {}", key, *value, list);
    problem.found = *value;
    problem.suggestion = nearest(*value, known);
    problem.where = place(key);
    problems_.push_back(std::move(problem));
    return std::nullopt;
}

std::optional<std::vector<std::string>> TableReader::texts(std::string_view key) {
    const auto* list = array(key);
    if (!list) return std::nullopt;
    std::vector<std::string> out;
    for (const auto& item : *list) {
        const auto* value = item.as_string();
        if (!value) {
            problems_.push_back({.code = Code::wrong_type,
                                 .what = fmt::format("{} holds {}, not a text in quotes", key, kind_of(item)),
                                 .where = place_of(item)});
            return std::nullopt;
        }
        out.push_back(value->get());
    }
    return out;
}

std::optional<std::vector<double>> TableReader::quantities(std::string_view key, const Dimension& dimension,
                                                           Limits limits) {
    const auto* list = array(key);
    if (!list) return std::nullopt;
    std::vector<double> out;
    for (const auto& item : *list) {
        const auto value = item.is_number() ? read_quantity(item, key, number, limits)
                                            : read_quantity(item, key, dimension, limits);
        if (!value) {
            problems_.push_back(value.error());
            return std::nullopt;
        }
        out.push_back(*value);
    }
    return out;
}

const toml::table* TableReader::table(std::string_view key) {
    const auto* found = node(key);
    if (!found) return nullptr;
    if (const auto* value = found->as_table()) return value;
    wrong_type(key, "a table");
    return nullptr;
}

const toml::array* TableReader::array(std::string_view key) {
    const auto* found = node(key);
    if (!found) return nullptr;
    if (const auto* value = found->as_array()) return value;
    wrong_type(key, "a list in brackets");
    return nullptr;
}

void TableReader::missing(std::string_view key) {
    problems_.push_back(
        {.code = Code::missing, .what = fmt::format("{} has no {}", title_, key), .where = place()});
}

void TableReader::complain(std::string_view key, Code code, std::string what, std::string suggestion) {
    problems_.push_back(
        {.code = code, .what = std::move(what), .suggestion = std::move(suggestion), .where = place(key)});
}

void TableReader::warn(std::string_view key, Code code, std::string what, std::string suggestion) {
    complain(key, code, std::move(what), std::move(suggestion));
    problems_.back().severity = Severity::warning;
}

void TableReader::wrong_type(std::string_view key, std::string_view expected) {
    const auto* found = table_.get(key);
    problems_.push_back({.code = Code::wrong_type,
                         .what = fmt::format("{} is {}, not {}", key, kind_of(*found), expected),
                         .expected = std::string(expected),
                         .where = place_of(*found)});
}

void TableReader::finish() {
    const std::vector<std::string> known(known_.begin(), known_.end());
    for (const auto& [key, value] : table_) {
        if (known_.contains(key.str())) continue;
        const auto at = key.source().begin;
        Problem problem;
        problem.code = Code::unknown_key;
        problem.what = fmt::format("{} does not know \"{}\"", title_, key.str());
        problem.found = std::string(key.str());
        problem.suggestion = nearest(key.str(), known);
        problem.where = {place_of(value).file, static_cast<int>(at.line), static_cast<int>(at.column)};
        problems_.push_back(std::move(problem));
    }
}

}  // namespace warmside::units
