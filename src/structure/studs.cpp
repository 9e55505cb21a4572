#include "structure/studs.h"

#include <algorithm>

#include "framing/spans.h"
#include "structure/data.h"

namespace warmside::structure {

namespace {

constexpr double slack = 1e-6;

/// Largest spacings of one stud, m, by column of the table, and how well each is known.
struct SpacingRow {
    std::vector<double> spacing;
    std::vector<Origin> origins;
};

struct Tables {
    SpacingRow two_by_four, two_by_six;
    double height = 0.0, free_spacing = 0.0, free_two_by_four = 0.0, free_two_by_six = 0.0;
    Origin height_origin, free_spacing_origin, free_height_origin, kings;
    std::vector<std::string> header_species, header_grades;
    Bores bores;
    double strong_b = 0.0, strong_c = 0.0, light_b = 0.0;
};

SpacingRow spacing_row(DataFile& file, units::TableReader& reader, const std::string& key, double inch) {
    SpacingRow out;
    out.spacing = list(reader, key, inch);
    const auto words = reader.required(reader.texts(key + "_evidence"), key + "_evidence");
    for (const std::string& word : words.value_or(std::vector<std::string>{}))
        out.origins.push_back(file.origin(reader, word));
    if (out.spacing.size() != 4 || out.origins.size() != 4)
        reader.complain(key, Code::incomplete, "four columns, each with an evidence word");
    return out;
}

Tables read(DataFile& file) {
    Tables t;
    auto s = file.open("spacing");
    const double inch = unit_of(s, units::length);
    t.two_by_four = spacing_row(file, s, "two_by_four", inch);
    t.two_by_six = spacing_row(file, s, "two_by_six", inch);
    auto sh = file.open("spacing_height");
    t.height = value(sh, "height", units::length);
    t.height_origin = file.origin(sh);
    auto n = file.open("nonbearing_spacing");
    t.free_spacing = value(n, "spacing", units::length);
    t.free_spacing_origin = file.origin(n);
    auto nh = file.open("nonbearing_height");
    t.free_two_by_four = value(nh, "two_by_four", units::length);
    t.free_two_by_six = value(nh, "two_by_six", units::length);
    t.free_height_origin = file.origin(nh);
    auto k = file.open("kings");
    t.strong_b = value(k, "strong_below_b", units::speed);
    t.strong_c = value(k, "strong_below_c", units::speed);
    t.light_b = value(k, "light_up_to_b", units::speed);
    t.kings = file.origin(k);
    auto h = file.open("headers");
    t.header_species = h.required(h.texts("species"), "species").value_or(std::vector<std::string>{});
    t.header_grades = h.required(h.texts("grades"), "grades").value_or(std::vector<std::string>{});
    auto b = file.open("bores");
    t.bores = {number(b, "bore"),
               number(b, "doubled_above"),
               number(b, "notch_bearing"),
               number(b, "notch_nonbearing"),
               value(b, "edge", units::length),
               file.origin(b)};
    return t;
}

const Tables& tables() {
    static const Tables all = embedded_data<Tables>("data/structure/studs.toml", read);
    return all;
}

}  // namespace

const char* name_of(Supports supports) {
    switch (supports) {
        case Supports::roof: return "roof";
        case Supports::one_floor_and_roof: return "one floor and roof";
        case Supports::two_floors_and_roof: return "two floors and roof";
        case Supports::one_floor: return "one floor";
        case Supports::nothing: return "its own weight";
    }
    return "";
}

std::optional<SpacingRule> largest_spacing(std::string_view nominal, Supports supports) {
    const Tables& t = tables();
    const bool four = nominal == "2x4";
    if (!four && nominal != "2x6" && nominal != "2x8" && nominal != "2x10" && nominal != "2x12")
        return std::nullopt;
    if (supports == Supports::nothing)
        return SpacingRule{t.free_spacing, four ? t.free_two_by_four : t.free_two_by_six,
                           t.free_spacing_origin, t.free_height_origin};
    const auto& row = four ? t.two_by_four : t.two_by_six;
    const auto column = static_cast<std::size_t>(supports);
    return SpacingRule{row.spacing[column], t.height, row.origins[column], t.height_origin};
}

std::optional<KingRule> kings_for(double width, double wind, Exposure exposure, bool jacks) {
    const Tables& t = tables();
    const bool calm = exposure == Exposure::b && wind <= t.light_b + slack;
    const bool strong = (exposure == Exposure::b && wind < t.strong_b - slack) ||
                        (exposure == Exposure::c && wind < t.strong_c - slack);
    if (!calm && !strong) return std::nullopt;
    const auto kings = framing::kings_for(width, calm && jacks);
    return kings ? std::optional(KingRule{*kings, t.kings}) : std::nullopt;
}

bool header_lumber(std::string_view species, std::string_view grade) {
    const Tables& t = tables();
    const auto has = [](const std::vector<std::string>& words, std::string_view word) {
        return std::find(words.begin(), words.end(), word) != words.end();
    };
    return has(t.header_species, species) && has(t.header_grades, grade);
}

const Bores& bores() {
    return tables().bores;
}

}  // namespace warmside::structure
