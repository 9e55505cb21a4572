#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "drawing/heat_panel.h"
#include "drawing/viridis.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr std::uint8_t faint = 12, strong = 248;
constexpr double arrow_pitch = 26.0;  // sheet units between arrows of a section
constexpr int lines_wanted = 18;

/// Heat in the units that come first.
struct Heat {
    bool inch_pound = true;
    double density = 1.0;  // W/m2 of one unit of density
    double linear = 1.0;   // W/m of one unit of flow along a metre or foot
    double power = 1.0;    // W
};

Heat heat_units(bool inch_pound) {
    Heat out{.inch_pound = inch_pound};
    if (!inch_pound) return out;
    out.density = units::parse("1 Btu/(h ft2)", units::heat_flux).value_or(1.0);
    out.power = units::parse("1 Btu/h", units::power).value_or(1.0);
    out.linear = out.power / units::parse("1 ft", units::length).value_or(1.0);
    return out;
}

/// Least and most density that colours tell apart, W/m2: what 8 % and 99.5 % of the pictures stay below, at
/// most three decades.
std::pair<double, double> range_of(const HeatSheet& sheet) {
    std::vector<double> all;
    for (const HeatPanel& panel : sheet.panels) {
        for (int r = 0; r < 120; ++r) {
            for (int c = 0; c < 120; ++c) {
                const Point p{panel.window.left + panel.window.width() * (c + 0.5) / 120.0,
                              panel.window.bottom + panel.window.height() * (r + 0.5) / 120.0};
                if (const auto q = panel.slice->flow(p); q && q->size > 0.0) all.push_back(q->size);
            }
        }
    }
    if (all.empty()) return {0.1, 1.0};
    std::sort(all.begin(), all.end());
    const auto at = [&](double share) {
        return all[static_cast<std::size_t>(share * static_cast<double>(all.size() - 1))];
    };
    const double most = at(0.995);
    return {std::max(at(0.08), most * 1e-3), std::max(most, 1.01 * at(0.08))};
}

/// 1, 2 and 5 times powers of ten between two figures.
std::vector<double> decades(double least, double most) {
    std::vector<double> out;
    for (double power = std::pow(10.0, std::floor(std::log10(least))); power <= most; power *= 10.0) {
        for (const double factor : {1.0, 2.0, 5.0}) {
            const double value = factor * power;
            if (value >= least * 0.999 && value <= most * 1.001) out.push_back(value);
        }
    }
    return out;
}

/// Follows heat from a point until it leaves the material; points of the plane.
Polyline traced(const Slice& slice, const Window& whole, Point p) {
    constexpr int most_steps = 20000;
    Polyline out{p};
    for (int step = 0; step < most_steps && whole.holds(p); ++step) {
        const auto q = slice.flow(p);
        if (!q) break;
        const double size = std::hypot(q->across, q->up);
        if (!(size > 0.0)) break;
        const Point cell = slice.cell_size(p);
        const double along =
            0.35 / std::max(std::abs(q->across) / size / cell.x, std::abs(q->up) / size / cell.y);
        // Half a step ahead, the direction is that of the whole step (midpoint rule).
        const auto half =
            slice.flow({p.x + 0.5 * along * q->across / size, p.y + 0.5 * along * q->up / size});
        const double ahead = half ? std::hypot(half->across, half->up) : 0.0;
        const Flow& by = ahead > 0.0 ? *half : *q;
        const double by_size = ahead > 0.0 ? ahead : size;
        p = {p.x + along * by.across / by_size, p.y + along * by.up / by_size};
        out.push_back(p);
    }
    return out;
}

/// Where heat enters the material, in steps of equal heat along each surface.
struct Entry {
    Point at;
    double order = 0.0;
};

class Entries {
public:
    Entries(const HeatSubject& subject, const Cut& cut) {
        const auto in_plane = [&](const conduction::Point& p) {
            return cut.across == 0 ? Point{p.x, p.y} : Point{p.y, p.x};
        };
        for (const auto& patch : subject.solution->patches) {
            const double surface = subject.solution->temperature(patch.cell, subject.temperatures);
            const double heat = patch.conductance * (subject.temperatures[patch.environment] - surface);
            if (!(heat > 0.0)) continue;
            inflow_.push_back({heat, in_plane(patch.at[0]), in_plane(patch.at[1])});
            total_ += heat;
        }
    }
    [[nodiscard]] double total() const { return total_; }

    /// Points just within the material, each for `each` W.
    [[nodiscard]] std::vector<Point> at(const Slice& slice, double each) const {
        std::vector<Point> out;
        // What is left over is shared by both ends.
        double carried = each - 0.5 * (total_ - each * std::max(std::floor(total_ / each) - 1.0, 0.0));
        for (const Inflow& piece : chained()) {
            double done = 0.0;
            while (carried + (piece.heat - done) >= each) {
                done += each - carried;
                carried = 0.0;
                const double t = std::clamp(done / piece.heat, 0.0, 1.0);
                const Point on{piece.from.x + t * (piece.to.x - piece.from.x),
                               piece.from.y + t * (piece.to.y - piece.from.y)};
                const double length = std::hypot(piece.to.x - piece.from.x, piece.to.y - piece.from.y);
                if (!(length > 0.0)) continue;
                const double nx = -(piece.to.y - piece.from.y) / length,
                             ny = (piece.to.x - piece.from.x) / length;
                for (const double side : {2e-6, -2e-6}) {
                    const Point p{on.x + side * nx, on.y + side * ny};
                    if (slice.is_material(p)) {
                        out.push_back(p);
                        break;
                    }
                }
            }
            carried += piece.heat - done;
        }
        return out;
    }

private:
    struct Inflow {
        double heat;
        Point from, to;
    };

    [[nodiscard]] static double gap(const Point& a, const Point& b) {
        return std::max(std::abs(a.x - b.x), std::abs(a.y - b.y));
    }

    /// One after the other along the surfaces.
    [[nodiscard]] std::vector<Inflow> chained() const {
        std::vector<Inflow> rest = inflow_, out;
        std::sort(rest.begin(), rest.end(), [](const Inflow& a, const Inflow& b) {
            return std::tie(a.from.x, a.from.y) < std::tie(b.from.x, b.from.y);
        });
        // Starts at an end: a piece whose beginning no other touches.
        while (!rest.empty()) {
            std::size_t start = 0;
            for (std::size_t i = 0; i < rest.size(); ++i) {
                const auto meets = [&](const Point& p) {
                    return std::any_of(rest.begin(), rest.end(), [&](const Inflow& other) {
                        return &other != &rest[i] && (gap(other.from, p) < 1e-9 || gap(other.to, p) < 1e-9);
                    });
                };
                const bool first = meets(rest[i].from), last = meets(rest[i].to);
                if (first && last) continue;
                start = i;
                if (first) std::swap(rest[i].from, rest[i].to);
                break;
            }
            out.push_back(rest[start]);
            rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(start));
            for (bool found = true; found;) {
                found = false;
                for (std::size_t i = 0; i < rest.size() && !found; ++i) {
                    const Point end = out.back().to;
                    if (gap(rest[i].to, end) < 1e-9) std::swap(rest[i].from, rest[i].to);
                    if (gap(rest[i].from, end) >= 1e-9) continue;
                    out.push_back(rest[i]);
                    rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
                    found = true;
                }
            }
        }
        return out;
    }

    std::vector<Inflow> inflow_;
    double total_ = 0.0;
};

void draw_head(std::vector<Item>& items, const Point& tip, double dx, double dy, double size) {
    const double length = std::hypot(dx, dy);
    if (!(length > 0.0)) return;
    dx *= size / length, dy *= size / length;
    items.emplace_back(Polygon{.points = {tip,
                                          {tip.x - dx - 0.42 * dy, tip.y - dy + 0.42 * dx},
                                          {tip.x - dx + 0.42 * dy, tip.y - dy - 0.42 * dx}},
                               .closed = true,
                               .fill = Ink::ink});
}

/// Heads along a line, one about every `pitch`.
void draw_heads(std::vector<Item>& items, const Polyline& line, double pitch) {
    const double length = length_of(line);
    if (length < 14.0) return;
    const int count = std::max(1, static_cast<int>(length / pitch));
    double next = length / count * 0.5, along = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const double dx = line[i].x - line[i - 1].x, dy = line[i].y - line[i - 1].y,
                     piece = std::hypot(dx, dy);
        for (; piece > 0.0 && next <= along + piece; next += length / count) {
            const double t = (next - along) / piece;
            draw_head(items,
                      {line[i - 1].x + t * dx + 2.0 * dx / piece, line[i - 1].y + t * dy + 2.0 * dy / piece},
                      dx, dy, 5.0);
        }
        along += piece;
    }
}

/// 1, 2 or 5 times a power of ten, so that about as many as are wanted make up the whole.
double round_share(double whole) {
    const double rough = whole / lines_wanted, power = std::pow(10.0, std::floor(std::log10(rough)));
    const double mantissa = rough / power;
    return power * (mantissa < 1.5 ? 1.0 : mantissa < 3.2 ? 2.0 : mantissa < 7.5 ? 5.0 : 10.0);
}

/// Lines of equal heat; returns what each carries, W or W/m.
double draw_lines(std::vector<Item>& items, const HeatPanel& panel, const HeatSubject& subject, double unit) {
    const Entries entries(subject, panel.slice->cut());
    if (!(entries.total() > 0.0)) return 0.0;
    const double each = round_share(entries.total() / unit) * unit;
    Group group{.title = "where heat goes", .part = "flow lines"};
    const Window whole = panel.slice->whole();
    for (const Point& start : entries.at(*panel.slice, each)) {
        const auto line = traced(*panel.slice, whole, start);
        const auto seen = [&](const Point& p) { return panel.window.holds(p); };
        for (const Polyline& part : kept(line, seen, 0.05 / panel.scale)) {
            Polyline on_sheet;
            for (const Point& p : part) on_sheet.push_back(panel.to_sheet(p));
            on_sheet = simplified(on_sheet, 0.12);
            draw_heads(group.items, on_sheet, 110.0);
            group.items.emplace_back(Polygon{
                .points = std::move(on_sheet), .closed = false, .stroke = {.ink = Ink::ink, .width = 0.7}});
        }
    }
    add(items, std::move(group));
    return each;
}

/// Arrows on a lattice: along the plane, longer where more heat flows along it.
void draw_arrows(std::vector<Item>& items, const HeatPanel& panel, double least, double most) {
    Group group{.title = "where heat goes", .part = "arrows"};
    const int columns = std::max(1, static_cast<int>(panel.box.width / arrow_pitch)),
              rows = std::max(1, static_cast<int>(panel.box.height / arrow_pitch));
    for (int r = 0; r < rows; ++r) {
        for (int c = 0; c < columns; ++c) {
            const Point centre{panel.box.x + panel.box.width * (c + 0.5) / columns,
                               panel.box.y + panel.box.height * (r + 0.5) / rows};
            const auto q = panel.slice->flow(panel.to_plane(centre));
            if (!q) continue;
            const double size = std::hypot(q->across, q->up);
            if (!(size > least)) continue;
            const double share = std::clamp(std::log(size / least) / std::log(most / least), 0.0, 1.0);
            const double half = 0.5 * (5.0 + 15.0 * share);
            const double dx = q->across / size * half,
                         dy = (panel.upside_down() ? q->up : -q->up) / size * half;
            const Point tip{centre.x + dx, centre.y + dy};
            group.items.emplace_back(
                Line{{centre.x - dx, centre.y - dy}, tip, {.ink = Ink::ink, .width = 0.7}});
            draw_head(group.items, tip, dx, dy, 4.2);
        }
    }
    add(items, std::move(group));
}

std::string line_note(const conduction::Model& model, double each, const Heat& heat) {
    if (model.geometry == conduction::Geometry::axisymmetric)
        return fmt::format("Each line carries {} {} to the outside.", plain_figure(each / heat.power),
                           heat.inch_pound ? "Btu/h" : "W");
    return fmt::format(
        "Each line carries {} for {} of length.",
        heat.inch_pound ? plain_figure(each / heat.linear) + " Btu/h" : plain_figure(each) + " W",
        heat.inch_pound ? "a foot" : "a metre");
}

}  // namespace

Result<Sheet> flow_figure(const HeatSubject& subject, std::span<const HeatView> views, const HeatFrame& frame,
                          const Caption& caption) {
    HeatSubject shown = subject;
    shown.mark.reset();
    HeatSheet sheet = laid_out(shown, views, frame);
    auto& items = sheet.sheet.root.items;
    const Heat heat = heat_units(frame.inch_pound_first);
    const auto [least, most] = range_of(sheet);
    const auto share = [&, low = least, high = most](double q) {
        return std::clamp(std::log(std::max(q, low) / low) / std::log(high / low), 0.0, 1.0);
    };
    const auto colour = [&](const Slice& slice, const Point& p) -> std::optional<std::uint8_t> {
        const auto q = slice.flow(p);
        if (!q) return std::nullopt;
        return static_cast<std::uint8_t>(std::lround(faint + share(q->size) * (strong - faint)));
    };
    const bool solid = subject.model->geometry == conduction::Geometry::solid;
    std::vector<std::string> notes;
    bool cropped = false;
    for (const HeatPanel& panel : sheet.panels) {
        if (auto drawn = draw_field(items, panel, frame.pixels, viridis, colour); !drawn)
            return fail(drawn.error());
        draw_outlines(items, panel, subject.words);
        cropped = cropped || panel.cropped;
        if (solid) {
            draw_arrows(items, panel, least, most);
        } else {
            const bool round = subject.model->geometry == conduction::Geometry::axisymmetric;
            const double each = draw_lines(items, panel, subject, round ? heat.power : heat.linear);
            if (each > 0.0) notes.push_back(line_note(*subject.model, each, heat));
        }
    }
    draw_names(items, sheet, shown);
    std::vector<BarTick> ticks;
    auto figures = decades(least / heat.density, most / heat.density);
    if (figures.size() < 3) figures = round_ticks(least / heat.density, most / heat.density, 5);
    for (const double value : figures) ticks.push_back({share(value * heat.density), plain_figure(value)});
    if (auto drawn = draw_bar(items, sheet.bar, heat.inch_pound ? "Btu/(h ft²)" : "W/m²", viridis, faint,
                              strong, ticks);
        !drawn)
        return fail(drawn.error());
    if (solid) notes.push_back("Arrows: the way of heat along the plane, longer where there is more of it.");
    notes.push_back(fmt::format("Bright: much heat crosses a square {}; the scale is logarithmic.{}",
                                heat.inch_pound ? "foot" : "metre",
                                cropped ? " The model reaches farther than the picture." : ""));
    finish(sheet, frame, caption, notes);
    sheet.sheet.root.title = caption.title + ": heat flow";
    sheet.sheet.root.description = caption.line + ". Density of heat flow by colour, and where heat goes.";
    return std::move(sheet.sheet);
}

}  // namespace warmside::drawing
