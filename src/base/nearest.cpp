#include "base/nearest.h"

#include <algorithm>
#include <cctype>
#include <vector>

namespace warmside {

namespace {

bool same(char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
}

// Optimal string alignment distance.
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replace = d[i - 1][j - 1] + (same(a[i - 1], b[j - 1]) ? 0 : 1);
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, replace});
            if (i > 1 && j > 1 && same(a[i - 1], b[j - 2]) && same(a[i - 2], b[j - 1])) {
                d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
            }
        }
    }
    return d[a.size()][b.size()];
}

}  // namespace

std::string nearest(std::string_view word, std::span<const std::string> known) {
    if (word.size() > 64) return {};
    std::string best;
    std::size_t least = std::max<std::size_t>(1, (word.size() + 2) / 3) + 1;
    for (const std::string& candidate : known) {
        if (candidate.size() > 64) continue;
        const auto away = distance(word, candidate);
        if (away < least) {
            least = away;
            best = candidate;
        }
    }
    return best;
}

}  // namespace warmside
