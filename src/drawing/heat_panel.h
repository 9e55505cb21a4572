// What both figures of heat share: planes to one scale on a sheet, their outlines, names and marks.
#pragma once

#include <array>
#include <functional>
#include <memory>

#include "drawing/heat_figure.h"

namespace warmside::drawing {

/// One plane in its box on the sheet.
struct HeatPanel {
    std::unique_ptr<Slice> slice;
    Window window;
    Box box;
    double scale = 1.0;  ///< sheet units per m
    bool cropped = false;
    std::string title;

    [[nodiscard]] bool upside_down() const { return slice->cut().upside_down; }
    [[nodiscard]] Point to_sheet(const Point& p) const {
        const double y = (p.y - window.bottom) * scale;
        return {box.x + (p.x - window.left) * scale, upside_down() ? box.y + y : box.bottom() - y};
    }
    [[nodiscard]] Point to_plane(const Point& p) const {
        const double y = upside_down() ? p.y - box.y : box.bottom() - p.y;
        return {window.left + (p.x - box.x) / scale, window.bottom + y / scale};
    }
};

/// Words beside a picture with a line to what they name.
struct Callout {
    std::string words;
    Point at;  ///< what is named, on the sheet
    Ink ink = Ink::ink;
    double y = 0.0;  ///< height of the words
};

/// A sheet under construction.
struct HeatSheet {
    Sheet sheet;
    std::vector<HeatPanel> panels;
    std::array<std::vector<Callout>, 2> callouts;  ///< left and right
    Box bar;                                       ///< where the colours are explained
    double below = 0.0;                            ///< first free height
};
[[nodiscard]] HeatSheet laid_out(const HeatSubject& subject, std::span<const HeatView> views,
                                 const HeatFrame& frame);

/// Index of a colour at a point of the plane; nothing leaves it blank.
using ColourAt = std::function<std::optional<std::uint8_t>(const Slice&, const Point&)>;
/// The field as an image; indices up to 254.
[[nodiscard]] Result<void> draw_field(std::vector<Item>& items, const HeatPanel& panel, double pixels,
                                      const std::array<std::uint32_t, 256>& palette, const ColourAt& colour);
inline constexpr double field_opacity = 0.72;

void draw_outlines(std::vector<Item>& items, const HeatPanel& panel, std::span<const std::string> words);
/// Names of the materials, and the words of the mark, at both sides; a ring at the mark.
void draw_names(std::vector<Item>& items, const HeatSheet& sheet, const HeatSubject& subject);
/// The line from words to what they name: from the side of the pictures on.
[[nodiscard]] Polyline leader_of(const HeatSheet& sheet, std::size_t side, const Callout& callout);

struct BarTick {
    double share = 0.0;  ///< of the bar's height, from below
    std::string figure;
};
[[nodiscard]] Result<void> draw_bar(std::vector<Item>& items, const Box& box, std::string_view unit,
                                    const std::array<std::uint32_t, 256>& palette, std::uint8_t least,
                                    std::uint8_t most, std::span<const BarTick> ticks);
/// A length to scale below the first picture, titles of the pictures, then one line of `notes` each; sets the
/// height of the sheet.
void finish(HeatSheet& sheet, const HeatFrame& frame, const Caption& caption,
            std::span<const std::string> notes);

/// As many decimals as the figure needs: "0.5", "20".
[[nodiscard]] std::string plain_figure(double value);

}  // namespace warmside::drawing
