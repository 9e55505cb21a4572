// Windows, doors and skylights: U and SHGC.
#include <fmt/format.h>

#include <functional>

#include "rules/context.h"

namespace warmside::rules {

namespace {

constexpr std::string_view averaging =
    "Area-weighted means may be used (IECC R402.3.1 and R402.3.2: memory, so this is not confirmed).";

/// Figures of one kind of glazing, with what is not stated.
struct Group {
    double area = 0.0, sum = 0.0, worst = 0.0;
    std::string worst_name;
    std::vector<std::string> missing;
    [[nodiscard]] double mean() const { return sum / area; }
};

Group group_of(const Context& context, const std::function<bool(const Glazing&)>& chosen,
               double Glazing::* figure) {
    Group out;
    for (const Glazing& each : context.in.glazing) {
        if (!chosen(each)) continue;
        if (each.*figure <= 0.0) {
            out.missing.push_back(each.name);
            continue;
        }
        out.area += each.area;
        out.sum += each.area * each.*figure;
        if (each.*figure > out.worst) {
            out.worst = each.*figure;
            out.worst_name = each.name;
        }
    }
    return out;
}

std::string listed(const std::vector<std::string>& names) {
    constexpr std::size_t shown = 4;
    std::vector<std::string> first(
        names.begin(), names.begin() + static_cast<std::ptrdiff_t>(std::min(shown, names.size())));
    std::string out = fmt::format("{}", fmt::join(first, ", "));
    if (names.size() > shown) out += fmt::format(" and {} more", names.size() - shown);
    return out;
}

struct Rule {
    Subject subject = Subject::fenestration;
    std::string part, name;
    Amount (*amount)(double);
};

/// Each at most the limit: passes. Only the mean: unconfirmed, because averaging is from memory.
void judge(const Context& context, const Cell& cell, const Group& group, const Rule& rule, Findings& out) {
    if (group.missing.empty() && group.area <= 0.0) return;
    Finding f = resting_on(cell, rule.subject, rule.part, rule.name);
    if (!cell.asked) {
        f.outcome = Outcome::information;
        f.words = "Nothing is asked in this zone.";
        out.push_back(std::move(f));
        return;
    }
    f.required = rule.amount(cell.value);
    if (!group.missing.empty()) {
        f.outcome = Outcome::not_covered;
        f.words =
            fmt::format("Asked: at most {}. Not stated for {}.", f.required->text, listed(group.missing));
        f.change = "state the rated figure of each";
        out.push_back(std::move(f));
        return;
    }
    f.provided = rule.amount(group.mean());
    const bool each = at_most(group.worst, cell.value), mean = at_most(group.mean(), cell.value);
    f.outcome = context.settle(each, f.evidence);
    if (!each && mean) {
        f.outcome = Outcome::unconfirmed;
        f.notes.emplace_back(averaging);
    }
    f.words = fmt::format("Asked: at most {}. There: {} on average, {} at most ({}).", f.required->text,
                          f.provided->text, rule.amount(group.worst).text, group.worst_name);
    if (!each) f.change = fmt::format("units of at most {}", f.required->text);
    out.push_back(std::move(f));
}

const Cell* window_row(const Context& context) {
    if (context.in.high_or_windborne) {
        if (const Cell* high = context.find("u", "window, high or windborne")) return high;
    }
    return context.find("u", "window");
}

bool is_skylight(const Glazing& g) {
    return g.kind == Glazing::Kind::skylight;
}
bool is_upright(const Glazing& g) {
    return !is_skylight(g);
}
bool is_glass(const Glazing& g) {
    return g.kind == Glazing::Kind::window;
}

/// Two tables of one printing that disagree: both are reported, neither decides.
bool disagree(const Context& context, const Group& group, Findings& out) {
    const Cell* by_u = context.find("shgc", "window");
    const Cell* by_r = context.find("shgc of the R table", "window");
    if (!by_u || !by_r || by_u->asked == by_r->asked) return false;
    if (group.area <= 0.0 && group.missing.empty()) return true;
    const Cell& asking = by_u->asked ? *by_u : *by_r;
    Finding f = resting_on(asking, Subject::fenestration, "windows", "SHGC of windows");
    f.outcome = Outcome::information;
    f.required = gain_amount(asking.value);
    if (group.area > 0.0) f.provided = gain_amount(group.mean());
    f.words =
        fmt::format("{} asks at most {}, {} of the same printing asks nothing: ask the official which holds.",
                    asking.citation, f.required->text, by_u->asked ? by_r->citation : by_u->citation);
    out.push_back(std::move(f));
    return true;
}

}  // namespace

void fenestration(const Context& context, Findings& out) {
    const auto upright = group_of(context, is_upright, &Glazing::u);
    const auto skylights = group_of(context, is_skylight, &Glazing::u);
    const auto glass = group_of(context, is_glass, &Glazing::solar_gain);
    const auto skylight_glass = group_of(context, is_skylight, &Glazing::solar_gain);
    if (const Cell* cell = window_row(context))
        judge(context, *cell, upright,
              {.part = "windows", .name = "U of windows and doors", .amount = u_amount}, out);
    if (const Cell* cell = context.find("u", "skylight"))
        judge(context, *cell, skylights, {.part = "skylights", .name = "U of skylights", .amount = u_amount},
              out);
    if (!disagree(context, glass, out)) {
        if (const Cell* cell = context.find("shgc", "window"))
            judge(context, *cell, glass,
                  {.part = "windows", .name = "SHGC of windows", .amount = gain_amount}, out);
    }
    if (const Cell* cell = context.find("shgc", "skylight"))
        judge(context, *cell, skylight_glass,
              {.part = "skylights", .name = "SHGC of skylights", .amount = gain_amount}, out);
    if (upright.area <= 0.0 && upright.missing.empty()) {
        out.push_back(not_covered(context, Subject::fenestration, "windows", "U of windows and doors",
                                  "No windows or doors are given."));
    }
}

}  // namespace warmside::rules
