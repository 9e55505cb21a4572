// The cells of R tables, as they are printed.
#include <fmt/format.h>

#include <charconv>

#include "rules/tables.h"

namespace warmside::rules {

namespace {

std::string_view trim(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

/// The pieces between separators, trimmed.
std::vector<std::string_view> split(std::string_view text, std::string_view by) {
    std::vector<std::string_view> out;
    for (std::size_t at; (at = text.find(by)) != std::string_view::npos; text.remove_prefix(at + by.size()))
        out.push_back(trim(text.substr(0, at)));
    out.push_back(trim(text));
    return out;
}

/// A plain figure of an R table to m2 K/W.
std::optional<double> resistance(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc{} && end == text.data() + text.size();
    if (!whole || !(value >= 0.0 && value <= 1000.0)) return std::nullopt;
    const auto si = units::parse(fmt::format("{} h ft2 degF/Btu", value), units::thermal_resistance);
    return si ? std::optional(*si) : std::nullopt;
}

std::optional<LayerOption> option(std::string_view text) {
    const auto pieces = split(text, "&");
    LayerOption out;
    if (pieces.empty() || pieces.size() > 2) return std::nullopt;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        auto piece = pieces[i];
        const bool continuous = piece.ends_with("ci");
        if (continuous) piece.remove_suffix(2);
        const bool in_order = pieces.size() == 1 || continuous == (i == 1);
        const auto r = resistance(trim(piece));
        if (!r || !in_order) return std::nullopt;
        (continuous ? out.continuous : out.cavity) = *r;
    }
    return out;
}

/// "4 ft" or "5 full" behind the first comma.
bool condition(std::string_view text, Cell& cell) {
    if (text.ends_with("full")) {
        const auto r = resistance(trim(text.substr(0, text.size() - 4)));
        if (r) cell.full = *r;
        return r.has_value();
    }
    const auto depth = units::parse(text, units::length);
    if (depth) cell.depth = *depth;
    return depth && *depth > 0.0;
}

bool mass(std::string_view text, Cell& cell) {
    const auto pieces = split(text, "/");
    if (pieces.size() != 2) return false;
    const auto any = resistance(pieces[0]), inside = resistance(pieces[1]);
    if (!any || !inside) return false;
    cell.options = {{*any, 0.0}};
    cell.inside = inside;
    return true;
}

}  // namespace

Result<Cell> read_layers(std::string_view text) {
    Cell cell;
    cell.words = std::string(trim(text));
    if (cell.words == "NR") {
        cell.asked = false;
        return cell;
    }
    const auto wrong = [&] {
        return fail(Code::syntax, fmt::format("\"{}\" is not an R row, such as \"30 or 20&5ci\", \"10ci, 4 "
                                              "ft\", \"8/13\" or \"NR\"",
                                              text));
    };
    const auto pieces = split(cell.words, ",");
    if (pieces[0].find('/') != std::string_view::npos) {
        if (pieces.size() > 1 || !mass(pieces[0], cell)) return wrong();
        return cell;
    }
    for (const auto way : split(pieces[0], " or ")) {
        const auto read = option(way);
        if (!read) return wrong();
        cell.options.push_back(*read);
    }
    for (std::size_t i = 1; i < pieces.size(); ++i) {
        if (!condition(pieces[i], cell)) return wrong();
    }
    return cell;
}

}  // namespace warmside::rules
