#include "app/print.h"

#include <algorithm>
#include <cstdio>
#include <unistd.h>

#include "app/terminal.h"

namespace warmside::app {

report::Style style_of_output() {
    const auto terminal = terminal_of(STDOUT_FILENO);
    return {.colour = terminal.colour, .width = std::max(80, terminal.width)};
}

void print(std::string_view text) {
    std::fwrite(text.data(), 1, text.size(), stdout);
    std::fflush(stdout);
}

void print_json(const report::Json& json) {
    print(report::dump(json));
}

int give_up(const Problems& problems, std::string_view rendered, bool json) {
    std::fwrite(rendered.data(), 1, rendered.size(), stderr);
    if (json) print_json(report::problems_json(problems));
    const bool unsolved = std::any_of(problems.begin(), problems.end(), [](const Problem& p) {
        return p.code == Code::not_converged || p.code == Code::stopped;
    });
    return unsolved ? no_solution : bad_input;
}

int give_up(const Problem& problem, bool json) {
    return give_up(Problems{problem}, render(problem), json);
}

}  // namespace warmside::app
