// Lines of comma-separated text with their places.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace warmside::climate {

struct CsvField {
    std::string_view text;  ///< without quotes and blanks around it
    int column = 0;         ///< from 1, of its first character
};

struct CsvLine {
    int number = 0;  ///< from 1
    std::vector<CsvField> fields;
};

/// Walks over the lines of a text. Takes LF and CRLF, skips a byte order mark and empty lines at the end.
class CsvReader {
public:
    explicit CsvReader(std::string_view text);
    /// Reads the next line into `line`; false at the end. An empty line has one empty field.
    bool next(CsvLine& line);

private:
    std::string_view rest_;
    int number_ = 0;
};

}  // namespace warmside::climate
