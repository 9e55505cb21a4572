// The answer as JSON: schema 1, SI, unknown is null. Every name is explained in docs/json.md.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "answer/answer.h"
#include "material/material.h"

namespace warmside::report {

using Json = nlohmann::ordered_json;

inline constexpr int schema = 1;

[[nodiscard]] Json answer_json(const answer::Answer& answer);
/// Layers, resistances and interface temperatures. `rung` empty: all.
[[nodiscard]] Json heat_json(const answer::Answer& answer, std::string_view rung = {});
/// Findings, balances, and the carpet of the deciding run. `rung` empty: all.
[[nodiscard]] Json dry_json(const answer::Answer& answer, std::string_view rung = {});
[[nodiscard]] Json why_json(const Derivation& derivation);
/// `paths` of `why`, for a reader that wants to choose.
[[nodiscard]] Json paths_json(std::span<const std::string> paths);
/// Rows whose name, alias or family contains `word`; empty: all.
[[nodiscard]] Json materials_json(const material::Catalogue& catalogue, std::string_view word = {});
[[nodiscard]] Json places_json(std::span<const climate::PlaceRow> places, std::string_view word = {});
[[nodiscard]] Json problems_json(std::span<const Problem> problems);

/// One recomputed published value; `proof` stands above this room, so the caller copies its rows.
struct CheckRow {
    std::string id, room;
    double expected = 0.0;
    std::optional<double> got;  ///< nothing when the computation gave a Problem
    double tolerance = 0.0;     ///< in `unit`
    std::string unit, source, evidence;
    std::string result;  ///< pass, fail, known_gap
    std::string note;
};
[[nodiscard]] Json proof_json(std::span<const CheckRow> checks);

/// Two spaces of indent and a newline at the end; text that is not UTF-8 is replaced, never thrown at.
[[nodiscard]] std::string dump(const Json& json);
/// The same on one line without the newline, as an event needs it.
[[nodiscard]] std::string dump_line(const Json& json);

// Pieces that the live page uses too.
[[nodiscard]] Json json_of(const Origin& origin);
[[nodiscard]] Json json_of(const Problem& problem);
[[nodiscard]] Json json_of(const moisture::Finding& finding);

/// True when `text` contains `word`, letter case ignored.
[[nodiscard]] bool contains(std::string_view text, std::string_view word);
/// True when the name, the state (as code or in full) or the zone of a place contains `word`; empty: always.
[[nodiscard]] bool matches(const climate::PlaceRow& place, std::string_view word);

}  // namespace warmside::report
