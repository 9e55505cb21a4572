#include "drawing/plot.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "climate/year.h"
#include "drawing/carpet_figure.h"
#include "drawing/made_up.h"
#include "drawing/svg.h"
#include "drawing/type.h"
#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

constexpr float none = std::numeric_limits<float>::quiet_NaN();

/// All items of a sheet, groups opened.
template <class T>
void collect(const std::vector<Item>& items, std::vector<T>& out) {
    for (const auto& item : items) {
        if (const auto* it = std::get_if<T>(&item)) out.push_back(*it);
        if (const auto* group = std::get_if<std::shared_ptr<const Group>>(&item))
            collect((*group)->items, out);
    }
}
template <class T>
std::vector<T> all(const Sheet& sheet) {
    std::vector<T> out;
    collect(sheet.root.items, out);
    return out;
}

Box box_of(const Text& t) {
    const double width = width_of(t.text, t.font, t.size);
    const double left = t.at.x - (t.anchor == Anchor::end      ? width
                                  : t.anchor == Anchor::middle ? width / 2.0
                                                               : 0.0);
    // Capitals and figures; what hangs below the line may touch the next one.
    return {left, t.at.y - 0.7 * t.size, width, 0.7 * t.size};
}

void check_texts(const Sheet& sheet) {
    const auto texts = all<Text>(sheet);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Box a = box_of(texts[i]);
        CHECK_MESSAGE(a.x >= -0.5, texts[i].text);
        CHECK_MESSAGE(a.right() <= sheet.width + 0.5, texts[i].text);
        CHECK_MESSAGE(a.bottom() <= sheet.height + 0.5, texts[i].text);
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            const Box b = box_of(texts[j]);
            const bool apart = a.right() <= b.x || b.right() <= a.x || a.bottom() <= b.y || b.bottom() <= a.y;
            CHECK_MESSAGE(apart, texts[i].text << " | " << texts[j].text);
        }
    }
}

std::vector<LayerLine> wavy(const assembly::Assembly& a, int values) {
    std::vector<LayerLine> lines;
    for (std::size_t i = a.layers.size(); i-- > 0;) {
        if (a.layers[i].kind != assembly::Layer::Kind::material) continue;
        LayerLine line{
            .layer = i, .name = a.layers[i].title(), .unit = "% of dry mass", .mean = {}, .wettest = {}};
        for (int k = 0; k < values; ++k) {
            line.mean.push_back(static_cast<float>(12.0 + 3.0 * std::sin(0.1 * k)));
            line.wettest.push_back(static_cast<float>(17.0 + 11.0 * std::sin(0.1 * k)));
        }
        line.watch = 20.0;
        line.wet = 26.0;
        lines.push_back(line);
    }
    return lines;
}

const Caption caption{.title = "w3: made up", .line = "for a test", .word = "wet", .accent = true};

}  // namespace

TEST_CASE("a plot of layers: nothing leaves the sheet, no two texts overlap, wet parts are in accent") {
    const auto house = made_up::house();
    for (const auto& a : house.assemblies) {
        const auto lines = wavy(a, 156);
        for (const double width : {640.0, 900.0}) {
            const auto sheet = layer_plot(a, moisture::Path::bay, lines, 6552, 3 * climate::hours_in_year,
                                          {.width = width}, caption);
            check_texts(sheet);
            for (const auto& polygon : all<Polygon>(sheet)) {
                for (const auto& p : polygon.points) {
                    CHECK(p.x >= 0.0);
                    CHECK(p.x <= sheet.width);
                    CHECK(p.y >= 0.0);
                    CHECK(p.y <= sheet.height);
                }
            }
            const auto text = svg(sheet, {.fonts = font_rules({Font::body})});
            CHECK_MESSAGE(made_up::xml_fault(text).empty(), made_up::xml_fault(text));
            for (const char* words :
                 {"settled year", "dry ends at 20", "wet begins at 26", "data-part=\"over\""})
                CHECK_MESSAGE(text.find(words) != std::string::npos, words);
        }
    }
}

TEST_CASE("values that are not finite leave a gap; none at all says so") {
    const auto house = made_up::house();
    const auto& a = house.assemblies[0];
    LayerLine line{.layer = 0,
                   .name = "board",
                   .unit = "kg/m3",
                   .mean = {1, 2, none, 4, 5},
                   .wettest = {1, 2, none, 4, 5}};
    const auto pieces = [&](const LayerLine& l) {
        std::size_t open = 0;
        for (const auto& p :
             all<Polygon>(layer_plot(a, moisture::Path::bay, std::span(&l, 1), 0, 8760, {}, caption)))
            open += !p.closed && p.stroke.ink == Ink::ink && p.points.size() == 2 ? 1 : 0;
        return open;
    };
    CHECK(pieces(line) == 2);
    line.mean = line.wettest = {none, none};
    const auto sheet = layer_plot(a, moisture::Path::bay, std::span(&line, 1), 0, 8760, {}, caption);
    CHECK(svg(sheet).find("no values") != std::string::npos);
}

TEST_CASE("one layer, a metre of wall, equal values, no hours and no layers are drawn without fault") {
    auto house = made_up::house();
    auto& a = house.assemblies[1];
    a.layers[2].thickness = made_up::mm(1000);
    const LayerLine flat{
        .layer = 2, .name = "wool", .unit = "kg/m3", .mean = {0, 0, 0}, .wettest = {0, 0, 0}};
    for (const int hours : {0, 8760}) {
        const auto sheet = layer_plot(a, moisture::Path::framing, std::span(&flat, 1), 0, hours, {}, caption);
        check_texts(sheet);
        CHECK(made_up::xml_fault(svg(sheet)).empty());
    }
    const auto empty = layer_plot(a, moisture::Path::bay, {}, 0, 0, {}, caption);
    CHECK(made_up::xml_fault(svg(empty)).empty());
    CHECK(empty.height > 50.0);
}

TEST_CASE(
    "layers are given from outside to inside, wood as share of its dry mass with the limits of the method") {
    const auto house = made_up::house();
    auto a = house.assemblies[0];
    auto osb = *a.layers[3].material;
    osb.is_wood = true;
    osb.density = 600.0;
    a.layers[3].material = &osb;
    const std::vector<moisture::LayerMoisture> layers{{.layer = 0, .moisture = {3.0F}, .wettest = {4.0F}},
                                                      {.layer = 3, .moisture = {60.0F}, .wettest = {120.0F}}};
    const auto lines = layer_lines(a, moisture::Path::bay, layers);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].layer == 3);
    CHECK(lines[0].mean[0] == doctest::Approx(10.0));
    CHECK(lines[0].wettest[0] == doctest::Approx(20.0));
    // design.md, "When is it dry": wood moisture content 20 % and 26 %.
    CHECK(lines[0].watch == doctest::Approx(20.0));
    CHECK(lines[0].wet == doctest::Approx(26.0));
    CHECK(lines[1].unit == "kg/m\u00b3");
    CHECK(lines[1].mean[0] == 3.0F);
    CHECK(lines[1].watch == 0.0);
}

TEST_CASE("a carpet with names: every layer is named within the sheet, no text on another") {
    const auto house = made_up::house(8);
    for (const auto& a : house.assemblies) {
        moisture::Carpet c{.columns = 156, .rows = 4, .depth = {0.05F, 0.1F, 0.15F, 0.2F}};
        c.relative_humidity.assign(156 * 4, 0.7F);
        c.temperature.assign(156 * 4, 280.0F);
        for (const auto field : {Field::relative_humidity, Field::temperature}) {
            const auto sheet =
                carpet_figure(c, a, moisture::Path::bay, field, 6552, 3 * climate::hours_in_year, {},
                              Mark{.time = 0.999, .depth = 0.1, .words = "mould index at the end"}, caption);
            REQUIRE(sheet);
            check_texts(*sheet);
            const auto text = svg(*sheet);
            CHECK_MESSAGE(made_up::xml_fault(text).empty(), made_up::xml_fault(text));
            CHECK(text.find("mould index at the end") != std::string::npos);
        }
    }
    CHECK_FALSE(carpet_figure({}, house.assemblies[0], moisture::Path::bay, Field::temperature, 0, 8760, {},
                              {}, caption));
}
