#include "moisture/simulate.h"

#include <algorithm>
#include <memory>

#include "moisture/build.h"
#include "moisture/march.h"
#include "moisture/record.h"
#include "moisture/settle.h"

namespace warmside::moisture {

const char* name_of(Path path) {
    return path == Path::framing ? "framing" : "bay";
}

Result<std::vector<History>> simulate(std::span<const Run> runs, const Options& options,
                                      const Control& control, CarpetSink* sink) {
    Shelf shelf;
    std::vector<Built> built;
    built.reserve(runs.size());
    for (const Run& run : runs) {
        auto made = build(run, options, shelf);
        if (!made) return fail(made.error());
        built.push_back(std::move(*made));
    }
    std::vector<std::unique_ptr<HistoryRecorder>> recorders;
    std::vector<std::unique_ptr<SettlingRecorder>> settling;
    std::vector<Task> tasks;
    for (std::size_t i = 0; i < runs.size(); ++i) {
        recorders.push_back(std::make_unique<HistoryRecorder>(runs[i], built[i], options, i, sink));
        settling.push_back(
            std::make_unique<SettlingRecorder>(*recorders.back(), built[i].column, runs[i].years, options));
        tasks.push_back({.column = &built[i].column,
                         .hours = std::max(options.most_years, runs[i].years) * climate::hours_in_year,
                         .recorder = settling.back().get()});
    }
    auto results = march(tasks, {.tolerance = options.tolerance}, control);
    if (!results) return fail(results.error());
    std::vector<History> histories;
    for (std::size_t i = 0; i < runs.size(); ++i) histories.push_back(recorders[i]->take((*results)[i]));
    return histories;
}

}  // namespace warmside::moisture
