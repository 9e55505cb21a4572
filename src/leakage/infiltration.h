// Outdoor air that a house takes in hour by hour: through its leaks, by the pressure balance, and through
// its fans. And published short models as second opinions.
#pragma once

#include <vector>

#include "assembly/assembly.h"
#include "climate/year.h"
#include "leakage/pressures.h"
#include "leakage/supply.h"

namespace warmside::leakage {

/// Shelter of a house, 1 (none) to 5 (very heavy), as the two models below count it.
/// open 2, suburban 3, city 4: our reading of their descriptions, no source
[[nodiscard]] int shelter_of(assembly::Airtightness::Terrain terrain);

/// Basic model.  Q = A_L/1000 sqrt(C_s |dT| + C_w U^2),  A_L in cm2
///
/// area     m2, effective leakage area at 4 Pa
/// storeys  1 to 3, more counts as 3;  shelter 1 to 5
/// wind     m/s at the weather station;  Returns m3/s
/// Source   sherman-grimsrud-1980 as in ashrae-f16 (memory); check: proof/leakage/infiltration.toml
[[nodiscard]] double basic_infiltration(double area, int storeys, int shelter, double difference,
                                        double wind);

/// Enhanced model.  Q_s = c C_s |dT|^n,  Q_w = c C_w (s G U)^2n,  Q = sqrt(Q_s^2 + Q_w^2)
///
/// c, n    Q = c dp^n, m3/s
/// crawl   the lowest floor stands over a crawl space; flue: an open flue in the house
/// Source  walker-wilson-1998 as in ashrae-f16 (memory); check: proof/leakage/infiltration.toml
struct Enhanced {
    double stack = 0.0, wind = 0.0, total = 0.0;  ///< m3/s
};
struct EnhancedHouse {
    double c = 0.0, n = 0.0;
    int storeys = 1, shelter = 3;
    bool crawl = false, flue = false;
};
[[nodiscard]] Enhanced enhanced_infiltration(const EnhancedHouse& house, double difference, double wind);

/// Leaks and fans together.  Q = Q_balanced + sqrt(Q_leaks^2 + Q_unbalanced^2),  Q_balanced = min(in, out)
///
/// leaks    m3/s without fans;  Returns m3/s of outdoor air, fans included
/// Source   ashrae-f16, combining mechanical and natural ventilation (memory)
[[nodiscard]] double superposed(double leaks, double supply, double exhaust);

/// Outdoor air of a house over a year; columns [8760].
struct AirExchange {
    std::vector<double> leaks;            ///< m3/s at the outdoor density, fans' imbalance included
    std::vector<double> leaks_dry;        ///< kg/s of dry air
    std::vector<double> leaks_heat;       ///< W/K: rho c_p V, against outdoor air
    Supply supply;                        ///< of the fans; exhaust fans bring theirs through the leaks
    double volume = 0.0;                  ///< m3, heated
    double fan_energy = 0.0;              ///< J a year
    double imbalance = 0.0;               ///< m3/s, blown in above what is drawn out
    std::vector<double> basic, enhanced;  ///< m3/s through leaks and unbalanced fans by the two models
    /// 1/s, mean from December to February, through leaks: by the balance and by the models.
    double winter = 0.0, winter_basic = 0.0, winter_enhanced = 0.0;
};

/// The same balance as the moisture runs' (`pressures` is handed to both).
///
/// house     ventilation, storeys and terrain for the models
/// Problem   incomplete when a column is not 8760 long; the ventilation rules cannot be read
[[nodiscard]] Result<AirExchange> air_exchange(const assembly::House& house, const climate::Year& year,
                                               const climate::Indoor& indoor, const Pressures& pressures);

}  // namespace warmside::leakage
