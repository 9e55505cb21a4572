#include "base/digest.h"

#include <fmt/format.h>

namespace warmside {

std::string Key::hex() const {
    return fmt::format("{:016x}{:016x}", words[0], words[1]);
}

Digest& Digest::word(std::uint64_t value) {
    for (int byte = 0; byte < 8; ++byte) {
        a_ = (a_ ^ ((value >> (8 * byte)) & 0xffU)) * 0x100000001b3ULL;
    }
    b_ = std::rotl(b_ ^ (value * 0xbf58476d1ce4e5b9ULL), 31) * 0x94d049bb133111ebULL;
    return *this;
}

Digest& Digest::add(std::string_view text) {
    word(text.size());
    std::uint64_t packed = 0;
    int filled = 0;
    for (const char c : text) {
        packed = (packed << 8) | static_cast<unsigned char>(c);
        if (++filled == 8) {
            word(packed);
            packed = 0;
            filled = 0;
        }
    }
    return filled > 0 ? word(packed) : *this;
}

Digest& Digest::add(std::span<const double> values) {
    word(values.size());
    for (const double value : values) add(value);
    return *this;
}

}  // namespace warmside
