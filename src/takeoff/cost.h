// What it costs: a price book, labour by operation, and the difference of a step.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "takeoff/quantities.h"

namespace warmside::takeoff {

struct Price {
    double value = 0.0;  ///< money per `unit`
    std::string unit;    ///< SI: m, m2, m3, kg, or "piece" (a package of the order), "hour"
    std::string date, place;
    Origin origin;  ///< source, or "demo"
};
/// Hours of one operation per unit of its measure.
struct Labour {
    double hours = 0.0;
    std::string per;        ///< m, m2, m3, kg, piece
    double learning = 0.0;  ///< share more the first time a crew does it
    Origin origin;
};
struct PriceBook {
    std::string name, currency = "USD", date, place;
    bool demo = false;                     ///< any price of it is invented for the example
    std::map<std::string, Price> prices;   ///< by price key
    std::map<std::string, Labour> labour;  ///< by operation
    double wage = 0.0;                     ///< money per hour; 0: the book gives none
    Origin wage_origin;
};

/// The source of an invented row.
inline constexpr const char* demo_source = "demo";

/// Reads a price book; a later one replaces prices of an earlier one, key by key. A book in another currency
/// replaces the earlier one whole: two currencies do not add up. The format stands in docs/prices.md. Money
/// per foot, square foot, ... becomes money per m, m2, ...
///
/// Problem  syntax, wrong_unit, wrong_type, out_of_range, unknown_key, unknown_name (an operation that nobody
///          asks for), missing (no date, place or source), each with its place; nothing is returned with an
///          error among them
[[nodiscard]] std::optional<PriceBook> read_price_book(std::string_view file_name, std::string_view text,
                                                       Problems& problems, const PriceBook* over = nullptr);
/// The same; of several problems the first.
[[nodiscard]] Result<PriceBook> read_price_book(std::string_view file_name, std::string_view text,
                                                const PriceBook* over = nullptr);
/// The built-in demo book, data/prices/demo.toml. Invented, and says so.
[[nodiscard]] const PriceBook& demo_prices();

struct CostLine {
    std::string group;  ///< material group or operation
    std::string name;
    double quantity = 0.0;
    std::string unit;
    double money = 0.0;
    double hours = 0.0;  ///< labour only
    bool labour = false;
    Origin origin;
};
struct Cost {
    std::vector<CostLine> lines;
    double material = 0.0, labour = 0.0, hours = 0.0, total = 0.0;  ///< money, h
    double area = 0.0;                                              ///< m2 of net wall
    bool roofs = false;                                             ///< roofs are among the lines
    [[nodiscard]] double per_area() const { return area > 0.0 ? total / area : 0.0; }
    std::string currency, date, place;
    bool demo = false;  ///< a line rests on an invented price
    std::vector<std::string> notes;
};

/// Materials by their gross quantity (by packages where the price is by the piece and the order is not), and
/// labour by operation (labour.h) at the wage of the book.
///
/// What is priced is what `frame` and `order` hold: give the walls alone for money per m2 of wall. Windows,
/// doors, roofing, foundation, services, waste disposal, overhead, profit and tax are not in it.
///
/// Problem  missing, with every price, every operation and the wage that the book lacks, one Problem each;
///          wrong_unit where a price is by another measure than the order; incomplete, a frame without panels
[[nodiscard]] tl::expected<Cost, Problems> cost_of(const assembly::House& house,
                                                   const assembly::Assembly& wall,
                                                   const framing::Frame& frame, const Order& order,
                                                   const PriceBook& book);

/// Where a thicker wall grows. The house file gives internal dimensions, so outwards is what the rest of the
/// program computes; inwards keeps the outside and gives up floor area.
enum class Growth { outwards, inwards };

/// From one rung to the next: what changes, with what follows from a thicker wall.
struct StepCost {
    double material = 0.0, labour = 0.0, total = 0.0, hours = 0.0;  ///< knock-on costs in them
    /// Lost floor area or a larger foundation, jamb extensions, wider sills, roof overhang, longer fasteners,
    /// learning. Negative where the wall gets thinner.
    std::vector<CostLine> knock_on;
    std::vector<CostLine> lines;  ///< by group, the difference of the rungs but for longer fasteners
    /// Money of the longer fasteners: a knock-on line that is in the rungs' own costs, and so in no other
    /// line.
    double within_rungs = 0.0;
    std::vector<std::string> notes;  ///< what was assumed
};
/// Every sum of money is told once:
///
///   total = sum of lines + sum of knock_on = to.total - from.total + sum of knock_on - within_rungs
///
///   footprint   A(t) = A + P t + sum tan(turn / 2) t^2 for an outline offset by t (polygon, mitred corners)
///   jambs       (2 h + w) x change of the reveal, window stools and outer sills w x change of theirs
///   fasteners   screws through the exterior insulation, as ordered: pieces x price of their length, less
///               those of the rung below. Length: batten, insulation, sheathing and what they need in the
///               stud, rounded up to one that is sold (data/takeoff/packages.toml)
///   learning    hours of an operation that the rung below does not have x its first-time share
///
/// Problem  missing, every price and operation that the knock-on costs ask for; conflict, costs in two
///          currencies
/// Source   elementary geometry; what is counted: common practice, no source
[[nodiscard]] tl::expected<StepCost, Problems> step_cost(const assembly::House& house,
                                                         const assembly::Assembly& from,
                                                         const Cost& from_cost, const assembly::Assembly& to,
                                                         const Cost& to_cost, const PriceBook& book,
                                                         Growth growth = Growth::outwards);

}  // namespace warmside::takeoff
