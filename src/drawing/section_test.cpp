#include "drawing/section.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "drawing/hatch.h"
#include "drawing/made_up.h"
#include "drawing/svg.h"
#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

void each_group(const std::vector<Item>& items, const std::function<void(const Group&)>& act) {
    for (const auto& item : items) {
        const auto* group = std::get_if<std::shared_ptr<const Group>>(&item);
        if (!group) continue;
        act(**group);
        each_group((*group)->items, act);
    }
}

/// Left and right edge of the ground of each drawn layer.
std::vector<std::pair<double, double>> layer_edges(const Sheet& sheet) {
    std::vector<std::pair<double, double>> out;
    each_group(sheet.root.items, [&](const Group& g) {
        if (g.part != "layer") return;
        const auto& ground = std::get<Polygon>(g.items.front());
        out.emplace_back(ground.points[0].x, ground.points[1].x);
    });
    return out;
}

std::vector<Line> lines_of(const Sheet& sheet, std::string_view part) {
    std::vector<Line> out;
    each_group(sheet.root.items, [&](const Group& g) {
        if (g.part != part) return;
        for (const auto& item : g.items) {
            if (const auto* line = std::get_if<Line>(&item)) out.push_back(*line);
        }
    });
    return out;
}

std::vector<const assembly::Assembly*> rungs_of(const assembly::House& house, std::size_t ladder) {
    std::vector<const assembly::Assembly*> out;
    for (const auto index : house.ladders[ladder].rungs) out.push_back(&house.assemblies[index]);
    return out;
}

}  // namespace

TEST_CASE("drawn widths are thicknesses times the one scale, and the layers touch") {
    const auto house = made_up::house();
    for (std::size_t ladder = 0; ladder < house.ladders.size(); ++ladder) {
        const auto rungs = rungs_of(house, ladder);
        const auto frame = frame_of(rungs, 178.0);
        for (const auto* a : rungs) {
            const auto edges = layer_edges(section(*a, frame, true));
            std::size_t drawn = 0;
            for (const auto& layer : a->layers) {
                if (layer.thickness.count() == 0) continue;
                REQUIRE(drawn < edges.size());
                const auto [left, right] = edges[drawn];
                CHECK(std::abs(right - left - layer.thickness.metres() * frame.scale) < 1e-9);
                if (drawn > 0) CHECK(std::abs(left - edges[drawn - 1].second) < 1e-9);
                ++drawn;
            }
            CHECK(drawn == edges.size());
            CHECK(edges.back().second - edges.front().first ==
                  doctest::Approx(a->thickness().metres() * frame.scale));
            CHECK(edges.front().first >= 0.0);
            CHECK(edges.back().second <= frame.width);
        }
    }
}

TEST_CASE("the datum stands at the same place in every rung, on the outer face of its layer") {
    const auto house = made_up::house();
    for (std::size_t ladder = 0; ladder < house.ladders.size(); ++ladder) {
        const auto rungs = rungs_of(house, ladder);
        const auto frame = frame_of(rungs, 178.0);
        for (const auto* a : rungs) {
            const auto sheet = section(*a, frame, true);
            const auto lines = lines_of(sheet, "datum");
            REQUIRE_FALSE(lines.empty());
            for (const auto& line : lines) CHECK(line.from.x == frame.datum);
            const auto edges = layer_edges(sheet);
            const auto on = std::count_if(edges.begin(), edges.end(), [&](const auto& e) {
                return std::abs(e.second - frame.datum) < 1e-9;
            });
            CHECK(on == 1);
        }
    }
}

TEST_CASE("the airtight sheet is the heaviest line, in accent, and runs past the outline") {
    const auto house = made_up::house();
    const auto rungs = rungs_of(house, 0);
    const auto frame = frame_of(rungs, 178.0);
    const auto sheet = section(*rungs[5], frame, true);
    const auto tight = lines_of(sheet, "airtight");
    REQUIRE(tight.size() == 1);
    CHECK(tight[0].stroke.ink == Ink::accent);
    double heaviest = 0.0, top = 1e9, bottom = 0.0;
    each_group(sheet.root.items, [&](const Group& g) {
        for (const auto& item : g.items) {
            if (const auto* line = std::get_if<Line>(&item); line && g.part != "airtight")
                heaviest = std::max(heaviest, line->stroke.width);
            const auto* polygon = std::get_if<Polygon>(&item);
            if (!polygon) continue;
            if (polygon->stroke.ink != Ink::none) heaviest = std::max(heaviest, polygon->stroke.width);
            if (g.part != "outline") continue;
            top = polygon->points[0].y;
            bottom = polygon->points[2].y;
        }
    });
    CHECK(tight[0].stroke.width > heaviest);
    CHECK(tight[0].from.y < top);
    CHECK(tight[0].to.y > bottom);
    CHECK(lines_of(section(*rungs[0], frame, true), "airtight").empty());
}

TEST_CASE("cut members stand one spacing apart and keep their section") {
    const auto house = made_up::house();
    const auto rungs = rungs_of(house, 0);
    const auto frame = frame_of(rungs, 178.0);
    std::vector<Box> boxes;
    each_group(section(*rungs[1], frame, true).root.items, [&](const Group& g) {
        if (g.part != "members" || g.title != "2x6") return;
        each_group(g.items, [&](const Group& member) {
            const auto& p = std::get<Polygon>(member.items.front()).points;
            boxes.push_back({p[0].x, p[0].y, p[2].x - p[0].x, p[2].y - p[0].y});
        });
    });
    REQUIRE(boxes.size() == 2);
    CHECK(boxes[1].y - boxes[0].y == doctest::Approx(0.6096 * frame.scale));  // 24 in
    CHECK(boxes[0].height == doctest::Approx(0.0381 * frame.scale));          // 1 1/2 in
    CHECK(boxes[0].width == doctest::Approx(0.1397 * frame.scale));           // 5 1/2 in
}

TEST_CASE("box and wire are drawn only in an insulated cavity inside the airtight sheet") {
    const auto house = made_up::house();
    const auto rungs = rungs_of(house, 0);
    const auto frame = frame_of(rungs, 178.0);
    for (std::size_t i = 0; i < rungs.size(); ++i) {
        bool there = false;
        each_group(section(*rungs[i], frame, true).root.items,
                   [&](const Group& g) { there = there || g.part == "services"; });
        CHECK(there == (i >= 2));
    }
}

TEST_CASE("a layer that is kept under a retrofit has no line in full ink") {
    const auto house = made_up::house();
    const auto rungs = rungs_of(house, 1);
    const auto sheet = section(*rungs[0], frame_of(rungs, 250.0), true);
    int seen = 0;
    each_group(sheet.root.items, [&](const Group& g) {
        if (g.part != "layer" || g.title.find("existing") == std::string::npos) return;
        ++seen;
        each_group(g.items, [&](const Group& inner) {
            for (const auto& item : inner.items) {
                if (const auto* line = std::get_if<Line>(&item)) CHECK(line->stroke.ink != Ink::ink);
            }
        });
    });
    CHECK(seen == 1);
}

TEST_CASE("the dimension names the thickness in the system asked for first") {
    const auto house = made_up::house();
    const auto rungs = rungs_of(house, 0);
    const auto frame = frame_of(rungs, 178.0);
    const auto inch = svg(section(*rungs[1], frame, true)), metric = svg(section(*rungs[1], frame, false));
    CHECK(inch.find("7 15/16 in</text>") < inch.find("202 mm</text>"));
    CHECK(metric.find("202 mm</text>") < metric.find("7 15/16 in</text>"));
}

TEST_CASE("a roof says that it is turned on its side") {
    const auto house = made_up::house();
    const auto rungs = rungs_of(house, 1);
    CHECK(section(*rungs[0], frame_of(rungs, 250.0), true).root.description.find("turned on its side") !=
          std::string::npos);
}

TEST_CASE("sections of all rungs are well-formed SVG; thin and thick ones stay on their sheet") {
    auto house = made_up::house(10);
    for (std::size_t ladder = 0; ladder < house.ladders.size(); ++ladder) {
        const auto rungs = rungs_of(house, ladder);
        for (const double width : {122.0, 250.0}) {
            const auto frame = frame_of(rungs, width);
            for (const auto* a : rungs) {
                const auto text = svg(section(*a, frame, true));
                CHECK_MESSAGE(made_up::xml_fault(text).empty(), made_up::xml_fault(text));
            }
        }
    }
    auto& thin = house.assemblies.front();
    thin.layers.resize(1);  // 1/2 in of gypsum board
    const assembly::Assembly* one[] = {&thin};
    const auto frame = frame_of(one, 178.0);
    CHECK(frame.window * frame.scale <= 331.0);
    CHECK(frame_of({}, 178.0).scale == 0.0);
}

TEST_CASE("every hatch word draws, clipped to its box, the same each time; an unknown word draws nothing") {
    const Box box{10.0, 20.0, 30.0, 100.0};
    for (const char* word : {"batt", "board", "wood", "sheathing", "gypsum", "concrete", "brick", "foam"}) {
        const auto group = hatch(word, box, Ink::quiet);
        CHECK_FALSE(group.items.empty());
        CHECK(group.clipped);
        Sheet once{.width = 1, .height = 1, .root = {}}, again = once;
        add(once.root.items, group);
        add(again.root.items, hatch(word, box, Ink::quiet));
        CHECK(svg(once) == svg(again));
    }
    CHECK(hatch("plain", box, Ink::quiet).items.empty());
    CHECK(hatch("batt", {0, 0, 0, 10}, Ink::quiet).items.empty());
}
