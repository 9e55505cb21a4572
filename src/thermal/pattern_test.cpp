#include "thermal/pattern.h"

#include <doctest/doctest.h>

using namespace warmside;
using namespace warmside::thermal;
using units::Exact;

namespace {

constexpr Exact inch = Exact::sixty_fourths_of_inch(64);

Members row(std::int64_t width, std::int64_t spacing, std::int64_t offset = 0) {
    return {.width = inch * width, .spacing = inch * spacing, .offset = inch * offset};
}

}  // namespace

TEST_CASE("one row, or rows that stand over each other, repeat in half a spacing from a centre") {
    const std::vector<Members> rows{row(2, 16), row(4, 16, 32)};
    const auto p = piece_of(rows);
    REQUIRE(p);
    CHECK(p->mirrored);
    CHECK(p->length == (inch * 8).metres());
    REQUIRE(p->members.size() == 2);
    REQUIRE(p->members[0].size() == 1);
    CHECK(p->members[0][0].from == 0.0);
    CHECK(p->members[0][0].to == inch.metres());
    CHECK(p->members[1][0].to == (inch * 2).metres());
}

TEST_CASE("rows half a spacing apart mirror too: one at either end") {
    const std::vector<Members> rows{row(2, 24), row(2, 24, 12)};
    const auto p = piece_of(rows);
    REQUIRE(p);
    CHECK(p->mirrored);
    CHECK(p->length == (inch * 12).metres());
    CHECK(p->members[0][0].from == 0.0);
    CHECK(p->members[1][0].to == p->length);
    CHECK(p->members[1][0].from == (inch * 11).metres());
}

TEST_CASE("16 and 24 in repeat in 48 in, and mirror in half of that") {
    const std::vector<Members> rows{row(2, 16), row(2, 24)};
    const auto p = piece_of(rows);
    REQUIRE(p);
    CHECK(p->mirrored);
    CHECK(p->length == (inch * 24).metres());
    CHECK(p->members[0].size() == 2);  // half at 0, whole at 16
    CHECK(p->members[1].size() == 2);  // half at 0, half at 24
}

TEST_CASE("rows that do not mirror keep a whole period, cut in the widest bay; shares stay") {
    const std::vector<Members> rows{row(2, 24), row(3, 24, 5)};
    for (const int periods : {1, 2, 3}) {
        const auto p = piece_of(rows, periods);
        REQUIRE(p);
        CHECK_FALSE(p->mirrored);
        CHECK(p->length == doctest::Approx((inch * 24 * periods).metres()));
        for (std::size_t k = 0; k < rows.size(); ++k) {
            double sum = 0.0;
            for (const Stretch& s : p->members[k]) sum += s.to - s.from;
            CHECK(sum / p->length == doctest::Approx(rows[k].share()));
            CHECK(p->members[k].front().from > 0.0);
            CHECK(p->members[k].back().to < p->length);
        }
    }
}

TEST_CASE("an offset by whole spacings, before or after the start, changes nothing") {
    for (const std::int64_t offset : {-48, -24, 0, 24, 240}) {
        const std::vector<Members> rows{row(2, 24, offset)};
        const auto p = piece_of(rows);
        REQUIRE(p);
        CHECK(p->length == (inch * 12).metres());
        CHECK(p->members[0].size() == 1);
    }
}

TEST_CASE("spacings without a common period are refused with their sizes") {
    const std::vector<Members> rows{row(2, 16),
                                    {.width = inch, .spacing = Exact::millimetres(611), .offset = {}}};
    const auto p = piece_of(rows);
    REQUIRE_FALSE(p);
    CHECK(p.error().code == Code::unsupported);
    CHECK(p.error().what.find("16 in") != std::string::npos);
}
