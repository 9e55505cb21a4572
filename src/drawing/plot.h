// The moisture of each layer over the years: one small picture a layer, stacked as the layers are.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "drawing/axes.h"
#include "drawing/display.h"
#include "moisture/simulate.h"

namespace warmside::drawing {

/// What stands over a picture of a run.
struct Caption {
    std::string title;  ///< "w3  2x6 with a wired inner cavity"
    std::string line;   ///< which run, which quantity
    std::string word;   ///< the verdict; empty: none
    bool accent = false;
};

/// One layer's moisture in the unit that people judge it by.
struct LayerLine {
    std::size_t layer = 0;
    std::string name;               ///< "osb"
    std::string unit;               ///< "% of dry mass" for wood, "kg/m3" else
    std::vector<float> mean;        ///< over the layer
    std::vector<float> wettest;     ///< of the wettest 10 mm
    double watch = 0.0, wet = 0.0;  ///< limits on the wettest 10 mm; 0: none
};

/// Wood as share of its dry mass with the limits of thresholds.toml, everything else by volume. From outside
/// to inside, as they are drawn.
[[nodiscard]] std::vector<LayerLine> layer_lines(const assembly::Assembly& assembly, moisture::Path path,
                                                 std::span<const moisture::LayerMoisture> layers);

struct PlotFrame {
    double width = 900.0;
    double panel = 56.0;  ///< height of one layer's picture
    bool inch_pound_first = true;
};

/// Values of each line are evenly spaced means over the run. The strip of the assembly stands at the left, a
/// leader from each layer to its panel. The upper line is the wettest 10 mm, the lower the mean; limits are
/// dashed, and what passes the wet limit is in accent. Values that are not finite leave a gap.
[[nodiscard]] Sheet layer_plot(const assembly::Assembly& assembly, moisture::Path path,
                               std::span<const LayerLine> lines, int start_hour, int hours,
                               const PlotFrame& frame, const Caption& caption);

/// Title, line and word at the top of a picture `width` wide; `caption_height` high.
void draw_caption(std::vector<Item>& items, const Caption& caption, double width);
inline constexpr double caption_height = 44.0;

}  // namespace warmside::drawing
