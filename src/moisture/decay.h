// Brown rot on softwood: how near it is to starting, and the mass it takes.
#pragma once

#include <span>

namespace warmside::moisture {

/// Time in constant favourable conditions until decay starts.
///
///   t_crit = (2.3 T + 0.035 RH - 0.024 T RH)/(-42.9 + 0.14 T + 0.45 RH) x 720 h, T in degC, RH in %
///
/// temperature        K; held at 303.15 above (the fit turns negative near 309 K)
/// relative_humidity  0..1
/// Returns s; infinity where decay does not start: not above 0 degC, not above 95 %, or where the fit gives
/// no positive time (just above 95 % near 0 degC)
///
/// Source  viitanen-2010-decay (equation from memory); check: proof/moisture/decay.toml
[[nodiscard]] double decay_start_time(double temperature, double relative_humidity);

/// Share of the mass lost per second once decay has started.
///
///   -5.96e-2 + 1.96e-4 T + 6.25e-4 RH % an hour, never negative
///
/// Same arguments and source. 0 where conditions are not favourable.
[[nodiscard]] double decay_loss_rate(double temperature, double relative_humidity);

/// Activation grows by dt/t_crit in favourable hours and falls by dt/17520 h in others, 0..1; mass is lost in
/// favourable hours while it stands at 1.
class DecaySurface {
public:
    /// As MouldSurface::march. Returns the sample with the largest activation, or the last that lost mass.
    std::size_t march(std::span<const float> temperature, std::span<const float> relative_humidity,
                      double hours);
    [[nodiscard]] double peak() const { return peak_; }       ///< activation, within the last call
    [[nodiscard]] double mass_loss() const { return loss_; }  ///< share, since the start

private:
    double activation_ = 0.0, peak_ = 0.0, loss_ = 0.0;
};

}  // namespace warmside::moisture
