// The walls of every example house are framed, each rung of the ladder.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

#include "framing/frame.h"
#include "project/read.h"

using namespace warmside;

namespace {

std::unique_ptr<assembly::House> example(const std::string& file) {
    const char* path = std::getenv("WARMSIDE_SOURCE");
    std::ostringstream all;
    all << std::ifstream(std::string(path ? path : ".") + "/examples/" + file).rdbuf();
    return project::read_house(file, all.str()).house;
}

}  // namespace

TEST_CASE("every wall rung of the example houses is framed") {
    for (const char* file : {"heron-ridge/house.toml", "starter.toml", "assemblies/double-stud.toml",
                             "assemblies/i-joist-wall.toml", "assemblies/truss-wall.toml",
                             "assemblies/l-shaped-house.toml", "assemblies/retrofit.toml", "assemblies/details.toml",
                             "assemblies/roofs.toml", "assemblies/attic-and-crawl-space.toml"}) {
        const auto house = example(file);
        REQUIRE(house);
        for (const auto& ladder : house->ladders) {
            if (ladder.part != assembly::Part::wall) continue;
            for (const std::size_t rung : ladder.rungs) {
                const auto frame = framing::frame_walls(*house, house->assemblies[rung]);
                const std::string text = frame ? std::string("framed") : render(frame.error());
                INFO(file, " ", house->assemblies[rung].name, ": ", text);
                CHECK(frame);
                if (!frame || std::getenv("WARMSIDE_SHOW") == nullptr) continue;
                const auto& f = frame->factor;
                MESSAGE(fmt::format("{} {}: whole {:.4f} field {:.4f} plates {:.4f} corners {:.4f} openings {:.4f}, {} panels",
                                    file, house->assemblies[rung].name, f.whole, f.field, f.plates, f.corners,
                                    f.openings, frame->panels.size()));
                for (const auto& n : frame->notes) MESSAGE(render(n));
            }
        }
    }
}
