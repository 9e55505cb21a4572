#include "drawing/display.h"

#include <utility>

namespace warmside::drawing {

Polygon rectangle(const Box& box, Ink fill, Stroke stroke) {
    return Polygon{
        .points = {{box.x, box.y}, {box.right(), box.y}, {box.right(), box.bottom()}, {box.x, box.bottom()}},
        .closed = true,
        .fill = fill,
        .stroke = std::move(stroke)};
}

void add(std::vector<Item>& items, Group group) {
    items.emplace_back(std::make_shared<const Group>(std::move(group)));
}

}  // namespace warmside::drawing
