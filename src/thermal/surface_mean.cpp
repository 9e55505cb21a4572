#include "thermal/surface_mean.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <vector>

namespace warmside::thermal {

namespace {

constexpr double same_place = 1e-7;  // m

struct Piece {
    double low = 0.0, high = 0.0, factor = 0.0;
};

// Straight surfaces: region, side, where the surface lies across its run (in tenths of a micrometre).
using Line = std::tuple<std::uint16_t, std::uint8_t, long long>;

double mean_over(const std::vector<Piece>& pieces, double low, double high) {
    double sum = 0.0, length = 0.0;
    for (const Piece& piece : pieces) {
        const double shared = std::min(high, piece.high) - std::max(low, piece.low);
        if (shared <= 0.0) continue;
        sum += shared * piece.factor;
        length += shared;
    }
    return length > 0.0 ? sum / length : 1.0;
}

// Pieces of one unbroken run.
double lowest_of_run(const std::vector<Piece>& run, double width) {
    const double low = run.front().low, high = run.back().high;
    const auto count = static_cast<int>((high - low) / width + 1e-6);
    if (count < 1) return mean_over(run, low, high);
    double lowest = 1.0;
    for (int i = 0; i < count; ++i) {
        lowest = std::min(lowest, mean_over(run, low + i * width, low + (i + 1) * width));
        lowest = std::min(lowest, mean_over(run, high - (i + 1) * width, high - i * width));
    }
    return lowest;
}

}  // namespace

double lowest_mean_factor(const conduction::Steady& solution, std::size_t inside,
                          std::span<const std::size_t> regions, double width) {
    std::map<Line, std::vector<Piece>> lines;
    for (const conduction::Patch& patch : solution.patches) {
        if (patch.environment != inside) continue;
        if (std::find(regions.begin(), regions.end(), patch.region) == regions.end()) continue;
        const bool along_y = patch.side < 2;
        const auto& [a, b] = std::pair{patch.at[0], patch.at[1]};
        const double across = along_y ? a.x : a.y, from = along_y ? a.y : a.x, to = along_y ? b.y : b.x;
        // A film stands between the air and the surface: what passes it drops the temperature there.
        const double into = patch.conductance / patch.area * (1.0 - solution.weight[inside][patch.cell]);
        lines[{patch.region, patch.side, std::llround(across / same_place)}].push_back(
            {std::min(from, to), std::max(from, to), 1.0 - into * patch.film});
    }
    double lowest = 1.0;
    for (auto& [line, pieces] : lines) {
        std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) { return a.low < b.low; });
        std::vector<Piece> run;
        for (const Piece& piece : pieces) {
            if (!run.empty() && piece.low > run.back().high + same_place) {
                lowest = std::min(lowest, lowest_of_run(run, width));
                run.clear();
            }
            run.push_back(piece);
        }
        lowest = std::min(lowest, lowest_of_run(run, width));
    }
    return lowest;
}

}  // namespace warmside::thermal
