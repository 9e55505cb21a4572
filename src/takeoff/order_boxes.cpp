// Electrical boxes by the piece.
#include <map>

#include "assembly/boxes.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

struct Count {
    double pieces = 0.0;
    Origin origin;
};

void add_pieces(OrderWork& work, const std::string& name, const std::string& price_key, const Count& count) {
    Item item{.kind = "box",
              .name = name,
              .price_key = price_key,
              .net = count.pieces,
              .waste = work.rules.box_waste.value,
              .waste_source = work.rules.box_waste.origin.source,
              .unit = "piece",
              .package = "piece",
              .origin = count.origin};
    add_item(work, std::move(item), 1.0);
}

}  // namespace

bool is_new(const assembly::Assembly* assembly, const framing::WallBox& box) {
    const auto layer = static_cast<std::size_t>(box.layer);
    return !assembly || box.layer < 0 || layer >= assembly->layers.size() ||
           !assembly->layers[layer].existing;
}

void order_boxes(OrderWork& work) {
    std::map<std::pair<std::string, std::string>, Count> bodies;
    Count covers{.origin = work.rules.box_waste.origin};
    for (const framing::Panel& panel : work.frame.panels) {
        const assembly::Assembly* assembly = assembly_of(work, panel);
        for (const framing::WallBox& box : panel.boxes) {
            if (!is_new(assembly, box)) continue;
            Count& count = bodies[{box.body, box.title}];
            count.pieces += 1.0;
            count.origin = box.origin;
            if (box.pierces_airtight) covers.pieces += 1.0;
        }
    }
    for (const auto& [body, count] : bodies) add_pieces(work, body.second, body.first + " box", count);
    if (covers.pieces > 0.0) add_pieces(work, "airtight cover behind a box", "airtight box cover", covers);
    if (!bodies.empty()) work.out.notes.emplace_back(assembly::box_caution);
}

}  // namespace warmside::takeoff
