#include "takeoff/lookup.h"

#include <fmt/format.h>

#include "base/nearest.h"

namespace warmside::takeoff {
namespace {

template <class T>
std::string nearest_key(std::string_view key, const std::map<std::string, T>& rows) {
    std::vector<std::string> known;
    for (const auto& [name, row] : rows) known.push_back(name);
    return nearest(key, known);
}

}  // namespace

bool Lookup::first(std::string_view kind, std::string_view key) {
    return told_.insert(fmt::format("{} {}", kind, key)).second;
}

const Price* Lookup::price(std::string_view key, std::string_view words) {
    const auto at = book_.prices.find(std::string(key));
    if (at != book_.prices.end()) return &at->second;
    if (first("price", key))
        problems_.push_back({.code = Code::missing,
                             .what = fmt::format("the price book has no price \"{}\" ({})", key, words),
                             .suggestion = nearest_key(key, book_.prices)});
    return nullptr;
}

const Labour* Lookup::labour(std::string_view operation, std::string_view words) {
    const auto at = book_.labour.find(std::string(operation));
    if (at != book_.labour.end()) return &at->second;
    if (first("labour", operation))
        problems_.push_back(
            {.code = Code::missing,
             .what = fmt::format("the price book has no hours for \"{}\" ({})", operation, words),
             .suggestion = nearest_key(operation, book_.labour)});
    return nullptr;
}

double Lookup::wage() {
    if (!(book_.wage > 0.0) && first("wage", ""))
        problems_.push_back({.code = Code::missing, .what = "the price book has no wage"});
    return book_.wage;
}

std::optional<CostLine> Lookup::work(std::string_view operation, std::string_view words, double quantity,
                                     std::string_view unit) {
    const double wage_here = wage();
    const Labour* row = labour(operation, words);
    if (!row || !(wage_here > 0.0)) return std::nullopt;
    const double hours = quantity * row->hours;
    return CostLine{.group = std::string(operation),
                    .name = std::string(words),
                    .quantity = quantity,
                    .unit = std::string(unit),
                    .money = hours * wage_here,
                    .hours = hours,
                    .labour = true,
                    .origin = row->origin};
}

std::optional<CostLine> Lookup::material(std::string_view group, std::string_view key, std::string_view words,
                                         double quantity, std::string_view unit) {
    const Price* row = price(key, words);
    if (!row) return std::nullopt;
    if (row->unit != unit) {
        wrong_unit(*row, key, unit);
        return std::nullopt;
    }
    return CostLine{.group = std::string(group),
                    .name = std::string(words),
                    .quantity = quantity,
                    .unit = std::string(unit),
                    .money = quantity * row->value,
                    .origin = row->origin};
}

void Lookup::wrong_unit(const Price& price, std::string_view key, std::string_view unit) {
    if (!first("unit", key)) return;
    problems_.push_back(
        {.code = Code::wrong_unit,
         .what = fmt::format("the price \"{}\" is by {}, but it is bought by {}", key, price.unit, unit),
         .where = price.origin.where});
}

}  // namespace warmside::takeoff
