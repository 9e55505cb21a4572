#include "report/heat_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

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
                const auto q =
                    conduction::flux(*subject.model, *subject.solution, cell, subject.temperatures);
                const double size = q.x * q.x + q.y * q.y + q.z * q.z;
                if (!(size > most)) continue;
                most = size;
                out = {grid.centre(0, i), grid.centre(1, j), grid.centre(2, k)};
            }
        }
    }
    return out;
}

std::string psi_words(double psi, const HeatWish& wish) {
    const double unit = units::parse("1 Btu/(h ft degF)", units::linear_transmittance).value_or(1.0);
    const std::string si = fmt::format("{:.3f} W/(m K)", psi),
                      inch_pound = fmt::format("{:.3f} Btu/(h ft °F)", psi / unit);
    return wish.inch_pound_first ? inch_pound + ", " + si : si + ", " + inch_pound;
}

std::string length(double metres, const HeatWish& wish) {
    return thickness(metres, wish.inch_pound_first).first;
}

/// A member of a solid cell: it runs along one axis through the whole cell.
struct Member {
    std::string name;
    Place3 low, high;
    [[nodiscard]] double middle(std::size_t axis) const { return 0.5 * (low[axis] + high[axis]); }
};

/// The deepest member that runs along `axis` (0 across the face, 2 up it).
std::optional<Member> member_along(const conduction::Model& model, std::size_t axis) {
    std::optional<Member> best;
    Place3 far_low{1e9, 1e9, 1e9}, far_high{-1e9, -1e9, -1e9};
    std::vector<Member> all;
    for (const auto& region : model.regions) {
        Member m{region.name, {1e9, 1e9, region.shape.bottom}, {-1e9, -1e9, region.shape.top}};
        for (const auto& p : region.shape.outline) {
            m.low[0] = std::min(m.low[0], p.x), m.high[0] = std::max(m.high[0], p.x);
            m.low[1] = std::min(m.low[1], p.y), m.high[1] = std::max(m.high[1], p.y);
        }
        for (std::size_t k = 0; k < 3; ++k) {
            far_low[k] = std::min(far_low[k], m.low[k]);
            far_high[k] = std::max(far_high[k], m.high[k]);
        }
        if (!region.environment && region.over) all.push_back(std::move(m));
    }
    for (const Member& m : all) {
        const std::size_t other = 2 - axis;
        const bool through = m.low[axis] <= far_low[axis] && m.high[axis] >= far_high[axis];
        const bool part = m.low[other] > far_low[other] || m.high[other] < far_high[other];
        if (!through || !part) continue;
        if (!best || m.high[1] - m.low[1] > best->high[1] - best->low[1]) best = m;
    }
    return best;
}

}  // namespace

std::vector<drawing::HeatView> section_views(const answer::HeatSection& section) {
    const auto& model = section.model;
    if (model.geometry != conduction::Geometry::solid)
        return {drawing::HeatView{.cut = {.across = section.upright ? 1U : 0U,
                                          .up = section.upright ? 0U : 1U,
                                          .upside_down = section.upside_down}}};
    const auto stud = member_along(model, 2), furring = member_along(model, 0);
    if (!stud || !furring) return {drawing::HeatView{.cut = {.across = 1, .up = 0}}};
    return {{.cut = {.across = 1, .up = 0, .at = furring->middle(2)},
             .title = fmt::format("plan, through the {}", furring->name)},
            {.cut = {.across = 1, .up = 2, .at = stud->middle(0)},
             .title = fmt::format("upright, through the {}", stud->name)},
            {.cut = {.across = 0, .up = 2, .at = stud->middle(1)},
             .title = fmt::format("face on, in the plane of the {}", stud->name)}};
}

drawing::HeatSubject subject_of(const answer::HeatSection& section, const HeatWish& wish) {
    drawing::HeatSubject out{
        .model = &section.model, .solution = &section.solution, .temperatures = section.temperatures};
    for (const auto& region : section.model.regions) out.words.push_back(region.name);
    if (section.coldest) {
        out.mark = drawing::HeatMark{
            *section.coldest,
            fmt::format("coldest {}",
                        drawing::temperature_words(section.coldest_temperature, wish.inch_pound_first)),
            section.factor_note};
        if (section.factor) out.mark->words += fmt::format(", f {:.2f}", *section.factor);
    }
    return out;
}

Result<std::vector<OutFile>> section_files(const answer::HeatSection& section, std::string_view stem,
                                           const HeatWish& wish) {
    const drawing::Caption caption{
        .title = section.title,
        .line =
            fmt::format("{}{}; inside {}, outside {}", section.name,
                        section.psi ? ", psi " + psi_words(*section.psi, wish) : "",
                        drawing::temperature_words(section.temperatures.front(), wish.inch_pound_first, 0),
                        drawing::temperature_words(section.temperatures.back(), wish.inch_pound_first, 0))};
    return heat_pictures(subject_of(section, wish), section_views(section), stem, caption, wish);
}

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
            const bool outermost =
                mark[axis] - grid.line[axis].front() < apart || grid.line[axis].back() - mark[axis] < apart;
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
        words.line = fmt::format("{}{}{}", flow ? "Heat flow" : "Temperatures",
                                 caption.line.empty() ? "" : ", ", caption.line);
        auto sheet = flow ? drawing::flow_figure(subject, views, frame, words)
                          : drawing::temperature_figure(subject, views, frame, words);
        if (!sheet) return fail(sheet.error());
        sheet->margin = 22.0;
        const std::string path = fmt::format("{}-{}", stem, flow ? "flow" : "temperature");
        auto png = drawing::picture(*sheet, {.dark = wish.dark});
        if (!png) return fail(png.error());
        out.push_back(
            {path + ".svg", drawing::svg(*sheet, {.fonts = drawing::font_rules(
                                                      {Font::body, Font::condensed, Font::strong})})});
        out.push_back({path + ".png", std::move(*png)});
    }
    return out;
}

}  // namespace warmside::report
