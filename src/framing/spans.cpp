#include "framing/spans.h"

#include <algorithm>
#include <cassert>
#include <fmt/format.h>

#include "base/embedded.h"
#include "framing/dressed.h"
#include "units/reader.h"

namespace warmside::framing {

namespace {

constexpr std::string_view file = "data/framing/spans/headers.toml";
// Lengths and pressures come through decimal text.
constexpr double slack = 1e-6;
constexpr double pascal_slack = 0.5;
// IRC Table R602.7(1), footnote: headers of 2x8 and deeper whose top is not braced.
constexpr double unbraced_share = 0.70;

std::optional<std::vector<int>> whole_numbers(units::TableReader& reader, std::string_view key) {
    const toml::array* array = reader.array(key);
    if (!array) return std::nullopt;
    std::vector<int> out;
    for (const toml::node& node : *array) {
        const auto value = node.value<std::int64_t>();
        if (!value || *value < 1 || *value > 9) {
            reader.complain(key, Code::out_of_range, "must be whole numbers from 1 to 9");
            return std::nullopt;
        }
        out.push_back(static_cast<int>(*value));
    }
    return out;
}

struct SourceRead {
    std::optional<std::string> source, evidence;
    explicit SourceRead(units::TableReader& reader)
        : source(reader.required(reader.text("source"), "source")),
          evidence(reader.required(reader.text("evidence"), "evidence")) {}
    [[nodiscard]] bool whole() const { return source && evidence; }
    [[nodiscard]] Origin origin(const units::TableReader& reader, std::string_view file_name) const {
        Place where = reader.place();
        where.file = std::string(file_name);
        return {Origin::Kind::standard, where, *source, evidence_of(*evidence)};
    }
};

std::optional<HeaderRow> read_row(units::TableReader reader, std::string_view file_name, Problems& problems) {
    const auto carries = reader.required(reader.word("carries", {"roof", "roof and floor"}), "carries");
    const auto snow =
        reader.required(reader.quantity("ground_snow", units::pressure, {0.0, 1e4}), "ground_snow");
    const auto plies = reader.required(reader.integer("plies", 1, 4), "plies");
    const auto member = reader.required(reader.text("member"), "member");
    const auto width = reader.required(reader.quantities("width", units::length, {1.0, 30.0}), "width");
    const auto span = reader.required(reader.quantities("span", units::length, {0.3, 10.0}), "span");
    const auto jacks = reader.required(whole_numbers(reader, "jacks"), "jacks");
    const SourceRead source(reader);
    reader.finish();
    if (!carries || !snow || !plies || !member || !width || !span || !jacks || !source.whole())
        return std::nullopt;
    if (width->empty() || width->size() != span->size() || width->size() != jacks->size() ||
        !std::is_sorted(width->begin(), width->end()) || !depth_of_two_by(*member)) {
        problems.push_back(
            {.code = Code::conflict,
             .what = fmt::format("{} needs a 2x member and one span and number of jacks for each width",
                                 reader.title()),
             .where = reader.place()});
        return std::nullopt;
    }
    return HeaderRow{*carries == "roof" ? Carries::roof : Carries::roof_and_floor,
                     *snow,
                     static_cast<int>(*plies),
                     *member,
                     *width,
                     *span,
                     *jacks,
                     source.origin(reader, file_name)};
}

void read_kings(units::TableReader reader, std::string_view file_name, KingRows& kings) {
    const auto span = reader.required(reader.quantities("span", units::length, {0.3, 10.0}), "span");
    const auto usual = reader.required(whole_numbers(reader, "usual"), "usual");
    const auto calm = reader.required(whole_numbers(reader, "calm"), "calm");
    const SourceRead source(reader);
    reader.finish();
    if (!span || !usual || !calm || !source.whole()) return;
    if (span->size() != usual->size() || span->size() != calm->size())
        reader.complain("span", Code::conflict, "needs one number of each kind");
    else
        kings = {*span, *usual, *calm, source.origin(reader, file_name)};
}

const HeaderTable& table() {
    static const HeaderTable read = [] {
        const auto text = embedded::find(file);
        assert(text && "headers.toml is embedded");
        auto done = read_headers(file, *text);
        assert(done && "headers.toml reads; framing_test checks it");
        return std::move(*done);
    }();
    return read;
}

// What a row allows at a width; nothing where it has no such column.
std::optional<HeaderChoice> allowed(const HeaderRow& row, double width, bool braced) {
    const auto above = std::find_if(row.width.begin(), row.width.end(),
                                    [&](double column) { return width <= column + slack; });
    if (above == row.width.end()) return std::nullopt;
    const auto i = static_cast<std::size_t>(above - row.width.begin());
    HeaderChoice out{.plies = row.plies, .member = row.member, .jacks = row.jacks[i], .span = row.span[i]};
    if (i > 0 && width < row.width[i] - slack) {
        const double t = (width - row.width[i - 1]) / (row.width[i] - row.width[i - 1]);
        out.span = row.span[i - 1] + t * (row.span[i] - row.span[i - 1]);
        out.jacks = std::max(row.jacks[i - 1], row.jacks[i]);
    }
    const bool deep = *depth_of_two_by(row.member) >= *depth_of_two_by("2x8");
    if (!braced && deep) {
        out.unbraced = true;
        out.span *= unbraced_share;
    }
    out.origin = row.origin;
    return out;
}

// The lightest column of snow that holds and has the width; 0 where there is none.
double snow_column(double width, double ground_snow, Carries carries) {
    double found = 0.0;
    for (const HeaderRow& row : table().headers) {
        if (row.carries != carries || row.ground_snow < ground_snow - pascal_slack) continue;
        if (width > row.width.back() + slack) continue;
        if (found == 0.0 || row.ground_snow < found) found = row.ground_snow;
    }
    return found;
}

}  // namespace

std::optional<units::Exact> depth_of_two_by(std::string_view member) {
    for (const Dressed& size : dressed_widths) {
        if (size.nominal >= 4 && member == fmt::format("2x{}", size.nominal)) return size.actual;
    }
    return std::nullopt;
}

Result<HeaderTable> read_headers(std::string_view file_name, std::string_view text) {
    const auto parsed = units::parse_toml(file_name, text);
    if (!parsed) return fail(parsed.error());
    Problems problems;
    HeaderTable out;
    units::TableReader reader(*parsed, std::string(file_name), problems);
    if (const toml::array* array = reader.array("header")) {
        for (const toml::node& node : *array) {
            const toml::table* row = node.as_table();
            if (!row) return fail(Code::wrong_type, "a header is a table", units::place_of(node));
            if (auto read = read_row({*row, "[[header]]", problems}, file_name, problems))
                out.headers.push_back(std::move(*read));
        }
    }
    if (const toml::table* kings = reader.table("king"))
        read_kings({*kings, "[king]", problems}, file_name, out.kings);
    reader.finish();
    if (!problems.empty()) return fail(problems.front());
    if (out.headers.empty() || out.kings.span.empty())
        return fail(Code::missing, fmt::format("{} needs [[header]] rows and [king]", file_name));
    std::stable_sort(out.headers.begin(), out.headers.end(), [](const HeaderRow& a, const HeaderRow& b) {
        if (a.plies != b.plies) return a.plies < b.plies;
        return *depth_of_two_by(a.member) < *depth_of_two_by(b.member);
    });
    return out;
}

std::optional<HeaderChoice> header_for(double span, double width, double ground_snow, Carries carries,
                                       bool braced, int most_plies, double most_height) {
    const double snow = snow_column(width, ground_snow, carries);
    for (const HeaderRow& row : table().headers) {
        if (row.carries != carries || row.ground_snow != snow || row.plies > most_plies) continue;
        if (depth_of_two_by(row.member)->metres() > most_height + slack) continue;
        const auto choice = allowed(row, width, braced);
        if (choice && choice->span >= span - slack) return choice;
    }
    return std::nullopt;
}

std::optional<HeaderChoice> header_row(int plies, std::string_view member, double width, double ground_snow,
                                       Carries carries, bool braced) {
    const double snow = snow_column(width, ground_snow, carries);
    for (const HeaderRow& row : table().headers) {
        if (row.carries == carries && row.ground_snow == snow && row.plies == plies && row.member == member)
            return allowed(row, width, braced);
    }
    return std::nullopt;
}

std::optional<int> kings_for(double span, bool calm) {
    const KingRows& kings = table().kings;
    for (std::size_t i = 0; i < kings.span.size(); ++i) {
        if (span <= kings.span[i] + slack) return calm ? kings.calm[i] : kings.usual[i];
    }
    return std::nullopt;
}

}  // namespace warmside::framing
