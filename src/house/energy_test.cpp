#include "house/energy.h"

#include <doctest/doctest.h>

#include "base/what.h"

namespace warmside::house {

namespace {

Run made_up_run() {
    Run run;
    run.air = {std::vector<double>(8760, 293.15), std::vector<double>(8760, 270.0)};
    run.radiant = run.air;
    run.heating = {std::vector<double>(8760, 0.0), std::vector<double>(8760, 0.0)};
    run.cooling = run.heating;
    for (std::size_t hour = 0; hour < 744; ++hour) run.heating[0][hour] = 2000.0;
    run.heating[0][10] = 5000.0;
    run.heating[1][10] = 500.0;
    run.air[0][5000] = 301.0;  // operative 300
    run.radiant[0][5000] = 299.0;
    run.air[0][5001] = 301.0;  // operative 298
    run.radiant[0][5001] = 295.0;
    run.unmet = 3;
    return run;
}

}  // namespace

TEST_CASE(
    "needs, peaks, months and overheated hours come from the run; uses and money from systems and tariffs") {
    const Run run = made_up_run();
    const std::vector<double> outdoor(8760, 265.0);
    assembly::Services services;
    services.heating.kind.value = assembly::Heating::Kind::resistance;
    services.heating.fuel.value = assembly::Fuel::electricity;
    MonthlyHouse monthly;
    monthly.conductance = 100.0;
    monthly.capacity = 1e7;
    monthly.outdoor.fill(263.15);
    const auto done = energy_of({.run = run,
                                 .rooms = 0,
                                 .outdoor = outdoor,
                                 .fans = {20.0, {}},
                                 .services = services,
                                 .monthly = monthly});
    REQUIRE_MESSAGE(done, what_of(done));
    const double need = 3600.0 * (743.0 * 2000.0 + 5500.0);
    CHECK(done->heating_need == doctest::Approx(need));
    CHECK(done->heating_peak == doctest::Approx(5500.0));
    CHECK(done->monthly_heating[0] == doctest::Approx(need));
    CHECK(done->monthly_heating[6] == 0.0);
    CHECK(done->overheated == 1);
    CHECK(done->unmet == 3);
    REQUIRE(done->uses.size() == 1);
    CHECK(done->uses[0].heating == doctest::Approx(need));
    CHECK(done->uses[0].fans == doctest::Approx(3600.0 * 8760.0 * 20.0));
    CHECK(done->money ==
          doctest::Approx((need + 3600.0 * 8760.0 * 20.0) / 3.6e6 * 0.1798));  // demo, United States
    REQUIRE(done->second_opinion);
    CHECK(*done->second_opinion == doctest::Approx(100.0 * 30.0 * 8760.0 * 3600.0));
    bool said = false;
    for (const auto& note : done->notes) said = said || note.find("demo") != std::string::npos;
    CHECK(said);
}

TEST_CASE("a part of a year or a missing zone is no year's energy") {
    Run run = made_up_run();
    const std::vector<double> outdoor(8760, 265.0);
    const assembly::Services services;
    CHECK(energy_of({.run = run, .rooms = 7, .outdoor = outdoor, .services = services}).error().code ==
          Code::incomplete);
    run.heating[0].resize(24);
    CHECK(energy_of({.run = run, .outdoor = outdoor, .services = services}).error().code == Code::incomplete);
}

}  // namespace warmside::house
