// Melt water under snow that may freeze again at the eave: an index of a roof's own warmth.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "base/origin.h"
#include "house/outcome.h"

namespace warmside::house {

/// data/house/ice_dam.toml.
struct SnowCover {
    Sourced<double> depth, density;  ///< m, kg/m3
    Origin conductivity;
    double under = 0.0, over = 0.0;           ///< m2 K/W: attic air to deck, snow to air
    double cold_air = 0.0, warm_attic = 0.0;  ///< K
    Origin films, attic;
    /// W/(m K), of snow of `density`.
    ///   k = 0.138 - 1.01 d + 3.233 d^2, d in g/cm3
    /// Source  Sturm and others 1997 (memory)
    [[nodiscard]] double conductivity_of_snow() const;
};
/// Problem: syntax, a missing key, a snow outside of the formula's range, with its line.
[[nodiscard]] Result<SnowCover> read_snow(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<SnowCover>& snow_cover();

/// Our own index: no standard has one. In each hour in which the air outdoors is below 0 degC the roof is
/// taken to lie under the stated snow, and the deck's outer face to be where steady heat puts it:
///
///   T_deck = T_out + (T_inner - T_out) R_over/(R_over + R_inner)
///   R_inner = film + R_deck,   R_over = snow + film
///
/// The sum of max(0, T_deck - 0 degC) is the index: what the roof's own heat could melt if snow were there.
/// Its limits: it does not know whether snow lies, how the sun, rain, chimneys, pipes, recessed lights or air
/// leaks warm single places, how snow drifts and thins, nor the eave's shape; the deck stands still (no heat
/// is stored), and melting takes heat that keeps a real deck at 0 degC. For comparing rungs of one house, not
/// houses or risks.
///
/// inner     [hour] K: the attic's air, or for an insulated slope the room's
/// outdoor   [hour] K
/// deck      m2 K/W from the inner film to the outer face of the deck: boards, or the whole slope
/// over_attic  `inner` is an attic: the hours of the field observation are counted and said, too
/// Problem   incomplete: lengths differ; out_of_range: a resistance that is not above 0; the data
[[nodiscard]] Result<IceDam> ice_dam(std::span<const double> inner, std::span<const double> outdoor,
                                     double deck, bool over_attic = true);
/// The same under another snow.
[[nodiscard]] Result<IceDam> ice_dam(std::span<const double> inner, std::span<const double> outdoor,
                                     double deck, bool over_attic, const SnowCover& snow);

}  // namespace warmside::house
