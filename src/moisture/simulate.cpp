#include "moisture/simulate.h"

#include <memory>

#include "moisture/build.h"
#include "moisture/depth.h"
#include "moisture/march.h"
#include "moisture/record.h"

namespace warmside::moisture {

namespace {

Result<std::vector<DepthPlace>> places_of(const Built& built, const Run& run, const Options& options) {
    std::vector<DepthPlace> places;
    for (const double depth : options.depths) {
        auto place = place_at(built, *run.assembly, depth);
        if (!place) return fail(place.error());
        places.push_back(*place);
    }
    return places;
}

// Keeps all of them, each in its place.
class Kept : public HistorySink {
public:
    explicit Kept(std::size_t runs) : histories(runs) {}
    void finished(std::size_t run, History history) override { histories[run] = std::move(history); }
    std::vector<History> histories;
};

}  // namespace

const char* name_of(Path path) {
    return path == Path::framing ? "framing" : "bay";
}

Result<void> simulate_each(std::span<const Run> runs, const Options& options, const Control& control,
                           HistorySink& histories, CarpetSink* sink) {
    Shelf shelf;
    std::vector<Built> built;
    built.reserve(runs.size());
    for (const Run& run : runs) {
        auto made = build(run, options, shelf);
        if (!made) return fail(made.error());
        built.push_back(std::move(*made));
    }
    std::vector<std::unique_ptr<HistoryRecorder>> recorders;
    std::vector<Task> tasks;
    for (std::size_t i = 0; i < runs.size(); ++i) {
        auto places = places_of(built[i], runs[i], options);
        if (!places) return fail(places.error());
        recorders.push_back(std::make_unique<HistoryRecorder>(runs[i], built[i], options, std::move(*places),
                                                              i, histories, sink));
        tasks.push_back({.column = &built[i].column,
                         .hours = runs[i].years * climate::hours_in_year,
                         .recorder = recorders.back().get()});
    }
    auto results = march(tasks, {.tolerance = options.tolerance}, control);
    if (!results) return fail(results.error());
    return {};
}

Result<std::vector<History>> simulate(std::span<const Run> runs, const Options& options,
                                      const Control& control, CarpetSink* sink) {
    Kept kept(runs.size());
    if (auto done = simulate_each(runs, options, control, kept, sink); !done) return fail(done.error());
    return std::move(kept.histories);
}

}  // namespace warmside::moisture
