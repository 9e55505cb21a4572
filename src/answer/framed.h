// The stages of building: every wall rung framed, checked and priced.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "answer/answer.h"
#include "answer/stage.h"

namespace warmside::answer {

/// The house framed with the wall `a`, and whether its members carry their loads; kept by key.
///
/// Problem  those of framing::frame and structure::check; stopped
[[nodiscard]] Result<std::shared_ptr<const Framed>> framed_with(const assembly::House& house,
                                                                const assembly::Assembly& a,
                                                                Stage<Framed>& kept);

/// Where frames and costs are kept.
struct Stages {
    Stage<Framed>& framed;
    Stage<Priced>& priced;
};

/// What the walls of every framed rung take to buy and build (`whole`: floors and roofs too), and what each
/// step adds. Where it cannot be had, `priced_absent` says why.
///
/// Problem  stopped
[[nodiscard]] Result<void> add_prices(const assembly::House& house, std::vector<LadderAnswer>& ladders,
                                      const takeoff::PriceBook& book, bool whole, Stages stages,
                                      const Control& control);

/// The walls of a frame alone: what a rung's cost is for.
[[nodiscard]] framing::Frame walls_of(const framing::Frame& frame);

}  // namespace warmside::answer
