// Every example with a ladder of walls is framed, ordered and priced with the demo book, each rung of it.
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>

#include "framing/frame.h"
#include "project/read.h"
#include "takeoff/cost.h"
#include "takeoff/quantities.h"

using namespace warmside;

namespace {

using units::Exact;

/// A storey of 8 x 6 m with a window and a door, for examples that hold assemblies alone.
void add_walls(assembly::House& house) {
    const auto mm = [](std::int64_t n) { return Exact::millimetres(n); };
    const std::vector<assembly::Point> outline{
        {mm(0), mm(0)}, {mm(8000), mm(0)}, {mm(8000), mm(6000)}, {mm(0), mm(6000)}};
    house.storeys.push_back({.name = "ground", .height = mm(2470), .outline = outline});
    for (std::size_t i = 0; i < outline.size(); ++i) {
        assembly::Face face{.name = fmt::format("edge {}", i + 1),
                            .storey = "ground",
                            .from = outline[i],
                            .to = outline[(i + 1) % outline.size()],
                            .height = mm(2470)};
        if (i == 0)
            face.openings = {
                {.name = "window", .width = mm(1200), .height = mm(1200), .left = mm(1500), .sill = mm(800)},
                {.name = "door",
                 .kind = assembly::Opening::Kind::door,
                 .width = mm(980),
                 .height = mm(2095),
                 .left = mm(5000)}};
        house.faces.push_back(std::move(face));
    }
}

void price_rungs(const std::string& file, assembly::House& house, int& rungs) {
    if (house.faces.empty()) add_walls(house);
    const auto& book = takeoff::demo_prices();
    const assembly::Assembly* from = nullptr;
    std::optional<takeoff::Cost> before;
    for (const auto& ladder : house.ladders) {
        if (ladder.part != assembly::Part::wall) continue;
        for (const std::size_t index : ladder.rungs) {
            const assembly::Assembly& to = house.assemblies[index];
            INFO(file, " ", to.name);
            const auto frame = framing::frame(house, to);
            REQUIRE(frame);
            const auto order = takeoff::order_of(house, to, *frame);
            REQUIRE_MESSAGE(order.has_value(), (order ? "" : order.error().what));
            auto cost = takeoff::cost_of(house, to, *frame, *order, book);
            if (!cost)
                for (const Problem& p : cost.error()) FAIL_CHECK(p.what);
            if (!cost) continue;
            CHECK(cost->total > 0.0);
            CHECK(cost->demo);
            if (before) {
                const auto step = takeoff::step_cost(house, *from, *before, to, *cost, book);
                if (!step)
                    for (const Problem& p : step.error()) FAIL_CHECK(p.what);
                double sum = 0.0;
                if (step)
                    for (const auto* lines : {&step->lines, &step->knock_on})
                        for (const auto& line : *lines) sum += line.money;
                if (step) CHECK(step->total == doctest::Approx(sum).epsilon(1e-10));
            }
            from = &to;
            before = std::move(*cost);
            ++rungs;
        }
    }
}

}  // namespace

TEST_CASE("the demo book prices every wall rung of every example, and the steps between them") {
    const char* source = std::getenv("WARMSIDE_SOURCE");
    const std::filesystem::path examples = std::filesystem::path(source ? source : ".") / "examples";
    int rungs = 0, files = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(examples)) {
        if (entry.path().extension() != ".toml" || entry.path().parent_path().filename() == "details")
            continue;
        std::ifstream in(entry.path());
        const std::string name = entry.path().filename().string();
        const auto reading = project::read_house(name, std::string(std::istreambuf_iterator<char>(in), {}));
        REQUIRE_MESSAGE(reading.house, name);
        ++files;
        price_rungs(name, *reading.house, rungs);
    }
    MESSAGE(files << " example houses, " << rungs << " wall rungs priced");
    CHECK(files >= 11);
    CHECK(rungs == 21);
}
