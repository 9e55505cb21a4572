// Framing elevations of the example house and of houses thrown together.
#include "drawing/elevation.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <random>
#include <set>

#include "../framing_properties/random_house.h"
#include "drawing/label.h"
#include "project/read.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

void collect(const std::vector<Item>& items, std::vector<Text>& texts, std::multiset<std::string>& drawn) {
    for (const Item& item : items) {
        if (const auto* text = std::get_if<Text>(&item)) texts.push_back(*text);
        if (const auto* group = std::get_if<std::shared_ptr<const Group>>(&item)) {
            if ((*group)->part == "member")
                drawn.insert((*group)->title.substr(0, (*group)->title.find(' ')));
            collect((*group)->items, texts, drawn);
        }
    }
}

void check(const assembly::House& house, const framing::Panel& panel, Shown shown, bool inches) {
    const auto members = members_shown(panel, shown);
    if (members.empty()) return;
    const assembly::Face* face = panel.face < house.faces.size() ? &house.faces[panel.face] : nullptr;
    const Sheet sheet = elevation(panel, face, {.inch_pound_first = inches, .shown = shown},
                                  {.title = panel.name, .line = panel.assembly});
    std::vector<Text> texts;
    std::multiset<std::string> drawn;
    collect(sheet.root.items, texts, drawn);
    INFO(panel.name);
    CHECK(drawn.size() == members.size());
    for (const framing::Member* m : members) CHECK(drawn.count(m->mark) == 1);
    std::vector<std::pair<Box, const Text*>> boxes;
    for (const Text& text : texts) boxes.emplace_back(box_of(text), &text);
    std::stable_sort(boxes.begin(), boxes.end(),
                     [](const auto& a, const auto& b) { return a.first.x < b.first.x; });
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        for (std::size_t k = i + 1; k < boxes.size() && boxes[k].first.x < boxes[i].first.right(); ++k) {
            if (!overlap(boxes[i].first, boxes[k].first)) continue;
            FAIL_CHECK(boxes[i].second->text << " lies over " << boxes[k].second->text);
        }
    }
}

std::mt19937& generator() {
    static std::mt19937 out(20260606);
    return out;
}

}  // namespace

TEST_CASE("elevations of the example house: every member once, no words over others") {
    const std::string path = std::string(std::getenv("WARMSIDE_SOURCE")) + "/examples/heron-ridge/house.toml";
    std::ifstream file(path);
    REQUIRE(file);
    const auto reading =
        project::read_house("house.toml", std::string(std::istreambuf_iterator<char>(file), {}));
    REQUIRE(reading.house);
    const auto& house = *reading.house;
    for (const assembly::Ladder& ladder : house.ladders) {
        if (ladder.part != assembly::Part::wall) continue;
        for (const std::size_t index : ladder.rungs) {
            const auto frame = framing::frame(house, house.assemblies[index]);
            REQUIRE(frame);
            for (const auto& panel : frame->panels) {
                for (const Shown shown : {Shown::frame, Shown::furring, Shown::battens})
                    check(house, panel, shown, index % 2 == 0);
            }
        }
    }
}

TEST_CASE("elevations of 300 houses thrown together: every member once, no words over others") {
    int panels = 0;
    for (int round = 0; round < 300; ++round) {
        const auto random = tests::random_house(std::getenv("WARMSIDE_SOURCE"), [](int below) {
            return static_cast<int>(generator()() % static_cast<unsigned>(below));
        });
        if (!random.house || !random.wall) continue;
        INFO(random.text);
        const auto frame = framing::frame_walls(*random.house, *random.wall);
        if (!frame) continue;
        for (const auto& panel : frame->panels) {
            ++panels;
            for (const Shown shown : {Shown::frame, Shown::furring, Shown::battens})
                check(*random.house, panel, shown, round % 2 == 0);
        }
    }
    CHECK(panels > 500);
}
