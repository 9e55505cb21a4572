// `warmside detail`: a detail of the user's own, solved, printed and drawn.
#include <cstdio>
#include <filesystem>
#include <fmt/format.h>

#include "answer/detail.h"
#include "app/commands.h"
#include "app/files.h"
#include "app/print.h"
#include "app/terminal.h"
#include "project/detail.h"
#include "report/detail.h"
#include "units/quantity.h"

namespace warmside::app {

namespace {

/// --tolerance as a share; nothing when it is not asked for.
Result<std::optional<double>> tolerance_of(const Options& options) {
    if (options.tolerance.empty()) return std::nullopt;
    const auto value = units::parse(options.tolerance, units::fraction);
    if (!value) {
        Problem problem = value.error();
        problem.what = "--tolerance " + problem.what;
        return fail(problem);
    }
    // Asked this way round so that NaN is refused too.
    if (!(*value >= 1e-5 && *value <= 0.1))
        return fail(Code::out_of_range,
                    fmt::format("--tolerance \"{}\" is outside 0.001 % to 10 %", options.tolerance));
    return *value;
}

}  // namespace

int run_detail(const Options& options, StopSource& stop) {
    const auto text = read_file(options.file);
    if (!text) return give_up(text.error(), options.json);
    const auto tolerance = tolerance_of(options);
    if (!tolerance) return give_up(tolerance.error(), options.json);
    if (options.dark && options.out.empty())
        return give_up(Problem{.code = Code::missing, .what = "--dark needs --out DIR"}, options.json);
    auto reading = project::read_detail(options.file, *text);
    std::string remarks;
    for (const auto& problem : reading.problems) remarks += render(problem, *text);
    if (!reading.detail) return give_up(reading.problems, remarks, options.json);
    std::fwrite(remarks.data(), 1, remarks.size(), stderr);
    auto& detail = *reading.detail;
    detail.tolerance = tolerance->value_or(detail.tolerance);
    if (!options.out.empty()) {
        if (auto made = make_folder(options.out); !made) return give_up(made.error(), options.json);
    }
    ProgressLine progress;
    const auto answer = answer::solve(detail, {.stop = stop.token(), .progress = &progress});
    progress.wipe();
    if (!answer) return give_up(Problems{answer.error()}, render(answer.error(), *text), options.json);
    if (!options.out.empty()) {
        const std::string stem = std::filesystem::path(options.file).stem().string();
        const auto files =
            report::detail_files(detail, *answer, report::file_word(stem),
                                 {.inch_pound_first = detail.inch_pound_first, .dark = options.dark});
        if (!files) return give_up(files.error(), options.json);
        for (const auto& file : *files) {
            if (auto done = write_file(options.out + "/" + file.name, file.bytes); !done)
                return give_up(done.error(), options.json);
        }
    }
    if (options.json)
        print_json(report::detail_json(detail, *answer));
    else
        print(report::detail_text(detail, *answer, style_of_output()));
    return options.strict && !reading.problems.empty() ? failed_strict : done;
}

}  // namespace warmside::app
