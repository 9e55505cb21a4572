// `warmside frame` and `warmside takeoff`: members, checks, orders, cuts and cost of the wall rungs.
#include <fmt/format.h>

#include "app/answered.h"
#include "app/files.h"
#include "app/print.h"
#include "report/building.h"
#include "report/frame_files.h"
#include "report/takeoff_files.h"

namespace warmside::app {

namespace {

// A house's rungs framed, without heat and moisture; `cost` with their floors and roofs.
Answered build(const Options& options, bool cost, StopSource& stop) {
    answer::Ask ask;
    ask.heat = ask.dry = false;
    ask.cost = ask.cost_whole = cost;
    return answer_file(options, ask, stop);
}

// What the rungs lack, as problems of the house file.
Problems absent(const answer::Answer& answer, const assembly::House& house, bool cost,
                const std::string& only) {
    Problems out;
    bool any = false;
    report::each_wall_rung(answer, {}, [&](const answer::RungAnswer& rung) {
        any = true;
        const std::string& why = !rung.framed_absent.empty() ? rung.framed_absent : rung.priced_absent;
        const bool lacks = !rung.framed || (cost && !rung.priced);
        if (!lacks) return;
        out.push_back({.code = Code::unsupported,
                       .what = fmt::format("{}: {}", rung.name, why),
                       .where = house.assemblies[rung.assembly].origin.where});
    });
    if (!any && !only.empty())
        out.push_back({.code = Code::unsupported,
                       .what = fmt::format("{} is no rung of walls: only those are framed here", only),
                       .suggestion = "a rung of [ladder.wall]"});
    else if (!any)
        out.push_back({.code = Code::missing,
                       .what = "the house file has no ladder of walls",
                       .suggestion = "[ladder.wall]"});
    return out;
}

int give_up_with(const Problems& problems, const Answered& built, const Options& options) {
    std::string text;
    for (const auto& problem : problems) text += render(problem, built.loaded.text);
    return give_up(problems, text, options.json);
}

Result<void> write_files(const Options& options, const std::vector<report::OutFile>& files) {
    for (const auto& file : files)
        if (auto done = write_file(options.out + "/" + file.name, file.bytes); !done) return done;
    return {};
}

// Each rung's files, by `write`, into the folder of --out.
template <class Write>
Result<void> write_all(const Options& options, const Answered& built, Write write) {
    if (options.out.empty()) return {};
    if (auto made = make_folder(options.out); !made) return made;
    Result<void> done;
    report::each_wall_rung(built.answer, {}, [&](const answer::RungAnswer& rung) {
        if (done) done = write(rung);
    });
    return done;
}

}  // namespace

int run_frame(const Options& options, StopSource& stop) {
    if (options.dark && options.out.empty())
        return give_up(Problem{.code = Code::missing, .what = "--dark needs --out DIR"}, options.json);
    const Answered built = build(options, false, stop);
    if (built.exit != done) return built.exit;
    const auto& house = *built.loaded.house;
    if (const Problems lacking = absent(built.answer, house, false, options.rung); !lacking.empty())
        return give_up_with(lacking, built, options);
    const auto written = write_all(options, built, [&](const answer::RungAnswer& rung) {
        return report::frame_files(house, rung,
                                   {.inch_pound_first = built.answer.inch_pound_first, .dark = options.dark})
            .and_then([&](const auto& files) { return write_files(options, files); });
    });
    if (!written) return give_up(written.error(), options.json);
    if (options.json)
        print_json(report::frame_json(built.answer, options.rung));
    else
        print(report::frame_text(built.answer, style_of_output(), options.rung));
    bool fails = false;
    report::each_wall_rung(built.answer, {}, [&](const answer::RungAnswer& rung) {
        fails = fails || rung.framed->structure.count(structure::Outcome::fails) > 0;
    });
    return options.strict && (fails || warned(built.loaded)) ? failed_strict : done;
}

int run_takeoff(const Options& options, StopSource& stop) {
    const Answered built = build(options, true, stop);
    if (built.exit != done) return built.exit;
    if (const Problems lacking = absent(built.answer, *built.loaded.house, true, options.rung);
        !lacking.empty())
        return give_up_with(lacking, built, options);
    const auto written = write_all(options, built, [&](const answer::RungAnswer& rung) {
        return write_files(options, report::order_files(rung)).and_then([&] {
            return write_file_with(options.out + "/" + report::workbook_name(rung),
                                   [&](const std::string& draft) {
                                       return report::takeoff_xlsx(
                                           rung.priced->order, built.answer.house + ", " + rung.name, draft);
                                   });
        });
    });
    if (!written) return give_up(written.error(), options.json);
    if (options.json)
        print_json(report::takeoff_json(built.answer, options.rung));
    else
        print(report::takeoff_text(built.answer, style_of_output(), options.rung));
    return options.strict && warned(built.loaded) ? failed_strict : done;
}

}  // namespace warmside::app
