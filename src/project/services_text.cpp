#include "project/model_lines.h"

namespace warmside::project {

namespace {

void given(Lines& to, const std::string& path, const std::optional<Sourced<double>>& value) {
    if (value) to.number(path, value->value);
}

void write(Lines& to, const assembly::Occupancy& p) {
    to.count("people.bedrooms", p.bedrooms.value);
    given(to, "people.people", p.people);
    to.number("people.heating", p.heating.value);
    to.number("people.cooling", p.cooling.value);
    given(to, "people.night", p.night);
    to.number("people.night_from", p.night_from);
    to.number("people.night_to", p.night_to);
    given(to, "people.gains", p.gains);
    given(to, "people.moisture", p.moisture);
    given(to, "people.humidifier", p.humidifier);
    given(to, "people.dehumidifier", p.dehumidifier);
}

void write(Lines& to, const assembly::Ventilation& v) {
    to.count("ventilation.kind", static_cast<int>(v.kind.value));
    given(to, "ventilation.flow", v.flow);
    to.number("ventilation.run", v.run.value);
    to.number("ventilation.heat_recovery", v.sensible.value);
    to.number("ventilation.moisture_recovery", v.moisture.value);
    given(to, "ventilation.frost", v.frost);
    to.count("ventilation.guard", static_cast<int>(v.guard.value));
    to.number("ventilation.fan_power", v.fan_power.value);
    to.flag("ventilation.ducted", v.ducted.value);
    given(to, "ventilation.range_hood", v.range_hood);
    given(to, "ventilation.dryer", v.dryer);
}

void write(Lines& to, const std::string& at, const std::vector<assembly::PerformancePoint>& points) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        const std::string here = fmt::format("{}.points.{}", at, i);
        to.number(here + ".outdoor", points[i].outdoor);
        to.number(here + ".capacity", points[i].capacity);
        to.number(here + ".efficiency", points[i].efficiency);
    }
}

void write(Lines& to, const assembly::Heating& h) {
    to.count("heating.kind", static_cast<int>(h.kind.value));
    to.text("heating.fuel", assembly::name_of(h.fuel.value));
    to.number("heating.efficiency", h.efficiency.value);
    given(to, "heating.capacity", h.capacity);
    write(to, "heating", h.points);
    to.number("heating.cut_off", h.cut_off.value);
    to.number("heating.distribution", h.distribution.value);
}

void write(Lines& to, const assembly::Cooling& c) {
    to.count("cooling.kind", static_cast<int>(c.kind.value));
    write(to, "cooling", c.points);
    to.number("cooling.efficiency", c.efficiency.value);
    given(to, "cooling.capacity", c.capacity);
}

void write(Lines& to, const assembly::EnergyPrice& e) {
    const std::string at = "energy." + e.name;
    to.text(at + ".fuel", assembly::name_of(e.fuel));
    for (std::size_t i = 0; i < e.blocks.size(); ++i) {
        to.number(fmt::format("{}.blocks.{}.upto", at, i), e.blocks[i][0]);
        to.number(fmt::format("{}.blocks.{}.price", at, i), e.blocks[i][1]);
    }
    for (std::size_t i = 0; i < e.hours.size(); ++i) {
        to.number(fmt::format("{}.hours.{}.from", at, i), e.hours[i][0]);
        to.number(fmt::format("{}.hours.{}.to", at, i), e.hours[i][1]);
        to.number(fmt::format("{}.hours.{}.price", at, i), e.hours[i][2]);
    }
    to.number(at + ".monthly", e.monthly);
    if (e.carbon) to.number(at + ".carbon", *e.carbon);
    to.number(at + ".rise", e.rise);
    to.text(at + ".date", e.date);
    to.text(at + ".source", e.source);
}

void write(Lines& to, const assembly::Room& room) {
    const std::string at = "room." + room.name;
    to.text(at + ".storey", room.storey);
    for (std::size_t i = 0; i < room.outline.size(); ++i) {
        to.length(fmt::format("{}.outline.{}.x", at, i), room.outline[i][0]);
        to.length(fmt::format("{}.outline.{}.y", at, i), room.outline[i][1]);
    }
}

void write(Lines& to, const assembly::Penetration& p) {
    const std::string at = "penetration." + p.name;
    to.text(at + ".kind", assembly::name_of(p.kind));
    to.count(at + ".count", p.count);
    to.flag(at + ".ceiling", p.ceiling);
    if (p.area) to.number(at + ".area", *p.area);
}

}  // namespace

void write(Lines& to, const assembly::Services& s) {
    to.text("air.test", s.test);
    write(to, s.people);
    write(to, s.ventilation);
    write(to, s.heating);
    write(to, s.cooling);
    for (const auto& each : s.energy) write(to, each);
    to.text("money.currency", s.money.currency);
    to.number("money.discount", s.money.discount.value);
    to.count("money.years", s.money.years.value);
    for (const auto& each : s.rooms) write(to, each);
    for (const auto& each : s.appliances) {
        to.text("appliance." + each.name + ".fuel", assembly::name_of(each.fuel));
        to.count("appliance." + each.name + ".draught", static_cast<int>(each.draught));
    }
    for (const auto& each : s.penetrations) write(to, each);
    to.count("code.edition", s.code.edition.value);
    to.text("code.zone", s.code.zone);
    to.text("code.amendments", s.code.amendments);
}

}  // namespace warmside::project
