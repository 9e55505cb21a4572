// Tables for spreadsheets and scripts: comma-separated values after RFC 4180.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "answer/answer.h"
#include "moisture/simulate.h"

namespace warmside::report {

/// Rows of cells; lines end with CR LF, cells with a comma, quote or line end are quoted.
class Csv {
public:
    Csv& cell(std::string_view text);
    /// With `decimals`; an empty cell for what is not finite.
    Csv& cell(double value, int decimals);
    void end_row();
    [[nodiscard]] std::string take() { return std::move(text_); }

private:
    std::string text_;
    bool first_ = true;
};

/// How a table of a run is cut.
struct Interval {
    std::size_t samples = 1;  ///< of the history in one row; each row is their mean
};

/// A place and what it is called in the table.
struct NamedProbe {
    std::string name;
    const moisture::Probe* probe = nullptr;
};

/// Date and time of an hour from the start of a run as ISO 8601. A typical year has no number: the run begins
/// in 2001, and no year has a 29 February.
[[nodiscard]] std::string date_of(int start_hour, int hours);

/// One row an interval: end of the interval as hours since the start and as date, then temperature (degC),
/// relative humidity (%), vapour pressure (Pa) and, where the place holds water, water content (kg/m3) of
/// each place. Vapour pressure is the mean of the products hour by hour. The last row may be shorter.
[[nodiscard]] std::string places_csv(const moisture::History& history, const std::vector<NamedProbe>& places,
                                     const Interval& interval);

/// The same rows with mean and wettest 10 mm of each layer, kg/m3.
[[nodiscard]] std::string layers_csv(const moisture::History& history, const assembly::Assembly& assembly,
                                     const Interval& interval);

/// One row a rung: verdict and the finding that decides it.
[[nodiscard]] std::string verdicts_csv(const answer::Answer& answer);

}  // namespace warmside::report
