// The files of one judged rung: pictures and tables of its runs, as bytes. Nothing is written here.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "answer/answer.h"
#include "assembly/assembly.h"
#include "base/result.h"
#include "drawing/display.h"
#include "report/csv.h"
#include "report/terminal.h"

namespace warmside::report {

/// What is wanted of each rung.
struct DryWish {
    bool temperature = false;  ///< the carpet of temperature too
    bool tables = false;       ///< the CSV files
    bool dark = false;         ///< PNG in the dark set; SVG has both
    bool inch_pound_first = true;
    Interval interval;
    std::vector<std::string> depths;  ///< names of History::depths, in their order; empty: the named places
    std::string run;                  ///< words that the run's name must have; empty: the deciding run
};

struct OutFile {
    std::string name, bytes;
};

/// Pictures as SVG and PNG, tables as CSV: of the deciding run `<rung>-humidity.svg` and so on, of runs that
/// the wish names with their words in the file's name.
///
/// rung     judged, with its histories
/// Problem  unknown_name: no run has the words of the wish; those of the drawings
[[nodiscard]] Result<std::vector<OutFile>> dry_files(const assembly::House& house,
                                                     const answer::RungAnswer& rung, const DryWish& wish);

/// A rung's name as part of a file's name.
[[nodiscard]] std::string file_word(std::string_view name);

/// The moisture of each layer in the deciding run as weekly means, for the page; nothing where there is none.
[[nodiscard]] std::optional<drawing::Sheet> layer_sheet(const assembly::Assembly& assembly,
                                                        const answer::RungAnswer& rung, double width,
                                                        bool inch_pound_first);

/// One row a rung: verdict, what decides, value, limits, margin, where and when. `rung` empty: all.
[[nodiscard]] std::string verdict_table(const answer::Answer& answer, const Style& style,
                                        std::string_view rung = {});

}  // namespace warmside::report
