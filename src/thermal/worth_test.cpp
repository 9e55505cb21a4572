#include "thermal/worth.h"

#include <doctest/doctest.h>

#include "base/what.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "thermal/films.h"
#include "thermal/made_up.h"
#include "units/quantity.h"

using namespace warmside;
using namespace warmside::thermal;
using namespace warmside::thermal::made_up;
using assembly::Part;

namespace {

const Tread& tread(const Worth& w, const char* name) {
    const auto found =
        std::find_if(w.stair.begin(), w.stair.end(), [&](const Tread& t) { return t.name == name; });
    REQUIRE(found != w.stair.end());
    return *found;
}

}  // namespace

TEST_CASE("treads sum exactly, and clear-field and face R are treads") {
    const auto w = worth(inner_cavity(), cold);
    REQUIRE(w);
    double sum = 0.0;
    for (const Tread& t : w->stair) {
        sum += t.r_change.value_or(0.0);
        CHECK(sum == doctest::Approx(t.r_after).epsilon(1e-14));
        CHECK(t.u_after * t.r_after == doctest::Approx(1.0));
        CHECK_FALSE(t.words.empty());
    }
    CHECK(w->stair.front().r_after == w->label_r);
    CHECK(tread(*w, "fasteners").r_after == w->clear_r);
    CHECK(tread(*w, "plates and headers").r_after == w->face_r);
    CHECK(w->stair.back().name == "junctions");
    CHECK_FALSE(w->stair.back().r_change);
    CHECK_FALSE(w->built_r);
}

TEST_CASE("boards, air spaces and films go up, studs, furring and plates down") {
    Assembly a = inner_cavity();
    a.layers.insert(a.layers.begin() + 1, air(AirKind::still, "3/4 in"));
    const auto w = worth(a, cold);
    REQUIRE(w);
    for (const char* up : {"boards", "air spaces", "films"}) CHECK(*tread(*w, up).r_change > 0.0);
    for (const char* down : {"studs", "furring", "plates and headers"})
        CHECK(*tread(*w, down).r_change < 0.0);
}

TEST_CASE(
    "lower limit <= clear-field R <= upper limit, and parallel path never resists less than isothermal "
    "planes") {
    const auto w = worth(inner_cavity(), cold);
    CHECK(w->clear_dimensions == 3);
    CHECK(w->lower_r <= w->clear_r * (1.0 + w->clear_error));
    CHECK(w->clear_r <= w->upper_r * (1.0 + w->clear_error));
    CHECK(w->isothermal_r <= w->parallel_r);
    CHECK(w->face_r < w->clear_r);
    CHECK(w->clear_r < w->label_r * 1.2);
}

TEST_CASE("more insulation, more R") {
    double last = 0.0;
    for (const char* thickness : {"3 1/2 in", "5 1/2 in", "7 1/4 in", "9 1/4 in", "11 1/4 in"}) {
        const auto w =
            worth(wall({board("gypsum board", "1/2 in"),
                        framed(board("glass wool batt", thickness), lumber("1 1/2 in", thickness, "16 in")),
                        board("osb", "7/16 in")}),
                  cold);
        REQUIRE(w);
        CHECK(w->clear_r > last);
        last = w->clear_r;
    }
}

TEST_CASE("a layer outside a ventilated cavity does not count") {
    Assembly more = inner_cavity();
    more.layers.push_back(board("eps", "2 in"));
    const auto one = worth(inner_cavity(), cold), two = worth(more, cold);
    CHECK(one->clear_r == two->clear_r);
    CHECK(one->code_u == two->code_u);
    CHECK(two->layers.back().resistance == 0.0);
    CHECK(two->layers.back().note == "not counted: outside a ventilated layer");
    // It is on the label, and the air-space tread takes it away again.
    const double outside = two->label_r - one->label_r;
    CHECK(outside > 1.0);
    CHECK(*tread(*two, "air spaces").r_change == doctest::Approx(-outside));
    CHECK(two->bay_temperatures[two->bay_temperatures.size() - 2] ==
          doctest::Approx(cold.outside).epsilon(1e-12));
}

TEST_CASE("behind a ventilated layer the inside film stands outside") {
    const auto w = worth(inner_cavity(), cold);
    CHECK(*tread(*w, "films").r_change == doctest::Approx(0.26));
    Assembly closed = inner_cavity();
    closed.layers.resize(4);
    CHECK(*tread(*worth(closed, cold), "films").r_change == doctest::Approx(0.17));
}

TEST_CASE("a slightly ventilated layer lies between a still and a ventilated one") {
    const auto with = [](AirKind kind) {
        return worth(wall({board("stone wool board", "4 in"), air(kind, "1 in"), board("brick", "3 1/2 in")}),
                     cold)
            ->clear_r;
    };
    const double still = with(AirKind::still), slight = with(AirKind::slightly_ventilated),
                 open = with(AirKind::ventilated);
    CHECK(open < slight);
    CHECK(slight < still);
    // Openings of 1000 mm2/m: the mean of both totals, up to the effect of temperature on conductivity.
    CHECK(slight == doctest::Approx(0.5 * (still + open)).epsilon(0.002));
}

TEST_CASE(
    "winter conductivity of wool beats its test at 24 degC; heat that flows in through a warm wall does "
    "not") {
    Assembly bare = wall({board("stone wool board", "4 in")});
    const auto winter = worth(bare, cold);
    const auto& m = of("stone wool board");
    CHECK(winter->layers[0].conductivity < m.conductivity);
    CHECK(winter->layers[0].conductivity ==
          doctest::Approx(material::conductivity(m, winter->layers[0].mean_temperature)));
    const auto hot = worth(bare, {.inside = 297.15, .outside = 318.15});
    CHECK(hot->layers[0].conductivity > m.conductivity);
}

TEST_CASE("temperatures along the bay fall from inside to outside air in proportion to resistance") {
    const auto w = worth(inner_cavity(), cold);
    const auto& t = w->bay_temperatures;
    REQUIRE(t.size() == w->layers.size() + 3);
    CHECK(t.front() == cold.inside);
    CHECK(t.back() == cold.outside);
    CHECK(std::is_sorted(t.rbegin(), t.rend()));
    const double flux = (t[0] - t[1]) / 0.13;
    for (std::size_t i = 0; i < 4; ++i)
        CHECK((t[i + 1] - t[i + 2]) / w->layers[i].resistance == doctest::Approx(flux));
}

TEST_CASE("films follow the tilt of the outer normal") {
    Assembly a = wall({board("eps", "4 in")});
    const auto films = [&](double tilt) {
        a.tilt = tilt;
        return *tread(*worth(a, cold), "films").r_change;
    };
    CHECK(films(0.0) == doctest::Approx(0.14));
    CHECK(films(std::numbers::pi / 2) == doctest::Approx(0.17));
    CHECK(films(std::numbers::pi) == doctest::Approx(0.21));
    a.part = Part::ceiling;  // under a ventilated attic: still air on both sides
    CHECK(films(0.0) == doctest::Approx(0.20));
}

TEST_CASE("package R stated in the file wins over the catalogue, in label, clear-field and code figures") {
    Assembly a = wall({board("stone wool batt", "5 1/2 in")});
    a.layers[0].label_r = units::parse("R-10", units::thermal_resistance).value();
    const auto w = worth(a, cold);
    CHECK(units::ip_r(w->label_r) == doctest::Approx(10));
    CHECK(units::ip_u(w->code_u) == doctest::Approx(1 / 10.85).epsilon(1e-9));
    CHECK(units::ip_r(w->layers[0].resistance) > 10);  // colder than 24 degC
    CHECK(units::ip_r(w->layers[0].resistance) < 11.5);
}

TEST_CASE("members that stand in the walls take the place of the published fraction, which stays beside it") {
    const auto a =
        wall({framed(board("stone wool batt", "5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "24 in"))});
    const double module = 1.5 / 24.0;
    const auto with = [&](double whole, double field) {
        framing::FramingFactor placed{.net_area = 100.0, .whole = whole, .field = field};
        const auto w = worth(a, cold, {}, &placed);
        REQUIRE_MESSAGE(w, what_of(w));
        return *w;
    };
    const Worth usual = *worth(a, cold);
    CHECK(usual.field_u == usual.clear_u);
    CHECK_FALSE(usual.field_share);
    CHECK_FALSE(usual.code_u_published);
    // As much wood as is published: the same face and the same code U.
    const Worth same = with(0.22, module);
    CHECK(same.face_r == doctest::Approx(usual.face_r).epsilon(1e-12));
    CHECK(same.code_u == doctest::Approx(usual.code_u).epsilon(1e-12));
    CHECK(same.field_u == doctest::Approx(usual.clear_u).epsilon(1e-12));
    CHECK(same.published_fraction == doctest::Approx(0.22));
    const Worth heavy = with(0.30, module + 0.02), light = with(0.15, module - 0.02);
    CHECK(heavy.framing_fraction == 0.30);
    CHECK(heavy.face_r < usual.face_r);
    CHECK(light.face_r > usual.face_r);
    CHECK(heavy.code_u > usual.code_u);
    CHECK(heavy.code_u_published == doctest::Approx(usual.code_u).epsilon(1e-12));
    CHECK(heavy.clear_r == usual.clear_r);
    CHECK(heavy.field_u > usual.clear_u);
    CHECK(light.field_u < usual.clear_u);
    CHECK(light.field_u - usual.clear_u == doctest::Approx(usual.clear_u - heavy.field_u).epsilon(1e-12));
    // A spacing that nobody has published a fraction for.
    const auto dense =
        wall({framed(board("stone wool batt", "5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "12 in"))});
    framing::FramingFactor placed{.net_area = 100.0, .whole = 0.32, .field = 0.13};
    const auto counted = worth(dense, cold, {}, &placed);
    REQUIRE(counted);
    CHECK(counted->framing_fraction == 0.32);
    CHECK_FALSE(counted->published_fraction);
    CHECK(counted->face_r < counted->clear_r);
}

TEST_CASE("plates and headers follow the published fraction; without one the face says so") {
    const auto at = [](const char* spacing) {
        return *worth(
            wall({framed(board("stone wool batt", "5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", spacing))}),
            cold);
    };
    CHECK(at("16 in").framing_fraction == doctest::Approx(0.25));
    CHECK(at("24 in").framing_fraction == doctest::Approx(0.22));
    CHECK(at("16 in").framing_origin.evidence == Evidence::seen);
    // 25 % wood is what studs of 4 in at 16 in would be.
    const auto wide = worth(
        wall({framed(board("stone wool batt", "5 1/2 in"), lumber("4 in", "5 1/2 in", "16 in"))}), cold);
    // The cell's R times the ratio of the combined values.
    CHECK(at("16 in").face_r / at("16 in").clear_r ==
          doctest::Approx(wide->iso_clear_r / at("16 in").iso_clear_r).epsilon(1e-12));
    const Worth dense = at("12 in");
    CHECK(dense.framing_fraction == 0.0);
    CHECK(dense.face_r == dense.clear_r);
    CHECK_FALSE(tread(dense, "plates and headers").r_change);
    CHECK(std::any_of(dense.notes.begin(), dense.notes.end(), [](const std::string& n) {
        return n.find("no published framing fraction") != std::string::npos;
    }));
}

TEST_CASE("an I-joist wall is better than one of solid studs of its depth, a double stud wall better still") {
    const auto solid = worth(wall({framed(board("dense-packed cellulose", "11 7/8 in"),
                                          lumber("2 1/2 in", "11 7/8 in", "24 in"))}),
                             cold);
    Framing joist = lumber("2 1/2 in", "11 7/8 in", "24 in");
    joist.kind = Framing::Kind::i_joist;
    joist.flange_depth = length("1 1/2 in");
    joist.web_thickness = length("3/8 in");
    const auto with_web = worth(wall({framed(board("dense-packed cellulose", "11 7/8 in"), joist)}), cold);
    const auto rows = worth(
        wall({framed(board("dense-packed cellulose", "3 1/2 in"), lumber("1 1/2 in", "3 1/2 in", "24 in")),
              board("dense-packed cellulose", "4 7/8 in"),
              framed(board("dense-packed cellulose", "3 1/2 in"), lumber("1 1/2 in", "3 1/2 in", "24 in"))}),
        cold);
    REQUIRE(solid);
    REQUIRE(with_web);
    REQUIRE(rows);
    CHECK(solid->clear_r < with_web->clear_r);
    CHECK(with_web->clear_r < rows->clear_r);
}

TEST_CASE(
    "ISO 6946 counts screws through outside insulation when they cost 3 % or more, else a note says what "
    "they "
    "would cost") {
    Assembly a = wall({board("osb", "7/16 in"), board("eps", "6 in")});
    a.layers[1].fasteners =
        assembly::Fasteners{.per_area = 1.0, .cross_section = 1e-5, .conductivity = 50.0, .origin = {}};
    const auto few = worth(a, cold);
    CHECK(few->correction_u == 0.0);
    CHECK(std::any_of(few->notes.begin(), few->notes.end(),
                      [](const auto& n) { return n.find("below 3 %") != std::string::npos; }));
    a.layers[1].fasteners->per_area = 8.0;
    const auto many = worth(a, cold);
    CHECK(many->correction_u > 0.03 / few->iso_clear_r);
    CHECK(1.0 / many->iso_clear_r == doctest::Approx(1.0 / few->iso_clear_r + many->correction_u));
}

TEST_CASE("screws cost n chi on top of the cell, with a note that has both figures; air voids cost in full") {
    Assembly a = wall({framed(board("stone wool batt", "5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "24 in")),
                       board("osb", "7/16 in"), board("eps", "6 in")});
    const auto without = worth(a, cold);
    a.layers[2].fasteners =
        assembly::Fasteners{.per_area = 4.0, .cross_section = 2e-5, .conductivity = 50.0, .origin = {}};
    const auto with = worth(a, cold);
    REQUIRE(with);
    REQUIRE(with->fasteners.size() == 1);
    CHECK(with->fasteners[0].chi > 0.0);
    CHECK(with->fastener_u == doctest::Approx(4.0 * with->fasteners[0].chi));
    CHECK(with->cell_u == without->cell_u);
    CHECK(with->clear_u == doctest::Approx(with->cell_u + with->fastener_u));
    CHECK(tread(*with, "fasteners").r_change.value() < 0.0);
    CHECK(std::any_of(with->notes.begin(), with->notes.end(),
                      [](const auto& n) { return n.find("has chi") != std::string::npos; }));
    a.layers[2].void_level = 1;
    const auto loose = worth(a, cold);
    CHECK(loose->void_u > 0.0);
    CHECK(loose->clear_u == doctest::Approx(with->clear_u + loose->void_u));
}

TEST_CASE("where no cell can be made the ISO 6946 value stands in, and method and notes say so") {
    Assembly a = inner_cavity();
    a.layers[1].framing->run = Run::vertical;
    a.layers[1].framing->spacing = length("611 mm");
    const auto w = worth(a, cold);
    REQUIRE(w);
    CHECK(w->clear_dimensions == 0);
    CHECK(w->clear_r == w->iso_clear_r);
    CHECK(w->clear_method.find("no common period") != std::string::npos);
    CHECK(std::any_of(w->notes.begin(), w->notes.end(),
                      [](const auto& n) { return n.find("could not be solved") != std::string::npos; }));
    CHECK(worth(inner_cavity(), cold)->clear_dimensions == 3);
}

TEST_CASE("a stop is a stop, not an ISO 6946 value") {
    StopSource stop;
    stop.stop();
    const auto w = worth(inner_cavity(), cold, {.stop = stop.token()});
    REQUIRE_FALSE(w);
    CHECK(w.error().code == Code::stopped);
}

TEST_CASE("steel in place of studs takes the method to its limit, and a note says so") {
    Assembly a = inner_cavity();
    material::Material steel = of("spruce");
    steel.conductivity = 50.0;
    a.layers[2].framing->material = &steel;
    a.layers[2].framing->width = length("2 mm");
    const auto w = worth(a, cold);
    REQUIRE(w);
    CHECK(w->upper_r / w->lower_r > 1.5);
    CHECK(w->notes.front().find("at its limit") != std::string::npos);
}

TEST_CASE("a slab is its layers and the film inside: no outer film, no code U, and it says so") {
    Assembly slab = wall({board("eps", "4 in")});
    slab.part = Part::slab;
    slab.tilt = 3.14159265358979;
    const auto w = worth(slab, cold);
    REQUIRE(w);
    const double k = w->layers[0].conductivity;
    CHECK(w->clear_r == doctest::Approx(0.1016 / k + 0.17).epsilon(1e-9));  // ISO 6946: Rsi 0.17, flow down
    CHECK(w->code_u == 0.0);
    CHECK(std::any_of(w->notes.begin(), w->notes.end(),
                      [](const auto& n) { return n.find("ISO 13370") != std::string::npos; }));
    slab.part = Part::basement_wall;
    slab.tilt = 1.5707963267948966;
    CHECK(worth(slab, cold)->clear_r ==
          doctest::Approx(0.1016 / worth(slab, cold)->layers[0].conductivity + 0.13).epsilon(1e-9));
}

TEST_CASE("what has no layers or cannot be is refused with a reason") {
    CHECK(worth(wall({}), cold).error().code == Code::missing);
    Assembly deep = inner_cavity();
    deep.layers[2].framing->depth = length("7 1/4 in");
    CHECK(worth(deep, cold).error().what == "5 1/2 in is 7 1/4 in deep, its layer only 5 1/2 in");
    Assembly tight = inner_cavity();
    tight.layers[2].framing->spacing = length("1 1/2 in");
    CHECK(worth(tight, cold).error().code == Code::out_of_range);
    CHECK(worth(wall({air(AirKind::still, "2 ft")}), cold).error().code == Code::out_of_range);
    CHECK(worth(inner_cavity(), {.inside = 294.15, .outside = -10.0}).error().code == Code::out_of_range);
}

TEST_CASE("every figure has a derivation whose value is the figure, every input an Origin") {
    const Assembly a = inner_cavity();
    const auto w = worth(a, cold);
    const auto all = derive(a, cold, *w);
    const auto value = [&](const char* path) {
        const auto found =
            std::find_if(all.begin(), all.end(), [&](const Derivation& d) { return d.path == path; });
        REQUIRE_MESSAGE(found != all.end(), path);
        CHECK_FALSE(found->equation.empty());
        CHECK_FALSE(found->terms.empty());
        return found->value;
    };
    CHECK(value("label_r") == w->label_r);
    CHECK(value("upper_r") == w->upper_r);
    CHECK(value("lower_r") == w->lower_r);
    CHECK(value("clear_r") == w->clear_r);
    CHECK(value("cell_u") == w->cell_u);
    CHECK(value("iso_clear_r") == w->iso_clear_r);
    CHECK(value("clear_u") == w->clear_u);
    CHECK(value("face_r") == w->face_r);
    CHECK(value("code_u") == w->code_u);
    CHECK(value("parallel_r") == w->parallel_r);
    CHECK(value("isothermal_r") == w->isothermal_r);
    CHECK(value("framing_fraction") == w->framing_fraction);
    CHECK(value("stair/plates_and_headers") == *tread(*w, "plates and headers").r_change);
    CHECK(value("layers/3") == w->layers[2].resistance);
}

TEST_CASE("a wall without any insulation still has a stair, from R-0") {
    const auto w = worth(wall({board("osb", "7/16 in")}), cold);
    REQUIRE(w);
    CHECK(w->label_r == 0.0);
    CHECK(w->stair.front().words == "No layer is sold as insulation: the packages say R-0");
    CHECK(tread(*w, "studs").words == "There are no studs");
    CHECK(w->clear_r > 0.2);
}

TEST_CASE(
    "a whole assembly with conductivities that do not move gives the reference wall: 3.485, 3.312, 3.398") {
    // reference iso6946-combined-timber, computed independently; resistances of its layers as conductivities
    std::vector<material::Material> flat(5);
    const std::array conductivity{0.25, 0.038, 0.13, 0.05 / 0.18, 0.1 / 0.1325};
    for (std::size_t i = 0; i < flat.size(); ++i) flat[i].conductivity = conductivity[i];
    const auto layer = [&](std::size_t i, const char* thickness) {
        Layer out;
        out.material = &flat[i];
        out.thickness = length(thickness);
        return out;
    };
    Framing studs = lumber("90 mm", "140 mm", "600 mm");
    studs.material = &flat[2];
    const auto w = worth(wall({layer(0, "12.5 mm"), framed(layer(1, "140 mm"), studs), layer(2, "10 mm"),
                               layer(3, "50 mm"), layer(4, "100 mm")}),
                         cold);
    REQUIRE(w);
    CHECK(std::abs(w->upper_r - 3.485) < 0.002);
    CHECK(std::abs(w->lower_r - 3.312) < 0.002);
    CHECK(std::abs(w->iso_clear_r - 3.398) < 0.002);
    CHECK(std::abs(1.0 / w->iso_clear_r - 0.294) < 0.001);
    CHECK(w->clear_r > 3.312);
    CHECK(w->clear_r < 3.485);
}

TEST_CASE("a truss wall loses less than solid studs; more web, more loss") {
    const auto truss = [](double web_share) {
        Framing f = lumber("1 1/2 in", "12 in", "24 in");
        f.kind = Framing::Kind::truss;
        f.flange_depth = length("3 1/2 in");
        f.web_thickness = length("1 1/2 in");
        f.web_share = web_share;
        return worth(wall({framed(board("dense-packed cellulose", "12 in"), f)}), cold)->clear_r;
    };
    const auto solid = worth(
        wall({framed(board("dense-packed cellulose", "12 in"), lumber("1 1/2 in", "12 in", "24 in"))}), cold);
    CHECK(truss(0.1) > truss(0.3));
    CHECK(truss(0.3) > solid->clear_r);
    CHECK(truss(0.0) > truss(0.1));
}

TEST_CASE("battens of a rainscreen do not make a wall framed") {
    const auto w =
        worth(wall({board("eps", "8 in"),
                    framed(air(AirKind::ventilated, "2 1/2 in"), lumber("1 1/2 in", "2 1/2 in", "24 in")),
                    board("spruce siding", "3/4 in")}),
              cold);
    REQUIRE(w);
    CHECK(w->framing_fraction == 0.0);
    CHECK(w->face_r == w->clear_r);
    CHECK(*tread(*w, "studs").r_change == 0.0);
}
