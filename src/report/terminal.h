// The answer as text for a terminal or a pipe. Returns text, prints nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "answer/answer.h"
#include "material/material.h"

namespace warmside::report {

struct Style {
    bool colour = false;  ///< ANSI sequences; the caller sets it only for a terminal and without NO_COLOR
    int width = 100;      ///< columns; at least 80 are used
};

/// The ladder table, then each rung in words, then weather, areas and cautions.
[[nodiscard]] std::string ladder_text(const answer::Answer& answer, const Style& style);

/// What each rung is worth, layer by layer, with origins. `rung` empty: all.
[[nodiscard]] std::string heat_text(const answer::Answer& answer, const Style& style,
                                    std::string_view rung = {});

/// The verdict of each rung with all findings, balances and what it rests on. `rung` empty: all.
[[nodiscard]] std::string dry_text(const answer::Answer& answer, const Style& style,
                                   std::string_view rung = {});

/// How one figure came about.
[[nodiscard]] std::string why_text(const Derivation& derivation, const Style& style, bool inch_pound_first);

/// Materials, membranes and lumber whose name, alias or family contains `word`.
[[nodiscard]] std::string materials_text(const material::Catalogue& catalogue, std::string_view word,
                                         const Style& style);

/// Built-in places whose name, state or zone contains `word`.
[[nodiscard]] std::string places_text(const std::vector<climate::PlaceRow>& places, std::string_view word,
                                      const Style& style);

}  // namespace warmside::report
