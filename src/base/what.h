// The sentence of a Result, for messages that are put together whether it holds a value or not.
#pragma once

#include "base/result.h"

namespace warmside {

/// What went wrong; empty for a value. (error() of a Result with a value is undefined.)
template <class T>
[[nodiscard]] std::string what_of(const Result<T>& result) {
    return result ? std::string() : result.error().what;
}

}  // namespace warmside
