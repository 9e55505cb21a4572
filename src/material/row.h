// One row of the catalogue under reading: values plain, or with a source of their own.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/origin.h"
#include "material/material.h"
#include "units/reader.h"

namespace warmside::material {

/// `density = "640 kg/m3"`, or `density = { value = "640 kg/m3", source = "...", evidence = "quoted" }`.
/// The row's own `source` and `evidence` stand for every value that does not state its own.
class Row {
public:
    /// Rows of our data must state source and evidence; those of a house file may.
    Row(const toml::table& table, std::string title, Origin::Kind kind, Problems& problems);

    units::TableReader reader;

    [[nodiscard]] const Origin& origin() const { return origin_; }
    /// Key and Origin of every value that was asked for and stands in the row.
    [[nodiscard]] const std::vector<std::pair<std::string, Origin>>& value_origin() const {
        return value_origin_;
    }

    struct Value {
        const toml::node* node = nullptr;     ///< null when absent or broken
        const toml::table* around = nullptr;  ///< the table that wraps it, if one does
    };
    /// The value of `key`, its Origin noted. `more` is one further key that the wrapping table may have.
    Value value(std::string_view key, std::string_view more = {});

    std::optional<double> quantity(std::string_view key, const units::Dimension& dimension,
                                   units::Limits limits);
    std::optional<double> read(const toml::node& node, std::string_view key,
                               const units::Dimension& dimension, units::Limits limits);
    /// `[["50 %", "0.4 %"], ...]`: humidity and a quantity. At least one pair; humidity rises, within
    /// `humidity`.
    std::optional<Curve> pairs(std::string_view key, const toml::node& node,
                               const units::Dimension& dimension, units::Limits humidity,
                               units::Limits limits);
    void complain(const toml::node& at, Code code, std::string what, std::string suggestion = {});

private:
    Origin origin_in(units::TableReader& from, const Origin& fallback);

    Origin::Kind kind_;
    Problems& problems_;
    Origin origin_;
    std::vector<std::pair<std::string, Origin>> value_origin_;
};

}  // namespace warmside::material
