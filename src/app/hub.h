// The events of the current generation, kept once and read by any number of listeners.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstddef>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace warmside::app {

/// A listener owns a Cursor; a new generation sends it back to the start. Memory is bounded by the events of
/// one generation, however many listen and however slowly they read.
class Hub {
public:
    struct Cursor {
        unsigned long generation = 0;
        std::size_t next = 0;
    };

    /// Drops the old events; what was published under an older generation later is ignored.
    void begin(unsigned long generation);
    /// `event` is complete in the form of the event-stream standard (report/live.h); an empty one is nothing.
    void publish(unsigned long generation, std::string_view event);
    /// No more waiting: every `next` returns nothing from now on.
    void close();

    /// The next event with its id, an empty text (a keep-alive comment is due)
    /// after `patience`, or nothing when closed.
    [[nodiscard]] std::optional<std::string> next(Cursor& cursor, std::chrono::milliseconds patience);

private:
    std::mutex guard_;
    std::condition_variable news_;
    std::vector<std::string> events_;
    unsigned long generation_ = 0;
    bool closed_ = false;
};

}  // namespace warmside::app
