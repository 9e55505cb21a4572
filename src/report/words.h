// Figures as people read them: inch-pound and SI side by side.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "answer/answer.h"

namespace warmside::report {

/// One figure in both systems, in the order that the house file asks for.
struct Pair {
    std::string first, second;
};

[[nodiscard]] Pair thickness(double metres, bool inch_pound_first);
[[nodiscard]] Pair r_value(double rsi, bool inch_pound_first);         ///< "R-18.4", "RSI 3.24"
[[nodiscard]] Pair u_value(double u, bool inch_pound_first);           ///< "U-0.054", "0.307 W/(m² K)"
[[nodiscard]] Pair temperature(double kelvin, bool inch_pound_first);  ///< "14.0 °F", "-10.0 °C"
[[nodiscard]] Pair degree_days(double kelvin_days, bool inch_pound_first);
[[nodiscard]] Pair area(double square_metres, bool inch_pound_first);
[[nodiscard]] Pair volume(double cubic_metres, bool inch_pound_first);
[[nodiscard]] Pair weight(double kilograms, bool inch_pound_first);
/// "first (second)".
[[nodiscard]] std::string both(const Pair& pair);

/// An SI value with its SI unit as both systems, where the unit is one that builders read another way; else
/// SI alone.
[[nodiscard]] std::string quantity(double value, std::string_view si_unit, bool inch_pound_first);

/// The same with loads, forces and strengths: "60.0 psf (2873 Pa)", "115 mph (51.41 m/s)".
[[nodiscard]] std::string load(double value, std::string_view si_unit, bool inch_pound_first);

/// Four significant figures, no exponent where it can be avoided.
[[nodiscard]] std::string number(double value);

/// "Walls", "Basement walls".
[[nodiscard]] std::string heading(assembly::Part part);

/// "3.4", "27.0 %".
[[nodiscard]] std::string value_of(const moisture::Finding& finding);
/// "20", or "-" where the criterion has no such limit.
[[nodiscard]] std::string limit(double value);
/// "wood moisture 23 %, Feb": the deciding finding at a glance.
[[nodiscard]] std::string brief(const moisture::Finding& finding);
/// Notes of the verdict and of the rung, each once.
[[nodiscard]] std::vector<std::string> all_notes(const answer::RungAnswer& rung);
/// "margin 42 % to the limit of 1", "13 % over the limit of 3"; empty where there is no margin to state.
[[nodiscard]] std::string margin(const moisture::Finding& finding);

/// What wets it, what it survives, what would help, and the second opinion: (label, sentence), only what is
/// known.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> reasons(const moisture::Verdict& verdict,
                                                                       bool inch_pound_first);
/// "0.25 kg/(m2 a)", "0.05 lb/(ft2 a)".
[[nodiscard]] Pair yearly_water(double kilograms, bool inch_pound_first);

/// The R stair in words, one tread each: "label R-23", "boards, air spaces and films add R-2.1".
[[nodiscard]] std::vector<std::string> stair_words(const thermal::Worth& worth, bool inch_pound_first);

/// How clear-field R came about over a ladder: "the repeating cell solved in 3D (w3, w4) and 2D (w1, w2),
/// error at most 0.08 %; ISO 6946 reads 0.6 % to 2.1 % higher".
[[nodiscard]] std::string clear_words(const answer::LadderAnswer& ladder);

/// What the verdicts of all rungs rest on when it is the same for all; nothing when it differs or nothing is
/// judged.
[[nodiscard]] const std::vector<std::string>* common_assumptions(const answer::LadderAnswer& ladder);

/// Units of plain text as people write them: "kg/m2" to "kg/m²", "degC" to "°C"; no line ends before "%".
[[nodiscard]] std::string pretty(std::string_view text);

/// Breaks at spaces to lines of at most `width` bytes of visible text; a longer word stands alone.
[[nodiscard]] std::vector<std::string> wrap(std::string_view text, std::size_t width);
/// Characters on a terminal: UTF-8 code points.
[[nodiscard]] std::size_t visible(std::string_view text);

}  // namespace warmside::report
