#include "answer/runs.h"

#include <algorithm>
#include <fmt/format.h>

#include "answer/setting.h"
#include "climate/calendar.h"

namespace warmside::answer {

bool is_wall_like(const assembly::Assembly& a) {
    return a.part == assembly::Part::wall;
}

std::string outside_the_model(const assembly::House& house, const assembly::Assembly& a) {
    return setting_of(house, a).absent;
}

namespace {

bool has_structural_framing(const assembly::Assembly& a) {
    return std::any_of(a.layers.begin(), a.layers.end(), [](const assembly::Layer& layer) {
        return layer.framing && layer.kind == assembly::Layer::Kind::material;
    });
}

/// 0 to 11.
int start_month(const assembly::House& house) {
    return static_cast<int>(std::clamp(house.start_month, 1.0, 12.0)) - 1;
}

/// ASHRAE 160 gives its 1 % for walls; a roof leaks only where the house file says so.
double rain_leak_of(const assembly::Assembly& a) {
    const bool stated = a.rain_leak_origin.kind == Origin::Kind::house_file;
    return is_wall_like(a) || stated ? a.rain_leak : 0.0;
}

}  // namespace

void add_runs(const assembly::House& house, const assembly::Assembly& a, const std::vector<FaceCase>& faces,
              const Surroundings& around, std::vector<moisture::Run>& runs) {
    for (const auto& face : faces) {
        for (const auto path : {moisture::Path::bay, moisture::Path::framing}) {
            if (path == moisture::Path::framing && !has_structural_framing(a)) continue;
            moisture::Run run;
            run.name = fmt::format("{} {} {} {}", a.name, face.name, moisture::name_of(path),
                                   face.stressed ? "stressed" : "typical");
            run.assembly = &a;
            run.path = path;
            run.outside = &face.outside;
            run.beyond = face.beyond.get();
            run.inside = face.stressed ? &around.indoor_stressed : &around.indoor_typical;
            run.start_hour = climate::first_hour_of(start_month(house));
            run.rain_leak = rain_leak_of(a);
            runs.push_back(run);
        }
    }
}

namespace {

std::string rain_in_words(const assembly::Assembly& a, const Surroundings& around, const moisture::Basis& basis) {
    using assembly::Part;
    if (!basis.rain_known) return "the weather has no rain: driving rain and its leak are not considered";
    if (is_wall_like(a))
        return fmt::format(
            "{:.3g} % of the driving rain leaks to the outer side of the water layer ({} face: {:.0f} kg/m2 a year "
            "reach the wall)",
            100.0 * basis.rain_leak, around.summary.wettest_face, around.wall_rain);
    if (a.part == Part::basement_wall) return "driving rain wets the strip above grade; none leaks into the wall";
    if (a.part == Part::floor || a.part == Part::slab) return "no rain reaches the floor";
    if (basis.rain_leak > 0.0)
        return fmt::format("{:.3g} % of the rain on the roof leaks to the outer side of the water layer",
                           100.0 * basis.rain_leak);
    return "the roofing keeps all rain out";
}

}  // namespace

moisture::Basis basis_of(const assembly::House& house, const assembly::Assembly& a,
                         const Surroundings& around) {
    moisture::Basis basis;
    basis.stressed_year_run = true;
    basis.rain_leak = rain_leak_of(a);
    const climate::Stress stress;  // the amounts that `surroundings` stresses by
    basis.weather = fmt::format(
        "the weather of {}, typical and stressed ({:g} K colder, {:g} points damper, rain x {:g})",
        around.summary.place, stress.cooling, 100.0 * stress.humidity_rise, stress.rain_factor);
    basis.indoor = around.indoor_typical.assumes;
    basis.start = fmt::format("closed in {} with materials at their usual built-in moisture",
                              climate::month_names[static_cast<std::size_t>(start_month(house))]);
    basis.rain_known = !is_wall_like(a) || around.wall_rain > 0.0;
    basis.rain = rain_in_words(a, around, basis);
    const Setting setting = setting_of(house, a);
    basis.beyond = setting.words;
    basis.air = "no air leaks through the assembly: the airtight layer must be tight";
    return basis;
}

}  // namespace warmside::answer
