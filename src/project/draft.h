// A house under reading: what the parts of the reader share.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>

#include "assembly/assembly.h"
#include "project/section.h"
#include "units/toml.h"

namespace warmside::project {

/// What every reader keeps: its problems, and what could not be parsed.
struct Notes {
    Problems& problems;
    /// Tables whose text does not parse ("assembly.w2"): names that they define are not missed.
    std::set<std::string, std::less<>> lost;

    void add(Severity severity, Code code, std::string what, Place where, std::string suggestion = {}) {
        problems.push_back({.code = code,
                            .severity = severity,
                            .what = std::move(what),
                            .suggestion = std::move(suggestion),
                            .where = std::move(where)});
    }
    void error(Code code, std::string what, Place where, std::string suggestion = {}) {
        add(Severity::error, code, std::move(what), std::move(where), std::move(suggestion));
    }
    [[nodiscard]] bool is_lost(std::string_view kind, std::string_view name) const {
        return lost.contains(std::string(kind) + "." + std::string(name)) || lost.contains(kind);
    }
};

struct Draft : Notes {
    assembly::House& house;
};

/// Calls `read` with each `[kind.NAME]` in the order of the file. Bad names and more than `most` are
/// problems.
void each_named(Notes& draft, const toml::table& root, std::string_view kind, std::size_t most,
                const std::function<void(const std::string& name, const toml::table& table)>& read);

/// In the order of the text, each once, at most 200 of them; places without a file get `file`.
void tidy(Problems& problems, const std::string& file);
/// A text beyond this is refused unread.
inline constexpr std::size_t most_bytes = 4'000'000;

/// What studs are made of unless the file says so.
inline constexpr std::string_view framing_lumber = "spruce-pine-fir lumber";

/// `known` as "a, b, c" for messages, shortened after ten.
[[nodiscard]] std::string listed(const std::vector<std::string>& known);

/// A key's value and its place, where the file says it.
template <class T>
void take(Section& r, std::string_view key, Sourced<T>& into, std::optional<T> value) {
    if (value) into = {std::move(*value), r.origin(key)};
}
template <class T>
void take(Section& r, std::string_view key, std::optional<Sourced<T>>& into, std::optional<T> value) {
    if (value) into = Sourced<T>{std::move(*value), r.origin(key)};
}

void read_front(Draft& draft, const toml::table& root);  ///< [house] [indoor] [rain] [air] [details]
void read_details(Draft& draft, const toml::table& table);
void read_own_materials(Draft& draft, const toml::table& root);
void read_assemblies(Draft& draft, const toml::table& root);
void read_geometry(Draft& draft, const toml::table& root);
void read_practice(Draft& draft, const toml::table& root);  ///< [framing] [loads] [partition.NAME] [box.NAME]
void read_services(Draft& draft, const toml::table& root);  ///< [people] to [code]; after read_geometry
void read_energy(Draft& draft, const toml::table& root);    ///< [energy.NAME]; after [money]
/// Names to things: ladders, assemblies of faces, roofs, floors, foundations; pitch of roof assemblies.
void link(Draft& draft, const toml::table& root);

}  // namespace warmside::project
