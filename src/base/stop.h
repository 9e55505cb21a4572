// A long solve can be asked to stop, and says how far it is.
#pragma once

#include <atomic>
#include <memory>
#include <string_view>

namespace warmside {

/// Read side. Cheap to copy; a default one never asks to stop.
class StopToken {
public:
    StopToken() = default;
    [[nodiscard]] bool stopped() const { return flag_ && flag_->load(std::memory_order_relaxed); }

private:
    friend class StopSource;
    explicit StopToken(std::shared_ptr<const std::atomic<bool>> flag) : flag_(std::move(flag)) {}
    std::shared_ptr<const std::atomic<bool>> flag_;
};

/// Write side. stop() is safe from any thread and from a signal handler.
class StopSource {
public:
    void stop() noexcept { flag_->store(true, std::memory_order_relaxed); }
    [[nodiscard]] StopToken token() const { return StopToken{flag_}; }

private:
    std::shared_ptr<std::atomic<bool>> flag_ = std::make_shared<std::atomic<bool>>(false);
};

/// Takes progress from any thread. `done` runs from 0 to 1 within `stage`.
class Progress {
public:
    Progress() = default;
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    virtual ~Progress() = default;
    virtual void report(std::string_view stage, double done) = 0;
};

/// What every long solve is handed.
struct Control {
    StopToken stop;
    Progress* progress = nullptr;  ///< not owned; may be null
    void report(std::string_view stage, double done) const {
        if (progress) progress->report(stage, done);
    }
};

}  // namespace warmside
