#include "proof/runner.h"

#include <algorithm>
#include <doctest/doctest.h>

#include "base/embedded.h"
#include "proof/sources.h"
#include "units/reader.h"

using namespace warmside;

TEST_CASE("every list of sources parses and every row has a title") {
    for (const auto& file : embedded::files()) {
        if (!file.path.starts_with("docs/sources/")) continue;
        CAPTURE(file.path);
        const auto parsed = units::parse_toml(file.path, file.bytes);
        REQUIRE(parsed);
        for (const auto& [key, row] : *parsed) {
            CAPTURE(key.str());
            REQUIRE(row.is_table());
            CHECK(row.as_table()->contains("title"));
        }
    }
}

TEST_CASE("a wrong expectation fails, a gap is named, a bad file is a problem") {
    const char* text = R"(operation = "air.saturation_over_water"
source = "no-such-source"
[[case]]
name = "absurd"
given = { temperature = "300 K" }
expect = { pressure = "1 Pa" }
within = "0.1 Pa"
evidence = "memory"
[[case]]
name = "gap"
given = { temperature = "300 K" }
expect = { pressure = "1 Pa" }
within = "0.1 Pa"
evidence = "memory"
known_gap = "because"
[[case]]
name = "no band"
expect = { pressure = "1 Pa" }
evidence = "memory"
)";
    proof::Report report;
    proof::run_file("proof/air/x.toml", text, report);
    REQUIRE(report.checks.size() == 2);
    CHECK(report.checks[0].result == proof::Standing::fail);
    CHECK(report.checks[0].id == "air/x/absurd/pressure");
    CHECK(report.checks[1].result == proof::Standing::known_gap);
    CHECK(std::any_of(report.problems.begin(), report.problems.end(),
                      [](const Problem& p) { return p.what == "[[case]] has no within"; }));
    CHECK(std::any_of(report.problems.begin(), report.problems.end(),
                      [](const Problem& p) { return p.code == Code::unknown_name; }));
}

TEST_CASE("each result may have its own evidence and its own gap") {
    const char* text = R"toml(operation = "conduction.steady"
source = "iso-10211"
[[case]]
name = "a wall"
within = 0.1
evidence = { coupling = "computed", flow = "memory" }
known_gap = { flow = "because" }
expect = { coupling = "1 W/K", flow = [3, 4] }
[case.given]
geometry = "plane"
environment = [{ name = "in", temperature = "293.15 K" }, { name = "out", temperature = "273.15 K" }]
region = [
  { air = "in", film = "0.1 m2 K/W", from = ["-1 m", "0 m"], to = ["0 m", "1 m"] },
  { name = "board", conductivity = "1 W/(m K)", from = ["0 m", "0 m"], to = ["0.8 m", "1 m"] },
  { air = "out", film = "0.1 m2 K/W", from = ["0.8 m", "0 m"], to = ["2 m", "1 m"] },
]
)toml";
    proof::Report report;
    proof::run_file("proof/conduction/x.toml", text, report);
    CHECK(report.problems.empty());
    REQUIRE(report.checks.size() == 3);
    CHECK(report.checks[0].evidence == Evidence::computed);
    CHECK(report.checks[0].result == proof::Standing::pass);
    CHECK(report.checks[1].evidence == Evidence::memory);
    CHECK(report.checks[1].result == proof::Standing::known_gap);
    CHECK(report.checks[1].note == "because");
}

TEST_CASE("every published check passes or is a known gap") {
    const auto report = proof::run("");
    for (const auto& problem : report.problems) FAIL_CHECK(render(problem));
    CHECK(report.checks.size() > 500);
    for (const auto& check : report.checks) {
        if (check.result != proof::Standing::fail) continue;
        FAIL_CHECK(check.id << ": expected " << check.expected << " got " << check.got << " within "
                            << check.tolerance << " " << check.unit << " " << check.note);
    }
}
