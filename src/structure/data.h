// Reads this room's data files, data/structure/*.toml. Their tables are our own: a slip stops the tests.
#pragma once

#include <cassert>
#include <string>
#include <string_view>
#include <vector>

#include "base/embedded.h"
#include "base/origin.h"
#include "units/reader.h"

namespace warmside::structure {

/// One data file under reading: asks for tables and rows, and keeps every problem.
class DataFile {
public:
    DataFile(std::string_view name, const toml::table& table) : name_(name), table_(table) {}
    /// A table of the file under reading; keys that nobody asks for are not problems here.
    [[nodiscard]] units::TableReader open(std::string_view key);
    [[nodiscard]] std::vector<units::TableReader> rows(std::string_view key);
    [[nodiscard]] Problems& problems() { return problems_; }
    /// `source` and `evidence` of a table, with its place.
    [[nodiscard]] Origin origin(units::TableReader& reader) const;
    /// The same with an evidence word of one of the table's values.
    [[nodiscard]] Origin origin(units::TableReader& reader, std::string_view evidence) const;

private:
    std::string name_;
    const toml::table& table_;
    Problems problems_;
};

/// SI; zero after a problem.
[[nodiscard]] double value(units::TableReader& reader, std::string_view key,
                           const units::Dimension& dimension);
[[nodiscard]] double number(units::TableReader& reader, std::string_view key);
/// A list of plain numbers times `factor`, or of texts with a unit.
[[nodiscard]] std::vector<double> list(units::TableReader& reader, std::string_view key, double factor = 1.0);
[[nodiscard]] std::vector<double> list(units::TableReader& reader, std::string_view key,
                                       const units::Dimension& dimension);
/// The size of one `unit`, SI: what a table's `unit` says of its numbers.
[[nodiscard]] double unit_of(units::TableReader& reader, const units::Dimension& dimension);

/// Parses an embedded file with `read(DataFile&) -> T`.
template <class T, class Read>
[[nodiscard]] Result<T> read_data(std::string_view name, std::string_view text, Read read) {
    const auto table = units::parse_toml(name, text);
    if (!table) return fail(table.error());
    DataFile file(name, *table);
    T out = read(file);
    if (!file.problems().empty()) return fail(file.problems().front());
    return out;
}
template <class T, class Read>
[[nodiscard]] T embedded_data(std::string_view path, Read read) {
    const auto text = embedded::find(path);
    assert(text && "the file is embedded");
    auto out = read_data<T>(path, *text, read);
    assert(out && "the file reads; structure_test checks it");
    return std::move(*out);
}

/// y at x on the line through the points, nothing outside them.
[[nodiscard]] std::optional<double> between(const std::vector<double>& x, const std::vector<double>& y,
                                            double at);

}  // namespace warmside::structure
