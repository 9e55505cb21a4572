#include "structure/lumber.h"

#include <cmath>
#include <fmt/format.h>
#include <vector>

#include "structure/data.h"

namespace warmside::structure {

namespace {

constexpr std::string_view path = "data/structure/lumber.toml";
// Exact sizes and decimal inches: 0.1 mm tells a 2x from a Nordic 36, 45 or 48 mm.
constexpr double slack = 1e-4;

struct Row {
    std::string species, grade, width;  ///< width: only this one, "2x6"; empty: any
    std::vector<double> values;
    Origin origin;
};

struct Gravity {
    std::string species;
    double value = 0.0;
    Origin origin;
};

struct Tables {
    double thickness = 0.0;  ///< of dimension lumber, m
    std::vector<Row> rows;
    std::vector<Gravity> gravities;
    std::string wide_stud;  ///< the grade that a Stud wider than the list counts as
    Origin wide_stud_origin, size_origin;
    std::vector<double> nominal, depth, bending, compression, stud_bending, stud_compression;
    Durations durations;
};

/// The table's origin at the row's place, with the row's own source and evidence where it has them.
Origin row_origin(units::TableReader& row, const Origin& table) {
    Origin out = table;
    out.where = row.place();
    out.where.file = table.where.file;
    if (const auto source = row.text("source")) out.source = *source;
    if (const auto evidence = row.text("evidence")) out.evidence = evidence_of(*evidence);
    return out;
}

void read_grades(DataFile& file, Tables& out) {
    auto head = file.open("table");
    const double unit = unit_of(head, units::pressure);
    const Origin origin = file.origin(head);
    for (auto& row : file.rows("grade")) {
        Row each;
        each.species = row.required(row.text("species"), "species").value_or("");
        each.grade = row.required(row.text("grade"), "grade").value_or("");
        each.width = row.text("width").value_or("");
        each.values = list(row, "values", unit);
        each.origin = row_origin(row, origin);
        if (each.values.size() != 6) row.complain("values", Code::incomplete, "a grade has six values");
        out.rows.push_back(std::move(each));
    }
    for (auto& row : file.rows("gravity")) {
        out.gravities.push_back({row.required(row.text("species"), "species").value_or(""),
                                 number(row, "value"), file.origin(row)});
    }
    auto wide = file.open("wide_stud");
    out.wide_stud = wide.required(wide.text("grade"), "grade").value_or("");
    out.wide_stud_origin = file.origin(wide);
}

Tables read(DataFile& file) {
    Tables out;
    read_grades(file, out);
    auto size = file.open("size");
    const double inch = *units::parse("1 in", units::length);
    out.thickness = 1.5 * inch;
    out.nominal = list(size, "nominal");
    out.depth = list(size, "depth", inch);
    out.bending = list(size, "bending");
    out.compression = list(size, "compression");
    out.stud_bending = list(size, "stud_bending");
    out.stud_compression = list(size, "stud_compression");
    out.size_origin = file.origin(size);
    auto duration = file.open("duration");
    auto roof = file.open("roof_duration");
    out.durations = {.dead = number(duration, "dead"),
                     .live = number(duration, "live"),
                     .snow = number(duration, "snow"),
                     .construction = number(roof, "construction"),
                     .wind = number(duration, "wind"),
                     .repetitive = number(duration, "repetitive"),
                     .origin = file.origin(duration),
                     .construction_origin = file.origin(roof)};
    return out;
}

const Tables& tables() {
    static const Tables all = embedded_data<Tables>(path, read);
    return all;
}

std::optional<std::size_t> column_of(const Size& size) {
    const Tables& t = tables();
    if (std::abs(size.breadth - t.thickness) > slack) return std::nullopt;
    for (std::size_t i = 0; i < t.depth.size(); ++i) {
        if (std::abs(size.depth - t.depth[i]) < slack) return i;
    }
    return std::nullopt;
}

}  // namespace

const Durations& durations() {
    return tables().durations;
}

std::string nominal_of(const Size& size) {
    const auto column = column_of(size);
    return column ? fmt::format("2x{:g}", tables().nominal[*column]) : std::string();
}

std::optional<Lumber> lumber_of(std::string_view species, std::string_view grade, const Size& size) {
    const auto column = column_of(size);
    if (!column) return std::nullopt;
    const Tables& t = tables();
    const bool is_stud = grade == "Stud", listed_stud = is_stud && *column < t.stud_bending.size();
    const std::string_view listed = is_stud && !listed_stud ? std::string_view(t.wide_stud) : grade;
    const std::string width = nominal_of(size);
    for (const Row& row : t.rows) {
        if (row.species != species || row.grade != listed) continue;
        if (!row.width.empty() && row.width != width) continue;
        Lumber out{.species = std::string(species),
                   .grade = std::string(grade),
                   .bending = row.values[0],
                   .shear = row.values[1],
                   .across = row.values[2],
                   .compression = row.values[3],
                   .modulus = row.values[4],
                   .stability = row.values[5],
                   .size_bending = t.bending[*column],
                   .size_compression = t.compression[*column],
                   .origin = row.origin,
                   .size_origin = t.size_origin};
        if (listed_stud) {
            out.size_bending = t.stud_bending[*column];
            out.size_compression = t.stud_compression[*column];
        } else if (is_stud) {
            out.origin = t.wide_stud_origin;
        }
        if (!row.width.empty()) {  // the size effect is in the values
            out.size_bending = out.size_compression = 1.0;
            out.size_origin = row.origin;
        }
        for (const Gravity& each : t.gravities) {
            if (each.species != species) continue;
            out.gravity = each.value;
            out.gravity_origin = each.origin;
        }
        return out;
    }
    return std::nullopt;
}

}  // namespace warmside::structure
