#include "app/commands.h"

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <fmt/format.h>
#include <optional>

#include "answer/answer.h"
#include "answer/heat_section.h"
#include "app/answered.h"
#include "app/files.h"
#include "app/house.h"
#include "app/print.h"
#include "app/terminal.h"
#include "app/workbench.h"
#include "base/parallel.h"
#include "project/read.h"
#include "report/heat_files.h"
#include "report/html.h"

namespace warmside::app {

namespace {

int strict_exit(const Options& options, const Answered& answered) {
    if (!options.strict) return done;
    return warned(answered.loaded) || !all_dry(answered.answer) ? failed_strict : done;
}

int write_out(const Options& options, const Answered& answered, const std::string& json) {
    const auto page = report::page(*answered.loaded.house, answered.answer);
    const auto written = make_folder(options.out)
                             .and_then([&] { return write_file(options.out + "/report.html", page); })
                             .and_then([&] { return write_file(options.out + "/answer.json", json); });
    return written ? done : give_up(written.error(), options.json);
}

/// One picture to make: a rung's repeating cell, or a junction of it.
struct Wanted {
    const answer::RungAnswer* rung = nullptr;
    const thermal::Junction* junction = nullptr;  ///< null: the cell
};

Result<void> draw(const Wanted& wanted, const Options& options, const Answered& answered,
                  const StopSource& stop) {
    const auto& house = *answered.loaded.house;
    const auto& assembly = house.assemblies[wanted.rung->assembly];
    const thermal::Conditions conditions = answer::winter_of(house, answered.answer.weather);
    const auto section =
        wanted.junction
            ? answer::junction_section(assembly, *wanted.junction, conditions, {.stop = stop.token()})
            : answer::clear_field_section(assembly, conditions, {.stop = stop.token()});
    // What has no members has no cell to draw.
    if (!section && !wanted.junction && section.error().code == Code::unsupported) return {};
    if (!section) return fail(section.error());
    const auto stem = report::file_word(wanted.rung->name + " " +
                                        (wanted.junction ? wanted.junction->name : "clear field"));
    const auto files = report::section_files(
        *section, stem, {.inch_pound_first = answered.answer.inch_pound_first, .dark = options.dark});
    if (!files) return fail(files.error());
    for (const auto& file : *files) {
        if (auto done = write_file(options.out + "/" + file.name, file.bytes); !done) return done;
    }
    return {};
}

/// Pictures of every rung's repeating cell and junctions, over all cores.
Result<void> draw_heat(const Options& options, const Answered& answered, const StopSource& stop) {
    std::vector<Wanted> wanted;
    for (const auto& ladder : answered.answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            wanted.push_back({&rung});
            for (const auto& junction : rung.junctions) wanted.push_back({&rung, &junction});
        }
    }
    ProgressLine progress;
    std::atomic<std::size_t> ready = 0;
    std::vector<std::optional<Problem>> problems(wanted.size());
    parallel_for(
        wanted.size(),
        [&](std::size_t i) {
            if (auto done = draw(wanted[i], options, answered, stop); !done) problems[i] = done.error();
            progress.report("pictures", static_cast<double>(++ready) / static_cast<double>(wanted.size()));
        },
        stop.token());
    progress.wipe();
    for (const auto& problem : problems) {
        if (problem) return fail(*problem);
    }
    if (stop.token().stopped()) return fail(Code::stopped, "stopped before every picture was made");
    return {};
}

}  // namespace

bool all_dry(const answer::Answer& answer) {
    for (const auto& ladder : answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            if (rung.verdict && rung.verdict->dryness != moisture::Dryness::dry) return false;
        }
    }
    return true;
}

bool warned(const LoadedHouse& loaded) {
    return std::any_of(loaded.problems.begin(), loaded.problems.end(),
                       [](const Problem& p) { return p.severity != Severity::note; });
}

int run_answer(const Options& options, StopSource& stop) {
    answer::Ask ask;
    ask.causes = options.causes;
    const auto answered = answer_file(options, ask, stop);
    if (answered.exit != done) return answered.exit;
    const auto json = report::dump(report::answer_json(answered.answer));
    if (!options.out.empty()) {
        if (const int exit = write_out(options, answered, json); exit != done) return exit;
    }
    print(options.json ? json : report::ladder_text(answered.answer, style_of_output()));
    return strict_exit(options, answered);
}

int run_heat(const Options& options, StopSource& stop) {
    if (options.dark && options.out.empty())
        return give_up(Problem{.code = Code::missing, .what = "--dark needs --out DIR"}, options.json);
    answer::Ask ask;
    ask.dry = ask.cost = false;
    const auto answered = answer_file(options, ask, stop);
    if (answered.exit != done) return answered.exit;
    if (!options.out.empty()) {
        const auto drawn =
            make_folder(options.out).and_then([&] { return draw_heat(options, answered, stop); });
        if (!drawn) return give_up(drawn.error(), options.json);
    }
    if (options.json) {
        print_json(report::heat_json(answered.answer, options.rung));
    } else {
        print(report::heat_text(answered.answer, style_of_output(), options.rung));
    }
    return strict_exit(options, answered);
}

int run_why(const Options& options, StopSource& stop) {
    answer::Ask ask;
    // Only a verdict needs the hours; everything else is steady.
    ask.dry = options.path.ends_with("/verdict") || options.path.empty();
    const auto answered = answer_file(options, ask, stop);
    if (answered.exit != done) return answered.exit;
    const auto& house = *answered.loaded.house;
    if (options.path.empty()) {
        const auto all = answer::paths(house, answered.answer);
        if (options.json) {
            print_json(report::paths_json(all));
        } else {
            for (const auto& path : all) print(path + "\n");
        }
        return strict_exit(options, answered);
    }
    const auto derivation = answer::why(house, answered.answer, options.path);
    if (!derivation) return give_up(derivation.error(), options.json);
    if (options.json) {
        print_json(report::why_json(*derivation));
    } else {
        print(report::why_text(*derivation, style_of_output(), answered.answer.inch_pound_first));
    }
    return strict_exit(options, answered);
}

int run_new(const Options& options) {
    const auto written = write_new_file(options.file, project::starter());
    if (!written) return give_up(written.error(), options.json);
    if (options.json) {
        print_json(report::Json{{"schema", report::schema}, {"written", options.file}});
    } else {
        print(fmt::format("{} is written. Edit it, then: warmside answer {}\n", options.file, options.file));
    }
    return done;
}

namespace {

/// Says so when a list has no row with the word.
int found_or_not(bool found, const Options& options, std::string_view command) {
    if (found) return done;
    fmt::print(stderr, "nothing matches \"{}\"; warmside {} lists all\n", options.word, command);
    return options.strict ? failed_strict : done;
}

}  // namespace

int run_places(const Options& options) {
    const auto& places = climate::places();
    const auto json = report::places_json(places, options.word);
    if (options.json) {
        print_json(json);
    } else {
        print(report::places_text(places, options.word, style_of_output()));
    }
    return found_or_not(!json["places"].empty(), options, "places");
}

int run_materials(const Options& options) {
    const auto& catalogue = material::built_in();
    const auto json = report::materials_json(catalogue, options.word);
    if (options.json) {
        print_json(json);
    } else {
        print(report::materials_text(catalogue, options.word, style_of_output()));
    }
    const bool nothing = json["materials"].empty() && json["membranes"].empty() && json["lumber"].empty();
    return found_or_not(!nothing, options, "materials");
}

int run_open(const Options& options, StopSource& stop) {
    const auto served =
        serve(options.file, {.port = options.port, .announce = true, .json = options.json}, stop);
    return served ? done : give_up(served.error(), options.json);
}

}  // namespace warmside::app
