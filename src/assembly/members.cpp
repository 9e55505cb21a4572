#include "assembly/members.h"

#include <algorithm>

namespace warmside::assembly {

namespace {

std::string trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(' ');
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(' ') - first + 1));
}

// "45 x 220 mm": a side without a unit takes that of the other.
std::optional<MemberSize> two_sizes(const std::string& left, const std::string& right) {
    const auto bare = [](const std::string& s) { return units::parse(s, units::number); };
    const auto a_number = bare(left), b_number = bare(right);
    std::string a_text = left, b_text = right;
    if (a_number && b_number) {
        // Nordic planed sizes are written so; no nominal size in inches is that large in both directions.
        if (*a_number < 18.0 || *b_number < 18.0) return std::nullopt;
        a_text += " mm";
        b_text += " mm";
    } else if (a_number) {
        const auto unit = right.find_last_of(' ');
        if (unit == std::string::npos) return std::nullopt;
        a_text += right.substr(unit);
    }
    const auto a = units::parse_exact(a_text), b = units::parse_exact(b_text);
    if (!a || !b || *a < Exact::millimetres(5) || *b < Exact::millimetres(5) ||
        std::max(*a, *b) > Exact::millimetres(1000))
        return std::nullopt;
    return MemberSize{std::min(*a, *b), std::max(*a, *b)};
}

}  // namespace

std::optional<MemberSize> member_size(const material::Catalogue& catalogue, const std::string& text) {
    if (const auto* found = catalogue.member(text)) {
        const Exact a = Exact::nearest(found->thickness), b = Exact::nearest(found->depth);
        return MemberSize{std::min(a, b), std::max(a, b)};
    }
    const auto cross = text.find('x');
    if (cross == std::string::npos) return std::nullopt;
    return two_sizes(trimmed(std::string_view(text).substr(0, cross)),
                     trimmed(std::string_view(text).substr(cross + 1)));
}

}  // namespace warmside::assembly
