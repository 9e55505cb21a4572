#include "moisture/second_opinion.h"

#include <fmt/format.h>

#include <algorithm>

#include "moisture/path.h"
#include "moisture/surface.h"
#include "moisture/wording.h"
#include "thermal/air_layer.h"

namespace warmside::moisture {
namespace {

constexpr double usual_humidity = 0.5;
constexpr double inner_film = 0.13, outer_film = 0.04;  // m2 K/W, ISO 6946 (memory)
constexpr double still_air_permeability = 2e-10;        // kg/(s m Pa), ISO 13788 (quoted)
constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

std::string month(int number) {
    int hour = 0;
    for (int m = 1; m < number; ++m) hour += 24 * days[static_cast<std::size_t>(m - 1)];
    return month_of(hour);
}

/// Means of one column over each month.
std::array<double, 12> means(const std::vector<double>& column) {
    std::array<double, 12> out{};
    std::size_t i = 0;
    for (std::size_t m = 0; m < 12; ++m) {
        const std::size_t hours = 24 * static_cast<std::size_t>(days[m]);
        for (std::size_t k = 0; k < hours; ++k) out[m] += column[i++];
        out[m] /= static_cast<double>(hours);
    }
    return out;
}

std::string sentence(const MonthlyOpinion& o) {
    if (o.first_month == 0) return "no condensation in any month";
    const auto water = fmt::format("up to {:.2f} kg/m2 {} in {}, from {} on", o.peak, o.place,
                                   month(o.peak_month), month(o.first_month));
    if (!o.dries_out) return water + "; it does not dry out within the year";
    return o.dry_month == 0 ? water : fmt::format("{}; dry by the end of {}", water, month(o.dry_month));
}

}  // namespace

std::array<MonthlyAir, 12> monthly_means(const climate::FaceWeather& outside, const climate::Indoor& inside) {
    const auto outdoor = means(outside.temperature), outdoor_vapour = means(outside.vapour_pressure);
    const auto indoor = means(inside.temperature), indoor_vapour = means(inside.vapour_pressure);
    std::array<MonthlyAir, 12> out;
    const auto air = [](double temperature, double vapour) {
        return SteadyAir{temperature, std::min(vapour, saturation_iso13788(temperature))};
    };
    for (std::size_t m = 0; m < 12; ++m)
        out[m] = {air(indoor[m], indoor_vapour[m]), air(outdoor[m], outdoor_vapour[m])};
    return out;
}

Result<SteadyPath> steady_path(const Run& run) {
    const assembly::Assembly& a = *run.assembly;
    std::vector<std::string> notes;  // the solver's, already in its history
    SteadyPath out;
    const auto add = [&](std::string name, double resistance, double vapour) {
        out.layers.push_back({resistance, vapour});
        out.names.push_back(std::move(name));
    };
    const auto add_sheet = [&](const material::Membrane& m) {
        add(m.name, 0.0, 1.0 / material::permeance(m, usual_humidity));
    };
    add("room", inner_film, 0.0);
    for (const Segment& segment : path_through(a, run.path, notes)) {
        const auto& layer = a.layers[segment.layer];
        if (segment.kind == Segment::Kind::cavity) break;
        if (segment.kind == Segment::Kind::membrane) {
            add_sheet(*layer.membrane);
        } else if (segment.kind == Segment::Kind::still_air) {
            const auto r = thermal::air_layer_resistance({.thickness = std::min(segment.thickness, 0.3),
                                                          .emissivity_inside = layer.emissivity_inside,
                                                          .emissivity_outside = layer.emissivity_outside,
                                                          .flow = thermal::heat_flow(a.tilt)});
            if (!r) return fail(r.error());
            add("still air", *r, std::min(segment.thickness, 0.01) / still_air_permeability);
        } else {
            if (layer.finish && segment.first_of_layer) add_sheet(*layer.finish);
            const auto& m = *segment.material;
            add(m.name, segment.thickness / material::conductivity(m, m.test_temperature),
                segment.thickness / material::vapour_permeability(m, usual_humidity));
        }
    }
    add("outside", outer_film, 0.0);
    return out;
}

Result<MonthlyOpinion> monthly_opinion(const Run& run) {
    const auto path = steady_path(run);
    if (!path) return fail(path.error());
    const auto year = monthly_condensation(path->layers, monthly_means(*run.outside, *run.inside));
    if (!year) return fail(year.error());
    MonthlyOpinion out{.run = run.name,
                       .peak = year->peak,
                       .first_month = year->first_month,
                       .peak_month = year->peak_month,
                       .dry_month = year->dry_month,
                       .dries_out = year->dries_out,
                       .place = {},
                       .words = {}};
    double most = 0.0;
    for (std::size_t k = 0; k < year->plane.size() && out.peak_month > 0; ++k) {
        const double water = year->water[k][static_cast<std::size_t>(out.peak_month - 1)];
        if (water <= most) continue;
        most = water;
        const std::size_t plane = year->plane[k];
        out.place = fmt::format("between {} and {}", path->names[plane - 1],
                                plane < path->names.size() ? path->names[plane] : "outside");
    }
    out.words = sentence(out);
    return out;
}

void add_second_opinion(std::span<const Run> runs, Verdict& verdict) {
    const auto run =
        std::find_if(runs.begin(), runs.end(), [&](const Run& r) { return r.name == verdict.deciding.run; });
    if (run == runs.end()) return;
    auto opinion = monthly_opinion(*run);
    if (opinion) {
        verdict.monthly = std::move(*opinion);
    } else {
        verdict.notes.push_back("no second opinion by ISO 13788: " + opinion.error().what);
    }
}

}  // namespace warmside::moisture
