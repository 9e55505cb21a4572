#include "app/hub.h"

#include <fmt/format.h>

namespace warmside::app {

void Hub::begin(unsigned long generation) {
    const std::lock_guard lock(guard_);
    if (generation <= generation_) return;
    generation_ = generation;
    events_.clear();
    news_.notify_all();
}

void Hub::publish(unsigned long generation, std::string_view event) {
    const std::lock_guard lock(guard_);
    if (generation != generation_ || closed_ || event.empty()) return;
    events_.push_back(fmt::format("id: {}.{}\n{}", generation, events_.size(), event));
    news_.notify_all();
}

void Hub::close() {
    const std::lock_guard lock(guard_);
    closed_ = true;
    news_.notify_all();
}

std::optional<std::string> Hub::next(Cursor& cursor, std::chrono::milliseconds patience) {
    std::unique_lock lock(guard_);
    const auto ready = [&] {
        return closed_ || cursor.generation != generation_ || cursor.next < events_.size();
    };
    news_.wait_for(lock, patience, ready);
    if (closed_) return std::nullopt;
    if (cursor.generation != generation_) cursor = {generation_, 0};
    if (cursor.next >= events_.size()) return std::string{};
    return events_[cursor.next++];
}

}  // namespace warmside::app
