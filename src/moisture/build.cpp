#include "moisture/build.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "moisture/beyond.h"
#include "moisture/mesh.h"
#include "moisture/path.h"
#include "moisture/potential.h"
#include "moisture/ventilation.h"
#include "thermal/air_layer.h"

namespace warmside::moisture {
namespace {

using assembly::AirKind;
using assembly::Layer;

constexpr double indoor_heat_film = 7.7;     // W/(m2 K), Rsi 0.13 m2 K/W, ISO 6946 (memory)
constexpr double indoor_convection = 2.5;    // W/(m2 K), ISO 6946 annex C (memory): moves the vapour
constexpr double cavity_convection = 3.0;    // W/(m2 K) at each face of a ventilated cavity (our choice)
constexpr double leaking_air_density = 1.2;  // kg/m3

struct Cavity {
    std::size_t node;
    double flow;              // m3/(s m2) where the air change is fixed, else 0
    Ventilation ventilation;  // else
};

class Builder {
public:
    Builder(const Run& run, const Options& options, Shelf& shelf)
        : run_(run), wall_(*run.assembly), options_(options), shelf_(shelf) {}

    Result<Built> build() {
        out_.column.name = run_.name;
        leak_share_ = run_.rain_leak >= 0.0 ? run_.rain_leak : wall_.rain_leak;
        find_layers();
        const auto segments = path_through(wall_, run_.path, out_.notes);
        for (const Segment& segment : segments) {
            if (auto placed = place(segment); !placed) return fail(placed.error());
        }
        if (out_.column.nodes.empty())
            return fail(Code::unsupported, fmt::format("{}: no layer of a material", run_.name));
        out_.thickness = depth_;
        if (run_.beyond) {
            const Films films = films_before(*run_.beyond);
            auto end = add_beyond(out_, *run_.beyond, joint(films.heat, films.vapour), shelf_, run_);
            if (!end) return fail(end.error());
            close();
            close_beyond(out_, *run_.beyond, *end, run_);
            return std::move(out_);
        }
        if (!joint_is_bare()) put_skin(wall_.layers.size() - 1);
        close();
        return std::move(out_);
    }

private:
    void find_layers() {
        const auto& layers = wall_.layers;
        for (std::size_t i = 0; i < layers.size(); ++i) {
            if (layers[i].water && !water_layer_) water_layer_ = i;
            if (layers[i].ventilated() && !first_cavity_) first_cavity_ = i;
            const bool solid = layers[i].kind == Layer::Kind::material;
            if ((solid || layers[i].ventilated()) && lining_) past_lining_ = run_.air_past_lining;
            if (solid && !lining_) lining_ = i;
        }
        if (wall_.leak_layer >= 0 && wall_.leak_layer < static_cast<int>(layers.size())) {
            leak_layer_ = static_cast<std::size_t>(wall_.leak_layer);
        } else {
            leak_layer_ = water_layer_;
        }
        if (leak_share_ > 0.0 && !leak_layer_)
            out_.notes.push_back(
                "no water-resistive layer: the rain leak has no place to land and is left out");
    }

    // A vented roof that lists no ventilated layer has one over its last insulation, before `segment`.
    bool vent_goes_before(const Segment& segment) const {
        if (!wall_.vented || first_cavity_ || past_cavity_ || segment.layer == 0) return false;
        const auto insulates = [](const Layer& l) { return l.material && l.material->is_insulation; };
        const auto first = wall_.layers.begin() + static_cast<std::ptrdiff_t>(segment.layer);
        return segment.first_of_layer && std::any_of(wall_.layers.begin(), first, insulates) &&
               std::none_of(first, wall_.layers.end(), insulates);
    }

    void add_vent(const Segment& segment) {
        vent_.kind = Layer::Kind::air;
        vent_.air = AirKind::ventilated;
        vent_.thickness = assembly::Exact::millimetres(25);
        first_cavity_ = segment.layer;
        assembly::Assembly with = wall_;
        with.layers.insert(with.layers.begin() + static_cast<std::ptrdiff_t>(segment.layer), vent_);
        add_cavity(vent_, {.kind = Segment::Kind::cavity, .layer = segment.layer - 1, .thickness = 0.025},
                   &with);
        out_.column.nodes.back().position = depth_;  // it has no depth in the assembly
        out_.notes.push_back(
            "the roof is vented and lists no ventilated air: a vent space of 25 mm (1 in) over the "
            "insulation is "
            "taken");
    }

    Result<void> place(const Segment& segment) {
        if (vent_goes_before(segment)) add_vent(segment);
        const Layer& layer = wall_.layers[segment.layer];
        switch (segment.kind) {
            case Segment::Kind::membrane: membranes_.push_back(layer.membrane); break;
            case Segment::Kind::still_air:
                if (auto added = add_still_air(layer, segment.thickness); !added) return added;
                break;
            case Segment::Kind::cavity: add_cavity(layer, segment); break;
            case Segment::Kind::material:
                if (auto added = add_material(layer, segment); !added) return added;
                break;
        }
        depth_ += segment.thickness;
        if (leak_layer_ == segment.layer && segment.last_of_layer) land_leak(segment);
        return {};
    }

    Result<void> add_still_air(const Layer& layer, double thickness) {
        const auto r = thermal::air_layer_resistance({.thickness = std::min(thickness, 0.3),
                                                      .emissivity_inside = layer.emissivity_inside,
                                                      .emissivity_outside = layer.emissivity_outside,
                                                      .flow = thermal::heat_flow(wall_.tilt)});
        if (!r) return fail(r.error());
        air_resistance_ += *r;
        // Stirred by convection: sd 0.01 m whatever the thickness (ISO 13788, quoted).
        vapour_resistance_ += std::min(thickness, 0.01) / 2e-10;
        return {};
    }

    // What touches without becoming one body: a film of air that liquid does not cross.
    Result<void> break_contact(Layer::Contact contact) {
        constexpr double film = 1e-3;  // m (our choice)
        if (contact == Layer::Contact::full) return {};
        vapour_resistance_ += film / 2e-10;
        if (contact == Layer::Contact::open) return {};
        const auto r =
            thermal::air_layer_resistance({.thickness = film, .flow = thermal::heat_flow(wall_.tilt)});
        if (!r) return fail(r.error());
        air_resistance_ += *r;
        return {};
    }

    bool joint_is_bare() const {
        return membranes_.empty() && air_resistance_ == 0.0 && vapour_resistance_ == 0.0;
    }

    // The link from the last node to the next, from what lies between; `heat` and `vapour` are resistances of
    // films.
    Link joint(double heat = 0.0, double vapour = 0.0) {
        Link link;
        const bool bare = joint_is_bare() && heat == 0.0 && vapour == 0.0;
        const double r = air_resistance_ + heat, z = vapour_resistance_ + vapour;
        link.heat = r > 0.0 ? 1.0 / r : contact_heat;
        link.vapour = z > 0.0 ? 1.0 / z : contact_vapour;
        link.carries_latent = !bare;
        link.carries_air = air_passes();
        if (!membranes_.empty()) {
            auto table = shelf_.resistance(membranes_, z);
            link.membrane = table.get();
            out_.column.membranes.push_back(std::move(table));
        }
        membranes_.clear();
        air_resistance_ = vapour_resistance_ = 0.0;
        return link;
    }

    // Air runs from where it enters to the first ventilated cavity.
    bool air_passes() const { return !past_cavity_ && (!past_lining_ || joint_node_); }
    // The node that comes next is the one at which air past the lining enters, if it is the first behind it.
    void enter(std::size_t layer) {
        if (past_lining_ && !joint_node_ && layer > *lining_) joint_node_ = out_.column.nodes.size();
    }

    void keep(const std::shared_ptr<const Substance>& substance) {
        out_.column.substances.push_back(substance);
    }

    // A layer of next to nothing that carries a paint or membrane at a face of the assembly.
    void put_skin(std::size_t layer) {
        const auto air = shelf_.air();
        keep(air);
        const Node skin{.substance = air.get(),
                        .volume = 1e-3,
                        .position = depth_,
                        .layer = static_cast<int>(layer),
                        .weight = 0.2};
        // The innermost node has no link behind it: what it carries belongs to the link that follows.
        const Link behind = out_.column.nodes.empty() ? Link{} : joint();
        add_node(out_.column, skin, behind, start_temperature(), start_potential(0.5));
    }

    void put_film(std::size_t layer) {
        const auto film = shelf_.film();
        keep(film);
        const Node node{.substance = film.get(),
                        .volume = 1e-3,
                        .position = depth_,
                        .layer = static_cast<int>(layer),
                        .weight = weight(layer)};
        add_node(out_.column, node, joint(), start_temperature(), start_potential(0.7));
    }

    double start_temperature() const { return 288.15; }
    static double start_potential(double humidity) {
        return potential_of_humidity(humidity, reference_temperature);
    }
    // Errors outside the water layer or a ventilated cavity, or in the last of several layers, count a fifth.
    double weight(std::size_t layer) const {
        const bool last = layer > 0 && layer + 1 == wall_.layers.size() && !run_.beyond;
        return last || past_cavity_ || (water_layer_ && layer > *water_layer_) ? 0.2 : 1.0;
    }

    // `within` is the assembly that lists the cavity behind layer `segment.layer`, if the own one does not.
    void add_cavity(const Layer& layer, const Segment& segment, const assembly::Assembly* within = nullptr) {
        const auto air = shelf_.air();
        keep(air);
        const double radiation = 4.0 * stefan_boltzmann * std::pow(283.15, 3) /
                                 (1.0 / layer.emissivity_inside + 1.0 / layer.emissivity_outside - 1.0);
        // Radiation between the faces is laid over the air node as a star of two equal arms.
        const double film = 1.0 / (cavity_convection + 2.0 * radiation);
        const double vapour = 1.0 / (cavity_convection * vapour_per_heat);
        if (out_.column.nodes.empty()) put_skin(segment.layer);
        const Node node{.substance = air.get(),
                        .volume = segment.thickness,
                        .position = depth_ + 0.5 * segment.thickness,
                        .layer = static_cast<int>(segment.layer),
                        .weight = 0.2};
        const Link in = joint(film, vapour);
        enter(segment.layer);
        add_node(out_.column, node, in, start_temperature(), start_potential(0.7));
        Cavity cavity{.node = out_.column.nodes.size() - 1, .flow = 0.0, .ventilation = {}};
        if (layer.air_change > 0.0) {
            cavity.flow = layer.air_change * segment.thickness;
            out_.notes.push_back(fmt::format("ventilated cavity of {:.0f} mm: outdoor air change {:.0f} /h",
                                             1e3 * segment.thickness, 3600.0 * layer.air_change));
        } else {
            cavity.ventilation =
                within ? ventilation_of(*within, segment.layer + 1) : ventilation_of(wall_, segment.layer);
            out_.vents.push_back({cavity.node, segment.thickness, cavity.ventilation.words, 0});
        }
        cavities_.push_back(std::move(cavity));
        past_cavity_ = true;
        // The far side's film waits for the next node.
        air_resistance_ += film;
        vapour_resistance_ += vapour;
    }

    Result<void> add_material(const Layer& layer, const Segment& segment) {
        const material::Material& m = *segment.material;
        const auto substance = shelf_.of(&m);
        keep(substance);
        if (layer.finish && segment.first_of_layer) membranes_.push_back(layer.finish);
        if (segment.first_of_layer && !out_.column.nodes.empty()) {
            if (auto broken = break_contact(layer.contact); !broken) return broken;
        }
        if (out_.column.nodes.empty() && !joint_is_bare()) put_skin(segment.layer);
        const double humidity = run_.start_humidity >= 0.0    ? run_.start_humidity
                                : layer.start_humidity >= 0.0 ? layer.start_humidity
                                                              : m.start_humidity;
        const std::size_t first = out_.column.nodes.size();
        const Link behind = joint();
        enter(segment.layer);
        add_layer(out_.column, substance.get(), mesh(m, segment.thickness), depth_,
                  static_cast<int>(segment.layer), behind, start_temperature(), start_potential(humidity),
                  air_passes());
        const std::size_t last = out_.column.nodes.size() - 1;
        out_.cuts.push_back({segment.layer, first, last});
        for (std::size_t j = first; j <= last; ++j) out_.column.nodes[j].weight = weight(segment.layer);
        note_spots(m, segment, first, last);
        if (!out_.spans.empty() && out_.spans.back().layer == segment.layer) {
            out_.spans.back().last = last;
        } else {
            out_.spans.push_back({segment.layer, first, last});
        }
        return {};
    }

    // Pieces by the run's mesh, else by kind and thickness; `mesh_level` 1 is the standard, 2 and up double
    // them.
    std::vector<double> mesh(const material::Material& m, double thickness) {
        const bool porous = m.density < 200.0;
        double pieces = porous ? (thickness < 0.06   ? 5.0
                                  : thickness < 0.15 ? 7.0
                                                     : 9.0)
                               : std::min(6.0 + thickness / 0.012, 14.0);
        if (run_.mesh && segments_cut_ < run_.mesh->pieces.size()) pieces = run_.mesh->pieces[segments_cut_];
        ++segments_cut_;
        pieces *= options_.mesh_level <= 0 ? 0.65 : std::pow(2.0, options_.mesh_level - 1);
        const int count = std::max(2, static_cast<int>(std::lround(pieces)));
        return graded(thickness, count, thickness / (porous ? 3.0 : 5.0) / count);
    }

    void note_spots(const material::Material& m, const Segment& segment, std::size_t first,
                    std::size_t last) {
        using material::MouldClass;
        const bool organic = m.mould == MouldClass::very_sensitive || m.mould == MouldClass::sensitive;
        const std::size_t limit = water_layer_    ? *water_layer_
                                  : first_cavity_ ? *first_cavity_
                                  : run_.beyond   ? wall_.layers.size()
                                                  : wall_.layers.size() - 1;
        const bool judged =
            organic && segment.layer < limit + (water_layer_ && segment.layer == *water_layer_ ? 1 : 0);
        add_spot({first, segment.layer, fmt::format("inner face of {}", m.name), judged});
        if (segment.thickness > 0.06)
            add_spot({(first + last) / 2, segment.layer, fmt::format("middle of {}", m.name), false});
        add_spot({last, segment.layer, fmt::format("outer face of {}", m.name), judged});
    }

    // Both sides of a perfect contact are one place: the more sensitive name stays.
    void add_spot(Spot spot) {
        if (!out_.spots.empty() && out_.spots.back().node + 1 == spot.node) {
            const Link& link = out_.column.links[spot.node - 1];
            if (!link.carries_latent && link.inverse_spacing == 0.0) {
                if (out_.spots.back().sensitive && !spot.sensitive) return;
                if (!out_.spots.back().sensitive) out_.spots.pop_back();
            }
        }
        out_.spots.push_back(std::move(spot));
    }

    void land_leak(const Segment& segment) {
        if (leak_share_ <= 0.0) return;
        const Layer& layer = wall_.layers[segment.layer];
        const bool soaks = layer.kind == Layer::Kind::material && !out_.column.nodes.empty() &&
                           out_.column.nodes.back().substance->capillary;
        if (!soaks) {
            if (out_.column.nodes.empty()) put_skin(segment.layer);
            put_film(segment.layer);
        }
        leak_node_ = out_.column.nodes.size() - 1;
    }

    void close() {
        Column& c = out_.column;
        const int last = static_cast<int>(c.nodes.size()) - 1;
        c.exchanges.push_back({.node = 0, .kind = Exchange::Kind::inside, .takes_air = !joint_node_});
        c.exchanges.push_back(
            {.node = last, .kind = Exchange::Kind::outside, .takes_air = cavities_.empty(), .drains = true});
        if (joint_node_)
            c.exchanges.push_back(
                {.node = static_cast<int>(*joint_node_), .kind = Exchange::Kind::inside, .takes_air = true});
        // Beyond the places that the solver has, cavities are still air.
        const std::size_t places =
            most_exchanges - c.exchanges.size() - (leak_node_ ? 1 : 0) - (run_.beyond ? 1 : 0);
        if (cavities_.size() > places) cavities_.resize(places);
        for (std::size_t k = 0; k < cavities_.size(); ++k) {
            for (Built::Vent& vent : out_.vents)
                if (vent.node == cavities_[k].node) vent.exchange = c.exchanges.size();
            c.exchanges.push_back({.node = static_cast<int>(cavities_[k].node),
                                   .kind = Exchange::Kind::cavity,
                                   .takes_air = k == 0,
                                   .draught = cavities_[k].ventilation.draught});
        }
        std::erase_if(out_.vents, [](const Built::Vent& vent) { return vent.exchange == 0; });
        if (leak_node_)
            c.exchanges.push_back(
                {.node = static_cast<int>(*leak_node_), .kind = Exchange::Kind::leak, .drains = true});
        start_profile();
        set_weather();
    }

    // Temperatures at the start run linearly from the room to the outside air of the first hour.
    void start_profile() {
        Column& c = out_.column;
        const auto first = static_cast<std::size_t>(run_.start_hour % climate::hours_in_year);
        const double inside = run_.inside->temperature[first], outside = run_.outside->temperature[first];
        for (std::size_t j = 0; j < c.nodes.size(); ++j)
            c.temperature[j] =
                inside + (outside - inside) * std::min(1.0, c.nodes[j].position / std::max(depth_, 1e-6));
    }

    void set_weather() {
        struct Given {
            const climate::FaceWeather* outside;
            const climate::Indoor* inside;
            int start;
            double absorptance, emissivity, leak, air;
            const std::vector<double>* air_by_hour;
            double wind_share;
            std::vector<Cavity> cavities;
            bool leaks, joint;
        };
        const Given g{run_.outside,     run_.inside, run_.start_hour,        wall_.solar_absorptance,
                      wall_.emissivity, leak_share_, run_.air_flow,          run_.air_flow_by_hour,
                      run_.wind_share,  cavities_,   leak_node_.has_value(), joint_node_.has_value()};
        out_.column.weather = [g](int hour, Hour& to) {
            const auto i = static_cast<std::size_t>((g.start + hour) % climate::hours_in_year);
            const climate::FaceWeather& out = *g.outside;
            const double inside = g.inside->temperature[i];
            to.air = leaking_air_density * (g.air + (g.air_by_hour ? (*g.air_by_hour)[i] : 0.0));
            to.ambient[0] = {
                .temperature = inside,
                .vapour_pressure = std::min(g.inside->vapour_pressure[i], saturation_pressure(inside)),
                .heat_film = indoor_heat_film,
                .vapour_film = indoor_convection * vapour_per_heat};
            // Air that is damp over water can be beyond saturation over ice; held there, or frost would have
            // no end.
            const double vapour = std::min(out.vapour_pressure[i], saturation_pressure(out.temperature[i]));
            to.ambient[1] = {.temperature = out.temperature[i],
                             .vapour_pressure = vapour,
                             .heat_film = out.convection[i],
                             .vapour_film = out.convection[i] * vapour_per_heat,
                             .emission = g.emissivity * stefan_boltzmann,
                             .radiant = out.radiant[i],
                             .sun = g.absorptance * out.solar[i],
                             .rain = out.driving_rain[i]};
            std::size_t e = 2;
            if (g.joint)
                to.ambient[e++] = {.temperature = inside, .vapour_pressure = to.ambient[0].vapour_pressure};
            for (const Cavity& cavity : g.cavities) {
                to.ambient[e++] = {.temperature = out.temperature[i],
                                   .vapour_pressure = vapour,
                                   .heat_film = cavity.flow * cavity_air_density * air_heat,
                                   .vapour_film = cavity.flow / (vapour_constant * out.temperature[i]),
                                   .wind_square = wind_square_of(cavity.ventilation.wind_coefficient,
                                                                 g.wind_share * out.wind_speed[i])};
            }
            if (g.leaks)
                to.ambient[e] = {.temperature = out.temperature[i], .rain = g.leak * out.driving_rain[i]};
        };
    }

    const Run& run_;
    const assembly::Assembly& wall_;
    const Options& options_;
    Shelf& shelf_;
    Built out_;
    double leak_share_ = 0.0, depth_ = 0.0;
    std::optional<std::size_t> water_layer_, first_cavity_, leak_layer_, leak_node_, lining_, joint_node_;
    std::vector<Cavity> cavities_;
    bool past_cavity_ = false, past_lining_ = false;
    Layer vent_;  // of a vented roof that lists none
    std::size_t segments_cut_ = 0;
    std::vector<const material::Membrane*> membranes_;
    double air_resistance_ = 0.0, vapour_resistance_ = 0.0;
};

bool whole_year(const std::vector<double>& column) {
    return column.size() == static_cast<std::size_t>(climate::hours_in_year);
}

}  // namespace

std::shared_ptr<const Substance> Shelf::of(const material::Material* material) {
    auto& place = materials_[material];
    if (!place) place = std::make_shared<const Substance>(tabulate(*material));
    return place;
}
std::shared_ptr<const Substance> Shelf::air() {
    if (!air_) air_ = std::make_shared<const Substance>(cavity_air());
    return air_;
}
std::shared_ptr<const Substance> Shelf::film() {
    if (!film_) film_ = std::make_shared<const Substance>(clinging_film());
    return film_;
}
std::shared_ptr<const numerics::Tables> Shelf::resistance(
    const std::vector<const material::Membrane*>& membranes, double fixed) {
    auto& place = skins_[{membranes, fixed}];
    if (!place) place = std::make_shared<const numerics::Tables>(resistance_of(membranes, fixed));
    return place;
}

Result<Built> build(const Run& run, const Options& options, Shelf& shelf) {
    if (!run.assembly || !run.outside || !run.inside)
        return fail(Code::missing,
                    fmt::format("{}: a run needs an assembly, outdoor and indoor climate", run.name));
    const climate::FaceWeather& w = *run.outside;
    for (const auto* column :
         {&w.temperature, &w.vapour_pressure, &w.solar, &w.radiant, &w.convection, &w.driving_rain,
          &w.wind_speed, &run.inside->temperature, &run.inside->vapour_pressure}) {
        if (!whole_year(*column))
            return fail(Code::incomplete,
                        fmt::format("{}: a climate column has {} hours, not 8760", run.name, column->size()));
    }
    if (run.air_flow_by_hour && !whole_year(*run.air_flow_by_hour))
        return fail(Code::incomplete, fmt::format("{}: the air flow has {} hours, not 8760", run.name,
                                                  run.air_flow_by_hour->size()));
    if (run.start_hour < 0 || run.years < 1)
        return fail(Code::out_of_range,
                    fmt::format("{}: starts in hour {} for {} years", run.name, run.start_hour, run.years));
    return Builder(run, options, shelf).build();
}

Result<std::vector<Built>> build_all(std::span<const Run> runs, const Options& options) {
    Shelf shelf;
    std::vector<Built> built;
    built.reserve(runs.size());
    for (const Run& run : runs) {
        auto made = build(run, options, shelf);
        if (!made) return fail(made.error());
        built.push_back(std::move(*made));
    }
    return built;
}

}  // namespace warmside::moisture
