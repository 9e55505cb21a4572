#include "drawing/hatch.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace warmside::drawing {
namespace {

/// Scatter for dots and strokes: the same for the same box, no pattern to the eye.
class Scatter {
public:
    double next() {
        state_ = state_ * 1664525U + 1013904223U;
        return static_cast<double>(state_ >> 8U) / 16777216.0;
    }

private:
    std::uint32_t state_ = 2463534242U;
};

/// Steps of `pitch` that cover `length`.
int steps(double length, double pitch) {
    return std::max(0, static_cast<int>(std::ceil(length / pitch)));
}

void loops(std::vector<Item>& items, const Box& box, const Stroke& stroke) {
    const double pitch = 4.4;  // half a loop
    const double bulge = 9.2;  // more than the pitch: the ends turn round, as a pen draws them
    const double inset = std::min(0.8, box.width / 8.0);
    Curve curve{.stroke = stroke};
    double y = box.y - 8.0;
    bool left = true;
    const auto side = [&](bool l) { return l ? box.x + inset : box.right() - inset; };
    curve.points.push_back({side(left), y});
    while (y < box.bottom() + 8.0) {
        curve.points.push_back({side(left), y + bulge});
        curve.points.push_back({side(!left), y + pitch - bulge});
        curve.points.push_back({side(!left), y + pitch});
        y += pitch;
        left = !left;
    }
    items.emplace_back(std::move(curve));
}

void waves(std::vector<Item>& items, const Box& box, const Stroke& stroke) {
    const double pitch = 5.4, length = 4.2, height = 1.7;
    const int rows = steps(box.height, pitch) + 1, columns = steps(box.width, length) + 2;
    for (int row = 0; row < rows; ++row) {
        const double y = box.y + pitch * (row + 0.5);
        const double start = box.x - (row % 2 == 0 ? 0.0 : length);
        Curve curve{.points = {{start, y}}, .stroke = stroke};
        for (int column = 0; column < columns; ++column) {
            const double x = start + length * column, sign = column % 2 == 0 ? 1.0 : -1.0;
            curve.points.push_back({x + length * 0.36, y - sign * height});
            curve.points.push_back({x + length * 0.64, y - sign * height});
            curve.points.push_back({x + length, y});
        }
        items.emplace_back(std::move(curve));
    }
}

void grain(std::vector<Item>& items, const Box& box, const Stroke& stroke) {
    const int lines = std::max(1, static_cast<int>(box.width / 3.2));
    for (int i = 1; i <= lines; ++i) {
        const double x = box.x + box.width * i / (lines + 1);
        const double sway = 0.5;
        Curve curve{.points = {{x, box.y}}, .stroke = stroke};
        for (int k = 0; k < steps(box.height, 46.0); ++k) {
            const double y = box.y + 46.0 * k, sign = (i + k) % 2 == 0 ? 1.0 : -1.0;
            curve.points.push_back({x + sign * sway, y + 15.0});
            curve.points.push_back({x + sign * sway, y + 31.0});
            curve.points.push_back({x, y + 46.0});
        }
        items.emplace_back(std::move(curve));
    }
}

void strokes(std::vector<Item>& items, const Box& box, const Stroke& stroke) {
    Scatter scatter;
    for (int i = 0; i < steps(box.height, 2.6); ++i) {
        const double y = box.y + 2.6 * i;
        const double x = box.x + box.width * (0.12 + 0.6 * scatter.next());
        const double run = box.width * 0.3, rise = 2.4 + 1.6 * scatter.next();
        items.emplace_back(Line{{x, y + rise}, {x + run, y}, stroke});
    }
}

void dots(std::vector<Item>& items, const Box& box, Ink ink, double each) {
    Scatter scatter;
    const int count = std::clamp(static_cast<int>(box.width * box.height / each), 4, 400);
    for (int i = 0; i < count; ++i) {
        // Even along the wall, random across: no clumps.
        const double y = box.y + box.height * (i + 0.5) / count;
        const double x = box.x + box.width * (0.12 + 0.76 * scatter.next());
        items.emplace_back(Circle{.centre = {x, y}, .radius = 0.42, .fill = ink});
    }
}

void triangles(std::vector<Item>& items, const Box& box, const Stroke& stroke) {
    Scatter scatter;
    const int count = std::clamp(static_cast<int>(box.width * box.height / 170.0), 3, 120);
    for (int i = 0; i < count; ++i) {
        const double y = box.y + box.height * (i + 0.5) / count;
        const double x = box.x + box.width * (0.1 + 0.8 * scatter.next());
        const double turn = 2.0944 * scatter.next();
        Polygon triangle{.stroke = stroke};
        for (int k = 0; k < 3; ++k)
            triangle.points.push_back(
                {x + 1.9 * std::cos(turn + 2.0944 * k), y + 1.9 * std::sin(turn + 2.0944 * k)});
        items.emplace_back(std::move(triangle));
    }
}

void diagonals(std::vector<Item>& items, const Box& box, const Stroke& stroke, double pitch, bool both) {
    for (int i = 0; i < steps(box.height + 2.0 * box.width, pitch); ++i) {
        const double y = box.y - box.width + pitch * i;
        items.emplace_back(Line{{box.x, y + box.width}, {box.right(), y}, stroke});
        if (both) items.emplace_back(Line{{box.x, y}, {box.right(), y + box.width}, stroke});
    }
}

}  // namespace

Ink ground_of(std::string_view word) {
    if (word == "batt" || word == "board" || word == "foam") return Ink::wool;
    if (word == "wood" || word == "sheathing") return Ink::wood;
    if (word == "concrete" || word == "brick") return Ink::pale;
    return Ink::paper;
}

Group hatch(std::string_view word, const Box& box, Ink ink) {
    Group group{.part = "hatch", .clipped = true, .clip = box};
    if (box.width <= 0.0 || box.height <= 0.0) return group;
    const Stroke fine{.ink = ink, .width = 0.5};
    auto& items = group.items;
    if (word == "batt") loops(items, box, {.ink = ink, .width = 0.7});
    if (word == "board") waves(items, box, {.ink = ink, .width = 0.7});
    if (word == "wood") grain(items, box, {.ink = ink, .width = 0.35});
    if (word == "sheathing") strokes(items, box, fine);
    if (word == "gypsum") dots(items, box, ink, 20.0);
    if (word == "foam") diagonals(items, box, fine, 8.0, true);
    if (word == "brick") diagonals(items, box, fine, 4.0, false);
    if (word == "concrete") {
        dots(items, box, ink, 45.0);
        triangles(items, box, fine);
    }
    return group;
}

Group crossed(const Box& box, Ink ink) {
    Group group{.part = "cut framing"};
    const Stroke fine{.ink = ink, .width = 0.4};
    group.items.emplace_back(rectangle(box, Ink::wood));
    group.items.emplace_back(Line{{box.x, box.y}, {box.right(), box.bottom()}, fine});
    group.items.emplace_back(Line{{box.x, box.bottom()}, {box.right(), box.y}, fine});
    group.items.emplace_back(rectangle(box, Ink::none, {.ink = ink, .width = 0.8}));
    return group;
}

}  // namespace warmside::drawing
