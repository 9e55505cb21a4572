#include "drawing/heat_figure.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "drawing/contour.h"
#include "drawing/png.h"
#include "drawing/raster.h"
#include "drawing/svg.h"
#include "drawing/viridis.h"
#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

ScalarGrid grid_of(int cells, double (*value)(double, double)) {
    ScalarGrid out;
    for (int i = 0; i <= cells; ++i) {
        out.x.push_back(2.0 * i / cells - 1.0);
        out.y.push_back(2.0 * i / cells - 1.0);
    }
    for (const double y : out.y) {
        for (const double x : out.x) out.value.push_back(value(x, y));
    }
    out.filled.assign(static_cast<std::size_t>(cells * cells), true);
    return out;
}

/// A plane wall of two materials between two airs, x through it, 1 m high.
conduction::Model wall() {
    conduction::Model model{.name = "wall", .environments = {{"inside", 293.15}, {"outside", 253.15}}};
    const auto region = [&](std::string name, double from, double to, double conductivity) {
        conduction::Region r;
        r.name = std::move(name);
        r.shape = conduction::rectangle({from, 0.0}, {to, 1.0});
        r.conductivity = conductivity;
        model.regions.push_back(std::move(r));
    };
    region("in", -0.1, 0.0, 0.0);
    model.regions.back().environment = 0;
    model.regions.back().film = 0.13;
    region("brick", 0.0, 0.2, 0.8);
    region("wool", 0.2, 0.3, 0.04);
    region("out", 0.3, 0.4, 0.0);
    model.regions.back().environment = 1;
    model.regions.back().film = 0.04;
    return model;
}

struct Solved {
    conduction::Model model;
    conduction::Steady solution;
    HeatSubject subject;
    explicit Solved(conduction::Model m) : model(std::move(m)) {
        auto done = conduction::steady(model, {.tolerance = 1e-3, .threads = 1});
        REQUIRE(done);
        solution = std::move(*done);
        subject.model = &model;
        subject.solution = &solution;
        for (const auto& e : model.environments) subject.temperatures.push_back(e.temperature);
        for (const auto& r : model.regions) subject.words.push_back(r.name);
    }
    Solved(const Solved&) = delete;
    Solved& operator=(const Solved&) = delete;
};

std::size_t count(const std::string& text, std::string_view word) {
    std::size_t n = 0;
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++n;
    return n;
}

}  // namespace

TEST_CASE("lines of equal value of a plane are straight, where the plane has it, from edge to edge") {
    const auto lines = contour(grid_of(7, [](double x, double y) { return x + 0.5 * y; }), 0.3);
    REQUIRE(lines.size() == 1);
    for (const Point& p : lines[0]) CHECK(p.x + 0.5 * p.y == doctest::Approx(0.3));
    CHECK(length_of(lines[0]) == doctest::Approx(std::hypot(1.0, 2.0)));
}

TEST_CASE("a closed line ends where it begins, and has the length of the circle that it is") {
    const auto lines = contour(grid_of(200, [](double x, double y) { return x * x + y * y; }), 0.25);
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].front() == lines[0].back());
    CHECK(length_of(lines[0]) == doctest::Approx(std::numbers::pi).epsilon(1e-3));
}

TEST_CASE("where corners alternate there are two lines, that do not meet") {
    for (const double level : {-0.2, 0.2}) {
        const auto lines = contour(grid_of(1, [](double x, double y) { return x * y; }), level);
        REQUIRE(lines.size() == 2);
        CHECK(lines[0].size() == 2);
        CHECK(lines[1].size() == 2);
    }
}

TEST_CASE("a hole breaks a line") {
    auto grid = grid_of(4, [](double x, double) { return x; });
    grid.filled[2 + 4 * 1] = false;  // the line x = 0.1 runs through column 2
    const auto lines = contour(grid, 0.1);
    CHECK(lines.size() == 2);
    CHECK(length_of(lines[0]) + length_of(lines[1]) == doctest::Approx(1.5));
}

TEST_CASE("a line with fewer points stays within the tolerance; straight pieces keep their ends alone") {
    Polyline arc;
    for (int i = 0; i <= 100; ++i) arc.push_back({std::cos(0.01 * i), std::sin(0.01 * i)});
    const auto few = simplified(arc, 1e-3);
    // Halved until the arc's height r (1 - cos(a/2)) is below 1e-3: 16 pieces of 1/16 rad.
    CHECK(few.size() <= 17);
    CHECK(few.front() == arc.front());
    CHECK(few.back() == arc.back());
    CHECK(length_of(few) == doctest::Approx(1.0).epsilon(1e-3));
    CHECK(simplified({{0.0, 0.0}, {1.0, 0.0}, {2.0, 0.0}, {3.0, 0.0}}, 1e-9).size() == 2);
}

TEST_CASE("a line is cut where it leaves, to within the tolerance") {
    const auto parts = kept(
        {{0.0, 0.0}, {1.0, 0.0}, {2.0, 0.0}, {3.0, 0.0}},
        [](const Point& p) { return p.x < 0.3 || (p.x > 1.5 && p.x < 2.6); }, 1e-6);
    REQUIRE(parts.size() == 2);
    CHECK(parts[0].back().x == doctest::Approx(0.3).epsilon(1e-4));
    CHECK(parts[1].front().x == doctest::Approx(1.5).epsilon(1e-4));
    CHECK(parts[1].back().x == doctest::Approx(2.6).epsilon(1e-4));
}

TEST_CASE("a slice of a wall: temperatures and flow are those of layers in series (exact)") {
    const Solved s(wall());
    const Slice slice(s.model, s.solution, s.subject.temperatures, {});
    const double r = 0.13 + 0.2 / 0.8 + 0.1 / 0.04 + 0.04, q = 40.0 / r;
    for (const double x : {0.0, 0.05, 0.199, 0.25, 0.3}) {
        const double through = 0.13 + std::min(x, 0.2) / 0.8 + std::max(0.0, x - 0.2) / 0.04;
        const auto t = slice.temperature({x, 0.37});
        REQUIRE(t);
        CHECK(*t == doctest::Approx(293.15 - q * through).epsilon(1e-6));
    }
    const auto flow = slice.flow({0.11, 0.5});
    REQUIRE(flow);
    CHECK(flow->across == doctest::Approx(q).epsilon(1e-4));
    CHECK(std::abs(flow->up) < 1e-6 * q);
    CHECK(flow->size == doctest::Approx(q).epsilon(1e-4));
    CHECK_FALSE(slice.flow({0.35, 0.5}));
    CHECK(slice.whole().left == 0.0);
    CHECK(slice.whole().right == 0.3);
}

TEST_CASE(
    "edges: two surfaces, one joint of materials, two ends of each material; none where words are the same") {
    const Solved s(wall());
    const Slice slice(s.model, s.solution, s.subject.temperatures, {});
    const auto lengths = [&](const std::vector<std::string>& words, Edge::Kind kind) {
        double sum = 0.0;
        for (const Edge& e : slice.edges(words)) {
            if (e.kind == kind) sum += std::hypot(e.to.x - e.from.x, e.to.y - e.from.y);
        }
        return sum;
    };
    CHECK(lengths(s.subject.words, Edge::Kind::surface) == doctest::Approx(2.0));
    CHECK(lengths(s.subject.words, Edge::Kind::inner) == doctest::Approx(1.0));
    CHECK(lengths(s.subject.words, Edge::Kind::end) == doctest::Approx(0.6));
    CHECK(lengths({"in", "same", "same", "out"}, Edge::Kind::inner) == 0.0);
}

TEST_CASE("the figures of a wall are whole, name what they show, and are the same twice") {
    Solved s(wall());
    s.subject.mark = HeatMark{{0.0, 0.5}, "coldest here"};
    s.subject.critical = 285.0;
    s.subject.critical_words = "some words <&>";
    const std::vector<HeatView> views(1);
    const Caption caption{.title = "A wall & more", .line = "inside 20, outside -20"};
    const auto sheet = temperature_figure(s.subject, views, {.inch_pound_first = false}, caption);
    REQUIRE(sheet);
    const auto text = svg(*sheet);
    CHECK(made_up::xml_fault(text) == "");
    for (const std::string_view word :
         {"brick", "wool", "coldest here", "°C", "200 mm", "some words &lt;&amp;&gt;", "A wall &amp; more"})
        CHECK_MESSAGE(text.find(word) != std::string::npos, word);
    // 20 to -20 in steps of 5: 15 to -15 are within the wall (18.2 on its inner face, -19.5 on its outer),
    // and the critical one.
    const auto begin = text.find("data-part=\"isotherms\""), end = text.find("</g>", begin);
    REQUIRE(begin != std::string::npos);
    CHECK(count(text.substr(begin, end - begin), "f-none s-ink") >= 7);
    CHECK(count(text.substr(begin, end - begin), "f-none s-accent") == 1);
    CHECK(text == svg(*temperature_figure(s.subject, views, {.inch_pound_first = false}, caption)));
    CHECK(picture(*sheet, {.scale = 1.0}));
    CHECK(picture(*sheet, {.scale = 1.0, .dark = true}));

    const auto inch = temperature_figure(s.subject, views, {.inch_pound_first = true}, caption);
    REQUIRE(inch);
    CHECK(svg(*inch).find("°F") != std::string::npos);
}

TEST_CASE("lines of equal heat: as many as the heat needs, one head or more on each") {
    const Solved s(wall());
    const auto sheet = flow_figure(s.subject, std::vector<HeatView>(1), {.inch_pound_first = false}, {});
    REQUIRE(sheet);
    const auto text = svg(*sheet);
    CHECK(made_up::xml_fault(text) == "");
    // 40 K over 2.92 m2 K/W and 1 m of height are 13.7 W/m: 1 W/m a line, 13 lines.
    CHECK(text.find("Each line carries 1 W for a metre of length.") != std::string::npos);
    const auto begin = text.find("data-part=\"flow lines\""), end = text.find("</g>", begin);
    REQUIRE(begin != std::string::npos);
    CHECK(count(text.substr(begin, end - begin), "f-none s-ink") == 13);
    CHECK(count(text.substr(begin, end - begin), "f-ink") >= 13);
    CHECK(text.find("logarithmic") != std::string::npos);
}

TEST_CASE("ground is cropped to what stands in it, and the picture says so") {
    auto model = wall();
    model.regions[1].shape = conduction::rectangle({0.0, 0.0}, {0.2, 1.0});
    conduction::Region soil;
    soil.name = "soil";
    soil.shape = conduction::rectangle({-0.1, -20.0}, {20.0, 0.0});
    soil.conductivity = 2.0;
    model.regions.push_back(soil);
    auto& outside = model.regions[3];
    outside.shape = conduction::rectangle({0.3, 0.0}, {20.0, 1.0});
    const Solved s(std::move(model));
    const auto sheet = temperature_figure(s.subject, std::vector<HeatView>(1), {}, {});
    REQUIRE(sheet);
    CHECK(svg(*sheet).find("The model reaches farther than the picture.") != std::string::npos);
    const Slice slice(s.model, s.solution, s.subject.temperatures, {});
    CHECK(slice.worth_seeing().width() < 4.0);
    CHECK(slice.worth_seeing().height() < 4.0);
}

TEST_CASE("a solid is cut in three planes, each with its title") {
    conduction::Model model{.name = "solid",
                            .geometry = conduction::Geometry::solid,
                            .environments = {{"inside", 293.15}, {"outside", 273.15}}};
    const auto box = [&](std::string name, conduction::Point low, conduction::Point high,
                         double conductivity) {
        conduction::Region r;
        r.name = std::move(name);
        r.shape = conduction::box(low, high);
        r.conductivity = conductivity;
        r.over = true;
        model.regions.push_back(std::move(r));
    };
    box("in", {0, -0.05, 0}, {0.4, 0.0, 0.4}, 0.0);
    model.regions.back().environment = 0;
    model.regions.back().film = 0.13;
    box("wool", {0, 0, 0}, {0.4, 0.1, 0.4}, 0.04);
    box("stud", {0, 0, 0}, {0.02, 0.1, 0.4}, 0.13);
    box("out", {0, 0.1, 0}, {0.4, 0.15, 0.4}, 0.0);
    model.regions.back().environment = 1;
    model.regions.back().film = 0.04;
    const Solved s(std::move(model));
    const std::vector<HeatView> views{{.cut = {1, 0, 0.2}, .title = "plan"},
                                      {.cut = {1, 2, 0.01}, .title = "through the stud"},
                                      {.cut = {0, 2, 0.05}, .title = "face on"}};
    for (const bool flow : {false, true}) {
        const auto sheet =
            flow ? flow_figure(s.subject, views, {}, {}) : temperature_figure(s.subject, views, {}, {});
        REQUIRE(sheet);
        const auto text = svg(*sheet);
        CHECK(made_up::xml_fault(text) == "");
        for (const std::string_view word : {"plan", "through the stud", "face on", "stud", "wool"})
            CHECK_MESSAGE(text.find(word) != std::string::npos, word);
    }
    // Only the stud stands in the plane through it.
    const Slice slice(s.model, s.solution, s.subject.temperatures, views[1].cut);
    CHECK(s.subject.words[slice.region_at({0.05, 0.2})] == "stud");
}

TEST_CASE("a picture with clear pixels lets the paper through, and so does a share of opacity") {
    const std::vector<std::uint8_t> pixels{10, 255};
    const auto image = png(2, 1, pixels, viridis, 255);
    REQUIRE(image);
    Sheet sheet{.width = 20.0, .height = 10.0, .root = {}};
    sheet.root.items.emplace_back(Image{.box = {0.0, 0.0, 20.0, 10.0}, .png = *image, .opacity = 0.5});
    CHECK(svg(sheet).find("opacity=\"0.5\"") != std::string::npos);
    CHECK(picture(sheet, {.scale = 1.0}));
}
