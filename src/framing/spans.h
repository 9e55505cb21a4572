// Span tables that a layout and a check share: headers, studs, joists, rafters. Data:
// data/framing/spans/*.toml.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"
#include "units/quantity.h"

namespace warmside::framing {

/// What a header of an outer bearing wall carries.
enum class Carries { roof, roof_and_floor };

struct HeaderChoice {
    int plies = 2;
    std::string member;     ///< "2x10"
    int jacks = 1;          ///< each side
    double span = 0.0;      ///< m, the longest it may span there
    bool unbraced = false;  ///< 0.70 taken: cripples stand on it
    Origin origin;
};

struct HeaderRow {
    Carries carries = Carries::roof;
    double ground_snow = 0.0;  ///< Pa
    int plies = 2;
    std::string member;         ///< "2x10"
    std::vector<double> width;  ///< m, of the building across the ridge, rising
    std::vector<double> span;   ///< m, for each width
    std::vector<int> jacks;     ///< each side, for each width
    Origin origin;
};
struct KingRows {
    std::vector<double> span;      ///< m, rising
    std::vector<int> usual, calm;  ///< each side; calm: to 115 mph in exposure B
    Origin origin;
};
struct HeaderTable {
    std::vector<HeaderRow> headers;  ///< fewest plies first, then the shallowest
    KingRows kings;
};
/// Reads data/framing/spans/headers.toml. Problem: a bad value, a row with unequal numbers of columns.
[[nodiscard]] Result<HeaderTable> read_headers(std::string_view file_name, std::string_view text);

/// The smallest header of IRC Table R602.7(1) for a clear span: fewest plies first, then the shallowest.
///
/// span, width   m; width of the building across the ridge
/// ground_snow   Pa; the next heavier column of the table holds
/// braced        the header's top is held by the plates; else 0.70 for 2x8 and deeper
/// most_plies, most_height   what there is room for; m
/// Spans between two widths are interpolated (the table's footnote), the larger number of jacks holds; a
/// building narrower than the first column takes that column.
/// Nothing outside the table (snow above 70 psf, wider than its columns, longer than its rows): an engineer
/// decides. The rows are for No. 2 of four species groups and for floors that bear at mid width.
[[nodiscard]] std::optional<HeaderChoice> header_for(double span, double width, double ground_snow,
                                                     Carries carries, bool braced, int most_plies = 4,
                                                     double most_height = 1.0);

/// The same table for one header: what it may span. Nothing where the table has no such row.
[[nodiscard]] std::optional<HeaderChoice> header_row(int plies, std::string_view member, double width,
                                                     double ground_snow, Carries carries, bool braced);

/// King studs each side of an opening, IRC Table R602.7.5; the next longer row between rows. Nothing above 18
/// ft. calm: at most 115 mph in exposure B, and jacks rather than hangers.
[[nodiscard]] std::optional<int> kings_for(double span, bool calm);

/// Dressed width of 2x lumber by its name, "2x10"; nothing for another name. PS 20, dry.
[[nodiscard]] std::optional<units::Exact> depth_of_two_by(std::string_view member);

}  // namespace warmside::framing
