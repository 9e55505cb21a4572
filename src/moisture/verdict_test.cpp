#include "moisture/verdict.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "moisture/measure.h"
#include "moisture/thresholds.h"
#include "moisture/wording.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

constexpr int year = 8760;

/// Wool, osb, housewrap, cavity, siding; invented values.
struct Wall {
    material::Material wool{.name = "wool", .density = 40.0, .mould = material::MouldClass::medium_resistant};
    material::Material osb{
        .name = "osb", .density = 600.0, .mould = material::MouldClass::sensitive, .is_wood = true};
    material::Material spruce{
        .name = "spruce", .density = 400.0, .mould = material::MouldClass::sensitive, .is_wood = true};
    material::Membrane wrap{.name = "housewrap"};
    assembly::Assembly assembly;
    Wall() {
        using assembly::Layer;
        using units::Exact;
        assembly.name = "w3";
        assembly.layers.resize(5);
        assembly.layers[0].material = &wool;
        assembly.layers[0].thickness = Exact::millimetres(140);
        assembly.layers[0].framing = assembly::Framing{.material = &spruce};
        assembly.layers[1].material = &osb;
        assembly.layers[1].thickness = Exact::millimetres(11);
        assembly.layers[2].kind = Layer::Kind::membrane;
        assembly.layers[2].membrane = &wrap;
        assembly.layers[2].water = true;
        assembly.layers[3].kind = Layer::Kind::air;
        assembly.layers[3].air = assembly::AirKind::ventilated;
        assembly.layers[3].thickness = Exact::millimetres(20);
        assembly.layers[4].material = &spruce;
        assembly.layers[4].thickness = Exact::millimetres(20);
    }
};

/// Two probes (inner face of osb, inner face of siding) and the moisture of osb, all dry at 20 degC.
History calm(const std::string& name = "w3 north bay", int years = 3, int start = 6552) {
    History h{.name = name, .start_hour = start, .hours = years * year, .probe_every = 1};
    const auto n = static_cast<std::size_t>(h.hours);
    h.probes = {{.name = "inner face of osb", .layer = 1, .depth = 0.140, .sensitive = true},
                {.name = "inner face of siding", .layer = 4, .depth = 0.171, .sensitive = true}};
    for (auto& p : h.probes) {
        p.temperature.assign(n, 293.15F);
        p.relative_humidity.assign(n, 0.5F);
    }
    h.layers = {{.layer = 1}};
    h.layers[0].moisture.assign(n, 60.0F);
    h.layers[0].wettest.assign(n, 60.0F);
    return h;
}

Basis full() {
    return {
        .stressed_year_run = true, .air_leakage_run = true, .rain_leak = 0.01, .air = "air leaks at 0.1 L/s"};
}

void damp(History& h, std::size_t probe, int from, int hours, float humidity = 0.97F) {
    for (int i = from; i < from + hours; ++i)
        h.probes[probe].relative_humidity[static_cast<std::size_t>(i)] = humidity;
}
void wet(History& h, int from, int hours, float percent) {
    for (int i = from; i < from + hours; ++i)
        h.layers[0].wettest[static_cast<std::size_t>(i)] = 6.0F * percent;
}

Verdict judged(const History& h, const Basis& basis = full()) {
    const Wall wall;
    auto verdict = try_judge(wall.assembly, {&h, 1}, basis);
    REQUIRE(verdict);
    return std::move(*verdict);
}

const Finding* find(const Verdict& v, std::string_view criterion, bool first_year, std::size_t layer = 1) {
    for (const auto& f : v.findings)
        if (f.criterion == criterion && f.first_year == first_year && f.layer == layer) return &f;
    return nullptr;
}

bool says(const std::vector<std::string>& lines, std::string_view part) {
    for (const auto& line : lines)
        if (line.find(part) != std::string::npos) return true;
    return false;
}

}  // namespace

TEST_CASE("a wall that stays dry is dry, and every criterion is reported for both years") {
    const auto v = judged(calm());
    CHECK(v.dryness == Dryness::dry);
    for (const bool first : {true, false})
        for (const auto* criterion : {"mould index", "decay", "condensate", "wood moisture content"})
            CHECK_MESSAGE(find(v, criterion, first), criterion);
    CHECK(find(v, "mould index", false)->value == 0.0);
    CHECK(v.deciding.criterion == "wood moisture content");
    CHECK(v.deciding.margin == doctest::Approx(0.5));
    CHECK(v.reason ==
          "wood moisture content 10 % at the wettest 10 mm of osb, week 44 in October of the first year, "
          "north, "
          "bay "
          "path (dry ends at 20 % and wet begins at 26 %)");
}

TEST_CASE("weather without rain never earns dry") {
    auto basis = full();
    basis.rain_known = false;
    const auto v = judged(calm(), basis);
    CHECK(v.dryness == Dryness::watch);
    CHECK(v.reason.find("the weather has no rain") == 0);
}

TEST_CASE("a typical year alone never earns dry") {
    auto basis = full();
    basis.stressed_year_run = false;
    const auto v = judged(calm(), basis);
    CHECK(v.dryness == Dryness::watch);
    CHECK(v.deciding.dryness == Dryness::dry);
    CHECK(v.reason.find("only a typical year was run") == 0);
}

TEST_CASE("the first year and the settled year are judged apart and the worse counts") {
    auto h = calm();
    wet(h, 100, 40 * 24, 27.0F);
    const auto built_in = judged(h);
    CHECK(built_in.dryness == Dryness::wet);
    CHECK(built_in.deciding.first_year);
    CHECK(find(built_in, "wood moisture content", false)->dryness == Dryness::dry);

    auto late = calm();
    wet(late, 2 * year + 100, 40 * 24, 27.0F);
    const auto settled = judged(late);
    CHECK(settled.dryness == Dryness::wet);
    CHECK_FALSE(settled.deciding.first_year);
    CHECK(settled.reason.find("of the settled year") != std::string::npos);

    auto between = calm();
    wet(between, year + 2000, 40 * 24, 27.0F);
    CHECK(judged(between).dryness == Dryness::dry);  // neither the first nor the settled year
}

TEST_CASE("mould carries over from year to year and its class follows the limits 1 and 3") {
    auto h = calm();
    damp(h, 0, 0, 7 * 168, 0.94F);
    const auto v = judged(h);
    CHECK(v.dryness == Dryness::watch);
    CHECK(v.deciding.criterion == "mould index");
    CHECK(v.deciding.first_year);
    CHECK(find(v, "mould index", false)->value > 0.3);  // a tenth of the decline of pine leaves a rest
    CHECK(find(v, "mould index", false)->rise < 0.0);
    damp(h, 0, 7 * 168, 30 * 168, 0.94F);
    CHECK(judged(h).dryness == Dryness::wet);
}

TEST_CASE("a probe that is not sensitive grows no mould") {
    auto h = calm();
    damp(h, 0, 0, year);
    h.probes[0].sensitive = false;
    const auto v = judged(h);
    CHECK(find(v, "mould index", true) == nullptr);
    CHECK(v.dryness == Dryness::dry);
}

TEST_CASE("the cladding side of a wall's ventilated cavity is reported and not judged") {
    auto h = calm();
    damp(h, 1, 0, 3 * year);
    const auto v = judged(h);
    CHECK(v.dryness == Dryness::dry);
    const auto* siding = find(v, "mould index", false, 4);
    REQUIRE(siding);
    CHECK(siding->dryness == Dryness::wet);
    CHECK_FALSE(siding->judged);
    CHECK(says(v.notes, "cladding side"));

    h.layers[0].layer = 4;  // wet wood siding is no fault of the wall either
    wet(h, 0, 3 * year, 40.0F);
    CHECK(judged(h).dryness == Dryness::dry);
    h.layers[0].layer = 1;
    wet(h, 0, 3 * year, 10.0F);

    Wall direct;  // siding on the housewrap, no cavity
    direct.assembly.layers.erase(direct.assembly.layers.begin() + 3);
    auto near = calm();
    near.probes.pop_back();
    near.layers[0].layer = 3;
    wet(near, 0, 3 * year, 40.0F);
    CHECK(judge(direct.assembly, {&near, 1}, full()).dryness == Dryness::dry);
    direct.assembly.layers[2].water = false;  // nothing behind it drains: the last layer is the wall
    CHECK(judge(direct.assembly, {&near, 1}, full()).dryness == Dryness::wet);

    Wall roof;  // the panel over the cavity of a roof carries load
    roof.assembly.part = assembly::Part::roof;
    roof.assembly.layers.push_back(
        {.kind = assembly::Layer::Kind::membrane, .membrane = &roof.wrap});  // roofing
    CHECK(judge(roof.assembly, {&h, 1}, full()).dryness == Dryness::wet);
}

TEST_CASE("a few weeks of raised wood moisture in winter do no harm, a longer spell is watched") {
    auto h = calm();
    for (auto& value : h.layers[0].wettest) value = 6.0F * 14.0F;
    for (int k = 0; k < 3; ++k) wet(h, k * year + 3000, 14 * 24, 24.0F);
    CHECK(judged(h).dryness == Dryness::dry);
    wet(h, 2 * year + 3000, 30 * 24, 24.0F);
    CHECK(judged(h).dryness == Dryness::watch);
}

TEST_CASE("a value on the limit belongs to the worse class") {
    const auto& limits = built_in_thresholds();
    REQUIRE(limits);
    CHECK(severity(std::nextafter(1.0, 0.0), limits->mould_index) < 1.0);
    CHECK(severity(1.0, limits->mould_index) == 1.0);
    CHECK(severity(3.0, limits->mould_index) == 2.0);
    const Wall wall;
    const auto h = calm();
    const auto as = [&](double value) {
        return put_into_words(h, {.criterion = Criterion::mould_index, .layer = 1, .value = value}, *limits);
    };
    CHECK(as(std::nextafter(1.0, 0.0)).dryness == Dryness::dry);
    CHECK(as(1.0).dryness == Dryness::watch);
    CHECK(as(1.0).margin == 0.0);
    CHECK(as(std::nextafter(3.0, 0.0)).dryness == Dryness::watch);
    CHECK(as(3.0).dryness == Dryness::wet);
    CHECK(figure(0.97, as(0.97)) == "0.97");  // not "1.0", which would be on the other side
    CHECK(figure(1.3, as(1.3)) == "1.3");
    auto exact = calm();
    for (auto& value : exact.layers[0].wettest) value = 120.0F;  // 20 % of 600 kg/m3
    CHECK(judged(exact).dryness == Dryness::watch);
}

TEST_CASE("the worst of all runs decides, and its face and path are named") {
    const Wall wall;
    std::vector<History> runs{calm("w3 south bay"), calm("w3 north framing stressed")};
    runs[1].layers[0].layer = 0;  // the stud, on the framing path: 400 kg/m3
    for (auto& value : runs[1].layers[0].wettest) value = 0.3F * 400.0F;
    const auto v = try_judge(wall.assembly, runs, full());
    REQUIRE(v);
    CHECK(v->dryness == Dryness::wet);
    CHECK(v->deciding.run == "w3 north framing stressed");
    CHECK(v->reason.find("30 % at the wettest 10 mm of spruce") != std::string::npos);
    CHECK(v->reason.find("year, north, framing path, stressed weather (") != std::string::npos);
    runs[1].name = "w3 north bay stressed";  // wool holds no wood moisture
    CHECK(judge(wall.assembly, runs, full()).dryness == Dryness::dry);
}

TEST_CASE("a value that still rises from year to year is not called dry, under stress neither") {
    const Wall wall;
    std::vector<History> runs{calm("w3 north bay typical")};
    for (int i = 0; i < 3 * year; ++i)
        runs[0].layers[0].wettest[static_cast<std::size_t>(i)] = 60.0F + 18.0F * static_cast<float>(i / year);
    const auto v = judge(wall.assembly, runs, full());
    CHECK(v.deciding.dryness == Dryness::dry);
    CHECK(v.dryness == Dryness::watch);
    CHECK(
        v.reason.find(
            "wood moisture content at the wettest 10 mm of osb still rises from year to year, by 3 % in the "
            "last; the nearest to a limit is wood moisture content 16 %") == 0);
    runs[0].name = "w3 north bay stressed";
    runs.push_back(calm("w3 north bay typical"));
    const auto stressed = judge(wall.assembly, runs, full());
    CHECK(stressed.dryness == Dryness::watch);
    CHECK(stressed.reason.find("still rises from year to year in stressed weather, by 3 %") !=
          std::string::npos);
}

TEST_CASE("a member that crosses the core counts as bay, as it does in the solver") {
    Wall wall;
    wall.assembly.layers.insert(wall.assembly.layers.begin(), wall.assembly.layers[0]);
    wall.assembly.layers[0].thickness = units::Exact::millimetres(45);
    wall.assembly.layers[0].framing->run = assembly::Run::horizontal;
    auto h = calm("w3 north framing");
    h.layers[0].layer = 0;
    h.probes.clear();
    CHECK_FALSE(try_judge(wall.assembly, {&h, 1}, full()));
    h.layers[0].layer = 1;
    CHECK(judge(wall.assembly, {&h, 1}, full()).deciding.place == "wettest 10 mm of spruce");
}

TEST_CASE("a surface at saturation for a day holds condensate: watch, never wet") {
    auto h = calm();
    h.probes[0].sensitive = false;
    damp(h, 0, 2 * year + 50, 23, 1.0F);
    CHECK(judged(h).dryness == Dryness::dry);
    damp(h, 0, 2 * year + 50, 2000, 1.0F);
    const auto v = judged(h);
    CHECK(v.dryness == Dryness::watch);
    CHECK(v.deciding.criterion == "condensate");
    CHECK(v.deciding.value == 2000.0);
}

TEST_CASE("decay starts after nine days of warm saturation") {
    auto h = calm();
    damp(h, 0, 2 * year, 100, 1.0F);
    CHECK(find(judged(h), "decay", false)->value ==
          doctest::Approx(100.0 / 220.4).epsilon(0.001));  // decay-viitanen-2010
    damp(h, 0, 2 * year, 300, 1.0F);
    const auto v = judged(h);
    CHECK(find(v, "decay", false)->dryness == Dryness::wet);
    CHECK(says(v.notes, "of the mass is lost"));
}

TEST_CASE("a history that cannot be judged is refused, never called dry") {
    const Wall wall;
    const auto refused = [&](const History& h) {
        const auto v = try_judge(wall.assembly, {&h, 1}, full());
        return v ? std::string("judged") : v.error().what;
    };
    CHECK(try_judge(wall.assembly, {}, full()).error().what == "no run of w3 to judge");
    CHECK(judge(wall.assembly, {}, full()).dryness == Dryness::wet);
    CHECK(judge(wall.assembly, {}, full()).reason == "not judged: no run of w3 to judge");
    CHECK(refused(calm("w3 north bay", 1)) ==
          "run \"w3 north bay\" covers 8760 h; first and settled year need whole years of 8760 h, at least "
          "two");
    auto h = calm();
    h.probes[0].temperature.resize(1000);
    CHECK(refused(h) == "run \"w3 north bay\" has gaps at \"inner face of osb\"");
    h = calm();
    h.probes[1].relative_humidity[7] = std::numeric_limits<float>::quiet_NaN();
    CHECK(refused(h) == "run \"w3 north bay\" has gaps at \"inner face of siding\"");
    h = calm();
    h.layers[0].layer = 9;
    CHECK(refused(h) == "run \"w3 north bay\" has moisture of layer 9, but w3 has 5 layers");
    h = calm();
    h.probes.clear();
    h.layers.clear();
    CHECK(refused(h) == "the runs of w3 keep no place that a criterion judges");
}

TEST_CASE("week and month wrap at the turn of the year") {
    CHECK(month_of(0) == "January");
    CHECK(month_of(744) == "February");
    CHECK(month_of(6552) == "October");
    CHECK(month_of(8759) == "December");
    CHECK(month_of(8760 + 100) == "January");
    CHECK(week_of(0) == 1);
    CHECK(week_of(168) == 2);
    CHECK(week_of(8759) == 52);
    auto h = calm();
    damp(h, 0, 2208 + 240, 1000);  // 1 October + 92 days is 1 January
    const auto verdict = judged(h);
    const auto* f = find(verdict, "mould index", true);
    CHECK(f->month == "February");
    CHECK(f->week == (240 + 999) / 168 + 1);
}

TEST_CASE("what the verdict rests on is said plainly") {
    auto basis = full();
    basis.air_leakage_run = false;
    basis.air.clear();
    basis.indoor = "indoor 21 degC";
    const auto v = judged(calm(), basis);
    CHECK(says(v.assumes, "no air leaks through the assembly: the airtight layer must be tight"));
    CHECK(says(v.assumes, "no more than 1 % of the driving rain gets past the cladding"));
    CHECK(says(v.assumes, "indoor 21 degC"));
    CHECK(says(v.notes, "frozen hours hold the index"));
    CHECK(says(v.notes, "ASHRAE 160 criterion is not claimed"));
    for (const auto& f : v.findings) CHECK(f.criterion.find("ASHRAE") == std::string::npos);
    basis.design_weather = true;
    basis.rain = "1 % leaks";
    basis.air = "no air leaks through the assembly: the airtight layer must be tight";
    CHECK(judged(calm(), basis).assumes ==
          std::vector<std::string>{"1 % leaks", "indoor 21 degC", basis.air});
    const auto claimed = judged(calm(), basis);
    CHECK(find(claimed, "ASHRAE 160-2009 surface humidity", false));
    CHECK_FALSE(says(claimed.notes, "ASHRAE 160 criterion is not claimed"));
}

TEST_CASE("samples every six hours judge like hourly ones") {
    auto h = calm();
    h.probe_every = 6;
    const auto n = static_cast<std::size_t>(h.hours / 6);
    for (auto& p : h.probes) {
        p.temperature.resize(n);
        p.relative_humidity.resize(n);
    }
    h.layers[0].wettest.resize(n);
    auto hourly = calm();
    damp(hourly, 0, 600, 1200);
    damp(h, 0, 100, 200);
    const auto coarse = judged(h), fine = judged(hourly);
    const auto *a = find(coarse, "mould index", true), *b = find(fine, "mould index", true);
    CHECK(a->value == doctest::Approx(b->value).epsilon(1e-3));
    CHECK(a->month == b->month);
}

TEST_CASE("a broken threshold file is refused with its place") {
    const auto broken = read_thresholds("t.toml", "[mould_index]\nwatch = 3.0\nwet = 1.0\n");
    REQUIRE_FALSE(broken);
    CHECK(broken.error().where.file == "t.toml");
    REQUIRE(built_in_thresholds());
    CHECK(built_in_thresholds()->wood_moisture.wet == 0.26);
    CHECK(built_in_thresholds()->wood_average == 30.0 * 86400.0);
}
