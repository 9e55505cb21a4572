// One table of the house file under reading, with its fields known from the field table.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "assembly/assembly.h"
#include "project/fields.h"
#include "units/price.h"
#include "units/reader.h"

namespace warmside::project {

/// Asks for keys by name only: kind, unit, limits and words come from the field table. Asking for a key that
/// the field table does not have is our own slip (assert). A bad value gives nothing and a problem.
class Section {
public:
    /// `kind` is a Field's table; `title` names this one in messages: `[assembly.w2]`, `layer 3 of w2`.
    Section(const toml::table& table, std::string_view kind, std::string title, Problems& problems);

    [[nodiscard]] bool has(std::string_view key) const { return reader_.has(key); }
    [[nodiscard]] Place place() const { return reader_.place(); }
    [[nodiscard]] Place place(std::string_view key) const { return reader_.place(key); }
    [[nodiscard]] const std::string& title() const { return reader_.title(); }
    [[nodiscard]] Origin origin() const { return {.kind = Origin::Kind::house_file, .where = place()}; }
    [[nodiscard]] Origin origin(std::string_view key) const {
        return {.kind = Origin::Kind::house_file, .where = place(key)};
    }

    std::optional<std::string> text(std::string_view key);  ///< never empty
    std::optional<bool> flag(std::string_view key);
    std::optional<int> integer(std::string_view key);
    std::optional<double> quantity(std::string_view key);
    std::optional<units::Exact> length(std::string_view key);
    std::optional<std::string> word(std::string_view key);
    std::optional<units::Price> price(std::string_view key);
    std::optional<units::Amount> amount(std::string_view key);  ///< of a fuel
    std::optional<double> clock(std::string_view key);          ///< h from midnight, 0 to 24
    /// A word of the field, whose value is at the same index in `values`, or a plain number.
    std::optional<double> level(std::string_view key, std::initializer_list<double> values);
    std::optional<double> month(std::string_view key);  ///< 1 to 12
    std::optional<double> pitch(std::string_view key);  ///< rad, 0 to 80 degrees
    std::optional<assembly::Point> corner(std::string_view key);
    /// `places` receives where each corner stands.
    std::optional<std::vector<assembly::Point>> corners(std::string_view key, std::vector<Place>& places);
    std::optional<std::pair<units::Exact, units::Exact>> pair(std::string_view key);
    /// Exactly `count` lengths; `shape` says in messages what they are.
    std::optional<std::vector<units::Exact>> lengths(std::string_view key, std::size_t count,
                                                     std::string_view shape);
    /// Two lengths that differ, the smaller first.
    std::optional<std::pair<units::Exact, units::Exact>> range(std::string_view key);
    std::optional<std::vector<std::string>> texts(std::string_view key);
    const toml::table* table(std::string_view key);
    const toml::array* array(std::string_view key);

    /// Whether some unknown key of the table was probably meant to be `key`.
    [[nodiscard]] bool is_misspelt(std::string_view key) const;
    /// Complains that `key` is not there, unless a misspelt one is (which `finish` reports).
    void missing(std::string_view key, std::string what, std::string suggestion = {});
    void complain(std::string_view key, Code code, std::string what, std::string suggestion = {});
    void warn(std::string_view key, Code code, std::string what, std::string suggestion = {});
    /// Reports unknown keys and the required ones that are absent.
    void finish();

private:
    [[nodiscard]] const Field& known(std::string_view key) const;
    const toml::table& table_;
    std::optional<double> quantity_of(const toml::node& node, const Field& field);
    std::optional<units::Exact> length_of(const toml::node& node, const Field& field);
    std::optional<assembly::Point> corner_of(const toml::node& node, const Field& field);
    template <class T>
    std::optional<T> parsed(std::string_view key, Result<T> (*parse)(std::string_view));
    void not_a_word(const Field& field, const std::string& found, std::string_view or_else);
    units::TableReader reader_;
    std::string_view kind_;
    Problems& problems_;
};

}  // namespace warmside::project
