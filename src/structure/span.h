// Joists, rafters and beams as simple spans, the way the span tables of the code are made.
#pragma once

#include "structure/lumber.h"

namespace warmside::structure {

/// Even loads on a member, N/m, and what it may do.
struct SpanCase {
    Size size;
    int plies = 1;
    Lumber lumber;
    double dead = 0.0, live = 0.0;  ///< N/m
    double duration = 1.0;          ///< CD of the live load
    double repetitive = 1.0;        ///< Cr
    double limit = 360;             ///< live deflection at most span / limit
};

struct SpanLimit {
    double bending = 0.0;     ///< m, longest span by strength
    double deflection = 0.0;  ///< m, by stiffness
    [[nodiscard]] double span() const { return bending < deflection ? bending : deflection; }
};

/// The longest simple span, m.
///
///   (D + L) l^2/8 = Fb CD CF Cr S    and    5 L l^4/(384 E I) = l/limit
///
/// Shear and bearing are not checked, as in the code's tables.
/// Source   NDS 2018 3.3, 4.3; IRC 2021 Tables R502.3.1 and R802.4.1 follow from it (reference notes)
/// Check    proof/structure/joists.toml, rafters.toml
[[nodiscard]] SpanLimit longest_span(const SpanCase& each);

/// Greatest of bending, shear and deflection of a span (m), demand over capacity.
/// Source   NDS 2018 3.3, 3.4 (3V/2A)
[[nodiscard]] double beam_ratio(const SpanCase& each, double span);

}  // namespace warmside::structure
