// The key of a stage: a digest of everything that the stage reads.
#pragma once

#include <array>
#include <bit>
#include <compare>
#include <concepts>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>

namespace warmside {

struct Key {
    std::array<std::uint64_t, 2> words{};
    friend auto operator<=>(const Key&, const Key&) = default;
    [[nodiscard]] std::string hex() const;
};

/// Two independent 64-bit streams (FNV-1a and a multiply-rotate mix); not for secrets.
class Digest {
public:
    Digest& add(std::string_view text);
    Digest& add(double value) { return word(std::bit_cast<std::uint64_t>(value)); }
    template <std::integral T>
    Digest& add(T value) {
        return word(static_cast<std::uint64_t>(value));
    }
    Digest& add(const Key& key) { return word(key.words[0]).word(key.words[1]); }
    Digest& add(std::span<const double> values);
    [[nodiscard]] Key key() const { return Key{{a_, b_}}; }

private:
    Digest& word(std::uint64_t value);
    std::uint64_t a_ = 0xcbf29ce484222325ULL;
    std::uint64_t b_ = 0x9e3779b97f4a7c15ULL;
};

}  // namespace warmside
