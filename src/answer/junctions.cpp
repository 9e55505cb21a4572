#include "answer/junctions.h"

#include <algorithm>
#include <fmt/format.h>

#include "answer/keys.h"
#include "base/parallel.h"
#include "thermal/built.h"
#include "thermal/junction_house.h"

namespace warmside::answer {

namespace {

// All that the junctions of a wall depend on: the wall, what it meets, where and how.
Key key_of_rung(const assembly::House& house, const assembly::Assembly& wall,
                const thermal::Conditions& conditions) {
    Digest digest;
    add_built(digest, house, wall);
    digest.add(conditions.inside).add(conditions.outside);
    return digest.key();
}

struct Rung {
    RungAnswer* answer = nullptr;
    Key key;
    RungJunctions made;
    std::vector<thermal::PlacedJunction> places;
    std::optional<Problem> problem;
};

struct Task {
    std::size_t rung = 0, place = 0;
};

void take(RungAnswer& rung, const RungJunctions& from) {
    rung.junctions = from.list;
    rung.junction_area = from.area;
    rung.junction_heat = thermal::junction_heat(from.list);
    thermal::complete(rung.worth, from.list, from.area);
    for (const auto& note : from.notes) rung.worth.notes.push_back("Junctions: " + note);
}

// What each place still needs to be solved.
std::vector<Task> draw(const assembly::House& house, std::vector<Rung>& rungs,
                       const thermal::Conditions& conditions) {
    std::vector<Task> tasks;
    for (std::size_t r = 0; r < rungs.size(); ++r) {
        const auto& framed = rungs[r].answer->framed;
        auto drawn = thermal::junctions_of(house, house.assemblies[rungs[r].answer->assembly], conditions,
                                           framed ? &framed->frame : nullptr);
        if (!drawn) {
            rungs[r].problem = drawn.error();
            continue;
        }
        rungs[r].made.area = drawn->wall_area;
        rungs[r].made.notes = std::move(drawn->notes);
        rungs[r].places = std::move(drawn->places);
        for (std::size_t p = 0; p < rungs[r].places.size(); ++p) tasks.push_back({r, p});
    }
    return tasks;
}

}  // namespace

Result<void> add_junctions(const assembly::House& house, std::vector<LadderAnswer>& ladders,
                           const thermal::Conditions& conditions, Stage<RungJunctions>& kept,
                           const Control& control) {
    std::vector<Rung> missing;
    for (auto& ladder : ladders) {
        for (auto& rung : ladder.rungs) {
            if (ladder.part != assembly::Part::wall) {
                rung.built_absent = "junctions are counted for the walls";
                continue;
            }
            const Key key = key_of_rung(house, house.assemblies[rung.assembly], conditions);
            if (const auto found = kept.find(key))
                take(rung, *found);
            else
                missing.push_back({.answer = &rung, .key = key});
        }
    }
    const std::vector<Task> tasks = draw(house, missing, conditions);
    const thermal::JunctionOptions options{.plain = true, .outside = conditions.outside};
    std::vector<Result<thermal::Junction>> solved(tasks.size());
    parallel_for(
        tasks.size(),
        [&](std::size_t k) {
            const auto& place = missing[tasks[k].rung].places[tasks[k].place];
            solved[k] = thermal::solve(place.drawing, options, control);
            if (solved[k]) solved[k]->length = place.length;
        },
        control.stop);
    if (control.stop.stopped()) return fail(Code::stopped, "stopped while junctions were solved");
    for (std::size_t k = 0; k < tasks.size(); ++k) {
        Rung& rung = missing[tasks[k].rung];
        if (solved[k]) {
            rung.made.list.push_back(std::move(*solved[k]));
        } else if (!rung.problem) {
            rung.problem = solved[k].error();
            rung.problem->what =
                fmt::format("{}: {}", rung.places[tasks[k].place].drawing.name, rung.problem->what);
        }
    }
    for (Rung& rung : missing) {
        if (rung.problem)
            rung.answer->built_absent = rung.problem->what;
        else
            take(*rung.answer, *kept.keep(rung.key, std::move(rung.made)));
    }
    return {};
}

}  // namespace warmside::answer
