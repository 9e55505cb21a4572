#include "report/terminal_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "report/words.h"

namespace warmside::report {

std::string paint(std::string text, Ansi kind, const Style& style) {
    if (!style.colour || text.empty()) return text;
    constexpr std::string_view codes[] = {"1", "2", "1;38;5;166"};
    return fmt::format("\x1b[{}m{}\x1b[0m", codes[static_cast<std::size_t>(kind)], text);
}

int width_of(const Style& style) {
    return std::max(style.width, 80);
}

std::string Table::text(std::size_t indent, std::size_t heads, const Style& style) const {
    std::vector<std::size_t> widths;
    for (const auto& row : rows_) {
        widths.resize(std::max(widths.size(), row.size()));
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], visible(row[i]));
    }
    std::string out;
    if (!spans_.empty()) {
        std::string line;
        std::size_t column = 0;
        for (const auto& [count, words] : spans_) {
            std::size_t width = 0;
            for (std::size_t i = 0; i < count && column < widths.size(); ++i, ++column)
                width += widths[column] + (i ? 2 : 0);
            const auto shown = visible(words);
            line += std::string(width > shown ? width - shown : 0, ' ') + words + "  ";
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out += std::string(indent, ' ') + paint(line, Ansi::quiet, style) + "\n";
    }
    const std::size_t before =
        std::accumulate(widths.begin(), widths.empty() ? widths.end() : widths.end() - 1, indent,
                        [](std::size_t sum, std::size_t w) { return sum + w + 2; });
    constexpr std::size_t least = 10;  // a narrower column reads worse than a line that is too long
    const auto screen = static_cast<std::size_t>(width_of(style));
    const std::size_t room = screen > before + least ? screen - before : least;
    for (std::size_t r = 0; r < rows_.size(); ++r) {
        const auto& row = rows_[r];
        std::string line(indent, ' ');
        std::vector<std::string> last;
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (i > 0) line += "  ";
            if (i + 1 == widths.size() && widths[i] > room) {
                last = wrap(row[i], room);
                line += last.empty() ? std::string() : last.front();
                continue;
            }
            const std::string pad(widths[i] - visible(row[i]), ' ');
            const bool right = std::find(right_.begin(), right_.end(), i) != right_.end();
            line += right ? pad + row[i] : row[i] + pad;
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out += (r < heads ? paint(line, Ansi::quiet, style) : line) + "\n";
        for (std::size_t k = 1; k < last.size(); ++k) out += std::string(before, ' ') + last[k] + "\n";
    }
    return out;
}

std::string entry(std::string_view label, std::string_view text, const Style& style, std::size_t indent,
                  std::size_t label_width, bool accent) {
    const auto room = static_cast<std::size_t>(width_of(style)) - indent - label_width - 1;
    std::string out;
    bool head = true;
    for (const auto& line : wrap(pretty(text), room)) {
        std::string name = fmt::format("{:{}}", head ? label : "", label_width);
        out += fmt::format("{}{} {}\n", std::string(indent, ' '),
                           head ? paint(name, accent ? Ansi::accent : Ansi::quiet, style) : name, line);
        head = false;
    }
    return out;
}

}  // namespace warmside::report
