// Headers, kings and jacks.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "structure/headers.h"
#include "structure/site.h"
#include "structure/span.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

using framing::Role;

/// The members around one opening.
struct Around {
    int plies = 0;
    Size header;          ///< of one ply
    std::string name;     ///< "2x10"
    std::string marks;    ///< of the plies
    int kings = 0, jacks = 0;  ///< on the side that has fewer
    bool cripples_above = false;
};

Around around(const framing::Panel& panel, int opening, double middle) {
    Around out;
    std::array<int, 2> kings{}, jacks{};
    for (const auto& member : panel.members) {
        if (member.opening != opening) continue;
        const std::size_t side = (member.box.low[0] + member.box.high[0]).metres() / 2 < middle ? 0 : 1;
        if (member.role == Role::king) ++kings[side];
        if (member.role == Role::jack) ++jacks[side];
        if (member.role == Role::cripple_above) out.cripples_above = true;
        if (member.role == Role::header) {
            ++out.plies;
            out.header = size_of(member.section);
            out.name = nominal_of(out.header).empty() ? member.section.name : nominal_of(out.header);
            out.marks += (out.marks.empty() ? "" : ", ") + member.mark;
        }
    }
    out.kings = std::min(kings[0], kings[1]);
    out.jacks = std::min(jacks[0], jacks[1]);
    return out;
}

Finding start(const framing::Panel& panel, const assembly::Opening& opening, const Around& members,
              const char* kind, const char* rule, const char* citation) {
    Finding f;
    f.subject = fmt::format("{} {}", kind, opening.name);
    f.where = members.marks.empty() ? panel.name : fmt::format("{}: {}", panel.name, members.marks);
    f.rule = rule;
    f.citation = citation;
    f.inputs = {computed("clear width", opening.width.metres(), "m")};
    return f;
}

void leave(Finding& f, Outcome outcome, std::string words, std::vector<Finding>& out) {
    f.outcome = outcome;
    f.words = std::move(words);
    if (outcome == Outcome::needs_engineer) f.inputs.clear();
    out.push_back(std::move(f));
}

void jacks(Finding f, const assembly::Opening& opening, int stand, int asked, const Origin& origin,
           std::vector<Finding>& out) {
    f.subject = "jacks " + opening.name;
    f.rule = "jack studs by table";
    judge(f, asked, std::max(stand, 0), "-");
    if (stand <= 0) f.ratio.reset();
    f.words = fmt::format("{} at each end, at least {}.", stand, asked);
    f.change = f.outcome == Outcome::fails ? fmt::format("{} jacks at each end", asked) : "";
    f.inputs.push_back({"jacks asked for", static_cast<double>(asked), "-", origin});
    out.push_back(std::move(f));
}

/// A header in a wall that carries a roof: by table.
void by_table(const Site& site, const framing::Panel& panel, const assembly::Opening& opening,
              const Around& members, const LineLoad& load, std::vector<Finding>& out) {
    const auto& house = site.house();
    const auto& practice = house.practice;
    Finding f = start(panel, opening, members, "header", "header span by table", "IRC 2021 Table R602.7(1)");
    const auto* storey = house.storey(site.face(panel)->storey);
    const assembly::Storey* top = storey;
    for (const auto& each : house.storeys) {
        if (each.floor > top->floor) top = &each;
    }
    const auto* roof = site.roof_over(*top);
    // A storey above weighs on the header even where its joists run past: the heavier column is taken.
    const int floors = load.storeys_above;
    const bool graded = practice.grade.value == "No. 2" || practice.grade.value == "No. 1" ||
                        practice.grade.value == "Select Structural";
    if (!roof || floors > 1 || (floors == 1 && !practice.bearing_line.value) || !graded ||
        !header_species(practice.species.value) || nominal_of(members.header).empty())
        return leave(f, Outcome::needs_engineer,
                     "Outside the table (lumber, grade, size, or what it carries): an engineer decides.", out);
    const double width = site.roof_span(*roof), snow = house.loads.ground_snow->value;
    const auto limit =
        header_limit(members.plies, members.name, width, snow, floors, !members.cripples_above);
    if (!limit)
        return leave(f, Outcome::needs_engineer,
                     fmt::format("The table has no row for {}-{}, this snow and a building {} wide: an engineer "
                                 "decides.",
                                 members.plies, members.name, units::feet_inches(width)),
                     out);
    f.inputs.push_back(site.snow());
    f.inputs.push_back(computed("width of the building", width, "m"));
    f.inputs.push_back({"longest span", limit->span, "m", limit->origin});
    Finding below = f;
    judge(f, opening.width.metres(), limit->span, "m");
    f.words = fmt::format("{}-{} over {}, at most {}{}.", members.plies, members.name,
                          units::feet_inches(opening.width.metres()), units::feet_inches(limit->span),
                          members.cripples_above ? " with cripples on it (x 0.70)" : "");
    if (f.outcome == Outcome::fails) f.change = "a deeper header, another ply, or its top held by the plates";
    out.push_back(std::move(f));
    jacks(std::move(below), opening, members.jacks, limit->jacks, limit->origin, out);
}

/// A header that carries no roof: as a beam.
void as_beam(const Site& site, const framing::Panel& panel, const assembly::Opening& opening,
             const Around& members, const LineLoad& load, std::vector<Finding>& out) {
    const auto& house = site.house();
    const auto& practice = house.practice;
    Finding f = start(panel, opening, members, "header", "header as a beam: bending, shear, deflection L/240",
                      "NDS 2018 3.3, 3.4; ASCE 7-16 2.4.1");
    const auto values = lumber_of(practice.species.value, practice.grade.value, members.header);
    if (!values)
        return leave(f, Outcome::needs_engineer, "Its lumber has no recognised grade: an engineer decides.", out);
    const Durations& d = durations();
    const double live = load.floor_live + load.attic_live;
    const double roof = std::max(load.snow, load.roof_live);
    double worst = 0.0;
    for (const auto& [carried, duration] : {std::pair{live, d.live}, std::pair{roof, d.snow},
                                            std::pair{0.75 * (live + roof), d.snow}, std::pair{0.0, d.dead}}) {
        worst = std::max(worst, beam_ratio({.size = members.header,
                                            .plies = members.plies,
                                            .lumber = *values,
                                            .dead = load.dead,
                                            .live = carried,
                                            .duration = duration,
                                            .repetitive = members.plies >= 3 ? d.repetitive : 1.0,
                                            .limit = limits().header},
                                           opening.width.metres()));
    }
    f.inputs.push_back(site.snow());
    f.inputs.push_back(input("floor live load", house.loads.floor_live, "Pa"));
    f.inputs.push_back(computed("dead load", load.dead, "N/m"));
    f.inputs.push_back({"bending strength Fb", values->bending, "Pa", values->origin});
    judge(f, worst, 1.0, "-");
    f.words = fmt::format("{}-{} over {}, wall that carries no roof: {:.2f} of capacity.", members.plies,
                          members.name, units::feet_inches(opening.width.metres()), worst);
    if (f.outcome == Outcome::fails) f.change = "a deeper header";
    out.push_back(std::move(f));
}

void kings(const Site& site, const framing::Panel& panel, const assembly::Opening& opening,
           const Around& members, std::vector<Finding>& out) {
    Finding f = start(panel, opening, members, "kings", "king studs by table", "IRC 2021 Table R602.7.5");
    f.where = panel.name;
    if (!site.wind_given())
        return leave(f, Outcome::not_given, "The house file gives no wind speed with its exposure.", out);
    const auto& loads = site.house().loads;
    const auto rule =
        kings_for(opening.width.metres(), loads.wind_speed->value, loads.exposure->value);
    if (!rule)
        return leave(f, Outcome::needs_engineer,
                     "Wider than 18 ft, or wind beyond the table: an engineer decides.", out);
    judge(f, rule->kings, std::max(members.kings, 0), "-");
    if (members.kings <= 0) f.ratio.reset();
    f.inputs.push_back(site.wind());
    f.inputs.push_back({"kings asked for", static_cast<double>(rule->kings), "-", rule->origin});
    f.words = fmt::format("{} at each side, at least {}.", members.kings, rule->kings);
    f.change = f.outcome == Outcome::fails ? fmt::format("{} kings at each side", rule->kings) : "";
    out.push_back(std::move(f));
}

}  // namespace

void check_openings(const Site& site, const framing::Panel& panel, std::vector<Finding>& out) {
    const auto* face = site.face(panel);
    if (!face) return;
    const auto& wall = site.built_as(panel);
    const LineLoad load = site.line_load(*face, wall);
    const auto& house = site.house();
    for (std::size_t i = 0; i < face->openings.size(); ++i) {
        const auto& opening = face->openings[i];
        const double middle = (opening.left.metres() + (opening.left + opening.width).metres()) / 2;
        const Around members = around(panel, static_cast<int>(i), middle);
        Finding f = start(panel, opening, members, "header", "header span by table", "IRC 2021 Table R602.7(1)");
        if (members.plies == 0) {
            leave(f, Outcome::reminder, "No header is placed here.", out);
        } else if (!house.loads.ground_snow) {
            leave(f, Outcome::not_given, "The house file gives no ground snow; headers are not checked.", out);
        } else if (house.loads.ground_snow->value > limits().snow + 1e-6 ||
                   face->height.metres() > limits().storey) {
            leave(f, Outcome::needs_engineer,
                  "Snow above 70 psf or a storey above 11 ft 7 in: an engineer decides.", out);
        } else if (load.bears_roof) {
            by_table(site, panel, opening, members, load, out);
        } else {
            as_beam(site, panel, opening, members, load, out);
        }
        kings(site, panel, opening, members, out);
    }
}

}  // namespace warmside::structure
