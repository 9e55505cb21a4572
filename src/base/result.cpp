#include "base/result.h"

#include <algorithm>
#include <fmt/format.h>

namespace warmside {

const char* name_of(Code code) {
    switch (code) {
        case Code::syntax: return "syntax";
        case Code::unknown_key: return "unknown_key";
        case Code::missing: return "missing";
        case Code::wrong_type: return "wrong_type";
        case Code::wrong_unit: return "wrong_unit";
        case Code::out_of_range: return "out_of_range";
        case Code::unknown_name: return "unknown_name";
        case Code::duplicate: return "duplicate";
        case Code::conflict: return "conflict";
        case Code::incomplete: return "incomplete";
        case Code::not_converged: return "not_converged";
        case Code::stopped: return "stopped";
        case Code::unsupported: return "unsupported";
        case Code::input_output: return "input_output";
    }
    return "unknown";
}

const char* name_of(Severity severity) {
    switch (severity) {
        case Severity::note: return "note";
        case Severity::warning: return "warning";
        case Severity::error: return "error";
    }
    return "error";
}

bool usable(const Problems& problems) {
    return std::none_of(problems.begin(), problems.end(),
                        [](const Problem& p) { return p.severity == Severity::error; });
}

namespace {

std::string_view line_of(std::string_view text, int line) {
    for (int skipped = 1; skipped < line; ++skipped) {
        const auto end = text.find('\n');
        if (end == std::string_view::npos) return {};
        text.remove_prefix(end + 1);
    }
    auto found = text.substr(0, text.find('\n'));
    if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
    return found;
}

// Tabs stay tabs so that the caret stands under its character at any tab width; one blank a UTF-8
// code point, not a byte.
std::string indent_of(std::string_view line, int column) {
    std::string blanks;
    int seen = 1;
    for (const char c : line) {
        if ((static_cast<unsigned char>(c) & 0xC0U) == 0x80U) continue;
        if (seen++ >= column) break;
        blanks += c == '\t' ? '\t' : ' ';
    }
    return blanks;
}

}  // namespace

std::string render(const Problem& problem, std::string_view text) {
    std::string out;
    const Place& at = problem.where;
    if (!at.file.empty()) out += at.file + ":";
    if (at.line > 0) out += fmt::format("{}:{}:", at.line, std::max(at.column, 1));
    if (!out.empty()) out += ' ';
    out += fmt::format("{}: {}\n", name_of(problem.severity), problem.what);
    const auto line = at.line > 0 ? line_of(text, at.line) : std::string_view{};
    if (!line.empty()) {
        const auto number = fmt::format("{:>4}", at.line);
        out += fmt::format("{} | {}\n{} | {}^\n", number, line, std::string(number.size(), ' '),
                           indent_of(line, at.column));
    }
    if (!problem.expected.empty()) out += fmt::format("     expected: {}\n", problem.expected);
    if (!problem.suggestion.empty()) out += fmt::format("     try: {}\n", problem.suggestion);
    return out;
}

}  // namespace warmside
