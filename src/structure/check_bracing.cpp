// Braced wall lines: a reminder of what the code's table asks, and what full-height sheathing there is.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "assembly/geometry.h"
#include "structure/bracing.h"
#include "structure/site.h"

namespace warmside::structure {

namespace {

constexpr const char* citation = "IRC 2021 Tables R602.10.3(1), R602.10.3(2), R602.10.5";
constexpr const char* rule = "braced length of the wall line, a reminder";

/// Parallel faces of a storey within 4 ft of one another.
struct Line {
    double at = 0.0;  ///< m, of the first face, across its direction
    std::vector<const assembly::Face*> faces;
};

std::vector<Line> lines_of(const assembly::House& house, const assembly::Storey& storey, bool east_west) {
    constexpr double offset = 4 * 0.3048;  // R602.10.1.2
    std::vector<Line> out;
    for (const auto& face : house.faces) {
        if (face.storey != storey.name || is_east_west(face) != east_west) continue;
        const double at = (east_west ? face.from.y : face.from.x).metres();
        const auto near = std::find_if(out.begin(), out.end(),
                                       [&](const Line& each) { return std::abs(each.at - at) <= offset; });
        if (near == out.end())
            out.push_back({at, {&face}});
        else
            near->faces.push_back(&face);
    }
    std::stable_sort(out.begin(), out.end(), [](const Line& a, const Line& b) { return a.at < b.at; });
    return out;
}

std::vector<Stretch> stretches_of(const assembly::Face& face) {
    std::vector<const assembly::Opening*> openings;
    for (const auto& each : face.openings) openings.push_back(&each);
    std::stable_sort(openings.begin(), openings.end(),
                     [](const auto* a, const auto* b) { return a->left < b->left; });
    std::vector<Stretch> out;
    double from = 0.0, before = 0.0;
    for (const auto* each : openings) {
        const double clear = each->height.metres();
        out.push_back({each->left.metres() - from, std::max(before, clear)});
        from = (each->left + each->width).metres();
        before = clear;
    }
    out.push_back({assembly::distance(face.from, face.to) - from, before});
    return out;
}

/// The larger of the distances to the lines on either side.
double spacing_of(const std::vector<Line>& lines, std::size_t i) {
    double out = 0.0;
    if (i > 0) out = lines[i].at - lines[i - 1].at;
    if (i + 1 < lines.size()) out = std::max(out, lines[i + 1].at - lines[i].at);
    return out;
}

std::string feet(double metres) {
    return fmt::format("{:.1f} ft", metres / 0.3048);
}

void check_line(const Site& site, const assembly::Storey& storey, const std::vector<Line>& lines,
                std::size_t index, std::vector<Finding>& out) {
    const auto& house = site.house();
    const Line& line = lines[index];
    std::string where;
    for (const auto* face : line.faces) where += (where.empty() ? "" : ", ") + face->name;
    const assembly::Face& face = *line.faces.front();
    if (!site.wind_given()) {
        out.push_back(unnumbered(Outcome::not_given, "bracing", where, rule, citation,
                                 "The house file gives no wind speed with its exposure."));
        return;
    }
    const auto* named = house.find(face.assembly);
    const auto& wall = named ? *named : site.wall();
    const auto* sheathing = sheathing_of(wall);
    constexpr double three_eighths = 0.0095;
    if (!sheathing || sheathing->thickness.metres() < three_eighths - 1e-4) {
        out.push_back(
            unnumbered(Outcome::needs_engineer, "bracing", where, rule, citation,
                       "No wood panel of 3/8 in or more sheathes the wall; other bracing methods are "
                       "not held here."));
        return;
    }
    const LineLoad load = site.line_load(face, wall);
    const auto* top = &storey;
    for (const auto& each : house.storeys) {
        if (each.floor > top->floor) top = &each;
    }
    const auto* roof = site.roof_over(*top);
    BracedLine braced;
    braced.wind = house.loads.wind_speed->value;
    braced.exposure = house.loads.exposure->value;
    braced.floors = load.storeys_above;
    braced.storeys = site.storeys();
    braced.spacing = spacing_of(lines, index);
    braced.rise = roof ? site.rise(*roof) : 0.0;
    braced.storey = face.height.metres();
    braced.lines = static_cast<int>(lines.size());
    const Lining lining = lining_of(wall);
    braced.gypsum = lining.gypsum;
    const auto asked = braced_length(braced);
    braced.gypsum = false;
    const auto bare = braced_length(braced);
    std::vector<Stretch> stretches;
    for (const auto* each : line.faces) {
        const auto more = stretches_of(*each);
        stretches.insert(stretches.end(), more.begin(), more.end());
    }
    const auto offered = offered_length(stretches, face.height.metres());
    if (!asked || !bare || !offered || lines.size() < 2) {
        out.push_back(
            unnumbered(Outcome::needs_engineer, "bracing", where, rule, citation,
                       "Outside the bracing tables (wind, line spacing, roof rise, storey height): an "
                       "engineer decides."));
        return;
    }
    Finding f = unnumbered(Outcome::reminder, "bracing", where, rule, citation, "");
    f.demand = lining.on_battens ? *bare : *asked;
    f.capacity = *offered;
    f.unit = "m";
    f.words = fmt::format("Asked for {}", feet(*asked));
    if (lining.on_battens)
        f.words += fmt::format(
            " with the gypsum on the studs, {} where gypsum on battens is not accepted "
            "opposite the panels (x 1.4; ask the official)",
            feet(*bare));
    else if (!lining.gypsum)
        f.words += " (no 1/2 in gypsum inside, x 1.4)";
    f.words += fmt::format("; full-height sheathing that counts beside openings: {}.", feet(*offered));
    if (*offered < *f.demand)
        f.change = "fewer or narrower openings in this line, another method, or a design";
    f.inputs = {site.wind(),
                computed("distance to the next braced line", braced.spacing, "m"),
                computed("eave to ridge", braced.rise, "m"),
                {"table length and factors", *asked, "m", bracing_origin()}};
    out.push_back(std::move(f));
}

/// Sheathing and its nails as they resist wind on the wall.
void check_panel(const Site& site, std::vector<Finding>& out) {
    const auto& wall = site.wall();
    const auto* sheathing = sheathing_of(wall);
    const auto core = core_of(wall);
    if (!site.wind_given() || !sheathing || !core) return;
    const auto& loads = site.house().loads;
    Finding f;
    f.subject = "sheathing";
    f.where = "all walls";
    f.rule = "wood panel and its nails under wind";
    f.citation = "IRC 2021 Table R602.3(3)";
    const auto row = sheathing_row(sheathing->thickness.metres(), core->framing->spacing.metres());
    if (!row) {
        f.outcome = Outcome::needs_engineer;
        f.words = "Thinner, or over wider studs, than the table's rows: an engineer decides.";
        out.push_back(std::move(f));
        return;
    }
    const double most = row->speeds[static_cast<std::size_t>(loads.exposure->value)];
    judge(f, loads.wind_speed->value, most, "m/s");
    f.words =
        fmt::format("{} {} with {} nails at 6 and 12 in: up to {:.0f} m/s.",
                    units::inches(sheathing->thickness.metres()), sheathing->material->name, row->nail, most);
    if (f.outcome == Outcome::fails) f.change = "studs at 16 in or thicker panels";
    f.inputs = {site.wind(), {"largest speed", most, "m/s", row->origin}};
    out.push_back(std::move(f));
}

}  // namespace

void check_bracing(const Site& site, std::vector<Finding>& out) {
    for (const auto& storey : site.house().storeys) {
        for (const bool east_west : {true, false}) {
            const auto lines = lines_of(site.house(), storey, east_west);
            for (std::size_t i = 0; i < lines.size(); ++i) check_line(site, storey, lines, i, out);
        }
    }
    check_panel(site, out);
}

}  // namespace warmside::structure
