#include "takeoff/packages.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::takeoff {

namespace {

using units::TableReader;

constexpr std::string_view file = "data/takeoff/packages.toml";
constexpr std::array<std::string_view, 12> form_names{"none",     "sheet",   "batt",   "board",
                                                      "blown",    "volume",  "siding", "roofing",
                                                      "flooring", "masonry", "roll",   "paint"};

/// `key`_source and `key`_evidence.
Origin origin_of(TableReader& reader, const std::string& key) {
    const auto source = reader.required(reader.text(key + "_source"), key + "_source");
    const auto evidence = reader.required(reader.text(key + "_evidence"), key + "_evidence");
    Origin origin{Origin::Kind::catalogue, reader.place(key), source.value_or(""),
                  evidence_of(evidence.value_or(""))};
    if (origin.evidence == Evidence::practice || origin.evidence == Evidence::none)
        origin.kind = Origin::Kind::assumed;
    return origin;
}

double number(TableReader& reader, const std::string& key, const units::Dimension& dimension,
              units::Limits limits = {0.0}) {
    return reader.required(reader.quantity(key, dimension, limits), key).value_or(0.0);
}

Sourced<double> sourced(TableReader& reader, const std::string& key, const units::Dimension& dimension,
                        units::Limits limits = {0.0}) {
    const double value = number(reader, key, dimension, limits);
    return {value, origin_of(reader, key)};
}

std::vector<Exact> lengths(TableReader& reader, const std::string& key) {
    std::vector<Exact> out;
    const auto texts = reader.required(reader.texts(key), key);
    for (const std::string& text : texts.value_or(std::vector<std::string>{})) {
        const auto length = units::parse_exact(text);
        if (length)
            out.push_back(*length);
        else
            reader.complain(key, length.error().code, fmt::format("{} {}", key, length.error().what));
    }
    return out;
}

void read_sizes(TableReader& reader, Package& package) {
    const toml::array* rows = reader.array("sizes");
    if (!rows) return;
    for (const toml::node& node : *rows) {
        const toml::array* pair = node.as_array();
        std::vector<Exact> size;
        for (std::size_t i = 0; pair && i < pair->size(); ++i) {
            const auto length = units::parse_exact(pair->get(i)->value_or(std::string{}));
            if (length) size.push_back(*length);
        }
        if (size.size() == 2)
            package.sizes.push_back({size[0], size[1]});
        else
            reader.complain("sizes", Code::wrong_type, "a size is two lengths, [\"48 in\", \"96 in\"]");
    }
    package.size_origin = origin_of(reader, "size");
}

void put(std::map<std::string, Package, std::less<>>& into, TableReader& reader, const char* key,
         const Package& package) {
    const auto names = reader.texts(key);
    if (!names) return;
    for (const std::string& name : *names)
        if (!into.emplace(name, package).second)
            reader.complain(key, Code::duplicate, fmt::format("{} is in two rows", name));
}

void read_package(TableReader reader, Packages& out) {
    Package package;
    const auto form =
        reader.required(reader.word("form", {"none", "sheet", "batt", "board", "blown", "volume", "siding",
                                             "roofing", "flooring", "masonry", "roll", "paint"}),
                        "form");
    if (form)
        package.form =
            static_cast<Form>(std::find(form_names.begin(), form_names.end(), *form) - form_names.begin());
    read_sizes(reader, package);
    if (package.form == Form::blown) package.bag = number(reader, "bag", units::mass, {0.1});
    if (package.form == Form::paint) package.coverage = number(reader, "coverage", units::area, {0.1});
    if (package.form == Form::blown || package.form == Form::paint)
        package.size_origin = origin_of(reader, "size");
    if (package.form != Form::none) package.waste = sourced(reader, "waste", units::fraction, {0.0, 1.0});
    if (package.form == Form::sheet)
        package.waste_by_area = sourced(reader, "waste_by_area", units::fraction, {0.0, 1.0});
    if (package.form == Form::batt)
        package.waste_by_volume = sourced(reader, "waste_by_volume", units::fraction, {0.0, 1.0});
    put(out.materials, reader, "materials", package);
    put(out.families, reader, "families", package);
    put(out.membranes, reader, "membranes", package);
    reader.finish();
}

void read_batts(TableReader reader, BattRule& out) {
    const auto size = [&](const char* key) {
        const Exact read = reader.required(reader.exact(key, {0.0, 0.1}), key).value_or(Exact{});
        origin_of(reader, key);
        return read;
    };
    out.friction = size("friction");
    out.squeeze = size("squeeze");
    out.least = size("least");
    out.bag_depth = sourced(reader, "bag_depth", units::length, {0.1, 10.0});
    reader.finish();
}

void read_lumber(TableReader reader, LumberRule& out) {
    out.kerf = reader.required(reader.exact("kerf", {0.0, 0.02}), "kerf").value_or(Exact{});
    origin_of(reader, "kerf");
    out.damage = sourced(reader, "damage", units::fraction, {0.0, 1.0});
    out.inch_lengths = lengths(reader, "inch_lengths");
    out.inch_origin = origin_of(reader, "inch");
    out.metric_lengths = lengths(reader, "metric_lengths");
    out.metric_origin = origin_of(reader, "metric");
    out.precut = lengths(reader, "precut");
    out.precut_origin = origin_of(reader, "precut");
    out.precut_members = reader.required(reader.texts("precut_members"), "precut_members")
                             .value_or(std::vector<std::string>{});
    out.engineered_lengths = lengths(reader, "engineered_lengths");
    out.engineered_depths = lengths(reader, "engineered_depths");
    origin_of(reader, "engineered");
    out.splice_least =
        reader.required(reader.exact("splice_least", {0.0, 5.0}), "splice_least").value_or(Exact{});
    origin_of(reader, "splice");
    reader.finish();
}

void read_linear(TableReader reader, const std::string& package, LinearRule& out) {
    out.package = sourced(reader, package, units::length, {0.1});
    out.waste = sourced(reader, "waste", units::fraction, {0.0, 1.0});
    reader.finish();
}

int whole(TableReader& reader, const char* key) {
    return static_cast<int>(reader.required(reader.integer(key, 1, 100), key).value_or(1));
}

/// A plain number, 1/m2.
Sourced<double> rate(TableReader& reader, const std::string& key, const std::string& origin) {
    const double value = number(reader, key, units::number, {0.0, 1000.0});
    return {value, origin_of(reader, origin)};
}

void read_fasteners(TableReader reader, FastenerRule& out) {
    out.waste = sourced(reader, "waste", units::fraction, {0.0, 1.0});
    out.stud_end = whole(reader, "stud_end");
    out.jack = whole(reader, "jack");
    out.block_end = whole(reader, "block_end");
    out.joist_end = whole(reader, "joist_end");
    out.header_spacing = number(reader, "header_spacing", units::length, {0.01});
    out.plate_spacing = number(reader, "plate_spacing", units::length, {0.01});
    out.framing_origin = origin_of(reader, "framing");
    out.splice_origin = origin_of(reader, "splice");
    out.sheathing_edge = number(reader, "sheathing_edge", units::length, {0.01});
    out.sheathing_field = number(reader, "sheathing_field", units::length, {0.01});
    out.sheathing_origin = origin_of(reader, "sheathing");
    out.drywall_spacing.value = number(reader, "drywall_spacing", units::length, {0.01});
    out.drywall_spacing.origin = origin_of(reader, "drywall");
    out.siding_per_area = rate(reader, "siding_per_area", "siding");
    out.batten_spacing.value = number(reader, "batten_spacing", units::length, {0.01});
    out.batten_spacing.origin = origin_of(reader, "batten");
    out.staple_per_area = rate(reader, "staple_per_area", "staple");
    out.furring_origin = origin_of(reader, "furring");
    out.penetration = sourced(reader, "penetration", units::length, {0.01, 0.2});
    out.lengths = lengths(reader, "lengths");
    out.lengths_origin = origin_of(reader, "lengths");
    reader.finish();
}

}  // namespace

Result<Packages> read_packages(std::string_view file_name, std::string_view text) {
    const auto table = units::parse_toml(file_name, text);
    if (!table) return fail(table.error());
    Packages out;
    Problems problems;
    TableReader reader(*table, std::string(file_name), problems);
    if (const toml::array* rows = reader.array("package"))
        for (const toml::node& node : *rows)
            if (const toml::table* row = node.as_table()) read_package({*row, "[[package]]", problems}, out);
    const auto part = [&](const char* key, auto read) {
        if (const toml::table* row = reader.table(key))
            read(TableReader{*row, fmt::format("[{}]", key), problems});
        else if (!reader.has(key))
            reader.missing(key);
    };
    part("rolls", [&](TableReader rolls) {
        out.roll_waste = sourced(rolls, "waste", units::fraction, {0.0, 1.0});
        out.roll_laps = sourced(rolls, "laps", units::fraction, {0.0, 1.0});
        rolls.finish();
    });
    part("batts", [&](TableReader batts) { read_batts(std::move(batts), out.batts); });
    part("lumber", [&](TableReader lumber) { read_lumber(std::move(lumber), out.lumber); });
    part("tape", [&](TableReader tape) { read_linear(std::move(tape), "roll", out.tape); });
    part("sealant", [&](TableReader sealant) { read_linear(std::move(sealant), "cartridge", out.sealant); });
    part("gasket", [&](TableReader gasket) { read_linear(std::move(gasket), "roll", out.gasket); });
    part("boxes", [&](TableReader boxes) {
        out.box_waste = sourced(boxes, "waste", units::fraction, {0.0, 1.0});
        boxes.finish();
    });
    part("fasteners", [&](TableReader fasteners) { read_fasteners(std::move(fasteners), out.fasteners); });
    reader.finish();
    if (!problems.empty()) return fail(problems.front());
    return out;
}

const Packages& packages() {
    static const Packages all = [] {
        const auto text = embedded::find(file);
        assert(text && "packages.toml is embedded");
        auto read = read_packages(file, *text);
        assert(read && "packages.toml reads; takeoff_test checks it");
        return std::move(*read);
    }();
    return all;
}

}  // namespace warmside::takeoff
