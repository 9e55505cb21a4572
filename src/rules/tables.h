// The code's tables as data: one cell a zone, each with its citation, source and evidence.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "rules/zone.h"
#include "units/quantity.h"

namespace warmside::rules {

/// One way to meet a row of an R table, m2 K/W.
struct LayerOption {
    double cavity = 0.0, continuous = 0.0;
};

/// What one row asks in one zone.
struct Cell {
    bool asked = true;                 ///< false: NR, nothing is asked
    double value = 0.0;                ///< SI; kind number
    std::vector<LayerOption> options;  ///< kind layers: any one of them
    std::optional<double> inside;      ///< m2 K/W, mass wall: where over half of the insulation is inside
    double depth = 0.0;                ///< m, slab edge
    double full = 0.0;                 ///< m2 K/W under the whole slab
    std::string words;                 ///< as printed: "30 or 20&5ci", "yes"
    std::string citation;              ///< "IECC 2021 Table R402.1.2"
    Origin origin;                     ///< source and evidence
    std::string note;
};

struct Table {
    enum class Kind { number, layers, words };
    Kind kind = Kind::number;
    const units::Dimension* dimension = nullptr;  ///< of the numbers, never null after reading
    std::string unit;                             ///< as printed, empty for plain numbers
    std::vector<std::string> footnotes;
    /// By row: a cell for each column of zone.h; nothing where the printed table has none.
    std::map<std::string, std::array<std::optional<Cell>, columns>, std::less<>> rows;
};

/// The tables of one edition, energy code and residential code together.
struct Tables {
    int edition = 0;
    std::map<std::string, Table, std::less<>> tables;
    std::vector<std::string> amendments;  ///< names of those that were laid over them

    /// Null where the edition has no such table or row, or no column for the zone.
    [[nodiscard]] const Cell* find(std::string_view table, std::string_view row, Zone zone) const;
    [[nodiscard]] const std::vector<std::string>& footnotes(std::string_view table) const;
};

/// Reads one file of data/rules: [code], then [[table]] with [[table.row]].
/// Every mistake is added to `problems` with its place; the tables that were good are added to `tables`.
void read_tables(std::string_view name, std::string_view text, Tables& tables, Problems& problems);

/// Lays a local amendment over the tables; docs/local-amendments.md is its format. Nothing is changed where
/// an error is found. Problems: every one, with its place.
void amend(std::string_view name, std::string_view text, Tables& tables, Problems& problems);

/// The embedded tables of an edition: 2018, 2021 or 2024. Problem  unsupported, another edition
[[nodiscard]] Result<Tables> tables_of(int edition);

/// Reads "30 or 20&5ci or 0&20ci", "10ci, 4 ft", "5ci, 5 full", "8/13", "NR": R in h ft2 degF/Btu, as
/// printed. Problem  syntax
[[nodiscard]] Result<Cell> read_layers(std::string_view text);

}  // namespace warmside::rules
