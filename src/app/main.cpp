#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <cstdio>
#include <exception>
#include <fmt/format.h>
#include <functional>

#include "app/commands.h"
#include "app/help.h"
#include "app/terminal.h"
#include "base/nearest.h"

namespace {

using namespace warmside;

struct Command {
    const char* name;
    const char* argument;  ///< name of the positional, null: none
    bool argument_needed;
    std::string app::Options::* target;
    std::function<int(const app::Options&, StopSource&)> run;
};

const std::array<Command, 12>& commands() {
    using app::Options;
    static const std::array<Command, 12> all{{
        {"answer", "HOUSE.toml", true, &Options::file, app::run_answer},
        {"heat", "HOUSE.toml", true, &Options::file, app::run_heat},
        {"dry", "HOUSE.toml", true, &Options::file, app::run_dry},
        {"detail", "DETAIL.toml", true, &Options::file, app::run_detail},
        {"frame", "HOUSE.toml", true, &Options::file, app::run_frame},
        {"takeoff", "HOUSE.toml", true, &Options::file, app::run_takeoff},
        {"why", "HOUSE.toml", true, &Options::file, app::run_why},
        {"new", "FILE", true, &Options::file, [](const Options& o, StopSource&) { return app::run_new(o); }},
        {"places", "WORD", false, &Options::word,
         [](const Options& o, StopSource&) { return app::run_places(o); }},
        {"materials", "WORD", false, &Options::word,
         [](const Options& o, StopSource&) { return app::run_materials(o); }},
        {"proof", "ID", false, &Options::word, app::run_proof},
        {"open", "HOUSE.toml", true, &Options::file, app::run_open},
    }};
    return all;
}

int misuse(const std::string& command, const std::string& what) {
    fmt::print(stderr, "warmside {}: {}\ntry: warmside {} --help\n", command, what, command);
    return app::bad_input;
}

int run(const Command& command, int count, char** words) {
    app::Options options;
    CLI::App parser;
    parser.set_help_flag();
    bool help = false;
    parser.add_flag("--help,-h", help);
    parser.add_flag("--json", options.json);
    parser.add_flag("--strict", options.strict);
    parser.add_option(command.argument, options.*command.target);
    const std::string name = command.name;
    const auto among = [&](std::initializer_list<std::string_view> names) {
        return std::find(names.begin(), names.end(), name) != names.end();
    };
    if (among({"answer", "heat", "dry", "frame", "takeoff"})) parser.add_option("--rung", options.rung);
    if (among({"answer", "heat", "dry", "detail", "frame", "takeoff"}))
        parser.add_option("--out", options.out);
    if (name == "takeoff") parser.add_option("--prices", options.prices);
    if (name == "answer") parser.add_flag("--causes", options.causes);
    if (name == "dry") {
        parser.add_flag("--csv", options.csv);
        parser.add_option("--depth", options.depths)->allow_extra_args(false);
        parser.add_option("--every", options.every);
        parser.add_option("--run", options.run);
        parser.add_option("--years", options.years)->check(CLI::Range(2, 20));
        parser.add_flag("--temperature", options.temperature);
        parser.add_flag("--dark", options.dark);
        parser.add_flag("--no-causes", options.no_causes);
    }
    if (name == "detail") {
        parser.add_option("--tolerance", options.tolerance);
        parser.add_flag("--dark", options.dark);
    }
    if (among({"heat", "frame"})) parser.add_flag("--dark", options.dark);
    if (name == "why") parser.add_option("PATH", options.path);
    if (name == "proof") parser.add_flag("--all", options.all);
    if (name == "open") parser.add_option("--port", options.port)->check(CLI::Range(1, 65535));
    try {
        parser.parse(count, words);
    } catch (const CLI::ParseError& error) {
        return misuse(name, error.what());
    }
    if (help) {
        std::fputs(std::string(app::help_of(name)).c_str(), stdout);
        return app::done;
    }
    if (command.argument_needed && (options.*command.target).empty()) {
        return misuse(name, fmt::format("{} is missing", command.argument));
    }
    StopSource stop;
    app::stop_on_signal(stop);
    return command.run(options, stop);
}

int chosen(int count, char** words) {
    const std::string first = count > 1 ? words[1] : "--help";
    if (first == "--help" || first == "-h" || first == "help") {
        std::fputs(std::string(app::overview()).c_str(), stdout);
        return app::done;
    }
    if (first == "--version") {
        fmt::print("warmside {}\n", WARMSIDE_VERSION);
        return app::done;
    }
    std::vector<std::string> known;
    for (const auto& command : commands()) {
        if (first == command.name) return run(command, count - 1, words + 1);
        known.emplace_back(command.name);
    }
    const auto suggestion = nearest(first, known);
    fmt::print(stderr, "warmside: there is no command \"{}\"{}\ntry: warmside --help\n", first,
               suggestion.empty() ? "" : fmt::format("; did you mean {}?", suggestion));
    return app::bad_input;
}

}  // namespace

int main(int count, char** words) {
    // Rooms return their errors; what still comes this far is the machine's (memory, a thread that cannot
    // start).
    try {
        return chosen(count, words);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "warmside: %s\n", error.what());
        return warmside::app::no_solution;
    }
}
