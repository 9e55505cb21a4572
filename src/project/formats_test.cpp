// Random houses: however a house is written, in inches or millimetres, in whatever order of keys, it is the
// same house.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <random>
#include <string>
#include <vector>

#include "project/model_text.h"
#include "project/read.h"

using namespace warmside;

namespace {

// A length in 1/64 in, of which both texts are exact: 1/64 in = 0.396875 mm.
struct Size {
    int sixty_fourths = 0;
};

// One way to write a house.
struct Style {
    bool metric = false;
    bool shuffled = false;    // order of keys
    bool long_lists = false;  // one layer a line, one key a line
    bool windows = false;     // ends of lines
    bool single_quotes = false;
};

class Writer {
public:
    Writer(Style style, unsigned seed) : style_(style), random_(seed) {}
    std::string out;

    std::string text(std::string_view value) const {
        return style_.single_quotes ? fmt::format("'{}'", value) : fmt::format("\"{}\"", value);
    }

    std::string size(Size s) const {
        if (style_.metric) return text(fmt::format("{:.6f} mm", s.sixty_fourths * 0.396875));
        const int whole = s.sixty_fourths / 64, part = s.sixty_fourths % 64;
        if (part == 0) return text(fmt::format("{} in", whole));
        return text(whole > 0 ? fmt::format("{} {}/64 in", whole, part) : fmt::format("{}/64 in", part));
    }

    void shuffle(std::vector<std::string>& keys) {
        if (style_.shuffled) std::shuffle(keys.begin(), keys.end(), random_);
    }

    std::string inner(std::vector<std::string> keys) {
        shuffle(keys);
        const std::string between = style_.long_lists ? ",\n      " : ", ";
        return fmt::format("{{ {} }}", fmt::join(keys, between));
    }

    std::string list(const std::vector<std::string>& items) const {
        return style_.long_lists ? fmt::format("[\n  {}, # the last\n]", fmt::join(items, ",\n  "))
                                 : fmt::format("[{}]", fmt::join(items, ", "));
    }

    void table(std::string_view heading, std::vector<std::string> keys) {
        shuffle(keys);
        out += fmt::format("[{}]{}\n{}\n\n", heading, style_.shuffled ? "   # " + std::string(heading) : "",
                           fmt::join(keys, "\n"));
    }

    std::string finished() const {
        if (!style_.windows) return out;
        std::string text_out;
        for (const char c : out) text_out += c == '\n' ? std::string("\r\n") : std::string(1, c);
        return text_out;
    }

private:
    Style style_;
    std::mt19937 random_;
};

struct RandomLayer {
    std::string material;
    Size thickness;
    std::string member;
    Size spacing;
    bool airtight = false, water = false, existing = false;
};

struct RandomHouse {
    std::vector<std::vector<RandomLayer>> walls;
    Size length, depth, height, sill;
};

RandomHouse random_house(unsigned seed) {
    std::mt19937 random(seed);
    const auto draw = [&](int least, int most) {
        return std::uniform_int_distribution<int>(least, most)(random);
    };
    constexpr std::array boards{"gypsum board",     "osb", "plywood",      "wood fibreboard sheathing",
                                "stone wool board", "eps", "spruce siding"};
    // Members with their depth in 1/64 in; the layer is at least that deep.
    constexpr std::array members{std::pair{"2x4", 224}, std::pair{"2x6", 352}, std::pair{"2x8", 464},
                                 std::pair{"2x2", 96}};
    RandomHouse house;
    for (int wall = draw(1, 4); wall > 0; --wall) {
        std::vector<RandomLayer> layers;
        const int count = draw(1, 9), airtight = draw(0, count - 1);
        for (int i = 0; i < count; ++i) {
            RandomLayer layer;
            if (draw(0, 2) == 0) {
                const auto& [member, deep] = members[static_cast<std::size_t>(draw(0, 3))];
                layer = {.material = draw(0, 1) ? "stone wool batt" : "dense-packed cellulose",
                         .thickness = {deep + draw(0, 200)},
                         .member = member,
                         .spacing = {64 * draw(8, 32) + draw(0, 63)}};
            } else {
                layer = {.material = boards[static_cast<std::size_t>(draw(0, 6))],
                         .thickness = {draw(8, 500)},
                         .member = "",
                         .spacing = {}};
            }
            layer.airtight = i == airtight;
            layer.water = draw(0, 3) == 0;
            layer.existing = draw(0, 3) == 0;
            layers.push_back(layer);
        }
        house.walls.push_back(layers);
    }
    house.length = {64 * 12 * draw(10, 60) + draw(0, 767)};
    house.depth = {64 * 12 * draw(10, 60) + draw(0, 767)};
    house.height = {64 * draw(90, 120) + draw(0, 63)};
    house.sill = {draw(0, 64 * 30)};
    return house;
}

std::string layer_text(Writer& w, const RandomLayer& layer) {
    std::vector<std::string> keys{"material = " + w.text(layer.material),
                                  "thickness = " + w.size(layer.thickness)};
    if (layer.airtight) keys.emplace_back("airtight = true");
    if (layer.water) keys.emplace_back("water = true");
    if (layer.existing) keys.emplace_back("existing = true");
    if (!layer.member.empty())
        keys.push_back("framing = " +
                       w.inner({"member = " + w.text(layer.member), "spacing = " + w.size(layer.spacing)}));
    return w.inner(keys);
}

std::string written(const RandomHouse& house, Style style, unsigned seed) {
    Writer w(style, seed);
    w.table("house", {"name = " + w.text("random"), "place = " + w.text("Duluth, Minnesota")});
    std::vector<std::string> rungs;
    for (std::size_t i = 0; i < house.walls.size(); ++i) rungs.push_back(w.text(fmt::format("w{}", i)));
    w.table("ladder.wall", {"rungs = " + w.list(rungs)});
    for (std::size_t i = 0; i < house.walls.size(); ++i) {
        std::vector<std::string> layers;
        for (const auto& layer : house.walls[i]) layers.push_back(layer_text(w, layer));
        w.table(fmt::format("assembly.w{}", i), {"part = " + w.text("wall"), "layers = " + w.list(layers)});
    }
    const std::string zero = w.size({0}), x = w.size(house.length), y = w.size(house.depth);
    const auto corner = [](const std::string& a, const std::string& b) {
        return fmt::format("[{}, {}]", a, b);
    };
    w.table("storey.s",
            {"floor = " + zero, "height = " + w.size(house.height),
             "outline = " + w.list({corner(zero, zero), corner(x, zero), corner(x, y), corner(zero, y)})});
    for (int edge = 1; edge <= 4; ++edge) {
        std::vector<std::string> keys{"storey = " + w.text("s"), fmt::format("edge = {}", edge)};
        if (edge == 1) {
            keys.push_back(
                "openings = " +
                w.list({w.inner({"width = " + w.size({64 * 36}), "height = " + w.size({64 * 40}),
                                 "left = " + w.size({64 * 20}), "sill = " + w.size(house.sill)})}));
        }
        w.table(fmt::format("face.f{}", edge), keys);
    }
    return w.finished();
}

std::vector<std::string> model_of(const std::string& text) {
    const auto reading = project::read_house("f.toml", text);
    std::string all;
    for (const Problem& each : reading.problems) all += render(each, text);
    REQUIRE_MESSAGE(reading.house, all << text);
    return project::model_text(*reading.house);
}

}  // namespace

TEST_CASE("a random house is the same house however it is written") {
    for (unsigned seed = 1; seed <= 150; ++seed) {
        CAPTURE(seed);
        const auto house = random_house(seed);
        const auto plain = model_of(written(house, {}, seed));
        for (unsigned bits = 1; bits < 32; bits += 1 + seed % 7) {
            CAPTURE(bits);
            const Style style{.metric = (bits & 1U) != 0,
                              .shuffled = (bits & 2U) != 0,
                              .long_lists = (bits & 4U) != 0,
                              .windows = (bits & 8U) != 0,
                              .single_quotes = (bits & 16U) != 0};
            CHECK(model_of(written(house, style, seed)) == plain);
        }
    }
}

TEST_CASE("houses that differ in 1/64 in read to models that differ") {
    for (unsigned seed = 1; seed <= 50; ++seed) {
        const auto house = random_house(seed);
        auto other = house;
        other.walls.front().front().thickness.sixty_fourths += 1;
        CHECK(model_of(written(house, {}, seed)) != model_of(written(other, {}, seed)));
    }
}
