// Prints the table of docs/field.md: what field studies measured beside what the solver computes for the same
// assemblies. The cases are those of proof/field.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "base/embedded.h"
#include "climate/calendar.h"
#include "proof/field.h"
#include "units/reader.h"

using namespace warmside;

namespace {

std::string text(const toml::table& table, std::string_view key) {
    const auto* node = table.get(key);
    return node ? node->value_or(std::string{}) : std::string{};
}

std::string scene(const toml::table& given) {
    std::string out =
        fmt::format("{}, {}, {} RH", text(given, "place"), text(given, "face"), text(given, "humidity"));
    if (given.contains("air_flow")) out += fmt::format(", air {}", text(given, "air_flow"));
    return out;
}

std::string numbers(const proof::FieldResult& r) {
    return fmt::format(
        "inner face {:.0f} % in {} (whole panel {:.0f} %), July and August {:.0f} %, mould index {:.1f}",
        100.0 * r.peak, climate::month_names[static_cast<std::size_t>(std::max(r.peak_month, 1) - 1)],
        100.0 * r.panel, 100.0 * r.summer, r.mould);
}

// One line a case; false when it could not be computed.
bool wall_row(const toml::table& one, const toml::table& given) {
    const std::array<const proof::Given*, 1> cases{&given};
    const auto results = proof::compute_field(cases);
    if (!results) {
        fmt::print("| {} | {} | {} | - | {} | | |\n", text(one, "name"), scene(given), text(one, "measured"),
                   results.error().what);
        return false;
    }
    const proof::FieldResult& r = results->front();
    const auto* expect = one.get_as<toml::table>("expect");
    const int rank = expect ? static_cast<int>((*expect)["rank"].value_or(0)) : 0;
    fmt::print("| {} | {} | {} | {} | {} | {}{} | {} |\n", text(one, "name"), scene(given),
               text(one, "measured"), proof::rank_name(rank), numbers(r), proof::rank_name(r.rank),
               r.rank == rank ? "" : " (**differs**)", text(one, "why"));
    return true;
}

bool order_row(const toml::table& one, const toml::table& given) {
    const std::array<const proof::Given*, 2> cases{given.get_as<toml::table>("more"),
                                                   given.get_as<toml::table>("less")};
    const auto results = proof::compute_field(cases);
    const std::string by = text(given, "by");
    if (!results) {
        fmt::print("| {} | | {} | first more | {} | | |\n", text(one, "name"), text(one, "measured"),
                   results.error().what);
        return false;
    }
    const auto value = [&](const proof::FieldResult& r) {
        return by == "peak" ? r.peak : by == "early" ? r.early : r.mould;
    };
    const double a = value((*results)[0]), b = value((*results)[1]);
    const char* what = by == "peak" ? "peak" : by == "early" ? "on day 60" : "mould index";
    const std::string figures = by == "mould"
                                    ? fmt::format("{} {:.1f} against {:.1f}", what, a, b)
                                    : fmt::format("{} {:.1f} % against {:.1f} %", what, 100.0 * a, 100.0 * b);
    fmt::print("| {} | {}; {} | {} | first more | {} | {} | {} |\n", text(one, "name"), scene(*cases[0]),
               scene(*cases[1]), text(one, "measured"), figures,
               a > b ? "first more" : "not more (**differs**)", text(one, "why"));
    return true;
}

}  // namespace

// Variants without an expectation.
int print_tried() {
    fmt::print("| tried | computed for | measured | computed | rank |\n|---|---|---|---|---|\n");
    const auto bytes = embedded::find("data/field/tried.toml");
    const auto table = units::parse_toml("data/field/tried.toml", bytes.value_or(""));
    if (!table) return 2;
    const auto* cases = table->get_as<toml::array>("case");
    for (std::size_t k = 0; cases && k < cases->size(); ++k) {
        const auto& one = *(*cases)[k].as_table();
        const auto* given = one.get_as<toml::table>("given");
        const std::array<const proof::Given*, 1> single{given};
        const auto results = proof::compute_field(single);
        if (!results) return 1;
        fmt::print("| {} | {} | {} | {} | {} |\n", text(one, "name"), scene(*given), text(one, "measured"),
                   numbers(results->front()), proof::rank_name(results->front().rank));
    }
    return 0;
}

int main(int count, char** words) {
    if (count > 1 && std::string(words[1]) == "tried") return print_tried();
    fmt::print(
        "| case | computed for | measured | authors | computed | verdict | why it differs, what was assumed "
        "|\n"
        "|---|---|---|---|---|---|---|\n");
    bool whole = true;
    for (const auto& file : embedded::files()) {
        if (!file.path.starts_with("proof/field/") || !file.path.ends_with(".toml")) continue;
        const auto table = units::parse_toml(file.path, file.bytes);
        if (!table) return 2;
        const auto* cases = table->get_as<toml::array>("case");
        for (std::size_t k = 0; cases && k < cases->size(); ++k) {
            const auto* one = (*cases)[k].as_table();
            const auto* given = one ? one->get_as<toml::table>("given") : nullptr;
            if (!given) continue;
            const bool pair = text(*one, "operation") == "field.order";
            whole = (pair ? order_row(*one, *given) : wall_row(*one, *given)) && whole;
        }
    }
    return whole ? 0 : 1;
}
