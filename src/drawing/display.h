// One display list for every drawing: what stands on the sheet, not how it is written.
#pragma once

#include <memory>
#include <string>
#include <variant>
#include <vector>

namespace warmside::drawing {

/// Roles of colour; light and dark sheets give them their values (web/report.css, svg.cpp).
enum class Ink { none, paper, ink, quiet, hairline, accent, wood, wool, pale };

/// Roles of type: body (Sans), condensed, figure (Sans, tabular), strong (Sans 600), mono.
enum class Font { body, condensed, figure, strong, mono };

enum class Anchor { start, middle, end };

/// Sheet units; x to the right, y down.
struct Point {
    double x = 0.0, y = 0.0;
    friend bool operator==(const Point&, const Point&) = default;
};

struct Box {
    double x = 0.0, y = 0.0, width = 0.0, height = 0.0;
    [[nodiscard]] double right() const { return x + width; }
    [[nodiscard]] double bottom() const { return y + height; }
};

struct Stroke {
    Ink ink = Ink::ink;
    double width = 0.5;
    std::vector<double> dash;  ///< on, off, ...; empty: solid
};

struct Line {
    Point from, to;
    Stroke stroke;
};

/// An open or closed run of points, filled or not.
struct Polygon {
    std::vector<Point> points;
    bool closed = true;
    Ink fill = Ink::none;
    Stroke stroke{.ink = Ink::none};
};

/// Cubic Bezier pieces: a start, then triples (control, control, end).
struct Curve {
    std::vector<Point> points;
    Stroke stroke;
};

struct Circle {
    Point centre;
    double radius = 1.0;
    Ink fill = Ink::none;
    Stroke stroke{.ink = Ink::none};
};

struct Text {
    Point at;  ///< baseline
    std::string text;
    Anchor anchor = Anchor::start;
    Font font = Font::body;
    double size = 10.0;
    Ink ink = Ink::ink;
};

/// A picture already encoded as PNG. A share of it may let the paper through.
struct Image {
    Box box;
    std::string png;
    double opacity = 1.0;
};

struct Group;

using Item = std::variant<Line, Polygon, Curve, Circle, Text, Image, std::shared_ptr<const Group>>;

/// Items that belong together; `title` and `description` are for readers who do not see the drawing.
struct Group {
    std::string title, description;
    std::string part;  ///< a stable word: "layer", "datum", "airtight"; empty for none
    bool clipped = false;
    Box clip;
    std::vector<Item> items;
};

/// A whole drawing in its own sheet units.
struct Sheet {
    double width = 0.0, height = 0.0;
    double margin = 0.0;  ///< of paper all round, beyond width and height
    Group root;           ///< title and description of the whole
};

/// A rectangle as a polygon.
[[nodiscard]] Polygon rectangle(const Box& box, Ink fill, Stroke stroke = {.ink = Ink::none});
/// Adds `group` to `items`.
void add(std::vector<Item>& items, Group group);

}  // namespace warmside::drawing
