// Each file of broken/ ends with the exact problems that it has, one `#!` line for each line of them.
#include <doctest/doctest.h>

#include <filesystem>

#include "project/read.h"
#include "project/test_files.h"

using namespace warmside;
using namespace warmside::project::test_files;

TEST_CASE("each broken house file gets exactly the messages written at its end") {
    const auto folder = source() / "src/project/broken";
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        if (entry.path().extension() != ".toml") continue;
        ++files;
        const std::string text = read_file(entry.path());
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
