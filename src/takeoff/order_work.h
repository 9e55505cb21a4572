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

/// How a material is sold: by its name, else by its family. Nothing is not `Form::none`: nobody knows.
[[nodiscard]] const Package* package_of(const Packages& rules, const material::Material& material);

/// The assembly that a panel is built as; null for a floor between heated storeys and the like.
[[nodiscard]] const assembly::Assembly* assembly_of(const OrderWork& work, const framing::Panel& panel);
/// "7/16 in" where it is whole in 64ths, "100 ft" where it is whole in feet and long, else "12.5 mm".
[[nodiscard]] std::string size_text(Exact length);

/// m2 of the sheets placed in a layer, cut-outs out; 0 where none are.
[[nodiscard]] double placed_area(const framing::Panel& panel, int layer);
/// m2 of the inner face, rough openings out; of a gable wall what its lining covers, else its frame's
/// outline.
[[nodiscard]] double face_area(const OrderWork& work, const framing::Panel& panel);
/// m2 of a layer: of its sheets, else (outside of the framing) of the sheets there, else of the inner face.
[[nodiscard]] double layer_area(const OrderWork& work, const framing::Panel& panel, std::size_t layer);
/// m3 of what fills a framed layer between its members.
[[nodiscard]] double fill_volume(const OrderWork& work, const framing::Panel& panel, std::size_t layer);

/// The layer of the studs, joists or rafters: the deepest framed one that is not behind cladding.
[[nodiscard]] std::optional<std::size_t> structural_layer(const assembly::Assembly& assembly);

/// An item with `net` in `unit`, what is added and how many packages of `size` (same unit) that makes.
void add_item(OrderWork& work, Item item, double size);

[[nodiscard]] Result<void> order_lumber(OrderWork& work);
[[nodiscard]] Result<void> order_sheets(OrderWork& work);
void order_layers(OrderWork& work);  ///< insulation, skins, membranes, paint
void order_joints(OrderWork& work);  ///< tape, sealant, gasket
void order_fasteners(OrderWork& work);

}  // namespace warmside::takeoff
