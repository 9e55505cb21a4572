// What the terminal is, progress on it, and Ctrl-C.
#pragma once

#include <chrono>
#include <mutex>
#include <string>

#include "base/stop.h"

namespace warmside::app {

/// Standard output or error: is it a terminal, does it want colour (NO_COLOR, TERM=dumb), how wide.
struct Terminal {
    bool interactive = false;
    bool colour = false;
    int width = 100;
};
[[nodiscard]] Terminal terminal_of(int file);

/// One line on standard error that is rewritten, and wiped when done. Silent unless that is a terminal.
class ProgressLine : public Progress {
public:
    ProgressLine();
    ~ProgressLine() override;
    /// Stage, percent, and the time left once enough is done to tell.
    void report(std::string_view stage, double done) override;
    /// Words that stand before the stage from now on.
    void note(std::string words);
    void wipe();

private:
    std::mutex guard_;
    bool on_;
    std::string note_, stage_;
    double furthest_ = 0.0;
    std::chrono::steady_clock::time_point last_{}, began_{};
};

/// Makes Ctrl-C and SIGTERM ask `source` to stop; a second one ends the program at once.
void stop_on_signal(StopSource& source);

}  // namespace warmside::app
