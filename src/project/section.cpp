#include "project/section.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "base/nearest.h"

namespace warmside::project {

using assembly::Point;
using units::Exact;

Section::Section(const toml::table& table, std::string_view kind, std::string title, Problems& problems)
    : table_(table), reader_(table, std::move(title), problems), kind_(kind), problems_(problems) {
    for (const Field* each : fields_of(kind)) static_cast<void>(reader_.node(each->key));
}

const Field& Section::known(std::string_view key) const {
    const Field* found = field(kind_, key);
    assert(found && "every key of the reader stands in the field table");
    return *found;
}

std::optional<std::string> Section::text(std::string_view key) {
    static_cast<void>(known(key));
    auto value = reader_.text(key);
    if (value && value->find_first_not_of(" \t\r\n") == std::string::npos) {
        complain(key, Code::out_of_range, fmt::format("{} is empty", key));
        return std::nullopt;
    }
    return value;
}

std::optional<bool> Section::flag(std::string_view key) {
    static_cast<void>(known(key));
    return reader_.flag(key);
}

std::optional<int> Section::integer(std::string_view key) {
    const Field& f = known(key);
    const auto value = reader_.integer(key, static_cast<std::int64_t>(f.limits.least),
                                       static_cast<std::int64_t>(f.limits.most));
    return value ? std::optional(static_cast<int>(*value)) : std::nullopt;
}

namespace {

// A limit in the unit that the person uses.
std::string limit_text(double value, const units::Dimension& dimension, std::string_view shown) {
    if (&dimension == &units::length) {
        if (value == 0.0) return "0";
        std::string metric =
            std::abs(value) < 1.0 ? fmt::format("{:g} mm", value * 1e3) : fmt::format("{:g} m", value);
        if (std::abs(value) < 0.0254) return metric;
        return fmt::format("{} ({})", metric, units::feet_inches(value, std::abs(value) < 0.3 ? 16 : 1));
    }
    if (&dimension == &units::temperature && shown.find('F') != std::string_view::npos) {
        return fmt::format("{:.0f} degF", units::fahrenheit(value));
    }
    if (&dimension == &units::temperature) return fmt::format("{:g} degC", units::celsius(value));
    if (&dimension == &units::thermal_resistance && shown.find('R') != std::string_view::npos &&
        shown.find("RSI") == std::string_view::npos) {
        return fmt::format("R-{:.2g}", units::ip_r(value));
    }
    if (&dimension == &units::transmittance && shown.find('U') != std::string_view::npos) {
        return fmt::format("U-{:.2g}", units::ip_u(value));
    }
    if (&dimension == &units::area && value > 0.0 && value < 1e-3)
        return fmt::format("{:g} mm2", value * 1e6);
    if (&dimension == &units::air_leakage) return fmt::format("{:g} L/(s m2)", 1e3 * value);
    if (&dimension == &units::air_change) return fmt::format("{:g} ACH", value * 3600.0);
    if (dimension.si == "-")
        return shown.find('%') != std::string_view::npos ? fmt::format("{:g} %", value * 100)
                                                         : fmt::format("{:g}", value);
    return fmt::format("{:g} {}", value, dimension.si);
}

}  // namespace

std::optional<double> Section::quantity_of(const toml::node& node, const Field& f) {
    const auto value = units::read_quantity(node, f.key, *f.dimension);
    if (!value) {
        problems_.push_back(value.error());
        return std::nullopt;
    }
    // Asked this way round so that NaN is refused too.
    if (*value >= f.limits.least && *value <= f.limits.most) return *value;
    const auto* text = node.as_string();
    const std::string shown = text ? fmt::format("\"{}\"", text->get()) : fmt::format("{:g}", *value);
    problems_.push_back({.code = Code::out_of_range,
                         .what = fmt::format("{} {} is outside {} to {}", f.key, shown,
                                             limit_text(f.limits.least, *f.dimension, shown),
                                             limit_text(f.limits.most, *f.dimension, shown)),
                         .found = shown,
                         .where = units::place_of(node)});
    return std::nullopt;
}

std::optional<double> Section::quantity(std::string_view key) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    return node ? quantity_of(*node, f) : std::nullopt;
}

std::optional<Exact> Section::length_of(const toml::node& node, const Field& f) {
    const auto metres = quantity_of(node, f);
    return metres ? std::optional(Exact::nearest(*metres)) : std::nullopt;
}

std::optional<Exact> Section::length(std::string_view key) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    return node ? length_of(*node, f) : std::nullopt;
}

void Section::not_a_word(const Field& f, const std::string& found, std::string_view or_else) {
    const auto words = words_of(f);
    problems_.push_back({.code = Code::unknown_name,
                         .what = fmt::format("{} \"{}\" is not one of: {}{}", f.key, found, f.words, or_else),
                         .found = found,
                         .suggestion = nearest(found, words),
                         .where = place(f.key)});
}

std::optional<std::string> Section::word(std::string_view key) {
    const Field& f = known(key);
    auto value = reader_.text(key);
    if (!value) return std::nullopt;
    const auto words = words_of(f);
    if (std::find(words.begin(), words.end(), *value) != words.end()) return value;
    not_a_word(f, *value, "");
    return std::nullopt;
}

// A text that `parse` reads, whose problem goes on after the key.
template <class T>
std::optional<T> Section::parsed(std::string_view key, Result<T> (*parse)(std::string_view)) {
    static_cast<void>(known(key));
    const auto value = reader_.text(key);
    if (!value) return std::nullopt;
    auto out = parse(*value);
    if (out) return std::move(*out);
    Problem problem = std::move(out).error();
    problem.what = fmt::format("{} {}", key, problem.what);
    problem.where = place(key);
    problems_.push_back(std::move(problem));
    return std::nullopt;
}

std::optional<units::Price> Section::price(std::string_view key) {
    return parsed(key, units::parse_price);
}

std::optional<units::Amount> Section::amount(std::string_view key) {
    return parsed(key, units::parse_amount);
}

namespace {

// "6:30" and "22:00" in h.
Result<double> parse_clock(std::string_view text) {
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    const auto colon = text.find(':');
    const bool shaped = (colon == 1 || colon == 2) && text.size() == colon + 3 &&
                        std::all_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(colon), digit) &&
                        std::all_of(text.begin() + static_cast<std::ptrdiff_t>(colon) + 1, text.end(), digit);
    if (shaped) {
        int hours = 0;
        for (const char c : text.substr(0, colon)) hours = 10 * hours + (c - '0');
        const int minutes = 10 * (text[colon + 1] - '0') + (text[colon + 2] - '0');
        if (minutes < 60 && hours * 60 + minutes <= 24 * 60) return hours + minutes / 60.0;
    }
    Problem problem;
    problem.code = Code::syntax;
    problem.what = fmt::format("\"{}\" is not a time of day (\"22:00\", at most \"24:00\")", text);
    return fail(std::move(problem));
}

}  // namespace

std::optional<double> Section::clock(std::string_view key) {
    return parsed(key, parse_clock);
}

std::optional<double> Section::level(std::string_view key, std::initializer_list<double> values) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    if (!node) return std::nullopt;
    const auto* text = node->as_string();
    if (!text) return quantity_of(*node, f);
    const auto words = words_of(f);
    const auto found = std::find(words.begin(), words.end(), text->get());
    if (found != words.end()) return *(values.begin() + (found - words.begin()));
    if (units::parse(text->get(), *f.dimension)) return quantity_of(*node, f);
    not_a_word(f, text->get(), fmt::format(", or a number from {:g} to {:g}", f.limits.least, f.limits.most));
    return std::nullopt;
}

std::optional<double> Section::month(std::string_view key) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    if (!node) return std::nullopt;
    if (node->is_integer()) {
        const auto number = reader_.integer(key, 1, 12);
        return number ? std::optional(static_cast<double>(*number)) : std::nullopt;
    }
    const auto value = reader_.text(key);
    if (!value) return std::nullopt;
    const auto words = words_of(f);
    const auto found = std::find(words.begin(), words.end(), *value);
    if (found != words.end()) return static_cast<double>(found - words.begin()) + 1.0;
    not_a_word(f, *value, "");
    return std::nullopt;
}

std::optional<double> Section::pitch(std::string_view key) {
    static_cast<void>(known(key));
    const auto value = reader_.text(key);
    if (!value) return std::nullopt;
    std::optional<double> angle;
    const auto slash = value->find('/');
    if (slash != std::string::npos) {
        const auto rise = units::parse(value->substr(0, slash), units::number);
        const auto run = units::parse(value->substr(slash + 1), units::number);
        if (rise && run && *run > 0.0 && *rise >= 0.0) angle = std::atan(*rise / *run);
    } else if (const auto parsed = units::parse(*value, units::angle)) {
        angle = *parsed;
    }
    if (!angle) {
        complain(key, Code::wrong_unit,
                 fmt::format("{} \"{}\" is not a pitch (\"9/12\" or \"37 deg\")", key, *value));
        return std::nullopt;
    }
    // parse gives finite numbers only.
    if (*angle < 0.0 || *angle > 80.0 / 180.0 * std::numbers::pi) {
        complain(key, Code::out_of_range, fmt::format("{} \"{}\" is outside 0 to 80 deg", key, *value));
        return std::nullopt;
    }
    return angle;
}

std::optional<Point> Section::corner_of(const toml::node& node, const Field& f) {
    const auto* list = node.as_array();
    if (!list || list->size() != 2) {
        problems_.push_back({.code = Code::wrong_type,
                             .what = fmt::format("{}: a corner is two lengths, [\"12 ft\", \"8 ft\"]", f.key),
                             .where = units::place_of(node)});
        return std::nullopt;
    }
    const auto x = length_of((*list)[0], f);
    const auto y = length_of((*list)[1], f);
    return x && y ? std::optional(Point{*x, *y}) : std::nullopt;
}

std::optional<Point> Section::corner(std::string_view key) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    return node ? corner_of(*node, f) : std::nullopt;
}

std::optional<std::vector<Point>> Section::corners(std::string_view key, std::vector<Place>& places) {
    const Field& f = known(key);
    const auto* list = reader_.array(key);
    if (!list) return std::nullopt;
    std::vector<Point> out;
    bool sound = true;
    for (const auto& item : *list) {
        const auto point = corner_of(item, f);
        if (point) out.push_back(*point);
        sound = sound && point;
        places.push_back(units::place_of(item));
    }
    return sound ? std::optional(std::move(out)) : std::nullopt;
}

std::optional<std::pair<Exact, Exact>> Section::pair(std::string_view key) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    if (!node) return std::nullopt;
    const auto* list = node->as_array();
    if (!list || list->size() != 2) {
        complain(key, Code::wrong_type, fmt::format("{} is two lengths, [\"24 in\", \"16 in\"]", key));
        return std::nullopt;
    }
    const auto a = length_of((*list)[0], f);
    const auto b = length_of((*list)[1], f);
    return a && b ? std::optional(std::pair(*a, *b)) : std::nullopt;
}

std::optional<std::vector<Exact>> Section::lengths(std::string_view key, std::size_t count,
                                                   std::string_view shape) {
    const Field& f = known(key);
    const auto* node = reader_.node(key);
    if (!node) return std::nullopt;
    const auto* list = node->as_array();
    if (!list || list->size() != count) {
        complain(key, Code::wrong_type, fmt::format("{} is {}", key, shape));
        return std::nullopt;
    }
    std::vector<Exact> out;
    for (const auto& item : *list) {
        if (const auto each = length_of(item, f)) out.push_back(*each);
    }
    return out.size() == count ? std::optional(std::move(out)) : std::nullopt;
}

std::optional<std::pair<Exact, Exact>> Section::range(std::string_view key) {
    const auto both = lengths(key, 2, fmt::format("two lengths, {} = [\"0 in\", \"24 in\"]", key));
    if (!both) return std::nullopt;
    if ((*both)[0] == (*both)[1]) {
        complain(key, Code::out_of_range, fmt::format("{} has no extent: both ends are the same", key));
        return std::nullopt;
    }
    return std::minmax((*both)[0], (*both)[1]);
}

std::optional<std::vector<std::string>> Section::texts(std::string_view key) {
    static_cast<void>(known(key));
    return reader_.texts(key);
}

const toml::table* Section::table(std::string_view key) {
    static_cast<void>(known(key));
    return reader_.table(key);
}

const toml::array* Section::array(std::string_view key) {
    static_cast<void>(known(key));
    return reader_.array(key);
}

void Section::complain(std::string_view key, Code code, std::string what, std::string suggestion) {
    reader_.complain(key, code, std::move(what), std::move(suggestion));
}

void Section::warn(std::string_view key, Code code, std::string what, std::string suggestion) {
    reader_.warn(key, code, std::move(what), std::move(suggestion));
}

bool Section::is_misspelt(std::string_view key) const {
    std::vector<std::string> all;
    for (const Field* each : fields_of(kind_)) all.emplace_back(each->key);
    return std::any_of(table_.begin(), table_.end(), [&](const auto& entry) {
        const auto name = entry.first.str();
        return !field(kind_, name) && nearest(name, all) == key;
    });
}

void Section::missing(std::string_view key, std::string what, std::string suggestion) {
    if (has(key) || is_misspelt(key)) return;
    complain("", Code::missing, std::move(what), std::move(suggestion));
}

void Section::finish() {
    for (const Field* each : fields_of(kind_)) {
        if (!each->required) continue;
        missing(each->key, fmt::format("{} has no {}", title(), each->key), std::string(each->example));
    }
    reader_.finish();
}

}  // namespace warmside::project
