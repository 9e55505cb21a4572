// The multigrid cycle: what preconditions the conjugate gradients.
#pragma once

#include <vector>

#include "conduction/crew.h"
#include "conduction/direct.h"
#include "conduction/level.h"
#include "conduction/smoother.h"

namespace warmside::conduction {

/// A symmetric V cycle over the levels of a stencil. On some coarser levels, each a small part of the one
/// before, conjugate gradients go on until the residual is a tenth: material interfaces that a coarser grid
/// has to cross are settled there, where cells are few. So the cycle is not quite the same map each time, and
/// the outer method must be a flexible one.
///
/// Every member of the crew calls run() and gets the same bits as one thread alone would.
class Cycle {
public:
    Cycle(const Stencil& stencil, unsigned threads);

    [[nodiscard]] Level& finest() { return level_.front(); }
    [[nodiscard]] std::size_t levels() const { return level_.size(); }
    [[nodiscard]] unsigned crew() const { return crew_; }  ///< threads that walk through it together
    [[nodiscard]] Barrier& barrier() { return barrier_; }
    [[nodiscard]] std::size_t bytes() const;

    /// finest().x = M finest().b
    void run(unsigned member) { descend(0, member); }

private:
    // Conjugate gradients on one level inside the cycle.
    struct Inner {
        Padded<float> zero, x, p, q;  // empty: this level has none
        std::vector<double> part;     // [row] of a dot product
    };
    // One member's buffers for a coarse row in the making.
    struct Sums {
        Padded<float> stay, move;
    };

    [[nodiscard]] unsigned crew_of(const Level& l) const;
    void meet(unsigned together) {
        if (together > 1) barrier_.wait();
    }
    void place_inner();
    void descend(std::size_t at, unsigned member);
    void vee(std::size_t at, unsigned member);
    void settle(std::size_t at, unsigned member);
    void residual(Level& l, unsigned member);
    void restrict_row(Level& fine, Level& coarse, std::size_t J, std::size_t K, Sums& sum);
    void restrict_to(Level& fine, Level& coarse, unsigned member);
    void prolong_from(Level& fine, Level& coarse, unsigned member);
    template <class Task>
    double over_rows(Level& l, std::vector<double>& part, unsigned member, Task task);

    std::vector<Level> level_;
    Direct direct_;
    unsigned crew_;
    Barrier barrier_;
    Smoother smoother_;
    std::vector<Inner> inner_;  // [level]
    std::vector<Sums> sums_;    // [member]
};

}  // namespace warmside::conduction
