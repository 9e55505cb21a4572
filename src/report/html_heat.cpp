// Pictures of heat in the page: a rung's repeating cell and its coldest junction.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "answer/heat_section.h"
#include "drawing/svg.h"
#include "report/heat_files.h"
#include "report/html_parts.h"

namespace warmside::report {
namespace {

constexpr double seen = 0.45;  // m of a junction on each side of its coldest place

/// One picture of temperatures, small enough for a page; empty where it cannot be drawn.
std::string picture(const answer::HeatSection& section, std::string_view title, const HeatWish& wish,
                    std::string_view id) {
    auto views = section_views(section);
    views.resize(1);
    if (section.psi && section.coldest) {
        // A junction: what surrounds its coldest place.
        const std::array<double, 3> at{section.coldest->x, section.coldest->y, section.coldest->z};
        const double x = at[views[0].cut.across], y = at[views[0].cut.up];
        views[0].window = drawing::Window{x - seen, x + seen, y - seen, y + seen};
    }
    const drawing::HeatFrame frame{
        .width = 640.0, .picture = 260.0, .pixels = 1.0, .inch_pound_first = wish.inch_pound_first};
    const drawing::Caption caption{
        .title = std::string(title),
        .line =
            fmt::format("Temperatures, inside {}, outside {}",
                        drawing::temperature_words(section.temperatures.front(), wish.inch_pound_first, 0),
                        drawing::temperature_words(section.temperatures.back(), wish.inch_pound_first, 0))};
    const auto sheet = drawing::temperature_figure(subject_of(section, wish), views, frame, caption);
    if (!sheet) return {};
    // One sheet unit a pixel, so that its letters are as large as the page's.
    return fmt::format("<div class=\"layers\" style=\"max-width:{:.0f}px\">", sheet->width) +
           drawing::svg(*sheet, {.standalone = false, .id = std::string(id)}) + "</div>";
}

}  // namespace

std::string heat_pictures_of(const Context& context, const answer::RungAnswer& rung, std::string_view id) {
    // While figures still come the page has no time for pictures.
    if (context.live || rung.junctions.empty()) return {};
    const auto& assembly = context.house.assemblies[rung.assembly];
    const thermal::Conditions conditions = answer::winter_of(context.house, context.answer.weather);
    const HeatWish wish{.inch_pound_first = context.answer.inch_pound_first};
    const auto coldest = std::min_element(rung.junctions.begin(), rung.junctions.end(),
                                          [](const auto& a, const auto& b) { return a.factor < b.factor; });
    std::string out;
    if (const auto cell = answer::clear_field_section(assembly, conditions))
        out += picture(*cell, "Clear field", wish, fmt::format("cell-{}", id));
    if (const auto section = answer::junction_section(assembly, *coldest, conditions))
        out += picture(*section, "Coldest junction: " + coldest->name, wish, fmt::format("cold-{}", id));
    return out;
}

}  // namespace warmside::report
