// What it costs: a price book, labour by operation, and the difference of a step.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "takeoff/quantities.h"

namespace warmside::takeoff {

struct Price {
    double value = 0.0;  ///< money per `unit`
    std::string unit;    ///< SI: m, m2, m3, kg, or "piece", "hour"
    std::string date, place;
    Origin origin;  ///< source, or "demo"
};
/// Hours of one operation per unit of its measure.
struct Labour {
    double hours = 0.0;
    std::string per;        ///< m, m2, piece
    double learning = 0.0;  ///< share more the first time a crew does it
    Origin origin;
};
struct PriceBook {
    std::string name, currency = "USD", date, place;
    bool demo = false;                     ///< any price of it is invented for the example
    std::map<std::string, Price> prices;   ///< by price key
    std::map<std::string, Labour> labour;  ///< by operation
    double wage = 0.0;                     ///< money per hour
};

/// Reads a price book; a later one replaces prices of an earlier one, key by key.
/// Problem  syntax, wrong_unit, missing (no date, no source) with the place
[[nodiscard]] Result<PriceBook> read_price_book(std::string_view file_name, std::string_view text,
                                                const PriceBook* over = nullptr);
/// The built-in demo book. Invented, and says so.
[[nodiscard]] const PriceBook& demo_prices();

struct CostLine {
    std::string group;  ///< material group or operation
    std::string name;
    double quantity = 0.0;
    std::string unit;
    double money = 0.0;
    bool labour = false;
    Origin origin;
};
struct Cost {
    std::vector<CostLine> lines;
    double material = 0.0, labour = 0.0, hours = 0.0, total = 0.0;  ///< money, h
    double area = 0.0;                                              ///< m2 of net wall
    [[nodiscard]] double per_area() const { return area > 0.0 ? total / area : 0.0; }
    std::string currency, date, place;
    bool demo = false;
    std::vector<std::string> notes;
};

/// Problem  missing, with every price and every operation that the book lacks, one Problem each
[[nodiscard]] tl::expected<Cost, Problems> cost_of(const assembly::House& house,
                                                   const assembly::Assembly& wall,
                                                   const framing::Frame& frame, const Order& order,
                                                   const PriceBook& book);

/// From one rung to the next: what changes, with what follows from a thicker wall.
struct StepCost {
    double material = 0.0, labour = 0.0, total = 0.0, hours = 0.0;
    /// Lost floor area or a larger foundation, jamb extensions, longer fasteners, wider sills, roof overhang,
    /// learning.
    std::vector<CostLine> knock_on;
    std::vector<CostLine> lines;  ///< by group, the difference
};
[[nodiscard]] tl::expected<StepCost, Problems> step_cost(const assembly::House& house,
                                                         const assembly::Assembly& from,
                                                         const Cost& from_cost, const assembly::Assembly& to,
                                                         const Cost& to_cost, const PriceBook& book);

}  // namespace warmside::takeoff
