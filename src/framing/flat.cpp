#include "framing/flat.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

#include "assembly/geometry.h"
#include "assembly/members.h"

namespace warmside::framing {

namespace {

using assembly::House;
using assembly::Point;
using assembly::Storey;

const Exact none;

Exact of(const Point& p, int axis) {
    return axis == 0 ? p.x : p.y;
}

Interval between(Exact a, Exact b) {
    return {std::min(a, b), std::max(a, b)};
}

// The outline without corners that lie on a straight stretch.
std::vector<Point> corners_of(const std::vector<Point>& outline) {
    std::vector<Point> out;
    const std::size_t n = outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point &a = outline[(i + n - 1) % n], &b = outline[i], &c = outline[(i + 1) % n];
        const bool straight = (a.x == b.x && b.x == c.x) || (a.y == b.y && b.y == c.y);
        if (!straight) out.push_back(b);
    }
    return out;
}

struct Edge {
    Exact frame;   // from the inside face to the frame's outer face
    Exact beyond;  // from there to the wall's outer face
};

bool lies_on(const assembly::Face& face, const Point& a, const Point& b) {
    const int axis = a.y == b.y ? 0 : 1;
    const Interval stretch = between(of(a, axis), of(b, axis));
    const Exact line = of(a, 1 - axis);
    return of(face.from, 1 - axis) == line && of(face.to, 1 - axis) == line &&
           between(of(face.from, axis), of(face.to, axis)).overlaps(stretch);
}

// Of the faces on an edge, that with the thickest frame counts.
Edge edge_of(const House& house, const Storey& storey, const assembly::Assembly& wall, const Point& a,
             const Point& b) {
    const auto measure = [](const assembly::Assembly& built) {
        const auto build = build_of(built);
        const Exact frame = build ? build->bearer().depth.high : built.thickness();
        return Edge{frame, built.thickness() - frame};
    };
    std::optional<Edge> out;
    for (const assembly::Face& face : house.faces) {
        if (face.storey != storey.name || !lies_on(face, a, b)) continue;
        const auto* built = face.assembly.empty() ? &wall : house.find(face.assembly);
        const Edge each = measure(built ? *built : wall);
        if (!out || each.frame > out->frame) out = each;
    }
    return out ? *out : measure(wall);
}

Field around(const std::vector<Point>& outline) {
    Field out{{outline.front().x, outline.front().x}, {outline.front().y, outline.front().y}};
    for (const Point& p : outline) {
        out.u = {std::min(out.u.low, p.x), std::max(out.u.high, p.x)};
        out.v = {std::min(out.v.low, p.y), std::max(out.v.high, p.y)};
    }
    return out;
}

}  // namespace

std::optional<Plan> plan_of(const House& house, const Storey& storey, const assembly::Assembly& wall) {
    const auto corners = corners_of(storey.outline);
    const std::size_t n = corners.size();
    if (n < 4) return std::nullopt;
    Plan plan{.outline = corners, .whole = {}, .inside = around(corners), .beyond = none};
    plan.rectangle = n == 4;
    for (std::size_t i = 0; i < n; ++i) {
        const Point &a = corners[i], &b = corners[(i + 1) % n];
        if ((a.x == b.x) == (a.y == b.y)) return std::nullopt;
        const Edge edge = edge_of(house, storey, wall, a, b);
        plan.beyond = std::max(plan.beyond, edge.beyond);
        // Counter-clockwise: outwards is to the right of the way.
        for (Point* p : {&plan.outline[i], &plan.outline[(i + 1) % n]}) {
            if (a.y == b.y)
                p->y = b.x > a.x ? a.y - edge.frame : a.y + edge.frame;
            else
                p->x = b.y > a.y ? a.x + edge.frame : a.x - edge.frame;
        }
    }
    plan.whole = around(plan.outline);
    return plan;
}

std::vector<Interval> across(const std::vector<Point>& outline, int axis, Exact at) {
    std::vector<Exact> cuts;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if (of(a, axis) != of(b, axis)) continue;
        const Interval reach = between(of(a, 1 - axis), of(b, 1 - axis));
        if (reach.low <= at && at < reach.high) cuts.push_back(of(a, axis));
    }
    std::sort(cuts.begin(), cuts.end());
    std::vector<Interval> out;
    for (std::size_t i = 0; i + 1 < cuts.size(); i += 2) out.push_back({cuts[i], cuts[i + 1]});
    return out;
}

std::vector<Field> strips_of(const std::vector<Point>& outline, int axis) {
    std::vector<Exact> steps;
    for (const Point& p : outline) steps.push_back(of(p, axis));
    std::sort(steps.begin(), steps.end());
    steps.erase(std::unique(steps.begin(), steps.end()), steps.end());
    std::vector<Field> out;
    for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
        const Interval band{steps[i], steps[i + 1]};
        for (const Interval& each : across(outline, 1 - axis, band.low))
            out.push_back(axis == 0 ? Field{band, each} : Field{each, band});
    }
    return out;
}

Section named_section(const House& house, const std::string& name) {
    const auto size =
        assembly::member_size(house.catalogue.lumber.empty() ? material::built_in() : house.catalogue, name);
    return size ? Section{name, size->narrow, size->wide} : Section{name, none, none};
}

std::string joist_lumber(const House& house) {
    return graded_lumber(house, house.practice.grade.value);
}

Exact outward(double metres) {
    constexpr double step = 0.0254 / 64;
    // What is a whole 64th but for rounding stays it.
    return Exact::sixty_fourths_of_inch(static_cast<std::int64_t>(std::ceil(metres / step - 1e-6)));
}

std::vector<Exact> centres(const Interval& run, Exact start, Exact module, Exact thick) {
    std::vector<Exact> out;
    if (module <= none || run.size() <= thick * 2) return out;
    const Exact first = run.low + half(thick), last = run.high - half(thick);
    out.push_back(first);
    for (Exact at = start; at <= last - thick; at += module) {
        if (at >= first + thick) out.push_back(at);
    }
    // A mark that the end member covers would leave too wide a bay: its member stands against the end.
    if (last - out.back() > module) out.push_back(last - thick);
    out.push_back(last);
    return out;
}

void lay_sheets(const House& house, Panel& panel, int layer, const Field& field, const Interval& w,
                int long_axis, const Extent& extent) {
    const Exact wide = house.practice.sheet_width.value, length = house.practice.sheet_length.value;
    const Interval rows = long_axis == 0 ? field.v : field.u;
    const Interval whole = long_axis == 0 ? field.u : field.v;
    if (wide <= none || length <= none) return;
    int number = 0;
    for (Exact at = rows.low; at < rows.high; at += wide, ++number) {
        const Interval row{at, std::min(at + wide, rows.high)};
        const Interval reach = extent ? extent(at) : whole;
        Exact from = number % 2 == 0 ? whole.low : whole.low - half(length);
        for (; from < reach.high; from += length) {
            const Interval piece{std::max(from, reach.low), std::min(from + length, reach.high)};
            if (piece.size() <= none) continue;
            const Interval &u = long_axis == 0 ? piece : row, &v = long_axis == 0 ? row : piece;
            panel.sheets.push_back({.layer = layer,
                                    .box = {{u.low, v.low, w.low}, {u.high, v.high, w.high}},
                                    .long_side_up = long_axis == 1});
        }
    }
}

void lay_runs(const House& house, Panel& panel, int layer, const Field& field, const Interval& w) {
    const Exact wide = house.practice.roll_width.value;
    const Exact lap = house.practice.lap.value;
    if (wide <= lap) return;
    for (Exact at = field.v.low; at < field.v.high;) {
        const bool lowest = at == field.v.low;
        const Exact low = lowest ? at : at - lap;
        const Exact high = std::min(low + wide, field.v.high);
        panel.runs.push_back({.layer = layer,
                              .box = {{field.u.low, low, w.low}, {field.u.high, high, w.high}},
                              .lap = lowest ? none : lap});
        if (!lowest)
            panel.seams.push_back({.layer = layer, .kind = Seam::Kind::lap, .length = field.u.size()});
        at = high;
    }
}

bool is_sheet(const assembly::Layer& layer) {
    if (layer.kind != assembly::Layer::Kind::material || !layer.material || layer.framing) return false;
    const auto& m = *layer.material;
    return m.family == "panel" || m.family == "gypsum" || m.family == "cement board" ||
           m.hatch == "sheathing" || m.hatch == "gypsum";
}

void mark_members(Panel& panel) {
    std::map<std::string, int> count;
    for (Member& member : panel.members) {
        const std::string letters = mark_of(member.role);
        member.mark = fmt::format("{}{}", letters, ++count[letters]);
    }
}

Problem note(std::string what, const Place& where) {
    return {.code = Code::unsupported, .severity = Severity::note, .what = std::move(what), .where = where};
}

}  // namespace warmside::framing
