// How long does a cutting plan of 3,000 pieces take, and how far from the proven least is it?
#include <chrono>
#include <fmt/format.h>
#include <random>

#include "takeoff/cutting.h"

namespace {

using namespace warmside;
using units::Exact;

Exact in(int sixteenths) {
    return Exact::sixty_fourths_of_inch(sixteenths * 4);
}

/// Pieces of a house, invented: `lengths` distinct ones between two limits, all together `count`.
std::vector<takeoff::Piece> draw(unsigned seed, int lengths, int count, int shortest, int longest) {
    std::mt19937 random(seed);
    std::vector<takeoff::Piece> pieces;
    for (int n = 0; n < lengths; ++n) {
        const int length = shortest + static_cast<int>(random() % static_cast<unsigned>(longest - shortest));
        pieces.push_back({in(length), count / lengths + (n < count % lengths ? 1 : 0), {}});
    }
    return pieces;
}

int failures = 0;

void time_it(const char* name, const std::vector<takeoff::Piece>& pieces,
             const std::vector<takeoff::Stock>& stock) {
    const auto start = std::chrono::steady_clock::now();
    const auto plan = takeoff::cut_plan(name, pieces, stock, in(2));
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!plan) {
        fmt::print("  {:<44} {}\n", name, plan.error().what);
        ++failures;
        return;
    }
    fmt::print("  {:<44} {:6.2f} s   {:8.2f} m of lumber   gap {:.4f} %{}\n", name, seconds, plan->cost,
               100.0 * plan->gap(), plan->proven ? ", proven" : "");
    if (plan->gap() > 0.01) ++failures;
}

}  // namespace

int main() {
    std::vector<takeoff::Stock> one{{in(16 * 192)}}, yard;
    for (int feet = 8; feet <= 20; feet += 2) yard.push_back({in(16 * 12 * feet)});
    std::vector<takeoff::Stock> precut = yard;
    for (const int sixteenths : {1482, 1674, 1866}) precut.push_back({in(sixteenths)});
    time_it("40 lengths, sticks of 16 ft", draw(1, 40, 3000, 16 * 10, 16 * 120), one);
    time_it("40 lengths, 8 to 20 ft", draw(2, 40, 3000, 16 * 10, 16 * 120), yard);
    time_it("40 lengths, 8 to 20 ft and precut studs", draw(3, 40, 3000, 16 * 10, 16 * 120), precut);
    time_it("120 lengths, sticks of 16 ft", draw(4, 120, 3000, 16 * 10, 16 * 120), one);
    time_it("120 lengths, 8 to 20 ft", draw(5, 120, 3000, 16 * 10, 16 * 180), yard);
    time_it("300 lengths, 8 to 20 ft", draw(6, 300, 3000, 16 * 10, 16 * 120), yard);
    time_it("40 lengths, down to 2 in, 8 to 20 ft", draw(7, 40, 3000, 16 * 2, 16 * 100), yard);
    return failures;
}
