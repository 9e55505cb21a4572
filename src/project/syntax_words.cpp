#include "project/syntax_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace warmside::project {

namespace {

bool is_continuation(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::string_view line_at(std::string_view text, int line) {
    for (int skipped = 1; skipped < line; ++skipped) {
        const auto end = text.find('\n');
        if (end == std::string_view::npos) return {};
        text.remove_prefix(end + 1);
    }
    return text.substr(0, text.find('\n'));
}

// Byte of a column, which counts code points from 1.
std::size_t byte_of(std::string_view line, int column) {
    int seen = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (!is_continuation(line[i]) && ++seen == column) return i;
    }
    return line.size();
}

int column_of(std::string_view line, std::size_t byte) {
    const auto end = line.begin() + static_cast<std::ptrdiff_t>(std::min(byte, line.size()));
    return 1 + static_cast<int>(std::count_if(line.begin(), end, [](char c) { return !is_continuation(c); }));
}

struct Mark {
    std::size_t byte = 0;
    char sign = 0;
};

// Quotes and brackets of a text, strings and comments skipped.
struct Scan {
    std::optional<std::size_t> open_quote;  // never closed on its line
    std::optional<std::size_t> stray;       // closes nothing, or the wrong bracket
    std::vector<Mark> open;                 // brackets never closed
};

// The end of a string that opens at `at`; nothing when it is not closed.
std::optional<std::size_t> end_of_string(std::string_view text, std::size_t at) {
    const char quote = text[at];
    const std::string three(3, quote);
    if (text.substr(at, 3) == three) {
        const auto end = text.find(three, at + 3);
        return end == std::string_view::npos ? std::nullopt : std::optional(end + 3);
    }
    for (std::size_t i = at + 1; i < text.size() && text[i] != '\n'; ++i) {
        if (text[i] == quote) return i + 1;
        if (text[i] == '\\' && quote == '"') ++i;
    }
    return std::nullopt;
}

Scan scan(std::string_view text) {
    Scan out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '#') {
            i = text.find('\n', i);
            if (i == std::string_view::npos) break;
        } else if (c == '"' || c == '\'') {
            const auto end = end_of_string(text, i);
            if (!end) {
                out.open_quote = i;
                return out;
            }
            i = *end - 1;
        } else if (c == '[' || c == '{') {
            out.open.push_back({i, c});
        } else if (c == ']' || c == '}') {
            if (out.open.empty() || out.open.back().sign != (c == ']' ? '[' : '{')) {
                out.stray = i;
                return out;
            }
            out.open.pop_back();
        }
    }
    return out;
}

struct Spot {
    std::string_view text;
    Problem problem;

    void at(std::size_t byte) {
        const auto before = text.substr(0, byte);
        const auto line_start = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
        problem.where.line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n'));
        problem.where.column = column_of(text.substr(line_start), byte - line_start);
    }
    void say(std::string what, std::string suggestion = {}) {
        problem.what = std::move(what);
        problem.suggestion = std::move(suggestion);
    }
};

bool is_plain_value(std::string_view value) {
    return value == "true" || value == "false" ||
           value.find_first_not_of("0123456789.+-_eE") == std::string_view::npos;
}

// `thickness = 5 1/2 in`: a size or name without quotes. `byte` lies in the value or just behind it.
bool say_unquoted(Spot& spot, std::string_view line, std::size_t byte, std::size_t line_start) {
    const auto equals = line.substr(0, std::min(byte + 1, line.size())).rfind('=');
    if (equals == std::string_view::npos) return false;
    const auto from = line.find_first_not_of(" \t", equals + 1);
    if (from == std::string_view::npos) return false;
    const auto value = trimmed(line.substr(from, line.find_first_of(",}]#", from) - from));
    const auto first = value.empty() ? '\0' : value.front();
    const bool starts = (first >= '0' && first <= '9') || (first >= 'a' && first <= 'z') ||
                        (first >= 'A' && first <= 'Z') || first == '-' || first == '.';
    if (!starts || is_plain_value(value) || value.size() > 60 || value.find('=') != std::string_view::npos)
        return false;
    const auto key_end = line.find_last_not_of(" \t", equals - 1);
    if (equals == 0 || key_end == std::string_view::npos) return false;
    const auto key_start = line.find_last_of(" \t{,", key_end);
    const auto key = line.substr(key_start == std::string_view::npos ? 0 : key_start + 1,
                                 key_end - (key_start == std::string_view::npos ? 0 : key_start + 1) + 1);
    std::string quoted(value);
    if (quoted.back() == '"') quoted = quoted.substr(0, quoted.size() - 1) + " in";
    spot.at(line_start + from);
    if (value == "True" || value == "False" || value == "TRUE" || value == "FALSE" || value == "yes" ||
        value == "no") {
        const bool yes = value == "True" || value == "TRUE" || value == "yes";
        spot.say(fmt::format("{} = {}: it is written true or false", key, value),
                 fmt::format("{} = {}", key, yes ? "true" : "false"));
    } else {
        spot.say(fmt::format("{} = {}: names and sizes stand in quotes", key, value),
                 fmt::format("{} = \"{}\"", key, quoted));
    }
    return true;
}

bool say_quote(Spot& spot, const Scan& found) {
    if (!found.open_quote) return false;
    const auto byte = *found.open_quote;
    spot.at(byte);
    spot.say("this quote is not closed on its line",
             fmt::format("a second {} at the end of the text", spot.text[byte]));
    return true;
}

bool say_bracket(Spot& spot, const Scan& found) {
    if (found.stray && !found.open.empty()) {
        // The bracket that stays open is the slip, not the one that closes something else.
        const Mark& mark = found.open.back();
        spot.at(mark.byte);
        spot.say(fmt::format("this {} is never closed", mark.sign),
                 fmt::format("a {} behind its last entry", mark.sign == '[' ? ']' : '}'));
        return true;
    }
    if (found.stray) {
        const char sign = spot.text[*found.stray];
        spot.at(*found.stray);
        spot.say(fmt::format("this {} closes nothing", sign), "leave it out");
        return true;
    }
    if (found.open.empty()) return false;
    const Mark& mark = found.open.back();
    spot.at(mark.byte);
    spot.say(fmt::format("this {} is never closed", mark.sign),
             fmt::format("a {} behind its last entry", mark.sign == '[' ? ']' : '}'));
    return true;
}

bool holds(const Problem& problem, std::string_view words) {
    return problem.what.find(words) != std::string::npos;
}

// "... cannot redefine existing table 'assembly.w2'"
bool say_twice(Spot& spot, std::string_view line, std::size_t byte, std::size_t line_start) {
    if (!holds(spot.problem, "cannot redefine")) return false;
    const auto first = spot.problem.what.find('\'');
    const auto last = spot.problem.what.find('\'', first + 1);
    if (first == std::string::npos || last == std::string::npos) return false;
    const std::string name = spot.problem.what.substr(first + 1, last - first - 1);
    const std::string key = name.substr(name.rfind('.') == std::string::npos ? 0 : name.rfind('.') + 1);
    const bool heading = trimmed(line).starts_with("[");
    const auto found = heading ? line.find('[') : line.rfind(key, byte);
    spot.at(line_start + (found == std::string_view::npos ? byte : found));
    spot.problem.code = Code::duplicate;
    if (heading)
        spot.say(fmt::format("[{}] stands twice in this file", name),
                 "another name, or one table with all of its keys");
    else
        spot.say(fmt::format("{} stands twice in the same table", key), "leave one out");
    return true;
}

void say_rest(Spot& spot, std::string_view line, std::size_t byte) {
    const Problem& p = spot.problem;
    const auto behind = trimmed(line.substr(std::min(byte, line.size())));
    if (holds(p, "utf-8")) {
        spot.say("this is not UTF-8 text", "save the file as UTF-8 in your editor");
    } else if (holds(p, "expected comma or closing")) {
        spot.say("a comma is missing before this",
                 "a comma behind each layer, and between the keys of one layer");
    } else if (holds(p, "expected '='")) {
        spot.say("after a key comes =", "name = \"Heron Ridge\"");
    } else if (holds(p, "key-value pair: encountered end") || holds(p, "expected value, saw") ||
               (holds(p, "could not determine value type") && behind.empty())) {
        spot.say("here a value is missing", "name = \"Heron Ridge\"");
    } else if (holds(p, "could not determine value type") &&
               line.find("\xe2\x80\x9c") != std::string_view::npos) {
        spot.say("curly quotes do not count", "straight quotes: \"");
    } else if (holds(p, "expected a comment or whitespace")) {
        spot.say("nothing more may follow on this line", "each key on its own line");
    } else if (holds(p, "table header")) {
        spot.say("this heading is not complete",
                 "[assembly.w2], with quotes round a name of several words: [face.\"south gable\"]");
    } else if (holds(p, "escape sequence")) {
        spot.say("a backslash in a text starts a special sign", "/ or \\\\ instead of \\");
    } else {
        const auto colon = p.what.find(": ");
        spot.say("cannot read this: " +
                 (p.what.starts_with("Error while parsing") && colon != std::string::npos
                      ? p.what.substr(colon + 2)
                      : p.what));
    }
}

}  // namespace

Problem in_our_words(const Problem& parsers, std::string_view text) {
    Spot spot{text, parsers};
    const auto line = line_at(text, parsers.where.line);
    const auto line_start = static_cast<std::size_t>(line.data() ? line.data() - text.data() : 0);
    const auto byte = byte_of(line, parsers.where.column);
    if (say_twice(spot, line, byte, line_start) || holds(parsers, "utf-8")) {
        if (holds(parsers, "utf-8")) say_rest(spot, line, byte);
        return spot.problem;
    }
    if (byte > 0 && byte < line.size() && line[byte] == '"' && line[byte - 1] == '"') {
        spot.at(line_start + byte - 1);
        spot.say("an inch mark ends the text here", "in for inches: \"5 1/2 in\"");
        return spot.problem;
    }
    // An inch mark without quotes before it is a missing quote as well: the value tells more.
    if (say_unquoted(spot, line, byte, line_start)) return spot.problem;
    const auto found = scan(text);
    if (say_quote(spot, found) || say_bracket(spot, found)) return spot.problem;
    say_rest(spot, line, byte);
    return spot.problem;
}

}  // namespace warmside::project
