#include "rules/finding.h"

#include <fmt/format.h>

#include "units/quantity.h"

namespace warmside::rules {

namespace {

/// SI size of one printed unit.
double size_of(std::string_view unit, const units::Dimension& dimension) {
    return units::parse(fmt::format("1 {}", unit), dimension).value_or(1.0);
}

/// "13", "7.5", "11.25": as many decimals as the figure has, two at most.
std::string trimmed(double value) {
    std::string out = fmt::format("{:.2f}", value);
    while (out.back() == '0') out.pop_back();
    if (out.back() == '.') out.pop_back();
    return out;
}

}  // namespace

const char* name_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::passes: return "passes";
        case Outcome::fails: return "fails";
        case Outcome::unconfirmed: return "unconfirmed";
        case Outcome::not_covered: return "not covered";
        case Outcome::information: return "information";
    }
    return "";
}

const char* name_of(Subject subject) {
    switch (subject) {
        case Subject::zone: return "climate zone";
        case Subject::r_row: return "R table";
        case Subject::u_row: return "U table";
        case Subject::total: return "total UA";
        case Subject::fenestration: return "windows";
        case Subject::air: return "air leakage";
        case Subject::vapour: return "vapour retarder";
        case Subject::sheet: return "R inside the sheet";
        case Subject::roof: return "roof";
        case Subject::credit: return "credits";
        case Subject::ventilation: return "ventilation";
        case Subject::reminder: return "reminder";
        case Subject::comparison: return "comparison";
    }
    return "";
}

Amount u_amount(double u) {
    return {u, "W/(m2 K)", fmt::format("U-{:.3f}", units::ip_u(u)), fmt::format("U {:.3f} W/(m2 K)", u)};
}

Amount r_amount(double r) {
    return {r, "m2 K/W", fmt::format("R-{}", trimmed(units::ip_r(r))), fmt::format("RSI {:.2f}", r)};
}

Amount f_amount(double f) {
    return {f, "W/(m K)",
            fmt::format("F-{:.2f}", f / size_of("Btu/(h ft degF)", units::linear_transmittance)),
            fmt::format("F {:.3f} W/(m K)", f)};
}

Amount ua_amount(double ua) {
    return {ua, "W/K",
            fmt::format("{:.1f} Btu/(h degF)", ua / size_of("Btu/(h degF)", units::point_transmittance)),
            fmt::format("{:.1f} W/K", ua)};
}

Amount ach_amount(double rate) {
    const std::string text = fmt::format("{:.2f} ACH50", rate * 3600.0);
    return {rate, "1/s", text, text};
}

Amount share_amount(double share) {
    const std::string text = fmt::format("{:.0f} %", 100.0 * share);
    return {share, "-", text, text};
}

Amount gain_amount(double shgc) {
    const std::string text = fmt::format("SHGC {:.2f}", shgc);
    return {shgc, "-", text, text};
}

Amount permeance_amount(double permeance) {
    return {permeance, "kg/(s m2 Pa)", fmt::format("{:.2g} perm", units::perm(permeance)),
            fmt::format("{:.3g} ng/(s m2 Pa)", permeance * 1e12)};
}

Amount leakage_amount(double leakage) {
    return {leakage, "m3/(s m2)",
            fmt::format("{:.2f} cfm/ft2 at 50 Pa", leakage / size_of("cfm/ft2", units::air_leakage)),
            fmt::format("{:.2f} L/(s m2) at 50 Pa", leakage * 1e3)};
}

Amount layers_amount(double cavity, double continuous) {
    const Amount in = r_amount(cavity), out = r_amount(continuous);
    if (continuous <= 0.0) return in;
    if (cavity <= 0.0) return {continuous, "m2 K/W", out.text + " ci", out.metric + " ci"};
    return {cavity + continuous, "m2 K/W", in.text + " + " + out.text + " ci",
            in.metric + " + " + out.metric + " ci"};
}

}  // namespace warmside::rules
