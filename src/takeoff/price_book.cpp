#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>

#include "base/embedded.h"
#include "base/nearest.h"
#include "takeoff/cost.h"
#include "takeoff/labour.h"
#include "units/reader.h"

namespace warmside::takeoff {
namespace {

constexpr std::string_view demo_file = "data/prices/demo.toml";
constexpr double most_money = 1e7, most_hours = 1e4;

/// A measure that money or hours are given by: SI unit, and how much of it one measure is.
struct Measure {
    std::string unit;
    double amount = 1.0;
};

/// "ft", "100 ft2", "m3", "piece", "100 pieces", "hour".
std::optional<Measure> measure_of(std::string_view per) {
    const bool counted = !per.empty() && std::isdigit(static_cast<unsigned char>(per.front())) != 0;
    const std::string text = counted ? std::string(per) : "1 " + std::string(per);
    for (const std::string_view word : {" pieces", " piece", " hours", " hour"}) {
        if (!text.ends_with(word)) continue;
        const auto number = units::parse(text.substr(0, text.size() - word.size()), units::number);
        if (!number || !(*number > 0.0)) return std::nullopt;
        return Measure{word.starts_with(" piece") ? "piece" : "hour", *number};
    }
    for (const units::Dimension* each : {&units::length, &units::area, &units::volume, &units::mass}) {
        const auto si = units::parse(text, *each);
        if (si && *si > 0.0) return Measure{std::string(each->si), *si};
    }
    return std::nullopt;
}

/// What stands in [book]: rows that do not say otherwise take it.
struct Defaults {
    std::string date, place, source;
};

class BookReader {
public:
    BookReader(std::string_view file, Problems& problems) : file_(file), problems_(problems) {}

    void read(const toml::table& top, PriceBook& book, const PriceBook* over) {
        units::TableReader reader(top, std::string(file_), problems_);
        if (const toml::table* head = reader.table("book")) {
            read_head(*head, book, over);
        } else if (!reader.has("book")) {
            reader.missing("book");
        }
        if (const toml::table* rows = reader.table("price")) read_prices(*rows, book);
        if (const toml::table* rows = reader.table("labour")) read_labour(*rows, book);
        reader.finish();
    }

private:
    void read_head(const toml::table& table, PriceBook& book, const PriceBook* over) {
        units::TableReader reader(table, "[book]", problems_);
        book.name = reader.required(reader.text("name"), "name").value_or("");
        const auto currency = reader.text("currency");
        if (over && (!currency || *currency == over->currency)) {
            const std::string name = std::move(book.name);
            book = *over;
            book.name = name;
        } else if (currency) {
            book.currency = *currency;
        } else if (!reader.has("currency")) {
            reader.missing("currency");
        }
        if (currency && !is_code(*currency)) {
            reader.complain(
                "currency", Code::out_of_range,
                fmt::format("currency \"{}\" is not a code of three capitals, such as USD", *currency));
        }
        defaults_ = {reader.text("date").value_or(""), reader.text("place").value_or(""),
                     reader.text("source").value_or("")};
        if (!defaults_.date.empty()) {
            check_date(reader, defaults_.date);
            book.date = defaults_.date;
        }
        if (!defaults_.place.empty()) book.place = defaults_.place;
        if (const toml::table* wage = reader.table("wage")) read_wage(*wage, book);
        reader.finish();
    }

    static bool is_code(std::string_view text) {
        return text.size() == 3 &&
               std::all_of(text.begin(), text.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
    }

    /// A year, a month or a day: 2026, 2026-03, 2026-03-14.
    static void check_date(units::TableReader& reader, std::string_view date) {
        const auto digits = [&](std::size_t from, std::size_t count) {
            for (std::size_t i = from; i < from + count; ++i) {
                if (i >= date.size() || std::isdigit(static_cast<unsigned char>(date[i])) == 0) return false;
            }
            return true;
        };
        const bool year = digits(0, 4), month = date.size() >= 7 && date[4] == '-' && digits(5, 2),
                   day = date.size() == 10 && date[7] == '-' && digits(8, 2);
        if (year && (date.size() == 4 || (month && (date.size() == 7 || day)))) return;
        reader.complain("date", Code::wrong_type,
                        fmt::format("date \"{}\" is not a year, month or day such as 2026-03", date));
    }

    struct Row {
        double value = 0.0;
        Measure measure;
        std::string date, place;
        Origin origin;
    };

    /// value, per, date, place and source of a row; nothing where one of them is wrong.
    std::optional<Row> read_row(units::TableReader& reader, std::string_view value_key, double most) {
        Row row;
        const std::size_t before = problems_.size();
        const auto value = reader.required(reader.quantity(value_key, units::number, {0.0, most}), value_key);
        const auto per = reader.required(reader.text("per"), "per");
        row.date = either(reader, "date", defaults_.date);
        row.place = either(reader, "place", defaults_.place);
        if (reader.has("date")) check_date(reader, row.date);
        const std::string source = either(reader, "source", defaults_.source);
        if (per) {
            if (const auto measure = measure_of(*per)) {
                row.measure = *measure;
            } else {
                reader.complain(
                    "per", Code::wrong_unit,
                    fmt::format("per \"{}\" is not a measure (m, ft, m2, ft2, 100 ft2, m3, ft3, kg, "
                                "lb, piece, hour)",
                                *per));
            }
        }
        if (problems_.size() > before) return std::nullopt;
        row.value = *value;
        Place where = reader.place();
        where.file = std::string(file_);
        row.origin = {Origin::Kind::catalogue, where, source, Evidence::none};
        return row;
    }

    /// The row's own word, else the book's; neither is a problem: a price without them says nothing.
    static std::string either(units::TableReader& reader, std::string_view key, const std::string& of_book) {
        const auto own = reader.text(key);
        if (own && !own->empty()) return *own;
        if (!reader.has(key) && !of_book.empty()) return of_book;
        if (!reader.has(key) || own)
            reader.complain(key, Code::missing,
                            fmt::format("{} has no {}, and [book] gives none", reader.title(), key));
        return {};
    }

    void read_wage(const toml::table& table, PriceBook& book) {
        units::TableReader reader(table, "wage", problems_);
        const auto row = read_row(reader, "value", most_money);
        reader.finish();
        if (!row) return;
        if (row->measure.unit != "hour") {
            reader.complain("per", Code::wrong_unit, "a wage is money per hour");
            return;
        }
        book.wage = row->value / row->measure.amount;
        book.wage_origin = row->origin;
    }

    void read_prices(const toml::table& table, PriceBook& book) {
        for (const auto& [key, node] : table) {
            const toml::table* entry = table_at("price", key.str(), node);
            if (!entry) continue;
            units::TableReader reader(*entry, fmt::format("price \"{}\"", key.str()), problems_);
            const auto row = read_row(reader, "value", most_money);
            reader.finish();
            if (!row) continue;
            book.prices[std::string(key.str())] = {row->value / row->measure.amount, row->measure.unit,
                                                   row->date, row->place, row->origin};
        }
    }

    void read_labour(const toml::table& table, PriceBook& book) {
        for (const auto& [key, node] : table) {
            const toml::table* entry = table_at("labour", key.str(), node);
            if (!entry) continue;
            units::TableReader reader(*entry, fmt::format("labour \"{}\"", key.str()), problems_);
            const auto learning = reader.quantity("learning", units::fraction, {0.0, 5.0});
            const auto row = read_row(reader, "hours", most_hours);
            reader.finish();
            const Operation* known = find(key.str());
            if (!known) {
                unknown(key.str(), node);
                continue;
            }
            if (!row) continue;
            if (row->measure.unit != known->unit) {
                reader.complain("per", Code::wrong_unit,
                                fmt::format("labour \"{}\" is by {}, not by {}", key.str(), known->unit,
                                            row->measure.unit));
                continue;
            }
            book.labour[std::string(key.str())] = {row->value / row->measure.amount, row->measure.unit,
                                                   learning.value_or(0.0), row->origin};
        }
    }

    static const Operation* find(std::string_view key) {
        const auto& all = operations();
        const auto at =
            std::find_if(all.begin(), all.end(), [&](const Operation& o) { return o.key == key; });
        return at == all.end() ? nullptr : &*at;
    }

    void unknown(std::string_view key, const toml::node& node) {
        std::vector<std::string> known;
        for (const Operation& each : operations()) known.emplace_back(each.key);
        problems_.push_back({.code = Code::unknown_name,
                             .what = fmt::format("no operation is called \"{}\"", key),
                             .found = std::string(key),
                             .suggestion = nearest(key, known),
                             .where = units::place_of(node)});
    }

    const toml::table* table_at(std::string_view table, std::string_view key, const toml::node& node) {
        const toml::table* entry = node.as_table();
        if (!entry)
            problems_.push_back(
                {.code = Code::wrong_type,
                 .what = fmt::format("{} \"{}\" is a table such as {{ value = 14.50, per = \"piece\" }}",
                                     table, key),
                 .where = units::place_of(node)});
        return entry;
    }

    std::string_view file_;
    Problems& problems_;
    Defaults defaults_;
};

}  // namespace

std::optional<PriceBook> read_price_book(std::string_view file_name, std::string_view text,
                                         Problems& problems, const PriceBook* over) {
    const std::size_t before = problems.size();
    const auto table = units::parse_toml(file_name, text);
    if (!table) {
        problems.push_back(table.error());
        return std::nullopt;
    }
    PriceBook book;
    BookReader(file_name, problems).read(*table, book, over);
    std::stable_sort(problems.begin() + static_cast<std::ptrdiff_t>(before), problems.end(),
                     [](const Problem& a, const Problem& b) {
                         return std::pair(a.where.line, a.where.column) <
                                std::pair(b.where.line, b.where.column);
                     });
    if (problems.size() > before) return std::nullopt;
    const auto invented = [](const auto& row) { return row.second.origin.source == demo_source; };
    book.demo = std::any_of(book.prices.begin(), book.prices.end(), invented) ||
                std::any_of(book.labour.begin(), book.labour.end(), invented) ||
                book.wage_origin.source == demo_source;
    return book;
}

Result<PriceBook> read_price_book(std::string_view file_name, std::string_view text, const PriceBook* over) {
    Problems problems;
    auto book = read_price_book(file_name, text, problems, over);
    if (!book) return fail(std::move(problems.front()));
    return std::move(*book);
}

const PriceBook& demo_prices() {
    static const PriceBook book = [] {
        const auto text = embedded::find(demo_file);
        assert(text && "demo.toml is embedded");
        auto read = read_price_book(demo_file, *text);
        assert(read && "demo.toml reads; takeoff_test checks it");
        return std::move(*read);
    }();
    return book;
}

}  // namespace warmside::takeoff
