#include "moisture/variation.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "climate/calendar.h"
#include "moisture/potential.h"
#include "moisture/ventilation.h"
#include "moisture/wording.h"

namespace warmside::moisture {
namespace {

using assembly::Assembly;
using assembly::Layer;
using units::Exact;

constexpr double drier_room = 0.10;                 // of relative humidity
constexpr double drier_start = 0.70;                // relative humidity, wood at some 13 %
constexpr double perm = 5.72e-11;                   // kg/(s m2 Pa)
constexpr double extra_wool = 0.0508;               // m, 2 in
constexpr double extra_cavity = 0.01905;            // m, 3/4 in
constexpr double free_air_change = 100.0 / 3600.0;  // 1/s
constexpr double dark = 0.9, light = 0.3;           // absorptance

bool has_air(const Run& run) {
    return run.air_flow != 0.0 ||
           (run.air_flow_by_hour && std::any_of(run.air_flow_by_hour->begin(), run.air_flow_by_hour->end(),
                                                [](double v) { return v != 0.0; }));
}

bool has_sun(const Run& run) {
    return std::any_of(run.outside->solar.begin(), run.outside->solar.end(),
                       [](double v) { return v > 0.0; });
}

void set_outside(Trial& trial, climate::FaceWeather weather) {
    trial.outside = std::make_shared<const climate::FaceWeather>(std::move(weather));
    trial.run.outside = trial.outside.get();
}

void set_inside(Trial& trial, climate::Indoor indoor) {
    trial.inside = std::make_shared<const climate::Indoor>(std::move(indoor));
    trial.run.inside = trial.inside.get();
}

void scale_air(Trial& trial, double factor) {
    trial.run.air_flow *= factor;
    if (!trial.run.air_flow_by_hour) return;
    auto flow = *trial.run.air_flow_by_hour;
    for (double& v : flow) v *= factor;
    trial.air = std::make_shared<const std::vector<double>>(std::move(flow));
    trial.run.air_flow_by_hour = trial.air.get();
}

/// False where the run does not have the driver.
bool remove(Trial& trial, Driver driver) {
    switch (driver) {
        case Driver::indoor_vapour: {
            auto indoor = *trial.run.inside;
            const auto& outdoor = trial.run.outside->vapour_pressure;
            for (std::size_t i = 0; i < indoor.vapour_pressure.size(); ++i)
                indoor.vapour_pressure[i] = std::min(indoor.vapour_pressure[i], outdoor[i]);
            set_inside(trial, std::move(indoor));
            return true;
        }
        case Driver::rain: {
            if (!(yearly_rain(trial.run) > 0.0)) return false;
            auto weather = *trial.run.outside;
            std::fill(weather.driving_rain.begin(), weather.driving_rain.end(), 0.0);
            set_outside(trial, std::move(weather));
            return true;
        }
        case Driver::sun: {
            if (!has_sun(trial.run)) return false;
            auto weather = *trial.run.outside;
            std::fill(weather.solar.begin(), weather.solar.end(), 0.0);
            set_outside(trial, std::move(weather));
            return true;
        }
        case Driver::built_in_water: trial.run.start_humidity = dry_start; return true;
        case Driver::air_leakage:
            if (!has_air(trial.run)) return false;
            scale_air(trial, 0.0);
            return true;
    }
    return false;
}

/// An assembly of the candidate's own, shared by its trials. Layers may have moved, so a mesh by layer goes.
Candidate with_layers(std::string what, Assembly changed) {
    auto shared = std::make_shared<const Assembly>(std::move(changed));
    return {std::move(what), [shared](const Run& run) {
                Trial trial(run);
                trial.assembly = shared;
                trial.run.assembly = shared.get();
                trial.run.mesh = nullptr;
                return trial;
            }};
}

void insert(Assembly& a, std::size_t at, Layer layer) {
    a.layers.insert(a.layers.begin() + static_cast<std::ptrdiff_t>(at), std::move(layer));
    if (a.leak_layer >= static_cast<int>(at)) ++a.leak_layer;
}

bool is_tight(const material::Membrane& m) {
    return material::permeance(m, 0.25) <= perm;
}

void add_retarder(const Assembly& a, std::vector<Candidate>& out) {
    const auto& catalogue = material::built_in();
    const auto* medium = catalogue.membrane("variable retarder, medium");
    const auto* wide = catalogue.membrane("variable retarder, wide");
    if (!medium || !wide) return;
    const std::size_t sheathing = a.datum();
    for (std::size_t i = 0; i < sheathing; ++i) {
        const Layer& layer = a.layers[i];
        if (layer.kind != Layer::Kind::membrane || !is_tight(*layer.membrane)) continue;
        const auto* other = layer.membrane->variable ? wide : medium;
        if (layer.membrane->name == other->name) return;
        Assembly changed = a;
        changed.layers[i].membrane = other;
        out.push_back(
            with_layers(fmt::format("{} in place of the {}", other->name, layer.membrane->name), changed));
        return;
    }
    const Layer& lining = a.layers.front();
    if (lining.kind != Layer::Kind::material || lining.material->is_insulation || sheathing == 0) return;
    Assembly changed = a;
    insert(changed, 1, {.kind = Layer::Kind::membrane, .membrane = medium});
    out.push_back(with_layers(
        fmt::format("a variable vapour retarder ({}) behind the {}", medium->name, lining.material->name),
        changed));
}

void open_up(const Assembly& a, std::vector<Candidate>& out) {
    const auto* wool = material::built_in().material("stone wool board");
    if (!wool) return;
    Assembly changed = a;
    std::string foam;
    for (std::size_t i = a.datum(); i < a.layers.size(); ++i) {
        auto& layer = changed.layers[i];
        if (layer.kind != Layer::Kind::material || layer.material->family != "foam") continue;
        foam = layer.material->name;
        layer.material = wool;
    }
    if (!foam.empty())
        out.push_back(with_layers(fmt::format("stone wool board in place of the {} outside", foam), changed));
}

void ventilate(const Assembly& a, std::vector<Candidate>& out) {
    if (a.part != assembly::Part::wall || a.layers.size() < 3) return;
    if (std::any_of(a.layers.begin(), a.layers.end(), [](const Layer& l) { return l.ventilated(); })) return;
    const Layer& cladding = a.layers.back();
    if (cladding.kind != Layer::Kind::material || cladding.material->is_insulation ||
        a.layers.size() - 1 <= a.datum())
        return;
    Assembly changed = a;
    insert(changed, a.layers.size() - 1,
           {.kind = Layer::Kind::air,
            .air = assembly::AirKind::ventilated,
            .thickness = Exact::nearest(extra_cavity)});
    out.push_back(
        with_layers(fmt::format("a ventilated cavity behind the {}", cladding.material->name), changed));
}

/// Heavy claddings and narrow vents let little air through (see docs/methods/moisture.md): open them top and
/// bottom.
void vent_freely(const Assembly& a, std::vector<Candidate>& out) {
    for (std::size_t i = 0; i < a.layers.size(); ++i) {
        const Layer& layer = a.layers[i];
        if (!layer.ventilated()) continue;
        const Layer* cladding = i + 1 < a.layers.size() ? &a.layers[i + 1] : nullptr;
        const bool little = layer.air_change > 0.0
                                ? layer.air_change < 0.5 * free_air_change
                                : layer.air == assembly::AirKind::slightly_ventilated || is_masonry(cladding);
        if (!little) return;
        Assembly changed = a;
        changed.layers[i].air = assembly::AirKind::ventilated;
        changed.layers[i].air_change = free_air_change;
        out.push_back(with_layers(fmt::format("the cavity open at top and bottom ({:g} air changes an hour)",
                                              3600.0 * free_air_change),
                                  changed));
        return;
    }
}

void insulate_outside(const Assembly& a, std::vector<Candidate>& out) {
    if (a.part != assembly::Part::wall && a.part != assembly::Part::roof) return;
    const auto* wool = material::built_in().material(a.part == assembly::Part::roof ? "stone wool roof board"
                                                                                    : "stone wool board");
    std::size_t at = a.datum() + 1;
    if (!wool || at >= a.layers.size()) return;
    while (at + 1 < a.layers.size() && a.layers[at].kind == Layer::Kind::membrane && a.layers[at].water) ++at;
    Assembly changed = a;
    insert(changed, at, {.material = wool, .thickness = Exact::nearest(extra_wool)});
    out.push_back(with_layers(
        fmt::format("2 in (50 mm) more {} outside the {}", wool->name, a.layers[a.datum()].title()),
        changed));
}

/// Ventilation cannot make the room drier than the air outside.
climate::Indoor drier(const Run& run) {
    auto indoor = *run.inside;
    for (std::size_t i = 0; i < indoor.vapour_pressure.size(); ++i) {
        double& p = indoor.vapour_pressure[i];
        const double least = std::min(p, run.outside->vapour_pressure[i]);
        p = std::max(least, p - drier_room * saturation_pressure(indoor.temperature[i]));
    }
    return indoor;
}

void add_use(const Run& run, std::vector<Candidate>& out) {
    out.push_back({fmt::format("indoor air {:g} points of relative humidity drier", 100.0 * drier_room),
                   [](const Run& r) {
                       Trial trial(r);
                       set_inside(trial, drier(r));
                       return trial;
                   }});
    if (has_air(run))
        out.push_back({"half the air leakage", [](const Run& r) {
                           Trial trial(r);
                           scale_air(trial, 0.5);
                           return trial;
                       }});
    if (rain_leak_of(run) * yearly_rain(run) > 0.0)
        out.push_back({"half the rain leak", [](const Run& r) {
                           Trial trial(r);
                           trial.run.rain_leak = 0.5 * rain_leak_of(r);
                           return trial;
                       }});
}

void add_start(const Run& run, std::vector<Candidate>& out) {
    out.push_back(
        {fmt::format("materials dried to {:g} % relative humidity before closing in (wood at some 13 %)",
                     100.0 * drier_start),
         [](const Run& r) {
             Trial trial(r);
             trial.run.start_humidity = drier_start;
             return trial;
         }});
    if (month_of(run.start_hour) != "May")
        out.push_back(
            {fmt::format("closing in in May instead of {}", month_of(run.start_hour)), [](const Run& r) {
                 Trial trial(r);
                 trial.run.start_hour = climate::first_hour_of(4);
                 return trial;
             }});
}

void add_colour(const Assembly& a, std::vector<Candidate>& out) {
    if (a.part != assembly::Part::roof) return;
    const auto painted = [&](const char* what, double absorptance) {
        Assembly changed = a;
        changed.solar_absorptance = absorptance;
        out.push_back(with_layers(what, changed));
    };
    if (a.solar_absorptance < dark - 0.05) painted("a dark roof", dark);
    if (a.solar_absorptance > light + 0.05) painted("a light roof", light);
}

}  // namespace

std::optional<Trial> without(const Run& run, Driver driver) {
    Trial trial(run);
    if (!remove(trial, driver)) return std::nullopt;
    return trial;
}

Trial without_any(const Run& run, bool sun_too) {
    Trial trial(run);
    for (const Driver driver : all_drivers)
        if (driver != Driver::sun || sun_too) (void)remove(trial, driver);
    return trial;
}

double yearly_rain(const Run& run) {
    const auto& rain = run.outside->driving_rain;
    return 3600.0 * std::accumulate(rain.begin(), rain.end(), 0.0);
}

double rain_leak_of(const Run& run) {
    return run.rain_leak >= 0.0 ? run.rain_leak : run.assembly->rain_leak;
}

std::vector<Candidate> candidates(const Run& run) {
    std::vector<Candidate> out;
    const Assembly& a = *run.assembly;
    if (a.layers.empty()) return out;
    add_retarder(a, out);
    open_up(a, out);
    ventilate(a, out);
    vent_freely(a, out);
    insulate_outside(a, out);
    add_use(run, out);
    add_start(run, out);
    add_colour(a, out);
    return out;
}

}  // namespace warmside::moisture
