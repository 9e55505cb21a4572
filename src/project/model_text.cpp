#include "project/model_text.h"

#include <fmt/format.h>

#include "project/model_lines.h"

namespace warmside::project {

namespace {

using assembly::Framing;
using assembly::Layer;

std::string name_of(const material::Material* material) {
    return material ? material->name : std::string();
}

void write(Lines& to, const std::string& at, const Framing& f) {
    to.count(at + ".kind", static_cast<int>(f.kind));
    to.text(at + ".member", f.member);
    to.length(at + ".width", f.width);
    to.length(at + ".depth", f.depth);
    to.length(at + ".flange", f.flange_depth);
    to.length(at + ".web", f.web_thickness);
    to.number(at + ".web_share", f.web_share);
    to.count(at + ".run", static_cast<int>(f.run));
    to.length(at + ".spacing", f.spacing);
    to.length(at + ".offset", f.offset);
    to.text(at + ".material", name_of(f.material));
    to.text(at + ".web_material", name_of(f.web_material));
}

void write(Lines& to, const std::string& at, const Layer& l) {
    to.count(at + ".kind", static_cast<int>(l.kind));
    to.text(at + ".material", name_of(l.material));
    to.text(at + ".membrane", l.membrane ? l.membrane->name : std::string());
    to.count(at + ".air", static_cast<int>(l.air));
    to.number(at + ".emissivity_inside", l.emissivity_inside);
    to.number(at + ".emissivity_outside", l.emissivity_outside);
    to.number(at + ".air_change", l.air_change);
    if (l.opening) to.length(at + ".opening", *l.opening);
    if (l.opening_top) to.length(at + ".opening_top", *l.opening_top);
    if (l.length) to.length(at + ".length", *l.length);
    to.length(at + ".thickness", l.thickness);
    to.number(at + ".label", l.label_r.value_or(-1.0));
    to.count(at + ".voids", l.void_level);
    to.flag(at + ".airtight", l.airtight);
    to.flag(at + ".water", l.water);
    to.flag(at + ".existing", l.existing);
    to.number(at + ".start_humidity", l.start_humidity);
    to.text(at + ".finish", l.finish ? l.finish->name : std::string{});
    to.count(at + ".contact", static_cast<int>(l.contact));
    if (l.framing) write(to, at + ".framing", *l.framing);
    if (l.fasteners) {
        to.number(at + ".fasteners.per_area", l.fasteners->per_area);
        to.number(at + ".fasteners.cross_section", l.fasteners->cross_section);
        to.number(at + ".fasteners.conductivity", l.fasteners->conductivity);
    }
}

void write(Lines& to, const std::string& at, const assembly::Assembly& a) {
    to.text(at + ".part", assembly::name_of(a.part));
    to.text(at + ".title", a.title);
    to.number(at + ".solar_absorptance", a.solar_absorptance);
    to.number(at + ".emissivity", a.emissivity);
    to.number(at + ".tilt", a.tilt);
    to.flag(at + ".vented", a.vented);
    to.number(at + ".rain_leak", a.rain_leak);
    to.count(at + ".leak_layer", a.leak_layer);
    for (std::size_t i = 0; i < a.layers.size(); ++i)
        write(to, fmt::format("{}.layers.{}", at, i), a.layers[i]);
}

void write(Lines& to, const std::string& at, const assembly::Opening& o) {
    to.count(at + ".kind", static_cast<int>(o.kind));
    to.length(at + ".width", o.width);
    to.length(at + ".height", o.height);
    to.length(at + ".left", o.left);
    to.length(at + ".sill", o.sill);
    to.number(at + ".u", o.u);
    to.number(at + ".shgc", o.solar_gain);
}

void write(Lines& to, const std::string& at, const assembly::Point& p) {
    to.length(at + ".x", p.x);
    to.length(at + ".y", p.y);
}

void write_geometry(Lines& to, const assembly::House& house) {
    for (const auto& s : house.storeys) {
        const std::string at = "storey." + s.name;
        to.length(at + ".floor", s.floor);
        to.length(at + ".height", s.height);
        to.flag(at + ".heated", s.heated);
        for (std::size_t i = 0; i < s.outline.size(); ++i)
            write(to, fmt::format("{}.outline.{}", at, i), s.outline[i]);
    }
    for (const auto& f : house.faces) {
        const std::string at = "face." + f.name;
        to.text(at + ".storey", f.storey);
        write(to, at + ".from", f.from);
        write(to, at + ".to", f.to);
        to.length(at + ".height", f.height);
        to.text(at + ".assembly", f.assembly);
        for (const auto& o : f.openings) write(to, at + ".openings." + o.name, o);
    }
    for (const auto& r : house.roofs) {
        const std::string at = "roof." + r.name;
        to.count(at + ".form", static_cast<int>(r.form));
        to.number(at + ".pitch", r.pitch);
        to.text(at + ".storey", r.storey);
        to.text(at + ".ridge", r.ridge);
        to.text(at + ".high_side", r.high_side);
        to.length(at + ".overhang", r.overhang);
        to.text(at + ".assembly", r.assembly);
        to.flag(at + ".over_attic", r.over_attic);
        to.number(at + ".vents", r.vents);
        to.text(at + ".deck", r.deck);
        to.count(at + ".structure", static_cast<int>(r.structure));
        to.text(at + ".member", r.member);
        to.length(at + ".spacing", r.spacing);
    }
    for (const auto& f : house.floors) {
        to.count("floor." + f.name + ".over", static_cast<int>(f.over));
        to.text("floor." + f.name + ".assembly", f.assembly);
        to.number("floor." + f.name + ".area", f.area);
    }
    for (const auto& f : house.foundations) {
        const std::string at = "foundation." + f.name;
        to.count(at + ".kind", static_cast<int>(f.kind));
        to.length(at + ".depth", f.depth);
        to.length(at + ".height_above_grade", f.height_above_grade);
        to.text(at + ".assembly", f.assembly);
        to.count(at + ".soil", static_cast<int>(f.soil));
        to.number(at + ".soil_humidity", f.soil_humidity);
        to.number(at + ".vents", f.vents);
        to.number(at + ".air_change", f.air_change);
        to.flag(at + ".bare_ground", f.bare_ground);
        to.text(at + ".ground_cover", f.ground_cover ? f.ground_cover->name : std::string());
    }
}

void write(Lines& to, const assembly::Details& d) {
    to.number("details.stud", d.member.value);
    to.count("details.corner_studs", d.corner_studs.value);
    to.count("details.partitions", d.partitions.value);
    to.flag("details.partition_stud", d.partition_stud.value);
    to.count("details.top_plates", d.top_plates.value);
    to.count("details.bottom_plates", d.bottom_plates.value);
    to.number("details.deck", d.deck.value);
    to.number("details.joist", d.joist.value);
    to.number("details.rim_board", d.rim_board.value);
    to.flag("details.rim_insulated", d.rim_insulated.value);
    to.number("details.ledger", d.ledger.value);
    to.number("details.balcony", d.balcony.value);
    to.number("details.heel", d.heel.value);
    to.number("details.vent_gap", d.vent_gap.value);
    to.text("details.frame_place", assembly::name_of(d.frame.value));
    to.number("details.frame_lap", d.frame_lap.value);
    to.number("details.frame_depth", d.frame_depth.value);
    to.number("details.frame_width", d.frame_width.value);
    to.number("details.frame_u", d.frame_u.value);
    to.number("details.gap", d.gap.value);
    to.count("details.jamb_studs", d.jamb_studs.value);
    to.number("details.header", d.header.value);
    to.count("details.header_plies", d.header_plies.value);
    to.text("details.header_place", assembly::name_of(d.header_place.value));
    to.number("details.buck", d.buck.value);
    to.number("details.foundation_wall", d.stem_wall.value);
    to.number("details.foundation_depth", d.foundation_depth.value);
    to.number("details.edge_insulation", d.edge_insulation.value);
}

void write(Lines& to, const assembly::Practice& p) {
    to.text("framing.species", p.species.value);
    to.text("framing.grade", p.grade.value);
    to.text("framing.stud_grade", p.stud_grade.value);
    to.flag("framing.stacked", p.stacked.value);
    to.flag("framing.sized_headers", p.sized_headers.value);
    to.flag("framing.edge_blocking", p.edge_blocking.value);
    to.length("framing.sheet_width", p.sheet_width.value);
    to.length("framing.sheet_length", p.sheet_length.value);
    to.length("framing.roll_width", p.roll_width.value);
    to.length("framing.roll_length", p.roll_length.value);
    to.length("framing.lap", p.lap.value);
    to.text("framing.joist", p.joist.value);
    to.length("framing.joist_spacing", p.joist_spacing.value);
    to.text("framing.joist_run", p.joist_run.value);
    to.flag("framing.bearing_line", p.bearing_line.value);
    to.flag("framing.boxes", p.boxes.value);
    to.length("framing.box_reach", p.box_reach.value);
    to.length("framing.box_height", p.box_height.value);
    to.text("framing.box_body", p.box_body.value);
}

void write(Lines& to, const assembly::Loads& l) {
    if (l.ground_snow) to.number("loads.ground_snow", l.ground_snow->value);
    if (l.wind_speed) to.number("loads.wind_speed", l.wind_speed->value);
    if (l.exposure) to.count("loads.exposure", static_cast<int>(l.exposure->value));
    if (l.seismic) to.text("loads.seismic", l.seismic->value);
    to.number("loads.floor_live", l.floor_live.value);
    to.number("loads.floor_dead", l.floor_dead.value);
    to.number("loads.roof_dead", l.roof_dead.value);
    to.number("loads.attic_live", l.attic_live.value);
    if (l.cladding) to.number("loads.cladding", l.cladding->value);
}

void write(Lines& to, const assembly::Partition& p) {
    const std::string at = "partition." + p.name;
    to.text(at + ".face", p.face);
    to.length(at + ".at", p.at);
    to.text(at + ".member", p.member);
}

void write(Lines& to, const assembly::ElectricalBox& b) {
    const std::string at = "box." + b.name;
    to.text(at + ".face", b.face);
    to.length(at + ".at", b.at.value);
    to.length(at + ".height", b.height.value);
    to.count(at + ".kind", static_cast<int>(b.kind));
    to.text(at + ".body", b.body.value);
}

// Rows of the file's own stand behind the built-in ones.
void write_own_rows(Lines& to, const material::Catalogue& all) {
    const auto& built_in = material::built_in();
    for (std::size_t i = built_in.materials.size(); i < all.materials.size(); ++i) {
        const auto& m = all.materials[i];
        const std::string at = "material." + m.name;
        to.number(at + ".density", m.density);
        to.number(at + ".specific_heat", m.specific_heat);
        to.number(at + ".conductivity", m.conductivity);
        to.number(at + ".absorption", m.absorption);
        to.text(at + ".sorption",
                fmt::format("{} / {}", fmt::join(m.sorption.x, " "), fmt::join(m.sorption.y, " ")));
        to.text(at + ".permeability",
                fmt::format("{} / {}", fmt::join(m.permeability.x, " "), fmt::join(m.permeability.y, " ")));
    }
    for (std::size_t i = built_in.membranes.size(); i < all.membranes.size(); ++i) {
        const auto& m = all.membranes[i];
        to.text("membrane." + m.name + ".permeance",
                fmt::format("{} / {}", fmt::join(m.permeance.x, " "), fmt::join(m.permeance.y, " ")));
    }
}

}  // namespace

std::vector<std::string> model_text(const assembly::House& house) {
    Lines to;
    to.text("house.name", house.name);
    to.text("house.place", house.place);
    to.text("house.weather", house.weather_file);
    to.text("house.units", house.units);
    to.number("house.start_month", house.start_month);
    to.text("house.prices", house.prices);
    to.count("indoor.model", static_cast<int>(house.indoor.model));
    to.number("indoor.temperature", house.indoor.temperature);
    to.number("indoor.humidity", house.indoor.relative_humidity);
    to.count("indoor.class", house.indoor.humidity_class);
    to.number("indoor.cooling", house.indoor.cooling);
    to.number("indoor.cooled_humidity", house.indoor.cooled_humidity);
    to.number("rain.exposure", house.rain_exposure.exposure);
    to.number("rain.deposition", house.rain_exposure.deposition);
    to.number("air.blower_door", house.air.blower_door);
    to.number("air.leakage", house.air.leakage);
    to.number("air.fan", house.air.fan);
    to.count("air.terrain", static_cast<int>(house.air.terrain));
    write(to, house.details);
    write(to, house.practice);
    write(to, house.loads);
    for (const auto& each : house.partitions) write(to, each);
    for (const auto& each : house.boxes) write(to, each);
    write(to, house.services);
    write_own_rows(to, house.catalogue);
    for (const auto& each : house.assemblies) write(to, "assembly." + each.name, each);
    for (const auto& ladder : house.ladders) {
        for (std::size_t i = 0; i < ladder.rungs.size(); ++i) {
            to.text(fmt::format("ladder.{}.{}", assembly::name_of(ladder.part), i),
                    house.assemblies[ladder.rungs[i]].name);
        }
    }
    write_geometry(to, house);
    return to.out;
}

}  // namespace warmside::project
