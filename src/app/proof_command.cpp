#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <map>

#include "app/commands.h"
#include "app/print.h"
#include "app/terminal.h"
#include "proof/runner.h"

namespace warmside::app {

namespace {

std::vector<report::CheckRow> rows_of(const proof::Report& report) {
    std::vector<report::CheckRow> rows;
    for (const auto& check : report.checks) {
        report::CheckRow row{check.id,
                             check.room,
                             check.expected,
                             std::nullopt,
                             check.tolerance,
                             check.unit,
                             check.place.empty() ? check.source : check.source + ", " + check.place,
                             proof::evidence_word(check),
                             proof::name_of(check.result),
                             check.note};
        if (check.computed) row.got = check.got;
        rows.push_back(std::move(row));
    }
    return rows;
}

std::string row_text(const report::CheckRow& row) {
    return fmt::format("{:<9} {}\n          expected {:g} {}, got {}, within {:g}; {} ({}){}\n", row.result,
                       row.id, row.expected, row.unit, row.got ? fmt::format("{:g}", *row.got) : "nothing",
                       row.tolerance, row.source, row.evidence,
                       row.note.empty() ? "" : "\n          " + row.note);
}

/// Rooms down, evidence across; passes of all.
std::string table_text(const std::vector<report::CheckRow>& rows) {
    constexpr std::array<std::string_view, 6> words{"seen",     "quoted",   "memory",
                                                    "computed", "practice", "transcribed"};
    std::map<std::string, std::map<std::string_view, std::pair<int, int>>> count;
    for (const auto& row : rows) {
        for (const auto word : words) {
            if (row.evidence != word) continue;
            auto& [passed, all] = count[row.room][word];
            ++all;
            passed += row.result == "pass" ? 1 : 0;
        }
    }
    // The longest word sets the last column: six and the room in 80 characters.
    const auto width = [](std::string_view word) { return std::max<std::size_t>(10, word.size() + 2); };
    std::string out = fmt::format("{:<12}", "");
    for (const auto word : words) out += fmt::format("{:>{}}", word, width(word));
    out += "\n";
    for (const auto& [room, by_word] : count) {
        out += fmt::format("{:<12}", room);
        for (const auto word : words) {
            const auto found = by_word.find(word);
            out += fmt::format(
                "{:>{}}",
                found == by_word.end() ? "" : fmt::format("{}/{}", found->second.first, found->second.second),
                width(word));
        }
        out += "\n";
    }
    return out;
}

}  // namespace

int run_proof(const Options& options, StopSource& stop) {
    ProgressLine progress;
    const auto report = proof::run(options.word, {.stop = stop.token(), .progress = &progress});
    progress.wipe();
    if (stop.token().stopped())
        return give_up(Problem{.code = Code::stopped, .what = "stopped"}, options.json);
    if (!usable(report.problems)) {
        std::string text;
        for (const auto& problem : report.problems) text += render(problem);
        (void)give_up(report.problems, text, options.json);
        return no_solution;
    }
    const auto rows = rows_of(report);
    if (rows.empty()) {
        return give_up(Problem{.code = Code::unknown_name,
                               .what = fmt::format("no check begins with \"{}\"", options.word)},
                       options.json);
    }
    const auto count = [&](std::string_view result) {
        return std::count_if(rows.begin(), rows.end(), [&](const auto& row) { return row.result == result; });
    };
    if (options.json) {
        print_json(report::proof_json(rows));
    } else {
        std::string out;
        for (const auto& row : rows) {
            if (options.all || row.result != "pass") out += row_text(row);
        }
        out += (out.empty() ? "" : "\n") + table_text(rows);
        out += fmt::format(
            "\n{} values: {} pass, {} fail, {} known gaps. Seen and quoted values validate; computed ones "
            "verify;\n"
            "memory and practice are checks of our own reading; transcribed ones of our typing alone.\n",
            rows.size(), count("pass"), count("fail"), count("known_gap"));
        print(out);
    }
    return options.strict && count("fail") > 0 ? failed_strict : done;
}

}  // namespace warmside::app
