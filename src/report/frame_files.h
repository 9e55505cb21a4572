// Files of `warmside frame` and `warmside takeoff`.
#pragma once

#include <vector>

#include "answer/answer.h"
#include "base/result.h"
#include "report/dry_files.h"

namespace warmside::report {

struct FrameWish {
    bool inch_pound_first = true;
    bool dark = false;  ///< PNG in the dark set; SVG has both
};

/// `<rung>-<panel>.svg` and `.png` of every panel, `-furring` and `-battens` likewise of a wall that has
/// them,
/// `<rung>-members.csv`. `rung` has to be framed.
[[nodiscard]] Result<std::vector<OutFile>> frame_files(const assembly::House& house,
                                                       const answer::RungAnswer& rung, const FrameWish& wish);

/// `<rung>-order.csv`, `-cuts.csv`, `-sheets.csv` and `-takeoff.xlsx`. `rung` has to be priced.
[[nodiscard]] Result<std::vector<OutFile>> order_files(const answer::RungAnswer& rung,
                                                       const std::string& house);

/// A row for each member: panel, mark, role, section, lumber, length, place in the panel. RFC 4180; m.
[[nodiscard]] std::string members_csv(const framing::Frame& frame);

}  // namespace warmside::report
