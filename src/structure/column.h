// A stud or post that is pressed and bent at once, by the National Design Specification for wood.
#pragma once

#include "base/result.h"
#include "structure/lumber.h"

namespace warmside::structure {

/// Pa, N and m. Bends about its strong axis; the weak axis is held by the sheathing.
struct ColumnCase {
    Size size;
    Lumber lumber;
    double length = 0.0;      ///< m between the plates, effective length factor 1
    double axial = 0.0;       ///< N
    double across = 0.0;      ///< N/m, from the side, over the whole length; 0: axial only
    double duration = 1.0;    ///< CD of the shortest load in the combination
    double repetitive = 1.0;  ///< Cr
};

struct ColumnResult {
    double euler = 0.0;                               ///< FcE, Pa
    double unbuckled = 0.0;                           ///< Fc*, Pa
    double stability = 0.0;                           ///< CP
    double compression = 0.0;                         ///< Fc', Pa
    double bending = 0.0;                             ///< Fb', Pa
    double axial_stress = 0.0, bending_stress = 0.0;  ///< fc, fb, Pa
    double ratio = 0.0;                               ///< demand over capacity
};

/// The strength of a column.
///
///   Fc* = Fc CD CF    FcE = 0.822 Emin/(l/d)^2    a = FcE/Fc*    t = (1 + a)/1.6
///   CP = t - sqrt(t^2 - a/0.8)                    Fc' = Fc* CP   Fb' = Fb CD CF Cr
///   axial only: fc/Fc'    bent too: (fc/Fc')^2 + fb/[Fb' (1 - fc/FcE)]
///
/// Problem  out_of_range: l/d above 50 (NDS 3.7.1.4)
///          unsupported: fc reaches FcE, the column buckles whatever else; no ratio
/// Source   NDS 2018 3.7.1 and 3.9.2; wet service, temperature and incising factors 1
/// Check    proof/structure/columns.toml
[[nodiscard]] Result<ColumnResult> column(const ColumnCase& each);

/// Sag of a simple span under an even load, m: 5 w l^4 / (384 E I). Loads in N/m.
[[nodiscard]] double deflection(const Size& size, double modulus, double length, double load);

}  // namespace warmside::structure
