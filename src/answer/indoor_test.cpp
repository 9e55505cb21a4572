// Indoor air and pressures that the moisture runs get: of the house itself where [indoor] asks for it.
#include <doctest/doctest.h>

#include "answer/keys.h"
#include "answer/places.h"
#include "base/embedded.h"
#include "leakage/indoor_air.h"
#include "project/read.h"

using namespace warmside;

namespace {

using Edit = std::pair<std::string_view, std::string_view>;

std::unique_ptr<assembly::House> example(std::initializer_list<Edit> edits) {
    std::string text(*embedded::find("examples/heron-ridge/house.toml"));
    for (const auto& [from, to] : edits) {
        const auto at = text.find(from);
        REQUIRE(at != std::string::npos);
        text.replace(at, from.size(), to);
    }
    auto reading = project::read_house("house.toml", text);
    REQUIRE(reading.house);
    return std::move(reading.house);
}

constexpr Edit own{"model = \"normal load\"", "model = \"from the house\""};

Key key_of_air(std::initializer_list<Edit> edits) {
    const auto house = example(edits);
    const auto envelope = leakage::envelope_of(*house);
    REQUIRE(envelope);
    Digest digest;
    answer::add_air(digest, *house, *envelope);
    return digest.key();
}

}  // namespace

TEST_CASE("with the air of the house, rooms and walls breathe by one balance") {
    const auto house = example({own});
    const auto year = answer::year_of(*house, {});
    REQUIRE(year);
    const auto around = answer::surroundings(*house, *year);
    REQUIRE(around);
    CHECK(around->indoor_typical.assumes.starts_with("indoor air of the house"));
    CHECK(around->indoor_stressed.assumes.starts_with("indoor air of the house"));
    CHECK(around->indoor_typical.vapour_pressure != around->indoor_stressed.vapour_pressure);
    const auto air = leakage::air_of_house(*house, *year);
    REQUIRE(air);
    double sum = 0.0, apart = 0.0;
    for (std::size_t i = 0; i < air->exchange.leaks.size(); ++i) {
        sum += air->exchange.leaks[i];
        apart += std::abs(air->exchange.leaks[i] - around->pressures_typical.inflow[i]);
    }
    MESSAGE(air->indoor.assumes);
    MESSAGE("winter ", air->compared.winter_humidity, ", excess ", air->compared.cold, " and ",
            air->compared.mild, " kg/m3, class ", air->compared.humidity_class);
    CHECK(apart < 1e-3 * sum);
}

TEST_CASE("an edit of people or fans makes new weather only where the runs feel it") {
    const Edit more{"flow              = \"75 cfm\"", "flow              = \"80 cfm\""};
    const Edit family{"people     = 4", "people     = 5"};
    const std::string_view block =
        "kind              = \"balanced\"\n"
        "flow              = \"75 cfm\"\n"
        "heat_recovery     = \"75 %\"\n"
        "moisture_recovery = \"40 %\"\n"
        "frost             = \"14 degF\"\n"
        "guard             = \"preheat\"\n"
        "fan_power         = \"0.8 W/cfm\"\n"
        "ducted            = true\n";
    const Edit exhaust{block, "kind = \"exhaust\"\nflow = \"75 cfm\"\n"};
    const Edit stronger{block, "kind = \"exhaust\"\nflow = \"80 cfm\"\n"};
    const Edit set_point{"heating    = \"70 degF\"", "heating    = \"71 degF\""};
    const Edit bedrooms{"bedrooms   = 3", "bedrooms   = 4"};
    CHECK(key_of_air({}) == key_of_air({more}));
    CHECK(key_of_air({}) == key_of_air({bedrooms}));
    CHECK(key_of_air({}) != key_of_air({exhaust}));
    CHECK(key_of_air({exhaust}) != key_of_air({stronger}));
    CHECK(key_of_air({}) != key_of_air({own}));
    CHECK(key_of_air({own}) != key_of_air({own, more}));
    CHECK(key_of_air({own}) != key_of_air({own, set_point}));
    CHECK(key_of_air({own}) != key_of_air({own, bedrooms}));
    CHECK(key_of_air({own}) == key_of_air({own, family}));  // vapour goes by bedrooms
}
