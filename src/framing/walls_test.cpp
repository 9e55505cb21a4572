// Worked panels counted by hand (proof/framing/panels.toml holds every member), and what cannot be framed.
#include <doctest/doctest.h>

#include <map>

#include "framing/frame.h"
#include "framing/sample_test.h"

using namespace warmside;
using namespace warmside::framing;
using units::Exact;

namespace {

double in(Exact e) {
    return static_cast<double>(e.count()) / 203200.0;
}

std::map<std::string, std::map<double, int>> cut_list(const Panel& panel) {
    std::map<std::string, std::map<double, int>> out;
    for (const Member& m : panel.members) out[name_of(m.role)][in(m.length)]++;
    return out;
}

}  // namespace

TEST_CASE("worked panel p1: a 24 ft wall with a door and two windows has the members counted by hand") {
    auto house = sample::straight_wall(288, 97.5);
    house.details.header.value = 0.18415;  // 7 1/4 in
    house.faces[0].openings = {sample::door("D1", 20.5, 38.5, 82.5), sample::window("W1", 100, 36, 39.25, 48),
                               sample::window("W2", 196, 60, 39.25, 48)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    auto list = cut_list(frame->panels[0]);
    CHECK(list["bottom plate"] == std::map<double, int>{{192, 1}, {96, 1}});
    CHECK(list["stud"] == std::map<double, int>{{93, 11}});
    CHECK(list["king stud"] == std::map<double, int>{{93, 6}});
    CHECK(list["jack stud"] == std::map<double, int>{{85.75, 6}});
    CHECK(list["header"] == std::map<double, int>{{41.5, 2}, {39, 2}, {63, 2}});
    CHECK(list["header filler"] == std::map<double, int>{{38.5, 1}});
    CHECK(list["cripple above"] == std::map<double, int>{{3.25, 4}});
    CHECK(list["cripple below"] == std::map<double, int>{{36.25, 9}});
    CHECK(list["sill"] == std::map<double, int>{{36, 1}, {60, 1}});
    CHECK(frame->factor.whole == doctest::Approx(6132.5 / 20295.75).epsilon(1e-9));
}
