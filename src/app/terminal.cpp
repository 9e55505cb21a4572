#include "app/terminal.h"

#include <algorithm>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

namespace warmside::app {

Terminal terminal_of(int file) {
    Terminal terminal;
    terminal.interactive = ::isatty(file) == 1;
    const char* no_colour = std::getenv("NO_COLOR");
    const char* kind = std::getenv("TERM");
    const bool dumb = kind && std::string_view(kind) == "dumb";
    terminal.colour = terminal.interactive && !(no_colour && *no_colour) && !dumb;
    winsize size{};
    if (terminal.interactive && ::ioctl(file, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40) {
        terminal.width = std::min<int>(size.ws_col, 160);
    }
    return terminal;
}

ProgressLine::ProgressLine() : on_(::isatty(STDERR_FILENO) == 1) {}
ProgressLine::~ProgressLine() {
    wipe();
}

void ProgressLine::report(std::string_view stage, double done) {
    if (!on_) return;
    const std::lock_guard lock(guard_);
    const auto now = std::chrono::steady_clock::now();
    // A stage that falls back has begun anew.
    if (stage != stage_ || done < furthest_ - 0.1) {
        stage_ = stage;
        began_ = now;
        furthest_ = 0.0;
    }
    furthest_ = std::max(furthest_, done);
    if (now - last_ < std::chrono::milliseconds(80)) return;
    last_ = now;
    done = std::clamp(done, 0.0, 1.0);
    std::string line = fmt::format("{}{}{} {:.0f} %", note_, note_.empty() ? "" : " ", stage, 100.0 * done);
    const double spent = std::chrono::duration<double>(now - began_).count();
    if (done > 0.05 && done < 1.0 && spent > 0.5)
        line += fmt::format(", {:.0f} s left", std::ceil(spent * (1.0 - done) / done));
    const auto room = static_cast<std::size_t>(terminal_of(STDERR_FILENO).width - 1);
    if (line.size() > room) line.resize(room);
    fmt::print(stderr, "\r\033[K{}", line);
    std::fflush(stderr);
}

void ProgressLine::note(std::string words) {
    const std::lock_guard lock(guard_);
    note_ = std::move(words);
}

void ProgressLine::wipe() {
    if (!on_) return;
    const std::lock_guard lock(guard_);
    if (last_ == std::chrono::steady_clock::time_point{}) return;
    std::fputs("\r\033[K", stderr);
    std::fflush(stderr);
    last_ = {};
}

namespace {

StopSource* signalled = nullptr;
volatile std::sig_atomic_t signals = 0;

extern "C" void on_signal(int number) {
    signals = signals + 1;
    if (signals > 1) {
        std::signal(number, SIG_DFL);
        std::raise(number);
    }
    if (signalled) signalled->stop();
}

}  // namespace

void stop_on_signal(StopSource& source) {
    signalled = &source;
    std::signal(SIGINT, on_signal);
    std::signal(SIGTERM, on_signal);
    std::signal(SIGPIPE, SIG_IGN);
}

}  // namespace warmside::app
