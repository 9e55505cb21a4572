#include "drawing/heat_panel.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>
#include <tuple>

#include "drawing/png.h"
#include "drawing/type.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr double name_column = 250.0, name_gap = 24.0, bar_width = 12.0, bar_numbers = 44.0, between = 26.0;
constexpr double name_size = 11.0, note_size = 10.5, tick_size = 9.5, title_height = 18.0;
constexpr std::uint8_t clear = 255;

bool is_2d(const conduction::Model& model) {
    return model.geometry != conduction::Geometry::solid;
}

/// Sheet units of a length that is round in the units of the house, and its words.
std::pair<double, std::string> round_length(double scale, bool inch_pound_first) {
    constexpr double wanted = 110.0;
    const double inch = units::Exact::sixty_fourths_of_inch(64).metres();
    const std::vector<double> inches{0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 96, 192, 480};
    const std::vector<double> metric{0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10};
    double best = 0.0;
    for (const double each : inch_pound_first ? inches : metric) {
        const double length = each * (inch_pound_first ? inch : 1.0);
        if (best == 0.0 || length * scale <= wanted) best = length;
    }
    std::string words = inch_pound_first
                            ? (best >= 11.9 * inch ? units::feet_inches(best) : units::inches(best))
                            : (best >= 1.0 ? fmt::format("{:g} m", best) : units::millimetres(best));
    return {best * scale, std::move(words)};
}

/// The places of one plane on a coarse lattice, and which word each has.
struct Lattice {
    double step = 2.0;  // sheet units
    int columns = 0, rows = 0;
    std::vector<int> word;  // index into `words`; -1 none or air
    std::vector<std::string> words;
};

Lattice lattice_of(const HeatPanel& panel, std::span<const std::string> words) {
    Lattice out;
    out.columns = std::max(1, static_cast<int>(panel.box.width / out.step));
    out.rows = std::max(1, static_cast<int>(panel.box.height / out.step));
    for (int r = 0; r < out.rows; ++r) {
        for (int c = 0; c < out.columns; ++c) {
            const Point p =
                panel.to_plane({panel.box.x + (c + 0.5) * out.step, panel.box.y + (r + 0.5) * out.step});
            const auto region = panel.slice->region_at(p);
            int index = -1;
            if (region != conduction::no_region && !panel.slice->model().regions[region].environment) {
                const auto found = std::find(out.words.begin(), out.words.end(), words[region]);
                index = static_cast<int>(found - out.words.begin());
                if (found == out.words.end()) out.words.push_back(words[region]);
            }
            out.word.push_back(index);
        }
    }
    return out;
}

/// For each word the place that is farthest from what has another: two sweeps of a chamfer distance.
std::vector<std::pair<std::string, Point>> anchors(const HeatPanel& panel, std::span<const std::string> words,
                                                   bool leftwards) {
    const Lattice l = lattice_of(panel, words);
    const auto at = [&](int c, int r) { return static_cast<std::size_t>(c + l.columns * r); };
    std::vector<double> away(l.word.size(), 1e9);
    const auto relax = [&](int c, int r, int dc, int dr) {
        const int nc = c + dc, nr = r + dr;
        const double step = dc != 0 && dr != 0 ? 1.414 : 1.0;
        double from = 0.0;  // beyond the picture
        if (nc >= 0 && nc < l.columns && nr >= 0 && nr < l.rows && l.word[at(nc, nr)] == l.word[at(c, r)])
            from = away[at(nc, nr)];
        away[at(c, r)] = std::min(away[at(c, r)], from + step);
    };
    for (int r = 0; r < l.rows; ++r) {
        for (int c = 0; c < l.columns; ++c) {
            for (const auto& [dc, dr] : {std::pair(-1, 0), {0, -1}, {-1, -1}, {1, -1}}) relax(c, r, dc, dr);
        }
    }
    for (int r = l.rows - 1; r >= 0; --r) {
        for (int c = l.columns - 1; c >= 0; --c) {
            for (const auto& [dc, dr] : {std::pair(1, 0), {0, 1}, {1, 1}, {-1, 1}}) relax(c, r, dc, dr);
        }
    }
    std::vector<std::pair<std::string, Point>> out;
    for (std::size_t w = 0; w < l.words.size(); ++w) {
        double best = -1e9;
        Point place;
        // Each at a height of its own within its extent, so that leaders do not run into one another.
        const auto has = [&](int r) {
            const auto begin = l.word.begin() + static_cast<std::ptrdiff_t>(at(0, r));
            return std::find(begin, begin + l.columns, static_cast<int>(w)) != begin + l.columns;
        };
        int top = 0, bottom = l.rows - 1;
        while (top < bottom && !has(top)) ++top;
        while (top < bottom && !has(bottom)) --bottom;
        const double share =
            0.25 + 0.5 * (static_cast<double>(w) + 0.5) / static_cast<double>(l.words.size());
        const double level = top + share * (bottom - top);
        for (int r = 0; r < l.rows; ++r) {
            for (int c = 0; c < l.columns; ++c) {
                if (l.word[at(c, r)] != static_cast<int>(w)) continue;
                // Long strips have many best places: the one nearest to the names leads to a short leader.
                const double side = leftwards ? c : std::min(c, l.columns - 1 - c), off = std::abs(r - level);
                const double value = std::min(away[at(c, r)], 9.0) - 0.004 * side - 0.006 * off;
                if (value > best) {
                    best = value;
                    place = {panel.box.x + (c + 0.5) * l.step, panel.box.y + (r + 0.5) * l.step};
                }
            }
        }
        out.emplace_back(l.words[w], place);
    }
    return out;
}

/// Where the mark stands in a picture; nothing where the plane does not hold it.
std::optional<Point> mark_in(const HeatPanel& panel, const HeatSubject& subject) {
    constexpr double near = 2e-3;  // m
    if (!subject.mark) return std::nullopt;
    const auto& cut = panel.slice->cut();
    const std::array<double, 3> at{subject.mark->at.x, subject.mark->at.y, subject.mark->at.z};
    if (!is_2d(*subject.model) && std::abs(at[3 - cut.across - cut.up] - cut.at) > near) return std::nullopt;
    const Point p{at[cut.across], at[cut.up]};
    if (!panel.window.holds(p)) return std::nullopt;
    return panel.to_sheet(p);
}

/// Names of what the first picture shows (so that no leader crosses another picture), and the mark.
std::array<std::vector<Callout>, 2> callouts_of(const HeatSheet& sheet, const HeatSubject& subject) {
    std::array<std::vector<Callout>, 2> sides;
    const HeatPanel& first = sheet.panels.front();
    const bool several = sheet.panels.size() > 1;
    const double middle = first.box.x + first.box.width / 2.0;
    const auto put = [&](Callout callout) {
        sides[several || callout.at.x < middle ? 0 : 1].push_back(std::move(callout));
    };
    for (auto& [words, at] : anchors(first, subject.words, several)) put({.words = words, .at = at});
    if (const auto at = mark_in(first, subject))
        put({.words = subject.mark->words, .at = *at, .ink = Ink::accent});
    for (auto& side : sides) {
        std::sort(side.begin(), side.end(),
                  [](const Callout& a, const Callout& b) { return a.at.y < b.at.y; });
        std::vector<double> wanted;
        for (const auto& each : side) wanted.push_back(each.at.y);
        const auto places = spread(wanted, 15.0, first.box.y + 6.0, sheet.below - 6.0);
        for (std::size_t i = 0; i < side.size(); ++i) side[i].y = places[i];
    }
    return sides;
}

Font font_of(const Callout& callout) {
    return callout.ink == Ink::accent ? Font::strong : Font::body;
}

/// Room for the longest name, and its leader.
double column_width(const std::vector<Callout>& callouts) {
    double widest = 0.0;
    for (const auto& each : callouts)
        widest = std::max(widest, width_of(each.words, font_of(each), name_size));
    return callouts.empty() ? 0.0 : std::min(widest + name_gap, name_column);
}

/// Puts the pictures side by side, to one scale, between columns of names.
void place(HeatSheet& sheet, const HeatFrame& frame, double left, double right) {
    double wide = 0.0, high = 0.0;
    bool titled = false;
    for (const HeatPanel& panel : sheet.panels) {
        wide += panel.window.width();
        high = std::max(high, panel.window.height());
        titled = titled || !panel.title.empty();
    }
    const double gaps = between * (static_cast<double>(sheet.panels.size()) - 1.0);
    const double beside = left + right + gaps + between + bar_width + bar_numbers;
    const double scale = std::min((frame.width - beside) / wide, frame.picture / high);
    const double top = caption_height + (titled ? title_height : 0.0);
    double x = left;
    for (HeatPanel& panel : sheet.panels) {
        panel.scale = scale;
        panel.box = {x, top, panel.window.width() * scale, panel.window.height() * scale};
        x = panel.box.right() + between;
    }
    sheet.bar = {x + right, top, bar_width, std::min(high * scale, 240.0)};
    sheet.below = top + high * scale;
    sheet.sheet.width = beside + wide * scale;
}

}  // namespace

std::string plain_figure(double value) {
    return fmt::format("{:.6g}", value);
}

std::string temperature_words(double kelvin, bool inch_pound_first, int decimals) {
    return fmt::format("{:.{}f} {}", inch_pound_first ? units::fahrenheit(kelvin) : units::celsius(kelvin),
                       decimals, inch_pound_first ? "°F" : "°C");
}

HeatSheet laid_out(const HeatSubject& subject, std::span<const HeatView> views, const HeatFrame& frame) {
    HeatSheet out;
    for (const HeatView& view : views) {
        HeatPanel panel{.slice = std::make_unique<Slice>(*subject.model, *subject.solution,
                                                         subject.temperatures, view.cut)};
        const Window all = panel.slice->whole();
        panel.window = view.window.value_or(panel.slice->worth_seeing());
        panel.window.left = std::max(panel.window.left, all.left);
        panel.window.right = std::min(panel.window.right, all.right);
        panel.window.bottom = std::max(panel.window.bottom, all.bottom);
        panel.window.top = std::min(panel.window.top, all.top);
        if (!(panel.window.width() > 0.0 && panel.window.height() > 0.0)) panel.window = all;
        panel.cropped =
            panel.window.width() < 0.99 * all.width() || panel.window.height() < 0.99 * all.height();
        panel.title = view.title;
        out.panels.push_back(std::move(panel));
    }
    if (!frame.named) {
        place(out, frame, 0.0, 0.0);
        return out;
    }
    // Once to learn which names stand where, once with the room that they take.
    place(out, frame, name_column, views.size() > 1 ? 0.0 : name_column);
    const auto sides = callouts_of(out, subject);
    place(out, frame, column_width(sides[0]), column_width(sides[1]));
    out.callouts = callouts_of(out, subject);
    return out;
}

Result<void> draw_field(std::vector<Item>& items, const HeatPanel& panel, double pixels,
                        const std::array<std::uint32_t, 256>& palette, const ColourAt& colour) {
    const int columns = std::max(1, static_cast<int>(std::lround(panel.box.width * pixels))),
              rows = std::max(1, static_cast<int>(std::lround(panel.box.height * pixels)));
    std::vector<std::uint8_t> field(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows),
                                    clear);
    for (int r = 0; r < rows; ++r) {
        for (int c = 0; c < columns; ++c) {
            const Point p = panel.to_plane({panel.box.x + panel.box.width * (c + 0.5) / columns,
                                            panel.box.y + panel.box.height * (r + 0.5) / rows});
            if (!panel.slice->is_material(p)) continue;
            if (const auto index = colour(*panel.slice, p))
                field[static_cast<std::size_t>(c + columns * r)] = std::min<std::uint8_t>(*index, clear - 1);
        }
    }
    auto image = png(columns, rows, field, palette, clear);
    if (!image) return fail(image.error());
    items.emplace_back(Image{.box = panel.box, .png = std::move(*image), .opacity = field_opacity});
    return {};
}

void draw_outlines(std::vector<Item>& items, const HeatPanel& panel, std::span<const std::string> words) {
    Group group{
        .title = "outlines of the materials",
        .part = "outlines",
        .clipped = true,
        .clip = {panel.box.x - 1.0, panel.box.y - 1.0, panel.box.width + 2.0, panel.box.height + 2.0}};
    for (const Edge& edge : panel.slice->edges(words)) {
        const Stroke stroke = edge.kind == Edge::Kind::surface ? Stroke{.ink = Ink::ink, .width = 1.6}
                              : edge.kind == Edge::Kind::inner ? Stroke{.ink = Ink::ink, .width = 0.85}
                                                               : Stroke{.ink = Ink::quiet, .width = 0.4};
        group.items.emplace_back(Line{panel.to_sheet(edge.from), panel.to_sheet(edge.to), stroke});
    }
    const auto& window = panel.window;
    if (panel.slice->model().geometry == conduction::Geometry::axisymmetric && window.left <= 0.0) {
        // The axis of revolution, a chain line past both ends.
        const Point top = panel.to_sheet({0.0, window.top}), bottom = panel.to_sheet({0.0, window.bottom});
        items.emplace_back(Line{{top.x, top.y - 8.0},
                                {bottom.x, bottom.y + 8.0},
                                {.ink = Ink::ink, .width = 0.8, .dash = {12.0, 3.0, 2.0, 3.0}}});
    }
    add(items, std::move(group));
}

Polyline leader_of(const HeatSheet& sheet, std::size_t side, const Callout& callout) {
    const Box& box = sheet.panels.front().box;
    const double edge = side == 0 ? box.x - 14.0 : box.right() + 14.0, towards = side == 0 ? 1.0 : -1.0;
    return {{edge + towards * 4.0, callout.y}, {edge + towards * 10.0, callout.y}, callout.at};
}

void draw_names(std::vector<Item>& items, const HeatSheet& sheet, const HeatSubject& subject) {
    Group group{.title = "materials", .part = "names"};
    for (const HeatPanel& panel : sheet.panels) {
        const auto at = mark_in(panel, subject);
        if (!at) continue;
        group.items.emplace_back(
            Circle{.centre = *at, .radius = 4.5, .stroke = {.ink = Ink::paper, .width = 3.2}});
        group.items.emplace_back(
            Circle{.centre = *at, .radius = 4.5, .stroke = {.ink = Ink::accent, .width = 1.6}});
    }
    for (const std::size_t side : {0U, 1U}) {
        for (const Callout& each : sheet.callouts[side]) {
            const auto leader = leader_of(sheet, side, each);
            const double towards = side == 0 ? 1.0 : -1.0;
            group.items.emplace_back(
                Text{.at = {leader[0].x - towards * 4.0, each.y + 3.8},
                     .text = fitted(each.words, font_of(each), name_size, name_column - name_gap),
                     .anchor = side == 0 ? Anchor::end : Anchor::start,
                     .font = font_of(each),
                     .size = name_size,
                     .ink = each.ink});
            group.items.emplace_back(
                Polygon{.points = leader, .closed = false, .stroke = {.ink = each.ink, .width = 0.5}});
            if (each.ink != Ink::accent)
                group.items.emplace_back(Circle{.centre = each.at, .radius = 1.5, .fill = Ink::ink});
        }
    }
    add(items, std::move(group));
}

Result<void> draw_bar(std::vector<Item>& items, const Box& box, std::string_view unit,
                      const std::array<std::uint32_t, 256>& palette, std::uint8_t least, std::uint8_t most,
                      std::span<const BarTick> ticks) {
    std::vector<std::uint8_t> ramp(static_cast<std::size_t>(most - least) + 1);
    std::iota(ramp.rbegin(), ramp.rend(), least);
    auto bar = png(1, static_cast<int>(ramp.size()), ramp, palette);
    if (!bar) return fail(bar.error());
    Group group{.title = "colours", .part = "colours"};
    group.items.emplace_back(Image{.box = box, .png = std::move(*bar), .opacity = field_opacity});
    for (const auto& tick : ticks) {
        const double y = box.bottom() - box.height * tick.share;
        group.items.emplace_back(
            Line{{box.right(), y}, {box.right() + 3.5, y}, {.ink = Ink::quiet, .width = 0.6}});
        group.items.emplace_back(Text{.at = {box.right() + 6.5, y + 3.4},
                                      .text = tick.figure,
                                      .font = Font::condensed,
                                      .size = tick_size,
                                      .ink = Ink::quiet});
    }
    group.items.emplace_back(Text{.at = {box.x, box.bottom() + 15.0},
                                  .text = std::string(unit),
                                  .font = Font::condensed,
                                  .size = note_size,
                                  .ink = Ink::quiet});
    add(items, std::move(group));
    return {};
}

void finish(HeatSheet& sheet, const HeatFrame& frame, const Caption& caption,
            std::span<const std::string> notes) {
    auto& items = sheet.sheet.root.items;
    for (const auto& note : notes)
        sheet.sheet.width =
            std::max(sheet.sheet.width, std::min(frame.width, width_of(note, Font::condensed, note_size)));
    for (const auto& [words, font, size] :
         {std::tuple(&caption.title, Font::strong, 15.0), std::tuple(&caption.line, Font::body, 11.0)})
        sheet.sheet.width =
            std::max(sheet.sheet.width, std::min(frame.width, width_of(*words, font, size) + 4.0));
    draw_caption(items, caption, sheet.sheet.width);
    for (const HeatPanel& panel : sheet.panels) {
        if (panel.title.empty()) continue;
        items.emplace_back(
            Text{.at = {panel.box.x, panel.box.y - 7.0},
                 .text = fitted(panel.title, Font::condensed, note_size, panel.box.width + 20.0),
                 .font = Font::condensed,
                 .size = note_size});
    }
    const HeatPanel& first = sheet.panels.front();
    const auto [length, words] = round_length(first.scale, frame.inch_pound_first);
    const double y = sheet.below + 18.0;
    Group scale{.title = "scale", .part = "scale"};
    const Stroke fine{.ink = Ink::ink, .width = 0.8};
    scale.items.emplace_back(Line{{first.box.x, y}, {first.box.x + length, y}, fine});
    for (const double x : {first.box.x, first.box.x + length})
        scale.items.emplace_back(Line{{x, y - 3.0}, {x, y + 3.0}, fine});
    scale.items.emplace_back(Text{.at = {first.box.x + length + 8.0, y + 3.6},
                                  .text = words,
                                  .font = Font::condensed,
                                  .size = note_size});
    add(items, std::move(scale));
    double line = y + 22.0;
    for (const auto& note : notes) {
        items.emplace_back(Text{.at = {0.0, line},
                                .text = fitted(note, Font::condensed, note_size, sheet.sheet.width),
                                .font = Font::condensed,
                                .size = note_size,
                                .ink = Ink::quiet});
        line += 15.0;
    }
    sheet.sheet.height = line - 5.0;
}

}  // namespace warmside::drawing
