// Figures of a solved conduction problem: temperatures with isotherms, heat flow with its direction.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "drawing/plot.h"
#include "drawing/slice.h"

namespace warmside::drawing {

/// A point that people should look at, in m of the model.
struct HeatMark {
    conduction::Point at;
    std::string words;  ///< "coldest 56.2 °F, f 0.79"
    std::string note;   ///< a sentence below the picture, or empty
};

/// What is drawn. `model` and `solution` have to outlive the call.
struct HeatSubject {
    const conduction::Model* model = nullptr;
    const conduction::Steady* solution = nullptr;
    std::vector<double> temperatures;  ///< [environment] K
    std::vector<std::string> words;    ///< [region] what it is made of; regions of one word are not parted
    std::optional<HeatMark> mark;
    std::optional<double> critical;  ///< K: below it a surface passes 80 % relative humidity
    std::string critical_words;      ///< "below 53.1 °F the surface passes 80 % at 40 % indoors"
};

/// One plane of it. Solids have several.
struct HeatView {
    Cut cut;
    std::string title;             ///< "plan, through the furring"; empty: none
    std::optional<Window> window;  ///< nothing: Slice::worth_seeing
};

struct HeatFrame {
    double width = 960.0;
    double picture = 460.0;  ///< most height of a picture
    double pixels = 2.0;     ///< a sheet unit, of the coloured field
    bool inch_pound_first = true;
    bool named = true;  ///< materials are named at the sides
};

/// Temperature by colour (inferno, cold dark, let through to the paper) from the coldest to the warmest
/// environment, isotherms at round values with their figures, outlines of materials, air left blank, a ring
/// at the mark, the isotherm of the critical temperature in accent, a scale bar. Says what is cropped.
/// Problem  those of png
[[nodiscard]] Result<Sheet> temperature_figure(const HeatSubject& subject, std::span<const HeatView> views,
                                               const HeatFrame& frame, const Caption& caption);

/// Heat flow density by colour (viridis, let through to the paper) on a logarithmic scale, and where heat
/// goes: in two dimensions lines that each carry the same heat, in a section of a solid arrows along the
/// plane. Problem  those of png
[[nodiscard]] Result<Sheet> flow_figure(const HeatSubject& subject, std::span<const HeatView> views,
                                        const HeatFrame& frame, const Caption& caption);

/// "56.2 °F" or "13.4 °C".
[[nodiscard]] std::string temperature_words(double kelvin, bool inch_pound_first, int decimals = 1);

}  // namespace warmside::drawing
