// The cut list of a panel: what is cut to which length, how often, under which marks.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "drawing/display.h"
#include "framing/frame.h"

namespace warmside::drawing {

struct CutRow {
    framing::Role role = framing::Role::stud;
    std::string section, lumber;
    units::Exact length;
    int count = 0;
    std::vector<std::string> marks;  ///< in natural order: S2 before S10
};

/// One row for each role, section, lumber and length; in the order of the roles, longest first.
[[nodiscard]] std::vector<CutRow> cut_list(std::span<const framing::Member* const> members);

/// The words that the lumber of all rows begins with: "spruce-pine-fir"; empty where they differ from the
/// first.
[[nodiscard]] std::string common_lumber(std::span<const CutRow> rows);

/// "S1-S4, S7": runs of numbers drawn together.
[[nodiscard]] std::string marks_text(std::span<const std::string> marks);

/// The list as a table at `x`, `y` (top), `cut_list_width` wide. Returns its height.
double draw_cut_list(std::vector<Item>& items, std::span<const CutRow> rows, double x, double y,
                     bool inch_pound_first);
inline constexpr double cut_list_width = 402.0;

}  // namespace warmside::drawing
