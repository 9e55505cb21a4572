#include <array>
#include <doctest/doctest.h>
#include <string>
#include <vector>

#include "base/digest.h"
#include "base/embedded.h"
#include "base/nearest.h"
#include "base/origin.h"
#include "base/parallel.h"
#include "base/result.h"
#include "base/stop.h"

using namespace warmside;

TEST_CASE("a problem shows its place, its line and a caret under the character") {
    Problem p{.code = Code::wrong_unit,
              .what = "thickness \"5.5 W\" is not a length (m, mm, in, ft)",
              .where = {"house.toml", 2, 13}};
    CHECK(render(p, "x = 1\nthickness = \"5.5 W\"\n") ==
          "house.toml:2:13: error: thickness \"5.5 W\" is not a length (m, mm, in, ft)\n"
          "   2 | thickness = \"5.5 W\"\n"
          "     |             ^\n");
}

TEST_CASE("the caret counts characters, not bytes, and keeps tabs") {
    Problem p{.what = "x", .where = {"f", 1, 4}};
    CHECK(render(p, "µm\tbad").find("     |   \t^") != std::string::npos);
}

TEST_CASE("a place outside the text does no harm") {
    Problem p{.what = "x", .where = {"f", 99, 1}};
    CHECK(render(p, "one line") == "f:99:1: error: x\n");
    CHECK(render(p) == "f:99:1: error: x\n");
}

TEST_CASE("the nearest word forgives a slip, a swap and case, not another word") {
    const std::vector<std::string> words{"thickness", "framing", "spacing", "material"};
    CHECK(nearest("thicknes", words) == "thickness");
    CHECK(nearest("framnig", words) == "framing");
    CHECK(nearest("Material", words) == "material");
    CHECK(nearest("colour", words).empty());
}

TEST_CASE("equal inputs have equal keys; order, sign of zero and borders between texts count") {
    const auto key = [](auto... parts) {
        Digest d;
        (d.add(parts), ...);
        return d.key();
    };
    CHECK(key(1.0, 2.0) == key(1.0, 2.0));
    CHECK(key(1.0, 2.0) != key(2.0, 1.0));
    CHECK(key(std::string_view("ab"), std::string_view("c")) !=
          key(std::string_view("a"), std::string_view("bc")));
    CHECK(key(0.0) != key(-0.0));
    CHECK(key(1).hex().size() == 32);
}

TEST_CASE("each task runs once, whatever the number of threads") {
    for (const unsigned threads : {1U, 2U, 7U}) {
        std::array<int, 100> count{};
        parallel_for(count.size(), [&](std::size_t i) { ++count[i]; }, {}, threads);
        for (const int each : count) CHECK(each == 1);
    }
}

TEST_CASE("after a stop no new task starts") {
    StopSource source;
    std::atomic<int> ran{0};
    parallel_for(
        1000,
        [&](std::size_t) {
            if (++ran == 3) source.stop();
        },
        source.token(), 1);
    CHECK(ran == 3);
    CHECK_FALSE(StopToken{}.stopped());
}

TEST_CASE("an origin names file, line, source and evidence") {
    CHECK(describe({Origin::Kind::house_file, {"house.toml", 14, 3}, "", Evidence::none}) == "house.toml:14");
    CHECK(describe({Origin::Kind::catalogue, {}, "Handbook ch. 26, Table 1", Evidence::quoted}) ==
          "Handbook ch. 26, Table 1 (quoted)");
    CHECK(describe({}) == "assumed");
    CHECK(evidence_of("memory") == Evidence::memory);
    CHECK(evidence_of("hearsay") == Evidence::none);
}

TEST_CASE("the program carries the example house") {
    const auto house = embedded::find("examples/heron-ridge/house.toml");
    REQUIRE(house);
    CHECK(house->find("[ladder.wall]") != std::string_view::npos);
    CHECK_FALSE(embedded::find("no/such/file"));
}
