// Prices of energy as they are printed on a bill: "0.152 $/kWh", "$2.46/gallon", "14.75 $/1000 ft3", "15
// $/month".
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace warmside::units {

enum class Per { joule, cubic_metre, kilogram, month };

/// How much of a fuel: "500 kWh", "1000 ft3", "1 cord".
struct Amount {
    double value = 0.0;  ///< J, m3, kg or months, by `per`
    Per per = Per::joule;
    std::string unit;  ///< as written, without its number: "ft3"
};

/// Problem  wrong_unit or syntax; `what` reads on after a key: `"5 ft" is not an amount of fuel (kWh, ...)`
[[nodiscard]] Result<Amount> parse_amount(std::string_view text);

/// A sum of money for an amount. Money stays in the currency in which it is written.
struct Price {
    double money = 0.0;    ///< for the whole amount
    std::string currency;  ///< as written: "$", "EUR"
    Amount amount;
    /// Money per J, m3, kg or month.
    [[nodiscard]] double each() const { return money / amount.value; }
};

/// Currency before or behind the number, then what it buys: "0.152 $/kWh", "$0.152/kWh", "280 $/cord".
/// Problem  syntax or wrong_unit, as above
[[nodiscard]] Result<Price> parse_price(std::string_view text);

/// Money without a unit would be read as anything; a currency is a sign or a word of up to eight letters.
[[nodiscard]] bool is_currency(std::string_view word);

}  // namespace warmside::units
