#include "report/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include "units/quantity.h"

namespace warmside::report {
namespace {

Pair ordered(std::string inch_pound, std::string si, bool inch_pound_first) {
    if (!inch_pound_first) std::swap(inch_pound, si);
    return {std::move(inch_pound), std::move(si)};
}

/// SI value of one unit, from the only room that holds conversion factors.
double one(std::string_view text, const units::Dimension& dimension) {
    const auto value = units::parse(text, dimension);
    return value ? *value : 1.0;
}

std::string grouped(double value) {
    const std::string digits = fmt::format("{:.0f}", std::abs(value));
    std::string out;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && (digits.size() - i) % 3 == 0) out += ',';
        out += digits[i];
    }
    return (value < -0.5 ? "-" : "") + out;
}

}  // namespace

Pair thickness(double metres, bool first) {
    return ordered(units::inches(metres), units::millimetres(metres), first);
}

Pair r_value(double rsi, bool first) {
    return ordered(fmt::format("R-{:.1f}", units::ip_r(rsi)), fmt::format("RSI {:.2f}", rsi), first);
}

Pair u_value(double u, bool first) {
    return ordered(fmt::format("U-{:.3f}", units::ip_u(u)), fmt::format("{:.3f} W/(m² K)", u), first);
}

Pair temperature(double kelvin, bool first) {
    return ordered(fmt::format("{:.1f} °F", units::fahrenheit(kelvin)),
                   fmt::format("{:.1f} °C", units::celsius(kelvin)), first);
}

Pair degree_days(double kelvin_days, bool first) {
    const double degree = one("1 degF", units::temperature_difference);
    return ordered(grouped(kelvin_days / degree) + " °F d", grouped(kelvin_days) + " K d", first);
}

Pair area(double square_metres, bool first) {
    return ordered(grouped(square_metres / one("1 ft2", units::area)) + " ft²",
                   fmt::format("{:.1f} m²", square_metres), first);
}

Pair volume(double cubic_metres, bool first) {
    return ordered(grouped(cubic_metres / one("1 ft3", units::volume)) + " ft³",
                   fmt::format("{:.0f} m³", cubic_metres), first);
}

Pair weight(double kilograms, bool first) {
    return ordered(grouped(kilograms / one("1 lb", units::mass)) + " lb", grouped(kilograms) + " kg", first);
}

std::string both(const Pair& pair) {
    return fmt::format("{} ({})", pair.first, pair.second);
}

std::string number(double value) {
    if (!std::isfinite(value)) return "unknown";
    return fmt::format("{:.4g}", value);
}

std::string quantity(double value, std::string_view unit, bool first) {
    std::string si = unit.empty() || unit == "-" ? number(value) : fmt::format("{} {}", number(value), unit);
    if (!std::isfinite(value)) return "unknown";
    if (unit == "m2 K/W") return both(ordered(fmt::format("R-{:.2f}", units::ip_r(value)), si, first));
    if (unit == "W/(m2 K)") return both(ordered(fmt::format("U-{:.4f}", units::ip_u(value)), si, first));
    if (unit == "m") return both(ordered(units::inches(value), units::millimetres(value, 1), first));
    if (unit == "K" && value > 150.0) {
        return both(ordered(fmt::format("{:.1f} °F", units::fahrenheit(value)),
                            fmt::format("{:.1f} °C", units::celsius(value)), first));
    }
    if (unit == "W/(m K)" && value > 0.0) {
        return both(ordered(fmt::format("R-{:.2f} an inch", units::ip_r(one("1 in", units::length) / value)),
                            si, first));
    }
    return si;
}

std::string load(double value, std::string_view unit, bool first) {
    if (!std::isfinite(value)) return "unknown";
    const std::string si = fmt::format("{} {}", number(value), unit);
    const auto as = [&](const units::Dimension& dimension, std::string_view other) {
        const double in_other = value / one(fmt::format("1 {}", other), dimension);
        return both(ordered(fmt::format("{:.3g} {}", in_other, other), si, first));
    };
    // Loads are read in psf, strengths of wood, above any of them, in psi.
    constexpr double heaviest = 50e3;  // Pa
    if (unit == "Pa" && value >= heaviest) {
        const double psi = value / one("1 psi", units::pressure);
        return both(ordered(grouped(psi) + " psi", fmt::format("{:.4g} MPa", value / 1e6), first));
    }
    if (unit == "Pa") return as(units::pressure, "psf");
    if (unit == "N") return as(units::force, "lbf");
    if (unit == "N/m") return as(units::line_load, "lbf/ft");
    if (unit == "m/s") return as(units::speed, "mph");
    return quantity(value, unit, first);
}

std::string heading(assembly::Part part) {
    std::string text = assembly::name_of(part);
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text + "s";
}

std::string value_of(const moisture::Finding& f) {
    if (f.unit == "%") return fmt::format("{:.1f} %", f.value);
    if (f.unit.empty() || f.unit == "-") return fmt::format("{:.2f}", f.value);
    if (f.unit == "kg/m2") return fmt::format("{:.2f} {}", f.value, f.unit);
    return fmt::format("{} {}", number(f.value), f.unit);
}

std::string limit(double value) {
    return value > 0.0 ? number(value) : "-";
}

std::string brief(const moisture::Finding& f) {
    std::string name = f.criterion;
    if (name == "wood moisture content") name = "wood moisture";
    const std::string value = f.unit == "%" ? fmt::format("{:.0f} %", f.value) : value_of(f);
    return fmt::format("{} {}{}", name, value, f.month.empty() ? "" : ", " + f.month.substr(0, 3));
}

std::vector<std::string> all_notes(const answer::RungAnswer& rung) {
    std::vector<std::string> out;
    if (rung.verdict) out = rung.verdict->notes;
    for (const auto& note : rung.notes) {
        if (std::find(out.begin(), out.end(), note) == out.end()) out.push_back(note);
    }
    return out;
}

std::string margin(const moisture::Finding& f) {
    if (!std::isfinite(f.margin)) return {};
    // The limit that the margin was taken to: the one whose own margin it is.
    const auto off = [&](double limit) {
        return limit > 0.0 ? std::abs((limit - f.value) / limit - f.margin) : 1e30;
    };
    const double limit = off(f.watch_limit) <= off(f.wet_limit) ? f.watch_limit : f.wet_limit;
    const std::string shown = f.unit == "%" ? fmt::format("{:.4g} %", limit) : fmt::format("{:.4g}", limit);
    const double share = std::abs(f.margin) * 100.0;
    if (f.margin < -3.0) return fmt::format("{:.0f} times the limit of {}", 1.0 - f.margin, shown);
    if (f.margin < 0.0) return fmt::format("{:.0f} % over the limit of {}", share, shown);
    return fmt::format("margin {:.0f} % to the limit of {}", share, shown);
}

Pair yearly_water(double kilograms, bool first) {
    const double pounds = kilograms / one("1 lb/ft2", units::surface_mass);
    return ordered(fmt::format("{:.2g} lb/(ft² a)", pounds), fmt::format("{:.2g} kg/(m² a)", kilograms),
                   first);
}

namespace {

std::string allowance_words(const moisture::WettingAllowance& w, bool first) {
    const auto amount = [&](double water) { return both(yearly_water(water, first)); };
    std::string out;
    if (!w.dry_bounded) {
        out = fmt::format("dry with every rain leak tried, up to {}", amount(w.most_tried));
    } else if (w.dry <= 0.0) {
        out = "not dry even without a rain leak";
    } else {
        out = fmt::format("stays dry up to a rain leak of {}", amount(w.dry));
    }
    if (w.dry_bounded) {
        out += !w.not_wet_bounded ? fmt::format("; never wet up to {}", amount(w.most_tried))
               : w.not_wet <= 0.0 ? "; wet even without one"
                                  : fmt::format("; wet from {}", amount(w.not_wet));
    }
    return out + fmt::format("; {} is assumed", w.assumed > 0.0 ? amount(w.assumed) : "none");
}

std::string change_words(const moisture::Change& c) {
    moisture::Finding f;
    f.value = c.value;
    f.unit = c.unit;
    return fmt::format("{}: {}, {} {} at the {}{}", c.what, moisture::name_of(c.dryness), c.criterion,
                       value_of(f), c.place, c.all_runs ? ", over all runs" : ", in the run that decides");
}

}  // namespace

std::vector<std::pair<std::string, std::string>> reasons(const moisture::Verdict& v, bool first) {
    std::vector<std::pair<std::string, std::string>> out;
    if (!v.driver_words.empty()) out.emplace_back("driver", v.driver_words);
    if (v.drivers.size() > 1) {
        std::string line;
        for (const auto& d : v.drivers) {
            moisture::Finding f = v.deciding;
            f.value = d.value_without;
            line +=
                fmt::format("{}no {} {}", line.empty() ? "" : ", ", moisture::name_of(d.driver), value_of(f));
        }
        if (v.without_drivers) {
            moisture::Finding f = v.deciding;
            f.value = *v.without_drivers;
            line += fmt::format(", none of them {}", value_of(f));
        }
        out.emplace_back(
            "without", fmt::format("{} instead of {}: {}", v.deciding.criterion, value_of(v.deciding), line));
    }
    if (v.allowance) out.emplace_back("leak", allowance_words(*v.allowance, first));
    for (std::size_t i = 0; i < v.changes.size(); ++i)
        out.emplace_back(i > 1                              ? ""
                         : i == 1                           ? "or"
                         : v.changes[0].dryness < v.dryness ? "helps"
                                                            : "eases",
                         change_words(v.changes[i]));
    if (v.monthly) out.emplace_back("ISO 13788", "second opinion, monthly means: " + v.monthly->words);
    return out;
}

std::vector<std::string> stair_words(const thermal::Worth& worth, bool first) {
    std::vector<std::string> out;
    out.push_back(fmt::format("label {}", r_value(worth.label_r, first).first));
    double last = worth.label_r;
    for (const auto& tread : worth.stair) {
        if (tread.name == "label") continue;
        if (!tread.r_change) {
            continue;  // said once, by built_value
        }
        const double shown = first ? units::ip_r(*tread.r_change) : *tread.r_change;
        last = tread.r_after;
        if (std::abs(shown) < 0.005) continue;
        out.push_back(
            fmt::format("{} {}{:.{}f}", tread.name, shown > 0.0 ? "+" : "−", std::abs(shown), first ? 1 : 2));
    }
    out.push_back(fmt::format("comes to {}", r_value(last, first).first));
    return out;
}

namespace {

// "w1, w2": rungs whose clear-field R has so many dimensions.
std::string rungs_with(const answer::LadderAnswer& ladder, int dimensions) {
    std::string out;
    for (const auto& rung : ladder.rungs) {
        if (rung.worth.clear_r <= 0.0 || rung.worth.clear_dimensions != dimensions) continue;
        out += (out.empty() ? "" : ", ") + rung.name;
    }
    return out;
}

std::string percent(double part) {
    return fmt::format("{:.1f} % {}", 100.0 * std::abs(part), part < 0.0 ? "lower" : "higher");
}

}  // namespace

std::string clear_words(const answer::LadderAnswer& ladder) {
    const std::string solid = rungs_with(ladder, 3), plane = rungs_with(ladder, 2),
                      plain = rungs_with(ladder, 1), iso = rungs_with(ladder, 0);
    std::vector<std::string> ways;
    if (!solid.empty()) ways.push_back(fmt::format("the repeating cell solved in 3D ({})", solid));
    if (!plane.empty()) ways.push_back(fmt::format("the repeating cell solved in 2D ({})", plane));
    if (!plain.empty()) ways.push_back(fmt::format("layers added up, nothing is framed ({})", plain));
    if (!iso.empty()) ways.push_back(fmt::format("the ISO 6946 combined method, no cell ({})", iso));
    std::string out = fmt::format("{}", fmt::join(ways, "; "));
    double error = 0.0, low = 0.0, high = 0.0;
    bool any = false;
    for (const auto& rung : ladder.rungs) {
        const auto& w = rung.worth;
        if (w.clear_dimensions < 2 || w.clear_r <= 0.0) continue;
        const double gap = w.iso_clear_r / w.clear_r - 1.0;
        error = std::max(error, w.clear_error);
        low = any ? std::min(low, gap) : gap;
        high = any ? std::max(high, gap) : gap;
        any = true;
    }
    if (!any) return out;
    out += fmt::format("; error up to {:.2f} %; ISO 6946 reads {}", 100.0 * error, percent(low));
    if (percent(low) != percent(high)) out += " to " + percent(high);
    return out;
}

const std::vector<std::string>* common_assumptions(const answer::LadderAnswer& ladder) {
    const std::vector<std::string>* all = nullptr;
    for (const auto& rung : ladder.rungs) {
        if (!rung.verdict) continue;
        if (rung.verdict->assumes.empty() || (all && *all != rung.verdict->assumes)) return nullptr;
        all = &rung.verdict->assumes;
    }
    return all;
}

std::string pretty(std::string_view text) {
    constexpr std::pair<std::string_view, std::string_view> spellings[] = {
        {"m2", "m²"}, {"m3", "m³"}, {"ft2", "ft²"}, {"ft3", "ft³"}, {"degC", "°C"}, {"degF", "°F"}};
    const auto letter = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; };
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const bool starts = i == 0 || !letter(text[i - 1]);
        const auto* found = std::find_if(std::begin(spellings), std::end(spellings), [&](const auto& s) {
            const auto end = i + s.first.size();
            return starts && text.substr(i).starts_with(s.first) &&
                   (end == text.size() || !letter(text[end]));
        });
        if (found != std::end(spellings)) {
            out += found->second;
            i += found->first.size();
        } else if (text.substr(i).starts_with(" %")) {
            out += "\u00a0%";
            i += 2;
        } else {
            out += text[i++];
        }
    }
    return out;
}

std::size_t visible(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::vector<std::string> wrap(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    std::string line;
    while (!text.empty()) {
        const auto end = text.find(' ');
        const auto word = text.substr(0, end);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (word.empty()) continue;
        if (!line.empty() && visible(line) + 1 + visible(word) > width)
            lines.push_back(std::exchange(line, {}));
        if (!line.empty()) line += ' ';
        line += word;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    return lines;
}

}  // namespace warmside::report
