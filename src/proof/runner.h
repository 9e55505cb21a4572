// Published checks: reads proof/**/*.toml, runs each case with the shipped code, compares.
#pragma once

#include <string>
#include <vector>

#include "base/origin.h"
#include "base/stop.h"
#include "proof/operation.h"

namespace warmside::proof {

enum class Standing { pass, fail, known_gap };
[[nodiscard]] const char* name_of(Standing outcome);

/// One value of one case.
struct Check {
    std::string id;     ///< "air/saturation/triple-point-of-water/pressure", profiles end in "/at-5-mm"
    std::string room;   ///< "air"
    std::string title;  ///< name of the case
    double expected = 0.0, got = 0.0, tolerance = 0.0;  ///< in `unit`
    bool computed = false;  ///< false: the operation gave a Problem, `got` is meaningless
    std::string unit;       ///< as the check file states it
    std::string source;     ///< title and edition
    std::string place;      ///< clause, table, page
    Evidence evidence = Evidence::none;
    /// The value and the data that it is checked against come from one copy of a table: a check of our
    /// typing, no validation. Its evidence is `none`.
    bool transcribed = false;
    Standing result = Standing::fail;
    std::string note;  ///< why not, or why it is a known gap
};

struct Report {
    std::vector<Check> checks;
    Problems problems;  ///< malformed check files; any error means that the proof is not complete
};

/// Its word in tables: "seen", "transcribed".
[[nodiscard]] const char* evidence_word(const Check& check);

/// All embedded check files whose id begins with `filter` (empty: all). Files run in parallel; the order is
/// by id.
[[nodiscard]] Report run(std::string_view filter, const Control& control = {});
/// One check file, for tests. `name` is its path, `proof/air/saturation.toml`.
void run_file(std::string_view name, std::string_view text, Report& report, const Control& control = {});

/// The operation of a name, over all rooms; null when there is none.
[[nodiscard]] const Operation* operation(std::string_view name);

}  // namespace warmside::proof
