#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace warmside {

void parallel_for(std::size_t count, const std::function<void(std::size_t)>& task, const StopToken& stop,
                  unsigned threads) {
    if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
    const auto crew = std::min<std::size_t>(threads, count);
    std::atomic<std::size_t> next{0};
    const auto work = [&]() noexcept {
        for (std::size_t i = next++; i < count && !stop.stopped(); i = next++) task(i);
    };
    std::vector<std::jthread> helpers;
    for (std::size_t i = 1; i < crew; ++i) helpers.emplace_back(work);
    if (crew > 0) work();
}

}  // namespace warmside
