#include "climate/generate.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include "climate/places.h"
using namespace warmside; using namespace warmside::climate;
TEST_CASE("scratch") {
    for (bool own : {true, false}) {
    fmt::print("own {}\n", own);
    for (const CsvLine& l : embedded_table("proof/climate/stations.csv")) {
        const auto row = std::ranges::find(places(), l.fields[0].text, &PlaceRow::station);
        auto t0 = std::chrono::steady_clock::now();
        auto y = generate_with(*row, statistics_of(*row, own));
        auto ms = std::chrono::duration<double>(std::chrono::steady_clock::now() - t0).count() * 1e3;
        if (!y) { fmt::print("{} {}\n", row->name, y.error().what); continue; }
        auto f = figures_of(*y);
        const auto n = [&](size_t i) { return number_of(l.fields[i]); };
        double rh=0; for (size_t m=0;m<12;++m) rh+=f.relative_humidity[m]/12;
        fmt::print("{:20} {:.1f}ms wet {} {} max {:.1f} {} drive {:.2f} rhwet {:.0f} {} clwet {:.2f} {} cl {:.2f} {} dif {:.2f} rh {:.0f} {} dewsd {:.2f}\n", row->name, ms,
          f.wet_hours, n(1), f.largest_rain, n(2), f.driving/n(3), 100*f.wet_humidity, n(4), f.wet_cloud, n(5), f.mean_cloud, n(6), f.mean_diffuse/n(7), 100*rh, n(8), f.dew_spread/n(9));
    }}
}
