// One kind of stage: results kept by key, the oldest unused dropped first.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <utility>

#include "base/digest.h"
#include "base/result.h"

namespace warmside::answer {

template <class T>
class Stage {
public:
    explicit Stage(std::size_t capacity) : capacity_(capacity) {}

    /// The kept result, or null.
    [[nodiscard]] std::shared_ptr<const T> find(const Key& key) {
        const auto found = kept_.find(key);
        if (found == kept_.end()) return nullptr;
        found->second.second = ++clock_;
        ++taken;
        return found->second.first;
    }

    std::shared_ptr<const T> keep(const Key& key, T value) {
        auto shared = std::make_shared<const T>(std::move(value));
        ++run;
        if (kept_.size() >= capacity_) {
            auto oldest = kept_.begin();
            for (auto it = kept_.begin(); it != kept_.end(); ++it) {
                if (it->second.second < oldest->second.second) oldest = it;
            }
            kept_.erase(oldest);
        }
        kept_[key] = {shared, ++clock_};
        return shared;
    }

    /// Kept, or made by `make` (a function that returns Result<T>); a Problem is not kept.
    template <class Make>
    [[nodiscard]] Result<std::shared_ptr<const T>> get(const Key& key, Make&& make) {
        if (auto found = find(key)) return found;
        Result<T> made = std::forward<Make>(make)();
        if (!made) return fail(std::move(made).error());
        return keep(key, std::move(*made));
    }

    int run = 0;    ///< results made since the counters were cleared
    int taken = 0;  ///< results found

private:
    std::map<Key, std::pair<std::shared_ptr<const T>, std::uint64_t>> kept_;
    std::size_t capacity_;
    std::uint64_t clock_ = 0;
};

}  // namespace warmside::answer
