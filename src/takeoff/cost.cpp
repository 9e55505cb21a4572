#include "takeoff/cost.h"

#include <fmt/format.h>

#include <algorithm>

#include "takeoff/areas.h"
#include "takeoff/labour.h"
#include "takeoff/lookup.h"

namespace warmside::takeoff {
namespace {

using framing::Panel;

/// By the gross quantity where the price has the order's measure, else by the package.
std::optional<CostLine> line_of(const Item& item, Lookup& lookup) {
    if (!(item.gross > 0.0) && !(item.count > 0.0)) return std::nullopt;
    const Price* price = lookup.price(item.price_key, item.name);
    if (!price) return std::nullopt;
    const bool by_measure = price->unit == item.unit;
    if (!by_measure && (price->unit != "piece" || !(item.count > 0.0))) {
        lookup.wrong_unit(*price, item.price_key, item.unit);
        return std::nullopt;
    }
    const double quantity = by_measure ? item.gross : item.count;
    return CostLine{.group = item.kind,
                    .name = item.name,
                    .quantity = quantity,
                    .unit = price->unit,
                    .money = quantity * price->value,
                    .origin = price->origin};
}

double wall_area(const assembly::House& house, const framing::Frame& frame) {
    if (frame.factor.net_area > 0.0) return frame.factor.net_area;
    double area = 0.0;
    for (const Panel& panel : frame.panels) {
        if (panel.kind == Panel::Kind::wall && panel.assembly == frame.assembly)
            area += face_area(house, panel);
    }
    return area;
}

void sum(Cost& cost) {
    for (const CostLine& line : cost.lines) {
        (line.labour ? cost.labour : cost.material) += line.money;
        cost.hours += line.hours;
        cost.demo = cost.demo || line.origin.source == demo_source;
    }
    cost.total = cost.material + cost.labour;
}

}  // namespace

tl::expected<Cost, Problems> cost_of(const assembly::House& house, const assembly::Assembly& wall,
                                     const framing::Frame& frame, const Order& order, const PriceBook& book) {
    if (frame.panels.empty())
        return tl::make_unexpected(
            Problems{{.code = Code::incomplete,
                      .what = fmt::format("nothing is framed with {}, so nothing is priced", wall.name),
                      .where = wall.origin.where}});
    Lookup lookup(book);
    Cost cost;
    for (const Item& item : order.items) {
        if (auto line = line_of(item, lookup)) cost.lines.push_back(std::move(*line));
    }
    for (const Work& work : work_of(house, frame)) {
        if (auto line = lookup.work(work.operation, work.words, work.quantity, work.unit))
            cost.lines.push_back(std::move(*line));
    }
    if (!lookup.problems().empty()) return tl::make_unexpected(lookup.problems());
    sum(cost);
    cost.area = wall_area(house, frame);
    const auto is = [&](Panel::Kind kind) {
        return std::any_of(frame.panels.begin(), frame.panels.end(),
                           [&](const Panel& panel) { return panel.kind == kind; });
    };
    cost.roofs = is(Panel::Kind::roof);
    cost.currency = book.currency;
    cost.date = book.date;
    cost.place = book.place;
    if (cost.demo)
        cost.notes.emplace_back("prices or hours are invented for the example: put your own in a price book");
    if (cost.area > 0.0 && (cost.roofs || is(Panel::Kind::floor) || is(Panel::Kind::ceiling)))
        cost.notes.push_back(fmt::format(
            "floors and roofs are in the sum, which is divided by the walls' area of {}", wall.name));
    cost.notes.emplace_back(
        "not in it: windows and doors, roofing, foundation, services, waste disposal, overhead, profit, tax");
    return cost;
}

}  // namespace warmside::takeoff
