#include "drawing/heat_panel.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

#include "drawing/png.h"
#include "drawing/type.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr double name_column = 190.0, name_gap = 24.0, bar_width = 12.0, bar_numbers = 44.0, between = 26.0;
constexpr double name_size = 11.0, note_size = 10.5, tick_size = 9.5, title_height = 18.0;
constexpr std::uint8_t clear = 255;

bool is_2d(const conduction::Model& model) {
    return model.geometry != conduction::Geometry::solid;
}

/// Sheet units of a length that is round in the units of the house, and its words.
std::pair<double, std::string> round_length(double scale, bool inch_pound_first) {
    constexpr double inch = 0.0254, wanted = 110.0;
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
            const Point p = panel.to_plane(
                {panel.box.x + (c + 0.5) * out.step, panel.box.y + (r + 0.5) * out.step});
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
std::vector<std::pair<std::string, Point>> anchors(const HeatPanel& panel, std::span<const std::string> words) {
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
        // Each at a height of its own, so that leaders do not run into one another.
        const double level = 0.25 + 0.5 * (static_cast<double>(w) + 0.5) / static_cast<double>(l.words.size());
        for (int r = 0; r < l.rows; ++r) {
            for (int c = 0; c < l.columns; ++c) {
                if (l.word[at(c, r)] != static_cast<int>(w)) continue;
                // Long strips have many best places: the one nearest to the sides leads to a short leader.
                const double side = std::min(c, l.columns - 1 - c), off = std::abs(r - level * l.rows);
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

struct Callout {
    std::string words;
    Point at;
    Ink ink = Ink::ink;
};

void draw_column(std::vector<Item>& items, std::vector<Callout> callouts, const Box& box, bool left) {
    std::sort(callouts.begin(), callouts.end(),
              [](const Callout& a, const Callout& b) { return a.at.y < b.at.y; });
    std::vector<double> wanted;
    for (const auto& each : callouts) wanted.push_back(each.at.y);
    const auto places = spread(wanted, 15.0, box.y + 6.0, box.bottom() - 6.0);
    for (std::size_t i = 0; i < callouts.size(); ++i) {
        const auto& each = callouts[i];
        const double edge = left ? box.x - 14.0 : box.right() + 14.0, towards = left ? 1.0 : -1.0;
        const bool marked = each.ink == Ink::accent;
        items.emplace_back(Text{.at = {edge, places[i] + 3.8},
                                .text = fitted(each.words, marked ? Font::strong : Font::body, name_size,
                                               name_column - name_gap),
                                .anchor = left ? Anchor::end : Anchor::start,
                                .font = marked ? Font::strong : Font::body,
                                .size = name_size,
                                .ink = each.ink});
        items.emplace_back(Polygon{.points = {{edge + towards * 4.0, places[i]},
                                              {edge + towards * 10.0, places[i]},
                                              each.at},
                                   .closed = false,
                                   .stroke = {.ink = marked ? Ink::accent : Ink::ink, .width = 0.5}});
        if (!marked) items.emplace_back(Circle{.centre = each.at, .radius = 1.5, .fill = Ink::ink});
    }
}

/// Room for the longest name, and its leader.
double column_width(const HeatSubject& subject) {
    double widest = subject.mark ? width_of(subject.mark->words, Font::strong, name_size) : 0.0;
    for (std::size_t r = 0; r < subject.words.size(); ++r) {
        if (!subject.model->regions[r].environment)
            widest = std::max(widest, width_of(subject.words[r], Font::body, name_size));
    }
    return std::min(widest + name_gap, name_column);
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
    double wide = 0.0, high = 0.0;
    bool titled = false;
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
        panel.cropped = panel.window.width() < 0.99 * all.width() || panel.window.height() < 0.99 * all.height();
        panel.title = view.title;
        titled = titled || !view.title.empty();
        wide += panel.window.width();
        high = std::max(high, panel.window.height());
        out.panels.push_back(std::move(panel));
    }
    const double column = frame.named ? column_width(subject) : 0.0;
    const double right = views.size() > 1 ? 0.0 : column;  // pictures side by side have names at the left
    const double gaps = between * (static_cast<double>(out.panels.size()) - 1.0);
    const double beside = column + right + gaps + between + bar_width + bar_numbers;
    const double scale = std::min((frame.width - beside) / wide, frame.picture / high);
    const double top = caption_height + (titled ? title_height : 0.0);
    double x = column;
    for (HeatPanel& panel : out.panels) {
        panel.scale = scale;
        panel.box = {x, top, panel.window.width() * scale, panel.window.height() * scale};
        x = panel.box.right() + between;
    }
    out.bar = {x + right, top, bar_width, std::min(high * scale, 240.0)};
    out.below = top + high * scale;
    out.sheet.width = std::max(beside + wide * scale, std::min(frame.width, 620.0));
    return out;
}

Result<void> draw_field(std::vector<Item>& items, const HeatPanel& panel, double pixels,
                        const std::array<std::uint32_t, 256>& palette, const ColourAt& colour) {
    const int columns = std::max(1, static_cast<int>(std::lround(panel.box.width * pixels))),
              rows = std::max(1, static_cast<int>(std::lround(panel.box.height * pixels)));
    std::vector<std::uint8_t> field(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), clear);
    for (int r = 0; r < rows; ++r) {
        for (int c = 0; c < columns; ++c) {
            const Point p =
                panel.to_plane({panel.box.x + panel.box.width * (c + 0.5) / columns,
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
    Group group{.title = "outlines of the materials",
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

void draw_names(std::vector<Item>& items, const HeatSheet& sheet, const HeatSubject& subject,
                const HeatFrame& frame) {
    Group group{.title = "materials", .part = "names"};
    const double left = sheet.panels.front().box.x, right = sheet.panels.back().box.right();
    std::array<std::vector<Callout>, 2> sides;
    const bool several = sheet.panels.size() > 1;
    const auto put = [&](Callout callout) {
        sides[several || callout.at.x < 0.5 * (left + right) ? 0 : 1].push_back(std::move(callout));
    };
    for (const HeatPanel& panel : sheet.panels) {
        if (!frame.named) break;
        // In the first picture only, so that no leader crosses another one.
        if (&panel != &sheet.panels.front()) break;
        for (auto& [words, at] : anchors(panel, subject.words)) put({words, at, Ink::ink});
    }
    if (subject.mark) {
        for (const HeatPanel& panel : sheet.panels) {
            const auto& cut = panel.slice->cut();
            const std::array<double, 3> at{subject.mark->at.x, subject.mark->at.y, subject.mark->at.z};
            const Point p{at[cut.across], at[cut.up]};
            const double off =
                is_2d(*subject.model) ? 0.0 : std::abs(at[3 - cut.across - cut.up] - cut.at);
            if (off > 2e-3 || !panel.window.holds(p)) continue;
            const Point centre = panel.to_sheet(p);
            group.items.emplace_back(
                Circle{.centre = centre, .radius = 4.5, .stroke = {.ink = Ink::paper, .width = 3.2}});
            group.items.emplace_back(
                Circle{.centre = centre, .radius = 4.5, .stroke = {.ink = Ink::accent, .width = 1.6}});
            if (frame.named && &panel == &sheet.panels.front())
                put({subject.mark->words, centre, Ink::accent});
        }
    }
    Box around{left, sheet.panels.front().box.y, right - left,
               sheet.below - sheet.panels.front().box.y};
    draw_column(group.items, sides[0], around, true);
    draw_column(group.items, sides[1], around, false);
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
    draw_caption(items, caption, sheet.sheet.width);
    for (const HeatPanel& panel : sheet.panels) {
        if (panel.title.empty()) continue;
        items.emplace_back(Text{.at = {panel.box.x, panel.box.y - 7.0},
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
