#include "climate/csv.h"

namespace warmside::climate {

namespace {

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
    return text;
}

// The end of the field that starts at `begin`: the next comma outside quotes.
std::size_t end_of_field(std::string_view line, std::size_t begin) {
    bool quoted = false;
    for (std::size_t i = begin; i < line.size(); ++i) {
        if (line[i] == '"') quoted = !quoted;
        if (line[i] == ',' && !quoted) return i;
    }
    return line.size();
}

}  // namespace

CsvReader::CsvReader(std::string_view text) : rest_(text) {
    if (rest_.starts_with("\xEF\xBB\xBF")) rest_.remove_prefix(3);
    while (!rest_.empty() && (rest_.back() == '\n' || rest_.back() == '\r')) rest_.remove_suffix(1);
}

bool CsvReader::next(CsvLine& line) {
    if (rest_.empty()) return false;
    const auto end = rest_.find('\n');
    auto text = rest_.substr(0, end);
    rest_ = end == std::string_view::npos ? std::string_view{} : rest_.substr(end + 1);
    if (!text.empty() && text.back() == '\r') text.remove_suffix(1);

    line.number = ++number_;
    line.fields.clear();
    for (std::size_t begin = 0;;) {
        const auto stop = end_of_field(text, begin);
        auto field = trimmed(text.substr(begin, stop - begin));
        if (field.size() >= 2 && field.front() == '"' && field.back() == '"') {
            field = trimmed(field.substr(1, field.size() - 2));
        }
        line.fields.push_back({field, static_cast<int>(begin) + 1});
        if (stop == text.size()) return true;
        begin = stop + 1;
    }
}

}  // namespace warmside::climate
