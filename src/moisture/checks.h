// Columns of the published and exact checks: EN 15026 Annex A, isothermal drying, the air-leakage wall, air
// advection, capillary uptake. Used by proofs and tests; they go through the same solver as walls.
#pragma once

#include <span>
#include <vector>

#include "moisture/column.h"
#include "moisture/march.h"

namespace warmside::moisture {

/// Temperature (K), water content (kg/m3) over depth at one time.
struct ProfileAt {
    double time = 0.0;                                    ///< s
    std::vector<double> depth;                            ///< m
    std::vector<double> temperature, water, pressure;     ///< K, kg/m3, Pa of vapour
    double total = 0.0;                                   ///< kg/m2
    [[nodiscard]] double temperature_at(double x) const;  ///< linear between nodes
    [[nodiscard]] double water_at(double x) const;        ///< monotone cubic between nodes
};

/// Keeps the profile at given whole hours.
class ProfileRecorder : public Recorder {
public:
    ProfileRecorder(const Column& column, std::vector<int> hours)
        : column_(column), hours_(std::move(hours)) {}
    void hour(int hours_done, const Snapshot& now) override;
    [[nodiscard]] const std::vector<ProfileAt>& profiles() const { return profiles_; }

private:
    const Column& column_;
    std::vector<int> hours_;
    std::vector<ProfileAt> profiles_;
};

/// EN 15026:2007 Annex A: a step of temperature and humidity on a half space. `refine` 1, 2, 4 ... divides
/// the cells.
[[nodiscard]] Column en15026_step(int refine = 1);
/// Isothermal drying of a slab of constant diffusivity (HAMSTAD benchmark 2); x from the outside. latent off.
[[nodiscard]] Column isothermal_drying(int refine = 1);
/// Light wall with exfiltration, then infiltration (after HAMSTAD benchmark 3); x from the inside.
[[nodiscard]] Column air_leak_wall(int refine = 1);
/// Layer 0.2 m thick between fixed faces with air flow: conductivity 0.04 W/(m K), permeability (kg/(s m
/// Pa)).
struct AdvectionCase {
    double air = 0.0;  ///< kg/(m2 s)
    double permeability = 1.3e-10;
    double temperature_left = 293.15, temperature_right = 263.15;  ///< K
    double pressure_left = 0.0, pressure_right = 0.0;              ///< Pa
};
[[nodiscard]] Column advection(const AdvectionCase& given, int pieces);
/// Suction of water into a slab of constant diffusivity D with w = dw x humidity.
[[nodiscard]] Column constant_diffusivity(double diffusivity, double water_difference, double thickness,
                                          int pieces);

/// A bare slab of constant permeability (kg/(s m Pa)) and capacity (kg/m3 per unit of humidity) at one
/// temperature (K), whose face meets 8 h of one humidity and 16 h of another every day: a moisture buffer
/// test.
struct BufferCase {
    double permeability = 0.0, capacity = 0.0, temperature = 296.15;
    double high = 0.75, low = 0.33;  ///< relative humidity
};
[[nodiscard]] Column moisture_buffer(const BufferCase& given);

/// Planes with resistances between them: heat (m2 K/W) and vapour permeance (kg/(s m2 Pa)) of each layer from
/// inside, the films first and last. Fixed air on both sides; no heat of evaporation, as the hand method has
/// it. Water that meets saturation stays on its plane.
struct Planes {
    std::vector<double> resistance, permeance;
    double temperature_inside = 0.0, temperature_outside = 0.0;  ///< K
    double pressure_inside = 0.0, pressure_outside = 0.0;        ///< Pa
};
[[nodiscard]] Column planes(const Planes& given);

/// Runs one column and keeps profiles at `hours` (ascending).
struct CheckRun {
    std::vector<ProfileAt> profiles;
    MarchResult result;
};
[[nodiscard]] Result<CheckRun> run_check(const Column& column, const std::vector<int>& hours,
                                         const MarchOptions& options = {});

}  // namespace warmside::moisture
