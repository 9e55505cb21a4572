// Changes one value in the text of a house file and leaves all else, comments included, as it stands.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace warmside::project {

/// The text with the thickness of one layer replaced, as a new text. `thickness` is what a person types: "5
/// 1/2 in". `layer` counts from 0, inside first. The new text is read again: it has to be a sound house file
/// whose model differs from the old one in that layer only. Problem  syntax or others of the old text;
/// unknown_name: no such assembly; out_of_range: no such layer; missing: the
///          layer states no thickness; the first error of the new text, at its place, when the value does not
///          fit
[[nodiscard]] Result<std::string> with_thickness(std::string_view file_name, std::string_view text,
                                                 std::string_view assembly, std::size_t layer,
                                                 std::string_view thickness);

}  // namespace warmside::project
