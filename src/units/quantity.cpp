#include "units/quantity.h"

#include <array>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <vector>

namespace warmside::units {

namespace {

// Exact by definition: inch 25.4 mm (1959), pound 0.45359237 kg, standard gravity 9.80665 m/s2,
// Btu of the International Table 1055.05585262 J, K per degF 5/9.
constexpr double inch = 0.0254;
constexpr double foot = 12 * inch;
constexpr double pound = 0.45359237;
constexpr double gravity = 9.80665;
constexpr double btu = 1055.05585262;
constexpr double hour = 3600.0;
constexpr double rankine = 5.0 / 9.0;
constexpr double pi = 3.14159265358979323846;
constexpr double grain = pound / 7000.0;
// Conventional inch of mercury at 0 degC: 13.5951 g/cm3 and standard gravity.
constexpr double inch_mercury = 13595.1 * gravity * inch;
constexpr double us_r = foot * foot * rankine * hour / btu;  // h ft2 degF/Btu in m2 K/W
constexpr double us_perm = grain / (hour * foot * foot * inch_mercury);
constexpr double cubic_foot = foot * foot * foot;
constexpr double gallon = 231.0 * inch * inch * inch;  // US, for liquids
constexpr double cord = 128.0 * cubic_foot;            // of stacked wood

constexpr std::array no_unit{Spelling{"", 1.0}};
constexpr std::array parts{Spelling{"", 1.0}, Spelling{"%", 0.01}};
constexpr std::array lengths{Spelling{"m", 1.0},           Spelling{"mm", 1e-3},   Spelling{"cm", 1e-2},
                             Spelling{"um", 1e-6},         Spelling{"µm", 1e-6},   Spelling{"in", inch},
                             Spelling{"in.", inch},        Spelling{"inch", inch}, Spelling{"inches", inch},
                             Spelling{"\"", inch},         Spelling{"ft", foot},   Spelling{"ft.", foot},
                             Spelling{"foot", foot},       Spelling{"feet", foot}, Spelling{"'", foot},
                             Spelling{"mil", inch / 1000}, Spelling{"km", 1e3}};
constexpr std::array areas{Spelling{"m2", 1.0},           Spelling{"mm2", 1e-6},
                           Spelling{"cm2", 1e-4},         Spelling{"ft2", foot* foot},
                           Spelling{"sq ft", foot* foot}, Spelling{"in2", inch* inch}};
// Gas: ccf and Mcf are a hundred and a thousand cubic feet.
constexpr std::array volumes{Spelling{"m3", 1.0},
                             Spelling{"L", 1e-3},
                             Spelling{"ft3", cubic_foot},
                             Spelling{"ccf", 1e2 * cubic_foot},
                             Spelling{"Mcf", 1e3 * cubic_foot},
                             Spelling{"gallon", gallon},
                             Spelling{"gallons", gallon},
                             Spelling{"gal", gallon},
                             Spelling{"cord", cord},
                             Spelling{"cords", cord}};
constexpr std::array angles{Spelling{"rad", 1.0}, Spelling{"deg", pi / 180}, Spelling{"°", pi / 180},
                            Spelling{"degrees", pi / 180}};
constexpr std::array durations{Spelling{"s", 1.0},           Spelling{"min", 60.0},
                               Spelling{"h", hour},          Spelling{"d", 24 * hour},
                               Spelling{"day", 24 * hour},   Spelling{"days", 24 * hour},
                               Spelling{"week", 168 * hour}, Spelling{"weeks", 168 * hour},
                               Spelling{"hour", hour},       Spelling{"hours", hour}};
constexpr std::array speeds{Spelling{"m/s", 1.0}, Spelling{"km/h", 1 / 3.6},
                            Spelling{"mph", 5280 * foot / hour}};
constexpr std::array masses{Spelling{"kg", 1.0}, Spelling{"g", 1e-3}, Spelling{"lb", pound},
                            Spelling{"tonne", 1e3}, Spelling{"short ton", 2000.0 * pound}};
constexpr std::array densities{Spelling{"kg/m3", 1.0}, Spelling{"lb/ft3", pound / cubic_foot},
                               Spelling{"pcf", pound / cubic_foot}};
constexpr std::array surface_masses{Spelling{"kg/m2", 1.0}, Spelling{"g/m2", 1e-3},
                                    Spelling{"lb/ft2", pound / (foot * foot)}};
constexpr std::array temperatures{Spelling{"K", 1.0},
                                  Spelling{"degC", 1.0, 273.15},
                                  Spelling{"°C", 1.0, 273.15},
                                  Spelling{"C", 1.0, 273.15},
                                  Spelling{"degF", rankine, 459.67 * rankine},
                                  Spelling{"°F", rankine, 459.67 * rankine},
                                  Spelling{"F", rankine, 459.67 * rankine}};
constexpr std::array differences{Spelling{"K", 1.0}, Spelling{"degC", 1.0}, Spelling{"degF", rankine}};
constexpr std::array pressures{Spelling{"Pa", 1.0},
                               Spelling{"hPa", 100.0},
                               Spelling{"kPa", 1e3},
                               Spelling{"mbar", 100.0},
                               Spelling{"inHg", inch_mercury},
                               Spelling{"psi", pound* gravity / (inch * inch)},
                               Spelling{"psf", pound* gravity / (foot * foot)}};
constexpr std::array forces{Spelling{"N", 1.0}, Spelling{"kN", 1e3}, Spelling{"lbf", pound* gravity}};
constexpr std::array line_loads{Spelling{"N/m", 1.0}, Spelling{"kN/m", 1e3},
                                Spelling{"lbf/ft", pound* gravity / foot},
                                Spelling{"lbf/in", pound* gravity / inch}};
constexpr std::array vapour_densities{Spelling{"kg/m3", 1.0}, Spelling{"g/m3", 1e-3}};
constexpr std::array conductivities{Spelling{"W/(m K)", 1.0}, Spelling{"W/mK", 1.0},
                                    Spelling{"Btu/(h ft degF)", 1.0 / us_r* foot},
                                    Spelling{"Btu in/(h ft2 degF)", 1.0 / us_r* inch}};
constexpr std::array resistances{Spelling{"m2 K/W", 1.0}, Spelling{"m2K/W", 1.0},
                                 Spelling{"h ft2 degF/Btu", us_r}};
constexpr std::array transmittances{Spelling{"W/(m2 K)", 1.0}, Spelling{"W/m2K", 1.0},
                                    Spelling{"Btu/(h ft2 degF)", 1.0 / us_r}};
constexpr std::array linear_transmittances{Spelling{"W/(m K)", 1.0}, Spelling{"W/mK", 1.0},
                                           Spelling{"Btu/(h ft degF)", btu / (hour * foot * rankine)}};
constexpr std::array point_transmittances{Spelling{"W/K", 1.0},
                                          Spelling{"Btu/(h degF)", btu / (hour * rankine)}};
constexpr std::array heat_fluxes{Spelling{"W/m2", 1.0}, Spelling{"Btu/(h ft2)", btu / (hour * foot * foot)}};
constexpr std::array powers{Spelling{"W", 1.0}, Spelling{"kW", 1e3}, Spelling{"Btu/h", btu / hour}};
constexpr std::array energies{
    Spelling{"J", 1.0},          Spelling{"kJ", 1e3},          Spelling{"MJ", 1e6},
    Spelling{"GJ", 1e9},         Spelling{"kWh", 3.6e6},       Spelling{"MWh", 3.6e9},
    Spelling{"Btu", btu},        Spelling{"therm", 1e5 * btu}, Spelling{"therms", 1e5 * btu},
    Spelling{"MMBtu", 1e6 * btu}};
constexpr std::array specific_heats{Spelling{"J/(kg K)", 1.0}, Spelling{"J/kgK", 1.0},
                                    Spelling{"kJ/(kg K)", 1e3},
                                    Spelling{"Btu/(lb degF)", btu / (pound * rankine)}};
constexpr std::array areal_heat_capacities{Spelling{"J/(m2 K)", 1.0}, Spelling{"kJ/(m2 K)", 1e3}};
constexpr std::array permeances{Spelling{"kg/(s m2 Pa)", 1.0}, Spelling{"ng/(s m2 Pa)", 1e-12},
                                Spelling{"ng/(Pa s m2)", 1e-12}, Spelling{"perm", us_perm},
                                Spelling{"perms", us_perm}};
constexpr std::array permeabilities{Spelling{"kg/(s m Pa)", 1.0}, Spelling{"ng/(s m Pa)", 1e-12},
                                    Spelling{"perm in", us_perm* inch}};
constexpr std::array moisture_fluxes{Spelling{"kg/(s m2)", 1.0}, Spelling{"g/(m2 h)", 1e-3 / hour},
                                     Spelling{"kg/(m2 h)", 1.0 / hour}, Spelling{"ng/(s m2)", 1e-12}};
constexpr std::array rains{Spelling{"kg/m2", 1.0}, Spelling{"mm", 1.0}, Spelling{"in", 25.4}};
constexpr std::array absorptions{Spelling{"kg/(m2 s^0.5)", 1.0}, Spelling{"kg/(m2 h^0.5)", 1.0 / 60.0}};
constexpr std::array diffusivities{Spelling{"m2/s", 1.0}};
constexpr std::array flows{Spelling{"m3/s", 1.0}, Spelling{"L/s", 1e-3}, Spelling{"m3/h", 1.0 / hour},
                           Spelling{"cfm", cubic_foot / 60}};
constexpr std::array air_changes{Spelling{"1/s", 1.0}, Spelling{"1/h", 1.0 / hour},
                                 Spelling{"/h", 1.0 / hour}, Spelling{"ACH", 1.0 / hour}};
constexpr std::array air_leakages{Spelling{"m3/(s m2)", 1.0}, Spelling{"L/(s m2)", 1e-3},
                                  Spelling{"m3/(h m2)", 1.0 / hour},
                                  Spelling{"cfm/ft2", cubic_foot / 60 / (foot * foot)}};
constexpr std::array fan_powers{Spelling{"W/(m3/s)", 1.0}, Spelling{"kW/(m3/s)", 1e3},
                                Spelling{"W/(L/s)", 1e3}, Spelling{"W/(m3/h)", hour},
                                Spelling{"W/cfm", 60 / cubic_foot}};
constexpr std::array mass_flows{Spelling{"kg/s", 1.0},
                                Spelling{"kg/day", 1.0 / (24 * hour)},
                                Spelling{"kg/d", 1.0 / (24 * hour)},
                                Spelling{"kg/h", 1.0 / hour},
                                Spelling{"g/h", 1e-3 / hour},
                                Spelling{"lb/day", pound / (24 * hour)}};
constexpr std::array emissions{Spelling{"kg/J", 1.0},
                               Spelling{"kg/kWh", 1.0 / 3.6e6},
                               Spelling{"g/kWh", 1e-3 / 3.6e6},
                               Spelling{"kg/MJ", 1e-6},
                               Spelling{"kg/MMBtu", 1.0 / (1e6 * btu)},
                               Spelling{"lb/MMBtu", pound / (1e6 * btu)},
                               Spelling{"lb/MWh", pound / 3.6e9}};

}  // namespace

extern constexpr Dimension number{"a number", "-", "no unit", no_unit};
extern constexpr Dimension fraction{"a fraction", "-", "%, or no unit", parts};
extern constexpr Dimension length{"a length", "m", "m, mm, in, ft", lengths};
extern constexpr Dimension area{"an area", "m2", "m2, ft2", areas};
extern constexpr Dimension volume{"a volume", "m3", "m3, L, ft3, gallon", volumes};
extern constexpr Dimension angle{"an angle", "rad", "deg", angles};
extern constexpr Dimension duration{"a time", "s", "s, h, d", durations};
extern constexpr Dimension speed{"a speed", "m/s", "m/s, mph", speeds};
extern constexpr Dimension mass{"a mass", "kg", "kg, lb", masses};
extern constexpr Dimension density{"a density", "kg/m3", "kg/m3, lb/ft3", densities};
extern constexpr Dimension surface_mass{"a mass per area", "kg/m2", "kg/m2, g/m2, lb/ft2", surface_masses};
extern constexpr Dimension temperature{"a temperature", "K", "degC, degF, K", temperatures};
extern constexpr Dimension temperature_difference{"a temperature difference", "K", "K, degF", differences};
extern constexpr Dimension pressure{"a pressure", "Pa", "Pa, psf", pressures};
extern constexpr Dimension force{"a force", "N", "N, kN, lbf", forces};
extern constexpr Dimension line_load{"a load per length", "N/m", "N/m, lbf/ft", line_loads};
extern constexpr Dimension vapour_density{"a vapour density", "kg/m3", "g/m3", vapour_densities};
extern constexpr Dimension conductivity{"a conductivity", "W/(m K)", "W/(m K), Btu in/(h ft2 degF)",
                                        conductivities};
extern constexpr Dimension thermal_resistance{"a thermal resistance", "m2 K/W", "R-23, RSI 4.1, m2 K/W",
                                              resistances};
extern constexpr Dimension transmittance{"a transmittance", "W/(m2 K)", "W/(m2 K), U-0.045", transmittances};
extern constexpr Dimension linear_transmittance{"a linear transmittance", "W/(m K)", "W/(m K)",
                                                linear_transmittances};
extern constexpr Dimension point_transmittance{"a point transmittance", "W/K", "W/K", point_transmittances};
extern constexpr Dimension heat_flux{"a heat flux", "W/m2", "W/m2, Btu/(h ft2)", heat_fluxes};
extern constexpr Dimension power{"a power", "W", "W, kW, Btu/h", powers};
extern constexpr Dimension energy{"an energy", "J", "kWh, MJ, therm", energies};
extern constexpr Dimension specific_heat{"a specific heat", "J/(kg K)", "J/(kg K)", specific_heats};
extern constexpr Dimension areal_heat_capacity{"a heat capacity per area", "J/(m2 K)", "kJ/(m2 K)",
                                               areal_heat_capacities};
extern constexpr Dimension permeance{"a permeance", "kg/(s m2 Pa)", "perm, ng/(s m2 Pa), sd 2 m", permeances};
extern constexpr Dimension permeability{"a permeability", "kg/(s m Pa)", "kg/(s m Pa), perm in, mu 60",
                                        permeabilities};
extern constexpr Dimension moisture_flux{"a moisture flux", "kg/(s m2)", "kg/(s m2), g/(m2 h)",
                                         moisture_fluxes};
extern constexpr Dimension rain{"an amount of rain", "kg/m2", "mm, kg/m2, in", rains};
extern constexpr Dimension absorption{"a water absorption coefficient", "kg/(m2 s^0.5)", "kg/(m2 s^0.5)",
                                      absorptions};
extern constexpr Dimension diffusivity{"a diffusivity", "m2/s", "m2/s", diffusivities};
extern constexpr Dimension flow{"a flow", "m3/s", "L/s, cfm, m3/h", flows};
extern constexpr Dimension air_change{"an air change rate", "1/s", "1/h, ACH", air_changes};
extern constexpr Dimension air_leakage{"an air leakage", "m3/(s m2)", "L/(s m2), cfm/ft2", air_leakages};
extern constexpr Dimension fan_power{"a fan power", "W/(m3/s)", "W/cfm, W/(L/s)", fan_powers};
extern constexpr Dimension mass_flow{"a mass per time", "kg/s", "kg/day, g/h, lb/day", mass_flows};
extern constexpr Dimension emission{"a mass per energy", "kg/J", "kg/kWh, lb/MWh, kg/MMBtu", emissions};

std::span<const Dimension* const> dimensions() {
    static constexpr std::array all{&number,
                                    &fraction,
                                    &length,
                                    &area,
                                    &volume,
                                    &angle,
                                    &duration,
                                    &speed,
                                    &mass,
                                    &density,
                                    &surface_mass,
                                    &temperature,
                                    &temperature_difference,
                                    &pressure,
                                    &force,
                                    &line_load,
                                    &vapour_density,
                                    &conductivity,
                                    &thermal_resistance,
                                    &transmittance,
                                    &linear_transmittance,
                                    &point_transmittance,
                                    &heat_flux,
                                    &power,
                                    &energy,
                                    &specific_heat,
                                    &areal_heat_capacity,
                                    &permeance,
                                    &permeability,
                                    &moisture_flux,
                                    &rain,
                                    &absorption,
                                    &diffusivity,
                                    &flow,
                                    &air_change,
                                    &air_leakage,
                                    &fan_power,
                                    &mass_flow,
                                    &emission};
    return all;
}

namespace {

std::string_view trim(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// The longest number at the front of `text`, which then starts behind it.
std::optional<double> take_number(std::string_view& text) {
    text = trim(text);
    if (!text.empty() && text.front() == '+') text.remove_prefix(1);
    double value = 0.0;
    // from_chars would also take "inf" and "nan", which no quantity is.
    const auto first = text.find_first_not_of('-');
    if (first == std::string_view::npos || first > 1) return std::nullopt;
    if (text[first] != '.' && !is_digit(text[first])) return std::nullopt;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    text.remove_prefix(static_cast<std::size_t>(end - text.data()));
    return value;
}

struct Piece {
    double number = 0.0;
    std::string_view unit;
    bool fraction = false;
};

// `5 1/2 in`, `3/4 in`, `8 ft`: a number, perhaps a fraction, then a unit up to the next number.
std::optional<Piece> take_piece(std::string_view& text) {
    Piece piece;
    const auto whole = take_number(text);
    if (!whole) return std::nullopt;
    piece.number = *whole;
    const auto divide = [&](double above) -> std::optional<double> {
        text.remove_prefix(1);
        const auto below = take_number(text);
        if (!below || *below <= 0.0) return std::nullopt;
        piece.fraction = true;
        return above / *below;
    };
    if (text.size() > 1 && text.front() == '/' && is_digit(text[1])) {
        const auto part = divide(*whole);
        if (!part) return std::nullopt;
        piece.number = *part;
    } else {
        // "5 1/2" and "5-1/2", but not "5 -1/2".
        auto ahead = text;
        if (!ahead.empty() && (ahead.front() == ' ' || ahead.front() == '-')) {
            ahead.remove_prefix(1);
            const auto above = ahead.empty() || ahead.front() == '-' || ahead.front() == '+'
                                   ? std::nullopt
                                   : take_number(ahead);
            // A digit must follow: "0.5 1/h" is a rate.
            if (above && ahead.size() > 1 && ahead.front() == '/' && is_digit(ahead[1])) {
                text = ahead;
                const auto part = divide(*above);
                if (!part) return std::nullopt;
                piece.number += std::signbit(*whole) ? -*part : *part;
            }
        }
    }
    text = trim(text);
    // The unit runs to the next number that starts a word: units hold digits (m2) behind a letter.
    std::size_t end = 0;
    while (end < text.size()) {
        const char c = text[end];
        const bool per =
            text.substr(end).starts_with("1/") && end + 2 < text.size() && !is_digit(text[end + 2]);
        const bool digit = is_digit(c) && !per;
        const bool starts =
            end == 0 || text[end - 1] == ' ' || text[end - 1] == '\'' || (text[end - 1] == '-' && end > 1);
        if (digit && starts) break;
        ++end;
    }
    auto unit = trim(text.substr(0, end));
    text.remove_prefix(end);
    if (unit.size() > 1 && unit.back() == '-') unit = trim(unit.substr(0, unit.size() - 1));
    piece.unit = unit;
    return piece;
}

const Spelling* spelling_of(std::string_view unit, const Dimension& dimension) {
    for (const Spelling& spelling : dimension.spellings) {
        if (spelling.text == unit) return &spelling;
    }
    return nullptr;
}

// Forms with the unit in front: R-23, RSI 4.1, U-0.045, sd 2 m, mu 60.
std::optional<double> parse_prefixed(std::string_view text, const Dimension& dimension) {
    const auto after = [&](std::string_view prefix) -> std::optional<std::string_view> {
        if (!text.starts_with(prefix)) return std::nullopt;
        auto rest = text.substr(prefix.size());
        if (!rest.empty() && (rest.front() == '-' || rest.front() == ' ')) rest.remove_prefix(1);
        return trim(rest);
    };
    const auto plain = [](std::optional<std::string_view> rest) -> std::optional<double> {
        if (!rest) return std::nullopt;
        const auto value = take_number(*rest);
        return value && rest->empty() && *value >= 0.0 ? value : std::nullopt;
    };
    if (&dimension == &thermal_resistance) {
        if (const auto v = plain(after("RSI"))) return v;
        if (const auto v = plain(after("R"))) return *v * us_r;
    }
    if (&dimension == &transmittance) {
        if (const auto v = plain(after("U"))) return *v / us_r;
    }
    if (&dimension == &permeability) {
        if (const auto v = plain(after("mu")); v && *v > 0.0) return still_air_permeability / *v;
    }
    if (&dimension == &permeance) {
        if (auto rest = after("sd")) {
            const auto sd = parse(*rest, length);
            if (sd && *sd > 0.0) return still_air_permeability / *sd;
        }
    }
    return std::nullopt;
}

}  // namespace

Result<double> parse(std::string_view text, const Dimension& dimension) {
    const auto refuse = [&](Code code) {
        Problem problem;
        problem.code = code;
        problem.what = fmt::format("\"{}\" is not {} ({})", text, dimension.name, dimension.examples);
        problem.found = std::string(text);
        problem.expected = std::string(dimension.examples);
        return fail(std::move(problem));
    };
    if (text.size() > 200) return fail(Code::syntax, "is too long for a quantity");
    const auto body = trim(text);
    if (const auto value = parse_prefixed(body, dimension)) return *value;
    auto rest = body;
    double sum = 0.0;
    double last_factor = 0.0;
    for (int count = 0; count == 0 || !rest.empty(); ++count) {
        const auto piece = take_piece(rest);
        if (!piece) return refuse(Code::syntax);
        const Spelling* spelling = spelling_of(piece->unit, dimension);
        if (!spelling) return refuse(Code::wrong_unit);
        const bool imperial = spelling->factor == inch || spelling->factor == foot;
        const bool of_feet = &dimension == &length && imperial;
        if (piece->fraction && !of_feet) return refuse(Code::syntax);
        // A sum is feet, then inches: nothing else.
        const bool inches_after_feet =
            count == 1 && of_feet && last_factor == foot && spelling->factor == inch;
        if (count > 0 && (!inches_after_feet || piece->number < 0.0)) return refuse(Code::syntax);
        const double sign = count > 0 && (std::signbit(sum)) ? -1.0 : 1.0;
        sum += sign * piece->number * spelling->factor + spelling->offset;
        last_factor = spelling->factor;
        rest = trim(rest);
    }
    if (!std::isfinite(sum)) return refuse(Code::syntax);
    return sum;
}

Exact Exact::nearest(double metres) {
    return Exact{std::llround(metres * 8e6)};
}

Result<Exact> parse_exact(std::string_view text) {
    return parse(text, length).and_then([&](double metres) -> Result<Exact> {
        if (std::abs(metres) > 1e6) {
            return fail(Code::out_of_range, fmt::format("\"{}\" is longer than 1000 km", text));
        }
        return Exact::nearest(metres);
    });
}

namespace {

std::string inch_text(long long sixteenths, int per_inch) {
    const long long whole = sixteenths / per_inch;
    long long above = sixteenths % per_inch;
    long long below = per_inch;
    while (above != 0 && above % 2 == 0) {
        above /= 2;
        below /= 2;
    }
    if (above == 0) return fmt::format("{} in", whole);
    if (whole == 0) return fmt::format("{}/{} in", above, below);
    return fmt::format("{} {}/{} in", whole, above, below);
}

}  // namespace

std::string inches(double metres, int per_inch) {
    const auto parts_of_inch = std::llround(std::abs(metres) / inch * per_inch);
    return (metres < 0.0 && parts_of_inch > 0 ? "-" : "") + inch_text(parts_of_inch, per_inch);
}

std::string feet_inches(double metres, int per_inch) {
    const auto all = std::llround(std::abs(metres) / inch * per_inch);
    const auto per_foot = 12LL * per_inch;
    const std::string sign = metres < 0.0 && all > 0 ? "-" : "";
    if (all < per_foot) return sign + inch_text(all, per_inch);
    if (all % per_foot == 0) return sign + fmt::format("{} ft", all / per_foot);
    return sign + fmt::format("{} ft {}", all / per_foot, inch_text(all % per_foot, per_inch));
}

std::string millimetres(double metres, int decimals) {
    return fmt::format("{:.{}f} mm", metres * 1e3, decimals);
}

double ip_r(double rsi) {
    return rsi / us_r;
}
double ip_u(double u) {
    return u * us_r;
}
double perm(double value) {
    return value / us_perm;
}
double celsius(double kelvin) {
    return kelvin - 273.15;
}
double fahrenheit(double kelvin) {
    return kelvin / rankine - 459.67;
}

}  // namespace warmside::units
