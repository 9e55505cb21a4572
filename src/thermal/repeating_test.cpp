#include "thermal/repeating.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "base/what.h"
#include "thermal/made_up.h"

using namespace warmside;
using namespace warmside::thermal;
using namespace warmside::thermal::made_up;

namespace {

const conduction::SteadyOptions one_thread{.tolerance = 1e-4, .threads = 1};

States winter(const Assembly& a) {
    auto states = winter_states(a, cold);
    REQUIRE(states);
    return std::move(*states);
}

CellValue solved(const Assembly& a, const States& states, Include include = Include::all) {
    const auto value = cell_u(a, states, include, one_thread);
    REQUIRE_MESSAGE(value, what_of(value));
    return *value;
}

// Both limits bracket the conduction of any cell: planes without sideways flow can only add resistance,
// isothermal planes only take it away.
void bracketed(const Assembly& a, const States& states) {
    const CellValue value = solved(a, states);
    const auto both = limits(cell_of(a, states));
    REQUIRE(both);
    CHECK(1.0 / value.u <= both->upper * (1.0 + value.error));
    CHECK(1.0 / value.u >= both->lower * (1.0 - value.error));
}

double through(const RepeatingCell& cell) {
    const auto s = conduction::steady(cell.model, one_thread);
    REQUIRE_MESSAGE(s, what_of(s));
    return s->between(0, 1) / cell.area;
}

Layer cellulose(const char* thickness) {
    return board("dense-packed cellulose", thickness);
}

// Two rows of studs, the outer one `offset` along.
Assembly double_stud(const char* offset) {
    Framing outer = lumber("1 1/2 in", "3 1/2 in", "24 in");
    outer.offset = length(offset);
    return wall({framed(cellulose("3 1/2 in"), lumber("1 1/2 in", "3 1/2 in", "24 in")), cellulose("2 in"),
                 framed(cellulose("3 1/2 in"), outer)});
}

}  // namespace

TEST_CASE("without members the layers add up, films included, and nothing is solved") {
    Assembly a = inner_cavity();
    const States states = winter(a);
    const CellValue none = solved(a, states, Include::fills);
    CHECK(none.cells == 0);
    CHECK(none.dimensions == 1);
    CHECK(1.0 / none.u == doctest::Approx(bay_resistance(cell_of(a, states))).epsilon(1e-12));
}

TEST_CASE("members as good as their fill: the solved cell is the layer sum to 1e-6") {
    Assembly a = inner_cavity();
    const States states = winter(a);
    auto cell = repeating_cell(a, states, Include::all);
    REQUIRE(cell);
    CHECK(cell->model.geometry == conduction::Geometry::solid);
    // Each member takes the conductivity of the fill laid before it.
    double fill = 0.0;
    for (auto& region : cell->model.regions) {
        if (region.environment) continue;
        if (region.over) region.conductivity = fill;
        fill = region.conductivity;
    }
    CHECK(through(*cell) == doctest::Approx(1.0 / bay_resistance(cell_of(a, states))).epsilon(1e-6));
}

TEST_CASE("studs alone are a 2D cell of half a spacing, crossing furring a 3D cell of half by half") {
    const Assembly a = inner_cavity();
    const States states = winter(a);
    const auto studs = repeating_cell(a, states, Include::structural);
    REQUIRE(studs);
    CHECK(studs->model.geometry == conduction::Geometry::plane);
    CHECK(studs->area == doctest::Approx(0.3048));
    const auto all = repeating_cell(a, states, Include::all);
    CHECK(all->model.geometry == conduction::Geometry::solid);
    CHECK(all->area == doctest::Approx(0.3048 * 0.3048));
    CHECK(solved(a, states, Include::structural).dimensions == 2);
    CHECK(solved(a, states).dimensions == 3);
}

TEST_CASE("members of one direction: it makes no difference which") {
    Assembly a = wall(
        {framed(cellulose("5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "16 in")), board("osb", "7/16 in")});
    const States states = winter(a);
    const double up = solved(a, states).u;
    a.layers[0].framing->run = Run::horizontal;
    CHECK(solved(a, states).u == up);
}

TEST_CASE("seen from the other side the wall conducts the same") {
    Assembly a = wall({board("gypsum board", "1/2 in"),
                       framed(cellulose("5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "16 in")),
                       board("osb", "7/16 in"), board("eps", "2 in")});
    States states = winter(a);
    const double forth = solved(a, states).u;
    std::reverse(a.layers.begin(), a.layers.end());
    std::reverse(states.layers.begin(), states.layers.end());
    std::swap(states.films.inside, states.films.outside);
    CHECK(solved(a, states).u == doctest::Approx(forth).epsilon(2e-4));
}

TEST_CASE("half a spacing conducts as a whole one does") {
    const Assembly a = wall({board("gypsum board", "1/2 in"),
                             framed(cellulose("5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "16 in")),
                             board("osb", "7/16 in")});
    const States states = winter(a);
    const auto half = repeating_cell(a, states, Include::all);
    REQUIRE(half);
    // The same cell with its mirror image beside it: shapes from x = 0 reach to -x, others come twice.
    RepeatingCell whole = *half;
    for (auto& region : whole.model.regions) {
        for (auto& corner : region.shape.outline) {
            if (corner.x == 0.0) {
                for (auto& other : region.shape.outline) corner.x = std::min(corner.x, -other.x);
            }
        }
    }
    whole.area = 2.0 * half->area;
    CHECK(through(whole) == doctest::Approx(through(*half)).epsilon(2e-4));
}

TEST_CASE("the limits bracket every cell: studs, crossing furring, joists, trusses, staggered rows") {
    bracketed(inner_cavity(), winter(inner_cavity()));
    bracketed(double_stud("0 in"), winter(double_stud("0 in")));
    bracketed(double_stud("12 in"), winter(double_stud("12 in")));
    bracketed(double_stud("8 in"), winter(double_stud("8 in")));
    for (const auto kind : {Framing::Kind::i_joist, Framing::Kind::truss}) {
        Framing f = lumber("2 1/2 in", "11 7/8 in", "24 in");
        f.kind = kind;
        f.flange_depth = length("1 1/2 in");
        f.web_thickness = length("1 1/2 in");
        f.web_share = kind == Framing::Kind::truss ? 0.2 : 1.0;
        const Assembly a = wall({board("gypsum board", "1/2 in"), framed(cellulose("14 in"), f)});
        bracketed(a, winter(a));
    }
}

TEST_CASE("ASHRAE example 3: parallel path and isothermal planes bracket the cell") {
    // Layers of proof/thermal/framed_walls.toml, example 3 (seen), as conductivities; the boards are as thick
    // as we take them, the text gives resistances only. 90 mm studs of 0.77 m2 K/W between bays of 2.3; a
    // share of 25 % as members of 100 mm at 400 mm.
    std::array<material::Material, 5> m;
    const std::array thickness{"13 mm", "90 mm", "25 mm", "12 mm"};
    const std::array resistance{0.08, 2.3, 0.7, 0.11};
    std::vector<Layer> layers;
    for (std::size_t i = 0; i < thickness.size(); ++i) {
        Layer layer;
        layer.material = &m[i];
        layer.thickness = length(thickness[i]);
        m[i].conductivity = layer.thickness.metres() / resistance[i];
        layers.push_back(layer);
    }
    m[4].conductivity = 0.09 / 0.77;
    Framing studs = lumber("100 mm", "90 mm", "400 mm");
    studs.material = &m[4];
    layers[1].framing = studs;
    const Assembly a = wall(layers);
    States states = winter(a);
    states.films = {.inside = 0.12, .outside = 0.03};
    const auto both = limits(cell_of(a, states));
    CHECK(std::abs(1.0 / both->upper - 0.36) < 0.005);  // printed: 0.36 and 0.388
    CHECK(std::abs(1.0 / both->lower - 0.388) < 0.002);
    const double u = solved(a, states).u;
    CHECK(u > 0.36);
    CHECK(u < 0.388);
}

TEST_CASE("crossing furring: a higher framed share always costs, and no share costs nothing") {
    const auto u = [](const char* width) {
        Assembly a = inner_cavity();
        a.layers[1].framing->width = length(width);
        return solved(a, winter(a)).u;
    };
    const Assembly a = inner_cavity();
    const double studs = solved(a, winter(a), Include::structural).u;
    const double hair = u("0.1 mm");
    CHECK(hair > studs * (1.0 - 2e-4));
    CHECK(hair == doctest::Approx(studs).epsilon(5e-4));
    CHECK(u("3 in") > u("1 1/2 in"));
    CHECK(u("1 1/2 in") > hair);
}

TEST_CASE("crossing furring that fills its layer is a layer of wood") {
    Assembly a = inner_cavity();
    a.layers[1].framing->width = length("23.999 in");
    Assembly solid = a;
    solid.layers[1].framing.reset();
    solid.layers[1].material = &of("spruce");
    States states = winter(a);
    const LayerState& layer = states.layers[1];
    const double wood = material::conductivity(of("spruce"), layer.member_temperature);
    const double framed_u = solved(a, states).u;
    states.layers[1].fill = a.layers[1].thickness.metres() / wood;
    CHECK(framed_u == doctest::Approx(solved(solid, states).u).epsilon(5e-4));
}

TEST_CASE("where members run crosswise their offset does not matter") {
    Assembly a = inner_cavity();
    const States states = winter(a);
    const double u = solved(a, states).u;
    a.layers[1].framing->offset = length("7 in");
    CHECK(solved(a, states).u == u);
}

TEST_CASE("rows set apart resist more than rows in line; a cut that is no mirror costs little") {
    const double in_line = solved(double_stud("0 in"), winter(double_stud("0 in"))).u;
    const double apart = solved(double_stud("12 in"), winter(double_stud("12 in"))).u;
    CHECK(apart < in_line);
    const Assembly a = double_stud("8 in");
    const States states = winter(a);
    CHECK_FALSE(solved(a, states).bound);
    // The loss of a cut falls with the length between cuts; the bound of either solve is 1e-5.
    const conduction::SteadyOptions fine{.tolerance = 1e-5, .threads = 1};
    const auto cut = [&](int periods) {
        const auto cell = repeating_cell(a, states, Include::all, periods);
        REQUIRE(cell);
        const auto s = conduction::steady(cell->model, fine);
        REQUIRE_MESSAGE(s, what_of(s));
        return s->between(0, 1) / cell->area;
    };
    const double one = cut(1), two = cut(2);
    CHECK(two >= one * (1.0 - 2e-5));
    CHECK(two == doctest::Approx(one).epsilon(1e-4));
}

TEST_CASE("a layer that counts by half has half the resistance, framing too") {
    Assembly a = wall({framed(cellulose("4 in"), lumber("1 1/2 in", "4 in", "16 in"))});
    States states = winter(a);
    states.layers[0].counted = 0.5;
    const double half = solved(a, states).u;
    states.layers[0].counted = 1.0;
    states.layers[0].fill *= 0.5;
    material::Material twice = of("spruce");
    twice.conductivity *= 2.0;
    a.layers[0].framing->material = &twice;
    CHECK(half == doctest::Approx(solved(a, states).u).epsilon(1e-9));
}

TEST_CASE("no common period: refused, so that the caller falls back") {
    Assembly a = inner_cavity();
    a.layers[1].framing->run = Run::vertical;
    a.layers[1].framing->spacing = length("611 mm");
    CHECK(cell_u(a, winter(a), Include::all, one_thread).error().code == Code::unsupported);
}

// ------------------------------------------------------------------------------------------ fasteners

namespace {

Assembly screwed(double per_area, double conductivity) {
    Assembly a = wall({board("eps", "6 in")});
    a.layers[0].fasteners = assembly::Fasteners{
        .per_area = per_area, .cross_section = 2e-5, .conductivity = conductivity, .origin = {}};
    return a;
}

}  // namespace

TEST_CASE("between isothermal faces chi is exact: (k_screw - k) A / d") {
    // No film: both faces at one temperature, the screw goes from one to the other.
    const Assembly a = screwed(4.0, 50.0);
    States states = winter(a);
    states.films = {0.0, 0.0};
    const double k = a.layers[0].thickness.metres() / states.layers[0].fill;
    const auto chi = fastener_chi(a, states, 0, {.tolerance = 2e-4, .threads = 1});
    REQUIRE_MESSAGE(chi, what_of(chi));
    CHECK(chi->chi == doctest::Approx((50.0 - k) * 2e-5 / 0.1524).epsilon(1e-3));
}

TEST_CASE("films and boards choke a screw; it never costs more than its whole way in parallel") {
    Assembly a = screwed(4.0, 50.0);
    const auto with_films = fastener_chi(a, winter(a), 0, {.tolerance = 2e-4, .threads = 1});
    REQUIRE_MESSAGE(with_films, what_of(with_films));
    CHECK(with_films->chi > 0.0);
    CHECK(with_films->chi < 50.0 * 2e-5 / 0.1524);
}

TEST_CASE("a screw as good as its layer costs nothing") {
    Assembly a = screwed(4.0, 1.0);
    const States states = winter(a);
    a.layers[0].fasteners->conductivity = a.layers[0].thickness.metres() / states.layers[0].fill;
    CHECK(std::abs(fastener_chi(a, states, 0, {.threads = 1})->chi) < 1e-6);
}

TEST_CASE("the screw stands 38 mm in the stud behind, and passes the batten before it") {
    Assembly a = wall({board("gypsum board", "1/2 in"),
                       framed(board("stone wool batt", "5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "24 in")),
                       board("osb", "7/16 in"), board("stone wool board", "2 in"),
                       framed(air(AirKind::ventilated, "3/4 in"), lumber("2 1/2 in", "3/4 in", "24 in")),
                       board("spruce siding", "3/4 in")});
    a.layers[3].fasteners =
        assembly::Fasteners{.per_area = 4.0, .cross_section = 2e-5, .conductivity = 50.0, .origin = {}};
    const States states = winter(a);
    const auto cell = fastener_cell(a, states, 3, true);
    REQUIRE(cell);
    const auto& screw = cell->model.regions.back();
    CHECK(screw.name == "fastener");
    double low = 1.0, high = 0.0, radius = 0.0;
    for (const auto& corner : screw.shape.outline) {
        low = std::min(low, corner.y);
        high = std::max(high, corner.y);
        radius = std::max(radius, corner.x);
    }
    const double stud = length("6 in").metres();  // outer face of the studs
    CHECK(low == doctest::Approx(stud - 0.0381));
    CHECK(high == doctest::Approx(stud + length("3 3/16 in").metres()));  // osb, wool, batten
    CHECK(radius == doctest::Approx(std::sqrt(2e-5 / std::numbers::pi)));
    CHECK(fastener_cell(a, states, 2, true).error().code == Code::out_of_range);
    const auto chi = fastener_chi(a, states, 3, {.tolerance = 2e-4, .threads = 1});
    REQUIRE_MESSAGE(chi, what_of(chi));
    // A batten helps the screw's head find heat: without it chi is less.
    Assembly bare = a;
    bare.layers[4].framing.reset();
    CHECK(fastener_chi(bare, states, 3, {.tolerance = 2e-4, .threads = 1})->chi < chi->chi);
}
