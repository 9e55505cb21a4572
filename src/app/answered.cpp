#include "app/answered.h"

#include <cstdio>

#include "app/print.h"
#include "app/terminal.h"

namespace warmside::app {

Answered answer_file(const Options& options, answer::Ask ask, StopSource& stop) {
    Answered out;
    out.loaded = load_house(options.file);
    if (out.loaded.house && !options.prices.empty() && !read_prices(options.prices, out.loaded))
        out.loaded.house.reset();
    if (!out.loaded.house) {
        out.exit = give_up(out.loaded.problems, render_all(out.loaded), options.json);
        return out;
    }
    const auto remarks = render_all(out.loaded);
    std::fwrite(remarks.data(), 1, remarks.size(), stderr);
    ask.rung = options.rung;
    ask.weather = out.loaded.weather;
    ask.prices = out.loaded.prices;
    ProgressLine progress;
    answer::Engine engine;
    auto answer = engine.answer(*out.loaded.house, ask, {.stop = stop.token(), .progress = &progress});
    progress.wipe();
    if (!answer) {
        out.exit = give_up(Problems{answer.error()}, render(answer.error(), out.loaded.text), options.json);
        return out;
    }
    out.answer = std::move(*answer);
    return out;
}

}  // namespace warmside::app
