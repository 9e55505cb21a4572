// Axes that the pictures of a run share: months along time, figures along a quantity, layers along depth.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "drawing/display.h"
#include "moisture/simulate.h"

namespace warmside::drawing {

/// Figures between `least` and `most` at a step of 1, 2 or 5 times a power of ten, about `wanted` of
/// them; none for a range without extent or not finite.
[[nodiscard]] std::vector<double> round_ticks(double least, double most, int wanted);

/// Places as near to `wanted` (ascending) as they can be with `gap` between neighbours, within [least, most];
/// evenly squeezed where there is no room for the gap.
[[nodiscard]] std::vector<double> spread(std::vector<double> wanted, double gap, double least, double most);

/// The hours of a run laid along x.
struct TimeAxis {
    double left = 0.0, right = 0.0;
    int start_hour = 0;  ///< of the calendar year
    int hours = 0;

    /// Of an hour from the start of the run.
    [[nodiscard]] double x(double hour) const;
};

struct MonthTick {
    double x = 0.0;
    int hour = 0;   ///< from the start of the run
    int month = 0;  ///< that begins there, 0 to 11
};

/// The first moment of each month that the run begins, its first and last hour included.
[[nodiscard]] std::vector<MonthTick> month_ticks(const TimeAxis& axis);

/// Ticks at the months with their letters or short names where they fit, below them the years of the run:
/// "first year", "year 2", "settled year" (of three and more). Begins at `y` and is `time_axis_height` high.
void draw_time_axis(std::vector<Item>& items, const TimeAxis& axis, double y);
inline constexpr double time_axis_height = 32.0;

/// What a path meets in a layer, for people: its member on the framing path where it is of wood, else its
/// fill.
[[nodiscard]] std::string layer_words(const assembly::Assembly& assembly, moisture::Path path,
                                      std::size_t layer);

/// An assembly lying down: layers as bands to scale in `box`, the inside at the bottom; hatched, membranes as
/// lines, the airtight one in accent and past both sides.
[[nodiscard]] Group strip(const assembly::Assembly& assembly, moisture::Path path, const Box& box);
/// Sheet height of a depth (m from the inside) in such a box.
[[nodiscard]] double depth_y(const assembly::Assembly& assembly, const Box& box, double depth);

/// "5 1/2 in" or "140 mm".
[[nodiscard]] std::string length_words(double metres, bool inch_pound_first);

}  // namespace warmside::drawing
