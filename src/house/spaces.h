// Attics, crawl spaces and the like: slopes over them, outdoor air through them.
#pragma once

#include <optional>
#include <vector>

#include "assembly/assembly.h"
#include "assembly/geometry.h"
#include "climate/year.h"
#include "house/network.h"

namespace warmside::house {

/// One plane of a roof.
struct Slope {
    climate::Plane plane;
    double area = 0.0;  ///< m2, without overhang
};
/// By the form: gable two halves, shed one, hip four (the ends s^2/4 each over a rectangle L x s, a quarter
/// each over any other outline), flat one. Their areas sum to `area.surface`.
[[nodiscard]] std::vector<Slope> slopes_of(const assembly::House& house, const assembly::Roof& roof,
                                           const assembly::RoofArea& area);

/// Outdoor air through an attic whose vents lie half low and half high, driven by wind alone:
///
///   Q = C_d A/(2 sqrt 2) sqrt(dC_p) s v,   C_d 0.6, dC_p 0.6 (wall 0.40 windward, -0.20 leeward)
///
/// and not less than `least`. Stack is left out: the attic's own temperature drives it, some tenths of the
/// wind's flow in winter.
///
/// vents   m2, free area of all
/// share   s, wind at the eaves over that at 10 m (leakage::wind_share)
/// least   m3/s
/// steady  one value, at the year's mean wind
/// Source  orifices in series: canadian-cavity-1995 (memory); C_p: liddament-1996 (quoted); check: by hand,
///         build_test.cpp
[[nodiscard]] Series attic_air(double vents, double share, double least, const climate::Year& year,
                               bool steady);

/// Through a crawl space with vents on all sides.  Q = 0.6 A f_w v,  f_w 0.05; not less than `least`
/// Source  ISO 13370:2007, 9.2: its 1450 e v f_w/B' is 0.6 times 1208 J/(m3 K) (memory)
[[nodiscard]] Series crawl_space_air(double vents, double least, const climate::Year& year, bool steady);

/// m3 under a roof: that of the areas, else (an outline that is no rectangle) a prism half as high as a gable
/// over the narrow side of the outline's box would be.
[[nodiscard]] double volume_under(const assembly::House& house, const assembly::Roof& roof,
                                  const assembly::RoofArea& area);

}  // namespace warmside::house
