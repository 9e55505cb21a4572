// Test data only. Every figure here is made up; nothing in it is a result of the program.
#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "answer/answer.h"
#include "drawing/made_up.h"
#include "units/quantity.h"

namespace warmside::made_up {

inline thermal::Worth worth(const Assembly& a, int rung) {
    thermal::Worth w;
    w.thickness = a.thickness().metres();
    for (const auto& l : a.layers) {
        thermal::LayerWorth row;
        row.title = l.title();
        row.thickness = l.thickness.metres();
        if (l.material) {
            row.conductivity = l.material->conductivity;
            row.mean_temperature = 275.0;
            row.resistance = row.thickness / row.conductivity;
            row.label = l.material->is_insulation ? row.resistance : 0.0;
            if (l.framing) {
                row.framing_resistance = row.thickness / 0.12;
                row.framing_share = 0.0625;
            }
            row.origin = l.material->origin;
        } else {
            row.note = "made-up note";
        }
        w.label_r += row.label;
        w.layers.push_back(row);
    }
    double r = w.label_r;
    w.stair.push_back({"label", "label R", r, r, 1.0 / r});
    const std::pair<const char*, double> steps[] = {{"boards", 0.18},
                                                    {"air spaces", rung == 0 ? 0.0 : 0.02},
                                                    {"films", 0.17},
                                                    {"temperature", 0.02 * w.label_r},
                                                    {"studs", -0.11 * w.label_r},
                                                    {"plates and headers", -0.05 * w.label_r},
                                                    {"furring", rung < 2 ? 0.0 : -0.06},
                                                    {"fasteners", rung < 4 ? 0.0 : -0.05}};
    for (const auto& [name, change] : steps) {
        r += change;
        w.stair.push_back({name,
                           std::string(name) + (change < 0 ? " take away" : " add") + " some R (made up)",
                           change, r, 1.0 / r});
        if (std::string_view(name) == "studs") w.clear_r = r;
    }
    w.stair.push_back({"junctions", "junctions are not computed yet", std::nullopt, r, 1.0 / r});
    w.face_r = r;
    w.clear_u = w.field_u = 1.0 / w.clear_r;
    w.upper_r = 1.03 * w.clear_r;
    w.lower_r = 0.97 * w.clear_r;
    w.parallel_r = w.upper_r;
    w.isothermal_r = w.lower_r;
    w.relative_error = 0.03;
    w.iso_clear_r = 1.01 * w.clear_r;
    w.clear_dimensions = 3;
    w.clear_error = 0.0008;
    w.clear_cells = 12345;
    w.cell_u = w.clear_u;
    w.daily = conduction::Periodic{.transmittance = 0.2,
                                   .inside_admittance = {0.9, 0.2},
                                   .outside_admittance = {1.2, 0.1},
                                   .periodic_transmittance = {-0.05, 0.02},
                                   .decrement = 0.27,
                                   .inside_lead = 3600.0,
                                   .time_shift = -27000.0,
                                   .inside_capacity = 12000.0,
                                   .outside_capacity = 16000.0};
    w.fasteners = {{.layer = 0, .per_area = 4.0, .chi = 0.0002, .iso_u = 0.0015}};
    w.clear_method = "conduction over a cell (made up)";
    w.iso_words = "ISO 6946 reads otherwise (made up)";
    w.handbook_words = "the handbook reads otherwise (made up)";
    w.framing_fraction = 0.23;
    w.framing_origin = {
        .kind = Origin::Kind::standard, .where = {}, .source = "a made-up table", .evidence = Evidence::none};
    w.code_u = 1.05 * w.clear_u;
    w.code_note = "made-up code note";
    w.bay_temperatures = {294.15, 263.15};
    return w;
}

inline moisture::Carpet carpet(const Assembly& a, double damp, int columns = 156, int rows = 48) {
    moisture::Carpet c{.columns = columns, .rows = rows};
    const double thickness = a.thickness().metres();
    for (int row = 0; row < rows; ++row)
        c.depth.push_back(static_cast<float>(thickness * (row + 0.5) / rows));
    for (int column = 0; column < columns; ++column) {
        for (int row = 0; row < rows; ++row) {
            const double depth = (row + 0.5) / rows,
                         season = std::cos(2.0 * std::numbers::pi * (column - 18) / 52.0);
            c.relative_humidity.push_back(static_cast<float>(
                std::min(1.0, 0.38 + 0.3 * depth + damp * depth * depth * (0.6 + 0.5 * season))));
            c.temperature.push_back(static_cast<float>(294.0 - 25.0 * depth));
        }
    }
    return c;
}

inline moisture::Verdict verdict(int rung, std::size_t layer) {
    using moisture::Dryness;
    constexpr double index[] = {3.4, 1.1, 0.3, 1.3, 0.02, 0.0};
    const double value = index[rung % 6];
    moisture::Finding mould{.criterion = "mould index",
                            .source = "a made-up source",
                            .run = "north framing stressed",
                            .place = "inner face of the osb",
                            .layer = layer};
    mould.value = value;
    mould.watch_limit = 1.0;
    mould.wet_limit = 3.0;
    mould.dryness = value < 1.0 ? Dryness::dry : value < 3.0 ? Dryness::watch : Dryness::wet;
    mould.margin = value < 1.0 ? 1.0 - value : (3.0 - value) / 3.0;
    mould.unit = "-";
    mould.hour = 2 * 8760 + 4700;
    mould.week = 15;
    mould.month = "April";
    moisture::Finding wood = mould;
    wood.criterion = "wood moisture content";
    wood.dryness = Dryness::dry;
    wood.value = 16.2;
    wood.watch_limit = 20.0;
    wood.wet_limit = 26.0;
    wood.margin = 0.19;
    wood.unit = "%";
    wood.first_year = true;
    moisture::Verdict v;
    v.dryness = mould.dryness;
    v.deciding = mould;
    v.findings = {mould, wood};
    v.reason = "mould index " + std::to_string(value).substr(0, 3) +
               " at the inner face of the osb, April of the settled year, north, framing path (made up)";
    v.assumes = {"1 % of driving rain leaks to the outer face of the sheathing", "indoor 21 °C, made-up load",
                 "start at 80 % relative humidity", "made-up weather, typical and stressed",
                 "air leakage 0.1 L/(s m²), spread and concentrated"};
    v.notes = {"a made-up note of the verdict"};
    v.driver_words = "mostly rain: without it the mould index would be 0.1 (dry), made up";
    v.drivers = {{.driver = moisture::Driver::rain, .value_without = 0.1, .dryness_without = Dryness::dry},
                 {.driver = moisture::Driver::sun, .value_without = value, .dryness_without = v.dryness}};
    v.without_drivers = 0.05;
    v.allowance = moisture::WettingAllowance{.dry = 0.5, .not_wet = 2.0, .assumed = 0.9, .most_tried = 30.0};
    v.changes = {{.what = "half the rain leak (made up)",
                  .all_runs = true,
                  .value = 0.4,
                  .criterion = "mould index",
                  .place = "inner face of the osb",
                  .unit = "-",
                  .dryness = Dryness::dry}};
    v.monthly = moisture::MonthlyOpinion{.run = mould.run,
                                         .peak = 0.2,
                                         .first_month = 11,
                                         .peak_month = 2,
                                         .dry_month = 5,
                                         .place = "between wool and osb",
                                         .words = "up to 0.20 kg/m2 between wool and osb (made up)"};
    return v;
}

/// A wall with one stud, one finding of each outcome and one cut.
inline answer::Framed framed() {
    answer::Framed out;
    framing::Panel panel;
    panel.name = "south";
    panel.length = units::Exact::millimetres(9000);
    panel.height = units::Exact::millimetres(2400);
    framing::Member stud;
    stud.mark = "S1";
    stud.section = {"2x6", units::Exact::millimetres(38), units::Exact::millimetres(140)};
    stud.lumber = "spruce-pine-fir Stud";
    stud.length = units::Exact::millimetres(2300);
    panel.members = {stud};
    framing::WallBox box;
    box.name = "receptacle 1";
    box.mark = "E1";
    box.title = "made-up box";
    box.volume = 0.0003;
    box.by_rule = box.pierces_airtight = true;
    box.origin = {.kind = Origin::Kind::assumed, .source = "made up", .evidence = Evidence::memory};
    panel.boxes = {box};
    out.frame.panels = {panel};
    out.frame.factor = {.net_area = 20.0, .whole = 0.2, .field = 0.06, .by_panel = {{"south", 0.2}}};
    out.frame.notes = {{.code = Code::unsupported, .severity = Severity::note, .what = "made up"}};
    using structure::Outcome;
    for (const auto outcome :
         {Outcome::passes, Outcome::fails, Outcome::needs_engineer, Outcome::not_given, Outcome::reminder}) {
        structure::Finding finding;
        finding.subject = "stud";
        finding.where = "south: S1";
        finding.citation = "a code";
        finding.outcome = outcome;
        finding.ratio = 0.5;
        finding.words = "made up";
        finding.inputs = {{"snow", 2000.0, "Pa", {}}};
        out.structure.findings.push_back(finding);
    }
    out.structure.cautions = {"First-order engineering aid: local code and a licensed professional decide."};
    return out;
}

inline answer::Priced priced() {
    answer::Priced out;
    takeoff::Item item;
    item.kind = "lumber";
    item.name = "2x6 stud";
    item.unit = "m";
    item.net = 2.3;
    item.count = 1.0;
    item.package = "piece of 2.438 m";
    out.order.items = {item};
    takeoff::CutPlan plan;
    plan.name = "2x6";
    plan.pieces = {{units::Exact::millimetres(2300), 1, "S1"}};
    plan.stock = {{units::Exact::millimetres(2438)}};
    plan.patterns = {{0, {1}, 1, units::Exact::millimetres(138)}};
    plan.proven = true;
    out.order.lumber = {plan};
    out.order.notes = {"made up"};
    takeoff::CostLine line;
    line.group = "lumber";
    line.money = 12345.0;
    out.cost.lines = {line};
    out.cost.total = out.cost.material = 12345.0;
    out.cost.area = 100.0;
    out.cost.currency = "USD";
    out.cost.demo = true;
    out.cost.notes = {"made up"};
    return out;
}

inline takeoff::StepCost step() {
    takeoff::StepCost out;
    out.total = 1000.0;
    out.lines.resize(1);
    out.knock_on.resize(1);
    out.notes = {"made up"};
    return out;
}

inline answer::Answer answer(const assembly::House& h) {
    answer::Answer out;
    out.house = h.name;
    out.place = h.place;
    out.weather = {.place = h.place,
                   .climate_zone = "7",
                   .kind = "made up for a test",
                   .mean_temperature = 277.2,
                   .january = 260.9,
                   .heating_degree_days = 5200.0,
                   .wettest_face = "east",
                   .notes = {"Rain is made up, too."}};
    out.areas = answer::Areas{.floor = 140.0,
                              .wall_gross = 210.0,
                              .wall_net = 172.0,
                              .window = 32.0,
                              .door = 6.0,
                              .roof = 110.0,
                              .ceiling = 0.0,
                              .volume = 380.0};
    out.cautions = {
        "First-order engineering aid. Local code and a licensed professional decide; moisture depends on "
        "workmanship.",
        "Claims of R made to a buyer are regulated."};
    for (const auto& ladder : h.ladders) {
        answer::LadderAnswer row{.part = ladder.part, .rungs = {}};
        int rung = 0;
        for (const auto index : ladder.rungs) {
            const auto& a = h.assemblies[index];
            answer::RungAnswer r;
            r.name = a.name;
            r.title = a.title;
            r.assembly = index;
            r.thickness = a.thickness().metres();
            r.worth = worth(a, rung);
            if (ladder.part == assembly::Part::wall) {
                thermal::Junction corner;
                corner.name = "outer corner";
                corner.length = 10.0;
                corner.psi_internal = 0.03;
                corner.psi_plain = 0.02;
                corner.factor = 0.9;
                corner.factor_glazing = 0.8;
                corner.humidity = 0.6;
                corner.notes = {"made up"};
                r.junctions = {corner};
                r.junction_heat = 0.3;
                r.framed = std::make_shared<const answer::Framed>(framed());
                r.priced = std::make_shared<const answer::Priced>(priced());
                if (rung > 0) r.step_cost = step();
                r.verdict = verdict(rung, a.datum());
                r.carpet = carpet(a, 0.5 - 0.07 * rung);
                r.carpet_run = r.verdict->deciding.run;
                r.runs = 12;
                r.balance.water_error = 1e-7;
                r.balance.energy_error = 1e-6;
            } else {
                r.verdict_absent = "roofs are made up without a transient run";
            }
            row.rungs.push_back(std::move(r));
            ++rung;
        }
        out.ladders.push_back(std::move(row));
    }
    return out;
}

}  // namespace warmside::made_up
