#include "report/detail.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/terminal_parts.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

using answer::DetailAnswer;
using conduction::Geometry;
using project::Detail;

double one(std::string_view text, const units::Dimension& dimension) {
    return units::parse(text, dimension).value_or(1.0);
}

Pair ordered(std::string inch_pound, std::string si, bool inch_pound_first) {
    if (inch_pound_first) return {std::move(inch_pound), std::move(si)};
    return {std::move(si), std::move(inch_pound)};
}

Pair flow_words(double flow, const Detail& detail) {
    const double power = one("1 Btu/h", units::power);
    if (detail.model.geometry == Geometry::plane)
        return ordered(fmt::format("{} Btu/(h ft)", number(flow * one("1 ft", units::length) / power)),
                       fmt::format("{} W/m", number(flow)), detail.inch_pound_first);
    return ordered(fmt::format("{} Btu/h", number(flow / power)), fmt::format("{} W", number(flow)),
                   detail.inch_pound_first);
}

Pair coupling_words(double coupling, const Detail& detail) {
    if (detail.model.geometry == Geometry::plane)
        return ordered(fmt::format("{} Btu/(h ft °F)",
                                   number(coupling / one("1 Btu/(h ft degF)", units::linear_transmittance))),
                       fmt::format("{} W/(m K)", number(coupling)), detail.inch_pound_first);
    return ordered(
        fmt::format("{} Btu/(h °F)", number(coupling / one("1 Btu/(h degF)", units::point_transmittance))),
        fmt::format("{} W/K", number(coupling)), detail.inch_pound_first);
}

std::string place_words(const conduction::Point& at, const Detail& detail) {
    const auto length = [&](double metres) {
        return detail.inch_pound_first ? units::inches(metres) : units::millimetres(metres);
    };
    std::string out = fmt::format("{}, {}", length(at.x), length(at.y));
    if (detail.model.geometry == Geometry::solid) out += fmt::format(", {}", length(at.z));
    return out;
}

const char* geometry_words(Geometry geometry) {
    switch (geometry) {
        case Geometry::plane: return "a section: flows are those of one foot or metre of its length";
        case Geometry::axisymmetric: return "turned about the axis x = 0: flows are those of the whole turn";
        case Geometry::solid: return "a solid: flows are those of the piece as it is drawn";
    }
    return "";
}

const char* geometry_name(Geometry geometry) {
    switch (geometry) {
        case Geometry::plane: return "plane";
        case Geometry::axisymmetric: return "axisymmetric";
        case Geometry::solid: return "solid";
    }
    return "";
}

Json json_of(const conduction::Point& at, Geometry geometry) {
    Json out = Json::array({at.x, at.y});
    if (geometry == Geometry::solid) out.push_back(at.z);
    return out;
}

std::size_t material_cells(const Detail& detail, const DetailAnswer& answer) {
    const auto& region = answer.solution.region;
    return static_cast<std::size_t>(std::count_if(region.begin(), region.end(), [&](std::uint16_t r) {
        return r != conduction::no_region && !detail.model.regions[r].environment;
    }));
}

}  // namespace

std::string detail_text(const Detail& detail, const DetailAnswer& a, const Style& style) {
    const bool first = detail.inch_pound_first;
    std::string out = paint(detail.name, Ansi::bold, style) + "\n" +
                      paint(geometry_words(detail.model.geometry), Ansi::quiet, style) + "\n\n";
    const char* where = detail.model.geometry == Geometry::solid ? "at x, y, z" : "at x, y";
    Table surfaces({1, 2, 3, 4, 5});
    surfaces.row({"air or ground", "", "gives off", "", "coldest surface", "f", where});
    for (const auto& each : a.surfaces) {
        const auto air = temperature(each.temperature, first), lowest = temperature(each.lowest, first);
        const auto flow = flow_words(each.flow, detail);
        surfaces.row({each.environment, air.first, flow.first, flow.second, each.touches ? both(lowest) : "-",
                      each.factor ? fmt::format("{:.3f}", *each.factor) : "-",
                      each.touches ? place_words(each.lowest_at, detail) : "touches no material"});
    }
    out += surfaces.text(2, 1, style) + "\n";
    Table couplings({1, 2});
    couplings.row({"from and to", "coupling", ""});
    const auto& environments = detail.model.environments;
    for (std::size_t i = 0; i < environments.size(); ++i) {
        for (std::size_t j = i + 1; j < environments.size(); ++j) {
            const auto words = coupling_words(a.solution.between(i, j), detail);
            couplings.row({fmt::format("{} - {}", environments[i].name, environments[j].name), words.first,
                           words.second});
        }
    }
    out += couplings.text(2, 1, style);
    if (!a.probes.empty()) {
        Table probes({1, 2});
        probes.row({"point", "", "", where});
        for (const auto& each : a.probes) {
            const auto words = temperature(each.temperature, first);
            probes.row({each.name, words.first, words.second, place_words(each.at, detail)});
        }
        out += "\n" + probes.text(2, 1, style);
    }
    out += "\n";
    for (const auto& each : a.surfaces) {
        if (!each.critical || !each.touches) continue;
        const bool below = each.lowest < *each.critical;
        out += entry(each.environment,
                     fmt::format("the surface passes 80 % relative humidity below {}: {}",
                                 both(temperature(*each.critical, first)),
                                 below ? "its coldest place is colder" : "no place is that cold"),
                     style, 2, 14, below);
    }
    out += entry("error",
                 fmt::format("{} {:.2g} % of the largest coupling{}; {} cells",
                             a.solution.bound ? "at most" : "about", 100.0 * a.solution.error,
                             a.solution.bound ? " (a bound)" : " (an estimate)", material_cells(detail, a)),
                 style, 2, 14);
    return out;
}

Json detail_json(const Detail& detail, const DetailAnswer& a) {
    const auto geometry = detail.model.geometry;
    Json out{{"schema", schema},
             {"detail", detail.name},
             {"units_first", detail.inch_pound_first ? "inch-pound" : "metric"},
             {"geometry", geometry_name(geometry)},
             {"tolerance", detail.tolerance},
             {"mean_temperature", detail.mean_temperature}};
    Json environments = Json::array(), couplings = Json::array(), probes = Json::array(),
         regions = Json::array();
    for (const auto& each : a.surfaces) {
        Json row{{"name", each.environment}, {"temperature", each.temperature}, {"flow", each.flow}};
        row["lowest"] = each.touches ? Json(each.lowest) : Json(nullptr);
        row["lowest_at"] = each.touches ? json_of(each.lowest_at, geometry) : Json(nullptr);
        row["highest"] = each.touches ? Json(each.highest) : Json(nullptr);
        row["factor"] = each.factor ? Json(*each.factor) : Json(nullptr);
        row["critical"] = each.critical ? Json(*each.critical) : Json(nullptr);
        environments.push_back(std::move(row));
    }
    const auto& names = detail.model.environments;
    for (std::size_t i = 0; i < names.size(); ++i) {
        for (std::size_t j = i + 1; j < names.size(); ++j)
            couplings.push_back(
                {{"from", names[i].name}, {"to", names[j].name}, {"value", a.solution.between(i, j)}});
    }
    for (const auto& each : a.probes)
        probes.push_back(
            {{"name", each.name}, {"at", json_of(each.at, geometry)}, {"temperature", each.temperature}});
    for (std::size_t r = 0; r < detail.model.regions.size(); ++r) {
        const auto& region = detail.model.regions[r];
        if (region.environment) continue;
        regions.push_back({{"name", region.name},
                           {"material", detail.substances[r].words},
                           {"conductivity", region.conductivity},
                           {"origin", report::json_of(detail.substances[r].origin)}});
    }
    out["environments"] = std::move(environments);
    out["couplings"] = std::move(couplings);
    out["probes"] = std::move(probes);
    out["regions"] = std::move(regions);
    out["error"] = a.solution.error;
    out["bound"] = a.solution.bound;
    out["imbalance"] = a.solution.imbalance;
    out["cells"] = material_cells(detail, a);
    return out;
}

Result<std::vector<OutFile>> detail_files(const Detail& detail, const DetailAnswer& a, std::string_view stem,
                                          const HeatWish& wish) {
    drawing::HeatSubject subject{.model = &detail.model, .solution = &a.solution};
    for (const auto& each : detail.model.environments) subject.temperatures.push_back(each.temperature);
    for (const auto& each : detail.substances) subject.words.push_back(each.words);
    drawing::Caption caption{.title = detail.name};
    for (const auto& each : detail.model.environments)
        caption.line += fmt::format("{}{} {}", caption.line.empty() ? "" : ", ", each.name,
                                    drawing::temperature_words(each.temperature, wish.inch_pound_first, 0));
    if (a.coldest_inside) {
        const auto& surface = a.surfaces[*a.coldest_inside];
        subject.mark = drawing::HeatMark{
            surface.lowest_at,
            fmt::format("coldest {}, f {:.2f}",
                        drawing::temperature_words(surface.lowest, wish.inch_pound_first), *surface.factor),
            {}};
        if (surface.critical) {
            subject.critical = surface.critical;
            subject.critical_words = fmt::format(
                "{}; colder than that, a surface passes 80 % relative humidity at {:.0f} % in the {}",
                drawing::temperature_words(*surface.critical, wish.inch_pound_first),
                100.0 * detail.humidity[*a.coldest_inside].value_or(0.0), surface.environment);
        }
    }
    auto views = views_of(subject, wish);
    for (auto& view : views) {
        const auto &across = detail.window[view.cut.across], &up = detail.window[view.cut.up];
        if (!across && !up) continue;
        constexpr double far = 1e9;
        view.window = drawing::Window{across ? across->first : -far, across ? across->second : far,
                                      up ? up->first : -far, up ? up->second : far};
    }
    return heat_pictures(subject, views, stem, caption, wish);
}

}  // namespace warmside::report
