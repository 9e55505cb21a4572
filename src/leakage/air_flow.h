// How airtight an assembly is, and the air that the pressures drive through it: what the moisture runs take.
#pragma once

#include <string>
#include <vector>

#include "leakage/pressures.h"

namespace warmside::leakage {

struct HouseTightness;  // tightness.h

/// Leakage through an assembly itself, and where it is from.
struct Tightness {
    double at_50_pa = 0.0;  ///< m3/(s m2)
    double exponent = 0.0;
    std::string from;  ///< "as stated", "from the blower door", "the Canadian limit for ..."
    Origin origin;
};
/// As stated of the assembly itself; else a share of the whole house's leak over walls and top, with its
/// exponent: of `whole` (measured, stated or expected: tightness.h), without it of the stated blower-door
/// figure; else the limit of an air-barrier system by the vapour permeance of what lies outside of the
/// insulation (data/leakage/defaults.toml).
[[nodiscard]] Result<Tightness> tightness_of(const assembly::House& house, const assembly::Assembly& assembly,
                                             const Envelope& envelope, const HouseTightness* whole = nullptr);

/// kg/(s m2 Pa), at 50 % humidity, of the layers outside of the layer with most thermal resistance, up to a
/// ventilated cavity; infinite where there are none.
[[nodiscard]] double outer_permeance(const assembly::Assembly& assembly);

/// m3/(s m2) at a pressure difference (Pa), from the leakage at 50 Pa: q50 sign(dp) (|dp|/50)^n.
/// Check: proof/leakage/power-law.toml
[[nodiscard]] double flow_at(double pressure_difference, double at_50_pa, double exponent);

/// Air through one face, spread and concentrated; outward positive (exfiltration).
struct AirFlow {
    std::vector<double> spread;  ///< [8760] m3/(s m2), even over the face, at mid-height of the upper storey
    std::vector<double> concentrated;  ///< [8760] m3/(s m2), in the strip at the joint under its ceiling
    Tightness tightness;
    double outward_winter = 0.0;  ///< m3/(s m2), mean of `spread` from December to February
    std::string assumes;          ///< one phrase for Verdict::assumes
};

/// The flow for moisture::Run::air_flow_by_hour. A concentrated run also sets Run::air_past_lining: its air
/// enters at the joint, behind the lining. One balance (`pressures`) serves all faces and rungs.
///
/// house      air, storeys and roofs
/// assembly   wall or roof that the face is built with
/// face       a wall (tilt pi/2) or a roof slope; a roof's height is its middle
/// pressures  of this house in the year of the run
/// whole      the house's leak where it is known: as tightness_of
/// Problem    the defaults cannot be read
[[nodiscard]] Result<AirFlow> air_flow(const assembly::House& house, const assembly::Assembly& assembly,
                                       const climate::Plane& face, const Pressures& pressures,
                                       const HouseTightness* whole = nullptr);
/// The same from year and indoor air. Problem: as `pressures`.
[[nodiscard]] Result<AirFlow> air_flow(const assembly::House& house, const assembly::Assembly& assembly,
                                       const climate::Plane& face, const climate::Year& year,
                                       const climate::Indoor& indoor);

}  // namespace warmside::leakage
