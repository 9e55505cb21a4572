// Relaxation of one level, by points or by lines.
#pragma once

#include <vector>

#include "conduction/crew.h"
#include "conduction/level.h"
#include "conduction/line_sweep.h"

namespace warmside::conduction {

/// Gauss-Seidel in two colours. On a level whose cells are of like widths: the cells, as on a chessboard.
/// Where cells are of very unlike widths (stretched grids; thin layers that keep their cells on coarse
/// levels) the strong coupling may lie along any axis: there the lines along each axis in turn, every other
/// one at once, so that whatever is strongly coupled is solved together. (Alternating zebra lines:
/// Trottenberg, Oosterlee, Schueller, Multigrid, 2001, section 5.1; from memory.)
///
/// The members of a crew share the work and get the same bits as one thread alone would.
class Smoother {
public:
    Smoother(unsigned crew, Barrier& barrier) : barrier_(barrier), tile_(crew) {}

    /// From a guess of zero. All of the first `crowd` members call it.
    void start(Level& level, unsigned crowd, unsigned member);
    /// The mirror of start(), from the x that is there.
    void finish(Level& level, unsigned crowd, unsigned member);

private:
    void meet(unsigned crowd) {
        if (crowd > 1) barrier_.wait();
    }
    template <class Task>
    void both_colours(std::size_t slices, unsigned first, unsigned crowd, unsigned member, Task task);
    void points(Level& level, unsigned first, bool from_zero, unsigned crowd, unsigned member);
    void lines(Level& level, std::size_t axis, unsigned first, unsigned crowd, unsigned member);

    Barrier& barrier_;
    std::vector<LineTile> tile_;  // [member]
};

}  // namespace warmside::conduction
