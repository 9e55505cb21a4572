// The temperature rule of unvented roofs.
#pragma once

namespace warmside::rules {

/// Share of the whole R that must lie outside of the deck for its underside to stand at `deck`, K:
/// (deck - outside)/(inside - outside). Source  IRC R806.5 (seen); check: proof/rules/roofs.toml
[[nodiscard]] double share_outside(double deck, double inside, double outside);

}  // namespace warmside::rules
