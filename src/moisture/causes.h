// Why a verdict is what it is, and what would change it: the run that decides, run again with one thing
// changed.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <string>

#include "moisture/verdict.h"

namespace warmside::moisture {

/// One judged verdict to be explained.
struct Inquiry {
    const assembly::Assembly* assembly = nullptr;
    std::span<const Run> runs;  ///< that the verdict was judged over
    Basis basis;                ///< as it was judged with
    Verdict* verdict =
        nullptr;  ///< drivers, without_drivers, driver_words, allowance and changes are filled in
};

/// A change is told when the verdict of the run that decides gets a better class, or comes nearer to dry by
/// this much on the scale of `severity` (0 to 1 up to the watch limit, 1 to 2 up to the wet one).
inline constexpr double least_help = 0.1;
/// kg/(m2 a): no leak above this is tried, nor above all the rain on the face.
inline constexpr double most_leak = 30.0;

/// Drivers    the deciding criterion at its place and in its year, with each driver taken away (variation.h);
/// strongest
///            first. A value that no longer occurs (no free water at all) is 0.
/// Allowance  the leak at which the verdict over the deciding run leaves `dry` and becomes `wet`, to 5 %, by
/// bisection;
///            where no rain falls on its face, over the run of the same path with most. Nothing where none
///            has rain, or where the leak has no water-resistive layer to land on.
/// Changes    candidates of variation.h by the verdict over the deciding run, best first; the best is run in
/// all runs
///            of the assembly and keeps its place only if it helps there too.
/// All runs of several inquiries share the solver's lanes, up to 24 at a time, which bounds memory to some
/// 150 MB.
///
/// finished   told when an inquiry is complete, with its number, in order of completion
/// Problem    stopped; not_converged of the deciding run itself. A changed run that does not converge is left
/// out and
///            becomes a note of the verdict
[[nodiscard]] Result<void> find_causes(std::span<const Inquiry> inquiries, const Options& options,
                                       const Control& control = {},
                                       const std::function<void(std::size_t)>& finished = {});

/// "mostly vapour from inside: without it the mould index would be 0.2 (dry)". Empty without drivers.
[[nodiscard]] std::string driver_sentence(const Verdict& verdict);

}  // namespace warmside::moisture
