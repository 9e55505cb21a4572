#include "units/price.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <optional>

#include "units/quantity.h"

namespace warmside::units {

namespace {

constexpr std::string_view amounts = "kWh, therm, gallon, ft3, cord, tonne";
constexpr std::string_view prices = "0.15 $/kWh, 2.46 $/gallon, 12 $/month";

std::string_view trim(std::string_view text) {
    const auto first = text.find_first_not_of(' ');
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

bool starts_number(char c) {
    return (c >= '0' && c <= '9') || c == '.' || c == '-' || c == '+';
}

// The number at the front of `text`, which then starts behind it.
std::optional<double> take_number(std::string_view& text) {
    if (text.empty() || !starts_number(text.front())) return std::nullopt;
    if (text.front() == '+') text.remove_prefix(1);
    // from_chars would also take "-inf" and "-nan".
    if (text.empty() || text.find_first_of("0123456789.") > 1) return std::nullopt;
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    return value;
}

tl::unexpected<Problem> refuse(Code code, std::string_view text, std::string_view name,
                               std::string_view examples) {
    Problem problem;
    problem.code = code;
    problem.what = fmt::format("\"{}\" is not {} ({})", text.substr(0, 200), name, examples);
    problem.found = std::string(text.substr(0, 200));
    problem.expected = std::string(examples);
    return fail(std::move(problem));
}

std::optional<Amount> amount_of(std::string_view text) {
    auto rest = trim(text);
    double count = 1.0;
    if (!rest.empty() && starts_number(rest.front())) {
        const auto taken = take_number(rest);
        if (!taken || *taken <= 0.0) return std::nullopt;
        count = *taken;
    }
    const std::string unit(trim(rest));
    if (unit == "month") return Amount{count, Per::month, unit};
    struct Kind {
        const Dimension* dimension;
        Per per;
    };
    for (const Kind kind : {Kind{&energy, Per::joule}, {&volume, Per::cubic_metre}, {&mass, Per::kilogram}}) {
        for (const Spelling& spelling : kind.dimension->spellings) {
            const double value = count * spelling.factor;
            if (spelling.text == unit && std::isfinite(value)) return Amount{value, kind.per, unit};
        }
    }
    return std::nullopt;
}

}  // namespace

bool is_currency(std::string_view word) {
    // Letters and signs of any alphabet, but nothing that a number or a unit could hold.
    return !word.empty() && word.size() <= 8 && std::none_of(word.begin(), word.end(), [](unsigned char c) {
        return c <= ' ' || c == 127 || starts_number(static_cast<char>(c)) || c == '/' || c == '"' ||
               c == '%';
    });
}

Result<Amount> parse_amount(std::string_view text) {
    const auto body = trim(text);
    const bool counted = !body.empty() && starts_number(body.front());
    const auto amount = counted && body.size() <= 200 ? amount_of(body) : std::nullopt;
    if (!amount || amount->per == Per::month) {
        return refuse(counted ? Code::wrong_unit : Code::syntax, text, "an amount of fuel", amounts);
    }
    return *amount;
}

Result<Price> parse_price(std::string_view text) {
    const auto no = [&](Code code) { return refuse(code, text, "a price", prices); };
    const auto slash = text.find('/');
    if (text.size() > 200 || slash == std::string_view::npos) return no(Code::syntax);
    auto front = trim(text.substr(0, slash));
    Price price;
    const auto take_currency = [&] {
        const auto end = static_cast<std::size_t>(
            std::find_if(front.begin(), front.end(), [](char c) { return c == ' ' || starts_number(c); }) -
            front.begin());
        price.currency = std::string(front.substr(0, end));
        front = trim(front.substr(end));
    };
    const bool leads = !front.empty() && !starts_number(front.front());
    if (leads) take_currency();
    const auto money = take_number(front);
    if (!money) return no(Code::syntax);
    front = trim(front);
    if (!leads) take_currency();
    if (!front.empty() || !is_currency(price.currency)) return no(Code::syntax);
    const auto amount = amount_of(text.substr(slash + 1));
    if (!amount) return no(Code::wrong_unit);
    price.money = *money;
    price.amount = *amount;
    if (!std::isfinite(price.each())) return no(Code::syntax);
    return price;
}

}  // namespace warmside::units
