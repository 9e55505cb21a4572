// Files of `warmside frame` and `warmside takeoff`.
#pragma once

#include <string>
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
/// `<rung>-members.csv`, `<rung>-boxes.csv`. `rung` has to be framed.
[[nodiscard]] Result<std::vector<OutFile>> frame_files(const assembly::House& house,
                                                       const answer::RungAnswer& rung, const FrameWish& wish);

/// `<rung>-order.csv`, `-cuts.csv` and `-sheets.csv`. `rung` has to be priced.
[[nodiscard]] std::vector<OutFile> order_files(const answer::RungAnswer& rung);

/// `<rung>-takeoff.xlsx`, the name of the workbook that takeoff_xlsx (takeoff_files.h) writes.
[[nodiscard]] std::string workbook_name(const answer::RungAnswer& rung);

/// A row for each member: panel, mark, role, section, lumber, length, place in the panel. RFC 4180; m.
[[nodiscard]] std::string members_csv(const framing::Frame& frame);

/// A row for each electrical box: panel, mark, what it is, its low corner and size in the panel, what holds
/// it, whether it comes through the airtight layer. RFC 4180; m.
[[nodiscard]] std::string boxes_csv(const framing::Frame& frame);

}  // namespace warmside::report
