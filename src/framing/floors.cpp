#include <algorithm>
#include <fmt/format.h>

#include "framing/flat.h"

namespace warmside::framing {

namespace {

using assembly::Floor;
using assembly::House;
using assembly::Point;
using assembly::Storey;

const Exact none;
// Shorter bits beside a step of the outline are filled on site.
const Exact least_joist = Exact::sixty_fourths_of_inch(3 * 64);
// Nearer to the bearing line than this a joist ends there anyway.
const Exact least_part = Exact::sixty_fourths_of_inch(24 * 64);

// What a floor is made of.
struct Joists {
    Section section;
    std::string lumber;
    Exact thick, depth, spacing;
    int axis = 0;  // that they run along
    int layer = -1;
};

Interval moved(const Interval& i, Exact by) {
    return {i.low - by, i.high - by};
}

// Boxes on the two axes of the floor, whichever way the joists run.
class Deck {
public:
    /// `headers` in the rim, in the house's axes.
    Deck(const House& house, const Plan& plan, const Joists& joists, const std::vector<Field>& headers,
         Panel& panel, Problems& notes)
        : house_(house), plan_(plan), joists_(joists), panel_(panel), notes_(notes) {
        for (Point& p : outline_) {
            p.x = p.x - plan.whole.u.low;
            p.y = p.y - plan.whole.v.low;
        }
        along_ =
            joists.axis == 0 ? moved(plan.whole.u, plan.whole.u.low) : moved(plan.whole.v, plan.whole.v.low);
        beside_ =
            joists.axis == 0 ? moved(plan.whole.v, plan.whole.v.low) : moved(plan.whole.u, plan.whole.u.low);
        for (const Field& header : headers) {
            const Interval u = moved(header.u, plan.whole.u.low), v = moved(header.v, plan.whole.v.low);
            headers_.push_back(joists.axis == 0 ? Rect{u, v} : Rect{v, u});
        }
    }

    void build(const Place& where) {
        add_rims();
        const bool split = house_.practice.bearing_line.value && along_.size() > least_part * 2;
        add_joists(split, where);
        if (split) add_blocks();
        if (!headers_.empty()) tell_hangers();
    }

    const std::vector<Point>& outline() const { return outline_; }

private:
    struct Rect {
        Interval along, beside;
    };

    // `a` along the joists, `b` beside them.
    Member* stick(Role role, const Section& section, const std::string& lumber, const Interval& a,
                  const Interval& b, bool along) {
        const Interval w{none, joists_.depth};
        const int axis = along ? joists_.axis : 1 - joists_.axis;
        return joists_.axis == 0 ? put(panel_, role, section, lumber, a, b, w, axis, joists_.layer)
                                 : put(panel_, role, section, lumber, b, a, w, axis, joists_.layer);
    }
    Exact at(const Point& p, bool along) const { return (joists_.axis == 0) == along ? p.x : p.y; }

    void add_rims() {
        const auto [t, lumber] = rim_board_of(house_, joists_.thick, joists_.lumber);
        const Section section = section_of(t, joists_.depth);
        const std::size_t n = outline_.size();
        for (std::size_t i = 0; i < n; ++i) {
            const Point &before = outline_[(i + n - 1) % n], &a = outline_[i], &b = outline_[(i + 1) % n],
                        &after = outline_[(i + 2) % n];
            const bool end = at(a, true) == at(b, true);  // across the joists
            const Exact line = at(a, end);
            // The inside lies to the left of the way round.
            const bool inside_above =
                joists_.axis == 0 ? (end ? b.y < a.y : b.x > a.x) : (end ? b.x > a.x : b.y < a.y);
            const Interval thick = inside_above ? Interval{line, line + t} : Interval{line - t, line};
            Interval run{std::min(at(a, !end), at(b, !end)), std::max(at(a, !end), at(b, !end))};
            if (!end) {
                // At an outer corner the rim across the joists' ends passes.
                const bool a_outer = turns_left(before, a, b), b_outer = turns_left(a, b, after);
                const bool rising = at(b, true) > at(a, true);
                if (rising ? a_outer : b_outer) run.low += t;
                if (rising ? b_outer : a_outer) run.high = run.high - t;
            }
            std::vector<Interval> taken;
            for (const Rect& header : headers_) {
                const Interval &across = end ? header.along : header.beside,
                               &over = end ? header.beside : header.along;
                if (across.overlaps(thick)) taken.push_back(over);
            }
            for (const Interval& free : free_of(run, taken)) {
                for (const Interval& piece : pieces_of(free, {}))
                    end ? stick(Role::rim, section, lumber, thick, piece, false)
                        : stick(Role::rim, section, lumber, piece, thick, true);
            }
            rims_.push_back(end ? Rect{thick, run} : Rect{run, thick});
        }
    }

    static bool turns_left(const Point& a, const Point& b, const Point& c) {
        const double cross =
            (b.x - a.x).metres() * (c.y - b.y).metres() - (b.y - a.y).metres() * (c.x - b.x).metres();
        return cross > 0.0;
    }

    // Where a joist at `beside` may lie: within the outline over all its thickness, clear of the rims.
    std::vector<Interval> free_lengths(const Interval& beside) const {
        const auto low = across(outline_, joists_.axis, beside.low);
        const auto high = across(outline_, joists_.axis, beside.high - Exact::eighths_of_micrometre(1));
        std::vector<Interval> taken;
        for (const auto* rects : {&rims_, &headers_}) {
            for (const Rect& each : *rects) {
                if (each.beside.overlaps(beside)) taken.push_back(each.along);
            }
        }
        std::vector<Interval> out;
        for (const Interval& a : low) {
            for (const Interval& b : high) {
                const Interval both{std::max(a.low, b.low), std::min(a.high, b.high)};
                if (both.size() <= none) continue;
                for (const Interval& each : free_of(both, taken)) {
                    if (each.size() >= least_joist) out.push_back(each);
                }
            }
        }
        return out;
    }

    void add_joists(bool split, const Place& where) {
        const Exact middle = along_.low + half(along_.size());
        Exact longest;
        for (Exact at = beside_.low + joists_.spacing; at < beside_.high; at += joists_.spacing) {
            const Interval beside{at - half(joists_.thick), at - half(joists_.thick) + joists_.thick};
            for (const Interval& length : free_lengths(beside)) {
                std::vector<Interval> parts{length};
                if (split && middle - length.low >= least_part && length.high - middle >= least_part)
                    parts = {{length.low, middle}, {middle, length.high}};
                for (const Interval& part : parts) {
                    stick(Role::joist, joists_.section, joists_.lumber, part, beside, true);
                    longest = std::max(longest, part.size());
                }
            }
        }
        if (longest > longest_piece && joists_.lumber != "I-joist") {
            notes_.push_back(
                note(fmt::format("{}: joists of {} are longer than lumber comes; another joist_run or a "
                                 "bearing line shortens them",
                                 panel_.name, units::feet_inches(longest.metres())),
                     where));
        }
    }

    // Joists end at headers in the rim, over openings where no wall stands under them.
    void tell_hangers() {
        const auto meets = [&](const Member& m) {
            const Interval along = joists_.axis == 0 ? u_of(m.box) : v_of(m.box),
                           beside = joists_.axis == 0 ? v_of(m.box) : u_of(m.box);
            return m.role == Role::joist && std::any_of(headers_.begin(), headers_.end(), [&](const Rect& h) {
                       return h.beside.overlaps(beside) &&
                              (h.along.high == along.low || h.along.low == along.high);
                   });
        };
        notes_.push_back(note(
            fmt::format("{}: headers lie in its rim; {} joists end at them and hang from them in approved "
                        "hangers, which are not listed. No header has a joint between its full-height studs "
                        "(IRC R602.7.2, memory)",
                        panel_.name, std::count_if(panel_.members.begin(), panel_.members.end(), meets)),
            house_.details.header_place.origin.where));
    }

    // Full-depth blocks between the joists over the bearing line (IRC R502.7, memory).
    void add_blocks() {
        const Exact middle = along_.low + half(along_.size());
        const Exact t = joists_.section.thickness;
        const Interval along{middle - half(t), middle - half(t) + t};
        std::vector<Interval> taken;
        for (const Member& m : panel_.members) {
            const Interval a = joists_.axis == 0 ? u_of(m.box) : v_of(m.box);
            if (a.overlaps(along)) taken.push_back(joists_.axis == 0 ? v_of(m.box) : u_of(m.box));
        }
        for (const Rect& header : headers_) {
            if (header.along.overlaps(along)) taken.push_back(header.beside);
        }
        for (const Interval& inside : across(outline_, 1 - joists_.axis, middle)) {
            for (const Interval& bay : free_of(inside, taken))
                stick(Role::blocking, joists_.section, joists_.lumber, along, bay, false);
        }
    }

    const House& house_;
    const Plan& plan_;
    const Joists& joists_;
    Panel& panel_;
    Problems& notes_;
    std::vector<Point> outline_ = plan_.outline;
    Interval along_, beside_;
    std::vector<Rect> rims_, headers_;
};

int joist_axis(const House& house, const Plan& plan) {
    const std::string& run = house.practice.joist_run.value;
    if (run == "east-west") return 0;
    if (run == "north-south") return 1;
    return plan.whole.u.size() <= plan.whole.v.size() ? 0 : 1;
}

Joists joists_of(const House& house, const Plan& plan, const assembly::Assembly* built) {
    Joists out;
    out.axis = joist_axis(house, plan);
    if (const auto* framing = built ? assembly::main_framing(*built) : nullptr) {
        out.section = section_of(*framing);
        out.thick = framing->width;
        out.depth = framing->depth;
        out.spacing = framing->spacing;
        out.lumber = framing->kind == assembly::Framing::Kind::solid ? joist_lumber(house) : "I-joist";
        for (std::size_t i = 0; i < built->layers.size(); ++i) {
            const auto& own = built->layers[i].framing;
            if (own && &*own == framing) out.layer = static_cast<int>(i);
        }
        return out;
    }
    out.section = named_section(house, house.practice.joist.value);
    out.lumber = joist_lumber(house);
    out.thick = out.section.thickness;
    out.depth = out.section.width;
    out.spacing = house.practice.joist_spacing.value;
    return out;
}

// Sheets and membranes of a floor assembly: what stands before the joists in its list lies over them.
void cover(const House& house, const Plan& plan, const assembly::Assembly* built, const Joists& joists,
           const std::vector<Point>& outline, Panel& panel) {
    const auto sheets = [&](int layer, const Interval& w) {
        for (const Field& strip : strips_of(outline, joists.axis))
            lay_sheets(house, panel, layer, strip, w, 1 - joists.axis);
    };
    if (!built) {
        sheets(-1, {joists.depth, joists.depth + Exact::nearest(house.details.deck.value)});
        return;
    }
    const Field whole{moved(plan.whole.u, plan.whole.u.low), moved(plan.whole.v, plan.whole.v.low)};
    const auto lay = [&](std::size_t i, const Interval& w) {
        const auto& layer = built->layers[i];
        if (is_sheet(layer)) sheets(static_cast<int>(i), w);
        if (layer.membrane) lay_runs(house, panel, static_cast<int>(i), whole, w);
    };
    Exact up = joists.depth, down;
    for (int i = joists.layer - 1; i >= 0; --i) {
        const Exact t = built->layers[static_cast<std::size_t>(i)].thickness;
        lay(static_cast<std::size_t>(i), {up, up + t});
        up += t;
    }
    for (auto i = static_cast<std::size_t>(joists.layer) + 1; i < built->layers.size(); ++i) {
        const Exact t = built->layers[i].thickness;
        lay(i, {down - t, down});
        down = down - t;
    }
}

// A floor of `storey` whose joists' underside is at `level`.
void add_floor(const House& house, const assembly::Assembly& wall, const Storey& storey,
               const assembly::Assembly* built, std::optional<Exact> level, const std::vector<Field>& headers,
               const Place& where, std::vector<Panel>& panels, Problems& notes) {
    const auto plan = plan_of(house, storey, wall);
    if (!plan) {
        notes.push_back(
            note(fmt::format("storey {}: an edge of the outline does not run along an axis; its floor is "
                             "not framed",
                             storey.name),
                 storey.origin.where));
        return;
    }
    if (!plan->rectangle) {
        notes.push_back(
            note(fmt::format("floor {}: the outline is not a rectangle; joists are placed in strips, and no "
                             "beam at its inner corners",
                             storey.name),
                 storey.origin.where));
    }
    const Joists joists = joists_of(house, *plan, built);
    if (joists.depth <= none || joists.spacing <= none) return;
    const Exact deck = Exact::nearest(house.details.deck.value);
    const Exact underside = level ? *level : storey.floor - deck - joists.depth;
    Panel panel{.kind = Panel::Kind::floor,
                .name = "floor " + storey.name,
                .assembly = built ? built->name : "",
                .storey = storey.name,
                .from = none,
                .length = plan->whole.u.size(),
                .height = plan->whole.v.size(),
                .opaque_from = plan->inside.u.low - plan->whole.u.low,
                .opaque_length = plan->inside.u.size(),
                .origin = {plan->whole.u.low.metres(), plan->whole.v.low.metres(), underside.metres()},
                .u = {1, 0, 0},
                .v = {0, 1, 0},
                .w = {0, 0, 1}};
    Deck frame(house, *plan, joists, headers, panel, notes);
    frame.build(where);
    cover(house, *plan, built, joists, frame.outline(), panel);
    mark_members(panel);
    panels.push_back(std::move(panel));
    if (house.practice.bearing_line.value) {
        notes.push_back(
            note(fmt::format("floor {}: the joists meet over a bearing line at mid span; the wall or beam "
                             "that carries them is not listed, and an engineer or its table sizes it",
                             storey.name),
                 house.practice.bearing_line.origin.where));
    }
}

bool same_outline(const Storey& a, const Storey& b) {
    return std::equal(a.outline.begin(), a.outline.end(), b.outline.begin(), b.outline.end(),
                      [](const Point& p, const Point& q) { return p.x == q.x && p.y == q.y; });
}

const assembly::Assembly* built_as(const House& house, const Floor& floor) {
    if (!floor.assembly.empty()) return house.find(floor.assembly);
    for (const auto& ladder : house.ladders) {
        if (ladder.part == assembly::Part::floor && !ladder.rungs.empty())
            return &house.assemblies[ladder.rungs.front()];
    }
    return nullptr;
}

std::vector<const Storey*> from_below(const House& house) {
    std::vector<const Storey*> order;
    for (const Storey& storey : house.storeys) order.push_back(&storey);
    std::stable_sort(order.begin(), order.end(),
                     [](const Storey* a, const Storey* b) { return a->floor < b->floor; });
    return order;
}

// Headers over the plates of a storey's walls, seen from above in the house's axes.
std::vector<Field> headers_in_rim(const House& house, const std::vector<Panel>& walls, const Storey& below) {
    std::vector<Field> out;
    for (const Panel& panel : walls) {
        if (panel.kind != Panel::Kind::wall || panel.storey != below.name) continue;
        const assembly::Face& face = house.faces[panel.face];
        const int east = face.to.x > face.from.x ? 1 : face.to.x < face.from.x ? -1 : 0;
        const int north = face.to.y > face.from.y ? 1 : face.to.y < face.from.y ? -1 : 0;
        for (const Member& m : panel.members) {
            if (m.role != Role::header || m.box.low[1] < panel.height) continue;
            // u along the face, w to the right of it.
            const auto point = [&](std::size_t end) {
                const auto& at = end == 0 ? m.box.low : m.box.high;
                return Point{face.from.x + at[0] * east + at[2] * north,
                             face.from.y + at[0] * north - at[2] * east};
            };
            const Point a = point(0), b = point(1);
            out.push_back(
                {{std::min(a.x, b.x), std::max(a.x, b.x)}, {std::min(a.y, b.y), std::max(a.y, b.y)}});
        }
    }
    return out;
}

}  // namespace

RimBoard rim_board_of(const House& house, Exact joist_thickness, const std::string& joist_lumber) {
    const auto& board = house.details.rim_board;
    const bool named = board.origin.kind == Origin::Kind::house_file || joist_lumber == "I-joist";
    const Exact t = named ? Exact::nearest(board.value) : joist_thickness;
    const bool sawn = t >= Exact::sixty_fourths_of_inch(96) && joist_lumber != "I-joist";
    return {t, sawn ? joist_lumber : "rim board"};
}

const Storey* storey_upon(const House& house, const Storey& below) {
    const auto order = from_below(house);
    for (std::size_t i = 1; i < order.size(); ++i) {
        if (order[i - 1] == &below && order[i]->floor >= below.floor + below.height) return order[i];
    }
    return nullptr;
}

Result<std::vector<Panel>> frame_floors(const House& house, const assembly::Assembly& wall, Problems& notes,
                                        const std::vector<Panel>& walls) {
    std::vector<Panel> panels;
    const auto order = from_below(house);
    if (order.empty()) return panels;
    for (const Floor& floor : house.floors) {
        const auto* built = built_as(house, floor);
        if (floor.over == Floor::Over::ground || floor.over == Floor::Over::heated) continue;
        if (!built || built->part != assembly::Part::floor || !assembly::main_framing(*built)) continue;
        add_floor(house, wall, *order.front(), built, std::nullopt, {}, floor.origin.where, panels, notes);
        notes.push_back(
            note(fmt::format("floor {}: sill plates on the foundation are not listed", floor.name),
                 floor.origin.where));
        break;
    }
    for (std::size_t i = 1; i < order.size(); ++i) {
        const Storey &below = *order[i - 1], &above = *order[i];
        const Exact top = below.floor + below.height;
        if (above.floor < top) {
            notes.push_back(
                note(fmt::format("storeys {} and {} stand beside each other; no floor is framed between",
                                 below.name, above.name),
                     above.origin.where));
            continue;
        }
        if (!same_outline(below, above)) {
            notes.push_back(
                note(fmt::format("floor {}: the outline differs from that of storey {}; the floor is framed "
                                 "over its own, and what carries its edges is not listed",
                                 above.name, below.name),
                     above.origin.where));
        }
        add_floor(house, wall, above, nullptr, top, headers_in_rim(house, walls, below), above.origin.where,
                  panels, notes);
    }
    return panels;
}

}  // namespace warmside::framing
