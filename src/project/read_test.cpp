#include "project/read.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

using namespace warmside;

namespace {

std::string source_folder() {
    const char* folder = std::getenv("WARMSIDE_SOURCE");
    return folder ? folder : ".";
}

std::string read_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

std::string rendered(const Problems& problems, std::string_view text) {
    std::string out;
    for (const Problem& each : problems) out += render(each, text);
    return out;
}

}  // namespace

TEST_CASE("every example reads without an error or a warning") {
    int files = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(source_folder() + "/examples")) {
        // examples/details has files of another kind (detail.h).
        if (entry.path().extension() != ".toml" || entry.path().parent_path().filename() == "details")
            continue;
        ++files;
        const auto text = read_file(entry.path());
        const auto reading = project::read_house(entry.path().filename().string(), text);
        INFO(rendered(reading.problems, text));
        CHECK(reading.house);
        for (const Problem& each : reading.problems) CHECK(each.severity == Severity::note);
    }
    CHECK(files >= 1);
}
