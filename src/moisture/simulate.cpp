#include "moisture/simulate.h"

#include <algorithm>
#include <memory>

#include "moisture/build.h"
#include "moisture/depth.h"
#include "moisture/march.h"
#include "moisture/record.h"
#include "moisture/settle.h"

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

// One run on its way: its history, the years until it is settled, and where it goes when it is whole.
class Course : public Recorder {
public:
    Course(const Run& run, const Built& built, const Options& options, std::vector<DepthPlace> places,
           std::size_t number, HistorySink& histories, CarpetSink* sink)
        : history_(run, built, options, number, sink),
          settling_(history_, built.column, run.years, options),
          number_(number),
          histories_(histories) {
        history_.keep_depths(std::move(places));
    }
    void hour(int hours_done, const Snapshot& now) override { settling_.hour(hours_done, now); }
    Next year(int years_done, const Snapshot& now) override { return settling_.year(years_done, now); }
    void done(const MarchResult& result) override { histories_.finished(number_, history_.take(result)); }

private:
    HistoryRecorder history_;
    SettlingRecorder settling_;
    std::size_t number_;
    HistorySink& histories_;
};

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
    const auto all = build_all(runs, options);
    if (!all) return fail(all.error());
    const std::vector<Built>& built = *all;
    std::vector<std::unique_ptr<Course>> courses;
    std::vector<Task> tasks;
    for (std::size_t i = 0; i < runs.size(); ++i) {
        auto places = places_of(built[i], runs[i], options);
        if (!places) return fail(places.error());
        courses.push_back(
            std::make_unique<Course>(runs[i], built[i], options, std::move(*places), i, histories, sink));
        tasks.push_back({.column = &built[i].column,
                         .hours = std::max(options.most_years, runs[i].years) * climate::hours_in_year,
                         .recorder = courses.back().get()});
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
