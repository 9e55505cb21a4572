#include "house/carbon.h"

#include <cmath>
#include <doctest/doctest.h>

#include "base/what.h"

namespace warmside::house {

namespace {

const material::Material& of(const char* name) {
    const auto* found = material::built_in().material(name);
    REQUIRE_MESSAGE(found, name);
    return *found;
}

assembly::Layer board(const char* name, const char* thickness) {
    assembly::Layer layer;
    layer.material = &of(name);
    layer.thickness = *units::parse_exact(thickness);
    return layer;
}

assembly::Assembly wall() {
    assembly::Assembly out;
    out.name = "w1";
    out.layers.push_back(board("gypsum board", "12.5 mm"));
    assembly::Layer poly;
    poly.kind = assembly::Layer::Kind::membrane;
    poly.membrane = material::built_in().membrane("polyethylene");
    out.layers.push_back(poly);
    auto stud = board("glass wool batt", "140 mm");
    assembly::Framing framing;
    framing.width = *units::parse_exact("38 mm");
    framing.depth = *units::parse_exact("140 mm");
    framing.spacing = *units::parse_exact("380 mm");
    framing.material = &of("spruce-pine-fir lumber");
    stud.framing = framing;
    out.layers.push_back(stud);
    out.layers.push_back(board("osb", "10 mm"));
    return out;
}

}  // namespace

TEST_CASE("the table is read, and each of its materials is in the catalogue") {
    const auto& table = carbon_table();
    REQUIRE_MESSAGE(table, what_of(table));
    CHECK(table->factors.size() == 5);
    CHECK(table->sheets[0].mass.at("polyethylene") == doctest::Approx(0.138));
}

TEST_CASE("a wall's carbon is the sum of its layers, members apart from their fill") {
    const auto amounts = amounts_of(wall(), 10.0);
    REQUIRE(amounts);
    const auto done = embodied(*amounts);
    REQUIRE_MESSAGE(done, what_of(done));
    const double stud = 10.0 * 0.14 * 0.1, osb = 10.0 * 0.01;
    const double by_hand = 10.0 * 0.0125 * of("gypsum board").density * 0.243 + 10.0 * 0.138 * 1.984 +
                           10.0 * 0.14 * 0.9 * of("glass wool batt").density * 0.419 + stud * 63.12 +
                           osb * 242.58;
    CHECK(done->carbon == doctest::Approx(by_hand));
    CHECK(done->stored ==
          doctest::Approx((stud * of("spruce-pine-fir lumber").density + osb * of("osb").density) * 0.5 *
                          44.0 / 12.0));
    CHECK(done->missing.empty());
    CHECK(done->evidence == "memory");
}

TEST_CASE("plates and headers take the place of fill in the bearing layer") {
    const auto plain = amounts_of(wall(), 1.0), more = amounts_of(wall(), 1.0, 0.08);
    REQUIRE(plain);
    REQUIRE(more);
    const auto volume = [](const std::vector<Amount>& list, const char* name) {
        for (const auto& each : list)
            if (each.material && each.material->name == name) return each.volume;
        return 0.0;
    };
    CHECK(volume(*plain, "spruce-pine-fir lumber") == doctest::Approx(0.014));
    CHECK(volume(*more, "spruce-pine-fir lumber") == doctest::Approx(0.14 * 0.18));
    CHECK(volume(*more, "glass wool batt") == doctest::Approx(0.14 * 0.82));
    CHECK(volume(*more, "osb") == doctest::Approx(0.01));
}

TEST_CASE("a material without a factor is named once and not counted, until the user enters one") {
    auto rung = wall();
    rung.layers.push_back(board("stone wool board", "100 mm"));
    rung.layers.push_back(board("stone wool board", "50 mm"));
    const auto amounts = amounts_of(rung, 1.0);
    REQUIRE(amounts);
    const auto without = embodied(*amounts);
    REQUIRE(without);
    REQUIRE(without->missing.size() == 1);
    CHECK(without->missing[0] == "stone wool board");
    const auto with = embodied(*amounts, {{"stone wool board", 1.5}});
    REQUIRE(with);
    CHECK(with->missing.empty());
    CHECK(with->carbon - without->carbon == doctest::Approx(0.15 * of("stone wool board").density * 1.5));
    CHECK(with->evidence == "entered by the user");
}

TEST_CASE("areas and factors that cannot be, and broken tables, are Problems") {
    CHECK(amounts_of(wall(), -1.0).error().code == Code::out_of_range);
    CHECK(amounts_of(wall(), 1.0, 1.5).error().code == Code::out_of_range);
    CHECK(embodied({}, {{"osb", std::nan("")}}).error().code == Code::out_of_range);
    const auto both = read_carbon("c.toml",
                                  "[[factor]]\nname = \"a\"\nmaterials = [\"osb\"]\nper_volume = \"1 "
                                  "kg/m3\"\nper_mass = 1.0\nsource = \"x\"\nevidence = \"memory\"\n");
    REQUIRE_FALSE(both);
    CHECK(both.error().code == Code::conflict);
    const auto unknown = read_carbon("c.toml",
                                     "[[factor]]\nname = \"a\"\nmaterials = [\"peat\"]\nper_mass = "
                                     "1.0\nsource = \"x\"\nevidence = \"memory\"\n");
    REQUIRE_FALSE(unknown);
    CHECK(unknown.error().code == Code::unknown_name);
    CHECK(unknown.error().where.line == 3);
}

}  // namespace warmside::house
