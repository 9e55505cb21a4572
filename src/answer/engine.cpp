#include <algorithm>
#include <fmt/format.h>

#include "answer/answer.h"
#include "answer/keys.h"
#include "answer/places.h"
#include "answer/stage.h"
#include "assembly/geometry.h"
#include "climate/calendar.h"

namespace warmside::answer {

namespace {

/// The moisture part of a rung, as kept by key.
struct DryAnswer {
    moisture::Verdict verdict;
    moisture::Carpet carpet;
    std::string carpet_run;
    moisture::Balance balance;
    int runs = 0;
    std::vector<std::string> notes;
};

/// Runs of one rung inside one call of the solver.
struct Batch {
    std::size_t rung = 0;
    Key key;
    std::size_t first = 0, count = 0;
};

bool is_wall_like(const assembly::Assembly& a) {
    return a.part == assembly::Part::wall;
}

/// Why the transient model does not answer for an assembly; empty when it does.
std::string outside_the_model(const assembly::Assembly& a) {
    using assembly::Part;
    if (is_wall_like(a)) return {};
    if (a.part == Part::roof && !a.vented) return {};
    if (a.part == Part::roof)
        return "the air of a vented roof space has its own balance, which is not modelled";
    if (a.part == Part::ceiling) return "the air of the attic has its own balance, which is not modelled";
    if (a.part == Part::floor) return "the air below the floor has its own balance, which is not modelled";
    return "ground beside or below the assembly is not modelled";
}

bool has_structural_framing(const assembly::Assembly& a) {
    return std::any_of(a.layers.begin(), a.layers.end(), [](const assembly::Layer& layer) {
        return layer.framing && layer.kind == assembly::Layer::Kind::material;
    });
}

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
    Forward(Stream* stream, const std::vector<Batch>& batches, const std::vector<RungAnswer>& rungs)
        : stream_(stream), batches_(batches), rungs_(rungs) {}
    void column(std::size_t run, int column, std::span<const float> relative_humidity) override {
        for (const Batch& batch : batches_) {
            // The last run of a rung: the harshest face in the stressed year.
            if (run + 1 == batch.first + batch.count)
                stream_->column(rungs_[batch.rung].name, column, relative_humidity);
        }
    }

private:
    Stream* stream_;
    const std::vector<Batch>& batches_;
    const std::vector<RungAnswer>& rungs_;
};

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

std::vector<std::string> cautions() {
    return {
        "First-order engineering aid. Local code and a licensed professional decide.",
        "Moisture depends on workmanship: a verdict holds for the layers, leaks and indoor air that it "
        "names.",
        "Not covered here: bracing, anchorage, uplift, seismic loads, fire rating, combustion air, "
        "electrical work.",
        "R values told to a buyer are regulated; use the figures of the label that the rule asks for.",
    };
}

}  // namespace

struct Engine::Store {
    Stage<Surroundings> surroundings{4};
    Stage<std::vector<FaceCase>> roofs{8};
    Stage<thermal::Worth> worths{256};
    Stage<DryAnswer> dry{64};
    Count count;

    [[nodiscard]] Result<std::vector<RungAnswer>> steady(const assembly::House& house,
                                                         const assembly::Ladder& ladder, const Ask& ask,
                                                         const thermal::Conditions& conditions);
    [[nodiscard]] Result<void> dryness(const assembly::House& house, const Key& weather,
                                       const Surroundings& around, std::vector<RungAnswer*>& rungs,
                                       const Ask& ask, const Control& control, Stream* stream);

private:
    [[nodiscard]] const std::vector<FaceCase>& faces_for(const assembly::House& house, const Key& weather,
                                                         const Surroundings& around,
                                                         const assembly::Assembly& a);
};

Result<std::vector<RungAnswer>> Engine::Store::steady(const assembly::House& house,
                                                      const assembly::Ladder& ladder, const Ask& ask,
                                                      const thermal::Conditions& conditions) {
    std::vector<RungAnswer> rungs;
    for (const std::size_t index : ladder.rungs) {
        const auto& a = house.assemblies[index];
        if (!ask.rung.empty() && a.name != ask.rung) continue;
        auto kept = worths.get(key_of(a, conditions.inside, conditions.outside),
                               [&] { return thermal::worth(a, conditions); });
        if (!kept) return fail(std::move(kept).error());
        RungAnswer rung;
        rung.name = a.name;
        rung.title = a.title;
        rung.assembly = index;
        rung.thickness = a.thickness().metres();
        rung.worth = **kept;
        rung.verdict_absent = ask.dry ? outside_the_model(a) : "not asked for";
        rungs.push_back(std::move(rung));
    }
    return rungs;
}

const std::vector<FaceCase>& Engine::Store::faces_for(const assembly::House& house, const Key& weather,
                                                      const Surroundings& around,
                                                      const assembly::Assembly& a) {
    if (is_wall_like(a)) return around.walls;
    const Key key = key_of(weather, a.tilt);
    if (const auto found = roofs.find(key)) return *found;
    return *roofs.keep(key, roof_faces(house, around, a.tilt));
}

namespace {

/// 0 to 11.
int start_month(const assembly::House& house) {
    return static_cast<int>(std::clamp(house.start_month, 1.0, 12.0)) - 1;
}

/// ASHRAE 160 gives its 1 % for walls; a roof leaks only where the house file says so.
double rain_leak_of(const assembly::Assembly& a) {
    const bool stated = a.rain_leak_origin.kind == Origin::Kind::house_file;
    return is_wall_like(a) || stated ? a.rain_leak : 0.0;
}

/// Runs of one assembly: every face and weather, by bay and by framing.
void add_runs(const assembly::House& house, const assembly::Assembly& a, const std::vector<FaceCase>& faces,
              const Surroundings& around, std::vector<moisture::Run>& runs) {
    for (const auto& face : faces) {
        for (const auto path : {moisture::Path::bay, moisture::Path::framing}) {
            if (path == moisture::Path::framing && !has_structural_framing(a)) continue;
            moisture::Run run;
            run.name = fmt::format("{} {} {} {}", a.name, face.name, moisture::name_of(path),
                                   face.stressed ? "stressed" : "typical");
            run.assembly = &a;
            run.path = path;
            run.outside = &face.outside;
            run.inside = face.stressed ? &around.indoor_stressed : &around.indoor_typical;
            run.start_hour = climate::first_hour_of(start_month(house));
            run.rain_leak = rain_leak_of(a);
            runs.push_back(run);
        }
    }
}

moisture::Basis basis_of(const assembly::House& house, const assembly::Assembly& a,
                         const Surroundings& around) {
    moisture::Basis basis;
    basis.stressed_year_run = true;
    basis.rain_leak = rain_leak_of(a);
    const climate::Stress stress;  // the amounts that `surroundings` stresses by
    basis.weather = fmt::format(
        "the weather of {}, typical and stressed ({:g} K colder, {:g} points damper, rain x {:g})",
        around.summary.place, stress.cooling, 100.0 * stress.humidity_rise, stress.rain_factor);
    basis.indoor = around.indoor_typical.assumes;
    basis.start = fmt::format("closed in {} with materials at their usual built-in moisture",
                              climate::month_names[static_cast<std::size_t>(start_month(house))]);
    basis.rain_known = !is_wall_like(a) || around.wall_rain > 0.0;
    if (!basis.rain_known) {
        basis.rain = "the weather has no rain: driving rain and its leak are not considered";
    } else if (is_wall_like(a)) {
        basis.rain = fmt::format(
            "{:.3g} % of the driving rain leaks to the outer side of the water layer ({} face: {:.0f} kg/m2 "
            "a "
            "year reach the wall)",
            100.0 * basis.rain_leak, around.summary.wettest_face, around.wall_rain);
    } else if (basis.rain_leak > 0.0) {
        basis.rain =
            fmt::format("{:.3g} % of the rain on the roof leaks to the outer side of the water layer",
                        100.0 * basis.rain_leak);
    } else {
        basis.rain = "the roofing keeps all rain out";
    }
    basis.air = "no air leaks through the assembly: the airtight layer must be tight";
    return basis;
}

}  // namespace

Result<void> Engine::Store::dryness(const assembly::House& house, const Key& weather,
                                    const Surroundings& around, std::vector<RungAnswer*>& rungs,
                                    const Ask& ask, const Control& control, Stream* stream) {
    std::vector<moisture::Run> runs;
    std::vector<Batch> batches;
    std::vector<RungAnswer> names;
    const auto put = [&](RungAnswer& rung, const DryAnswer& judged) {
        rung.verdict = judged.verdict;
        rung.carpet = judged.carpet;
        rung.carpet_run = judged.carpet_run;
        rung.balance = judged.balance;
        rung.runs = judged.runs;
        rung.notes.insert(rung.notes.end(), judged.notes.begin(), judged.notes.end());
        if (stream) stream->finished(rung);
    };
    for (std::size_t i = 0; i < rungs.size(); ++i) {
        names.push_back(*rungs[i]);
        if (!rungs[i]->verdict_absent.empty()) continue;
        const auto& a = house.assemblies[rungs[i]->assembly];
        const Key key = key_of(weather, a, house.indoor, house.start_month, ask.moisture);
        if (const auto found = dry.find(key)) {
            put(*rungs[i], *found);
            continue;
        }
        Batch batch{i, key, runs.size(), 0};
        add_runs(house, a, faces_for(house, weather, around, a), around, runs);
        batch.count = runs.size() - batch.first;
        batches.push_back(batch);
    }
    if (runs.empty()) return {};
    Forward forward(stream, batches, names);
    auto histories = moisture::simulate(runs, ask.moisture, control, stream ? &forward : nullptr);
    if (!histories) return fail(std::move(histories).error());
    for (const Batch& batch : batches) {
        const auto from = histories->begin() + static_cast<std::ptrdiff_t>(batch.first);
        const std::vector<moisture::History> own(
            std::make_move_iterator(from),
            std::make_move_iterator(from + static_cast<std::ptrdiff_t>(batch.count)));
        const auto& a = house.assemblies[rungs[batch.rung]->assembly];
        DryAnswer made;
        auto verdict = moisture::try_judge(a, own, basis_of(house, a, around));
        if (!verdict) return fail(std::move(verdict).error());
        made.verdict = std::move(*verdict);
        if (const auto* history = deciding(own, made.verdict.deciding.run)) {
            made.carpet = history->carpet;
            made.carpet_run = history->name;
            made.notes = history->notes;
        }
        made.balance = worst(own);
        made.runs = static_cast<int>(own.size());
        put(*rungs[batch.rung], *dry.keep(batch.key, std::move(made)));
    }
    return {};
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
    const Key weather_key =
        ask.weather
            ? key_of(*ask.weather, house.indoor, house.rain_exposure.exposure, house.rain_exposure.deposition)
            : key_of(house.place, house.weather_file, house.indoor, house.rain_exposure.exposure,
                     house.rain_exposure.deposition);
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
    answer.cautions = cautions();
    if (!house.storeys.empty()) answer.areas = areas_of(house);

    const thermal::Conditions conditions{.inside = house.indoor.temperature,
                                         .outside = (*around)->summary.january};
    control.report("heat", 0.0);
    for (const auto& ladder : house.ladders) {
        auto rungs = store.steady(house, ladder, ask, conditions);
        if (!rungs) return fail(std::move(rungs).error());
        if (!rungs->empty()) answer.ladders.push_back({ladder.part, std::move(*rungs)});
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
    if (ask.dry) {
        auto done = store.dryness(house, weather_key, **around, rungs, ask, control, stream);
        if (!done) return fail(std::move(done).error());
    }
    Digest key;
    key.add(weather_key).add(house.name).add(house.start_month);
    for (const auto& assembly : house.assemblies) add(key, assembly);
    add(key, ask.moisture);
    answer.key = key.key();
    store.count = {store.surroundings.run + store.worths.run + store.dry.run,
                   store.surroundings.taken + store.worths.taken + store.dry.taken};
    return answer;
}

}  // namespace warmside::answer
