// `warmside dry`: verdicts, pictures and tables; what is judged stays when the user stops.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <optional>

#include "answer/answer.h"
#include "app/commands.h"
#include "app/files.h"
#include "app/house.h"
#include "app/print.h"
#include "app/terminal.h"
#include "report/dry_files.h"
#include "units/quantity.h"

namespace warmside::app {

namespace {

constexpr double seconds_in_hour = 3600.0;
constexpr int weeks_in_year = 52;

/// The options as figures.
struct Wish {
    report::DryWish files;
    std::vector<double> depths;  ///< m
};

Result<std::size_t> whole_hours(const std::string& every) {
    const auto seconds = units::parse(every, units::duration);
    if (!seconds) {
        Problem problem = seconds.error();
        problem.what = "--every " + problem.what;
        return fail(problem);
    }
    const double hours = *seconds / seconds_in_hour;
    if (!(hours >= 1.0) || std::abs(hours - std::round(hours)) > 1e-6)
        return fail(Code::out_of_range, fmt::format("--every \"{}\" is not a whole number of hours", every));
    return static_cast<std::size_t>(std::lround(hours));
}

Result<Wish> wish_of(const Options& options, const assembly::House& house) {
    Wish wish;
    const bool tables = options.csv || !options.depths.empty() || !options.every.empty();
    if (options.out.empty() && (tables || options.temperature || options.dark || !options.run.empty()))
        return fail(Code::missing, "--csv, --depth, --every, --run, --temperature and --dark need --out DIR");
    wish.files.tables = tables;
    wish.files.temperature = options.temperature;
    wish.files.dark = options.dark;
    wish.files.inch_pound_first = house.units != "metric";
    wish.files.run = options.run;
    wish.files.depths = options.depths;
    const auto hours = whole_hours(options.every.empty() ? "1 h" : options.every);
    if (!hours) return fail(hours.error());
    wish.files.interval.samples = *hours;
    for (const auto& text : options.depths) {
        const auto depth = units::parse(text, units::length);
        if (!depth) {
            Problem problem = depth.error();
            problem.what = "--depth " + problem.what;
            return fail(problem);
        }
        wish.depths.push_back(*depth);
    }
    return wish;
}

/// Every depth must lie within every rung that is asked for.
Result<void> check_depths(const Wish& wish, const Options& options, const assembly::House& house) {
    for (const auto& ladder : house.ladders) {
        for (const std::size_t index : ladder.rungs) {
            const auto& a = house.assemblies[index];
            if (!options.rung.empty() && a.name != options.rung) continue;
            const double thickness = a.thickness().metres();
            for (std::size_t i = 0; i < wish.depths.size(); ++i) {
                if (wish.depths[i] >= 0.0 && wish.depths[i] <= thickness + 1e-6) continue;
                return fail(
                    Code::out_of_range,
                    fmt::format("--depth \"{}\" is outside {}, which is {} ({}) thick from its inner face{}",
                                wish.files.depths[i], a.name, units::inches(thickness),
                                units::millimetres(thickness),
                                options.rung.empty() ? "; --rung NAME leaves the other rungs out" : ""));
            }
        }
    }
    return {};
}

/// Writes a rung's files when it is judged, and keeps the progress line informed. The first file that cannot
/// be written stops the rest.
class Writer : public answer::Stream {
public:
    Writer(const assembly::House& house, const Options& options, const report::DryWish& wish,
           ProgressLine& progress, StopSource& stop)
        : house_(house), options_(options), wish_(wish), progress_(progress), stop_(stop) {}

    void steady(const answer::RungAnswer& rung) override {
        if (rung.verdict_absent.empty()) ++all_;
    }
    void column(const std::string&, int, std::span<const float>) override {}
    void priced(const answer::RungAnswer&) override {}
    void finished(const answer::RungAnswer& rung) override {
        ++judged_;
        const char* word = rung.verdict ? moisture::name_of(rung.verdict->dryness) : "";
        progress_.note(fmt::format("{} of {} judged, {} {};", judged_, all_, rung.name, word));
        if (options_.out.empty() || problem_) return;
        if (auto done = write(rung); !done) {
            problem_ = done.error();
            stop_.stop();
        }
    }
    [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

private:
    Result<void> write(const answer::RungAnswer& rung) {
        const auto files = report::dry_files(house_, rung, wish_);
        if (!files) return fail(files.error());
        for (const auto& file : *files) {
            if (auto done = write_file(options_.out + "/" + file.name, file.bytes); !done) return done;
        }
        return {};
    }

    const assembly::House& house_;
    const Options& options_;
    const report::DryWish& wish_;
    ProgressLine& progress_;
    StopSource& stop_;
    int all_ = 0, judged_ = 0;
    std::optional<Problem> problem_;
};

answer::Ask ask_of(const Options& options, const Wish& wish, const LoadedHouse& loaded) {
    answer::Ask ask;
    ask.rung = options.rung;
    ask.weather = loaded.weather;
    ask.cost = false;
    ask.causes = !options.no_causes;
    ask.keep_histories = !options.out.empty();
    ask.keep_finished = true;
    ask.years = options.years;
    ask.moisture.depths = wish.depths;
    ask.moisture.probe_moisture = wish.files.tables && wish.depths.empty();
    ask.moisture.carpet_columns = weeks_in_year * options.years;
    return ask;
}

/// What a stop left out.
std::string left_out(const answer::Answer& answer) {
    std::vector<std::string> names;
    for (const auto& ladder : answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            if (!rung.verdict && rung.verdict_absent.starts_with("stopped")) names.push_back(rung.name);
        }
    }
    return names.empty() ? "all rungs are judged, but not every cause is found"
                         : fmt::format("{} not judged; what is judged stays", fmt::join(names, ", "));
}

int exit_of(const Options& options, const LoadedHouse& loaded, const answer::Answer& answer) {
    if (answer.stopped) return no_solution;
    return options.strict && (warned(loaded) || !all_dry(answer)) ? failed_strict : done;
}

}  // namespace

int run_dry(const Options& options, StopSource& stop) {
    const auto loaded = load_house(options.file);
    if (!loaded.house) return give_up(loaded.problems, render_all(loaded), options.json);
    const auto remarks = render_all(loaded);
    std::fwrite(remarks.data(), 1, remarks.size(), stderr);
    const auto& house = *loaded.house;
    const auto wish = wish_of(options, house);
    if (!wish) return give_up(wish.error(), options.json);
    if (auto inside = check_depths(*wish, options, house); !inside)
        return give_up(inside.error(), options.json);
    if (!options.out.empty()) {
        if (auto made = make_folder(options.out); !made) return give_up(made.error(), options.json);
    }
    ProgressLine progress;
    Writer writer(house, options, wish->files, progress, stop);
    answer::Engine engine;
    const auto answer = engine.answer(house, ask_of(options, *wish, loaded),
                                      {.stop = stop.token(), .progress = &progress}, &writer);
    progress.wipe();
    if (const auto& problem = writer.problem()) return give_up(*problem, options.json);
    if (!answer) return give_up(Problems{answer.error()}, render(answer.error(), loaded.text), options.json);
    if (!options.out.empty()) {
        const auto written = write_file(options.out + "/verdicts.csv", report::verdicts_csv(*answer));
        if (!written) return give_up(written.error(), options.json);
    }
    if (options.json) {
        print_json(report::dry_json(*answer, options.rung));
    } else {
        print(report::verdict_table(*answer, style_of_output(), options.rung) + "\n" +
              report::dry_text(*answer, style_of_output(), options.rung));
    }
    if (answer->stopped) fmt::print(stderr, "stopped: {}\n", left_out(*answer));
    return exit_of(options, loaded, *answer);
}

}  // namespace warmside::app
