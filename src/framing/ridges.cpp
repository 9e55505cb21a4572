// Ridges, hips and valleys. Where they meet, an east-west ridge runs half its thickness beyond the joint;
// what comes to it at 45 degrees ends at the corner of the ridges' crossing, thickness / sqrt 2 short of the
// joint.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <numbers>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using assembly::RoofPoint;
using assembly::RoofStrip;

const Exact none;
constexpr double hair = 1e-6;
// Shorter hips between two joints are blocks, cut on site.
constexpr double least_piece = 3 * 0.0254;
const Exact least_board = Exact::sixty_fourths_of_inch(24 * 64);

bool same(const RoofPoint& a, const RoofPoint& b) {
    return std::abs(a.x - b.x) < hair && std::abs(a.y - b.y) < hair;
}

bool east_west(const RoofLine& line) {
    return std::abs(line.to.x - line.from.x) > std::abs(line.to.y - line.from.y);
}

// Does a ridge pass a point, not end there?
bool passes(const RoofLine& line, const RoofPoint& at) {
    if (line.kind != RoofEdge::ridge || same(line.from, at) || same(line.to, at)) return false;
    const bool ew = east_west(line);
    const double off = ew ? at.y - line.from.y : at.x - line.from.x;
    const double a = ew ? line.from.x : line.from.y, b = ew ? line.to.x : line.to.y, c = ew ? at.x : at.y;
    return std::abs(off) < hair && std::min(a, b) < c && c < std::max(a, b);
}

// What meets in a point.
struct Joint {
    int valleys_up = 0;  // that end there
    int others = 0;      // hips, and lines that begin there
    int ridges = 0;      // that end there
    bool under_ridge = false;
    // Two valleys and the ridge of a wing, in the middle of a slope.
    [[nodiscard]] bool dies() const { return valleys_up == 2 && ridges == 1 && others == 0 && !under_ridge; }
};

Joint joint_at(const RoofPlan& p, const RoofPoint& at) {
    Joint out;
    for (const RoofLine& line : p.edge.lines) {
        if (passes(line, at)) out.under_ridge = true;
        const bool ends = same(line.to, at), begins = same(line.from, at);
        if (!ends && !begins) continue;
        if (line.kind == RoofEdge::ridge)
            ++out.ridges;
        else if (line.kind == RoofEdge::valley && ends)
            ++out.valleys_up;
        else
            ++out.others;
    }
    return out;
}

// The plane under a point, and how far up it a line at 45 degrees goes.
std::optional<RoofPoint> end_above(const RoofPlan& p, const RoofLine& valley) {
    const RoofPoint& at = valley.to;
    const double dx = at.x > valley.from.x ? 1.0 : -1.0, dy = at.y > valley.from.y ? 1.0 : -1.0;
    for (const RoofPlane& plane : p.edge.planes) {
        const bool on_x = assembly::runs_east_west(plane.side);
        const double u = on_x ? at.x : at.y, du = on_x ? dx : dy;
        const double level = std::abs((on_x ? at.y : at.x) - plane.line);
        for (const RoofStrip& s : plane.strips) {
            // Just beyond the joint, above the valley.
            const double near = u + du * 1e-3;
            if (near < s.from || near > s.to || level + 1e-3 < s.low_at(near) + hair ||
                level > s.high_at(near))
                continue;
            if (std::abs(level - at.level) > hair || s.high != RoofEdge::ridge) continue;
            const double run = s.high_at(near) - level, end = u + du * run;
            if (end < plane.from() || end > plane.to()) return std::nullopt;
            // All of it on this plane.
            for (const double share : {0.25, 0.5, 0.75, 1.0}) {
                if (std::abs(p.edge.level(at.x + dx * run * share, at.y + dy * run * share) -
                             (at.level + run * share)) > hair)
                    return std::nullopt;
            }
            return RoofPoint{at.x + dx * run, at.y + dy * run, at.level + run};
        }
    }
    return std::nullopt;
}

// Do two stretches of plan come nearer to each other than `least`? By the ends of each and where they cross.
bool near(const RoofPoint& a, const RoofPoint& b, const RoofPoint& c, const RoofPoint& d, double least) {
    const auto off = [](const RoofPoint& p, const RoofPoint& from, const RoofPoint& to) {
        const double dx = to.x - from.x, dy = to.y - from.y, square = dx * dx + dy * dy;
        const double s = std::clamp(((p.x - from.x) * dx + (p.y - from.y) * dy) / square, 0.0, 1.0);
        return std::hypot(from.x + s * dx - p.x, from.y + s * dy - p.y);
    };
    if (std::min({off(a, c, d), off(b, c, d), off(c, a, b), off(d, a, b)}) < least) return true;
    const auto turn = [](const RoofPoint& p, const RoofPoint& q, const RoofPoint& r) {
        return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    };
    return turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0;
}

// From the joint of a dying ridge to the ridge above, level.
std::optional<double> run_above(const RoofPlan& p, const RoofPoint& joint) {
    for (const RoofLine& line : p.edge.lines) {
        if (line.kind != RoofEdge::valley || !same(line.to, joint)) continue;
        if (const auto end = end_above(p, line)) return end->level - joint.level;
    }
    return std::nullopt;
}

// The valley of a joint that runs on to the ridge above, clear of those that do.
std::optional<Support> support_at(const RoofPlan& p, const RoofPoint& joint,
                                  const std::vector<Support>& others) {
    for (const RoofLine& line : p.edge.lines) {
        if (line.kind != RoofEdge::valley || !same(line.to, joint)) continue;
        const auto end = end_above(p, line);
        if (!end) continue;
        const bool crosses = std::any_of(others.begin(), others.end(), [&](const Support& s) {
            return near(line.to, *end, s.valley.to, s.end, p.ridge.thickness.metres() * 2);
        });
        if (!crosses) return Support{line, *end};
    }
    return std::nullopt;
}

// So near below a ridge that no valley runs on: the wing's ridge butts it, and both valleys end at the
// wing's.
bool at_ridge(const RoofPlan& p, double run) {
    return run < p.ridge.thickness.metres();
}

// Joints where a wing's ridge and its valleys end in the middle of a slope.
std::vector<RoofPoint> dying(const RoofPlan& p) {
    std::vector<RoofPoint> out;
    for (const RoofLine& line : p.edge.lines) {
        if (line.kind != RoofEdge::valley || !joint_at(p, line.to).dies()) continue;
        if (std::any_of(out.begin(), out.end(), [&](const RoofPoint& at) { return same(at, line.to); }))
            continue;
        const auto run = run_above(p, line.to);
        if (!run || !at_ridge(p, *run)) out.push_back(line.to);
    }
    return out;
}

class Lines {
public:
    explicit Lines(const RoofPlan& plan)
        : p_(plan),
          half_(plan.ridge.thickness.metres() / 2),
          corner_(half_ * std::numbers::sqrt2),
          supports_(supports_of(plan)) {}

    void build(std::vector<Panel>& panels) {
        for (const RoofLine& line : p_.edge.lines) {
            if (line.kind == RoofEdge::ridge) ridge(line, panels);
        }
        for (const RoofLine& line : p_.edge.lines) {
            if (line.kind == RoofEdge::hip) slanting(line, Role::hip, panels);
            if (line.kind == RoofEdge::valley) slanting(line, Role::valley, panels);
        }
    }

private:
    // How far a ridge runs on beyond an end of it.
    double beyond(const RoofLine& line, const RoofPoint& end) const {
        bool crossed = false, met = false, slants = false;
        for (const RoofLine& other : p_.edge.lines) {
            if (&other == &line) continue;
            if (passes(other, end)) crossed = true;
            if (!same(other.from, end) && !same(other.to, end)) continue;
            (other.kind == RoofEdge::ridge ? met : slants) = true;
        }
        if (joint_at(p_, end).dies()) {
            const auto run = run_above(p_, end);
            return run && at_ridge(p_, *run) ? *run - half_ : -corner_;
        }
        if (crossed) return -half_;
        if (met) return east_west(line) ? half_ : -half_;
        return slants ? half_ : 0.0;
    }

    // One that runs north from a joint less than a thickness away from the end of an east-west one ends at
    // its side: the hip between them is too short to part them.
    void clear(const RoofPoint& south, const RoofPoint& north, double& before, double& after) const {
        for (const RoofLine& other : p_.edge.lines) {
            if (other.kind != RoofEdge::ridge || !east_west(other)) continue;
            for (const RoofPoint* end : {&other.from, &other.to}) {
                if (std::abs(end->x - south.x) >= 2 * half_) continue;
                if (!same(*end, south) && std::abs(end->y - south.y) < 2 * half_)
                    before = std::min(before, south.y - end->y - half_);
                if (!same(*end, north) && std::abs(end->y - north.y) < 2 * half_)
                    after = std::min(after, end->y - north.y - half_);
            }
        }
    }

    // A panel that holds one stick, from the house's point `origin` along `v`.
    Panel lone(const char* what, const std::array<double, 3>& origin, const std::array<double, 3>& along) {
        const int n = ++number_[what];
        std::string name = fmt::format("roof {} {}", p_.roof->name, what);
        if (n > 1 || what != std::string("ridge")) name += fmt::format(" {}", n);
        Panel panel{
            .kind = Panel::Kind::roof, .name = std::move(name), .storey = p_.storey->name, .origin = origin};
        panel.v = along;
        const double level = std::hypot(along[0], along[1]);
        panel.u = {along[1] / level, -along[0] / level, 0.0};
        panel.w = {panel.u[1] * along[2], -panel.u[0] * along[2],
                   panel.u[0] * along[1] - panel.u[1] * along[0]};
        return panel;
    }

    Interval across() const {
        const Exact left = none - half(p_.ridge.thickness);
        return {left, left + p_.ridge.thickness};
    }

    void finish(Panel& panel, Exact length, std::vector<Panel>& panels) {
        panel.from = across().low;
        panel.length = p_.ridge.thickness;
        panel.height = length;
        mark_members(panel);
        panels.push_back(std::move(panel));
    }

    void ridge(const RoofLine& line, std::vector<Panel>& panels) {
        const bool ew = east_west(line);
        const bool forward = ew ? line.from.x < line.to.x : line.from.y < line.to.y;
        const RoofPoint &a = forward ? line.from : line.to, &b = forward ? line.to : line.from;
        double before = beyond(line, a), after = beyond(line, b);
        if (!ew) clear(a, b, before, after);
        const Exact length = Exact::nearest((ew ? b.x - a.x : b.y - a.y) + before + after);
        if (length <= none) return;
        // Its top is level with the rafters' upper edges at the plumb cut.
        const double up =
            p_.underside(a.level) + p_.depth.metres() / std::cos(p_.pitch) - p_.ridge.width.metres();
        Panel panel = lone("ridge", {a.x - (ew ? before : 0.0), a.y - (ew ? 0.0 : before), up},
                           {ew ? 1.0 : 0.0, ew ? 0.0 : 1.0, 0.0});
        // The last piece is no stub: it may come to a point.
        const auto pieces = pieces_of({none, length}, {std::max(length - least_board, none)});
        for (const Interval& piece : pieces) {
            Member* m = put(panel, Role::ridge, p_.ridge, p_.ridge_lumber, across(), piece,
                            {none, p_.ridge.width}, 1);
            if (!m) continue;
            // Where it dies in a slope it comes to a point between two valleys.
            if (before == -corner_ && piece.low == none) m->bevel[0] = std::numbers::pi / 4;
            if (after == -corner_ && piece.high == length) m->bevel[1] = std::numbers::pi / 4;
        }
        finish(panel, length, panels);
    }

    // Level distances along a hip or valley that it is cut short by at its ends, and its cheeks.
    struct Ends {
        double from = 0.0, to = 0.0;
        std::array<double, 2> bevel{std::numbers::pi / 4, std::numbers::pi / 4};
        RoofPoint end;
    };
    Ends ends_of(const RoofLine& line) const {
        Ends out{.end = line.to};
        const bool at_eave = line.from.level < hair;
        // A valley's tail is cut along two eaves: its long points lie on its sides.
        out.from = at_eave ? (line.kind == RoofEdge::valley ? -half_ : 0.0) : corner_;
        out.to = corner_;
        if (line.kind != RoofEdge::valley || !joint_at(p_, line.to).dies()) return out;
        const auto carries = [&](const RoofLine& l) {
            return std::find_if(supports_.begin(), supports_.end(),
                                [&](const Support& s) { return same(s.valley.to, l.to); });
        };
        const auto support = carries(line);
        if (support == supports_.end()) return out;
        if (same(support->valley.from, line.from)) {
            out.end = support->end;
            out.to = corner_ - half_;  // one cheek against the ridge: its long point lies on its side
            out.bevel[1] = -std::numbers::pi / 4;
        } else {
            out.to = half_;  // square against the valley that carries it
            out.bevel[1] = 0.0;
        }
        return out;
    }

    void slanting(const RoofLine& line, Role role, std::vector<Panel>& panels) {
        const double tangent = std::tan(p_.pitch) / std::numbers::sqrt2;  // it runs sqrt 2 as far
        const double angle = std::atan(tangent);
        const Ends ends = ends_of(line);
        const double dx = ends.end.x > line.from.x ? 1.0 : -1.0, dy = ends.end.y > line.from.y ? 1.0 : -1.0;
        const double level = std::abs(ends.end.x - line.from.x) * std::numbers::sqrt2 - ends.from - ends.to;
        if (level < least_piece) return;
        const Exact length = outward(level / std::cos(angle) + p_.ridge.width.metres() * tangent);
        const double out = ends.from / std::numbers::sqrt2;
        Panel panel = lone(name_of(role),
                           {line.from.x + dx * out, line.from.y + dy * out,
                            p_.underside(line.from.level) + ends.from * tangent},
                           {dx / std::numbers::sqrt2 * std::cos(angle),
                            dy / std::numbers::sqrt2 * std::cos(angle), std::sin(angle)});
        Member* m =
            put(panel, role, p_.ridge, p_.ridge_lumber, across(), {none, length}, {none, p_.ridge.width}, 1);
        if (m) {
            m->end_cut = {angle, angle};
            m->bevel = ends.bevel;
        }
        finish(panel, length, panels);
    }

    const RoofPlan& p_;
    double half_, corner_;
    std::vector<Support> supports_;
    std::map<std::string, int> number_;
};

}  // namespace

std::vector<Support> supports_of(const RoofPlan& p) {
    std::vector<Support> out;
    for (const RoofPoint& joint : dying(p)) {
        if (const auto support = support_at(p, joint, out)) out.push_back(*support);
    }
    return out;
}

void warn_uncarried(const RoofPlan& p, Problems& notes) {
    const auto supports = supports_of(p);
    for (const RoofPoint& joint : dying(p)) {
        if (std::any_of(supports.begin(), supports.end(),
                        [&](const Support& s) { return same(s.valley.to, joint); }))
            continue;
        notes.push_back(
            note(fmt::format("roof {}: the ridge and the valleys of a wing that meet {} from the "
                             "west and {} from the south of the house's origin reach no ridge: an "
                             "engineer decides what carries them",
                             p.roof->name, units::feet_inches(joint.x), units::feet_inches(joint.y)),
                 p.where()));
    }
}

void frame_lines(const RoofPlan& p, std::vector<Panel>& panels) {
    Lines(p).build(panels);
}

}  // namespace warmside::framing
