// Joists, ceiling joists, rafters; trusses by their maker.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>

#include "structure/site.h"
#include "structure/span.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

using framing::Role;

/// Members of one role and section in a panel.
struct Group {
    Role role = Role::joist;
    framing::Section section;
    double longest = 0.0;  ///< m
    int along = 0;
    std::vector<std::string> marks;  ///< in the order of the panel
    [[nodiscard]] std::size_t count() const { return marks.size(); }
};

/// The number in a mark, which is letters and a number.
int number_in(const std::string& mark) {
    const auto digit = mark.find_first_of("0123456789");
    return digit == std::string::npos ? 0 : std::atoi(mark.c_str() + digit);
}

/// "T1, T18" or "RF1 to RF12, RF20": a stretch without gaps by its ends.
std::string listed(const std::vector<std::string>& marks) {
    std::string out;
    for (std::size_t i = 0; i < marks.size();) {
        std::size_t last = i;
        while (last + 1 < marks.size() && number_in(marks[last + 1]) == number_in(marks[last]) + 1) ++last;
        out += (out.empty() ? "" : ", ") + marks[i];
        if (last > i) out += (last == i + 1 ? ", " : " to ") + marks[last];
        i = last + 1;
    }
    return out;
}

std::vector<Group> groups_of(const framing::Panel& panel) {
    std::vector<Group> out;
    for (const auto& member : panel.members) {
        auto found = std::find_if(out.begin(), out.end(), [&](const Group& each) {
            return each.role == member.role && each.section.name == member.section.name;
        });
        if (found == out.end()) {
            out.push_back(
                {.role = member.role, .section = member.section, .along = member.along, .marks = {}});
            found = out.end() - 1;
        }
        found->longest = std::max(found->longest, member.length.metres());
        found->marks.push_back(member.mark);
    }
    return out;
}

Finding start(const framing::Panel& panel, const Group& group, const char* subject, const char* rule,
              const char* citation) {
    Finding f;
    f.subject = subject;
    f.where = fmt::format("{}: {}", panel.name, listed(group.marks));
    f.rule = rule;
    f.citation = citation;
    return f;
}

void by_span(Finding f, const Site& site, const Group& group, SpanCase c, double span, double spacing,
             std::vector<Finding>& out) {
    const auto& practice = site.house().practice;
    c.size = size_of(group.section);
    const auto values = lumber_of(practice.species.value, practice.grade.value, c.size);
    if (!values) {
        f.outcome = Outcome::needs_engineer;
        f.inputs.clear();
        f.words = fmt::format("{} of {} {} has no recognised grade or size: an engineer decides.",
                              group.section.name, practice.species.value, practice.grade.value);
        out.push_back(std::move(f));
        return;
    }
    c.lumber = *values;
    c.repetitive = durations().repetitive;
    const double limit = longest_span(c).span();
    judge(f, span, limit, "m");
    f.words = fmt::format("{} {} {} at {} over {}, at most {}.", group.section.name, practice.species.value,
                          practice.grade.value, units::inches(spacing), units::feet_inches(span),
                          units::feet_inches(limit));
    if (f.outcome == Outcome::fails) f.change = "deeper members, a closer spacing or a shorter span";
    f.inputs.push_back(computed("spacing", spacing, "m"));
    f.inputs.push_back({"bending strength Fb", values->bending, "Pa", values->origin});
    f.inputs.push_back({"modulus of elasticity E", values->modulus, "Pa", values->origin});
    out.push_back(std::move(f));
}

/// A member that runs over a bearing line in the middle spans half of its length.
double clear_span(const Site& site, const Group& group, double extent) {
    const bool over = site.house().practice.bearing_line.value && group.longest > 0.6 * extent;
    return over ? group.longest / 2 : group.longest;
}

double extent_of(const Site& site, const framing::Panel& panel) {
    const auto* storey = site.house().storey(panel.storey);
    if (!storey) return 0.0;
    return site.extent(*storey, site.joists_east_west(*storey));
}

/// True where the loads lie within the ranges of the code's span tables.
bool within(double load, double least, double most) {
    const double psf = *units::parse("1 psf", units::pressure);
    return load >= (least - 0.01) * psf && load <= (most + 0.01) * psf;
}

void floor_joists(const Site& site, const framing::Panel& panel, const Group& group,
                  std::vector<Finding>& out) {
    const auto& loads = site.house().loads;
    const double spacing = site.house().practice.joist_spacing.value.metres();
    Finding f =
        start(panel, group, "joist", "floor joist span, L/360", "IRC 2021 Tables R502.3.1, NDS 2018 3.3");
    if (!within(loads.floor_live.value, 0, 40) || !within(loads.floor_dead.value, 0, 20) || spacing > 0.62) {
        f.outcome = Outcome::needs_engineer;
        f.words = "Heavier loads or wider spacing than the code's tables: an engineer decides.";
        out.push_back(std::move(f));
        return;
    }
    f.inputs = {input("floor live load", loads.floor_live, "Pa"),
                input("floor dead load", loads.floor_dead, "Pa")};
    by_span(std::move(f), site, group,
            {.dead = loads.floor_dead.value * spacing,
             .live = loads.floor_live.value * spacing,
             .duration = durations().live,
             .limit = limits().floor},
            clear_span(site, group, extent_of(site, panel)), spacing, out);
}

void ceiling_joists(const Site& site, const framing::Panel& panel, const Group& group, double spacing,
                    std::vector<Finding>& out) {
    const auto& loads = site.house().loads;
    Finding f = start(panel, group, "ceiling joist", "ceiling joist span, L/240",
                      "NDS 2018 3.3; IRC 2021 Table R301.7");
    const double dead = weight_of(site.built_as(panel));
    f.inputs = {input("attic live load", loads.attic_live, "Pa"), computed("ceiling dead load", dead, "Pa")};
    by_span(std::move(f), site, group,
            {.dead = dead * spacing,
             .live = loads.attic_live.value * spacing,
             .duration = durations().live,
             .limit = limits().ceiling},
            clear_span(site, group, extent_of(site, panel)), spacing, out);
}

void rafters(const Site& site, const framing::Panel& panel, const assembly::Roof& roof, const Group& group,
             std::vector<Finding>& out) {
    const auto& loads = site.house().loads;
    Finding f = start(panel, group, "rafter", "rafter span on the horizontal",
                      "IRC 2021 Tables R802.4.1, NDS 2018 3.3");
    constexpr double three_in_twelve = 0.2449;
    if (!loads.ground_snow) {
        f.outcome = Outcome::not_given;
        f.words = "The house file gives no ground snow; rafters are not checked.";
        out.push_back(std::move(f));
        return;
    }
    const double snow = loads.ground_snow->value, spacing = roof.spacing.metres();
    if (snow > limits().snow + 1e-6 || !within(loads.roof_dead.value, 0, 20) || spacing > 0.62 ||
        roof.pitch < three_in_twelve - 0.001) {
        f.outcome = Outcome::needs_engineer;
        f.words =
            "Outside the code's rafter tables (snow, dead load, spacing or slope): an engineer decides.";
        out.push_back(std::move(f));
        return;
    }
    const bool shed = roof.form == assembly::Roof::Form::shed;
    const double span = site.roof_span(roof) / (shed ? 1 : 2);
    const bool snow_governs = snow * durations().construction >= limits().roof_live * durations().snow;
    const double live = snow_governs ? std::max(snow, limits().roof_live) : limits().roof_live;
    f.inputs = {site.snow(), input("roof dead load", loads.roof_dead, "Pa")};
    const std::size_t before = out.size();
    by_span(std::move(f), site, group,
            {.dead = loads.roof_dead.value * spacing,
             .live = live * spacing,
             .duration = snow_governs ? durations().snow : durations().construction,
             .limit = roof.over_attic ? limits().rafter : limits().rafter_with_ceiling},
            span, spacing, out);
    if (out.size() > before && out.back().ratio && !shed)
        out.back().words += " Holds with ties at the plate, or with a ridge beam that is designed.";
}

void trusses(const Site& site, const framing::Panel& panel, const Group& group, std::vector<Finding>& out) {
    const auto& loads = site.house().loads;
    Finding f = start(panel, group, "truss", "truss by its maker", "IRC 2021 R802.10");
    f.words = fmt::format("{} trusses, {} long: the truss maker designs them for the house's loads.",
                          group.count(), units::feet_inches(group.longest));
    f.inputs = {input("roof dead load", loads.roof_dead, "Pa")};
    if (loads.ground_snow) f.inputs.push_back(site.snow());
    if (loads.wind_speed) f.inputs.push_back(site.wind());
    out.push_back(std::move(f));
}

double spacing_in(const framing::Panel& panel, const Site& site) {
    const auto& built = site.built_as(panel);
    for (const auto& layer : built.layers) {
        if (layer.framing) return layer.framing->spacing.metres();
    }
    return site.house().practice.joist_spacing.value.metres();
}

}  // namespace

void check_spans(const Site& site, const framing::Panel& panel, std::vector<Finding>& out) {
    const auto& house = site.house();
    // "roof main south" is of the roof "main", not of one called "in".
    const assembly::Roof* roof = nullptr;
    for (const auto& each : house.roofs) {
        const bool named = panel.name.find(each.name) != std::string::npos;
        if (named && (!roof || each.name.size() > roof->name.size())) roof = &each;
    }
    if (!roof && !house.roofs.empty()) roof = &house.roofs.front();
    const auto leave = [&](Outcome outcome, const char* subject, const char* rule, const char* citation,
                           const char* words) {
        out.push_back(unnumbered(outcome, subject, panel.name, rule, citation, words));
    };
    for (const Group& group : groups_of(panel)) {
        switch (group.role) {
            case Role::joist: floor_joists(site, panel, group, out); break;
            case Role::ceiling_joist: ceiling_joists(site, panel, group, spacing_in(panel, site), out); break;
            case Role::truss: trusses(site, panel, group, out); break;
            case Role::rafter:
                if (roof) rafters(site, panel, *roof, group, out);
                break;
            case Role::hip:
            case Role::valley:
                leave(Outcome::needs_engineer, group.role == Role::hip ? "hip rafter" : "valley rafter",
                      "hip and valley rafters", "IRC 2021 R802.4.3", "Hips and valleys are not sized here.");
                break;
            case Role::bearing_beam:
                leave(Outcome::needs_engineer, "bearing beam", "beam or bearing wall",
                      "IRC 2021 Table R602.7(3), not held here",
                      "The line that carries the joists at mid span is not sized here.");
                break;
            case Role::ridge:
                leave(Outcome::reminder, "ridge", "ridge board or ridge beam", "IRC 2021 R802.3, R802.5.2",
                      "A ridge board needs rafter ties at the plate; without them a ridge beam is designed.");
                break;
            default: break;
        }
    }
}

}  // namespace warmside::structure
