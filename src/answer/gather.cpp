#include "answer/gather.h"

#include <algorithm>

namespace warmside::answer {

Gather::Gather(const std::vector<Batch>& batches, Whole whole)
    : batches_(batches), whole_(std::move(whole)), sets_(batches.size()) {}

void Gather::finished(std::size_t run, moisture::History history) {
    const auto batch = std::find_if(batches_.begin(), batches_.end(), [&](const Batch& b) {
        return run >= b.first && run < b.first + b.count;
    });
    std::vector<moisture::History> full;
    {
        const std::scoped_lock lock(guard_);
        Set& set = sets_[static_cast<std::size_t>(batch - batches_.begin())];
        set.histories.resize(batch->count);
        set.histories[run - batch->first] = std::move(history);
        if (++set.there < batch->count) return;
        full = std::move(set.histories);
    }
    auto done = whole_(*batch, std::move(full));
    const std::scoped_lock lock(guard_);
    if (!done && !problem_) problem_ = std::move(done).error();
}

}  // namespace warmside::answer
