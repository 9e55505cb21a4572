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
    double gravity = 0.0;
    std::vector<double> values;
    Origin origin;
};

struct Tables {
    double thickness = 0.0;  ///< of dimension lumber, m
    std::vector<Row> rows;
    std::vector<double> nominal, depth, bending, compression, stud_bending, stud_compression;
    Durations durations;
};

Tables read(DataFile& file) {
    Tables out;
    auto head = file.open("table");
    const double unit = unit_of(head, units::pressure);
    const Origin origin = file.origin(head);
    for (auto& row : file.rows("grade")) {
        Row each;
        each.species = row.required(row.text("species"), "species").value_or("");
        each.grade = row.required(row.text("grade"), "grade").value_or("");
        each.width = row.text("width").value_or("");
        each.gravity = number(row, "gravity");
        each.values = list(row, "values", unit);
        each.origin = origin;
        each.origin.where = row.place();
        each.origin.where.file = origin.where.file;
        if (const auto source = row.text("source")) each.origin.source = *source;
        if (each.values.size() != 7) row.complain("values", Code::incomplete, "a grade has seven values");
        out.rows.push_back(std::move(each));
    }
    auto size = file.open("size");
    const double inch = *units::parse("1 in", units::length);
    out.thickness = 1.5 * inch;
    out.nominal = list(size, "nominal");
    out.depth = list(size, "depth", inch);
    out.bending = list(size, "bending");
    out.compression = list(size, "compression");
    out.stud_bending = list(size, "stud_bending");
    out.stud_compression = list(size, "stud_compression");
    auto duration = file.open("duration");
    out.durations = {number(duration, "dead"), number(duration, "live"),
                     number(duration, "snow"), number(duration, "construction"),
                     number(duration, "wind"), number(duration, "repetitive"),
                     file.origin(duration)};
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
    const bool stud = grade == "Stud" && *column < t.stud_bending.size();
    const std::string_view listed = grade == "Stud" && !stud ? "No. 3" : grade;
    const std::string width = nominal_of(size);
    for (const Row& row : t.rows) {
        if (row.species != species || row.grade != listed) continue;
        if (!row.width.empty() && row.width != width) continue;
        Lumber out{std::string(species), std::string(grade),     row.values[0], row.values[1], row.values[2],
                   row.values[3],        row.values[4],          row.values[5], row.values[6], row.gravity,
                   t.bending[*column],   t.compression[*column], row.origin};
        if (stud) {
            out.size_bending = t.stud_bending[*column];
            out.size_compression = t.stud_compression[*column];
        }
        if (!row.width.empty()) out.size_bending = out.size_compression = 1.0;
        return out;
    }
    return std::nullopt;
}

}  // namespace warmside::structure
