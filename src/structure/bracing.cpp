#include "structure/bracing.h"

#include <algorithm>
#include <array>

#include "structure/data.h"

namespace warmside::structure {

namespace {

// Speeds and lengths come through decimal text.
constexpr double slack = 1e-6;

struct LengthRow {
    double wind = 0.0;
    bool below = false;  ///< for less than that speed, not for it
    int floors = 0;
    std::vector<double> sheathed, panels;
};

struct Tables {
    std::vector<double> spacing;
    std::vector<LengthRow> rows;
    std::vector<double> exposure_c, exposure_d, rise, storey, storey_factor, lines;
    std::array<std::vector<double>, 3> rise_factor;
    double no_gypsum = 1.0, no_blocking = 1.0;
    double from_end = 0.0, gap = 0.0;
    std::vector<BracingMethod> methods;
    std::vector<double> wall, opening;
    std::vector<std::vector<double>> least;
    std::vector<SheathingRow> sheathing;
    Origin origin;
};

std::vector<std::vector<double>> matrix(units::TableReader& reader, std::string_view key, double factor) {
    std::vector<std::vector<double>> out;
    if (const toml::array* array = reader.array(key)) {
        for (const toml::node& row : *array) {
            std::vector<double> values;
            if (const auto* cells = row.as_array()) {
                for (const toml::node& cell : *cells) values.push_back(cell.value_or(0.0) * factor);
            }
            out.push_back(std::move(values));
        }
    }
    return out;
}

Tables read(DataFile& file) {
    Tables t;
    auto lengths = file.open("lengths");
    const double foot = unit_of(lengths, units::length);
    t.spacing = list(lengths, "spacing", foot);
    t.origin = file.origin(lengths);
    for (auto& row : file.rows("row")) {
        t.rows.push_back({value(row, "wind", units::speed), row.flag("below").value_or(false),
                          static_cast<int>(number(row, "floors")), list(row, "sheathed", foot),
                          list(row, "panels", foot)});
    }
    auto f = file.open("factors");
    t.exposure_c = list(f, "exposure_c");
    t.exposure_d = list(f, "exposure_d");
    t.rise = list(f, "rise", foot);
    t.rise_factor = {list(f, "rise_roof_only"), list(f, "rise_one_floor"), list(f, "rise_two_floors")};
    t.storey = list(f, "storey", foot);
    t.storey_factor = list(f, "storey_factor");
    t.lines = list(f, "lines");
    t.no_gypsum = number(f, "no_gypsum");
    t.no_blocking = number(f, "no_blocking");
    auto p = file.open("panel_lengths");
    const double inch = unit_of(p, units::length);
    t.wall = list(p, "wall", inch);
    t.opening = list(p, "opening", inch);
    t.least = matrix(p, "length", inch);
    if (t.least.size() != t.opening.size()) p.complain("length", Code::incomplete, "a row for each opening");
    for (auto& row : file.rows("sheathing")) {
        t.sheathing.push_back({value(row, "thickness", units::length), value(row, "spacing", units::length),
                               list(row, "speeds", units::speed), row.text("nail").value_or(""),
                               file.origin(row)});
    }
    auto places = file.open("places");
    t.from_end = value(places, "from_end", units::length);
    t.gap = value(places, "gap", units::length);
    for (auto& row : file.rows("method")) {
        t.methods.push_back({row.required(row.text("name"), "name").value_or(""),
                             row.required(row.text("what"), "what").value_or(""),
                             value(row, "spacing", units::length)});
    }
    return t;
}

const Tables& tables() {
    static const Tables all = embedded_data<Tables>("data/structure/bracing.toml", read);
    return all;
}

std::optional<double> table_length(const BracedLine& line) {
    const Tables& t = tables();
    if (!(line.spacing > 0)) return std::nullopt;
    for (const LengthRow& row : t.rows) {
        if (row.floors != line.floors) continue;
        if (row.below ? line.wind > row.wind - slack : line.wind > row.wind + slack) continue;
        const auto& lengths = line.continuous ? row.sheathed : row.panels;
        // Lines closer than the first column need as much as it says.
        return between(t.spacing, lengths, std::max(line.spacing, t.spacing.front()));
    }
    return std::nullopt;
}

}  // namespace

const Origin& bracing_origin() {
    return tables().origin;
}

std::vector<BracingMethod> other_methods(double spacing) {
    std::vector<BracingMethod> out;
    for (const BracingMethod& each : tables().methods) {
        if (spacing <= each.spacing + slack) out.push_back(each);
    }
    return out;
}

std::optional<double> braced_length(const BracedLine& line) {
    const Tables& t = tables();
    if (!(line.wind > 0 && line.wind < limits().wind)) return std::nullopt;
    if (line.floors < 0 || line.floors > 2 || line.storeys < 1 || line.storeys > 3) return std::nullopt;
    const auto base = table_length(line);
    const auto& by_rise = t.rise_factor[static_cast<std::size_t>(line.floors)];
    const std::vector<double> rises(t.rise.begin(),
                                    t.rise.begin() + static_cast<std::ptrdiff_t>(by_rise.size()));
    const auto rise = between(rises, by_rise, std::max(line.rise, rises.front()));
    const auto storey = between(t.storey, t.storey_factor, std::max(line.storey, t.storey.front()));
    if (!base || !rise || !storey) return std::nullopt;
    const std::size_t i = static_cast<std::size_t>(line.storeys - 1);
    const double exposure = line.exposure == Exposure::b   ? 1.0
                            : line.exposure == Exposure::c ? t.exposure_c[i]
                                                           : t.exposure_d[i];
    const std::size_t count =
        std::clamp<std::size_t>(static_cast<std::size_t>(std::max(line.lines, 2)) - 2, 0, t.lines.size() - 1);
    return *base * *rise * *storey * exposure * t.lines[count] * (line.gypsum ? 1.0 : t.no_gypsum) *
           (line.blocked ? 1.0 : t.no_blocking);
}

std::optional<double> least_panel(double opening, double wall) {
    const Tables& t = tables();
    const auto column =
        std::find_if(t.wall.begin(), t.wall.end(), [&](double height) { return wall <= height + slack; });
    const auto row = std::find_if(t.opening.begin(), t.opening.end(),
                                  [&](double height) { return opening <= height + slack; });
    if (column == t.wall.end() || row == t.opening.end()) return std::nullopt;
    return t.least[static_cast<std::size_t>(row - t.opening.begin())]
                  [static_cast<std::size_t>(column - t.wall.begin())];
}

std::optional<double> offered_length(const std::vector<Stretch>& stretches, double wall) {
    double sum = 0.0;
    if (!least_panel(0.0, wall)) return std::nullopt;
    for (const Stretch& each : stretches) {
        const auto least = least_panel(each.opening, wall);
        // Beside an opening taller than the table's rows nothing counts.
        if (least && each.length + slack >= *least) sum += each.length;
    }
    return sum;
}

bool well_placed(const std::vector<Stretch>& stretches, const std::vector<double>& gaps, double wall) {
    const Tables& t = tables();
    double clear = 0.0;  // since the last stretch that counts, or the wall's end
    bool any = false;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const auto least = least_panel(stretches[i].opening, wall);
        if (least && stretches[i].length + slack >= *least) {
            if (clear > (any ? t.gap : t.from_end) + slack) return false;
            any = true;
            clear = 0.0;
        } else {
            clear += stretches[i].length;
        }
        if (i < gaps.size()) clear += gaps[i];
    }
    return any && clear <= t.from_end + slack;
}

std::optional<SheathingRow> sheathing_row(double thickness, double spacing) {
    std::optional<SheathingRow> best;
    for (const SheathingRow& row : tables().sheathing) {
        if (thickness + slack < row.thickness || spacing > row.spacing + slack) continue;
        if (!best || row.speeds.front() > best->speeds.front()) best = row;
    }
    return best;
}

}  // namespace warmside::structure
