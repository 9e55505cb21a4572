#include "app/files.h"

#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>

using namespace warmside;

namespace {
struct Folder {
    std::filesystem::path path = std::filesystem::temp_directory_path() / "warmside_files_test";
    Folder() {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~Folder() { std::filesystem::remove_all(path); }
};
}  // namespace

TEST_CASE("a file is replaced whole and nothing else is left behind") {
    const Folder folder;
    const auto file = (folder.path / "a.txt").string();
    REQUIRE(app::write_file(file, "one"));
    REQUIRE(app::write_file(file, "two"));
    CHECK(*app::read_file(file) == "two");
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path), {}) == 1);
}

TEST_CASE("what a library writes takes its place when all of it is there, else the old file stays alone") {
    const Folder folder;
    const auto file = (folder.path / "a.bin").string();
    REQUIRE(app::write_file(file, "old"));
    const auto failed = app::write_file_with(file, [](const std::string& draft) -> Result<void> {
        std::ofstream(draft) << "half of it";
        return fail(Code::input_output, "no room");
    });
    REQUIRE_FALSE(failed);
    CHECK(failed.error().what == "no room");
    CHECK(*app::read_file(file) == "old");
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path), {}) == 1);
    REQUIRE(app::write_file_with(file, [](const std::string& draft) -> Result<void> {
        std::ofstream(draft) << "new";
        return {};
    }));
    CHECK(*app::read_file(file) == "new");
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path), {}) == 1);
}

TEST_CASE("a new file never overwrites") {
    const Folder folder;
    const auto file = (folder.path / "a.txt").string();
    REQUIRE(app::write_new_file(file, "mine"));
    const auto again = app::write_new_file(file, "theirs");
    REQUIRE_FALSE(again);
    CHECK(again.error().code == Code::conflict);
    CHECK(*app::read_file(file) == "mine");
}

TEST_CASE("what cannot be read or written is a problem in the system's words") {
    const Folder folder;
    CHECK(
        app::read_file((folder.path / "none").string()).error().what.ends_with("No such file or directory"));
    CHECK(app::read_file(folder.path.string()).error().what.ends_with("Is a directory"));
    CHECK_FALSE(app::write_file((folder.path / "no" / "such").string(), "x"));
}
