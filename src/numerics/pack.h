// A pack of L doubles that the compiler keeps in vector registers, with the few functions the kernels need.
//
// Every operation acts on each lane alone, so a lane's result does not depend on its neighbours or on
// where it stands. Everything is forced inline: a pack never crosses a function border, so files built for
// different instruction sets can be linked together.
#pragma once

#include <cstdint>
#include <cstring>

// Packs never leave a translation unit, so the warning about their calling convention does not apply.
#pragma GCC diagnostic ignored "-Wpsabi"

#define WARMSIDE_INLINE [[gnu::always_inline]] inline

namespace warmside::numerics {

template <int L>
struct PackOf {
    using Number [[gnu::vector_size(8 * L)]] = double;
    using Integer [[gnu::vector_size(8 * L)]] = std::int64_t;
};
template <int L>
using Pack = typename PackOf<L>::Number;
template <int L>
using IntPack = typename PackOf<L>::Integer;

template <int L>
WARMSIDE_INLINE Pack<L> load(const double* from) {
    Pack<L> x;
    std::memcpy(&x, from, sizeof x);
    return x;
}
template <int L>
WARMSIDE_INLINE void store(double* to, Pack<L> x) {
    std::memcpy(to, &x, sizeof x);
}
template <int L>
WARMSIDE_INLINE Pack<L> fill(double value) {
    return Pack<L>{} + value;
}
template <int L>
WARMSIDE_INLINE Pack<L> smaller(Pack<L> a, Pack<L> b) {
    return a < b ? a : b;
}
template <int L>
WARMSIDE_INLINE Pack<L> larger(Pack<L> a, Pack<L> b) {
    return a > b ? a : b;
}
template <int L>
WARMSIDE_INLINE Pack<L> magnitude(Pack<L> a) {
    return a < 0.0 ? -a : a;
}

/// e^x for |x| up to 700, to 2 units in the last place; further out x is held at +-700.
///
///   x = n ln 2 + r, |r| <= ln(2)/2;  e^x = 2^n sum r^k/k!
///
/// Check: numerics/pack_test.cpp, against std::exp.
template <int L>
WARMSIDE_INLINE Pack<L> exponential(Pack<L> x) {
    x = smaller<L>(larger<L>(x, fill<L>(-700.0)), fill<L>(700.0));
    // Adding 1.5 x 2^52 leaves the rounded integer in the low bits.
    constexpr double shifter = 6755399441055744.0;
    const Pack<L> shifted = x * 1.4426950408889634 + shifter;
    const Pack<L> n = shifted - shifter;
    const Pack<L> r = (x - n * 0.693147180369123816490) - n * 1.90821492927058770002e-10;
    constexpr double c[] = {
        1.0,        1.0,         1.0 / 2,      1.0 / 6,       1.0 / 24,       1.0 / 120,      1.0 / 720,
        1.0 / 5040, 1.0 / 40320, 1.0 / 362880, 1.0 / 3628800, 1.0 / 39916800, 1.0 / 479001600};
    // Two interleaved Horner chains are shorter than one.
    const Pack<L> r2 = r * r;
    Pack<L> even = fill<L>(c[12]), odd = fill<L>(c[11]);
    for (int k = 10; k >= 0; k -= 2) even = even * r2 + c[k];
    for (int k = 9; k >= 1; k -= 2) odd = odd * r2 + c[k];
    IntPack<L> bits;
    std::memcpy(&bits, &shifted, sizeof bits);
    bits = (bits << 52) + std::int64_t{0x3ff0000000000000};
    Pack<L> scale;
    std::memcpy(&scale, &bits, sizeof scale);
    return (even + odd * r) * scale;
}

/// Turns eight packs of eight about: row k of the result holds element k of each.
WARMSIDE_INLINE void transpose(Pack<8> (&x)[8]) {
    using I = IntPack<8>;
    Pack<8> y[8];
    for (int k = 0; k < 8; k += 2) {
        y[k] = __builtin_shuffle(x[k], x[k + 1], I{0, 8, 2, 10, 4, 12, 6, 14});
        y[k + 1] = __builtin_shuffle(x[k], x[k + 1], I{1, 9, 3, 11, 5, 13, 7, 15});
    }
    for (int k = 0; k < 8; ++k) {
        if (k & 2) continue;
        x[k] = __builtin_shuffle(y[k], y[k + 2], I{0, 1, 8, 9, 4, 5, 12, 13});
        x[k + 2] = __builtin_shuffle(y[k], y[k + 2], I{2, 3, 10, 11, 6, 7, 14, 15});
    }
    for (int k = 0; k < 4; ++k) {
        y[k] = __builtin_shuffle(x[k], x[k + 4], I{0, 1, 2, 3, 8, 9, 10, 11});
        y[k + 4] = __builtin_shuffle(x[k], x[k + 4], I{4, 5, 6, 7, 12, 13, 14, 15});
    }
    for (int k = 0; k < 8; ++k) x[k] = y[k];
}

}  // namespace warmside::numerics
