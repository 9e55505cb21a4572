// Nails and screws between two pieces of wood, with or without a gap between them.
#pragma once

#include <array>

namespace warmside::structure {

/// m, Pa, N. The gap is what the fastener crosses unsupported: foam, stone wool.
struct Dowel {
    double diameter = 0.0;  ///< of the nail, or of the root of the threads
    double yield = 0.0;     ///< bending yield strength Fyb
    double gravity = 0.42;  ///< specific gravity of both pieces
    double side = 0.0;      ///< thickness of the side piece
    double main = 0.0;      ///< penetration into the main piece
    double gap = 0.0;
};

/// Modes Im, Is, II, IIIm, IIIs, IV.
inline constexpr std::array<const char*, 6> yield_modes{"Im", "Is", "II", "IIIm", "IIIs", "IV"};

/// Reference lateral value of each yield mode, N.
///
///   q = Fe D, Fe = 16600 G^1.84 psi    M = Fyb D^3/6
///   Im q lm, Is q ls; else A P^2 + B P + C = 0 with A, B, C of the mode (TR12 Table 1)
///   Z = P/KD, KD = 2.2 up to 0.17 in, 10 D + 0.5 above (D < 1/4 in)
///
/// Source   AWC TR12 general dowel equations with a gap; NDS 2018 Tables 12.3.1A, 12.3.1B (without)
/// Check    proof/structure/fasteners.toml
[[nodiscard]] std::array<double, 6> lateral_modes(const Dowel& dowel);
/// The smallest of them, N.
[[nodiscard]] double lateral(const Dowel& dowel);

/// Reference withdrawal of a plain nail from the side grain, N per m of penetration: 1380 G^2.5 D lbf/in.
/// Source   NDS 2018 eq. 12.2-3; check: proof/structure/fasteners.toml
[[nodiscard]] double withdrawal(double gravity, double diameter);

}  // namespace warmside::structure
