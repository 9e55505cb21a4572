// Mould growth on a surface, hour by hour: the improved Finnish model and the two times of the first one.
#pragma once

#include <span>
#include <vector>

#include "material/material.h"

namespace warmside::moisture {

/// Growth coefficients of one sensitivity class.
struct MouldGrowth {
    double k1_below = 1.0;             ///< speed below index 1, relative to pine sapwood
    double k1_above = 2.0;             ///< speed from index 1 on
    double a = 1.0, b = 7.0, c = 2.0;  ///< largest index: a + b x - c x^2
    double least_humidity = 0.8;       ///< no growth below, 0..1
};
/// Source  ojanen-2010, table of sensitivity classes (quoted); check: proof/moisture/mould.toml
[[nodiscard]] const MouldGrowth& mould_growth(material::MouldClass sensitivity);
[[nodiscard]] const char* name_of(material::MouldClass sensitivity);  ///< "very sensitive"

/// Relative humidity from which mould grows, 0..1.
///
///   max(least, -0.00267 t^3 + 0.160 t^2 - 3.13 t + 100) %  for t <= 20 degC, least above
///
/// temperature  K
/// least        0..1, of the class
/// Source  hukka-viitanen-1999 (quoted); check: proof/moisture/mould-critical.toml
[[nodiscard]] double mould_critical_humidity(double temperature, double least);

/// Constant conditions, pine sapwood (W 0) or spruce (W 1), sawn surface (SQ 0) or kiln-dried (SQ 1): seconds
/// until the index reaches 1 and 3 in the first model.
///
///   t_m = exp(-0.68 ln T - 13.9 ln RH + 0.14 W - 0.33 SQ + 66.02) weeks, T in degC, RH in %
///   t_v = exp(-0.74 ln T - 12.72 ln RH + 0.06 W + 61.50) weeks
///
/// temperature        K, above 273.15
/// relative_humidity  0..1
/// Source  hukka-viitanen-1999 (t_m quoted, t_v from memory); check: proof/moisture/mould-weeks.toml
struct MouldTimes {
    double to_index_1 = 0.0;  ///< s
    double to_index_3 = 0.0;  ///< s
};
[[nodiscard]] MouldTimes mould_times(double temperature, double relative_humidity, int wood = 0,
                                     int surface = 0);

/// What the index does while the surface is frozen. The sources do not agree: some users hold it, an open
/// measurement script lets it decline. Held is the safe side.
enum class BelowFreezing { hold, decline };

/// Which model the index follows.
enum class MouldForm {
    improved,  ///< sensitivity and decline classes: decides
    original   ///< pine sapwood, decline as measured on it, speed above index 1 from both times: reported
               ///< beside
};

struct MouldModel {
    material::MouldClass sensitivity = material::MouldClass::sensitive;
    double decline = 0.1;  ///< share of the decline of pine in the first model; "almost none"
    BelowFreezing below_freezing = BelowFreezing::hold;
    MouldForm form = MouldForm::improved;
};

/// The model of 1999 for pine sapwood.
[[nodiscard]] MouldModel original_mould_model(BelowFreezing below_freezing);

/// The index of one surface, marched over samples of equal length.
///
///   dM/dt = k1 k2 / (7 t_m) a day while 0 < t < 50 degC and RH >= critical
///   k2    = max(0, 1 - exp(2.3 (M - M_max)))
///   dM/dt = -0.032 C a day in the first 6 h after growth, 0 until 24 h, then -0.016 C a day
///
/// The original model is the very sensitive class with C = 1 and k1 = 2/(t_v/t_m - 1) from index 1 on, t_v
/// and t_m as in mould_times.
///
/// Within a sample conditions are constant and the growth equation is solved in closed form in exp(-2.3 M),
/// split where M passes 1. Tables of T^0.68, RH^13.9 and exp(-2.3 M_max) replace the functions; with them the
/// index is within 1e-3 of the equations (tested on ragged years, where 2e-4 was the most). It never falls
/// below 0.
///
/// Source  hukka-viitanen-1999, viitanen-ojanen-2007, ojanen-2010; check: proof/moisture/mould.toml,
///         proof/moisture/mould-original.toml
class MouldSurface {
public:
    explicit MouldSurface(const MouldModel& model);
    /// temperature  K, one a sample
    /// relative_humidity  0..1; above 1 counts as 1
    /// hours        length of a sample, h
    /// Returns the sample with the largest index in this call.
    std::size_t march(std::span<const float> temperature, std::span<const float> relative_humidity,
                      double hours);
    [[nodiscard]] double index() const;  ///< after the last sample
    [[nodiscard]] double peak() const;   ///< largest index within the last call of march

private:
    void decline(double hours, double steady_factor);
    void grow(double t, double r, double critical, double hours);
    [[nodiscard]] double speed_above(double t, double r) const;
    MouldGrowth growth_;
    MouldForm form_;
    double decline_fast_, decline_slow_;  ///< index per hour
    bool hold_when_frozen_;
    double y_ = 1.0;           ///< exp(-2.3 M)
    double least_y_ = 1.0;     ///< in the last march
    double idle_hours_ = 1e9;  ///< since growth stopped
};

}  // namespace warmside::moisture
