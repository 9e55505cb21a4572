// Leakage of the example house through its walls, in real weather: from the house file to histories.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>

#include "base/embedded.h"
#include "base/what.h"
#include "leakage/air_flow.h"
#include "leakage/wind.h"
#include "moisture/simulate.h"
#include "project/read.h"

using namespace warmside;

namespace {

constexpr double south = std::numbers::pi;

double winter(const moisture::History& h) {
    const auto found = std::find_if(h.probes.begin(), h.probes.end(),
                                    [](const auto& p) { return p.name == "inner face of osb"; });
    REQUIRE(found != h.probes.end());
    double sum = 0.0;
    for (std::size_t i = 1500; i < 4500; ++i) sum += found->relative_humidity[i];
    return sum / 3000.0;
}

}  // namespace

TEST_CASE("the example's leaks run through real winters: balances close, the joint is the wettest") {
    const auto reading =
        project::read_house("house.toml", *embedded::find("examples/heron-ridge/house.toml"));
    REQUIRE(reading.house);
    const auto& house = *reading.house;
    const auto* wall = house.find("w2");
    REQUIRE(wall);
    const char* source = std::getenv("WARMSIDE_SOURCE");
    const auto folder = std::filesystem::path(source ? source : ".") / "../shared/reference/weather";
    for (const char* station : {"tmy3_727450_Duluth_MN.csv", "tmy3_702610_Fairbanks_AK.csv"}) {
        std::ifstream in(folder / station, std::ios::binary);
        if (!in) {
            MESSAGE("no weather files: not run");
            return;
        }
        std::ostringstream text;
        text << in.rdbuf();
        Problems problems;
        const auto year = climate::read_weather(station, text.str(), problems);
        REQUIRE(year);
        const auto indoor = climate::indoor_air(house.indoor, *year);
        REQUIRE_MESSAGE(indoor, what_of(indoor));
        const climate::Plane face{.azimuth = south};
        const auto outside = climate::weather_on(*year, face, house.rain_exposure);
        const auto flow = leakage::air_flow(house, *wall, face, *year, *indoor);
        REQUIRE_MESSAGE(flow, what_of(flow));
        CHECK(flow->outward_winter > 0.0);
        moisture::Run run{
            .name = "w2 south bay typical", .assembly = wall, .outside = &outside, .inside = &*indoor};
        run.years = 1;
        run.wind_share = leakage::wind_share(house.air.terrain, 5.3);
        std::vector<moisture::Run> runs(3, run);
        runs[1].air_flow_by_hour = &flow->spread;
        runs[2].air_flow_by_hour = &flow->concentrated;
        runs[2].air_past_lining = true;
        const auto done = moisture::simulate(runs, {});
        REQUIRE_MESSAGE(done, what_of(done));
        for (const auto& h : *done) {
            CHECK(h.balance.water_error < 1e-6);
            CHECK(h.balance.energy_error < 1e-6);
        }
        CHECK(winter((*done)[1]) > winter((*done)[0]));
        CHECK(winter((*done)[2]) > winter((*done)[1]));
    }
}
