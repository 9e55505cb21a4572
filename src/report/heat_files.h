// Pictures of a solved conduction problem as files: temperatures and heat flow, SVG and PNG.
#pragma once

#include <string>
#include <vector>

#include "answer/heat_section.h"
#include "base/result.h"
#include "drawing/heat_figure.h"
#include "report/dry_files.h"

namespace warmside::report {

/// How pictures of heat are made.
struct HeatWish {
    bool inch_pound_first = true;
    bool dark = false;  ///< PNG in the dark set; SVG has both
};

/// A plane section has one view. A solid has three, at right angles, through the coldest inner place where
/// that lies in the plane, else through where most heat flows.
[[nodiscard]] std::vector<drawing::HeatView> views_of(const drawing::HeatSubject& subject,
                                                      const HeatWish& wish);

/// `<stem>-temperature` and `<stem>-flow`, each as .svg and .png.
/// Problem  those of the drawings
[[nodiscard]] Result<std::vector<OutFile>> heat_pictures(const drawing::HeatSubject& subject,
                                                         const std::vector<drawing::HeatView>& views,
                                                         std::string_view stem,
                                                         const drawing::Caption& caption,
                                                         const HeatWish& wish);

/// Pictures of a solved piece of a house, `stem` before `-temperature` and `-flow`. The cell of an assembly
/// is shown in plan; where members cross, also upright through a stud and face on in the plane of the studs.
[[nodiscard]] Result<std::vector<OutFile>> section_files(const answer::HeatSection& section,
                                                         std::string_view stem, const HeatWish& wish);

/// What the figures draw of it; `section` has to outlive it.
[[nodiscard]] drawing::HeatSubject subject_of(const answer::HeatSection& section, const HeatWish& wish);
[[nodiscard]] std::vector<drawing::HeatView> section_views(const answer::HeatSection& section);

}  // namespace warmside::report
