#include <algorithm>
#include <cassert>
#include <cctype>

#include "base/embedded.h"
#include "material/material.h"
#include "material/read.h"

namespace warmside::material {

namespace {

bool same(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](unsigned char x, unsigned char y) { return std::tolower(x) == std::tolower(y); });
}

template <class T>
const T* find(const std::vector<T>& rows, std::string_view name) {
    for (const T& row : rows) {
        if (same(row.name, name)) return &row;
    }
    for (const T& row : rows) {
        if (std::any_of(row.aliases.begin(), row.aliases.end(),
                        [&](const auto& alias) { return same(alias, name); })) {
            return &row;
        }
    }
    return nullptr;
}

template <class T>
std::vector<std::string> names(const std::vector<T>& rows) {
    std::vector<std::string> out;
    for (const T& row : rows) {
        out.push_back(row.name);
        out.insert(out.end(), row.aliases.begin(), row.aliases.end());
    }
    return out;
}

}  // namespace

const Material* Catalogue::material(std::string_view name) const {
    return find(materials, name);
}
const Membrane* Catalogue::membrane(std::string_view name) const {
    return find(membranes, name);
}

const Lumber* Catalogue::member(std::string_view name) const {
    for (const Lumber& stick : lumber) {
        if (same(stick.name, name)) return &stick;
    }
    return nullptr;
}

std::vector<std::string> Catalogue::material_names() const {
    return names(materials);
}
std::vector<std::string> Catalogue::membrane_names() const {
    return names(membranes);
}

std::vector<std::string> Catalogue::member_names() const {
    std::vector<std::string> out;
    out.reserve(lumber.size());
    for (const Lumber& stick : lumber) out.push_back(stick.name);
    return out;
}

const Catalogue& built_in() {
    static const Catalogue all = [] {
        Catalogue catalogue;
        Problems problems;
        for (const embedded::File& file : embedded::files()) {
            if (!file.path.starts_with("data/materials/")) continue;
            read_catalogue(file.path, file.bytes, Origin::Kind::catalogue, catalogue, problems);
        }
        assert(usable(problems));
        return catalogue;
    }();
    return all;
}

}  // namespace warmside::material
