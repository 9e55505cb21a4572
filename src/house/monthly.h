// Heating need by months: a second opinion on the hourly run.
#pragma once

#include <array>
#include <span>

#include "base/result.h"
#include "house/network.h"

namespace warmside::house {

/// Share of the gains that is of use for heating.
///
///   eta = (1 - g^a)/(1 - g^(a+1));  a/(a + 1) at g = 1;  1 at g = 0;  1/g below 0 (more than all losses)
///
/// g        gains over losses
/// a        a0 + tau/tau0, above 0
/// Source   iso-13790, 12.2.1.1 (memory); check: proof/house/monthly.toml
[[nodiscard]] double utilisation(double g, double a);

/// a = 1 + tau/15 h,  tau = C/(H_tr + H_ve).  J/K and W/K.
/// Source   iso-13790, 12.2.1.1, table 9, monthly method (memory)
[[nodiscard]] double utilisation_exponent(double capacity, double conductance);

struct MonthlyHouse {
    double conductance = 0.0;          ///< W/K, transmission and air together, to outdoors
    double capacity = 0.0;             ///< J/K
    double indoor = 293.15;            ///< K
    std::array<double, 12> outdoor{};  ///< K, monthly mean
    std::array<double, 12> gains{};    ///< J a month, inside and sun
    std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
};
struct MonthlyNeed {
    std::array<double, 12> loss{}, use{}, heating{};  ///< J; `use`: eta
    double year = 0.0;                                ///< J
    double time_constant = 0.0, exponent = 0.0;       ///< s, -
};
/// Q = max(0, H (T_i - T_e) t - eta gains), months without a loss need nothing.
///
/// Left out: ground that lags behind the air, set-back, losses to sky, recovery that stops in frost; they are
/// in the hourly run, so the two differ by some percent.
/// Problem  out_of_range: conductance or capacity not above 0, a gain below 0, not finite
[[nodiscard]] Result<MonthlyNeed> monthly_need(const MonthlyHouse& house);

/// J/K of a zone: what its air and its elements take up while the zone is warmed by 1 K and all else stays,
/// at the end: each cell counts with the share of the step that reaches it, 1 - R(zone to cell)/R. Elements
/// without another side count in full. Ours: the static limit of ISO 13786's internal capacity; more than a
/// day's swing reaches, which favours the use of gains.
[[nodiscard]] double stored_per_kelvin(const Network& network, std::size_t zone);

/// Means or sums over months of an hourly series of the year.
[[nodiscard]] std::array<double, 12> monthly_mean(std::span<const double> hourly);
[[nodiscard]] std::array<double, 12> monthly_energy(std::span<const double> power);  ///< J

}  // namespace warmside::house
