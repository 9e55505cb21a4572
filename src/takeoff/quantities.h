// What to buy: lumber, sheets, insulation, membranes, tape, fasteners, with stated waste.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "framing/frame.h"
#include "takeoff/cutting.h"

namespace warmside::takeoff {

/// One line of the order.
struct Item {
    std::string kind;  ///< lumber, sheet, insulation, membrane, tape, sealant, gasket, box, fastener, truss,
                       ///< finish, cladding
    std::string name;  ///< "2x6 spruce-pine-fir Stud, 16 ft", "stone wool batt, 5 1/2 in x 23 in"
    std::string price_key;  ///< what the price book calls it: "2x6", "osb 7/16 in"
    double net = 0.0;       ///< what is built in, in `unit`
    double waste = 0.0;     ///< share added; 0 where a cutting plan found the pieces
    std::string waste_source;
    double gross = 0.0;   ///< in `unit`
    std::string unit;     ///< SI: m, m2, m3, kg, or "piece"
    double count = 0.0;   ///< packages to buy: pieces, sheets, bags, rolls
    std::string package;  ///< "piece of 4.877 m", "sheet 4 x 8 ft", "roll 1.5 x 50 m"
    Origin origin;
};

struct Order {
    std::vector<Item> items;        ///< grouped by kind
    std::vector<CutPlan> lumber;    ///< one per section and grade
    std::vector<SheetPlan> sheets;  ///< one per sheet material
    std::vector<std::string> notes;
};

/// Everything in the walls (and floors and roofs) of a framed house.
///
/// Problem  those of cut_plan; missing (a layer whose package is not known)
[[nodiscard]] Result<Order> order_of(const assembly::House& house, const assembly::Assembly& wall,
                                     const framing::Frame& frame, const Control& control = {});

}  // namespace warmside::takeoff
