#include "leakage/blower_door_rules.h"

#include <array>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::leakage {

namespace {

using units::TableReader;

constexpr std::array<const char*, 3> names{"iso_9972", "astm_e779", "astm_e3158"};

TestRules read_rules(TableReader& r) {
    TestRules out;
    const auto need = [&](std::string_view key, const units::Dimension& dimension, units::Limits limits) {
        return r.required(r.quantity(key, dimension, limits), key).value_or(limits.least);
    };
    out.title = r.required(r.text("title"), "title").value_or("");
    out.origin = {.kind = Origin::Kind::standard, .where = r.place(), .source = out.title};
    out.origin.evidence =
        evidence_of(r.required(r.word("evidence", {"seen", "quoted", "memory"}), "evidence").value_or(""));
    out.density = need("density", units::density, {1.0, 1.5});
    out.viscosity = r.required(r.flag("viscosity"), "viscosity").value_or(false);
    out.both_directions = r.required(r.flag("both_directions"), "both_directions").value_or(false);
    out.points = static_cast<int>(r.required(r.integer("points", 3, 100), "points").value_or(5));
    const auto exponent = r.required(r.quantities("exponent", units::number, {0.0, 2.0}), "exponent");
    if (exponent && exponent->size() == 2 && (*exponent)[0] < (*exponent)[1]) {
        out.exponent_least = (*exponent)[0];
        out.exponent_most = (*exponent)[1];
    } else if (exponent) {
        r.complain("exponent", Code::conflict, "two exponents are needed, which rise");
    }
    out.correlation = r.quantity("correlation", units::fraction, {0.0, 1.0});
    out.baseline = r.quantity("baseline", units::pressure, {0.0, 50.0});
    out.lowest = need("lowest", units::pressure, {1.0, 100.0});
    out.lowest_over_baseline = r.quantity("lowest_over_baseline", units::number, {1.0, 100.0});
    out.highest = need("highest", units::pressure, {1.0, 200.0});
    out.least_highest = r.quantity("least_highest", units::pressure, {1.0, 200.0});
    out.step = r.quantity("step", units::pressure, {1.0, 100.0});
    out.wind = r.quantity("wind", units::speed, {0.0, 50.0});
    out.warmth_height = r.quantity("warmth_height", units::number, {0.0, 1e4});
    out.clause_pressure = r.text("clause_pressure").value_or("");
    out.clause_baseline = r.text("clause_baseline").value_or("");
    out.clause_weather = r.text("clause_weather").value_or("");
    out.clause_fit = r.text("clause_fit").value_or("");
    r.finish();
    return out;
}

}  // namespace

Result<TestRules> read_test_rules(std::string_view name, std::string_view text, TestStandard standard) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    TestRules out;
    for (std::size_t i = 0; i < names.size(); ++i) {
        const toml::table* table = file.table(names[i]);
        if (!table) {
            if (!file.has(names[i])) file.missing(names[i]);
            continue;
        }
        TableReader r(*table, "[" + std::string(names[i]) + "]", problems);
        auto rules = read_rules(r);
        if (i == static_cast<std::size_t>(standard)) out = std::move(rules);
    }
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<TestRules>& test_rules(TestStandard standard) {
    static const auto read = [](TestStandard which) {
        constexpr std::string_view path = "data/leakage/blower-door.toml";
        const auto text = embedded::find(path);
        if (!text) return Result<TestRules>(fail(Code::missing, std::string(path) + " is not embedded"));
        return read_test_rules(path, *text, which);
    };
    static const std::array<Result<TestRules>, 3> all{
        read(TestStandard::iso_9972), read(TestStandard::astm_e779), read(TestStandard::astm_e3158)};
    return all[static_cast<std::size_t>(standard)];
}

}  // namespace warmside::leakage
