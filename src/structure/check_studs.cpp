// Studs between their plates: gravity, wind, deflection, bearing, spacing.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "structure/column.h"
#include "structure/site.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

constexpr const char* subject = "stud";
constexpr const char* beam_column = "NDS 2018 3.7, 3.9.2; ASCE 7-16 2.4.1";

/// One allowable-stress combination: shares of the loads, and the duration of the shortest.
struct Combination {
    const char* name;
    double live, roof, wind;
    double duration;
    bool construction;  ///< the roof's part is its live load, not snow
};

std::vector<Combination> combinations() {
    const Durations& d = durations();
    return {{"D", 0, 0, 0, d.dead, false},
            {"D + L", 1, 0, 0, d.live, false},
            {"D + S", 0, 1, 0, d.snow, false},
            {"D + Lr", 0, 1, 0, d.construction, true},
            {"D + 0.75 L + 0.75 S", 0.75, 0.75, 0, d.snow, false},
            {"D + 0.75 L + 0.75 Lr", 0.75, 0.75, 0, d.construction, true},
            {"D + 0.6 W", 0, 0, 1, d.wind, false},
            {"D + 0.75 L + 0.75 S + 0.75 (0.6 W)", 0.75, 0.75, 0.75, d.wind, false},
            {"D + 0.75 L + 0.75 Lr + 0.75 (0.6 W)", 0.75, 0.75, 0.75, d.wind, true}};
}

struct Worst {
    double ratio = -1.0;
    std::string name, problem;
};

Worst worst_of(const ColumnCase& stud, const LineLoad& load, double spacing, double pressure, bool windy) {
    Worst out;
    for (const Combination& each : combinations()) {
        if ((each.wind > 0) != windy) continue;
        ColumnCase c = stud;
        c.duration = each.duration;
        c.axial = spacing * (load.dead + each.live * (load.floor_live + load.attic_live) +
                             each.roof * (each.construction ? load.roof_live : load.snow));
        c.across = each.wind * pressure * spacing;
        const auto result = column(c);
        if (!result) return {2.0, each.name, result.error().what};
        if (result->ratio > out.ratio) out = {result->ratio, each.name, {}};
    }
    return out;
}

double stud_length(const framing::Panel& panel) {
    double longest = 0.0;
    for (const auto& member : panel.members) {
        if (member.along == 1 && (member.role == framing::Role::stud || member.role == framing::Role::king))
            longest = std::max(longest, member.length.metres());
    }
    return longest;
}

Finding judged(const Worst& worst, Finding finding, const std::string& what) {
    if (!worst.problem.empty()) {
        finding.outcome = Outcome::fails;
        finding.words = fmt::format("{}: {} under {}.", what, worst.problem, worst.name);
    } else {
        judge(finding, worst.ratio, 1.0, "-");
        finding.words = fmt::format("{}: {:.2f} of capacity under {}.", what, worst.ratio, worst.name);
    }
    if (finding.outcome == Outcome::fails)
        finding.change = "deeper studs, a closer spacing or a better grade";
    return finding;
}

double deflection_limit(const assembly::Assembly& wall, std::string& why) {
    const Limits& l = limits();
    for (const auto& layer : wall.layers) {
        if (layer.kind != assembly::Layer::Kind::material) continue;
        if (layer.material->name.find("stucco") != std::string::npos) {
            why = "stucco";
            return l.stucco;
        }
    }
    if (lining_of(wall).gypsum) {
        why = "gypsum inside";
        return l.gypsum;
    }
    why = "flexible finishes";
    return l.flexible;
}

void spacing_rule(const Site& site, const framing::Panel& panel, const Core& core, const LineLoad& load,
                  std::vector<Finding>& out) {
    const auto rule = largest_spacing(nominal_of(core.size), load.supports);
    Finding f;
    f.subject = subject;
    f.where = panel.name;
    f.rule = "stud spacing by table";
    f.citation = "IRC 2021 Table R602.3(5)";
    const double spacing = core.framing->spacing.metres(), length = stud_length(panel);
    f.inputs = {computed("spacing", spacing, "m"), computed("stud length", length, "m")};
    const auto& grade = site.house().practice.stud_grade.value;
    if (!rule || length > rule->height + 1e-6 || grade == "none" || grade == "Utility") {
        f.outcome = Outcome::needs_engineer;
        f.words = "Outside the table of stud spacings (size, height or grade).";
        f.inputs.clear();
    } else if (rule->spacing <= 0) {
        f.outcome = Outcome::fails;
        f.words = fmt::format("{} may not carry {}.", core.framing->member, name_of(load.supports));
        f.change = "2x6 studs";
    } else {
        f.demand = spacing;  // a step of the table, so no ratio
        f.capacity = rule->spacing;
        f.unit = "m";
        f.outcome =
            spacing <= rule->spacing + 0.001 ? Outcome::passes : Outcome::fails;  // 600 mm is no 24 in
        f.words = fmt::format("{} carrying {}: {} apart, at most {}.", core.framing->member,
                              name_of(load.supports), units::inches(spacing), units::inches(rule->spacing));
        if (f.outcome == Outcome::fails) f.change = fmt::format("studs at {}", units::inches(rule->spacing));
        f.inputs.push_back({"largest spacing", rule->spacing, "m", rule->origin});
    }
    out.push_back(std::move(f));
}

/// One stud of a panel with all that its checks share.
struct Post {
    const Site& site;
    const framing::Panel& panel;
    const assembly::Assembly& wall;
    LineLoad load;
    ColumnCase stud;
    double spacing = 0.0;
    std::string name;
    std::vector<Input> gravity;

    [[nodiscard]] Finding start(const char* rule, const char* citation) const {
        Finding f;
        f.subject = subject;
        f.where = panel.name;
        f.rule = rule;
        f.citation = citation;
        return f;
    }
};

Post post_of(const Site& site, const framing::Panel& panel, const assembly::Assembly& wall, const Core& core,
             const LineLoad& load) {
    const auto& practice = site.house().practice;
    const auto& loads = site.house().loads;
    Post out{site, panel, wall, load, {}, core.framing->spacing.metres(), {}, {}};
    out.stud.size = core.size;
    out.stud.lumber = *lumber_of(practice.species.value, practice.stud_grade.value, core.size);
    out.stud.length = stud_length(panel);
    constexpr double three_at_two_feet = 0.6196;  // 24 in, and 610 mm
    out.stud.repetitive = out.spacing <= three_at_two_feet ? durations().repetitive : 1.0;
    out.name = fmt::format("{} {} {} at {}, {} long{}", core.framing->member, practice.species.value,
                           practice.stud_grade.value, units::inches(out.spacing),
                           units::feet_inches(out.stud.length),
                           core.row ? " (one row of several, all loads on it)" : "");
    out.gravity = {site.snow(),
                   input("floor live load", loads.floor_live, "Pa"),
                   input("floor dead load", loads.floor_dead, "Pa"),
                   input("roof dead load", loads.roof_dead, "Pa"),
                   input("attic live load", loads.attic_live, "Pa"),
                   computed("roof width carried", load.roof_width, "m"),
                   computed("floor width carried", load.floor_width, "m"),
                   computed("dead load on the wall", load.dead, "N/m"),
                   {"compression strength Fc", out.stud.lumber.compression, "Pa", out.stud.lumber.origin}};
    return out;
}

void gravity(const Post& post, std::vector<Finding>& out) {
    Finding f = post.start("stud under gravity loads", "NDS 2018 3.7; ASCE 7-16 2.4.1");
    f.inputs = post.gravity;
    out.push_back(judged(worst_of(post.stud, post.load, post.spacing, 0.0, false), std::move(f), post.name));
}

/// Bearing knows no load duration (NDS 4.3.2), so the heaviest combination counts.
void bearing(const Post& post, std::vector<Finding>& out) {
    const auto& practice = post.site.house().practice;
    const auto plate = lumber_of(practice.species.value, practice.grade.value, post.stud.size);
    if (!plate) {
        out.push_back(unnumbered(Outcome::needs_engineer, subject, post.panel.name,
                                 "bearing of the stud on its plate", "NDS 2018 3.10.2",
                                 "The plates have no recognised grade: an engineer decides."));
        return;
    }
    const LineLoad& load = post.load;
    const double roof = std::max(load.snow, load.roof_live), live = load.floor_live + load.attic_live;
    const double axial = post.spacing * (load.dead + std::max({live, roof, 0.75 * (live + roof)}));
    Finding f = post.start("bearing of the stud on its plate", "NDS 2018 3.10.2");
    f.inputs = post.gravity;
    f.inputs.back() = {"strength across the grain", plate->across, "Pa", plate->origin};
    judge(f, axial / post.stud.size.area(), plate->across, "Pa");
    f.words = fmt::format("{}: {:.2f} of what the plate bears across its grain.", post.name, *f.ratio);
    if (f.outcome == Outcome::fails) f.change = "a closer spacing or doubled studs";
    out.push_back(std::move(f));
}

void wind(const Post& post, std::vector<Finding>& out) {
    Finding f = post.start("stud as beam-column, axial and wind", beam_column);
    const auto& loads = post.site.house().loads;
    if (!post.site.wind_given()) {
        out.push_back(
            unnumbered(Outcome::not_given, subject, f.where, f.rule, f.citation,
                       "The house file gives no wind speed with its exposure; wind is not checked."));
        return;
    }
    const double length = post.stud.length, height = post.site.mean_roof_height();
    const auto pressure = ultimate_pressure(loads.wind_speed->value, loads.exposure->value, height,
                                            length * std::max(post.spacing, length / 3));
    if (!pressure) {
        out.push_back(unnumbered(Outcome::needs_engineer, subject, f.where, f.rule, "IRC 2021 R301.2.1.1",
                                 "Wind of 140 mph and more, or a roof above 35 ft: an engineer decides."));
        return;
    }
    // Every wall ends in a corner zone; suction there is the largest of the pressures.
    const double ultimate = std::max(pressure->towards, -pressure->corner);
    f.inputs = post.gravity;
    f.inputs.push_back(post.site.wind());
    f.inputs.push_back(computed("wind on the wall, allowable stress", allowable(ultimate), "Pa"));
    f.inputs.push_back(computed("mean roof height", height, "m"));
    f = judged(worst_of(post.stud, post.load, post.spacing, allowable(ultimate), true), std::move(f),
               post.name);
    if (f.outcome == Outcome::fails)
        f.words +=
            " The code's table of stud spacings asks for no such check; where it allows the stud, the "
            "official decides.";
    out.push_back(std::move(f));

    std::string why;
    const double limit = length / deflection_limit(post.wall, why);
    const double load = for_deflection(ultimate) * post.spacing;
    const double sag = deflection(post.stud.size, post.stud.lumber.modulus, length, load);
    f = post.start("stud deflection under wind", "IRC 2021 Table R301.7");
    judge(f, sag, limit, "m");
    f.words = fmt::format("{}: {} of {} ({}), under 0.7 of the allowable-stress wind.", post.name,
                          units::inches(sag, 32), units::inches(limit, 32), why);
    if (f.outcome == Outcome::fails) f.change = "deeper studs or a closer spacing";
    f.inputs = {post.site.wind(),
                computed("wind for deflection", for_deflection(ultimate), "Pa"),
                computed("stud length", length, "m"),
                {"modulus of elasticity E", post.stud.lumber.modulus, "Pa", post.stud.lumber.origin}};
    out.push_back(std::move(f));
}

}  // namespace

std::string ungraded(const assembly::House& house, const Core& core) {
    const auto& practice = house.practice;
    if (core.framing->kind != assembly::Framing::Kind::solid)
        return fmt::format("{} are I-joists or trusses: their maker's tables decide", core.framing->member);
    if (nominal_of(core.size).empty())
        return fmt::format("{} is no size of the NDS Supplement: no recognised grade, no design values",
                           core.framing->member);
    if (!lumber_of(practice.species.value, practice.stud_grade.value, core.size))
        return fmt::format("studs of {} \"{}\" have no recognised grade", practice.species.value,
                           practice.stud_grade.value);
    return {};
}

void check_studs(const Site& site, const framing::Panel& panel, std::vector<Finding>& out) {
    const auto& house = site.house();
    const auto& wall = site.built_as(panel);
    const auto* face = site.face(panel);
    const auto core = core_of(wall);
    const auto leave = [&](Outcome outcome, std::string words, const char* citation = beam_column) {
        out.push_back(
            unnumbered(outcome, subject, panel.name, "stud as beam-column", citation, std::move(words)));
    };
    const double length = stud_length(panel);
    const bool gable = panel.kind == framing::Panel::Kind::gable_wall;
    if (gable && length <= 0) return;
    if (!core || (!face && !gable))
        return leave(Outcome::needs_engineer, "The wall has no upright studs that this check knows.");
    if (const std::string why = ungraded(house, *core); !why.empty())
        return leave(Outcome::needs_engineer, why + ". An engineer decides.");
    LineLoad load;
    if (gable)  // stands on the plates below and carries itself
        load.dead = length * weight_of(wall);
    else
        load = site.line_load(*face, wall);
    spacing_rule(site, panel, *core, load, out);
    if (!house.loads.ground_snow)
        return leave(Outcome::not_given, "The house file gives no ground snow; studs are not checked.");
    const double height = face && !gable ? face->height.metres() : length;
    if (house.loads.ground_snow->value > limits().snow + 1e-6 || height > limits().storey || length <= 0)
        return leave(Outcome::needs_engineer,
                     "Snow above 70 psf or a storey above 11 ft 7 in: an engineer decides.",
                     "IRC 2021 R301.2.3, R301.3");
    const Post post = post_of(site, panel, wall, *core, load);
    gravity(post, out);
    bearing(post, out);
    wind(post, out);
}

}  // namespace warmside::structure
