// Text with a unit to SI and back. The only place with conversion factors.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>

#include "base/result.h"

namespace warmside::units {

/// One accepted spelling: SI value = number * factor + offset.
struct Spelling {
    std::string_view text;
    double factor = 1.0;
    double offset = 0.0;
};

/// A kind of quantity, with its SI unit and the spellings that a person may type.
struct Dimension {
    std::string_view name;      ///< with its article: "a length"
    std::string_view si;        ///< SI unit as text
    std::string_view examples;  ///< for messages: "m, mm, in, ft"
    std::span<const Spelling> spellings;
};

extern const Dimension number;                  ///< plain number, or %
extern const Dimension fraction;                ///< -; "%" or a plain number
extern const Dimension length;                  ///< m
extern const Dimension area;                    ///< m2
extern const Dimension volume;                  ///< m3
extern const Dimension angle;                   ///< rad
extern const Dimension duration;                ///< s
extern const Dimension speed;                   ///< m/s
extern const Dimension mass;                    ///< kg
extern const Dimension density;                 ///< kg/m3, also moisture content by volume
extern const Dimension surface_mass;            ///< kg/m2
extern const Dimension temperature;             ///< K; "20 degC", "68 degF", "293.15 K"
extern const Dimension temperature_difference;  ///< K; "5 K", "9 degF"
extern const Dimension pressure;                ///< Pa
extern const Dimension force;                   ///< N; "lbf"
extern const Dimension line_load;               ///< N/m; "lbf/ft"
extern const Dimension vapour_density;          ///< kg/m3; "5 g/m3"
extern const Dimension conductivity;            ///< W/(m K)
extern const Dimension thermal_resistance;      ///< m2 K/W; also "R-23", "RSI 4.1"
extern const Dimension transmittance;           ///< W/(m2 K); also "U-0.045"
extern const Dimension linear_transmittance;    ///< W/(m K)
extern const Dimension point_transmittance;     ///< W/K
extern const Dimension heat_flux;               ///< W/m2
extern const Dimension power;                   ///< W
extern const Dimension energy;                  ///< J
extern const Dimension specific_heat;           ///< J/(kg K)
extern const Dimension areal_heat_capacity;     ///< J/(m2 K)
extern const Dimension permeance;               ///< kg/(s m2 Pa); "perm", "ng/(s m2 Pa)", "sd 2 m"
extern const Dimension permeability;            ///< kg/(s m Pa); also "mu 60"
extern const Dimension moisture_flux;           ///< kg/(s m2)
extern const Dimension rain;                    ///< kg/m2; "25 mm", "1 in"
extern const Dimension absorption;              ///< kg/(m2 s^0.5)
extern const Dimension diffusivity;             ///< m2/s
extern const Dimension flow;                    ///< m3/s; "cfm", "L/s"
extern const Dimension air_change;              ///< 1/s; "3 ACH", "0.5 1/h"
extern const Dimension air_leakage;             ///< m3/(s m2)
extern const Dimension fan_power;               ///< W/(m3/s); "0.5 W/cfm"
extern const Dimension mass_flow;               ///< kg/s; "8 kg/day"
extern const Dimension emission;                ///< kg/J; "0.4 kg/kWh"

/// Every dimension above, for tests and documents.
[[nodiscard]] std::span<const Dimension* const> dimensions();

/// Reads `"5 1/2 in"`, `"8 ft 1 1/8 in"`, `"195 mm"`, `"R-23"`, `"-12.5 degC"`, `"1e-3 m"`.
/// Returns SI. Lengths may be sums of feet and inches; fractions only before in and ft.
/// Problem  wrong_unit or syntax; `what` reads on after a key: `"5.5 W" is not a length (m, mm, in, ft)`
[[nodiscard]] Result<double> parse(std::string_view text, const Dimension& dimension);

/// kg/(s m Pa): vapour permeability of air that turns an sd value or a mu into a permeance.
/// ISO 10456:2007 and ISO 13788 use this constant (evidence: memory).
inline constexpr double still_air_permeability = 2.0e-10;

/// A length as an integer count of 1/8 micrometre, in which both 1 mm (8000) and 1/64 in (3175) are
/// whole. Sums and differences of members are exact.
class Exact {
public:
    constexpr Exact() = default;
    static constexpr Exact eighths_of_micrometre(std::int64_t n) { return Exact{n}; }
    static constexpr Exact millimetres(std::int64_t n) { return Exact{n * 8000}; }
    static constexpr Exact sixty_fourths_of_inch(std::int64_t n) { return Exact{n * 3175}; }
    /// The nearest count to a length in m.
    static Exact nearest(double metres);
    [[nodiscard]] constexpr std::int64_t count() const { return count_; }
    [[nodiscard]] constexpr double metres() const { return static_cast<double>(count_) / 8e6; }
    friend constexpr Exact operator+(Exact a, Exact b) { return Exact{a.count_ + b.count_}; }
    friend constexpr Exact operator-(Exact a, Exact b) { return Exact{a.count_ - b.count_}; }
    friend constexpr Exact operator*(Exact a, std::int64_t n) { return Exact{a.count_ * n}; }
    friend constexpr auto operator<=>(Exact, Exact) = default;
    constexpr Exact& operator+=(Exact b) { return *this = *this + b; }

private:
    constexpr explicit Exact(std::int64_t count) : count_(count) {}
    std::int64_t count_ = 0;
};
/// Half of it, to the count below.
[[nodiscard]] constexpr Exact half(Exact whole) {
    return Exact::eighths_of_micrometre(whole.count() / 2);
}
/// As parse with `length`, kept exact.
[[nodiscard]] Result<Exact> parse_exact(std::string_view text);

// SI to text for people. Inch-pound figures follow the trade: R in h ft2 degF/Btu without a unit.

/// m to `5 1/2 in`, to the nearest 1/16 in (`per_inch` = 16); 1 ft and more keeps inches.
[[nodiscard]] std::string inches(double metres, int per_inch = 16);
/// m to `8 ft 1 1/8 in`.
[[nodiscard]] std::string feet_inches(double metres, int per_inch = 16);
/// m to `139.7 mm`.
[[nodiscard]] std::string millimetres(double metres, int decimals = 0);
/// m2 K/W to the number of an R value in h ft2 degF/Btu.
[[nodiscard]] double ip_r(double rsi);
/// W/(m2 K) to Btu/(h ft2 degF).
[[nodiscard]] double ip_u(double u);
/// kg/(s m2 Pa) to US perm.
[[nodiscard]] double perm(double permeance);
/// K to degrees Celsius and Fahrenheit.
[[nodiscard]] double celsius(double kelvin);
[[nodiscard]] double fahrenheit(double kelvin);

}  // namespace warmside::units
