// What the weather readers share: the readings as they stand in the file, and the way from them to a Year.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "climate/csv.h"
#include "climate/year.h"

namespace warmside::climate {

/// One column of a file, in the file's unit.
struct Column {
    std::string name;           ///< as the file spells it, empty when the file has none
    std::vector<double> value;  ///< one a line, NaN = missing
    int field = -1;             ///< its place in a line
    [[nodiscard]] bool there() const { return field >= 0; }
};

/// How readings become means or middles of hours: hour i = sum of weight[k] x line (i n + first + k).
struct Stencil {
    int lines_per_hour = 1;
    int first = 0;
    std::vector<double> weight{1.0};
};

/// A file's lines after the header, in calendar order, complete (no hour missing, none twice).
struct Readings {
    Year year;                                         ///< name, place and origin are set; notes so far
    std::vector<int> line;                             ///< number in the file of each line
    Column temperature, dew_point, relative_humidity;  // degC, degC, %
    Column pressure, wind_speed, wind_direction;       // mbar, m/s, degrees
    Column global, direct, diffuse, clear_global;      // W/m2
    Column total_cloud, opaque_cloud;                  // tenths
    Column rain;                                       // mm in the hour
    Stencil instant, radiation;
    int lines_per_hour = 1;
};

/// What a reader expects of one column.
struct Expected {
    Column Readings::* column;
    std::string_view name;  ///< of the header, without its unit
    double least, most;     ///< possible values, in the file's unit
    bool required;
};

/// Collects problems with places; keeps the first twenty errors.
class Complaints {
public:
    Complaints(std::string_view file, Problems& warnings) : file_(file), warnings_(warnings) {}
    void error(Code code, std::string what, int line, int column = 0);
    void warn(std::string what);
    [[nodiscard]] bool any() const { return count_ > 0; }
    [[nodiscard]] bool full() const { return count_ >= 20; }
    /// The first error as the Problem to return; the others go to the caller's list.
    [[nodiscard]] Problem take();
    [[nodiscard]] const std::string& file() const { return file_; }

private:
    std::string file_;
    Problems& warnings_;
    Problems errors_;
    int count_ = 0;
};

/// Text to a finite number. Nothing else may stand in the text.
[[nodiscard]] std::optional<double> to_number(std::string_view text);

/// Finds the columns in the header line; a required one that is missing is an error.
void find_columns(Readings& readings, const CsvLine& header, std::span<const Expected> expected,
                  Complaints& complaints);

/// Reads the numbers of one line into the columns. Empty text and -9900 are missing values (NaN).
void read_values(Readings& readings, const CsvLine& line, std::span<const Expected> expected,
                 Complaints& complaints);

/// Fills gaps, changes units, moves instants to mid-hours, constructs what is missing, checks the result.
[[nodiscard]] Result<Year> to_year(Readings readings,
                                   const std::optional<MonthlyPrecipitation>& precipitation,
                                   Complaints& complaints);

// The two formats. `csv` stands at the first line.
[[nodiscard]] Result<Readings> read_tmy3(CsvReader& csv, Complaints& complaints);
[[nodiscard]] Result<Readings> read_nsrdb(CsvReader& csv, Complaints& complaints);

}  // namespace warmside::climate
