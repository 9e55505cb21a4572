// Building blocks of the terminal texts.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "report/terminal.h"

namespace warmside::report {

enum class Ansi { bold, quiet, accent };
[[nodiscard]] std::string paint(std::string text, Ansi kind, const Style& style);
[[nodiscard]] int width_of(const Style& style);  ///< at least 80

/// Columns padded to their widest cell, two spaces between; `right` lists the columns set flush right. A last
/// column that does not fit the screen is wrapped.
class Table {
public:
    explicit Table(std::vector<std::size_t> right = {}) : right_(std::move(right)) {}
    void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    /// A first line of words that stand over several columns each: (columns, words).
    void over(std::vector<std::pair<std::size_t, std::string>> spans) { spans_ = std::move(spans); }
    /// `indent` spaces before each row; the first `heads` rows are quiet.
    [[nodiscard]] std::string text(std::size_t indent, std::size_t heads, const Style& style) const;

private:
    std::vector<std::size_t> right_;
    std::vector<std::vector<std::string>> rows_;
    std::vector<std::pair<std::size_t, std::string>> spans_;
};

/// `label` in a column of its own, the text wrapped beside it.
[[nodiscard]] std::string entry(std::string_view label, std::string_view text, const Style& style,
                                std::size_t indent = 4, std::size_t label_width = 9, bool accent = false);

}  // namespace warmside::report
