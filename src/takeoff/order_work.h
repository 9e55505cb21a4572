// The parts of an order while it is made; order_of (quantities.h) joins them.
#pragma once

#include <optional>
#include <set>
#include <string>

#include "takeoff/packages.h"
#include "takeoff/quantities.h"

namespace warmside::takeoff {

struct OrderWork {
    const assembly::House& house;
    const framing::Frame& frame;
    const Packages& rules;
    const Control& control;
    Order out;
    std::set<std::string> unknown;  ///< materials whose package no row tells
};

/// Screws through exterior insulation: their name and price key is this and a length, "5 in".
inline constexpr std::string_view long_screws = "insulation screws";

/// Cut from sheets of plywood: bucks, plates over I-joists, stops in gaps.
[[nodiscard]] bool from_sheets(const framing::Member& member);

/// How a material is sold: by its name, else by its family. Nothing is not `Form::none`: nobody knows.
[[nodiscard]] const Package* package_of(const Packages& rules, const material::Material& material);

/// The assembly that a panel is built as; null for a floor between heated storeys and the like.
[[nodiscard]] const assembly::Assembly* assembly_of(const OrderWork& work, const framing::Panel& panel);
/// "7/16 in" where it is whole in 64ths, "100 ft" where it is whole in feet and long, else "12.5 mm".
[[nodiscard]] std::string size_text(Exact length);

/// An item with `net` in `unit`, what is added and how many packages of `size` (same unit) that makes.
void add_item(OrderWork& work, Item item, double size);

[[nodiscard]] Result<void> order_lumber(OrderWork& work);
[[nodiscard]] Result<void> order_sheets(OrderWork& work);
void order_fill(OrderWork& work);    ///< insulation
void order_layers(OrderWork& work);  ///< skins and paint
[[nodiscard]] Result<void> order_membranes(OrderWork& work);
void order_joints(OrderWork& work);  ///< tape, sealant, gasket
void order_boxes(OrderWork& work);   ///< electrical boxes, and covers where they come through the sheet
void order_fasteners(OrderWork& work);

/// Whether the crew sets a box: one in an existing layer is there.
[[nodiscard]] bool is_new(const assembly::Assembly* assembly, const framing::WallBox& box);

}  // namespace warmside::takeoff
