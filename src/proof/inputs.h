// Reads the `given` table of one case: what is missing or wrong is kept and told instead of the result.
#pragma once

#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "proof/operation.h"
#include "units/reader.h"

namespace warmside::proof {

/// Ask for every input by name, compute in `then` (which runs only when all were good).
class Inputs {
public:
    explicit Inputs(const Given& given) : reader_(given, "given", problems_) {}

    /// SI; not a number when missing or bad.
    double one(std::string_view key, const units::Dimension& dimension, units::Limits limits = {}) {
        return reader_.required(reader_.quantity(key, dimension, limits), key).value_or(std::nan(""));
    }
    double one_or(std::string_view key, const units::Dimension& dimension, double otherwise) {
        return reader_.quantity(key, dimension).value_or(otherwise);
    }
    /// A list, or one value as a list of one.
    std::vector<double> list(std::string_view key, const units::Dimension& dimension) {
        const auto* node = reader_.node(key);
        if (node && !node->is_array()) return {one(key, dimension)};
        return reader_.required(reader_.quantities(key, dimension), key).value_or(std::vector<double>{});
    }
    std::string word(std::string_view key, std::initializer_list<std::string_view> words) {
        return reader_.required(reader_.word(key, words), key).value_or(std::string(*words.begin()));
    }
    int whole(std::string_view key, int least, int most) {
        return static_cast<int>(reader_.required(reader_.integer(key, least, most), key).value_or(least));
    }
    bool flag(std::string_view key) { return reader_.flag(key).value_or(false); }
    units::TableReader& reader() { return reader_; }
    Problems& problems() { return problems_; }

    /// Nothing, or the first Problem of the inputs; keys that nobody asked for are problems too.
    [[nodiscard]] Result<void> done() {
        reader_.finish();
        if (!problems_.empty()) return fail(problems_.front());
        return {};
    }
    /// The outcome, unless an input was bad.
    [[nodiscard]] Result<Outcome> done(Result<Outcome> outcome) {
        return done().and_then([&] { return std::move(outcome); });
    }
    /// Computes only when every input is good.
    template <class Compute>
    [[nodiscard]] Result<Outcome> then(Compute compute) {
        if (auto good = done(); !good) return fail(std::move(good).error());
        return compute();
    }

private:
    Problems problems_;
    units::TableReader reader_;
};

}  // namespace warmside::proof
