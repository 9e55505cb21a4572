#include "structure/posts.h"

#include <algorithm>
#include <array>

#include "structure/wind.h"

namespace warmside::structure {

namespace {

/// Shares of the loads, and the duration of the shortest.
struct Combination {
    const char* name;
    double live, roof, wind;
    double duration;
    bool construction;  ///< the roof's part is its live load, not snow
};

std::array<Combination, 9> combinations() {
    const Durations& d = durations();
    return {{{"D", 0, 0, 0, d.dead, false},
             {"D + L", 1, 0, 0, d.live, false},
             {"D + S", 0, 1, 0, d.snow, false},
             {"D + Lr", 0, 1, 0, d.construction, true},
             {"D + 0.75 L + 0.75 S", 0.75, 0.75, 0, d.snow, false},
             {"D + 0.75 L + 0.75 Lr", 0.75, 0.75, 0, d.construction, true},
             {"D + 0.6 W", 0, 0, 1, d.wind, false},
             {"D + 0.75 L + 0.75 S + 0.75 (0.6 W)", 0.75, 0.75, 0.75, d.wind, false},
             {"D + 0.75 L + 0.75 Lr + 0.75 (0.6 W)", 0.75, 0.75, 0.75, d.wind, true}}};
}

}  // namespace

PostLoad over(const LineLoad& load, double width) {
    return {.dead = width * load.dead,
            .live = width * (load.floor_live + load.attic_live),
            .snow = width * load.snow,
            .roof_live = width * load.roof_live};
}

WorstCase worst_of(const ColumnCase& upright, const PostLoad& load, bool windy) {
    WorstCase out;
    for (const Combination& each : combinations()) {
        if ((each.wind > 0) != windy) continue;
        ColumnCase c = upright;
        c.duration = each.duration;
        c.axial =
            load.dead + each.live * load.live + each.roof * (each.construction ? load.roof_live : load.snow);
        c.across = each.wind * load.wind;
        const auto result = column(c);
        if (!result) return {2.0, each.name, result.error().what, each.duration};
        if (result->ratio > out.ratio) out = {result->ratio, each.name, {}, each.duration};
    }
    return out;
}

double heaviest(const PostLoad& load) {
    const double roof = std::max(load.snow, load.roof_live);
    return load.dead + std::max({load.live, roof, 0.75 * (load.live + roof)});
}

std::optional<double> governing_pressure(const Site& site, double area) {
    const auto& loads = site.house().loads;
    const auto pressure =
        ultimate_pressure(loads.wind_speed->value, loads.exposure->value, site.mean_roof_height(), area);
    if (!pressure) return std::nullopt;
    return std::max(pressure->towards, -pressure->corner);
}

std::vector<Input> load_inputs(const Site& site, const LineLoad& load) {
    const auto& loads = site.house().loads;
    return {site.snow(),
            {"roof live load", limits().roof_live, "Pa", limits().roof_live_origin},
            input("floor live load", loads.floor_live, "Pa"),
            input("floor dead load", loads.floor_dead, "Pa"),
            input("roof dead load", loads.roof_dead, "Pa"),
            input("attic live load", loads.attic_live, "Pa"),
            computed("roof width carried", load.roof_width, "m"),
            computed("floor width carried", load.floor_width, "m"),
            computed("dead load on the wall", load.dead, "N/m")};
}

std::vector<Input> column_inputs(const ColumnCase& upright, const WorstCase& worst, bool windy) {
    const Lumber& lumber = upright.lumber;
    const Durations& d = durations();
    std::vector<Input> out{{"compression strength Fc", lumber.compression, "Pa", lumber.origin},
                           {"modulus for stability Emin", lumber.stability, "Pa", lumber.origin},
                           {"size factor on Fc", lumber.size_compression, "-", lumber.size_origin},
                           {"load duration CD", worst.duration, "-", d.origin_of(worst.duration)}};
    if (windy) {
        out.push_back({"bending strength Fb", lumber.bending, "Pa", lumber.origin});
        out.push_back({"size factor on Fb", lumber.size_bending, "-", lumber.size_origin});
        out.push_back({"repetitive member factor Cr", upright.repetitive, "-", d.origin});
    }
    return out;
}

}  // namespace warmside::structure
