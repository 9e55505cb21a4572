#include "drawing/elevation.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "drawing/cut_list.h"
#include "drawing/label.h"
#include "drawing/raster.h"
#include "drawing/svg.h"
#include "drawing/type.h"
#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;
using framing::Member;
using framing::Panel;
using framing::Role;
using units::Exact;

namespace {

constexpr Exact quarter(std::int64_t n) {
    return Exact::sixty_fourths_of_inch(16 * n);
}

/// Panel P1 of our reference notes, by hand: a wall of 24 ft x 97 1/2 in, a door and two windows, studs at 16
/// in. Lengths in quarters of an inch.
struct Wall {
    Panel panel;
    assembly::Face face;
    std::map<std::string, int> numbers;

    void put(Role role, std::int64_t u, std::int64_t v, std::int64_t width, std::int64_t height, int along,
             std::int64_t w = 0, std::int64_t depth = 22) {
        Member m{.role = role, .section = {.name = "2x6"}, .along = along};
        m.box.low = {quarter(u), quarter(v), quarter(w)};
        m.box.high = {quarter(u + width), quarter(v + height), quarter(w + depth)};
        m.length = quarter(along == 0 ? width : height);
        m.mark = std::string(framing::mark_of(role)) + std::to_string(++numbers[framing::mark_of(role)]);
        panel.members.push_back(m);
    }

    void opening(std::string name, bool door, std::int64_t left, std::int64_t width, std::int64_t sill,
                 std::int64_t height) {
        assembly::Opening o{.name = std::move(name)};
        if (door) o.kind = assembly::Opening::Kind::door;
        o.left = quarter(left);
        o.width = quarter(width);
        o.sill = quarter(sill);
        o.height = quarter(height);
        face.openings.push_back(o);
        for (const std::int64_t x : {left - 12, left + width + 6}) put(Role::king, x, 6, 6, 372, 1);
        for (const std::int64_t x : {left - 6, left + width}) put(Role::jack, x, 6, 6, 343, 1);
        for (const std::int64_t w : {0, 6}) put(Role::header, left - 6, 349, width + 12, 29, 0, w, 6);
        if (door) return;
        put(Role::sill, left, sill - 6, width, 6, 0);
        put(Role::cripple_below, left, 6, 6, sill - 12, 1);
        put(Role::cripple_below, left + width - 6, 6, 6, sill - 12, 1);
    }

    Wall() {
        panel.name = "P1";
        panel.length = quarter(1152);
        panel.height = quarter(390);
        put(Role::bottom_plate, 0, 0, 1152, 6, 0);
        put(Role::top_plate, 0, 378, 1152, 6, 0);
        put(Role::top_plate, 0, 384, 1152, 6, 0);
        put(Role::stud, 0, 6, 6, 372, 1);
        put(Role::stud, 1146, 6, 6, 372, 1);
        for (const std::int64_t at : {16, 64, 80, 96, 144, 160, 176, 192, 272})
            put(Role::stud, 4 * at - 3, 6, 6, 372, 1);
        opening("door", true, 82, 154, 0, 330);
        opening("window 1", false, 400, 144, 157, 192);
        opening("window 2", false, 784, 240, 157, 192);
        put(Role::header_filler, 82, 330, 154, 6, 0);
        for (const std::int64_t x : {95, 159}) put(Role::cripple_above, x, 336, 6, 13, 1);
        for (const std::int64_t at : {112, 128}) put(Role::cripple_below, 4 * at - 3, 6, 6, 145, 1);
        put(Role::blocking, 262, 186, 55, 6, 0);
        for (const int k : {0, 1, 2}) put(Role::furring, 0, 90 + 90 * k, 1152, 6, 0, -10, 6);
        panel.members.push_back({.role = Role::buck, .mark = "BK1"});
    }
};

void texts_of(const std::vector<Item>& items, std::vector<Text>& out) {
    for (const Item& item : items) {
        if (const auto* text = std::get_if<Text>(&item)) out.push_back(*text);
        if (const auto* group = std::get_if<std::shared_ptr<const Group>>(&item))
            texts_of((*group)->items, out);
    }
}

void groups_of(const std::vector<Item>& items, std::string_view part, std::vector<const Group*>& out) {
    for (const Item& item : items) {
        if (const auto* group = std::get_if<std::shared_ptr<const Group>>(&item)) {
            if ((*group)->part == part) out.push_back(group->get());
            groups_of((*group)->items, part, out);
        }
    }
}

Box hull(const Polygon& polygon) {
    Box box{polygon.points[0].x, polygon.points[0].y, 0.0, 0.0};
    for (const Point& p : polygon.points) {
        box.width = std::max(box.width, p.x - box.x);
        box.height = std::max(box.height, p.y - box.y);
    }
    return box;
}

void check_texts(const Sheet& sheet) {
    std::vector<Text> texts;
    texts_of(sheet.root.items, texts);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Box box = box_of(texts[i]);
        INFO(texts[i].text);
        CHECK(box.x >= -0.5);
        CHECK(box.right() <= sheet.width + 0.5);
        CHECK(box.y >= -0.5);
        CHECK(box.bottom() <= sheet.height + 0.5);
        for (std::size_t k = i + 1; k < texts.size(); ++k) {
            INFO(texts[k].text);
            CHECK_FALSE(overlap(box, box_of(texts[k])));
        }
    }
}

/// For a look by eye: WARMSIDE_LOOK names a folder.
void look(const Sheet& sheet, const std::string& name) {
    const char* folder = std::getenv("WARMSIDE_LOOK");
    if (!folder) return;
    for (const bool dark : {false, true}) {
        const auto png = picture(sheet, {.scale = 1.5, .dark = dark});
        REQUIRE(png);
        std::ofstream(std::filesystem::path(folder) / (name + (dark ? "_dark.png" : ".png"))) << *png;
    }
}

}  // namespace

TEST_CASE("every member of the frame is drawn once, to one scale, at its place") {
    const Wall wall;
    const Sheet sheet = elevation(wall.panel, &wall.face, {}, {.title = "wall", .line = "line"});
    look(sheet, "p1");
    std::vector<const Group*> drawn;
    groups_of(sheet.root.items, "member", drawn);
    const auto members = members_shown(wall.panel, Shown::frame);
    REQUIRE(drawn.size() == members.size());
    const Box first = hull(std::get<Polygon>(drawn[0]->items[0]));
    const double scale = first.width / members[0]->box.size(0).metres();
    const double left = first.x - members[0]->box.low[0].metres() * scale;
    const double floor = first.bottom() + members[0]->box.low[1].metres() * scale;
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        const Box box = hull(std::get<Polygon>(drawn[i]->items[0]));
        const auto& m = *members[i];
        INFO(drawn[i]->title);
        CHECK(drawn[i]->title.starts_with(m.mark + " "));
        CHECK(box.width == doctest::Approx(m.box.size(0).metres() * scale).epsilon(1e-9));
        CHECK(box.height == doctest::Approx(m.box.size(1).metres() * scale).epsilon(1e-9));
        CHECK(box.x == doctest::Approx(left + m.box.low[0].metres() * scale).epsilon(1e-9));
        CHECK(box.bottom() == doctest::Approx(floor - m.box.low[1].metres() * scale).epsilon(1e-9));
    }
}

TEST_CASE("every mark stands on the drawing once, and no words lie over others") {
    const Wall wall;
    for (const bool inches : {true, false}) {
        for (const Shown shown : {Shown::frame, Shown::furring}) {
            const Sheet sheet =
                elevation(wall.panel, &wall.face, {.inch_pound_first = inches, .shown = shown},
                          {.title = "wall", .line = "line"});
            std::vector<const Group*> groups;
            groups_of(sheet.root.items, "marks", groups);
            std::vector<Text> texts;
            for (const Group* group : groups) texts_of(group->items, texts);
            std::multiset<std::string> words;
            for (const Text& text : texts) {
                for (std::size_t from = 0; from < text.text.size();) {
                    const std::size_t end = std::min(text.text.find(", ", from), text.text.size());
                    words.insert(text.text.substr(from, end - from));
                    from = end + 2;
                }
            }
            for (const Member* m : members_shown(wall.panel, shown)) {
                INFO(m->mark);
                CHECK(words.count(m->mark) == 1);
            }
            check_texts(sheet);
        }
    }
}

TEST_CASE("the drawing is well-formed, says from where it is seen, and is the same every time") {
    const Wall wall;
    const Caption caption{.title = "wall <P1> & more", .line = "line"};
    const std::string text = svg(elevation(wall.panel, &wall.face, {}, caption));
    CHECK(made_up::xml_fault(text).empty());
    CHECK(text.find("Seen from outside") != std::string::npos);
    CHECK(text == svg(elevation(wall.panel, &wall.face, {}, caption)));
    Panel floor = wall.panel;
    floor.kind = Panel::Kind::floor;
    CHECK(svg(elevation(floor, nullptr, {}, caption)).find("Plan seen from above") != std::string::npos);
}

TEST_CASE("dimensions give the whole, the openings, and steps of the layout drawn together") {
    const Wall wall;
    const Sheet sheet = elevation(wall.panel, &wall.face, {}, {.title = "wall", .line = "line"});
    std::vector<Text> texts;
    texts_of(sheet.root.items, texts);
    const auto has = [&](std::string_view words) {
        return std::any_of(texts.begin(), texts.end(), [&](const Text& t) { return t.text == words; });
    };
    CHECK(has("24 ft"));
    CHECK(has("8 ft 1 1/2 in"));
    CHECK(has("3 × 16 in"));      // 144, 160, 176, 192
    CHECK(has("2 × 16 in"));      // 64, 80, 96
    CHECK(has("36 in × 48 in"));  // window 1
    const Sheet metric =
        elevation(wall.panel, &wall.face, {.inch_pound_first = false}, {.title = "wall", .line = "line"});
    texts.clear();
    texts_of(metric.root.items, texts);
    CHECK(has("7315 mm"));
    CHECK(has("914 mm × 1219 mm"));
}

TEST_CASE("the cut list sums equal pieces and draws runs of marks together") {
    const Wall wall;
    const auto rows = cut_list(members_shown(wall.panel, Shown::frame));
    int pieces = 0;
    for (const CutRow& row : rows) pieces += row.count;
    CHECK(pieces == static_cast<int>(members_shown(wall.panel, Shown::frame).size()));
    const auto studs =
        std::find_if(rows.begin(), rows.end(), [](const CutRow& r) { return r.role == Role::stud; });
    REQUIRE(studs != rows.end());
    CHECK(studs->count == 11);  // two end studs and nine commons, counted by hand
    CHECK(studs->length.metres() == doctest::Approx(93 * 0.0254));
    CHECK(marks_text(studs->marks) == "S1-S11");
    const std::vector<std::string> marks{"S1", "S2", "S4", "S5", "S6", "K1"};
    CHECK(marks_text(marks) == "S1, S2, S4-S6, K1");
}

TEST_CASE(
    "boxes stand at their place with mark, caution and a ring that is filled where they pierce the airtight "
    "layer") {
    Wall wall;
    for (const std::int64_t at : {262, 650, 1100}) {
        framing::WallBox box;
        box.mark = "E" + std::to_string(wall.panel.boxes.size() + 1);
        box.name = "made-up box";
        box.box = {{quarter(at), quarter(58), quarter(0)}, {quarter(at + 8), quarter(70), quarter(14)}};
        box.pierces_airtight = at != 650;
        wall.panel.boxes.push_back(box);
    }
    const Sheet sheet = elevation(wall.panel, &wall.face, {}, {.title = "wall", .line = "line"});
    look(sheet, "boxes");
    check_texts(sheet);
    std::vector<const Group*> drawn, members;
    groups_of(sheet.root.items, "box", drawn);
    groups_of(sheet.root.items, "member", members);
    REQUIRE(drawn.size() == 3);
    const auto& plate = *members_shown(wall.panel, Shown::frame)[0];
    const double scale = hull(std::get<Polygon>(members[0]->items[0])).width / plate.box.size(0).metres();
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        const Box outline = hull(std::get<Polygon>(drawn[i]->items[0]));
        CHECK(outline.width ==
              doctest::Approx(wall.panel.boxes[i].box.size(0).metres() * scale).epsilon(1e-9));
        const auto& ring = std::get<Circle>(drawn[i]->items[1]);
        CHECK((ring.fill == Ink::accent) == wall.panel.boxes[i].pierces_airtight);
        REQUIRE(drawn[i]->items.size() == 3);
        CHECK(std::get<Text>(drawn[i]->items[2]).text == wall.panel.boxes[i].mark);
    }
    std::vector<Text> texts;
    texts_of(sheet.root.items, texts);
    CHECK(std::any_of(texts.begin(), texts.end(), [](const Text& text) {
        return text.text.find("licensed electrician") != std::string::npos;
    }));
    const Sheet battens =
        elevation(wall.panel, &wall.face, {.shown = Shown::battens}, {.title = "wall", .line = "line"});
    drawn.clear();
    groups_of(battens.root.items, "box", drawn);
    CHECK(drawn.empty());
}

TEST_CASE("the cut list names the grade of each row and once what all lumber has in common") {
    std::vector<CutRow> rows(3);
    rows[0].lumber = "spruce-pine-fir Stud";
    rows[1].lumber = "spruce-pine-fir No. 2";
    CHECK(common_lumber(rows) == "spruce-pine-fir");  // a row without lumber says nothing
    rows[2].lumber = "spruce No. 2";
    CHECK(common_lumber(rows).empty());
    Wall wall;
    for (Member& m : wall.panel.members)
        m.lumber = m.role == Role::stud ? "spruce-pine-fir Stud" : "spruce-pine-fir No. 2";
    std::vector<Text> texts;
    texts_of(elevation(wall.panel, &wall.face, {}, {.title = "wall", .line = "line"}).root.items, texts);
    const auto list = cut_list(members_shown(wall.panel, Shown::frame));
    const std::string common = common_lumber(list);
    REQUIRE_FALSE(common.empty());
    CHECK(std::any_of(texts.begin(), texts.end(), [&](const Text& t) { return t.text == common; }));
    for (const CutRow& row : list) {
        if (row.lumber == common) continue;
        const std::string words = row.section + " " + row.lumber.substr(common.size() + 1);
        CHECK(std::any_of(texts.begin(), texts.end(), [&](const Text& t) { return t.text == words; }));
    }
}

TEST_CASE("the size of a narrow opening takes two lines and is not cut short") {
    Wall wall;
    wall.face.openings[0].width = quarter(80);
    wall.face.openings[0].height = quarter(331);
    std::vector<Text> texts;
    texts_of(elevation(wall.panel, &wall.face, {}, {.title = "wall", .line = "line"}).root.items, texts);
    const auto has = [&](std::string_view words) {
        return std::any_of(texts.begin(), texts.end(), [&](const Text& t) { return t.text == words; });
    };
    CHECK(has("20 in ×"));
    CHECK(has("82 3/4 in"));
    CHECK_FALSE(has("20 in × 82 3/4 in"));
}

TEST_CASE("notes explain what is drawn, and only that") {
    const Wall wall;
    const Caption caption{.title = "wall", .line = "line"};
    const std::string with = svg(elevation(wall.panel, &wall.face, {}, caption));
    CHECK(with.find("coloured outline: rough opening") != std::string::npos);
    CHECK(with.find("to the edges of rough openings") != std::string::npos);
    Panel roof;
    roof.kind = Panel::Kind::roof;
    roof.length = quarter(400);
    roof.height = quarter(380);
    const std::string without = svg(elevation(roof, nullptr, {}, caption));
    CHECK(without.find("rough opening") == std::string::npos);
    CHECK(without.find("layout") == std::string::npos);
    CHECK(without.find("The trusses below this plane") != std::string::npos);
}

TEST_CASE("an empty panel is drawn without members") {
    Panel panel;
    panel.length = quarter(400);
    panel.height = quarter(380);
    const Sheet sheet = elevation(panel, nullptr, {}, {.title = "wall", .line = "line"});
    CHECK(made_up::xml_fault(svg(sheet)).empty());
    CHECK(sheet.width > 0.0);
}
