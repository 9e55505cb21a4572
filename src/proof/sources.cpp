#include "proof/sources.h"

#include <map>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::proof {

namespace {

std::string line_of(const toml::table& row) {
    std::string out;
    for (const auto key : {"authors", "title", "edition", "year", "publisher", "doi"}) {
        const auto* node = row.get(key);
        if (!node) continue;
        std::string text;
        if (const auto* words = node->as_string()) text = words->get();
        if (const auto* whole = node->as_integer()) text = std::to_string(whole->get());
        if (text.empty()) continue;
        out += (out.empty() ? "" : ", ") + (std::string_view(key) == "doi" ? "doi " + text : text);
    }
    return out;
}

const std::map<std::string, std::string, std::less<>>& all() {
    static const auto list = [] {
        std::map<std::string, std::string, std::less<>> rows;
        for (const auto& file : embedded::files()) {
            if (!file.path.starts_with("docs/sources/")) continue;
            const auto parsed = units::parse_toml(file.path, file.bytes);
            if (!parsed) continue;  // sources_test.cpp refuses a malformed list
            for (const auto& [key, row] : *parsed) {
                if (const auto* table = row.as_table()) rows.emplace(std::string(key.str()), line_of(*table));
            }
        }
        return rows;
    }();
    return list;
}

}  // namespace

std::string source_line(std::string_view key) {
    const auto found = all().find(key);
    return found == all().end() ? std::string(key) : found->second;
}

bool has_source(std::string_view key) {
    return all().contains(key);
}

}  // namespace warmside::proof
