#include <doctest/doctest.h>

#include <algorithm>

#include "takeoff/cost.h"
#include "takeoff/labour.h"
#include "units/quantity.h"

using namespace warmside;
using namespace warmside::takeoff;

namespace {

constexpr std::string_view small = R"([book]
name = "one yard"
currency = "USD"
date = "2026-03"
place = "a yard"
source = "price list"
wage = { value = 50, per = "hour" }

[price]
"2x6" = { value = 1.016, per = "ft" }
"osb 7/16 in" = { value = 40, per = "100 ft2", date = "2025", source = "bid 12" }
"drywall screws" = { value = 30, per = "1000 pieces" }
"loose cellulose" = { value = 0.5, per = "lb" }

[labour]
"furring" = { hours = 2, per = "100 ft", learning = "25 %" }
)";

Problems problems_of(std::string_view text, const PriceBook* over = nullptr) {
    Problems problems;
    CHECK_FALSE(read_price_book("book.toml", text, problems, over));
    return problems;
}

std::string with(std::string_view row) {
    return "[book]\nname = \"n\"\ncurrency = \"USD\"\ndate = \"2026\"\nplace = \"p\"\nsource = "
           "\"s\"\n[price]\n" +
           std::string(row) + "\n";
}

}  // namespace

TEST_CASE("a price per foot, hundred square feet or thousand pieces becomes a price per SI unit") {
    const auto book = read_price_book("book.toml", small);
    REQUIRE(book);
    // One foot is 0.3048 m, one pound 0.45359237 kg (international yard and pound agreement of 1959).
    CHECK(book->prices.at("2x6").value == doctest::Approx(1.016 / 0.3048).epsilon(1e-12));
    CHECK(book->prices.at("2x6").unit == "m");
    CHECK(book->prices.at("osb 7/16 in").value == doctest::Approx(0.4 / 0.09290304).epsilon(1e-12));
    CHECK(book->prices.at("drywall screws").value == doctest::Approx(0.03).epsilon(1e-12));
    CHECK(book->prices.at("drywall screws").unit == "piece");
    CHECK(book->prices.at("loose cellulose").value == doctest::Approx(0.5 / 0.45359237).epsilon(1e-12));
    CHECK(book->labour.at("furring").hours == doctest::Approx(0.02 / 0.3048).epsilon(1e-12));
    CHECK(book->labour.at("furring").learning == 0.25);
    CHECK(book->wage == 50.0);
    CHECK_FALSE(book->demo);
}

TEST_CASE("a row takes date, place and source of its book unless it has its own, and knows its line") {
    const auto book = read_price_book("book.toml", small);
    REQUIRE(book);
    CHECK(book->prices.at("2x6").date == "2026-03");
    CHECK(book->prices.at("2x6").origin.source == "price list");
    CHECK(book->prices.at("osb 7/16 in").date == "2025");
    CHECK(book->prices.at("osb 7/16 in").origin.source == "bid 12");
    CHECK(book->prices.at("osb 7/16 in").origin.where.file == "book.toml");
    CHECK(book->prices.at("osb 7/16 in").origin.where.line == 11);
}

TEST_CASE("a later book replaces prices key by key and leaves the others") {
    const auto under = read_price_book("under.toml", small);
    REQUIRE(under);
    const auto over = read_price_book("over.toml", with("\"2x6\" = { value = 2, per = \"m\" }"), &*under);
    REQUIRE(over);
    CHECK(over->name == "n");
    CHECK(over->prices.at("2x6").value == 2.0);
    CHECK(over->prices.at("drywall screws").value == doctest::Approx(0.03));
    CHECK(over->prices.size() == under->prices.size());
    CHECK(over->wage == 50.0);
}

TEST_CASE("a book in another currency replaces the earlier one whole") {
    const auto under = read_price_book("under.toml", small);
    REQUIRE(under);
    std::string text = with("\"2x6\" = { value = 2, per = \"m\" }");
    text.replace(text.find("USD"), 3, "EUR");
    const auto over = read_price_book("over.toml", text, &*under);
    REQUIRE(over);
    CHECK(over->currency == "EUR");
    CHECK(over->prices.size() == 1);
    CHECK(over->wage == 0.0);
}

TEST_CASE("every problem of a book is told at its place, all at once") {
    const auto problems = problems_of(R"([book]
name = "b"
currency = "dollars"
[price]
"a" = { value = -1, per = "ft", date = "2026", place = "p", source = "s" }
"b" = { value = 1, per = "furlong", date = "2026", place = "p", source = "s" }
"c" = { value = 1, per = "ft" }
"d" = { value = 1, per = "ft", date = "March", place = "p", source = "s" }
"e" = 5
"f" = { price = 1, per = "ft", date = "2026", place = "p", source = "s" }
[labour]
"furing" = { hours = 1, per = "m", date = "2026", place = "p", source = "s" }
"tape" = { hours = 1, per = "m2", date = "2026", place = "p", source = "s" }
)");
    const auto at = [&](int line, Code code) {
        return std::any_of(problems.begin(), problems.end(),
                           [&](const Problem& p) { return p.where.line == line && p.code == code; });
    };
    CHECK(at(3, Code::out_of_range));
    CHECK(at(5, Code::out_of_range));
    CHECK(at(6, Code::wrong_unit));
    CHECK(std::count_if(problems.begin(), problems.end(),
                        [](const Problem& p) { return p.where.line == 7 && p.code == Code::missing; }) == 3);
    CHECK(at(8, Code::wrong_type));
    CHECK(at(9, Code::wrong_type));
    CHECK(at(10, Code::missing));
    CHECK(at(10, Code::unknown_key));
    CHECK(at(12, Code::unknown_name));
    CHECK(at(13, Code::wrong_unit));
    for (const Problem& p : problems) CHECK(p.where.file == "book.toml");
    const auto furring = std::find_if(problems.begin(), problems.end(),
                                      [](const Problem& p) { return p.code == Code::unknown_name; });
    REQUIRE(furring != problems.end());
    CHECK(furring->suggestion == "furring");
}

TEST_CASE("text that is no TOML is a problem with its place, not a crash") {
    const auto problems = problems_of("[book\nname = 1");
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].code == Code::syntax);
    CHECK(problems[0].where.line == 1);
}

TEST_CASE("the demo book says on every row that it is invented, and holds every operation") {
    const PriceBook& book = demo_prices();
    CHECK(book.demo);
    CHECK(book.wage > 0.0);
    CHECK(book.wage_origin.source == demo_source);
    for (const auto& [key, price] : book.prices) {
        INFO(key);
        CHECK(price.origin.source == demo_source);
        CHECK(price.value > 0.0);
        CHECK_FALSE(price.date.empty());
        CHECK_FALSE(price.place.empty());
    }
    for (const Operation& each : operations()) {
        INFO(each.key);
        REQUIRE(book.labour.contains(std::string(each.key)));
        CHECK(book.labour.at(std::string(each.key)).hours > 0.0);
        CHECK(book.labour.at(std::string(each.key)).origin.source == demo_source);
    }
}
