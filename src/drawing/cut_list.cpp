#include "drawing/cut_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <tuple>

#include "drawing/axes.h"
#include "drawing/type.h"

namespace warmside::drawing {
namespace {

constexpr double head_size = 9.5, row_size = 9.5, row_height = 13.0;
// Left edges of the columns, and the right edges of those that end in figures.
constexpr double role_x = 0.0, section_x = 92.0, length_end = 252.0, count_end = 284.0, marks_x = 294.0;
constexpr double section_room = 112.0;

/// "S12" as "S" and 12; a mark without a number has -1.
std::pair<std::string, long> split(const std::string& mark) {
    std::size_t at = mark.size();
    while (at > 0 && std::isdigit(static_cast<unsigned char>(mark[at - 1])) != 0) --at;
    if (at == mark.size() || mark.size() - at > 9) return {mark, -1};
    return {mark.substr(0, at), std::stol(mark.substr(at))};
}

bool natural(const std::string& a, const std::string& b) {
    return split(a) < split(b);
}

Text cell(double x, double y, std::string text, Anchor anchor = Anchor::start, Font font = Font::condensed,
          Ink ink = Ink::ink) {
    return {
        .at = {x, y}, .text = std::move(text), .anchor = anchor, .font = font, .size = row_size, .ink = ink};
}

/// Words of `text` in lines no wider than `room`.
std::vector<std::string> lines_of(const std::string& text, double room) {
    std::vector<std::string> lines;
    std::string line;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t end = std::min(text.find(' ', from), text.size());
        const std::string word = text.substr(from, end - from);
        const std::string longer = line.empty() ? word : line + " " + word;
        if (!line.empty() && width_of(longer, Font::condensed, row_size) > room) {
            lines.push_back(line);
            line = word;
        } else {
            line = longer;
        }
        from = end + 1;
    }
    if (!line.empty() || lines.empty()) lines.push_back(line);
    return lines;
}

}  // namespace

std::vector<CutRow> cut_list(std::span<const framing::Member* const> members) {
    std::vector<CutRow> rows;
    for (const framing::Member* member : members) {
        auto at = std::find_if(rows.begin(), rows.end(), [&](const CutRow& row) {
            return row.role == member->role && row.section == member->section.name &&
                   row.lumber == member->lumber && row.length == member->length;
        });
        if (at == rows.end()) {
            rows.push_back({.role = member->role,
                            .section = member->section.name,
                            .lumber = member->lumber,
                            .length = member->length});
            at = rows.end() - 1;
        }
        ++at->count;
        if (!member->mark.empty()) at->marks.push_back(member->mark);
    }
    for (CutRow& row : rows) std::sort(row.marks.begin(), row.marks.end(), natural);
    std::stable_sort(rows.begin(), rows.end(), [](const CutRow& a, const CutRow& b) {
        return std::tuple(static_cast<int>(a.role), -a.length.count()) <
               std::tuple(static_cast<int>(b.role), -b.length.count());
    });
    return rows;
}

std::string marks_text(std::span<const std::string> marks) {
    std::string out;
    for (std::size_t i = 0; i < marks.size();) {
        const auto [letters, first] = split(marks[i]);
        std::size_t end = i + 1;
        for (long last = first; first >= 0 && end < marks.size(); ++end, ++last) {
            if (split(marks[end]) != std::pair(letters, last + 1)) break;
        }
        if (!out.empty()) out += ", ";
        out += marks[i];
        if (end - i == 2) out += ", " + marks[i + 1];
        if (end - i > 2) out += "-" + marks[end - 1];
        i = end;
    }
    return out;
}

std::string common_lumber(std::span<const CutRow> rows) {
    std::string common;
    bool any = false;
    for (const CutRow& row : rows) {
        if (row.lumber.empty()) continue;
        if (!any) {
            common = row.lumber;
            any = true;
            continue;
        }
        // Words that both begin with.
        std::size_t same = 0;
        const std::string a = common + " ", b = row.lumber + " ";
        for (std::size_t i = 0; i < std::min(a.size(), b.size()) && a[i] == b[i]; ++i) {
            if (a[i] == ' ') same = i;
        }
        common.resize(same);
    }
    return common;
}

double draw_cut_list(std::vector<Item>& items, std::span<const CutRow> rows, double x, double y,
                     bool inch_pound_first) {
    Group group{.title = "cut list", .part = "cut list"};
    auto& out = group.items;
    double line = y + 10.0;
    const auto head = [&](double at, const char* word, Anchor anchor) {
        out.emplace_back(Text{.at = {x + at, line},
                              .text = word,
                              .anchor = anchor,
                              .font = Font::condensed,
                              .size = head_size,
                              .ink = Ink::quiet});
    };
    head(role_x, "piece", Anchor::start);
    head(section_x, "section", Anchor::start);
    head(length_end, "cut length", Anchor::end);
    head(count_end, "no.", Anchor::end);
    head(marks_x, "marks", Anchor::start);
    out.emplace_back(
        Line{{x, line + 4.0}, {x + cut_list_width, line + 4.0}, {.ink = Ink::quiet, .width = 0.6}});
    int pieces = 0;
    const std::string lumber = common_lumber(rows);
    for (const CutRow& row : rows) {
        line += row_height;
        // Section and grade; the species, which all have, stands once below.
        std::string section = row.section;
        if (row.lumber.size() > lumber.size())
            section += " " + row.lumber.substr(lumber.empty() ? 0 : lumber.size() + 1);
        out.emplace_back(cell(x + role_x, line, framing::name_of(row.role)));
        out.emplace_back(cell(x + section_x, line, fitted(section, Font::condensed, row_size, section_room)));
        out.emplace_back(
            cell(x + length_end, line, length_words(row.length.metres(), inch_pound_first), Anchor::end));
        out.emplace_back(cell(x + count_end, line, fmt::format("{}", row.count), Anchor::end));
        pieces += row.count;
        const auto lines = lines_of(marks_text(row.marks), cut_list_width - marks_x);
        for (std::size_t i = 0; i < lines.size(); ++i) {
            if (i > 0) line += row_height;
            out.emplace_back(cell(x + marks_x, line, lines[i], Anchor::start, Font::condensed, Ink::quiet));
        }
    }
    line += row_height + 3.0;
    out.emplace_back(
        Line{{x, line - 11.0}, {x + cut_list_width, line - 11.0}, {.ink = Ink::hairline, .width = 0.6}});
    out.emplace_back(cell(x + role_x, line, "pieces", Anchor::start, Font::condensed, Ink::quiet));
    out.emplace_back(
        cell(x + count_end, line, fmt::format("{}", pieces), Anchor::end, Font::condensed, Ink::quiet));
    if (!lumber.empty())
        out.emplace_back(cell(x + marks_x, line,
                              fitted(lumber, Font::condensed, row_size, cut_list_width - marks_x),
                              Anchor::start, Font::condensed, Ink::quiet));
    add(items, std::move(group));
    return line + 4.0 - y;
}

}  // namespace warmside::drawing
