#include <doctest/doctest.h>

#include "rules/tables.h"

using namespace warmside;
using namespace warmside::rules;

TEST_CASE("the built-in tables of 2018, 2021 and 2024 read without a problem; other editions are refused") {
    for (const int edition : {2018, 2021, 2024}) {
        const auto tables = tables_of(edition);
        if (!tables) FAIL(render(tables.error()));
        CHECK(tables->edition == edition);
    }
    const auto none = tables_of(2015);
    REQUIRE_FALSE(none);
    CHECK(none.error().code == Code::unsupported);
}
