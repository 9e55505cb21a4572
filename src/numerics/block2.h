// Block-tridiagonal systems with 2x2 blocks, one in each lane, solved while they are assembled.
#pragma once

#include "numerics/pack.h"

namespace warmside::numerics {

template <int L>
struct Block2 {
    Pack<L> a00, a01, a10, a11;
};
template <int L>
struct Pair {
    Pack<L> x0, x1;
};

template <int L>
WARMSIDE_INLINE Pair<L> product(const Block2<L>& a, const Pair<L>& x) {
    return {a.a00 * x.x0 + a.a01 * x.x1, a.a10 * x.x0 + a.a11 * x.x1};
}
template <int L>
WARMSIDE_INLINE Block2<L> product(const Block2<L>& a, const Block2<L>& b) {
    return {a.a00 * b.a00 + a.a01 * b.a10, a.a00 * b.a01 + a.a01 * b.a11, a.a10 * b.a00 + a.a11 * b.a10,
            a.a10 * b.a01 + a.a11 * b.a11};
}
template <int L>
WARMSIDE_INLINE Block2<L> inverse(const Block2<L>& a) {
    const Pack<L> d = 1.0 / (a.a00 * a.a11 - a.a01 * a.a10);
    return {a.a11 * d, -a.a01 * d, -a.a10 * d, a.a00 * d};
}

/// What is kept of one eliminated row: x = right - above * x_next.
template <int L>
struct Eliminated {
    Block2<L> above;
    Pair<L> right;
};

/// Eliminates the row `below x_before + diagonal x + above x_next = right`, given the row before it.
/// No pivoting across rows: the systems here are diagonally dominant up to the scaling of rows (conservation
/// laws with implicit time stepping). Source: block Thomas algorithm, Golub and Van Loan, Matrix
/// Computations, 4th ed., 4.5.1 (memory); check: numerics/block2_test.cpp against a dense solve.
template <int L>
WARMSIDE_INLINE Eliminated<L> eliminate(const Block2<L>& below, const Block2<L>& diagonal,
                                        const Block2<L>& above, const Pair<L>& right,
                                        const Eliminated<L>& before) {
    const Block2<L> taken = product<L>(below, before.above);
    const Pair<L> known = product<L>(below, before.right);
    const Block2<L> inv = inverse<L>({diagonal.a00 - taken.a00, diagonal.a01 - taken.a01,
                                      diagonal.a10 - taken.a10, diagonal.a11 - taken.a11});
    return {product<L>(inv, above), product<L>(inv, Pair<L>{right.x0 - known.x0, right.x1 - known.x1})};
}

}  // namespace warmside::numerics
