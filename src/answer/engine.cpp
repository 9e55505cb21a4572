#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <mutex>
#include <set>

#include "answer/answer.h"
#include "answer/framed.h"
#include "answer/gather.h"
#include "answer/junctions.h"
#include "answer/keys.h"
#include "answer/places.h"
#include "answer/runs.h"
#include "answer/setting.h"
#include "answer/stage.h"
#include "assembly/geometry.h"
#include "base/parallel.h"
#include "moisture/causes.h"
#include "moisture/second_opinion.h"
#include "moisture/series.h"

namespace warmside::answer {

namespace {

/// The moisture part of a rung, as kept by key.
struct DryAnswer {
    moisture::Verdict verdict;
    moisture::Carpet carpet;
    std::string carpet_run;
    std::vector<moisture::LayerMoisture> layers;
    int start_hour = 0, hours = 0;
    moisture::Balance balance;
    int runs = 0;
    std::vector<std::string> notes;
};

const moisture::History* deciding(const std::vector<moisture::History>& histories, const std::string& run) {
    for (const auto& history : histories) {
        if (history.name == run) return &history;
    }
    return histories.empty() ? nullptr : &histories.front();
}

moisture::Balance worst(const std::vector<moisture::History>& histories) {
    moisture::Balance balance;
    for (const auto& history : histories) {
        if (history.balance.water_error >= balance.water_error) {
            const double energy = std::max(balance.energy_error, history.balance.energy_error);
            balance = history.balance;
            balance.energy_error = energy;
        }
        balance.energy_error = std::max(balance.energy_error, history.balance.energy_error);
    }
    return balance;
}

/// Hands carpet columns of each rung's watched run to the caller's stream.
class Forward : public moisture::CarpetSink {
public:
    Forward(Stream* stream, const std::vector<Batch>& batches, const std::vector<RungAnswer*>& rungs)
        : stream_(stream), batches_(batches), rungs_(rungs) {}
    void column(std::size_t run, int column, std::span<const float> relative_humidity) override {
        for (const Batch& batch : batches_) {
            // The last run of a rung: the harshest face in the stressed year.
            if (run + 1 == batch.first + batch.count)
                stream_->column(rungs_[batch.rung]->name, column, relative_humidity);
        }
    }

private:
    Stream* stream_;
    const std::vector<Batch>& batches_;
    const std::vector<RungAnswer*>& rungs_;
};

/// One coarse year of every face of every rung, in one call of the solver.
Result<void> choose_faces(std::vector<Batch>& batches, const Ask& ask, const Control& control) {
    const auto& limits = moisture::built_in_thresholds();
    if (!limits) return fail(limits.error());
    std::vector<moisture::Run> runs;
    for (Batch& batch : batches) {
        const auto own = batch.plan.pilots();
        batch.first = runs.size();
        batch.count = own.size();
        runs.insert(runs.end(), own.begin(), own.end());
    }
    const auto pilots = moisture::pilot(runs, ask.moisture, control);
    if (!pilots) return fail(pilots.error());
    for (Batch& batch : batches)
        batch.plan.choose(std::span(*pilots).subspan(batch.first, batch.count), *limits);
    return {};
}

Areas areas_of(const assembly::House& house) {
    const auto sums = assembly::areas(house);
    Areas out{.floor = sums.floor,
              .wall_gross = sums.walls_gross,
              .wall_net = sums.walls_net,
              .roof = sums.roof,
              .ceiling = sums.ceiling,
              .volume = sums.volume};
    for (const auto& face : house.faces) {
        for (const auto& opening : face.openings) {
            const double area = opening.width.metres() * opening.height.metres();
            (opening.kind == assembly::Opening::Kind::window ? out.window : out.door) += area;
        }
    }
    return out;
}

std::vector<std::string> cautions(const assembly::House& house) {
    std::vector<std::string> out{
        "First-order engineering aid. Local code and a licensed professional decide.",
        "Moisture depends on workmanship: a verdict holds for the layers, leaks and indoor air that it "
        "names.",
        "Not covered here: bracing, anchorage, uplift, seismic loads, fire rating, combustion air, "
        "electrical work.",
        "R values told to a buyer are regulated; use the figures of the label that the rule asks for.",
    };
    const auto near_ground = [](const assembly::Ladder& ladder) {
        using assembly::Part;
        return ladder.part == Part::floor || ladder.part == Part::slab || ladder.part == Part::basement_wall;
    };
    if (std::any_of(house.ladders.begin(), house.ladders.end(), near_ground))
        out.emplace_back(
            "Crawl spaces, basements and slabs: radon, combustion air and drainage are not covered here and "
            "come "
            "before any verdict on them.");
    return out;
}

}  // namespace

struct Engine::Store {
    Stage<Surroundings> surroundings{4};
    using Faces = std::shared_ptr<const std::vector<FaceCase>>;
    Stage<std::vector<FaceCase>> faces{16};
    Stage<Framed> framed{64};
    Stage<Priced> priced{64};
    Stage<thermal::Worth> worths{256};
    Stage<RungJunctions> junctions{64};
    Stage<DryAnswer> dry{64};
    Count count;

    [[nodiscard]] Result<std::vector<LadderAnswer>> steady(const assembly::House& house, const Ask& ask,
                                                           const thermal::Conditions& conditions,
                                                           const Control& control);
    [[nodiscard]] Result<void> dryness(const assembly::House& house, const Key& weather,
                                       const Surroundings& around, std::vector<RungAnswer*>& rungs,
                                       const Ask& ask, const Control& control, Stream* stream);

private:
    using WorthOf = std::map<std::size_t, std::shared_ptr<const thermal::Worth>>;  // by assembly
    using FrameOf = std::map<std::size_t, Result<std::shared_ptr<const Framed>>>;  // of wall rungs
    [[nodiscard]] FrameOf frames_of(const assembly::House& house, const std::set<std::size_t>& asked);
    [[nodiscard]] Result<WorthOf> worths_of(const assembly::House& house, const std::set<std::size_t>& asked,
                                            const FrameOf& frames, const thermal::Conditions& conditions,
                                            const Control& control);
    [[nodiscard]] Result<Faces> faces_for(const assembly::House& house, const Key& weather,
                                          const Surroundings& around, const assembly::Assembly& a);
};

Engine::Store::FrameOf Engine::Store::frames_of(const assembly::House& house,
                                                const std::set<std::size_t>& asked) {
    FrameOf out;
    if (house.faces.empty()) return out;
    for (const auto& ladder : house.ladders) {
        if (ladder.part != assembly::Part::wall) continue;
        for (const std::size_t i : ladder.rungs) {
            if (asked.contains(i)) out.emplace(i, framed_with(house, house.assemblies[i], framed));
        }
    }
    return out;
}

Result<Engine::Store::WorthOf> Engine::Store::worths_of(const assembly::House& house,
                                                        const std::set<std::size_t>& asked,
                                                        const FrameOf& frames,
                                                        const thermal::Conditions& conditions,
                                                        const Control& control) {
    WorthOf out;
    std::vector<std::size_t> missing;
    const auto placed = [&](std::size_t i) -> const framing::FramingFactor* {
        const auto found = frames.find(i);
        return found != frames.end() && found->second ? &(*found->second)->frame.factor : nullptr;
    };
    const auto key = [&](std::size_t i) {
        const auto* factor = placed(i);
        return key_of(house.assemblies[i], conditions.inside, conditions.outside,
                      factor ? factor->whole : -1.0, factor ? factor->field : -1.0);
    };
    for (const std::size_t i : asked) {
        if (auto kept = worths.find(key(i)))
            out[i] = std::move(kept);
        else
            missing.push_back(i);
    }
    std::vector<Result<thermal::Worth>> made(missing.size());
    parallel_for(
        missing.size(),
        [&](std::size_t k) {
            made[k] = thermal::worth(house.assemblies[missing[k]], conditions, control, placed(missing[k]));
        },
        control.stop);
    if (control.stop.stopped()) return fail(Code::stopped, "stopped while heat was solved");
    for (std::size_t k = 0; k < missing.size(); ++k) {
        if (!made[k]) return fail(std::move(made[k]).error());
        out[missing[k]] = worths.keep(key(missing[k]), std::move(*made[k]));
    }
    return out;
}

Result<std::vector<LadderAnswer>> Engine::Store::steady(const assembly::House& house, const Ask& ask,
                                                        const thermal::Conditions& conditions,
                                                        const Control& control) {
    std::set<std::size_t> asked;
    for (const auto& ladder : house.ladders) {
        for (const std::size_t index : ladder.rungs) {
            if (ask.rung.empty() || house.assemblies[index].name == ask.rung) asked.insert(index);
        }
    }
    const FrameOf frames = frames_of(house, asked);
    const auto found =
        ask.heat ? worths_of(house, asked, frames, conditions, control) : Result<WorthOf>(WorthOf{});
    if (!found) return fail(found.error());
    std::vector<LadderAnswer> out;
    for (const auto& ladder : house.ladders) {
        LadderAnswer answered{ladder.part, {}};
        for (const std::size_t index : ladder.rungs) {
            if (!asked.contains(index)) continue;
            const auto& a = house.assemblies[index];
            RungAnswer rung;
            rung.name = a.name;
            rung.title = a.title;
            rung.assembly = index;
            rung.thickness = a.thickness().metres();
            if (ask.heat) rung.worth = *found->at(index);
            const auto frame = frames.find(index);
            if (frame == frames.end())
                rung.framed_absent = ladder.part == assembly::Part::wall
                                         ? "the house file has no faces"
                                         : "only walls are rungs that are framed";
            else if (frame->second)
                rung.framed = *frame->second;
            else
                rung.framed_absent = frame->second.error().what;
            rung.verdict_absent = ask.dry ? outside_the_model(house, a) : "not asked for";
            answered.rungs.push_back(std::move(rung));
        }
        if (!answered.rungs.empty()) out.push_back(std::move(answered));
    }
    return out;
}

Result<Engine::Store::Faces> Engine::Store::faces_for(const assembly::House& house, const Key& weather,
                                                      const Surroundings& around,
                                                      const assembly::Assembly& a) {
    if (is_wall_like(a)) return Faces(Faces(), &around.walls);  // the caller keeps `around`
    const Setting setting = setting_of(house, a);
    return faces.get(key_of(weather, setting), [&] { return faces_of(house, around, setting); });
}

Result<void> Engine::Store::dryness(const assembly::House& house, const Key& weather,
                                    const Surroundings& around, std::vector<RungAnswer*>& rungs,
                                    const Ask& ask, const Control& control, Stream* stream) {
    std::vector<moisture::Run> runs;
    std::vector<Faces> alive;  // what plans and runs point into
    std::vector<Batch> batches;
    using Histories = std::vector<moisture::History>;
    const auto put = [&](RungAnswer& rung, const DryAnswer& judged,
                         std::shared_ptr<const Histories> histories = {}) {
        rung.verdict = judged.verdict;
        rung.carpet = judged.carpet;
        rung.carpet_run = judged.carpet_run;
        rung.layers = judged.layers;
        rung.start_hour = judged.start_hour;
        rung.hours = judged.hours;
        rung.balance = judged.balance;
        rung.runs = judged.runs;
        rung.notes.insert(rung.notes.end(), judged.notes.begin(), judged.notes.end());
        if (ask.keep_histories) rung.histories = std::move(histories);
        if (!stream) return;
        stream->finished(rung);
        rung.histories.reset();
    };
    for (std::size_t i = 0; i < rungs.size(); ++i) {
        if (!rungs[i]->verdict_absent.empty()) continue;
        const auto& a = house.assemblies[rungs[i]->assembly];
        const Key key = key_of(weather, a, house.indoor, house.start_month, ask.moisture, ask.years,
                               int{ask.causes}, setting_of(house, a));
        if (const auto found = ask.keep_histories ? nullptr : dry.find(key)) {
            put(*rungs[i], *found);
            continue;
        }
        auto cases = faces_for(house, weather, around, a);
        if (!cases) return fail(std::move(cases).error());
        auto plan = Plan::make(house, a, **cases, around);
        if (!plan) return fail(std::move(plan).error());
        batches.push_back({i, key, 0, 0, std::move(*plan)});
        alive.push_back(std::move(*cases));
    }
    if (batches.empty()) return {};
    if (auto chosen = choose_faces(batches, ask, control); !chosen) return chosen;
    for (Batch& batch : batches) {
        const auto own = batch.plan.runs();
        batch.first = runs.size();
        batch.count = own.size();
        runs.insert(runs.end(), own.begin(), own.end());
    }
    for (auto& run : runs) run.years = ask.years;
    Forward forward(stream, batches, rungs);
    const auto runs_of = [&](const Batch& batch) {
        return std::span<const moisture::Run>(runs).subspan(batch.first, batch.count);
    };
    std::vector<DryAnswer> answers(batches.size());
    std::mutex one_at_a_time;
    const auto judge = [&](const Batch& batch, Histories own) -> Result<void> {
        const auto& a = house.assemblies[rungs[batch.rung]->assembly];
        DryAnswer& made = answers[static_cast<std::size_t>(&batch - batches.data())];
        auto verdict = moisture::try_judge(a, own, batch.plan.basis());
        if (!verdict) return fail(std::move(verdict).error());
        made.verdict = std::move(*verdict);
        moisture::add_second_opinion(runs_of(batch), made.verdict);
        if (const auto* history = deciding(own, made.verdict.deciding.run)) {
            made.carpet = history->carpet;
            made.carpet_run = history->name;
            made.layers = moisture::layer_means(*history, history->carpet.columns);
            made.start_hour = history->start_hour;
            made.hours = history->hours;
            made.notes = history->notes;
        }
        made.notes.push_back("run in full: " + batch.plan.faces_in_words());
        made.balance = worst(own);
        made.runs = static_cast<int>(own.size());
        auto histories = ask.keep_histories ? std::make_shared<const Histories>(std::move(own)) : nullptr;
        const std::scoped_lock lock(one_at_a_time);
        put(*rungs[batch.rung], made, std::move(histories));
        if (!ask.causes) dry.keep(batch.key, made);
        return {};
    };
    Gather gather(batches, judge);
    const auto done =
        moisture::simulate_each(runs, ask.moisture, control, gather, stream ? &forward : nullptr);
    if (const auto& problem = gather.problem()) return fail(*problem);
    if (!done) return fail(done.error());
    if (!ask.causes) return {};
    std::vector<moisture::Inquiry> inquiries;
    for (std::size_t k = 0; k < batches.size(); ++k) {
        const auto& a = house.assemblies[rungs[batches[k].rung]->assembly];
        inquiries.push_back({&a, runs_of(batches[k]), batches[k].plan.basis(), &answers[k].verdict});
    }
    // A changed wall may be thinner than the depths that were asked for.
    moisture::Options lean = ask.moisture;
    lean.depths.clear();
    lean.probe_moisture = false;
    return moisture::find_causes(inquiries, lean, control, [&](std::size_t k) {
        rungs[batches[k].rung]->verdict = answers[k].verdict;
        dry.keep(batches[k].key, std::move(answers[k]));
    });
}

Engine::Engine() : store_(std::make_unique<Store>()) {}
Engine::~Engine() = default;
Engine::Count Engine::last() const {
    return store_->count;
}

Result<Answer> Engine::answer(const assembly::House& house, const Ask& ask, const Control& control,
                              Stream* stream) {
    auto& store = *store_;
    store.surroundings.run = store.worths.run = store.dry.run = 0;
    store.surroundings.taken = store.worths.taken = store.dry.taken = 0;
    control.report("weather", 0.0);
    const auto envelope = leakage::envelope_of(house);
    if (!envelope) return fail(envelope.error());
    Digest outside;
    if (ask.weather)
        add(outside, *ask.weather);
    else
        outside.add(house.place).add(house.weather_file);
    add_air(outside, house, *envelope);
    const Key weather_key = key_of(outside.key(), house.indoor, house.rain_exposure.exposure,
                                   house.rain_exposure.deposition, house.air, *envelope);
    auto around = store.surroundings.get(weather_key, [&] {
        return year_of(house, ask).and_then([&](climate::Year year) {
            return surroundings(house, std::move(year));
        });
    });
    if (!around) return fail(std::move(around).error());
    if (control.stop.stopped()) return fail(Code::stopped, "stopped before the first figure");

    Answer answer;
    answer.house = house.name;
    answer.place = (*around)->summary.place;
    answer.inch_pound_first = house.units != "metric";
    answer.weather = (*around)->summary;
    answer.cautions = cautions(house);
    if (!house.storeys.empty()) answer.areas = areas_of(house);

    const thermal::Conditions conditions = winter_of(house, answer.weather);
    control.report(ask.heat ? "heat" : "framing", 0.0);
    auto ladders = store.steady(house, ask, conditions, control);
    if (!ladders) return fail(std::move(ladders).error());
    answer.ladders = std::move(*ladders);
    if (ask.heat) {
        control.report("junctions", 0.0);
        auto joined = add_junctions(house, answer.ladders, conditions, store.junctions, control);
        if (!joined) return fail(std::move(joined).error());
    }
    if (!ask.rung.empty() && answer.ladders.empty()) {
        return fail(Code::unknown_name, fmt::format("no ladder has a rung \"{}\"", ask.rung),
                    house.origin.where);
    }
    std::vector<RungAnswer*> rungs;
    for (auto& ladder : answer.ladders) {
        for (auto& rung : ladder.rungs) {
            rungs.push_back(&rung);
            if (stream) stream->steady(rung);
        }
    }
    // Before the verdicts: a tenth of their time, and who edits a spacing asks for the money first.
    if (ask.cost) {
        control.report("cost", 0.0);
        const auto& book = ask.prices ? *ask.prices : takeoff::demo_prices();
        if (auto done = add_prices(house, answer.ladders, book, ask.cost_whole, {store.framed, store.priced},
                                   control);
            !done)
            return fail(std::move(done).error());
        for (const auto* rung : rungs) {
            if (stream && rung->framed) stream->priced(*rung);
        }
    }
    if (ask.dry) {
        auto done = store.dryness(house, weather_key, **around, rungs, ask, control, stream);
        answer.stopped = !done && done.error().code == Code::stopped && ask.keep_finished &&
                         std::any_of(rungs.begin(), rungs.end(), [](const auto* r) { return r->verdict; });
        if (!done && !answer.stopped) return fail(std::move(done).error());
        for (auto* rung : rungs) {
            if (answer.stopped && !rung->verdict && rung->verdict_absent.empty())
                rung->verdict_absent = "stopped before it was judged";
        }
    }
    Digest key;
    key.add(weather_key).add(house.name).add(house.start_month);
    for (const auto& assembly : house.assemblies) add(key, assembly);
    add_geometry(key, house);
    add(key, house.details);
    add_framing(key, house);
    if (ask.prices) add(key, *ask.prices);
    add(key, ask.moisture);
    key.add(ask.years);
    answer.key = key.key();
    store.count = {store.surroundings.run + store.worths.run + store.dry.run,
                   store.surroundings.taken + store.worths.taken + store.dry.taken};
    return answer;
}

}  // namespace warmside::answer
