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

/// Widths of the openings between those stretches.
std::vector<double> gaps_of(const assembly::Face& face) {
    std::vector<std::pair<units::Exact, double>> openings;
    for (const auto& each : face.openings) openings.emplace_back(each.left, each.width.metres());
    std::stable_sort(openings.begin(), openings.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<double> out;
    for (const auto& each : openings) out.push_back(each.second);
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

/// One wall line with all that its findings share.
struct Checked {
    const Site& site;
    const std::vector<Line>& lines;
    const Line& line;
    const assembly::Assembly& wall;
    std::string where;
    BracedLine braced;
    Lining lining;
};

Checked checked_line(const Site& site, const assembly::Storey& storey, const std::vector<Line>& lines,
                     std::size_t index) {
    const auto& house = site.house();
    const Line& line = lines[index];
    const assembly::Face& face = *line.faces.front();
    const auto* named = house.find(face.assembly);
    const auto& wall = named ? *named : site.wall();
    Checked out{site, lines, line, wall, {}, {}, lining_of(wall)};
    for (const auto* each : line.faces) out.where += (out.where.empty() ? "" : ", ") + each->name;
    const auto* top = &storey;
    for (const auto& each : house.storeys) {
        if (each.floor > top->floor) top = &each;
    }
    const auto* roof = site.roof_over(*top);
    out.braced.wind = house.loads.wind_speed->value;
    out.braced.exposure = house.loads.exposure->value;
    out.braced.floors = site.line_load(face, wall).storeys_above;
    out.braced.storeys = site.storeys();
    // The faces are those of the lining; the panels stand outside of the frame.
    out.braced.spacing = spacing_of(lines, index) + 2 * site.frame();
    out.braced.rise = roof ? site.rise(*roof) : 0.0;
    out.braced.storey = face.height.metres();
    out.braced.lines = static_cast<int>(lines.size());
    out.braced.gypsum = out.lining.gypsum;
    return out;
}

/// True where a horizontal joint of the sheathing stands on no plate or block.
bool loose_joint(const Checked& c, const framing::Frame& frame, const assembly::Layer& sheathing) {
    const int layer = static_cast<int>(&sheathing - c.wall.layers.data());
    const auto& faces = c.site.house().faces;
    for (const auto& panel : frame.panels) {
        if (panel.kind != framing::Panel::Kind::wall || panel.face >= faces.size()) continue;
        const auto* face = &faces[panel.face];
        if (std::find(c.line.faces.begin(), c.line.faces.end(), face) == c.line.faces.end()) continue;
        std::optional<units::Exact> lowest;
        for (const auto& sheet : panel.sheets) {
            if (sheet.layer == layer)
                lowest = lowest ? std::min(*lowest, sheet.box.low[1]) : sheet.box.low[1];
        }
        const auto held = [&](units::Exact joint) {
            return std::any_of(panel.members.begin(), panel.members.end(), [&](const auto& member) {
                using framing::Role;
                const bool flat = member.role == Role::top_plate || member.role == Role::bottom_plate ||
                                  member.role == Role::blocking || member.role == Role::fire_block;
                return flat && member.box.low[1] <= joint && joint <= member.box.high[1];
            });
        };
        for (const auto& sheet : panel.sheets) {
            if (sheet.layer == layer && sheet.box.low[1] > *lowest && !held(sheet.box.low[1])) return true;
        }
    }
    return false;
}

/// What else the code knows, named and not sized.
void without_panels(const Checked& c, std::vector<Finding>& out) {
    const auto core = core_of(c.wall);
    std::string methods;
    for (const auto& each : other_methods(core ? core->framing->spacing.metres() : 1.0))
        methods += fmt::format("{}{} ({})", methods.empty() ? "" : ", ", each.name, each.what);
    std::string words =
        "No wood panel of 3/8 in or more sheathes the wall outside of its studs, so no length "
        "by table holds for it";
    words += methods.empty() ? ". "
                             : fmt::format(
                                   ". On these studs the code also knows {}; their lengths are "
                                   "not held here. ",
                                   methods);
    if (c.lining.on_battens)
        words +=
            "The lining on battens or an inner frame counts neither as GB nor as the gypsum opposite the "
            "panels. ";
    out.push_back(unnumbered(Outcome::needs_engineer, "bracing", c.where,
                             "bracing of a wall without wood panels", "IRC 2021 Table R602.10.4 (memory)",
                             words + "An engineer decides."));
    BracedLine panels = c.braced;
    panels.gypsum = c.lining.gypsum && !c.lining.on_battens;
    const auto whole = braced_length(panels);
    panels.continuous = false;
    const auto separate = braced_length(panels);
    if (!whole || !separate || c.lines.size() < 2) return;
    Finding f = unnumbered(Outcome::reminder, "bracing", c.where,
                           "what wood panels would be asked of the line", citation, "");
    f.demand = *whole;
    f.unit = "m";
    f.words = fmt::format(
        "With wood panels: {} where they sheathe the whole side (CS-WSP), {} as separate "
        "panels of at least 4 ft (WSP; more in walls above 10 ft){}.",
        feet(*whole), feet(*separate),
        panels.gypsum ? "" : ", x 1.4 for no gypsum on the studs inside taken");
    f.inputs = {c.site.wind(),
                computed("distance to the next braced line", c.braced.spacing, "m"),
                computed("eave to ridge", c.braced.rise, "m"),
                {"table length and factors", *whole, "m", bracing_origin()}};
    out.push_back(std::move(f));
}

/// Words on what stands in the line, and the length that counts; nothing where the wall is too tall.
std::optional<double> offered_in(const Checked& c, std::string& words) {
    const double height = c.braced.storey;
    double sum = 0.0;
    bool placed = true;
    for (const auto* each : c.line.faces) {
        const auto stretches = stretches_of(*each);
        const auto length = offered_length(stretches, height);
        if (!length) return std::nullopt;
        sum += *length;
        placed = placed && (c.line.faces.size() > 1 || well_placed(stretches, gaps_of(*each), height));
    }
    words = fmt::format("; full-height sheathing that counts beside openings: {}.", feet(sum));
    if (!placed)
        words += " It does not begin within 10 ft of each end with gaps of at most 20 ft, as the code asks.";
    return sum;
}

void with_panels(Checked c, const framing::Frame& frame, const assembly::Layer& sheathing,
                 std::vector<Finding>& out) {
    c.braced.blocked = !loose_joint(c, frame, sheathing);
    const auto asked = braced_length(c.braced);
    BracedLine bare_line = c.braced;
    bare_line.gypsum = false;
    const auto bare = braced_length(bare_line);
    std::string have;
    const auto offered = offered_in(c, have);
    if (!asked || !bare || !offered || c.lines.size() < 2) {
        out.push_back(
            unnumbered(Outcome::needs_engineer, "bracing", c.where, rule, citation,
                       "Outside the bracing tables (wind, line spacing, roof rise, storey height, one "
                       "line alone): an engineer decides."));
        return;
    }
    Finding f = unnumbered(Outcome::reminder, "bracing", c.where, rule, citation, "");
    f.demand = c.lining.on_battens ? *bare : *asked;
    f.capacity = *offered;
    f.unit = "m";
    f.words = fmt::format("Asked for {}", feet(*asked));
    if (c.lining.on_battens)
        f.words += fmt::format(
            " with the gypsum on the studs, {} where gypsum on battens or an inner frame is not accepted "
            "opposite the panels (x 1.4; ask the official)",
            feet(*bare));
    else if (!c.lining.gypsum)
        f.words += " (no 1/2 in gypsum inside, x 1.4)";
    if (!c.braced.blocked) f.words += ", twice the table for horizontal joints without blocks";
    f.words += have;
    if (c.site.house().loads.seismic && c.site.house().loads.seismic->value > "C")
        f.words += " That is for wind; the code's seismic table, which may ask for more, is not held here.";
    if (*offered < *f.demand)
        f.change = c.braced.blocked ? "fewer or narrower openings in this line, another method, or a design"
                                    : "blocks behind the sheets' horizontal joints, or taller sheets";
    f.inputs = {c.site.wind(),
                computed("distance to the next braced line", c.braced.spacing, "m"),
                computed("eave to ridge", c.braced.rise, "m"),
                {"table length and factors", *asked, "m", bracing_origin()}};
    out.push_back(std::move(f));
}

void check_line(const Site& site, const framing::Frame& frame, const assembly::Storey& storey,
                const std::vector<Line>& lines, std::size_t index, std::vector<Finding>& out) {
    if (!site.wind_given()) {
        std::string where;
        for (const auto* face : lines[index].faces) where += (where.empty() ? "" : ", ") + face->name;
        out.push_back(unnumbered(Outcome::not_given, "bracing", where, rule, citation,
                                 "The house file gives no wind speed with its exposure."));
        return;
    }
    const Checked c = checked_line(site, storey, lines, index);
    const auto* sheathing = sheathing_of(c.wall);
    constexpr double three_eighths = 0.0095;
    if (sheathing && sheathing->thickness.metres() >= three_eighths - 1e-4)
        with_panels(c, frame, *sheathing, out);
    else
        without_panels(c, out);
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

void check_bracing(const Site& site, const framing::Frame& frame, std::vector<Finding>& out) {
    for (const auto& storey : site.house().storeys) {
        for (const bool east_west : {true, false}) {
            const auto lines = lines_of(site.house(), storey, east_west);
            for (std::size_t i = 0; i < lines.size(); ++i) check_line(site, frame, storey, lines, i, out);
        }
    }
    check_panel(site, out);
}

}  // namespace warmside::structure
