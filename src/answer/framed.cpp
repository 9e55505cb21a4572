#include "answer/framed.h"

#include <algorithm>
#include <fmt/format.h>

#include "answer/keys.h"
#include "base/parallel.h"

namespace warmside::answer {

namespace {

// A frame stands on the wall, on what it meets, on the geometry and on how the crew builds.
Key key_of_frame(const assembly::House& house, const assembly::Assembly& wall) {
    Digest digest;
    add(digest, wall);
    for (const auto& each : house.assemblies) add(digest, each);
    add_geometry(digest, house);
    add(digest, house.details);
    add_framing(digest, house);
    return digest.key();
}

Result<Priced> priced(const assembly::House& house, const assembly::Assembly& wall,
                      const framing::Frame& frame, const takeoff::PriceBook& book, const Control& control) {
    auto order = takeoff::order_of(house, wall, frame, control);
    if (!order) return fail(std::move(order).error());
    auto cost = takeoff::cost_of(house, wall, frame, *order, book);
    if (!cost) {
        Problem problem = cost.error().front();
        const std::size_t more = cost.error().size() - 1;
        if (more > 0) problem.what += fmt::format(", and {} more", more);
        return fail(problem);
    }
    return Priced{std::move(*order), std::move(*cost)};
}

// What each rung adds to the one below it, where both have a cost.
void add_steps(const assembly::House& house, std::vector<RungAnswer>& rungs, const takeoff::PriceBook& book) {
    for (std::size_t i = 1; i < rungs.size(); ++i) {
        const RungAnswer& below = rungs[i - 1];
        RungAnswer& rung = rungs[i];
        if (!below.priced || !rung.priced) continue;
        auto step = takeoff::step_cost(house, house.assemblies[below.assembly], below.priced->cost,
                                       house.assemblies[rung.assembly], rung.priced->cost, book);
        if (step) {
            rung.step_cost = std::move(*step);
        } else {
            rung.notes.push_back("No cost of the step: " + step.error().front().what + ".");
        }
    }
}

}  // namespace

framing::Frame walls_of(const framing::Frame& frame) {
    using Kind = framing::Panel::Kind;
    framing::Frame out{.assembly = frame.assembly, .panels = {}, .factor = frame.factor, .notes = {}};
    std::copy_if(
        frame.panels.begin(), frame.panels.end(), std::back_inserter(out.panels),
        [](const auto& panel) { return panel.kind == Kind::wall || panel.kind == Kind::gable_wall; });
    return out;
}

Result<std::shared_ptr<const Framed>> framed_with(const assembly::House& house, const assembly::Assembly& a,
                                                  Stage<Framed>& kept) {
    return kept.get(key_of_frame(house, a), [&]() -> Result<Framed> {
        auto frame = framing::frame(house, a);
        if (!frame) return fail(std::move(frame).error());
        auto structure = structure::check(house, a, *frame);
        if (!structure) return fail(std::move(structure).error());
        return Framed{std::move(*frame), std::move(*structure)};
    });
}

Result<void> add_prices(const assembly::House& house, std::vector<LadderAnswer>& ladders,
                        const takeoff::PriceBook& book, bool whole, Stage<Priced>& kept,
                        const Control& control) {
    struct Missing {
        RungAnswer* rung;
        Key key;
    };
    std::vector<Missing> missing;
    for (auto& ladder : ladders) {
        for (auto& rung : ladder.rungs) {
            if (!rung.framed) {
                rung.priced_absent = rung.framed_absent;
                continue;
            }
            Digest digest;
            digest.add(key_of_frame(house, house.assemblies[rung.assembly]));
            add(digest, book);
            digest.add(whole);
            const Key key = digest.key();
            rung.priced = kept.find(key);
            if (!rung.priced) missing.push_back({&rung, key});
        }
    }
    std::vector<Result<Priced>> made(missing.size());
    parallel_for(
        missing.size(),
        [&](std::size_t k) {
            const RungAnswer& rung = *missing[k].rung;
            const framing::Frame& frame = rung.framed->frame;
            made[k] = priced(house, house.assemblies[rung.assembly], whole ? frame : walls_of(frame), book,
                             control);
        },
        control.stop);
    if (control.stop.stopped()) return fail(Code::stopped, "stopped while the take-off was made");
    for (std::size_t k = 0; k < missing.size(); ++k) {
        if (made[k])
            missing[k].rung->priced = kept.keep(missing[k].key, std::move(*made[k]));
        else
            missing[k].rung->priced_absent = made[k].error().what;
    }
    for (auto& ladder : ladders) add_steps(house, ladder.rungs, book);
    return {};
}

}  // namespace warmside::answer
