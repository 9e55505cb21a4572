// Headers, kings and jacks.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "framing/around_opening.h"
#include "framing/spans.h"
#include "structure/site.h"
#include "structure/span.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

using framing::Role;

/// As judge, of things that are counted: at least `asked`, no ratio.
void count(Finding& f, int asked, int stand) {
    f.demand = asked;
    f.capacity = stand;
    f.unit = "-";
    f.outcome = stand >= asked ? Outcome::passes : Outcome::fails;
}

/// The members around one opening.
struct Around {
    int plies = 0;
    Size header;                  ///< of one ply
    std::string name;             ///< "2x10"
    std::string marks;            ///< of the plies
    std::string lumber;           ///< of the plies
    double span = 0.0;            ///< m, between the jambs
    int kings = 0, jacks = 0;     ///< on the side that has fewer
    bool cripples_above = false;  ///< on the header; those between it and a door's head do not count
    bool at_rim = false;          ///< over the plates, in the rim of the floor above
};

Around around(const framing::AroundOpening& placed) {
    Around out{.plies = static_cast<int>(placed.plies.size()),
               .header = {},
               .span = placed.clear.metres(),
               .kings = std::min(placed.kings[0], placed.kings[1]),
               .jacks = std::min(placed.jacks[0], placed.jacks[1]),
               .cripples_above = placed.cripples_on,
               .at_rim = placed.at_rim};
    for (const auto* ply : placed.plies) {
        out.header = size_of(ply->section);
        out.name = nominal_of(out.header).empty() ? ply->section.name : nominal_of(out.header);
        out.marks += (out.marks.empty() ? "" : ", ") + ply->mark;
        out.lumber = ply->lumber;
    }
    return out;
}

Finding start(const framing::Panel& panel, const assembly::Opening& opening, const Around& members,
              const char* kind, const char* rule, const char* citation) {
    Finding f;
    f.subject = fmt::format("{} {}", kind, opening.name);
    f.where = members.marks.empty() ? panel.name : fmt::format("{}: {}", panel.name, members.marks);
    f.rule = rule;
    f.citation = citation;
    f.inputs = {computed("clear width", members.span, "m")};
    return f;
}

void leave(Finding& f, Outcome outcome, std::string words, std::vector<Finding>& out) {
    f.outcome = outcome;
    f.words = std::move(words);
    if (outcome == Outcome::needs_engineer) f.inputs.clear();
    out.push_back(std::move(f));
}

/// Fewest jacks of the table's rows that span the opening and are no stronger than the header placed: a
/// deeper header than the table asks for needs no more of them.
int fewest_jacks(const Around& members, double width, double snow, framing::Carries carries, bool braced,
                 double opening, int jacks) {
    for (int plies = 2; plies <= members.plies; ++plies) {
        for (const char* member : {"2x4", "2x6", "2x8", "2x10", "2x12"}) {
            const auto row = framing::header_row(plies, member, width, snow, carries, braced);
            if (row && row->span >= opening) jacks = std::min(jacks, row->jacks);
            if (member == members.name) break;
        }
    }
    return jacks;
}

/// Jacks are counted, not measured: no ratio.
void jacks(Finding f, const assembly::Opening& opening, const Around& members, int asked, double bearing,
           const Origin& origin, std::vector<Finding>& out) {
    f.subject = "jacks " + opening.name;
    f.rule = "jack studs by table";
    count(f, asked, members.jacks);
    f.words = fmt::format("{} at each end, at least {}.", members.jacks, asked);
    if (f.outcome == Outcome::fails && members.jacks > 0)
        f.words += fmt::format(
            " The table counts jacks for its longest span; here the header's end bears {:.2f} of "
            "its strength across the grain.",
            bearing);
    f.change = f.outcome == Outcome::fails ? fmt::format("{} jacks at each end", asked) : "";
    f.inputs.push_back({"jacks asked for", static_cast<double>(asked), "-", origin});
    out.push_back(std::move(f));
}

/// A rim board that is no sawn lumber: its maker's table.
bool sawn(const assembly::House& house, const Around& members) {
    return members.lumber.starts_with(house.practice.species.value);
}

/// Full-height studs carry a header in the rim in place of jacks.
void full_height(Finding f, const Site& site, const framing::Panel& panel, const assembly::Opening& opening,
                 const Around& members, std::vector<Finding>& out) {
    f.subject = "full-height studs " + opening.name;
    f.rule = "studs under a header in the rim";
    f.citation = "IRC 2021 R602.7.2 (memory)";
    const auto core = core_of(site.built_as(panel));
    if (!core || core->framing->spacing <= units::Exact{})
        return leave(f, Outcome::needs_engineer, "The studs' spacing is not known: an engineer decides.",
                     out);
    const double spacing = core->framing->spacing.metres();
    // Those that half the span displaces, at the wall's own spacing: no fewer than at the table's.
    const int asked = std::max(1, static_cast<int>(std::ceil(0.5 * members.span / spacing - 1e-9)));
    count(f, asked, members.kings);
    f.inputs.push_back(computed("spacing of studs", spacing, "m"));
    f.words = fmt::format("{} full-height studs at each end, at least {}: half its span displaces them.",
                          members.kings, asked);
    f.change = f.outcome == Outcome::fails ? fmt::format("{} full-height studs at each end", asked) : "";
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
    // Where the code's tables of rafters and joists end.
    const double psf = *units::parse("1 psf", units::pressure), slack = 0.01 * psf;
    const bool heavy = house.loads.roof_dead.value > 20 * psf + slack ||
                       (floors > 0 && (house.loads.floor_live.value > 40 * psf + slack ||
                                       house.loads.floor_dead.value > 20 * psf + slack));
    const auto values = lumber_of(practice.species.value, practice.grade.value, members.header);
    if (members.at_rim) f.citation = "IRC 2021 R602.7.2 (memory), Table R602.7(1)";
    if (!sawn(house, members))
        return leave(f, Outcome::needs_engineer,
                     fmt::format("A header of {}: its maker's table or an engineer decides.", members.lumber),
                     out);
    const auto& ground = house.loads.ground_snow;
    if (!roof || !ground || heavy || floors > 1 || (floors == 1 && !practice.bearing_line.value) || !values ||
        !header_lumber(practice.species.value, practice.grade.value))
        return leave(
            f, Outcome::needs_engineer,
            "Outside the table (lumber, grade, size, loads, or what it carries): an engineer decides.", out);
    const double width = site.roof_span(*roof, *site.face(panel)), snow = ground->value;
    const auto carries = floors == 1 ? framing::Carries::roof_and_floor : framing::Carries::roof;
    const bool braced = !members.cripples_above;
    const auto limit = framing::header_row(members.plies, members.name, width, snow, carries, braced);
    if (!limit)
        return leave(
            f, Outcome::needs_engineer,
            fmt::format("The table has no row for {}-{}, this snow and a building {} wide: an engineer "
                        "decides.",
                        members.plies, members.name, units::feet_inches(width)),
            out);
    f.inputs.push_back(site.snow());
    f.inputs.push_back(computed("width of the building", width, "m"));
    f.inputs.push_back({"longest span", limit->span, "m", limit->origin});
    Finding below = f;
    // A header chosen by the same table may just do.
    judge(f, members.span, limit->span + 1e-6, "m");
    f.words = fmt::format("{}-{} over {}, at most {}{}.", members.plies, members.name,
                          units::feet_inches(members.span), units::feet_inches(limit->span),
                          limit->unbraced ? " with cripples on it (x 0.70)" : "");
    if (f.outcome == Outcome::fails) f.change = "a deeper header, another ply, or its top held by the plates";
    out.push_back(std::move(f));
    if (members.at_rim) return full_height(std::move(below), site, panel, opening, members, out);
    const int asked = fewest_jacks(members, width, snow, carries, braced, members.span, limit->jacks);
    const double live = load.floor_live + load.attic_live, top_load = std::max(load.snow, load.roof_live);
    const double line = load.dead + std::max({live, top_load, 0.75 * (live + top_load)});
    const double end =
        line * members.span / 2 /
        (std::max(members.jacks, 1) * members.header.breadth * members.plies * members.header.breadth);
    jacks(std::move(below), opening, members, asked, end / values->across, limit->origin, out);
}

/// A header that carries no roof: as a beam.
void as_beam(const Site& site, const framing::Panel& panel, const assembly::Opening& opening,
             const Around& members, const LineLoad& load, std::vector<Finding>& out) {
    const auto& house = site.house();
    const auto& practice = house.practice;
    Finding f = start(panel, opening, members, "header", "header as a beam: bending, shear, deflection L/240",
                      "NDS 2018 3.3, 3.4; ASCE 7-16 2.4.1");
    const auto values = lumber_of(practice.species.value, practice.grade.value, members.header);
    if (!values || !sawn(house, members))
        return leave(f, Outcome::needs_engineer, "Its lumber has no recognised grade: an engineer decides.",
                     out);
    const Durations& d = durations();
    const double live = load.floor_live + load.attic_live;
    const double roof = std::max(load.snow, load.roof_live);
    double worst = 0.0;
    for (const auto& [carried, duration] :
         {std::pair{live, d.live}, std::pair{roof, d.snow}, std::pair{0.75 * (live + roof), d.snow},
          std::pair{0.0, d.dead}}) {
        worst = std::max(worst, beam_ratio({.size = members.header,
                                            .plies = members.plies,
                                            .lumber = *values,
                                            .dead = load.dead,
                                            .live = carried,
                                            .duration = duration,
                                            .repetitive = members.plies >= 3 ? d.repetitive : 1.0,
                                            .limit = limits().header},
                                           members.span));
    }
    f.inputs.push_back(site.snow());
    f.inputs.push_back(input("floor live load", house.loads.floor_live, "Pa"));
    f.inputs.push_back(computed("dead load", load.dead, "N/m"));
    f.inputs.push_back({"bending strength Fb", values->bending, "Pa", values->origin});
    judge(f, worst, 1.0, "-");
    f.words = fmt::format("{}-{} over {}, wall that carries no roof: {:.2f} of capacity.", members.plies,
                          members.name, units::feet_inches(members.span), worst);
    if (f.outcome == Outcome::fails) f.change = "a deeper header";
    out.push_back(std::move(f));
    if (members.at_rim)
        full_height(start(panel, opening, members, "", "", ""), site, panel, opening, members, out);
}

void kings(const Site& site, const framing::Panel& panel, const assembly::Opening& opening,
           const Around& members, std::vector<Finding>& out) {
    Finding f = start(panel, opening, members, "kings", "king studs by table", "IRC 2021 Table R602.7.5");
    f.where = panel.name;
    const auto& loads = site.house().loads;
    if (!loads.wind_speed || !loads.exposure)
        return leave(f, Outcome::not_given, "The house file gives no wind speed with its exposure.", out);
    const auto core = core_of(site.built_as(panel));
    if (!core || !ungraded(site.house(), *core).empty())
        return leave(f, Outcome::needs_engineer, "The studs have no recognised grade: an engineer decides.",
                     out);
    const auto rule =
        kings_for(members.span, loads.wind_speed->value, loads.exposure->value, members.jacks > 0);
    if (!rule)
        return leave(f, Outcome::needs_engineer,
                     "Wider than 18 ft, or wind beyond the table: an engineer decides.", out);
    count(f, rule->kings, members.kings);
    f.inputs.push_back(site.wind());
    f.inputs.push_back({"kings asked for", static_cast<double>(rule->kings), "-", rule->origin});
    f.words = fmt::format("{} at each side, at least {}.", members.kings, rule->kings);
    f.change = f.outcome == Outcome::fails ? fmt::format("{} kings at each side", rule->kings) : "";
    out.push_back(std::move(f));
}

/// An opening under another's header carries only what lies between the two.
void under_another(const framing::Panel& panel, const assembly::Opening& opening,
                   const assembly::Opening& carrying, const Around& members, std::vector<Finding>& out) {
    Finding f = start(panel, opening, members, "header", "flat piece under a shared header",
                      "IRC 2021 R602.7.4 (memory)");
    f.inputs = {computed("clear width", opening.width.metres(), "m")};
    // Up to 8 ft wide and 24 in to the next lying piece above, in a wall that carries nothing there.
    constexpr double widest = 2.4384, highest = 0.6096;
    const double head = (opening.sill + opening.height).metres();
    double above = 1e9;
    for (const auto& member : panel.members) {
        const bool over = member.along == 0 && member.box.low[0] <= opening.left &&
                          member.box.high[0] >= opening.left + opening.width;
        const double low = member.box.low[1].metres();
        if (over && low > head + 1e-6 && member.role != Role::furring && member.role != Role::batten)
            above = std::min(above, low - head);
    }
    const std::string shared = fmt::format("The header over {} carries what lies above both.", carrying.name);
    if (opening.width.metres() > widest + 1e-6 || above > highest)
        return leave(f, Outcome::needs_engineer,
                     shared +
                         " Its own flat piece is wider than 8 ft, or more than 24 in stand on it: an "
                         "engineer decides.",
                     out);
    leave(f, Outcome::reminder, shared + " A flat piece carries what stands between.", out);
}

}  // namespace

void check_openings(const Site& site, const framing::Panel& panel, std::vector<Finding>& out) {
    const auto* face = site.face(panel);
    if (!face) return;
    const auto& wall = site.built_as(panel);
    const LineLoad load = site.line_load(*face, wall);
    const auto& house = site.house();
    const auto core = core_of(wall);
    const int layer = core ? static_cast<int>(core->layer) : -1;
    for (std::size_t i = 0; i < face->openings.size(); ++i) {
        const auto& opening = face->openings[i];
        const auto placed = framing::around_opening(panel, *face, static_cast<int>(i), layer);
        const Around members = around(placed);
        if (placed.governing != static_cast<int>(i)) {
            under_another(panel, opening, face->openings[static_cast<std::size_t>(placed.governing)], members,
                          out);
            continue;
        }
        Finding f =
            start(panel, opening, members, "header", "header span by table", "IRC 2021 Table R602.7(1)");
        if (members.plies == 0) {
            leave(f, Outcome::reminder, "No header is placed here.", out);
        } else if (!house.loads.ground_snow) {
            leave(f, Outcome::not_given, "The house file gives no ground snow; headers are not checked.",
                  out);
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
        check_posts(site, panel, i, members.span, out);
    }
}

}  // namespace warmside::structure
