// Each file of broken/ ends with the exact problems that it has, one `#!` line for each line of them.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "project/read.h"

using namespace warmside;

namespace {

std::string in_one_text(const Problems& problems) {
    std::string out;
    for (const Problem& each : problems) {
        out += fmt::format("#! {}:{}: {}: {}\n", each.where.line, each.where.column, name_of(each.severity),
                           each.what);
        if (!each.suggestion.empty()) out += fmt::format("#!      try: {}\n", each.suggestion);
    }
    return out;
}

std::string expectation_in(const std::string& text) {
    std::string out;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("#!")) out += line + "\n";
    }
    return out;
}

}  // namespace

TEST_CASE("each broken house file gets exactly the messages written at its end") {
    const char* source = std::getenv("WARMSIDE_SOURCE");
    const std::filesystem::path folder = std::filesystem::path(source ? source : ".") / "src/project/broken";
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        if (entry.path().extension() != ".toml") continue;
        ++files;
        std::ifstream in(entry.path(), std::ios::binary);
        std::ostringstream all;
        all << in.rdbuf();
        const std::string text = all.str();
        const auto reading = project::read_house(entry.path().filename().string(), text);
        INFO(entry.path().filename().string());
        CHECK(in_one_text(reading.problems) == expectation_in(text));
        CHECK_FALSE(reading.problems.empty());
        CHECK((reading.house != nullptr) == usable(reading.problems));
        for (const Problem& each : reading.problems)
            CHECK(each.where.file == entry.path().filename().string());
    }
    CHECK(files >= 50);
}
