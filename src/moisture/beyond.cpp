#include "moisture/beyond.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "thermal/ground.h"

namespace warmside::moisture {
namespace {

using assembly::Layer;

constexpr double pi = std::numbers::pi;
constexpr double space_convection = 3.0;  // W/(m2 K) at each side of a space (our choice, as in a cavity)
constexpr double space_emissivity = 0.9;
constexpr double floor_film = 0.17;  // m2 K/W, heat flow down, ISO 6946 (memory)
constexpr double month = climate::hours_in_year / 12.0;
constexpr double most_soil = 0.5;  // m of soil that the column holds; ISO 13370 takes 0.5 m too (memory)
constexpr double ground_hold = 1e-3;

double radiation(double area) {
    // Grey parallel faces; the far one `area` times as large.
    const double loss = 1.0 / space_emissivity - 1.0;
    return 4.0 * stefan_boltzmann * std::pow(278.15, 3) / (1.0 + loss + loss / area);
}

Star star(const Beyond& beyond) {
    return star_of(space_convection, radiation(beyond.area), beyond.area);
}

thermal::FloorPlan plan_of(const FloorOnGround& floor) {
    return {.area = floor.area, .perimeter = floor.perimeter};
}

Result<thermal::GroundFloor> steady(const FloorOnGround& floor, const climate::Soil& soil) {
    return thermal::basement_floor(
        plan_of(floor), {.conductivity = soil.conductivity, .wall_thickness = floor.wall_thickness},
        floor.resistance, floor.depth);
}

// m of soil that the column holds; the rest of the path is a resistance.
double held_thickness(const Ground& ground) {
    return std::min(most_soil, 0.5 * ground.path * ground.soil.conductivity);
}

// Soil that water moves through so easily that it stays as damp as its edge.
Substance held_soil(const Ground& ground) {
    constexpr double wet = 300.0;  // kg/m3 when full
    Functions f;
    f.name = "ground";
    f.water = [](double theta) { return wet * std::exp(-theta); };
    f.saturation = wet;
    f.most = wet + 100.0;
    f.vapour = [](double) { return 1e-12; };
    f.liquid_conductivity = [](double) { return 1e-9; };
    f.conductivity = [k = ground.soil.conductivity](double) { return k; };
    f.heat_capacity = ground.soil.heat_capacity - water_heat * wet * ground.humidity;
    f.freezes = false;
    return tabulate(f);
}

class Far {
public:
    Far(Built& built, const Beyond& beyond, const Link& joint, Shelf& shelf, const Run& run)
        : built_(built), beyond_(beyond), shelf_(shelf), run_(run), next_(joint), depth_(built.thickness) {}

    Result<FarEnd> add() {
        built_.sheltered = true;
        if (beyond_.space) add_space();
        const auto& layers = beyond_.layers;
        const auto sheds = std::find_if(layers.begin(), layers.end(), [](const Layer& l) { return l.water; });
        for (auto layer = layers.begin(); layer != layers.end(); ++layer) {
            built_.beyond.push_back(*layer);
            switch (layer->kind) {
                case Layer::Kind::membrane: membranes_.push_back(layer->membrane); break;
                case Layer::Kind::air:
                    resistance_ += 0.16;  // ISO 6946, heat flow up, 25 mm and more (memory)
                    vapour_ += 0.01 / 2e-10;
                    break;
                case Layer::Kind::material: add_material(*layer, layer < sheds); break;
            }
        }
        if (beyond_.ground) add_soil();
        if (pending() || built_.column.nodes.size() < 2)
            return fail(Code::unsupported,
                        fmt::format("{}: what lies beyond ends with a membrane", run_.name));
        return end_;
    }

private:
    bool pending() const { return !membranes_.empty() || resistance_ > 0.0 || next_set_; }

    void add_space() {
        const Space& space = *beyond_.space;
        const Star arms = star(beyond_);
        const auto air = shelf_.air();
        built_.column.substances.push_back(air);
        add_node(built_.column,
                 {.substance = air.get(),
                  .volume = space.height,
                  .position = depth_ + 0.5 * space.height,
                  .layer = static_cast<int>(run_.assembly->layers.size()) - 1,
                  .weight = 0.2},
                 next_, 280.0, potential_of_humidity(0.7, reference_temperature));
        end_ = {built_.column.nodes.size() - 1, arms.air};
        built_.space = space.height;
        depth_ += space.height;
        // The far side's film waits for the next node; it is told per m2 of the far side.
        next_set_ = false;
        resistance_ = arms.outer * beyond_.area;
        vapour_ = 1.0 / (space_convection * vapour_per_heat);
    }

    Link joint() {
        if (std::exchange(next_set_, false)) return next_;
        Link link;
        const double area = beyond_.area;
        link.heat = resistance_ > 0.0 ? area / resistance_ : contact_heat;
        link.vapour = vapour_ > 0.0 ? area / vapour_ : contact_vapour;
        link.carries_latent = !membranes_.empty() || resistance_ > 0.0 || vapour_ > 0.0;
        link.area = area;
        if (!membranes_.empty()) {
            auto table = shelf_.resistance(membranes_, vapour_);
            link.membrane = table.get();
            built_.column.membranes.push_back(std::move(table));
        }
        membranes_.clear();
        resistance_ = vapour_ = 0.0;
        return link;
    }

    // Nodes of a layer on the far side: stores and flows are those of `area` m2.
    void scale(std::size_t first, std::size_t last) {
        for (std::size_t j = first; j <= last; ++j) {
            built_.column.nodes[j].volume *= beyond_.area;
            if (j > first) built_.column.links[j - 1].inverse_spacing *= beyond_.area;
        }
    }

    void add_material(const Layer& layer, bool judged) {
        const material::Material& m = *layer.material;
        const double thickness = layer.thickness.metres();
        const auto substance = shelf_.of(&m);
        built_.column.substances.push_back(substance);
        const std::size_t index = run_.assembly->layers.size() + built_.beyond.size() - 1;
        const std::size_t first = built_.column.nodes.size();
        const double humidity = layer.start_humidity >= 0.0 ? layer.start_humidity : m.start_humidity;
        const int pieces = m.density < 200.0 ? 6 : 7;
        add_layer(built_.column, substance.get(), graded(thickness, pieces, thickness / (3.0 * pieces)),
                  depth_, static_cast<int>(index), joint(), 280.0,
                  potential_of_humidity(humidity, reference_temperature), false);
        const std::size_t last = built_.column.nodes.size() - 1;
        for (std::size_t j = first; j <= last; ++j) built_.column.nodes[j].weight = judged ? 1.0 : 0.2;
        scale(first, last);
        const bool organic = m.mould <= material::MouldClass::sensitive;
        const std::string side = beyond_.space ? beyond_.space->name + " side" : "inner face";
        built_.spots.push_back({first, index, fmt::format("{} of {}", side, m.name), judged && organic});
        built_.spots.push_back({last, index, fmt::format("outer face of {}", m.name), judged && organic});
        built_.spans.push_back({index, first, last, beyond_.area});
        depth_ += thickness;
    }

    void add_soil() {
        const Ground& ground = *beyond_.ground;
        const double thickness = held_thickness(ground);
        auto substance = std::make_shared<const Substance>(held_soil(ground));
        built_.column.substances.push_back(substance);
        const std::size_t first = built_.column.nodes.size();
        add_layer(built_.column, substance.get(), graded(thickness, 6, thickness / 18.0), depth_, -1, joint(),
                  280.0, potential_of_humidity(ground.humidity, reference_temperature), false);
        const std::size_t last = built_.column.nodes.size() - 1;
        for (std::size_t j = first; j <= last; ++j) built_.column.nodes[j].weight = 0.2;
        depth_ += thickness;
    }

    Built& built_;
    const Beyond& beyond_;
    Shelf& shelf_;
    const Run& run_;
    Link next_;
    bool next_set_ = true;
    double depth_;
    FarEnd end_;
    std::vector<const material::Membrane*> membranes_;
    double resistance_ = 0.0, vapour_ = 0.0;  // m2 K/W, s m2 Pa/kg, of what waits for the next node
};

// Where the soil that the column holds ends.
double soil_beyond(const Ground& ground) {
    return ground.path - held_thickness(ground) / ground.soil.conductivity;
}

void begin_at_ground(Built& built, const Beyond& beyond, const Run& run) {
    const auto hour = static_cast<std::size_t>(run.start_hour % climate::hours_in_year);
    const double inside = run.inside->temperature[hour], deep = (*beyond.ground->temperature)[hour];
    Column& c = built.column;
    for (std::size_t j = 0; j < c.nodes.size(); ++j) {
        const bool in_soil = c.nodes[j].layer < 0;
        if (in_soil) c.temperature[j] = deep;
        if (!in_soil && !beyond.space)
            c.temperature[j] = inside + (deep - inside) * std::min(1.0, c.nodes[j].position /
                                                                            std::max(built.thickness, 1e-6));
    }
}

// The mean air change goes into the notes of the history.
void note_air(Built& built, const Space& space, std::size_t node, std::size_t exchange, const Run& run) {
    if (space.draught.openings > 0.0) {
        built.vents.push_back({node, space.height, space.vents, exchange, "air of the " + space.name});
        return;
    }
    double wind = 0.0;
    for (const double v : run.outside->wind_speed) wind += v / climate::hours_in_year;
    built.notes.push_back(fmt::format("air of the {}{}{}: mean outdoor air change {:.3g} /h", space.name,
                                      space.vents.empty() ? "" : ", ", space.vents,
                                      3600.0 * (space.wind_flow * wind + space.fixed_flow) / space.height));
}

}  // namespace

Space attic(double vent_share, double rise, double height) {
    constexpr double discharge = 0.6, coefficients = 0.6, next_to_none = 1e-3;  // Pa s/m
    Space space{.name = "attic", .height = height};
    if (vent_share <= 0.0) return space;
    const double opening = discharge * vent_share / (2.0 * std::numbers::sqrt2);
    space.draught = {
        .openings = 0.5 * cavity_air_density / (opening * opening), .friction = next_to_none, .rise = rise};
    space.wind_coefficient = coefficients;
    space.vents =
        fmt::format("vents 1/{:.0f} of the ceiling, half low, half {:.1f} m higher", 1.0 / vent_share, rise);
    return space;
}

Space crawl_space(double vent_share, double height, double wall_loss) {
    constexpr double discharge = 0.6, shelter = 0.05;
    return {.name = "crawl space",
            .height = height,
            .wind_flow = discharge * shelter * vent_share,
            .vents = fmt::format("vents 1/{:.0f} of the floor", 1.0 / vent_share),
            .loss = wall_loss};
}

Space closed_crawl_space(double air_change, double height, double wall_loss) {
    return {.name = "crawl space",
            .height = height,
            .fixed_flow = air_change * height,
            .vents = fmt::format("no vents, {:.2g} air changes an hour", 3600.0 * air_change),
            .loss = wall_loss};
}

Result<double> floor_swing(const FloorOnGround& floor, const climate::Soil& soil) {
    auto u = steady(floor, soil);
    if (!u) return fail(u.error());
    return 0.37 * floor.perimeter * soil.conductivity *
           std::log(climate::penetration_depth(soil) / u->equivalent + 1.0);
}

Result<Ground> below_floor(const FloorOnGround& floor, const climate::Soil& soil,
                           const climate::AnnualWave& air) {
    const auto u = steady(floor, soil);
    if (!u) return fail(u.error());
    const auto swing = floor_swing(floor, soil);
    if (!swing) return fail(swing.error());
    const double share = *swing / (floor.area * u->u);
    std::vector<double> temperature(climate::hours_in_year);
    for (std::size_t i = 0; i < temperature.size(); ++i) {
        const double hour = static_cast<double>(i) + 0.5 - air.coldest - month;
        temperature[i] =
            air.mean - air.amplitude * share * std::cos(2.0 * pi * hour / climate::hours_in_year);
    }
    return Ground{.temperature = std::make_shared<const std::vector<double>>(std::move(temperature)),
                  .path = std::max(0.05, 1.0 / u->u - floor_film - floor.resistance),
                  .soil = soil};
}

Ground beside(double depth, const climate::Soil& soil, const climate::AnnualWave& air) {
    const double z = std::max(depth, 0.05);
    return {
        .temperature = std::make_shared<const std::vector<double>>(climate::ground_temperature(air, soil, z)),
        .path = pi * z / (2.0 * soil.conductivity),
        .soil = soil};
}

climate::FaceWeather shaded(climate::FaceWeather weather) {
    std::fill(weather.solar.begin(), weather.solar.end(), 0.0);
    std::fill(weather.driving_rain.begin(), weather.driving_rain.end(), 0.0);
    weather.radiant = weather.temperature;
    return weather;
}

Star star_of(double convection, double radiation, double area) {
    // Resistances of the triangle inner face, outer face, air; then its star.
    const double inner_air = 1.0 / convection, outer_air = 1.0 / (area * convection),
                 across = 1.0 / radiation;
    const double sum = inner_air + outer_air + across;
    return {inner_air * across / sum, outer_air * across / sum, inner_air * outer_air / sum};
}

Films films_before(const Beyond& beyond) {
    if (!beyond.space) return {};
    return {star(beyond).inner, 1.0 / (space_convection * vapour_per_heat)};
}

Result<FarEnd> add_beyond(Built& built, const Beyond& beyond, const Link& joint, Shelf& shelf,
                          const Run& run) {
    if (beyond.ground && (!beyond.ground->temperature ||
                          beyond.ground->temperature->size() != std::size_t{climate::hours_in_year}))
        return fail(Code::incomplete,
                    fmt::format("{}: the ground has no temperature of 8760 hours", run.name));
    if (!beyond.ground && beyond.layers.empty())
        return fail(Code::missing,
                    fmt::format("{}: beyond the assembly stand neither layers nor ground", run.name));
    return Far(built, beyond, joint, shelf, run).add();
}

void close_beyond(Built& built, const Beyond& beyond, const FarEnd& end, const Run& run) {
    Column& c = built.column;
    std::optional<std::size_t> space;
    if (end.space) {
        space = c.exchanges.size();
        const bool first = std::none_of(c.exchanges.begin(), c.exchanges.end(), [](const Exchange& e) {
            return e.kind == Exchange::Kind::cavity && e.takes_air;
        });
        c.exchanges.push_back({.node = static_cast<int>(*end.space),
                               .kind = Exchange::Kind::cavity,
                               .takes_air = first,
                               .draught = beyond.space->draught});
        note_air(built, *beyond.space, *end.space, *space, run);
    }
    c.exchanges[1].takes_air = false;
    if (beyond.ground) begin_at_ground(built, beyond, run);
    c.weather = [before = std::move(c.weather), space, arm = end.arm, beyond, outside = run.outside,
                 share = run.wind_share, start = run.start_hour](int hour, Hour& to) {
        before(hour, to);
        const auto i = static_cast<std::size_t>((start + hour) % climate::hours_in_year);
        Ambient& far = to.ambient[1];
        if (space && *space < to.ambient.size()) {
            const Space& s = *beyond.space;
            const double v = outside->wind_speed[i];
            Ambient& air = to.ambient[*space];
            air = {.temperature = far.temperature, .vapour_pressure = far.vapour_pressure};
            air.arm = arm;
            air.loss = s.loss;
            if (s.draught.openings > 0.0) {
                air.wind_square = wind_square_of(s.wind_coefficient, share * v);
            } else {
                const double flow = s.wind_flow * v + s.fixed_flow;
                const double heat = flow * cavity_air_density * air_heat + s.loss;
                air.heat_film = heat / (1.0 + arm * heat);
                air.vapour_film = flow / (vapour_constant * far.temperature);
            }
        } else {
            to.air = 0.0;  // ground does not let air through
        }
        if (beyond.ground) {
            far = {.temperature = (*beyond.ground->temperature)[i],
                   .heat_film = 1.0 / soil_beyond(*beyond.ground),
                   .hold = ground_hold,
                   .held = potential_of_humidity(beyond.ground->humidity, reference_temperature)};
            return;
        }
        far.heat_film *= beyond.area;
        far.vapour_film *= beyond.area;
        far.emission = beyond.area * beyond.emissivity * stefan_boltzmann;
        far.sun = beyond.area * beyond.solar_absorptance * outside->solar[i];
        far.rain *= beyond.area;
    };
}

}  // namespace warmside::moisture
