// Reads tables of a TOML text with places kept, collecting every problem instead of the first.
#pragma once

#include <initializer_list>
#include <limits>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "units/quantity.h"
#include "units/toml.h"

namespace warmside::units {

/// Parses TOML 1.0 (inline tables may run over lines). Problem: syntax, with place.
[[nodiscard]] Result<toml::table> parse_toml(std::string_view name, std::string_view text);

/// Where a node stands. The file is the name that parse_toml was given.
[[nodiscard]] Place place_of(const toml::node& node);

/// Limits a number must keep, SI. A value outside, or not finite, is a Problem with both limits.
struct Limits {
    double least = -std::numeric_limits<double>::infinity();
    double most = std::numeric_limits<double>::infinity();
};

/// One table under reading. Asks for keys by name; `finish` reports the keys nobody asked for.
/// A missing optional key gives nothing and no problem; a bad value gives nothing and a problem.
class TableReader {
public:
    /// `title` names the table in messages: `[assembly.w2]`, `layer 3 of w2`.
    TableReader(const toml::table& table, std::string title, Problems& problems)
        : table_(table), title_(std::move(title)), problems_(problems) {}

    [[nodiscard]] bool has(std::string_view key) const { return table_.contains(key); }
    [[nodiscard]] const toml::node* node(std::string_view key);  ///< marks the key as known
    [[nodiscard]] Place place() const { return place_of(table_); }
    [[nodiscard]] Place place(std::string_view key) const;  ///< of the value, else of the table
    [[nodiscard]] const std::string& title() const { return title_; }

    std::optional<std::string> text(std::string_view key);
    std::optional<bool> flag(std::string_view key);
    std::optional<std::int64_t> integer(std::string_view key, std::int64_t least, std::int64_t most);
    /// A text with unit, or a plain number where the dimension allows none. SI.
    std::optional<double> quantity(std::string_view key, const Dimension& dimension, Limits limits = {});
    std::optional<Exact> exact(std::string_view key, Limits limits = {});
    /// One of `words`; the nearest is suggested.
    std::optional<std::string> word(std::string_view key, std::initializer_list<std::string_view> words);
    std::optional<std::vector<std::string>> texts(std::string_view key);
    /// An array of quantities with unit, or of plain numbers already in SI.
    std::optional<std::vector<double>> quantities(std::string_view key, const Dimension& dimension,
                                                  Limits limits = {});
    const toml::table* table(std::string_view key);
    const toml::array* array(std::string_view key);

    /// As the readers above, but a missing key is a problem. Use: `if (auto v = r.required(r.text("name"),
    /// "name"))`.
    template <class T>
    std::optional<T> required(std::optional<T> value, std::string_view key) {
        if (!value && !has(key)) missing(key);
        return value;
    }
    void missing(std::string_view key);
    /// Adds a problem at the value of `key` (at the table if the key is absent).
    void complain(std::string_view key, Code code, std::string what, std::string suggestion = {});
    void warn(std::string_view key, Code code, std::string what, std::string suggestion = {});
    /// Reports each key that was never asked for, with the nearest known one.
    void finish();

private:
    void wrong_type(std::string_view key, std::string_view expected);
    const toml::table& table_;
    std::string title_;
    Problems& problems_;
    std::set<std::string, std::less<>> known_;
};

/// Reads one quantity from a node that is a text with unit, or a number for `number` and `fraction`.
[[nodiscard]] Result<double> read_quantity(const toml::node& node, std::string_view key,
                                           const Dimension& dimension, Limits limits = {});

}  // namespace warmside::units
