// Clear-field values of every assembly of the examples.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/what.h"
#include "project/read.h"
#include "thermal/repeating.h"

using namespace warmside;

namespace {

std::vector<std::filesystem::path> examples() {
    const char* source = std::getenv("WARMSIDE_SOURCE");
    REQUIRE(source);
    std::vector<std::filesystem::path> out;
    for (const auto& entry :
         std::filesystem::recursive_directory_iterator(std::filesystem::path(source) / "examples")) {
        // examples/details has files of another kind.
        if (entry.path().extension() == ".toml" && entry.path().parent_path().filename() != "details")
            out.push_back(entry.path());
    }
    std::sort(out.begin(), out.end());
    return out;
}

std::string text_of(const std::filesystem::path& path) {
    std::ostringstream out;
    out << std::ifstream(path).rdbuf();
    return out.str();
}

void bracketed(const assembly::Assembly& a, const thermal::States& states) {
    const auto both = thermal::limits(thermal::cell_of(a, states));
    REQUIRE(both);
    const auto solved = thermal::cell_u(a, states, thermal::Include::all, {.threads = 1});
    REQUIRE_MESSAGE(solved, what_of(solved));
    CHECK(1.0 / solved->u <= both->upper * (1.0 + solved->error + 1e-9));
    CHECK(1.0 / solved->u >= both->lower * (1.0 - solved->error - 1e-9));
}

}  // namespace

TEST_CASE("every assembly of the examples: the limits bracket the cell, by ISO 6946 and by the handbook") {
    std::size_t count = 0;
    for (const auto& path : examples()) {
        const auto reading = project::read_house(path.filename().string(), text_of(path));
        if (!reading.house) continue;  // pieces that other files take in
        for (const auto& a : reading.house->assemblies) {
            CAPTURE(path.string());
            CAPTURE(a.name);
            const auto winter = thermal::winter_states(a, {.inside = 294.15, .outside = 263.15});
            REQUIRE(winter);
            bracketed(a, *winter);
            if (thermal::on_ground(a)) continue;
            const auto handbook = thermal::handbook_states(a);
            REQUIRE(handbook);
            bracketed(a, *handbook);
            ++count;
        }
    }
    CHECK(count > 10);
}
