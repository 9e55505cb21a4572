// Prices and hours out of a book, with what is missing collected.
#pragma once

#include <set>
#include <string_view>

#include "takeoff/cost.h"

namespace warmside::takeoff {

/// Each missing key is a Problem once, however often it is asked for.
class Lookup {
public:
    explicit Lookup(const PriceBook& book) : book_(book) {}

    /// Null and a Problem where the book has no such price. `words`: what it is for.
    const Price* price(std::string_view key, std::string_view words);
    const Labour* labour(std::string_view operation, std::string_view words);
    /// Money per hour; 0 and a Problem where the book gives none.
    double wage();
    /// A labour line; nothing where the book lacks something.
    std::optional<CostLine> work(std::string_view operation, std::string_view words, double quantity,
                                 std::string_view unit);
    /// A material line by a price whose unit has to be `unit`; nothing where the book lacks it.
    std::optional<CostLine> material(std::string_view group, std::string_view key, std::string_view words,
                                     double quantity, std::string_view unit);
    void wrong_unit(const Price& price, std::string_view key, std::string_view unit);

    [[nodiscard]] const Problems& problems() const { return problems_; }

private:
    bool first(std::string_view kind, std::string_view key);
    const PriceBook& book_;
    Problems problems_;
    std::set<std::string> told_;
};

}  // namespace warmside::takeoff
