// Threads that walk through one solve together.
#pragma once

#include <atomic>
#include <functional>

namespace warmside::conduction {

/// Runs task(member) on `size` threads at once, the caller being member 0, and waits for all.
/// An exception in a task is a slip of ours and ends the program.
void together(unsigned size, const std::function<void(unsigned)>& task);

/// A meeting point for a fixed number of threads; cheap where they arrive at nearly the same time.
class Barrier {
public:
    explicit Barrier(unsigned size) : size_(size) {}
    void wait();

private:
    unsigned size_;
    std::atomic<unsigned> arrived_{0};
    std::atomic<unsigned> round_{0};
};

}  // namespace warmside::conduction
