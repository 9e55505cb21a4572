// Studs between their plates: gravity, wind, deflection, bearing, spacing.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "structure/posts.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

constexpr const char* subject = "stud";
constexpr const char* beam_column = "NDS 2018 3.7, 3.9.2; ASCE 7-16 2.4.1";

double stud_length(const framing::Panel& panel) {
    double longest = 0.0;
    for (const auto& member : panel.members) {
        if (member.along == 1 && (member.role == framing::Role::stud || member.role == framing::Role::king))
            longest = std::max(longest, member.length.metres());
    }
    return longest;
}

Finding judged(const WorstCase& worst, Finding finding, const std::string& what) {
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
    const auto has = [&](std::initializer_list<std::string_view> words) {
        return std::any_of(wall.layers.begin(), wall.layers.end(), [&](const assembly::Layer& layer) {
            return layer.kind == assembly::Layer::Kind::material &&
                   std::any_of(words.begin(), words.end(), [&](std::string_view word) {
                       return layer.material->name.find(word) != std::string::npos;
                   });
        });
    };
    if (has({"stucco", "plaster"})) {
        why = "plaster or stucco";
        return l.stucco;
    }
    if (has({"brick", "mortar", "cement board"})) {
        why = "a brittle finish";
        return l.other_brittle;
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
        f.inputs.push_back({"tallest wall of the row", rule->height, "m", rule->height_origin});
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

    [[nodiscard]] Finding start(const char* rule, const char* citation) const {
        Finding f;
        f.subject = subject;
        f.where = panel.name;
        f.rule = rule;
        f.citation = citation;
        f.inputs = load_inputs(site, load);
        return f;
    }
};

Post post_of(const Site& site, const framing::Panel& panel, const assembly::Assembly& wall, const Core& core,
             const Lumber& lumber, const LineLoad& load) {
    const auto& practice = site.house().practice;
    Post out{site, panel, wall, load, {}, core.framing->spacing.metres(), {}};
    out.stud.size = core.size;
    out.stud.lumber = lumber;
    out.stud.length = stud_length(panel);
    constexpr double three_at_two_feet = 0.6196;  // 24 in, and 610 mm
    out.stud.repetitive = out.spacing <= three_at_two_feet ? durations().repetitive : 1.0;
    out.name = fmt::format("{} {} {} at {}, {} long{}", core.framing->member, practice.species.value,
                           practice.stud_grade.value, units::inches(out.spacing),
                           units::feet_inches(out.stud.length),
                           core.row ? " (one row of several, all loads on it)" : "");
    return out;
}

void add(Finding& finding, std::vector<Input> more) {
    finding.inputs.insert(finding.inputs.end(), more.begin(), more.end());
}

void gravity(const Post& post, std::vector<Finding>& out) {
    Finding f = post.start("stud under gravity loads", "NDS 2018 3.7; ASCE 7-16 2.4.1");
    const WorstCase worst = worst_of(post.stud, over(post.load, post.spacing), false);
    add(f, column_inputs(post.stud, worst, false));
    out.push_back(judged(worst, std::move(f), post.name));
}

/// The same area and nearly the same load at both ends: the bottom plate has the wall's own weight as well.
void bearing(const Post& post, std::vector<Finding>& out) {
    const auto& practice = post.site.house().practice;
    const auto plate = lumber_of(practice.species.value, practice.grade.value, post.stud.size);
    if (!plate) {
        out.push_back(unnumbered(Outcome::needs_engineer, subject, post.panel.name,
                                 "bearing of the stud on its plates", "NDS 2018 3.10.2",
                                 "The plates have no recognised grade: an engineer decides."));
        return;
    }
    Finding f = post.start("bearing of the stud on its plates", "NDS 2018 3.10.2");
    f.inputs.push_back({"strength across the grain", plate->across, "Pa", plate->origin});
    const double stress = heaviest(over(post.load, post.spacing)) / post.stud.size.area();
    judge(f, stress, plate->across, "Pa");
    f.words = fmt::format("{}: {:.2f} of what the plates bear across their grain.", post.name,
                          stress / plate->across);
    if (f.outcome == Outcome::fails) f.change = "a closer spacing or doubled studs";
    out.push_back(std::move(f));
}

void sag(const Post& post, double ultimate, std::vector<Finding>& out) {
    std::string why;
    const double length = post.stud.length, share = deflection_limit(post.wall, why);
    const double bent =
        deflection(post.stud.size, post.stud.lumber.modulus, length, for_deflection(ultimate) * post.spacing);
    Finding f = post.start("stud deflection under wind", "IRC 2021 Table R301.7");
    judge(f, bent, length / share, "m");
    f.words = fmt::format("{}: {} of {} ({}), under 0.7 of the allowable-stress wind.", post.name,
                          units::inches(bent, 32), units::inches(length / share, 32), why);
    if (f.outcome == Outcome::fails) f.change = "deeper studs or a closer spacing";
    f.inputs = {post.site.wind(),
                {"wind for deflection", for_deflection(ultimate), "Pa", limits().wind_for_deflection},
                {"length over limit", share, "-", limits().origin},
                computed("stud length", length, "m"),
                {"modulus of elasticity E", post.stud.lumber.modulus, "Pa", post.stud.lumber.origin}};
    out.push_back(std::move(f));
}

void wind(const Post& post, std::vector<Finding>& out) {
    Finding f = post.start("stud as beam-column, axial and wind", beam_column);
    if (!post.site.wind_given()) {
        out.push_back(
            unnumbered(Outcome::not_given, subject, f.where, f.rule, f.citation,
                       "The house file gives no wind speed with its exposure; wind is not checked."));
        return;
    }
    const double length = post.stud.length;
    const auto ultimate = governing_pressure(post.site, length * std::max(post.spacing, length / 3));
    if (!ultimate) {
        out.push_back(unnumbered(Outcome::needs_engineer, subject, f.where, f.rule, "IRC 2021 R301.2.1.1",
                                 "Wind of 140 mph and more, or a roof above 35 ft: an engineer decides."));
        return;
    }
    PostLoad load = over(post.load, post.spacing);
    load.wind = allowable(*ultimate) * post.spacing;
    const WorstCase worst = worst_of(post.stud, load, true);
    add(f, {post.site.wind(),
            {"wind on the wall, allowable stress", allowable(*ultimate), "Pa", limits().pressure},
            computed("mean roof height", post.site.mean_roof_height(), "m")});
    add(f, column_inputs(post.stud, worst, true));
    f = judged(worst, std::move(f), post.name);
    if (f.outcome == Outcome::fails)
        f.words +=
            " The code's table of stud spacings asks for no such check; where it allows the stud, the "
            "official decides.";
    out.push_back(std::move(f));
    sag(post, *ultimate, out);
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
    const auto lumber = lumber_of(house.practice.species.value, house.practice.stud_grade.value, core->size);
    if (!lumber) return leave(Outcome::needs_engineer, "The studs have no grade. An engineer decides.");
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
    const Post post = post_of(site, panel, wall, *core, *lumber, load);
    gravity(post, out);
    bearing(post, out);
    wind(post, out);
}

}  // namespace warmside::structure
