#include "conduction/crew.h"

#include <thread>
#include <vector>

namespace warmside::conduction {

void together(unsigned size, const std::function<void(unsigned)>& task) {
    const auto guarded = [&](unsigned member) noexcept { task(member); };
    std::vector<std::jthread> others;
    for (unsigned member = 1; member < size; ++member) others.emplace_back(guarded, member);
    guarded(0);
}

void Barrier::wait() {
    if (size_ == 1) return;
    constexpr int patience = 4000;
    const unsigned round = round_.load(std::memory_order_acquire);
    if (arrived_.fetch_add(1, std::memory_order_acq_rel) + 1 == size_) {
        arrived_.store(0, std::memory_order_relaxed);
        round_.store(round + 1, std::memory_order_release);
        return;
    }
    for (int spin = 0; round_.load(std::memory_order_acquire) == round; ++spin) {
        if (spin > patience) std::this_thread::yield();
    }
}

}  // namespace warmside::conduction
