// Texts of a drawing that must not lie over each other, and strings of dimensions.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "drawing/display.h"

namespace warmside::drawing {

[[nodiscard]] bool overlap(const Box& a, const Box& b);

/// What a line of text covers, from its ascenders to its descenders.
[[nodiscard]] Box box_of(const Text& text);

/// Places that are taken.
class Taken {
public:
    [[nodiscard]] bool free(const Box& box) const;
    void take(const Box& box) { boxes_.push_back(box); }

private:
    std::vector<Box> boxes_;
};

struct DimensionRow {
    double y = 0.0;                  ///< of the line
    double witness = 0.0;            ///< where lines from the picture begin
    double left = 0.0, right = 0.0;  ///< of the sheet: words stay between
    double size = 8.5;
};
struct Span {
    double from = 0.0, to = 0.0;  ///< on the sheet
    std::string words;
};
/// A line with ticks at 45 degrees and the words above it; where a span is too short for them, below in two
/// rows. Returns how many words found no place.
int draw_dimensions(std::vector<Item>& items, std::span<const Span> spans, const DimensionRow& row);
inline constexpr double dimension_pitch = 40.0;  ///< from one string to the next

}  // namespace warmside::drawing
