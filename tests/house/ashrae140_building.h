// The test building of ANSI/ASHRAE 140, case by case, as a Network. What of its definition is memory is said
// beside it; the reference gives geometry, layers, gains and schedules as "mixed" and "memory".
#pragma once

#include <map>
#include <string>
#include <vector>

#include "climate/irradiance.h"
#include "house/simulate.h"

namespace ashrae140 {

struct Case {
    std::string name;
    enum class Windows { none, opaque, south, east_west } windows = Windows::south;
    enum class Control { kept, setback, vented, floating, vented_floating } control = Control::kept;
    bool heavy = false, shaded = false, thick = false, sunspace = false;
    double heating = 20.0, cooling = 27.0;  // degC
    double air_changes = 0.5, gains = 200.0;
    double emissivity_inside = 0.9, emissivity_outside = 0.9;
    double absorptance_inside = 0.6, absorptance_outside = 0.6;
};

/// All that the reference defines, in its order.
[[nodiscard]] std::vector<Case> cases();

struct Result {
    std::map<std::string, double> figures;  ///< by `what` of proof/house/ashrae140.toml, in its unit
    double balance = 0.0;                   ///< worst hour's residual over the largest flow
};

/// The weather of Denver and the sun on the five planes.
class Site {
public:
    explicit Site(warmside::climate::Year year);
    [[nodiscard]] const warmside::climate::Year& year() const { return year_; }
    [[nodiscard]] const warmside::climate::PlaneSun& sun(int quarter) const {
        return sun_[static_cast<std::size_t>(quarter)];
    }
    [[nodiscard]] static warmside::climate::Plane plane(int quarter);  ///< 0 north, 1 east, 2, 3; 4 roof

private:
    warmside::climate::Year year_;
    std::vector<warmside::climate::PlaneSun> sun_;
};

[[nodiscard]] Result run(const Case& one, const Site& site);

}  // namespace ashrae140
