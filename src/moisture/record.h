// Turns the states of a running column into a History.
#pragma once

#include "moisture/build.h"
#include "moisture/depth.h"
#include "moisture/march.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

class HistoryRecorder : public Recorder {
public:
    /// `places` holds one for each of Options::depths.
    HistoryRecorder(const Run& run, const Built& built, const Options& options,
                    std::vector<DepthPlace> places, std::size_t number, HistorySink& histories,
                    CarpetSink* sink);
    void hour(int hours_done, const Snapshot& now) override;
    /// Hands the finished history over; the recorder is empty afterwards.
    void done(const MarchResult& result) override;

private:
    void plan_depths();
    void reserve();
    void probe(const Snapshot& now);
    void depths(const Snapshot& now);
    void layers(const Snapshot& now);
    void carpet(int hours_done, const Snapshot& now);

    // A stretch of 10 mm within a layer, as shares of its nodes' water: prefix sums at both ends.
    struct Window {
        std::size_t from, to;         // nodes that hold the ends
        double from_share, to_share;  // of those nodes' volumes before the end
        double length;
    };
    struct LayerPlan {
        Span span;
        double thickness;
        std::vector<Window> windows;
    };
    static LayerPlan plan(const Column& column, const Span& span);
    void plan_rows();

    const Built& built_;
    std::vector<DepthPlace> places_;
    std::size_t number_;
    HistorySink& histories_;
    CarpetSink* sink_;
    bool probe_moisture_;
    History history_;
    std::vector<LayerPlan> plans_;
    std::vector<double> prefix_;
    // Carpet: weights of two nodes for each row, running sums of the column in progress.
    struct Mix {
        std::size_t node;
        double share;  // of node + 1
    };
    std::vector<Mix> mix_;
    std::vector<double> humidity_, sum_humidity_, sum_temperature_;
    int column_ = 0, samples_ = 0, sample_every_ = 1;
};

}  // namespace warmside::moisture
