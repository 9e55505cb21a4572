// Rules of practice, reminders and other countries' figures: data/rules/practice.toml and reminders.toml.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::rules {

struct Comparison {
    std::string country, part, what;
    std::vector<double> degree_days;  ///< K d, upper ends of the bands but the last; empty: one figure
    std::vector<double> resistance;   ///< m2 K/W, least; or
    std::vector<double> u;            ///< W/(m2 K), most; or
    std::vector<double> air_change;   ///< 1/s at 50 Pa, most
    Origin origin;
};

/// Which figure of a comparison holds at so many degree days (K d below 18 degC).
[[nodiscard]] std::size_t band_of(const Comparison& comparison, double degree_days);

struct Practice {
    double share_inside = 0.0;
    Origin share_origin;
    std::vector<Comparison> comparisons;
};

struct Reminder {
    std::string subject, citation, words;
    std::vector<int> editions;       ///< empty: all
    std::vector<std::string> zones;  ///< column names; empty: all
    std::vector<std::string> about;  ///< words that must all hold
    Origin origin;
};

/// Every mistake with its place.
[[nodiscard]] Practice read_practice(std::string_view name, std::string_view text, Problems& problems);
[[nodiscard]] std::vector<Reminder> read_reminders(std::string_view name, std::string_view text,
                                                   Problems& problems);

/// The embedded files, parsed once; a slip in them ends the tests.
[[nodiscard]] const Practice& practice();
[[nodiscard]] const std::vector<Reminder>& reminder_list();

}  // namespace warmside::rules
