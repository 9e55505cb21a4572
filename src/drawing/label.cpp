#include "drawing/label.h"

#include <algorithm>

#include "drawing/type.h"

namespace warmside::drawing {

bool overlap(const Box& a, const Box& b) {
    return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

Box box_of(const Text& text) {
    const double width = width_of(text.text, text.font, text.size);
    const double left = text.anchor == Anchor::start    ? text.at.x
                        : text.anchor == Anchor::middle ? text.at.x - width / 2.0
                                                        : text.at.x - width;
    return {left, text.at.y - 0.74 * text.size, width, 0.92 * text.size};
}

bool Taken::free(const Box& box) const {
    return std::none_of(boxes_.begin(), boxes_.end(), [&](const Box& each) { return overlap(each, box); });
}

int draw_dimensions(std::vector<Item>& items, std::span<const Span> spans, const DimensionRow& row) {
    Group group{.part = "dimension"};
    const Stroke fine{.ink = Ink::quiet, .width = 0.5};
    std::vector<double> ends;
    for (const Span& span : spans) {
        group.items.emplace_back(Line{{span.from, row.y}, {span.to, row.y}, fine});
        for (const double x : {span.from, span.to}) {
            if (std::find(ends.begin(), ends.end(), x) == ends.end()) ends.push_back(x);
        }
    }
    for (const double x : ends) {
        group.items.emplace_back(
            Line{{x, row.witness}, {x, row.y + 3.0}, {.ink = Ink::hairline, .width = 0.5}});
        group.items.emplace_back(Line{{x - 2.5, row.y + 2.5}, {x + 2.5, row.y - 2.5}, {.width = 0.7}});
    }
    // Widest spans first: their words have room above their own line.
    std::vector<std::size_t> order(spans.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return spans[a].to - spans[a].from > spans[b].to - spans[b].from;
    });
    Taken taken;
    int left_out = 0;
    for (const std::size_t i : order) {
        const Span& span = spans[i];
        const double width = width_of(span.words, Font::condensed, row.size);
        const double middle = std::clamp((span.from + span.to) / 2.0, row.left + width / 2.0,
                                         std::max(row.left + width / 2.0, row.right - width / 2.0));
        bool placed = false;
        for (const double dy : {-3.0, 10.5, 20.0}) {
            Text text{.at = {middle, row.y + dy},
                      .text = span.words,
                      .anchor = Anchor::middle,
                      .font = Font::condensed,
                      .size = row.size};
            Box box = box_of(text);
            // Above the line only where it does not lie over the ticks of its own span.
            if (dy < 0.0 && width + 4.0 > span.to - span.from) continue;
            box.x -= 2.0;
            box.width += 4.0;
            if (!taken.free(box)) continue;
            taken.take(box);
            group.items.emplace_back(std::move(text));
            placed = true;
            break;
        }
        if (!placed) ++left_out;
    }
    add(items, std::move(group));
    return left_out;
}

}  // namespace warmside::drawing
