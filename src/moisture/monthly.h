// Steady vapour diffusion and the monthly method of ISO 13788: a second opinion, never the verdict.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "base/result.h"

namespace warmside::moisture {

/// One layer or film between two planes, inside first. Either may be 0, not both in every layer.
struct SteadyLayer {
    double resistance = 0.0;         ///< m2 K/W
    double vapour_resistance = 0.0;  ///< s m2 Pa/kg: 1/permeance, or s_d/2e-10
};

struct SteadyAir {
    double temperature = 0.0;      ///< K
    double vapour_pressure = 0.0;  ///< Pa
};

/// Values at the planes between layers, both air sides included: layers + 1 of each.
struct SteadyProfile {
    std::vector<double> temperature;      ///< K
    std::vector<double> saturation;       ///< Pa, by ISO 13788
    std::vector<double> uncorrected;      ///< Pa, straight through all vapour resistances
    std::vector<double> vapour_pressure;  ///< Pa, nowhere above saturation, at saturation on wet planes
    std::vector<double> rate;             ///< kg/(s m2), condensing (+) or evaporating (-) at each plane
    double flux_in = 0.0,
           flux_out = 0.0;  ///< kg/(s m2) from the room into the assembly, and out of it to outside
};

/// Steady profile. The pressure is the stretched line under saturation (lower convex hull over the vapour
/// resistance); planes named in `wet` hold water and stand at saturation.
///
/// layers   at least one, values >= 0, sums of both kinds > 0
/// wet      plane indices 1 .. layers - 1, rising
/// Problem  out_of_range: a negative or not finite value, an air vapour pressure above saturation;
///          unsupported: a face is below the dew point of air from which no vapour resistance parts it
/// Source   iso-13788-2012, clause 6; ashrae-fundamentals-2021-ch27, dew-point method; check:
/// proof/moisture/dew-point.toml
[[nodiscard]] Result<SteadyProfile> steady_profile(std::span<const SteadyLayer> layers,
                                                   const SteadyAir& inside, const SteadyAir& outside,
                                                   std::span<const std::size_t> wet = {});

struct MonthlyAir {
    SteadyAir inside, outside;
};

/// The twelve months of one wall; index 0 is January. Water is what stands at the end of the month.
struct MonthlyBalance {
    int first_month = 0;              ///< 1 to 12, in which condensation starts; 0: none in any month
    bool dries_out = true;            ///< no water is left when the year has gone round
    std::vector<double> plane_depth;  ///< s m2 Pa/kg from the inside, of each plane that is ever wet
    std::vector<std::size_t> plane;   ///< its layer boundary: after layer `plane`, 1 .. layers - 1; slices of
                                      ///< a thick layer count with the boundary inside of them
    std::vector<std::array<double, 12>> condensed;  ///< kg/m2 in the month, negative when drying, as computed
    std::vector<std::array<double, 12>> water;      ///< kg/m2 at the end of the month, >= 0
    double peak = 0.0;                              ///< kg/m2, all planes together
    int peak_month = 0;                             ///< 1 to 12; 0: none
    int dry_month = 0;  ///< the month at whose end no water is left; 0: none or never
};

/// Monthly accumulation by ISO 13788: layers with a resistance above 0.25 m2 K/W are cut into equal slices of
/// at most that; start in the first condensing month after one without; a wet plane stays at saturation until
/// it is dry. When every month condenses the start is January and the water does not dry out.
///
/// layers   films included
/// air      January to December
/// Problem  as steady_profile
/// Source   iso-13788-2012, clause 6 (procedure from memory); check: proof/moisture/iso13788-monthly.toml
[[nodiscard]] Result<MonthlyBalance> monthly_condensation(std::span<const SteadyLayer> layers,
                                                          const std::array<MonthlyAir, 12>& air);

}  // namespace warmside::moisture
