#include "answer/keys.h"

#include <algorithm>
#include <initializer_list>

#include "leakage/indoor_air.h"
#include "leakage/ventilation.h"

namespace warmside::answer {

namespace {

void add_all(Digest& digest, std::initializer_list<double> values) {
    for (const double value : values) digest.add(value);
}

void add(Digest& digest, const material::Curve& curve) {
    digest.add(curve.x).add(curve.y);
}

void add(Digest& digest, const assembly::Framing& framing) {
    digest.add(static_cast<int>(framing.kind)).add(framing.member).add(static_cast<int>(framing.run));
    for (const auto length : {framing.width, framing.depth, framing.flange_depth, framing.web_thickness,
                              framing.spacing, framing.offset}) {
        digest.add(length.count());
    }
    if (framing.material) answer::add(digest, *framing.material);
}

}  // namespace

void add(Digest& digest, const material::Material& m) {
    digest.add(m.name);
    add_all(digest, {m.density, m.specific_heat, m.conductivity, m.test_temperature, m.temperature_factor,
                     m.moisture_factor, m.label_resistivity.value_or(-1.0), m.porosity, m.free_saturation,
                     m.absorption, m.air_permeability, m.start_humidity});
    add(digest, m.sorption);
    add(digest, m.permeability);
    digest.add(static_cast<int>(m.mould))
        .add(static_cast<int>(m.is_wood))
        .add(static_cast<int>(m.is_insulation));
    digest.add(m.hatch);
}

void add(Digest& digest, const material::Membrane& m) {
    digest.add(m.name);
    add(digest, m.permeance);
    digest.add(static_cast<int>(m.variable)).add(static_cast<int>(m.drains_water));
}

void add(Digest& digest, const assembly::Layer& layer) {
    digest.add(static_cast<int>(layer.kind)).add(static_cast<int>(layer.air));
    if (layer.material) add(digest, *layer.material);
    if (layer.membrane) add(digest, *layer.membrane);
    digest.add(layer.thickness.count());
    add_all(digest, {layer.emissivity_inside, layer.emissivity_outside, layer.air_change,
                     layer.label_r.value_or(-1.0), layer.start_humidity});
    for (const auto& size : {layer.opening, layer.opening_top, layer.length})
        digest.add(size ? size->count() : std::int64_t{-1});
    digest.add(static_cast<int>(layer.contact));
    digest.add(layer.void_level).add(static_cast<int>(layer.airtight)).add(static_cast<int>(layer.water));
    digest.add(static_cast<int>(layer.existing)).add(static_cast<int>(layer.finish != nullptr));
    if (layer.finish) add(digest, *layer.finish);
    digest.add(static_cast<int>(layer.framing.has_value()));
    if (layer.framing) add(digest, *layer.framing);
    if (layer.fasteners) {
        add_all(digest,
                {layer.fasteners->per_area, layer.fasteners->cross_section, layer.fasteners->conductivity});
    }
}

void add(Digest& digest, const assembly::Assembly& assembly) {
    digest.add(assembly.name)
        .add(assembly.title)
        .add(static_cast<int>(assembly.part))
        .add(assembly.layers.size());
    for (const auto& layer : assembly.layers) add(digest, layer);
    add_all(digest, {assembly.solar_absorptance, assembly.emissivity, assembly.tilt, assembly.rain_leak});
    digest.add(static_cast<int>(assembly.vented)).add(assembly.leak_layer);
}

void add(Digest& digest, const assembly::Details& d) {
    for (const auto* count :
         {&d.corner_studs, &d.top_plates, &d.bottom_plates, &d.jamb_studs, &d.header_plies, &d.partitions})
        digest.add(count->value);
    for (const auto* length : {&d.member, &d.deck, &d.joist, &d.rim_board, &d.heel, &d.vent_gap, &d.frame_lap,
                               &d.frame_depth, &d.frame_width, &d.frame_u, &d.gap, &d.header, &d.buck,
                               &d.stem_wall, &d.edge_insulation, &d.foundation_depth, &d.balcony, &d.ledger})
        digest.add(length->value);
    digest.add(static_cast<int>(d.rim_insulated.value)).add(static_cast<int>(d.partition_stud.value));
    digest.add(static_cast<int>(d.frame.value)).add(static_cast<int>(d.header_place.value));
}

void add(Digest& digest, const assembly::Practice& p) {
    digest.add(p.species.value).add(p.grade.value).add(p.stud_grade.value).add(p.joist.value);
    digest.add(p.joist_run.value);
    for (const auto* flag : {&p.stacked, &p.sized_headers, &p.edge_blocking, &p.bearing_line, &p.boxes})
        digest.add(static_cast<int>(flag->value));
    for (const auto* length : {&p.sheet_width, &p.sheet_length, &p.roll_width, &p.roll_length, &p.lap,
                               &p.joist_spacing, &p.box_reach, &p.box_height})
        digest.add(length->value.count());
    digest.add(p.box_body.value);
}

void add(Digest& digest, const assembly::Loads& l) {
    const auto given = [&](const auto& load) {
        digest.add(static_cast<int>(load.has_value()));
        if (load) digest.add(load->value);
    };
    given(l.ground_snow);
    given(l.wind_speed);
    given(l.seismic);
    given(l.cladding);
    digest.add(l.exposure ? static_cast<int>(l.exposure->value) : -1);
    for (const auto* load : {&l.floor_live, &l.floor_dead, &l.roof_dead, &l.attic_live})
        digest.add(load->value);
}

void add_geometry(Digest& digest, const assembly::House& house) {
    const auto point = [&](const assembly::Point& p) { digest.add(p.x.count()).add(p.y.count()); };
    for (const auto& s : house.storeys) {
        digest.add(s.name).add(s.floor.count()).add(s.height.count()).add(static_cast<int>(s.heated));
        digest.add(s.outline.size());
        for (const auto& p : s.outline) point(p);
    }
    for (const auto& f : house.faces) {
        digest.add(f.name).add(f.storey).add(f.height.count()).add(f.assembly).add(f.openings.size());
        point(f.from);
        point(f.to);
        for (const auto& o : f.openings)
            digest.add(static_cast<int>(o.kind)).add(o.width.count()).add(o.height.count());
    }
    for (const auto& r : house.roofs) {
        digest.add(r.name).add(static_cast<int>(r.form)).add(r.pitch).add(r.storey).add(r.ridge);
        digest.add(r.high_side).add(r.assembly).add(static_cast<int>(r.over_attic));
    }
    for (const auto& f : house.floors)
        digest.add(f.name).add(static_cast<int>(f.over)).add(f.assembly).add(f.area);
    for (const auto& f : house.foundations) {
        digest.add(f.name).add(static_cast<int>(f.kind)).add(f.depth.count());
        digest.add(f.height_above_grade.count()).add(f.assembly).add(static_cast<int>(f.soil));
    }
    for (const auto& ladder : house.ladders) {
        digest.add(static_cast<int>(ladder.part));
        for (const auto i : ladder.rungs) digest.add(house.assemblies[i].name);
    }
}

void add_framing(Digest& digest, const assembly::House& house) {
    add(digest, house.practice);
    add(digest, house.loads);
    for (const auto& f : house.faces) {
        for (const auto& o : f.openings) digest.add(o.name).add(o.left.count()).add(o.sill.count());
    }
    for (const auto& b : house.boxes) {
        digest.add(b.name).add(b.face).add(b.at.value.count()).add(b.height.value.count());
        digest.add(static_cast<int>(b.kind)).add(b.body.value);
    }
    for (const auto& p : house.partitions) digest.add(p.name).add(p.face).add(p.at.count()).add(p.member);
    for (const auto& r : house.roofs) {
        digest.add(r.overhang.count()).add(r.deck).add(static_cast<int>(r.structure)).add(r.member);
        digest.add(r.spacing.count());
    }
    digest.add(house.prices);
}

void add_built(Digest& digest, const assembly::House& house, const assembly::Assembly& wall) {
    add(digest, wall);
    for (const auto& each : house.assemblies) {
        const bool stands =
            each.part != assembly::Part::wall ||
            std::any_of(house.faces.begin(), house.faces.end(),
                        [&](const assembly::Face& face) { return face.assembly == each.name; });
        if (stands) add(digest, each);
    }
    add_geometry(digest, house);
    add(digest, house.details);
    add_framing(digest, house);
}

void add(Digest& digest, const takeoff::PriceBook& book) {
    digest.add(book.currency).add(book.date).add(book.place).add(book.wage);
    for (const auto& [key, price] : book.prices)
        digest.add(key).add(price.value).add(price.unit).add(price.date).add(price.place);
    for (const auto& [operation, labour] : book.labour)
        digest.add(operation).add(labour.hours).add(labour.per).add(labour.learning);
}

void add(Digest& digest, const climate::Year& year) {
    add_all(digest, {year.latitude, year.longitude, year.elevation, year.utc_offset});
    for (const auto* column :
         {&year.temperature, &year.vapour_pressure, &year.pressure, &year.wind_speed, &year.wind_direction,
          &year.global, &year.direct, &year.diffuse, &year.cloud, &year.rain}) {
        digest.add(*column);
    }
}

void add(Digest& digest, const climate::IndoorChoice& indoor) {
    digest.add(static_cast<int>(indoor.model)).add(indoor.temperature).add(indoor.relative_humidity);
    digest.add(indoor.humidity_class).add(indoor.cooling).add(indoor.cooled_humidity);
}

void add(Digest& digest, const assembly::Airtightness& air) {
    add_all(digest, {air.blower_door, air.leakage, air.fan});
    digest.add(static_cast<int>(air.terrain));
}

void add(Digest& digest, const leakage::Envelope& e) {
    for (const auto& patch : e.walls) add_all(digest, {patch.azimuth, patch.area, patch.bottom, patch.top});
    add_all(digest, {e.top_area, e.top_height, e.pitch, e.slope_azimuth, e.volume, e.eaves, e.upper_floor,
                     e.upper_height});
    digest.add(static_cast<int>(e.attic)).add(static_cast<int>(e.assumed));
}

void add_air(Digest& digest, const assembly::House& house, const leakage::Envelope& envelope) {
    const auto given = [&](const auto& value) {
        digest.add(static_cast<int>(value.has_value()));
        if (value) digest.add(value->value);
    };
    // By what the balance makes of fans and walls: an edited wall that leaves these leaves the weather.
    const auto fans = leakage::fans_of(house);
    const double imbalance = fans ? fans->imbalance() : 0.0;
    const bool own = house.indoor.model == climate::IndoorModel::house;
    digest.add(imbalance).add(static_cast<int>(own));
    if (imbalance == 0.0 && !own) return;
    if (const auto leaks = leakage::house_leakage(house, envelope))
        add_all(digest, {leaks->at_50_pa, leaks->exponent});
    if (!own) return;
    if (const auto store = leakage::vapour_store(house, envelope, house.indoor.temperature))
        add_all(digest, {store->air, store->lining, store->conductance});
    const auto& v = house.services.ventilation;
    if (fans) add_all(digest, {fans->supply, fans->exhaust});
    add_all(digest, {v.sensible.value, v.moisture.value});
    digest.add(static_cast<int>(v.guard.value));
    const auto& people = house.services.people;
    digest.add(people.bedrooms.value).add(static_cast<int>(house.services.cooling.kind.value));
    add_all(digest, {people.heating.value, people.cooling.value, people.night_from, people.night_to});
    for (const auto* value :
         {&v.frost, &people.night, &people.moisture, &people.humidifier, &people.dehumidifier})
        given(*value);
}

void add(Digest& digest, const moisture::Options& options) {
    digest.add(options.tolerance).add(options.mesh_level).add(options.probe_every);
    digest.add(options.mesh_target).add(options.settled_within).add(options.most_years);
    digest.add(options.carpet_columns).add(options.carpet_rows).add(options.probe_moisture);
    for (const double depth : options.depths) digest.add(depth);
}

}  // namespace warmside::answer
