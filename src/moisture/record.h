// Turns the states of a running column into a History.
#pragma once

#include "moisture/build.h"
#include "moisture/depth.h"
#include "moisture/frost.h"
#include "moisture/march.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

class HistoryRecorder : public Recorder {
public:
    HistoryRecorder(const Run& run, const Built& built, const Options& options, std::size_t number,
                    CarpetSink* sink);
    /// Records these too; before the first hour.
    void keep_depths(std::vector<DepthPlace> places);
    void hour(int hours_done, const Snapshot& now) override;
    [[nodiscard]] int years() const { return recorded_ / climate::hours_in_year; }
    /// Takes the last year out, to be recorded again.
    void forget_year();
    /// Adds the last year once more.
    void repeat_year();
    void tell_settling(int years_marched, double yearly_change, bool settled);
    /// The finished history; the recorder is empty afterwards.
    [[nodiscard]] History take(const MarchResult& result);

private:
    void reserve();
    void probe(const Snapshot& now);
    void depths(const Snapshot& now);
    void layers(const Snapshot& now);
    void carpet(const Snapshot& now);
    void vents(int hours_done, const Snapshot& now);

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
    template <class Do>
    void each_series(Do act);
    void send_column();

    const Built& built_;
    std::size_t number_;
    CarpetSink* sink_;
    bool probe_moisture_;
    std::vector<DepthPlace> places_;
    History history_;
    FrostWatch frost_;
    FreeWaterWatch free_water_;
    std::vector<LayerPlan> plans_;
    std::vector<double> prefix_;
    // Carpet: weights of two nodes for each row, running sums of the column in progress.
    struct Mix {
        std::size_t node;
        double share;  // of node + 1
    };
    std::vector<Mix> mix_;
    std::vector<double> humidity_, sum_humidity_, sum_temperature_;
    int recorded_ = 0;  // hours
    int column_ = 0, samples_ = 0, sample_every_ = 1;
    Hour hour_;  // of the vents
    std::vector<double> vent_flow_;
    int vent_samples_ = 0;
};

}  // namespace warmside::moisture
