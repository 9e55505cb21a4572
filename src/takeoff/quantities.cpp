#include "takeoff/quantities.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

constexpr std::array<std::string_view, 12> kinds{"lumber",   "truss",  "sheet",   "insulation",
                                                 "membrane", "tape",   "sealant", "gasket",
                                                 "cladding", "finish", "box",     "fastener"};

std::size_t rank(const std::string& kind) {
    return static_cast<std::size_t>(std::find(kinds.begin(), kinds.end(), kind) - kinds.begin());
}

bool framed(const framing::Frame& frame, const std::string& assembly) {
    return std::any_of(frame.panels.begin(), frame.panels.end(),
                       [&](const framing::Panel& panel) { return panel.assembly == assembly; });
}

/// What the house has and the order has not.
void note_left_out(OrderWork& work) {
    auto& notes = work.out.notes;
    for (const auto& floor : work.house.floors)
        if (!floor.assembly.empty() && !framed(work.frame, floor.assembly))
            notes.push_back(fmt::format(
                "floor {} is not framed: its layers are the foundation's, not in the order", floor.name));
    for (const auto& roof : work.house.roofs)
        if (roof.over_attic)
            notes.push_back(fmt::format("roof {}: covering and underlay are not in the order", roof.name));
    notes.emplace_back("cables, wiring devices and their plates are not in the order");
    notes.emplace_back(
        "windows, doors, flashing, anchors, straps, hangers and hold-downs are not in the order");
}

}  // namespace

Result<Order> order_of(const assembly::House& house, const assembly::Assembly&, const framing::Frame& frame,
                       const Control& control) {
    OrderWork work{house, frame, packages(), control, {}, {}};
    if (auto done = order_lumber(work); !done) return fail(std::move(done).error());
    if (auto done = order_sheets(work); !done) return fail(std::move(done).error());
    order_fill(work);
    if (auto done = order_membranes(work); !done) return fail(std::move(done).error());
    order_layers(work);
    order_joints(work);
    order_boxes(work);
    order_fasteners(work);
    if (!work.unknown.empty())
        return fail(Problem{
            .code = Code::missing,
            .what = fmt::format("nothing tells how these are sold: {}", fmt::join(work.unknown, ", ")),
            .expected = "a row of data/takeoff/packages.toml",
            .suggestion = "name a family (batt, panel, siding, ...) for a material of your own"});
    note_left_out(work);
    auto& items = work.out.items;
    std::stable_sort(items.begin(), items.end(),
                     [](const Item& a, const Item& b) { return rank(a.kind) < rank(b.kind); });
    auto& notes = work.out.notes;
    // Each once, where it was told first.
    std::vector<std::string> told;
    for (std::string& note : notes)
        if (std::find(told.begin(), told.end(), note) == told.end()) told.push_back(std::move(note));
    notes = std::move(told);
    return std::move(work.out);
}

}  // namespace warmside::takeoff
