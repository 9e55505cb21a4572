#include "answer/setting.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "answer/keys.h"
#include "assembly/geometry.h"

namespace warmside::answer {

namespace {

using assembly::Assembly;
using assembly::Floor;
using assembly::Foundation;
using assembly::House;
using assembly::Layer;
using assembly::Part;
using assembly::Roof;
using units::Exact;

constexpr double usual_pitch = 0.4636476090008061;                                                 // 6/12
constexpr double usual_rise = 1.8, usual_crawl = 0.6, usual_above_grade = 0.2, usual_depth = 2.1;  // m
constexpr double bare_concrete = 3.5;  // W/(m2 K), 200 mm of concrete and films
constexpr double still_film = 0.17;    // m2 K/W

/// m2 K/W of the layers between their faces, framing left out: what the ground's method needs.
double resistance_of(const Assembly& a) {
    double sum = 0.0;
    for (const Layer& layer : a.layers) {
        if (layer.kind == Layer::Kind::air) sum += still_film;
        if (layer.kind == Layer::Kind::material && layer.material->conductivity > 0.0)
            sum += layer.thickness.metres() / layer.material->conductivity;
    }
    return sum;
}

/// Whether `each` is built with the assembly; with none that names it, an assembly of a ladder stands in for
/// what is named there.
template <class Each>
bool serves(const std::vector<Each>& all, const Each& each, const Assembly& a) {
    const auto named = [&](const Each& e) { return e.assembly == a.name; };
    return named(each) || std::none_of(all.begin(), all.end(), named);
}

const Foundation* foundation_of(const House& house, Foundation::Kind kind) {
    const auto found = std::find_if(house.foundations.begin(), house.foundations.end(),
                                    [&](const Foundation& f) { return f.kind == kind; });
    return found == house.foundations.end() ? nullptr : &*found;
}

Layer layer_of(const House& house, const char* material, double thickness) {
    Layer layer;
    layer.material = house.catalogue.material(material);
    layer.thickness = Exact::nearest(thickness);
    return layer;
}

Layer sheet_of(const material::Membrane* membrane) {
    Layer layer;
    layer.kind = Layer::Kind::membrane;
    layer.membrane = membrane;
    return layer;
}

/// OSB 7/16 in, felt, shingles.
std::vector<Layer> usual_deck(const House& house) {
    Layer felt = sheet_of(house.catalogue.membrane("asphalt felt"));
    felt.water = true;
    return {layer_of(house, "osb", 0.0111125), felt, layer_of(house, "asphalt shingles", 0.006)};
}

/// What a roof assembly has outside of its last insulation; the first that sheds water is marked.
std::vector<Layer> deck_of(const Assembly& roof) {
    std::vector<Layer> deck = roof.layers;
    const auto insulates = [](const Layer& l) { return l.material && l.material->is_insulation; };
    const auto last = std::find_if(deck.rbegin(), deck.rend(), insulates);
    deck.erase(deck.begin(), last.base());
    while (!deck.empty() && deck.front().kind != Layer::Kind::material) deck.erase(deck.begin());
    for (Layer& layer : deck) layer.framing.reset();
    const auto sheds = [](const Layer& l) { return l.water; };
    if (deck.size() > 1 && std::none_of(deck.begin(), deck.end(), sheds)) {
        const auto drains = [](const Layer& l) {
            return (l.membrane && l.membrane->drains_water) ||
                   (l.material && l.material->family == "roofing");
        };
        const auto found = std::find_if(deck.begin() + 1, deck.end(), drains);
        (found != deck.end() ? *found : deck.back()).water = true;
    }
    return deck;
}

bool has_vent_layer(const Assembly& a) {
    return std::any_of(a.layers.begin(), a.layers.end(), [](const Layer& l) { return l.ventilated(); });
}

/// Whether a vented roof lists nothing over its insulation, so that the deck has to be taken from elsewhere.
bool ends_with_insulation(const Assembly& a) {
    const auto solid = std::find_if(a.layers.rbegin(), a.layers.rend(),
                                    [](const Layer& l) { return l.kind == Layer::Kind::material; });
    return solid != a.layers.rend() && solid->material->is_insulation;
}

Setting attic_over(const House& house, const Assembly& a) {
    Setting s;
    s.kind = Setting::Kind::attic;
    s.pitch = usual_pitch;
    s.vents = Roof{}.vents;
    s.rise = usual_rise;
    s.height = 0.5 * usual_rise;
    s.deck = usual_deck(house);
    std::string covered = "OSB, felt and shingles";
    const auto roof = std::find_if(house.roofs.begin(), house.roofs.end(),
                                   [&](const Roof& r) { return r.over_attic && serves(house.roofs, r, a); });
    if (roof != house.roofs.end()) {
        s.pitch = roof->pitch;
        s.vents = roof->vents;
        if (roof->ridge == "north-south") s.slopes = Setting::Slopes::east_west;
        if (roof->ridge == "east-west") s.slopes = Setting::Slopes::north_south;
        const auto sums = assembly::areas(house);
        for (const auto& each : sums.roofs) {
            if (each.roof != roof->name || each.rise <= 0.0) continue;
            s.rise = each.rise;
            s.height = std::max(0.1, each.volume / each.plan);
        }
        if (roof->pitch < 0.05) s.rise = s.height = 0.3;
        if (const auto* deck = house.find(roof->deck)) {
            s.deck = deck_of(*deck);
            s.solar_absorptance = deck->solar_absorptance;
            s.emissivity = deck->emissivity;
            covered = deck->title;
        }
    }
    s.area = 1.0 / std::cos(std::min(s.pitch, 1.3));
    s.words =
        s.vents > 0.0
            ? fmt::format("an attic vented by 1/{:.0f} of the ceiling, half low and half high, under {}",
                          1.0 / s.vents, covered)
            : fmt::format("an attic without vents under {}", covered);
    return s;
}

Setting vented_slope(const House& house, const Assembly& a) {
    Setting s = attic_over(house, a);
    s.pitch = a.tilt;
    s.slopes = Setting::Slopes::any;
    s.height = 0.05;
    s.area = 1.0;
    s.solar_absorptance = a.solar_absorptance;
    s.emissivity = a.emissivity;
    s.vents = 1.0 / 300.0;
    s.words = "a vent space of 50 mm over the insulation, vented by 1/300, under OSB, felt and shingles";
    return s;
}

void put_ground(const House& house, const Foundation* foundation, Setting& s) {
    if (foundation) {
        s.soil = foundation->soil == Foundation::Soil::clay ? climate::clay : climate::sand;
        s.soil_humidity = foundation->soil_humidity;
        s.floor.depth = foundation->depth.metres();
    }
    const auto lowest = std::min_element(house.storeys.begin(), house.storeys.end(),
                                         [](const auto& x, const auto& y) { return x.floor < y.floor; });
    if (lowest == house.storeys.end() || lowest->outline.size() < 3) return;
    s.floor.area = assembly::signed_area(lowest->outline);
    s.floor.perimeter = 0.0;
    for (std::size_t i = 0; i < lowest->outline.size(); ++i)
        s.floor.perimeter +=
            assembly::distance(lowest->outline[i], lowest->outline[(i + 1) % lowest->outline.size()]);
}

std::string ground_in_words(const Setting& s) {
    return fmt::format("{} at {:g} % humidity; snow, which keeps it warmer, is left out",
                       s.soil.conductivity < 1.75 ? "clay" : "sand", 100.0 * s.soil_humidity);
}

Setting over_crawl_space(const House& house) {
    Setting s;
    s.kind = Setting::Kind::crawl_space;
    const auto* f = foundation_of(house, Foundation::Kind::crawl_space);
    put_ground(house, f, s);
    const Foundation usual;
    const double above = f && f->height_above_grade.count() > 0 ? f->height_above_grade.metres() : 0.4;
    const double whole = f ? f->depth.metres() + above : usual_crawl;
    s.height = whole > 0.2 ? whole : usual_crawl;
    s.vents = f ? f->vents : usual.vents;
    s.air_change = f ? f->air_change : usual.air_change;
    const auto* wall = f ? house.find(f->assembly) : nullptr;
    const double u = wall ? 1.0 / (still_film + resistance_of(*wall)) : bare_concrete;
    s.wall_loss = s.floor.perimeter / s.floor.area * above * u;
    if (!f || !f->bare_ground)
        s.cover = {
            sheet_of(f && f->ground_cover ? f->ground_cover : house.catalogue.membrane("polyethylene"))};
    s.words = fmt::format(
        "a crawl space {}, its ground {}: {}",
        s.vents > 0.0 ? fmt::format("vented by 1/{:.0f} of the floor", 1.0 / s.vents)
                      : fmt::format("without vents, {:.2g} air changes an hour", 3600.0 * s.air_change),
        s.cover.empty() ? "bare" : fmt::format("under {}", s.cover.front().membrane->name),
        ground_in_words(s));
    return s;
}

Setting below_floor_of(const House& house, const Assembly& a) {
    const auto any = [&](Floor::Over over) {
        return std::any_of(house.floors.begin(), house.floors.end(),
                           [&](const Floor& f) { return f.over == over && serves(house.floors, f, a); });
    };
    Setting s;
    if (any(Floor::Over::outside)) {
        s.kind = Setting::Kind::open_air;
        s.words = "open air below, out of sun and rain";
        return s;
    }
    if (any(Floor::Over::crawl_space)) return over_crawl_space(house);
    if (any(Floor::Over::heated) || any(Floor::Over::basement)) {
        s.kind = Setting::Kind::inside;
        s.absent = "the floor lies between rooms of the house: no weather and no ground beyond it";
        return s;
    }
    return over_crawl_space(house);
}

Setting in_the_ground(const House& house, const Assembly& a) {
    Setting s;
    const auto* basement = foundation_of(house, Foundation::Kind::basement);
    if (a.part == Part::slab) {
        s.kind = Setting::Kind::slab;
        const auto* slab = foundation_of(house, Foundation::Kind::slab);
        put_ground(house, slab ? slab : basement, s);
        s.floor.resistance = resistance_of(a);
        s.words = "ground below: " + ground_in_words(s);
        return s;
    }
    s.kind = Setting::Kind::basement_wall;
    const auto* crawl = foundation_of(house, Foundation::Kind::crawl_space);
    const auto* foundation = basement ? basement : crawl;
    put_ground(house, foundation, s);
    s.depth = foundation && foundation->depth.count() > 0 ? foundation->depth.metres() : usual_depth;
    s.above_grade = foundation ? foundation->height_above_grade.metres() : usual_above_grade;
    s.words = fmt::format("ground to {:.1f} m: {}; drained, so that no water stands against the wall",
                          s.depth, ground_in_words(s));
    return s;
}

FaceCase with(FaceCase face, moisture::Beyond beyond) {
    face.beyond = std::make_shared<const moisture::Beyond>(std::move(beyond));
    face.always = face.beyond->ground && !face.beyond->space;
    return face;
}

/// The same case in the typical and in the stressed year; `make` gives what lies beyond for a wave of the
/// air.
template <class Make>
Result<void> both(const House& house, const Surroundings& around, std::string name,
                  const climate::Plane& plane, std::vector<FaceCase>& out, Make make) {
    for (const bool stress : {false, true}) {
        const auto& year = stress ? around.stressed : around.typical;
        auto beyond = make(climate::annual_wave(year));
        if (!beyond) return fail(beyond.error());
        out.push_back(with({.name = name,
                            .plane = plane,
                            .stressed = stress,
                            .outside = climate::weather_on(year, plane, house.rain_exposure),
                            .beyond = {}},
                           std::move(*beyond)));
    }
    return {};
}

moisture::Ground damp(moisture::Ground ground, const Setting& s) {
    ground.humidity = s.soil_humidity;
    return ground;
}

Result<std::vector<FaceCase>> attic_faces(const House& house, const Surroundings& around, const Setting& s) {
    const moisture::Beyond beyond{.space = moisture::attic(s.vents, s.rise, s.height),
                                  .layers = s.deck,
                                  .area = s.area,
                                  .solar_absorptance = s.solar_absorptance,
                                  .emissivity = s.emissivity,
                                  .ground = {}};
    auto faces = roof_faces(house, around, s.pitch);
    if (faces.size() > 2 && s.slopes != Setting::Slopes::any) {
        // North and south have a whole half turn as azimuth, east and west half of one on top.
        const double across = s.slopes == Setting::Slopes::east_west ? 0.5 * std::numbers::pi : 0.0;
        std::erase_if(faces,
                      [&](const FaceCase& f) { return std::abs(std::sin(f.plane.azimuth - across)) > 0.1; });
    }
    for (auto& face : faces) face = with(std::move(face), beyond);
    return faces;
}

Result<std::vector<FaceCase>> crawl_faces(const House& house, const Surroundings& around, const Setting& s) {
    std::vector<FaceCase> out;
    const auto made = both(
        house, around, "crawl space", {0.0, std::numbers::pi}, out,
        [&](const climate::AnnualWave& air) -> Result<moisture::Beyond> {
            auto ground = moisture::below_floor(s.floor, s.soil, air);
            if (!ground) return fail(ground.error());
            return moisture::Beyond{
                .space = s.vents > 0.0 ? moisture::crawl_space(s.vents, s.height, s.wall_loss)
                                       : moisture::closed_crawl_space(s.air_change, s.height, s.wall_loss),
                .layers = s.cover,
                .ground = damp(std::move(*ground), s)};
        });
    if (!made) return fail(made.error());
    return out;
}

Result<std::vector<FaceCase>> ground_faces(const House& house, const Surroundings& around, const Setting& s) {
    std::vector<FaceCase> out;
    const auto beside = [&](std::string name, double depth, double tilt) {
        return both(house, around, std::move(name), {0.0, tilt}, out,
                    [&](const climate::AnnualWave& air) -> Result<moisture::Beyond> {
                        return moisture::Beyond{.space = {},
                                                .layers = {},
                                                .ground = damp(moisture::beside(depth, s.soil, air), s)};
                    });
    };
    constexpr double wall = std::numbers::pi / 2.0, rim = 0.5;  // m from the edge of a slab
    if (s.kind == Setting::Kind::slab) {
        const auto middle = both(house, around, "middle", {0.0, std::numbers::pi}, out,
                                 [&](const climate::AnnualWave& air) -> Result<moisture::Beyond> {
                                     auto ground = moisture::below_floor(s.floor, s.soil, air);
                                     if (!ground) return fail(ground.error());
                                     return moisture::Beyond{
                                         .space = {}, .layers = {}, .ground = damp(std::move(*ground), s)};
                                 });
        if (!middle) return fail(middle.error());
        if (auto edge = beside("edge", std::max(rim, s.floor.depth), std::numbers::pi); !edge)
            return fail(edge.error());
        return out;
    }
    if (s.above_grade > 0.0) {
        for (FaceCase face : around.walls) {
            face.name += " above grade";
            out.push_back(std::move(face));
        }
    }
    if (auto middle = beside("half-way down", 0.5 * s.depth, wall); !middle) return fail(middle.error());
    if (auto bottom = beside("at the bottom", s.depth, wall); !bottom) return fail(bottom.error());
    return out;
}

}  // namespace

Setting setting_of(const House& house, const Assembly& a) {
    Setting s;
    switch (a.part) {
        case Part::wall: return s;
        case Part::roof:
            if (a.vented && !has_vent_layer(a) && ends_with_insulation(a)) return vented_slope(house, a);
            s.kind = Setting::Kind::roof;
            s.pitch = a.tilt;
            return s;
        case Part::ceiling: return attic_over(house, a);
        case Part::floor: return below_floor_of(house, a);
        case Part::slab:
        case Part::basement_wall: return in_the_ground(house, a);
    }
    return s;
}

void add(Digest& digest, const Setting& s) {
    digest.add(static_cast<int>(s.kind)).add(s.words).add(s.absent).add(static_cast<int>(s.slopes));
    for (const double x : {s.pitch, s.vents, s.rise, s.height, s.area, s.solar_absorptance, s.emissivity,
                           s.air_change, s.wall_loss, s.soil.conductivity, s.soil.heat_capacity,
                           s.soil_humidity, s.floor.area, s.floor.perimeter, s.floor.resistance,
                           s.floor.wall_thickness, s.floor.depth, s.depth, s.above_grade})
        digest.add(x);
    for (const auto* layers : {&s.deck, &s.cover}) {
        digest.add(layers->size());
        for (const Layer& layer : *layers) add(digest, layer);
    }
}

Result<std::vector<FaceCase>> faces_of(const House& house, const Surroundings& around, const Setting& s) {
    switch (s.kind) {
        case Setting::Kind::wall: return around.walls;
        case Setting::Kind::roof: return roof_faces(house, around, s.pitch);
        case Setting::Kind::attic: return attic_faces(house, around, s);
        case Setting::Kind::crawl_space: return crawl_faces(house, around, s);
        case Setting::Kind::basement_wall:
        case Setting::Kind::slab: return ground_faces(house, around, s);
        case Setting::Kind::open_air: {
            std::vector<FaceCase> out;
            for (const bool stress : {false, true}) {
                const auto& year = stress ? around.stressed : around.typical;
                const climate::Plane down{0.0, std::numbers::pi};
                out.push_back(
                    {.name = "open air",
                     .plane = down,
                     .stressed = stress,
                     .outside = moisture::shaded(climate::weather_on(year, down, house.rain_exposure)),
                     .beyond = {}});
            }
            return out;
        }
        case Setting::Kind::inside: break;
    }
    return std::vector<FaceCase>{};
}

}  // namespace warmside::answer
