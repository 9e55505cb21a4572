// What a running column keeps for two criteria: frost just below exposed faces, and water beyond free
// saturation.
#pragma once

#include <vector>

#include "moisture/build.h"
#include "moisture/march.h"
#include "moisture/path.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

/// True for the families that frost can burst: masonry, concrete, plaster and render, cement boards.
[[nodiscard]] bool frost_sensitive(const material::Material& material);

/// Mean temperature (by volume) and degree of saturation between 5 and 10 mm below each exposed face of a
/// mineral layer: a face to the weather or to a ventilated cavity. Boards thinner than 10 mm have the inner
/// half of what is left.
///
///   S = w/(1000 porosity), at most 1
///
/// Source  walls-in-the-field, rule of the program (practice); material without porosity: left out
class FrostWatch {
public:
    FrostWatch(const Run& run, const Built& built, std::size_t samples);
    void sample(const Snapshot& now);
    template <class Do>
    void each_series(Do act) {
        for (FrostLayer& layer : layers_) {
            act(layer.temperature);
            act(layer.saturation);
        }
    }
    [[nodiscard]] std::vector<FrostLayer> take() { return std::move(layers_); }

private:
    struct Share {
        std::size_t node;
        double of_node, of_window;  // of the node's water, of the window's thickness
    };
    struct Window {
        std::vector<Share> shares;
        double pores;  // kg/m2 of water that fills the window
    };
    void add(const Segment& segment, const Span& span, const Built& built, bool outer, std::size_t samples);
    std::vector<FrostLayer> layers_;
    std::vector<Window> windows_;
};

/// True for insulation and skins that take no water up, so that what condenses in them is loose: no liquid
/// transport and less than a fifth of their mass at 98 % (mineral wool and foams; not cellulose or wood
/// fibre).
[[nodiscard]] bool takes_no_water_up(const material::Material& material);

/// Loose water in each half of each layer, kg/m2: beyond the content at 99 % in layers that take none up (our
/// choice: their catalogue curve goes on to full pores), beyond free saturation in all others. Against a
/// vapour-tight or cold neighbour that is what condensed there; the solver lets it stay, where an upright
/// surface would let it run.
class FreeWaterWatch {
public:
    FreeWaterWatch(const Run& run, const Built& built, std::size_t samples);
    void sample(const Snapshot& now);
    /// Keeps the first `samples`, or goes on with those of a year before.
    void cut(std::size_t samples);
    void repeat(std::size_t samples, std::size_t a_year);
    [[nodiscard]] std::vector<FreeWater> take() { return std::move(halves_); }

private:
    struct Half {
        std::size_t first, last;
    };
    std::vector<FreeWater> halves_;
    std::vector<Half> nodes_;
    std::vector<double> held_;  // kg/m2 of each node that is not loose
    std::size_t samples_, done_ = 0;
};

}  // namespace warmside::moisture
