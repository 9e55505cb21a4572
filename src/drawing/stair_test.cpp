#include "drawing/stair.h"

#include <doctest/doctest.h>

#include "drawing/svg.h"
#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

// Made up: label 4, up 1, down 2, junctions not computed.
thermal::Worth made_up_worth() {
    thermal::Worth w;
    w.label_r = 4.0;
    w.stair = {{"label", "label", 4.0, 4.0, 0.25},
               {"films", "films add 1", 1.0, 5.0, 0.2},
               {"air spaces", "nothing", 0.0, 5.0, 0.2},
               {"studs", "studs take 2", -2.0, 3.0, 1.0 / 3.0},
               {"junctions", "not yet", std::nullopt, 0.0, 0.0}};
    return w;
}

}  // namespace

TEST_CASE("the highest value of a stair is its highest tread") {
    CHECK(highest(made_up_worth()) == 5.0);
    CHECK(highest({}) == 0.0);
}

TEST_CASE("bars are to one scale; treads that change nothing or are not computed are left out") {
    const auto w = made_up_worth();
    const auto sheet = stair(w, {.width = 100.0, .height = 86.0, .highest = 5.0}, true);
    std::vector<double> bars;
    int up = 0, down = 0;
    for (const auto& item : sheet.root.items) {
        if (const auto* polygon = std::get_if<Polygon>(&item))
            bars.push_back(polygon->points[2].y - polygon->points[0].y);
        if (const auto* group = std::get_if<std::shared_ptr<const Group>>(&item)) {
            up += (*group)->part == "tread up";
            down += (*group)->part == "tread down";
        }
    }
    CHECK(up == 1);
    CHECK(down == 1);
    REQUIRE(bars.size() == 2);
    CHECK(bars[0] == doctest::Approx(4.0 * 14.0));  // (86 - 2 - 14) / 5 = 14 units each m2 K/W
    CHECK(bars[1] == doctest::Approx(3.0 * 14.0));
    CHECK(made_up::xml_fault(svg(sheet)).empty());
    CHECK(made_up::xml_fault(svg(stair({}, {}, false))).empty());
}
