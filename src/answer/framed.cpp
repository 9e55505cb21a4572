#include "answer/framed.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>

#include "answer/keys.h"
#include "base/parallel.h"

namespace warmside::answer {

namespace {

Key key_of_frame(const assembly::House& house, const assembly::Assembly& wall) {
    Digest digest;
    add_built(digest, house, wall);
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

// The rung below `assembly` on its ladder; nothing for the lowest.
std::optional<std::size_t> below(const assembly::House& house, assembly::Part part, std::size_t assembly) {
    for (const auto& ladder : house.ladders) {
        if (ladder.part != part) continue;
        const auto at = std::find(ladder.rungs.begin(), ladder.rungs.end(), assembly);
        if (at != ladder.rungs.end() && at != ladder.rungs.begin()) return *(at - 1);
    }
    return std::nullopt;
}

// What a rung adds to the one below it, where both have a cost.
void add_step(const assembly::House& house, std::size_t from, const std::shared_ptr<const Priced>& lower,
              RungAnswer& rung, const takeoff::PriceBook& book) {
    if (!lower || !rung.priced) return;
    auto step = takeoff::step_cost(house, house.assemblies[from], lower->cost,
                                   house.assemblies[rung.assembly], rung.priced->cost, book);
    if (step)
        rung.step_cost = std::move(*step);
    else
        rung.notes.push_back("No cost of the step: " + step.error().front().what + ".");
}

// One wall on its way to a price.
struct Wall {
    std::shared_ptr<const Framed> framed;
    std::shared_ptr<const Priced> priced;
    std::string absent;
};
using Walls = std::map<std::size_t, Wall>;  // by assembly

// Every framed rung, and the one below it.
Walls walls_to_price(const assembly::House& house, const std::vector<LadderAnswer>& ladders,
                     Stage<Framed>& kept) {
    Walls out;
    for (const auto& ladder : ladders) {
        for (const auto& rung : ladder.rungs) {
            if (!rung.framed) continue;
            out[rung.assembly].framed = rung.framed;
            const auto lower = below(house, ladder.part, rung.assembly);
            if (!lower) continue;
            if (auto frame = framed_with(house, house.assemblies[*lower], kept))
                out[*lower].framed = std::move(*frame);
        }
    }
    return out;
}

Result<void> price(const assembly::House& house, Walls& walls, const takeoff::PriceBook& book, bool whole,
                   Stage<Priced>& kept, const Control& control) {
    const auto key = [&](std::size_t i) {
        Digest digest;
        digest.add(key_of_frame(house, house.assemblies[i]));
        add(digest, book);
        digest.add(whole);
        return digest.key();
    };
    std::vector<std::size_t> missing;
    for (auto& [i, wall] : walls) {
        wall.priced = kept.find(key(i));
        if (!wall.priced) missing.push_back(i);
    }
    std::vector<Result<Priced>> made(missing.size());
    parallel_for(
        missing.size(),
        [&](std::size_t k) {
            const framing::Frame& frame = walls.at(missing[k]).framed->frame;
            made[k] =
                priced(house, house.assemblies[missing[k]], whole ? frame : walls_of(frame), book, control);
        },
        control.stop);
    if (control.stop.stopped()) return fail(Code::stopped, "stopped while the take-off was made");
    for (std::size_t k = 0; k < missing.size(); ++k) {
        Wall& wall = walls.at(missing[k]);
        if (made[k])
            wall.priced = kept.keep(key(missing[k]), std::move(*made[k]));
        else
            wall.absent = made[k].error().what;
    }
    return {};
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
                        const takeoff::PriceBook& book, bool whole, Stages stages, const Control& control) {
    Walls walls = walls_to_price(house, ladders, stages.framed);
    if (auto done = price(house, walls, book, whole, stages.priced, control); !done) return done;
    for (auto& ladder : ladders) {
        for (auto& rung : ladder.rungs) {
            if (!rung.framed) {
                rung.priced_absent = rung.framed_absent;
                continue;
            }
            rung.priced = walls.at(rung.assembly).priced;
            rung.priced_absent = walls.at(rung.assembly).absent;
            if (const auto lower = below(house, ladder.part, rung.assembly); lower && walls.contains(*lower))
                add_step(house, *lower, walls.at(*lower).priced, rung, book);
        }
    }
    return {};
}

}  // namespace warmside::answer
