#include "drawing/svg.h"

#include <doctest/doctest.h>

#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;

TEST_CASE("the checker of these tests finds faults") {
    CHECK(made_up::xml_fault("<a b=\"1\"><c/>x &amp; y</a>").empty());
    for (const char* bad : {"<a>", "<a></b>", "<a b=1/>", "<a b=\"1\" b=\"2\"/>", "<a>&</a>", "<a/><a/>",
                            "text", "<a b=\"<\"/>"}) {
        CHECK_FALSE(made_up::xml_fault(bad).empty());
    }
}

TEST_CASE("base64 gives the test vectors of RFC 4648, section 10") {
    CHECK(base64("").empty());
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
}

TEST_CASE("every kind of item becomes well-formed SVG, with its text as text") {
    Sheet sheet{.width = 100.0, .height = 50.0, .root = {.title = "a < b & \"c\"", .description = "it's"}};
    auto& items = sheet.root.items;
    items.emplace_back(Line{{0, 0}, {1, 1}, {.ink = Ink::accent, .width = 2.0, .dash = {3.0, 1.5}}});
    items.emplace_back(rectangle({1, 2, 3, 4}, Ink::wood));
    items.emplace_back(Curve{.points = {{0, 0}, {1, 0}, {2, 0}, {3, 0}}, .stroke = {}});
    items.emplace_back(Circle{.centre = {5, 5}, .radius = 2.0, .fill = Ink::ink});
    items.emplace_back(Text{.at = {1, 9}, .text = "5 1/2 in <b>\x01", .anchor = Anchor::middle});
    items.emplace_back(Image{.box = {0, 0, 5, 5}, .png = "not a picture"});
    Group inner{.title = "clipped", .part = "layer", .clipped = true, .clip = {0, 0, 9, 9}};
    inner.items.emplace_back(Line{{0, 0}, {9, 9}, {}});
    add(items, inner);
    for (const bool standalone : {true, false}) {
        const auto text = svg(sheet, {.standalone = standalone});
        CHECK_MESSAGE(made_up::xml_fault(text).empty(), made_up::xml_fault(text));
        CHECK(text.find(">5 1/2 in &lt;b&gt;</text>") != std::string::npos);
        CHECK(text.find("stroke-dasharray=\"3 1.5\"") != std::string::npos);
        CHECK(text.find("clip-path=\"url(#d-c1)\"") != std::string::npos);
        CHECK((text.find("xmlns") != std::string::npos) == standalone);
    }
}

TEST_CASE("a number that is not finite never reaches the SVG") {
    Sheet sheet{.width = 1.0, .height = 1.0, .root = {}};
    sheet.root.items.emplace_back(Line{{0.0, 1.0 / 0.0}, {-0.0, 0.0 / 0.0}, {}});
    const auto text = svg(sheet);
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
    CHECK(text.find("\"-0\"") == std::string::npos);
}
