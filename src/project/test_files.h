// Files that the tests of this room read, and what they compare; only tests include it.
#pragma once

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <span>
#include <sstream>
#include <string>

#include "base/result.h"
#include "project/fields.h"

namespace warmside::project::test_files {

/// The source tree, as ctest names it; without it the working folder.
inline std::filesystem::path source() {
    const char* folder = std::getenv("WARMSIDE_SOURCE");
    return folder ? folder : ".";
}

inline std::string read_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

/// Problems in the form in which a broken file's last lines expect them.
inline std::string in_one_text(const Problems& problems) {
    std::string out;
    for (const Problem& each : problems) {
        out += fmt::format("#! {}:{}: {}: {}\n", each.where.line, each.where.column, name_of(each.severity),
                           each.what);
        if (!each.suggestion.empty()) out += fmt::format("#!      try: {}\n", each.suggestion);
    }
    return out;
}

inline std::string expectation_in(const std::string& text) {
    std::string out;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with("#!")) out += line + "\n";
    }
    return out;
}

/// The document with each table between its marks replaced by the field table's.
inline std::string with_tables(const std::string& document, std::span<const Chapter> chapters) {
    std::string out = document;
    for (const auto& chapter : chapters) {
        const std::string mark = fmt::format("<!-- fields: {} -->\n", chapter.table);
        const auto begin = out.find(mark);
        if (begin == std::string::npos) return fmt::format("no table of {}", chapter.table);
        const auto from = begin + mark.size();
        const auto end = out.find("<!-- end -->", from);
        if (end == std::string::npos) return fmt::format("no end of {}", chapter.table);
        out = out.substr(0, from) + describe_fields(chapter.table) + out.substr(end);
    }
    return out;
}

/// Puts the tables into the document at `path`.
inline void write_tables(const std::filesystem::path& path, std::span<const Chapter> chapters) {
    const auto document = with_tables(read_file(path), chapters);
    REQUIRE(document.starts_with("# "));
    std::ofstream(path, std::ios::binary) << document;
}

}  // namespace warmside::project::test_files
