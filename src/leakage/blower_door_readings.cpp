#include "leakage/blower_door_readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/nearest.h"
#include "climate/csv.h"
#include "units/quantity.h"
#include "units/reader.h"

namespace warmside::leakage {

namespace {

constexpr std::size_t most_problems = 50, most_points = 1000, most_shown = 40;
constexpr units::Limits pressures{-500.0, 500.0}, flows{1e-6, 200.0}, baselines{-100.0, 100.0};

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

// Of a text that may be anything, for a message.
std::string shown(std::string_view text) {
    return text.size() <= most_shown ? std::string(text) : std::string(text.substr(0, most_shown)) + "...";
}

bool is_number(std::string_view text) {
    return units::parse(text, units::number).has_value();
}

enum class Column { pressure, flow };
struct Head {
    Column column = Column::pressure;
    std::string unit;
};

struct Key {
    std::string_view name;
    const units::Dimension* dimension = nullptr;
    units::Limits limits;
    std::optional<double> TestReadings::* value = nullptr;
};
// Wide enough for any house; they catch a slipped unit or decimal point.
const std::array keys{
    Key{"volume", &units::volume, {10.0, 1e6}, &TestReadings::volume},
    Key{"envelope area", &units::area, {10.0, 1e6}, &TestReadings::envelope_area},
    Key{"floor area", &units::area, {5.0, 1e6}, &TestReadings::floor_area},
    Key{"height", &units::length, {2.0, 100.0}, &TestReadings::height},
    Key{"indoor temperature", &units::temperature, {243.15, 323.15}, &TestReadings::indoor},
    Key{"outdoor temperature", &units::temperature, {213.15, 333.15}, &TestReadings::outdoor},
    Key{"barometric pressure", &units::pressure, {50e3, 110e3}, &TestReadings::barometric},
    Key{"wind", &units::speed, {0.0, 60.0}, &TestReadings::wind}};

class Reader {
public:
    Reader(std::string_view name, std::string_view text, Problems& problems)
        : name_(name), text_(text), problems_(problems) {
        out_.file = name;
    }

    std::optional<TestReadings> read() {
        climate::CsvReader lines(text_);
        climate::CsvLine line;
        while (errors_ < most_problems && lines.next(line)) {
            line_ = line.number;
            // A spreadsheet fills short lines with commas.
            while (line.fields.size() > 1 && line.fields.back().text.empty()) line.fields.pop_back();
            take(line);
        }
        finish_series();
        if (out_.series.empty() && errors_ == 0)
            complain(Code::missing, "no points: a section [depressurise] or [pressurise] is missing", {},
                     "write [depressurise], then pressure [Pa], flow [m3/h], then a line for each point");
        if (errors_ > 0) return std::nullopt;
        return std::move(out_);
    }

private:
    [[nodiscard]] Place place(std::string_view part) const {
        Place out{name_, line_, 1};
        if (part.data() < text_.data() || part.data() > text_.data() + text_.size()) return out;
        const auto at = static_cast<std::size_t>(part.data() - text_.data());
        const auto before = at == 0 ? std::string_view::npos : text_.rfind('\n', at - 1);
        out.column = static_cast<int>(before == std::string_view::npos ? at + 1 : at - before);
        return out;
    }
    void complain(Code code, std::string what, std::string_view part, std::string suggestion = {}) {
        ++errors_;
        problems_.push_back({.code = code,
                             .what = std::move(what),
                             .suggestion = std::move(suggestion),
                             .where = place(part)});
    }

    void take(const climate::CsvLine& line) {
        const std::string_view first = line.fields.front().text;
        if (first.starts_with('#') || (first.empty() && line.fields.size() == 1)) return;
        if (first.starts_with('[')) return section(line);
        if (first.find('=') != std::string_view::npos) return key(line);
        if (!series_open_)
            return complain(Code::syntax,
                            fmt::format("\"{}\" is neither key = value nor a section", shown(first)), first,
                            "readings stand below [depressurise] or [pressurise]");
        if (heads_.empty()) return heads(line);
        point(line);
    }

    void section(const climate::CsvLine& line) {
        finish_series();
        const std::string_view word = line.fields.front().text;
        const bool in = word == "[pressurise]" || word == "[pressurize]";
        const bool out = word == "[depressurise]" || word == "[depressurize]";
        if (!in && !out)
            complain(Code::unknown_name, fmt::format("there is no section {}", shown(word)), word,
                     "[depressurise] or [pressurise]");
        for (const TestSeries& other : out_.series) {
            if ((in || out) && other.depressurise == out)
                complain(Code::duplicate, fmt::format("{} stands there twice", word), word,
                         "put all its points in one");
        }
        series_open_ = true;
        heads_.clear();
        series_ = {.depressurise = !in, .where = place(word)};
    }

    void finish_series() {
        if (!series_open_) return;
        series_open_ = false;
        const std::size_t n = series_.points.size();
        const char* title = series_.depressurise ? "[depressurise]" : "[pressurise]";
        Problem few{.code = Code::incomplete, .where = series_.where};
        if (n == 0) {
            few.what = fmt::format("{} has no points", title);
            few.suggestion = "write pressure [Pa], flow [m3/h], then a line for each point";
        } else if (n == 2) {
            few.what = fmt::format("{} has two points: one is a single-point test, a fit needs three", title);
            few.suggestion = "five or more, 10 Pa apart or less, up to 50 Pa";
        } else if (n > 2 && same_pressure()) {
            few.what = fmt::format("{} has all its points at one pressure: no exponent follows", title);
        }
        // Points that were refused have said so.
        if (!few.what.empty() && (errors_ == 0 || n > 2)) {
            ++errors_;
            problems_.push_back(few);
        }
        out_.series.push_back(std::move(series_));
        series_ = {};
    }
    [[nodiscard]] bool same_pressure() const {
        const auto [low, high] = std::minmax_element(
            series_.points.begin(), series_.points.end(),
            [](const TestPoint& a, const TestPoint& b) { return a.pressure < b.pressure; });
        return high->pressure - low->pressure < 0.5;
    }

    void key(const climate::CsvLine& line) {
        const std::string_view first = line.fields.front().text;
        const auto equals = first.find('=');
        const std::string_view word = trimmed(first.substr(0, equals));
        const std::string_view value = trimmed(first.substr(equals + 1));
        if (word == "baseline before" || word == "baseline after") return baseline(line, word, value);
        if (std::find(seen_.begin(), seen_.end(), word) != seen_.end())
            return complain(Code::duplicate, fmt::format("{} stands there twice", shown(word)), word);
        seen_.emplace_back(word);
        if (word == "name" || word == "date") {
            // Commas in a name are its own.
            const std::string_view last = line.fields.back().text;
            if (!value.empty())
                (word == "name" ? out_.name : out_.date).assign(value.data(), last.data() + last.size());
            return;
        }
        const auto known =
            std::find_if(keys.begin(), keys.end(), [&](const Key& each) { return each.name == word; });
        if (known == keys.end()) {
            std::vector<std::string> words{"name", "date", "baseline before", "baseline after"};
            for (const Key& each : keys) words.emplace_back(each.name);
            return complain(Code::unknown_key, fmt::format("there is no key \"{}\"", shown(word)), word,
                            nearest(word, words));
        }
        if (line.fields.size() > 1)
            return complain(Code::syntax, fmt::format("{} has one value; a comma starts another", word),
                            line.fields[1].text, "write the decimal point as a point");
        if (value.empty()) return complain(Code::missing, fmt::format("{} has no value", word), first);
        if (const auto read = quantity(word, value, {}, *known->dimension, known->limits))
            out_.*known->value = *read;
    }

    void baseline(const climate::CsvLine& line, std::string_view word, std::string_view first) {
        if (!series_open_)
            return complain(Code::syntax, fmt::format("{} stands above all sections", word), word,
                            "each section has its own: put it below [depressurise] or [pressurise]");
        auto& into = word == "baseline before" ? series_.before : series_.after;
        if (!into.empty()) return complain(Code::duplicate, fmt::format("{} stands there twice", word), word);
        std::vector<std::string_view> values{first};
        for (std::size_t i = 1; i < line.fields.size(); ++i) values.push_back(line.fields[i].text);
        if (values.size() > most_points)
            return complain(Code::out_of_range, fmt::format("{} has over {} values", word, most_points),
                            word);
        // The last one's unit holds for those that have none.
        const std::string_view last = values.back();
        const auto letter =
            std::find_if(last.begin(), last.end(), [](char c) { return (c | 32) >= 'a' && (c | 32) <= 'z'; });
        const std::string unit(letter, last.end());
        for (const std::string_view value : values) {
            if (const auto read =
                    quantity(word, value, is_number(value) ? unit : "", units::pressure, baselines))
                into.push_back(*read);
        }
    }

    void heads(const climate::CsvLine& line) {
        for (const auto& field : line.fields) {
            const auto open = field.text.find_first_of("[(");
            const std::string_view word = trimmed(field.text.substr(0, open));
            Head head;
            if (word == "flow") head.column = Column::flow;
            if (word != "flow" && word != "pressure")
                return fail_section(is_number(field.text) ? Code::missing : Code::unknown_name,
                                    is_number(field.text)
                                        ? std::string("the columns have no names and units")
                                        : fmt::format("there is no column \"{}\"", shown(word)),
                                    field.text);
            if (open != std::string_view::npos) {
                const auto close = field.text.find_first_of(")]", open);
                head.unit = trimmed(field.text.substr(
                    open + 1, close == std::string_view::npos ? std::string_view::npos : close - open - 1));
            }
            if (head.unit.empty())
                return fail_section(Code::missing, fmt::format("column {} has no unit", word), field.text);
            const auto& dimension = head.column == Column::flow ? units::flow : units::pressure;
            if (const auto good = units::parse("1 " + head.unit, dimension); !good)
                return fail_section(Code::wrong_unit,
                                    fmt::format("column {}: \"{}\" is not a unit of {} ({})", word,
                                                shown(head.unit), dimension.name, dimension.examples),
                                    field.text);
            heads_.push_back(std::move(head));
        }
        if (heads_.size() != 2 || heads_[0].column == heads_[1].column)
            fail_section(Code::missing, "two columns are needed: pressure and flow",
                         line.fields.front().text);
    }
    // Without good heads the points below cannot be read: skip them without a problem each.
    void fail_section(Code code, std::string what, std::string_view part) {
        complain(code, std::move(what), part, "pressure [Pa], flow [m3/h]");
        heads_.assign(1, {});
    }

    void point(const climate::CsvLine& line) {
        if (heads_.size() != 2) return;
        if (line.fields.size() != 2)
            return complain(Code::syntax,
                            fmt::format("{} value{} where pressure and flow stand", line.fields.size(),
                                        line.fields.size() == 1 ? "" : "s"),
                            line.fields.back().text,
                            "commas between values only; write the decimal point as a point");
        if (series_.points.size() >= most_points)
            return complain(Code::out_of_range, fmt::format("over {} points", most_points),
                            line.fields.front().text);
        TestPoint out{.where = place(line.fields.front().text)};
        bool good = true;
        for (std::size_t i = 0; i < 2; ++i) {
            const bool flow = heads_[i].column == Column::flow;
            const std::string_view field = line.fields[i].text;
            const auto read = quantity(flow ? "flow" : "pressure", field, heads_[i].unit,
                                       flow ? units::flow : units::pressure, flow ? flows : pressures);
            good = good && read && (flow || right_sign(*read, field));
            if (read) (flow ? out.flow : out.pressure) = *read;
        }
        if (good) series_.points.push_back(out);
    }
    bool right_sign(double pressure, std::string_view field) {
        if (series_.depressurise ? pressure < 0.0 : pressure > 0.0) return true;
        complain(Code::conflict,
                 fmt::format("pressure {} Pa in [{}]: inside minus outside, it is {} there", field,
                             series_.depressurise ? "depressurise" : "pressurise",
                             series_.depressurise ? "below zero" : "above zero"),
                 field,
                 pressure == 0.0
                     ? "readings with the fan closed are the baseline"
                     : "turn the sign round, also of the baseline, or move it to the other section");
        return false;
    }

    std::optional<double> quantity(std::string_view what, std::string_view value, const std::string& unit,
                                   const units::Dimension& dimension, const units::Limits& limits) {
        if (unit.empty() && is_number(value)) {
            complain(Code::missing, fmt::format("{} {} has no unit", what, shown(value)), value,
                     fmt::format("one of {}", dimension.examples));
            return std::nullopt;
        }
        // A cell that is a number takes the unit of its heading; a cell may not bring another one.
        if (!unit.empty() && !is_number(value)) {
            complain(Code::syntax, fmt::format("{} \"{}\" is not a number", what, shown(value)), value);
            return std::nullopt;
        }
        const auto read =
            units::parse(unit.empty() ? std::string(value) : fmt::format("{} {}", value, unit), dimension);
        if (!read) {
            complain(read.error().code, fmt::format("{} {}", what, read.error().what), value);
            return std::nullopt;
        }
        // Asked this way round so that NaN is refused too.
        if (!(*read >= limits.least && *read <= limits.most)) {
            complain(Code::out_of_range,
                     fmt::format("{} is {:.6g} {}, outside {:g} to {:g}", what, *read, dimension.si,
                                 limits.least, limits.most),
                     value);
            return std::nullopt;
        }
        return *read;
    }

    std::string name_;
    std::string_view text_;
    Problems& problems_;
    std::size_t errors_ = 0;
    int line_ = 1;
    TestReadings out_;
    TestSeries series_;
    bool series_open_ = false;
    std::vector<Head> heads_;
    std::vector<std::string> seen_;
};

}  // namespace

std::optional<TestReadings> read_blower_door(std::string_view name, std::string_view text,
                                             Problems& problems) {
    return Reader(name, text, problems).read();
}

}  // namespace warmside::leakage
