// The page that `warmside open` serves, and the events that fill it (docs/live.md).
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "answer/answer.h"
#include "assembly/assembly.h"

namespace warmside::report {

/// The report with a script that listens to `events` beside it. Without an answer the figures are empty.
[[nodiscard]] std::string live_page(const assembly::House& house, const answer::Answer* answer = nullptr);
/// A page for a house file that does not read yet: the problems, and the same script.
[[nodiscard]] std::string live_page(std::span<const Problem> problems);

/// Server-sent events of one generation, each text complete with its blank line; an empty text means: send
/// nothing. `column` may be called from several threads at once; the others by one thread at a time.
class Feed {
public:
    /// The house must outlive the feed. `columns` is moisture::Options::carpet_columns; `rung` not empty:
    /// only that one is asked for.
    Feed(const assembly::House& house, std::uint64_t generation, int columns, const std::string& rung = {});

    [[nodiscard]] std::string generation() const;
    /// Collects; the text comes with the last rung's figures, all at once.
    [[nodiscard]] std::string steady(const answer::RungAnswer& rung);
    [[nodiscard]] std::string column(const std::string& rung, int column,
                                     std::span<const float> relative_humidity) const;
    /// Cost cells of a rung, after the steady figures.
    [[nodiscard]] std::string priced(const answer::RungAnswer& rung);
    [[nodiscard]] std::string finished(const answer::RungAnswer& rung);
    /// The whole answer: the page becomes the report.
    [[nodiscard]] std::string finished(const answer::Answer& answer) const;
    /// The figures that have come.
    [[nodiscard]] const answer::Answer& known() const { return known_; }

private:
    /// Takes what is known of a rung; an event with the cells that `fill` makes of it.
    template <class Fill>
    std::string take(const char* name, const answer::RungAnswer& rung, const Fill& fill);

    const assembly::House& house_;
    std::uint64_t generation_;
    int columns_;
    answer::Answer known_;
    std::vector<bool> steady_;  ///< by rung, in the order of known_
};

/// The event of a house file that does not read, or of a solver that gave up. The old figures stay on the
/// page, the problems are shown above them.
[[nodiscard]] std::string problem_event(std::uint64_t generation, std::span<const Problem> problems);

/// An answer with names, titles and thicknesses only: what a page can show before anything is computed.
[[nodiscard]] answer::Answer blank(const assembly::House& house, const std::string& rung = {});

}  // namespace warmside::report
