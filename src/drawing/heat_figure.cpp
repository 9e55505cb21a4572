#include "drawing/heat_figure.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "drawing/heat_panel.h"
#include "drawing/type.h"
#include "drawing/viridis.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr double label_size = 9.5, label_height = 11.0;
// The darkest and the brightest end of the map would hide outlines.
constexpr std::uint8_t coldest = 22, warmest = 240;

/// Temperatures as people read them, and back.
struct Degrees {
    bool fahrenheit = true;
    double least = 0.0, most = 1.0;  // K, of the environments

    [[nodiscard]] double shown(double kelvin) const {
        return fahrenheit ? units::fahrenheit(kelvin) : units::celsius(kelvin);
    }
    [[nodiscard]] double kelvin(double value) const {
        const double low = shown(least), high = shown(most);
        return least + (value - low) / (high - low) * (most - least);
    }
    [[nodiscard]] double share(double kelvin) const { return (kelvin - least) / (most - least); }
};

Degrees degrees_of(const HeatSubject& subject, bool fahrenheit) {
    const auto [low, high] = std::minmax_element(subject.temperatures.begin(), subject.temperatures.end());
    return {fahrenheit, *low, std::max(*high, *low + 1e-6)};
}

/// An isotherm on the sheet.
struct Isotherm {
    double value = 0.0;  // as shown
    Polyline line;
};

std::vector<Isotherm> isotherms(const HeatPanel& panel, double kelvin, double shown) {
    std::vector<Isotherm> out;
    const double tolerance = 0.05 / panel.scale;
    for (const Polyline& whole : contour(panel.slice->temperatures(), kelvin)) {
        // Against the true edges: a cell on a slope is partly air.
        const auto inside = [&](const Point& p) { return panel.window.holds(p); };
        for (const Polyline& piece : kept(whole, inside, tolerance)) {
            const auto material = [&](const Point& p) {
                constexpr double e = 1e-6;  // an end on the surface counts
                return panel.slice->is_material(p) || panel.slice->is_material({p.x + e, p.y}) ||
                       panel.slice->is_material({p.x - e, p.y}) || panel.slice->is_material({p.x, p.y + e}) ||
                       panel.slice->is_material({p.x, p.y - e});
            };
            for (const Polyline& part : kept(piece, material, tolerance)) {
                Isotherm one{.value = shown, .line = {}};
                for (const Point& p : part) one.line.push_back(panel.to_sheet(p));
                one.line = simplified(one.line, 0.12);
                if (length_of(one.line) > 1.5) out.push_back(std::move(one));
            }
        }
    }
    return out;
}

/// Figures on isotherms: each where it hides least.
class Labels {
public:
    Labels(const HeatPanel& panel, std::span<const std::string> words, const HeatSheet& sheet)
        : panel_(panel) {
        for (const Edge& edge : panel.slice->edges(words))
            edges_.push_back({panel.to_sheet(edge.from), panel.to_sheet(edge.to)});
        for (const std::size_t side : {0U, 1U}) {
            for (const Callout& each : sheet.callouts[side]) {
                const auto leader = leader_of(sheet, side, each);
                for (std::size_t i = 1; i < leader.size(); ++i) edges_.push_back({leader[i - 1], leader[i]});
            }
        }
    }

    /// Draws the line with a gap for its figure, where there is room for one.
    void draw(std::vector<Item>& items, const Isotherm& one, const std::vector<Isotherm>& all,
              const Stroke& stroke) {
        const std::string figure = fmt::format("{:.6g}°", one.value);
        const double width = width_of(figure, Font::condensed, label_size) + 4.0;
        const auto box = place(one, all, width);
        if (!box) {
            items.emplace_back(Polygon{.points = one.line, .closed = false, .stroke = stroke});
            return;
        }
        taken_.push_back(*box);
        const auto outside = [&](const Point& p) {
            return p.x < box->x || p.x > box->right() || p.y < box->y || p.y > box->bottom();
        };
        // Short steps, so that a straight piece across the gap is cut too.
        Polyline fine{one.line.front()};
        for (std::size_t i = 1; i < one.line.size(); ++i) {
            const Point a = one.line[i - 1], b = one.line[i];
            const int steps = std::max(1, static_cast<int>(std::hypot(b.x - a.x, b.y - a.y) / 3.0));
            for (int k = 1; k <= steps; ++k)
                fine.push_back({a.x + (b.x - a.x) * k / steps, a.y + (b.y - a.y) * k / steps});
        }
        for (const Polyline& part : kept(fine, outside, 0.1))
            items.emplace_back(Polygon{.points = simplified(part, 0.05), .closed = false, .stroke = stroke});
        items.emplace_back(Text{.at = {box->x + box->width / 2.0, box->bottom() - 2.3},
                                .text = figure,
                                .anchor = Anchor::middle,
                                .font = Font::condensed,
                                .size = label_size,
                                .ink = stroke.ink});
    }

private:
    [[nodiscard]] static bool overlap(const Box& a, const Box& b) {
        return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
    }
    [[nodiscard]] static double inside(const Box& box, const Point& a, const Point& b) {
        // Length of a straight piece within a box, by small steps.
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        const int steps = std::max(2, static_cast<int>(length));
        int count = 0;
        for (int k = 0; k <= steps; ++k) {
            const double x = a.x + (b.x - a.x) * k / steps, y = a.y + (b.y - a.y) * k / steps;
            if (x > box.x && x < box.right() && y > box.y && y < box.bottom()) ++count;
        }
        return length * count / (steps + 1);
    }

    [[nodiscard]] std::optional<Box> place(const Isotherm& one, const std::vector<Isotherm>& all,
                                           double width) const {
        const double length = length_of(one.line);
        if (length < 2.2 * width) return std::nullopt;
        std::optional<Box> best;
        double least = 14.0;  // worse than this, it goes without
        double along = 0.0, next = 0.5 * width + 4.0;
        for (std::size_t i = 1; i < one.line.size(); ++i) {
            const Point a = one.line[i - 1], b = one.line[i];
            const double piece = std::hypot(b.x - a.x, b.y - a.y);
            for (; next <= along + piece && next < length - 0.5 * width; next += 5.0) {
                const double t = piece > 0.0 ? (next - along) / piece : 0.0;
                const Point centre{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
                const Box box{centre.x - width / 2.0, centre.y - label_height / 2.0, width, label_height};
                const double cost = cost_of(box, one, all) + 2.0 * std::abs(next / length - 0.5);
                if (cost < least) {
                    least = cost;
                    best = box;
                }
            }
            along += piece;
        }
        return best;
    }

    [[nodiscard]] double cost_of(const Box& box, const Isotherm& one,
                                 const std::vector<Isotherm>& all) const {
        const auto& frame = panel_.box;
        if (box.x < frame.x || box.right() > frame.right() || box.y < frame.y ||
            box.bottom() > frame.bottom())
            return 1e9;
        const Box wide{box.x - 3.0, box.y - 3.0, box.width + 6.0, box.height + 6.0};
        for (const Box& other : taken_) {
            if (overlap(wide, other)) return 1e9;
        }
        double cost = 0.0;
        for (const auto& [a, b] : edges_) {
            if (std::max(a.x, b.x) < box.x || std::min(a.x, b.x) > box.right() ||
                std::max(a.y, b.y) < box.y || std::min(a.y, b.y) > box.bottom())
                continue;
            cost += 1.2 * inside(box, a, b);
        }
        for (const Isotherm& other : all) {
            if (&other == &one) continue;
            for (std::size_t i = 1; i < other.line.size(); ++i) {
                const Point &a = other.line[i - 1], &b = other.line[i];
                if (std::max(a.x, b.x) < box.x || std::min(a.x, b.x) > box.right() ||
                    std::max(a.y, b.y) < box.y || std::min(a.y, b.y) > box.bottom())
                    continue;
                cost += 3.0 * inside(box, a, b);
            }
        }
        return cost;
    }

    const HeatPanel& panel_;
    std::vector<std::pair<Point, Point>> edges_;
    std::vector<Box> taken_;
};

void draw_isotherms(std::vector<Item>& items, const HeatPanel& panel, const HeatSheet& sheet,
                    const HeatSubject& subject, const Degrees& degrees, std::span<const double> levels) {
    Group group{.title = "isotherms", .part = "isotherms"};
    std::vector<Isotherm> all;
    for (const double level : levels) {
        for (auto& one : isotherms(panel, degrees.kelvin(level), level)) all.push_back(std::move(one));
    }
    // Longest first: they have the choice of places. Of equal ones the earlier.
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t i = 0; i < all.size(); ++i) order.emplace_back(-length_of(all[i].line), i);
    std::sort(order.begin(), order.end());
    std::vector<Isotherm> sorted;
    for (const auto& [length, i] : order) sorted.push_back(std::move(all[i]));
    all = std::move(sorted);
    Labels labels(panel, subject.words, sheet);
    const std::size_t plain = all.size();
    if (subject.critical) {
        for (auto& one : isotherms(panel, *subject.critical, degrees.shown(*subject.critical)))
            all.push_back(std::move(one));
    }
    for (std::size_t i = 0; i < plain; ++i)
        labels.draw(group.items, all[i], all, {.ink = Ink::ink, .width = 0.5});
    for (std::size_t i = plain; i < all.size(); ++i)
        group.items.emplace_back(
            Polygon{.points = all[i].line, .closed = false, .stroke = {.ink = Ink::accent, .width = 1.6}});
    add(items, std::move(group));
}

}  // namespace

Result<Sheet> temperature_figure(const HeatSubject& subject, std::span<const HeatView> views,
                                 const HeatFrame& frame, const Caption& caption) {
    HeatSheet sheet = laid_out(subject, views, frame);
    auto& items = sheet.sheet.root.items;
    const Degrees degrees = degrees_of(subject, frame.inch_pound_first);
    const auto levels = round_ticks(degrees.shown(degrees.least), degrees.shown(degrees.most), 9);
    const auto colour = [&](const Slice& slice, const Point& p) -> std::optional<std::uint8_t> {
        const auto t = slice.temperature(p);
        if (!t) return std::nullopt;
        const double share = std::clamp(degrees.share(*t), 0.0, 1.0);
        return static_cast<std::uint8_t>(std::lround(coldest + share * (warmest - coldest)));
    };
    bool cropped = false;
    for (const HeatPanel& panel : sheet.panels) {
        if (auto drawn = draw_field(items, panel, frame.pixels, inferno, colour); !drawn)
            return fail(drawn.error());
        draw_isotherms(items, panel, sheet, subject, degrees, levels);
        draw_outlines(items, panel, subject.words);
        cropped = cropped || panel.cropped;
    }
    draw_names(items, sheet, subject);
    std::vector<BarTick> ticks;
    for (const double level : levels)
        ticks.push_back({degrees.share(degrees.kelvin(level)), fmt::format("{:.6g}", level)});
    if (auto drawn = draw_bar(items, sheet.bar, frame.inch_pound_first ? "°F" : "°C", inferno, coldest,
                              warmest, ticks);
        !drawn)
        return fail(drawn.error());
    std::vector<std::string> notes;
    if (levels.size() > 1)
        notes.push_back(
            fmt::format("Lines join places of one temperature, {:.6g} {} apart; air is left blank.{}",
                        levels[1] - levels[0], frame.inch_pound_first ? "°F" : "K",
                        cropped ? " The model reaches farther than the picture." : ""));
    if (subject.mark && !subject.mark->note.empty()) notes.push_back(subject.mark->note);
    if (!subject.critical_words.empty())
        notes.push_back("Thick coloured line: " + subject.critical_words + ".");
    finish(sheet, frame, caption, notes);
    sheet.sheet.root.title = caption.title + ": temperatures";
    sheet.sheet.root.description =
        caption.line + ". Temperature by colour, cold dark to warm bright, with lines of equal temperature.";
    return std::move(sheet.sheet);
}

}  // namespace warmside::drawing
