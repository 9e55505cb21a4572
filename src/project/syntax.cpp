#include "project/syntax.h"

#include <algorithm>
#include <fmt/format.h>
#include <optional>

#include "project/syntax_words.h"
#include "units/reader.h"

namespace warmside::project {

namespace {

constexpr int most_rounds = 20;
constexpr int most_dots = 100;

struct Piece {
    std::size_t begin = 0, end = 0;  // bytes
    int line = 1;                    // of its first line
    std::string heading;             // "assembly.w2", empty before the first heading
};

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

// `[assembly.w2]` or `[assembly."w 2"]  # comment` to "assembly.w2"; nothing for a line that is no heading.
// Rows of a list look alike but hold commas or start with a quote.
std::string heading_of(std::string_view line) {
    auto text = trimmed(line);
    if (text.size() < 2 || text.front() != '[' || text[1] == '"' || text[1] == '\'' || text.size() > 200)
        return {};
    const auto end = text.find(']');
    const auto name = end == std::string_view::npos ? text.substr(1) : text.substr(1, end - 1);
    if (name.empty() || name.find_first_of(",{}[") != std::string_view::npos) return {};
    if (end != std::string_view::npos) {
        const auto rest = trimmed(text.substr(end + 1));
        if (!rest.empty() && rest.front() != '#' && rest.front() != ']') return {};
    }
    std::string out;
    for (const char c : name) {
        const bool quote = c == '"' || c == '\'';
        const bool loose_blank = c == ' ' && (out.empty() || out.back() == '.');
        if (!quote && !loose_blank) out += c;
    }
    return out;
}

std::vector<Piece> pieces_of(std::string_view text) {
    std::vector<Piece> out{Piece{}};
    int line = 1;
    for (std::size_t at = 0; at < text.size(); ++line) {
        const auto end = std::min(text.find('\n', at), text.size());
        auto heading = heading_of(text.substr(at, end - at));
        if (!heading.empty()) {
            out.back().end = at;
            out.push_back({.begin = at, .end = 0, .line = line, .heading = std::move(heading)});
        }
        at = end + 1;
    }
    out.back().end = text.size();
    return out;
}

// Blanks all but the ends of lines, so that places elsewhere stay.
void blank(std::string& text, const Piece& piece) {
    for (std::size_t i = piece.begin; i < piece.end; ++i) {
        if (text[i] != '\n' && text[i] != '\r') text[i] = ' ';
    }
}

// A heading that does not parse itself names nothing for sure: its whole kind counts as lost.
void lose(Tables& out, std::string& text, const Piece& piece, int line) {
    out.lost.insert(line == piece.line ? piece.heading.substr(0, piece.heading.find('.')) : piece.heading);
    blank(text, piece);
}

// Pieces that do not parse by themselves.
void drop_faulty(Tables& out, const std::string& file, std::string_view text, std::string& rest,
                 const std::vector<Piece>& pieces) {
    for (const Piece& piece : pieces) {
        const auto part = text.substr(piece.begin, piece.end - piece.begin);
        auto parsed = units::parse_toml(file, part);
        if (parsed) continue;
        Problem problem = in_our_words(parsed.error(), part);
        problem.where.line += piece.line - 1;
        const int line = problem.where.line;
        out.problems.push_back(std::move(problem));
        lose(out, rest, piece, line);
    }
}

const Piece* piece_at(const std::vector<Piece>& pieces, int line) {
    const Piece* found = nullptr;
    for (const Piece& piece : pieces) {
        if (piece.line <= line) found = &piece;
    }
    return found;
}

// The parser makes a table within a table for each dot of a key and takes them down by recursion, so that a
// line of a million dots would end the program. Dots that touch are one: no key has them. Strings and
// comments count as well, because what is a string to a sound text may be a key to a faulty one.
std::optional<Problem> too_many_dots(const std::string& file, std::string_view text) {
    int line = 1, dots = 0;
    char last = 0;
    for (const char c : text) {
        if (c == '\n') {
            ++line;
            dots = 0;
        } else if (c == '.' && last != '.' && ++dots > most_dots) {
            return Problem{.code = Code::out_of_range,
                           .what = fmt::format("more than {} dots on one line", most_dots),
                           .suggestion = "several shorter lines",
                           .where = {file, line, 1}};
        }
        last = c;
    }
    return std::nullopt;
}

}  // namespace

Tables parse_tables(const std::string& file, std::string_view text) {
    Tables out;
    if (auto problem = too_many_dots(file, text)) {
        out.problems.push_back(std::move(*problem));
        out.lost.insert("*");
        return out;
    }
    auto whole = units::parse_toml(file, text);
    if (whole) {
        out.root = std::move(*whole);
        return out;
    }
    const auto pieces = pieces_of(text);
    std::string rest(text);
    drop_faulty(out, file, text, rest, pieces);
    // What is left fails only where two pieces collide: the same heading twice.
    for (int round = 0; round < most_rounds; ++round) {
        auto again = units::parse_toml(file, rest);
        if (again) {
            out.root = std::move(*again);
            return out;
        }
        out.problems.push_back(in_our_words(again.error(), rest));
        const auto* piece = piece_at(pieces, again.error().where.line);
        if (!piece) break;
        lose(out, rest, *piece, 0);
    }
    out.lost.insert("*");
    return out;
}

}  // namespace warmside::project
