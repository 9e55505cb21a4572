// The commands of the program: each takes its options, prints, and returns the exit code.
#pragma once

#include <string>
#include <vector>

#include "answer/answer.h"
#include "app/house.h"
#include "base/stop.h"

namespace warmside::app {

/// Exit codes of design.md.
enum Exit : int { done = 0, failed_strict = 1, bad_input = 2, no_solution = 3 };

struct Options {
    std::string file, rung, path, word, out, every, run, tolerance, prices;
    std::vector<std::string> depths;
    int port = 0, years = 3;
    bool json = false, strict = false, all = false, csv = false, temperature = false, dark = false,
         no_causes = false, causes = false;
};

/// What --strict asks: is every judged rung dry; did the house file draw a warning.
[[nodiscard]] bool all_dry(const answer::Answer& answer);
[[nodiscard]] bool warned(const LoadedHouse& loaded);

[[nodiscard]] int run_answer(const Options& options, StopSource& stop);
[[nodiscard]] int run_heat(const Options& options, StopSource& stop);
[[nodiscard]] int run_dry(const Options& options, StopSource& stop);
[[nodiscard]] int run_detail(const Options& options, StopSource& stop);
[[nodiscard]] int run_frame(const Options& options, StopSource& stop);
[[nodiscard]] int run_takeoff(const Options& options, StopSource& stop);
[[nodiscard]] int run_why(const Options& options, StopSource& stop);
[[nodiscard]] int run_new(const Options& options);
[[nodiscard]] int run_places(const Options& options);
[[nodiscard]] int run_materials(const Options& options);
[[nodiscard]] int run_proof(const Options& options, StopSource& stop);
[[nodiscard]] int run_open(const Options& options, StopSource& stop);

}  // namespace warmside::app
