#include "report/heat_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "conduction/shape.h"
#include "drawing/raster.h"
#include "drawing/svg.h"
#include "drawing/type.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

using drawing::HeatSubject;
using Place3 = std::array<double, 3>;

constexpr double apart = 1e-5;  // m, off a surface or a plane of symmetry
constexpr const char* axis_names[] = {"x", "y", "z"};

Place3 coordinates(const conduction::Point& p) {
    return {p.x, p.y, p.z};
}

bool is_material(const conduction::Model& model, const Place3& p) {
    const auto region = conduction::region_at(model, {p[0], p[1], p[2]});
    return region != conduction::no_region && !model.regions[region].environment;
}

/// Middle of the cell in which heat flows densest.
Place3 hottest(const HeatSubject& subject) {
    const auto& grid = subject.solution->grid;
    double most = -1.0;
    Place3 out{};
    for (std::size_t k = 0; k < grid.count(2); ++k) {
        for (std::size_t j = 0; j < grid.count(1); ++j) {
            for (std::size_t i = 0; i < grid.count(0); ++i) {
                const std::size_t cell = grid.index(i, j, k);
                const auto region = subject.solution->region[cell];
                if (region == conduction::no_region || subject.model->regions[region].environment) continue;
                const auto q = conduction::flux(*subject.model, *subject.solution, cell, subject.temperatures);
                const double size = q.x * q.x + q.y * q.y + q.z * q.z;
                if (!(size > most)) continue;
                most = size;
                out = {grid.centre(0, i), grid.centre(1, j), grid.centre(2, k)};
            }
        }
    }
    return out;
}

std::string length(double metres, const HeatWish& wish) {
    return thickness(metres, wish.inch_pound_first).first;
}

}  // namespace

std::vector<drawing::HeatView> views_of(const HeatSubject& subject, const HeatWish& wish) {
    if (subject.model->geometry != conduction::Geometry::solid) return {drawing::HeatView{}};
    const auto& grid = subject.solution->grid;
    Place3 at = hottest(subject);
    if (subject.mark) {
        const Place3 mark = coordinates(subject.mark->at);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            Place3 low = mark, high = mark;
            for (std::size_t other = 0; other < 3; ++other) {
                // Off the surfaces and planes of symmetry that the mark lies on.
                const double middle = 0.5 * (grid.line[other].front() + grid.line[other].back());
                if (other == axis) continue;
                low[other] = high[other] = mark[other] + (mark[other] < middle ? apart : -apart);
            }
            low[axis] -= apart, high[axis] += apart;
            const bool below = is_material(*subject.model, low), above = is_material(*subject.model, high);
            const bool outermost = mark[axis] - grid.line[axis].front() < apart ||
                                   grid.line[axis].back() - mark[axis] < apart;
            // A plane that has the mark on its face shows air on one side: another is better.
            if (below == above || outermost) {
                const double middle = 0.5 * (grid.line[axis].front() + grid.line[axis].back());
                at[axis] = mark[axis] + (mark[axis] < middle ? apart : -apart);
            }
        }
    }
    std::vector<drawing::HeatView> out;
    constexpr std::array<std::array<std::size_t, 3>, 3> planes{{{2, 1, 0}, {2, 0, 1}, {0, 1, 2}}};
    for (const auto& [across, up, through] : planes) {
        out.push_back({.cut = {.across = across, .up = up, .at = at[through]},
                       .title = fmt::format("at {} = {}", axis_names[through], length(at[through], wish))});
    }
    return out;
}

Result<std::vector<OutFile>> heat_pictures(const HeatSubject& subject,
                                           const std::vector<drawing::HeatView>& views, std::string_view stem,
                                           const drawing::Caption& caption, const HeatWish& wish) {
    using drawing::Font;
    std::vector<OutFile> out;
    const drawing::HeatFrame frame{.width = views.size() > 1 ? 1160.0 : 960.0,
                                   .inch_pound_first = wish.inch_pound_first};
    for (const bool flow : {false, true}) {
        auto words = caption;
        words.line = fmt::format("{}{}{}", flow ? "Heat flow" : "Temperatures", caption.line.empty() ? "" : "; ",
                                 caption.line);
        auto sheet = flow ? drawing::flow_figure(subject, views, frame, words)
                          : drawing::temperature_figure(subject, views, frame, words);
        if (!sheet) return fail(sheet.error());
        sheet->margin = 22.0;
        const std::string path = fmt::format("{}-{}", stem, flow ? "flow" : "temperature");
        auto png = drawing::picture(*sheet, {.dark = wish.dark});
        if (!png) return fail(png.error());
        out.push_back({path + ".svg",
                       drawing::svg(*sheet, {.fonts = drawing::font_rules(
                                                 {Font::body, Font::condensed, Font::strong})})});
        out.push_back({path + ".png", std::move(*png)});
    }
    return out;
}

}  // namespace warmside::report
