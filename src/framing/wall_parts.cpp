#include "framing/wall_parts.h"

#include <algorithm>
#include <fmt/format.h>

#include "framing/dressed.h"

namespace warmside::framing {

namespace {

std::string lumber_of(const assembly::House& house, const assembly::Framing& framing,
                      const std::string& grade) {
    if (framing.kind != assembly::Framing::Kind::solid)
        return framing.kind == assembly::Framing::Kind::i_joist ? "I-joist" : "truss";
    return graded_lumber(house, grade);
}

}  // namespace

std::string graded_lumber(const assembly::House& house, const std::string& grade) {
    return house.practice.species.value + (grade == "none" ? ", ungraded" : " " + grade);
}

Section section_of(Exact thickness, Exact width) {
    if (width < thickness) std::swap(width, thickness);
    const auto t = nominal_of(dressed_thicknesses, thickness), w = nominal_of(dressed_widths, width);
    if (t && w) return {fmt::format("{}x{}", *t, *w), thickness, width};
    const auto whole_mm = [](Exact e) { return e.count() % 8000 == 0; };
    if (whole_mm(thickness) && whole_mm(width))
        return {fmt::format("{}x{}", thickness.count() / 8000, width.count() / 8000), thickness, width};
    if (whole_mm(thickness))
        return {fmt::format("{}x{:.0f}", thickness.count() / 8000, width.metres() * 1000), thickness, width};
    return {fmt::format("{} x {}", units::inches(thickness.metres()), units::inches(width.metres())),
            thickness, width};
}

Section section_of(const assembly::Framing& framing) {
    const Exact thin = std::min(framing.width, framing.depth), wide = std::max(framing.width, framing.depth);
    return {framing.member.empty() ? section_of(thin, wide).name : framing.member, thin, wide};
}

void place(const Bench& bench, Role role, const Section& section, std::string lumber, const Interval& u,
           const Interval& v, const Interval& w, int along, int opening) {
    Member* member = put(bench.panel, role, section, std::move(lumber), u, v, w, along, bench.layer);
    if (member) member->opening = opening;
}

Member* put(Panel& panel, Role role, const Section& section, std::string lumber, const Interval& u,
            const Interval& v, const Interval& w, int along, int layer) {
    const Exact none;
    if (u.size() <= none || v.size() <= none || w.size() <= none) return nullptr;
    Member member{.role = role,
                  .section = section,
                  .lumber = std::move(lumber),
                  .box = {{u.low, v.low, w.low}, {u.high, v.high, w.high}},
                  .along = along,
                  .layer = layer};
    member.length = member.box.size(along);
    panel.members.push_back(std::move(member));
    return &panel.members.back();
}

void tell(Problems& notes, Problem note) {
    if (std::none_of(notes.begin(), notes.end(), [&](const Problem& p) { return p.what == note.what; }))
        notes.push_back(std::move(note));
}

std::string stud_lumber(const assembly::House& house, const assembly::Framing& framing) {
    return lumber_of(house, framing, house.practice.stud_grade.value);
}

std::string plate_lumber(const assembly::House& house, const assembly::Framing& framing) {
    if (framing.kind != assembly::Framing::Kind::solid) return "plywood";
    return lumber_of(house, framing, house.practice.grade.value);
}

std::vector<Interval> pieces_of(const Interval& stretch, const std::vector<Exact>& joints,
                                const std::vector<Exact>& avoid) {
    std::vector<Interval> out;
    Exact at = stretch.low;
    while (stretch.high - at > longest_piece) {
        Exact cut = at + longest_piece;
        for (auto joint = joints.rbegin(); joint != joints.rend(); ++joint) {
            if (*joint <= at || *joint > at + longest_piece) continue;
            const bool clear = std::all_of(avoid.begin(), avoid.end(), [&](Exact a) {
                return (a > *joint ? a - *joint : *joint - a) >= plate_joint_offset;
            });
            if (!clear) continue;
            cut = *joint;
            break;
        }
        out.push_back({at, cut});
        at = cut;
    }
    out.push_back({at, stretch.high});
    return out;
}

std::vector<Interval> free_of(const Interval& stretch, std::vector<Interval> taken) {
    std::sort(taken.begin(), taken.end(), [](const Interval& a, const Interval& b) {
        return a.low != b.low ? a.low < b.low : a.high < b.high;
    });
    std::vector<Interval> out;
    Exact at = stretch.low;
    for (const Interval& each : taken) {
        if (each.low >= stretch.high) break;
        if (each.low > at) out.push_back({at, each.low});
        at = std::max(at, each.high);
    }
    if (at < stretch.high) out.push_back({at, stretch.high});
    return out;
}

std::vector<Interval> free_bays(const Bench& bench, const Interval& stretch, const Interval& v,
                                const Interval& w) {
    std::vector<Interval> taken;
    for (const Member& m : bench.panel.members) {
        if (m.layer == bench.layer && v_of(m.box).overlaps(v) && w_of(m.box).overlaps(w))
            taken.push_back(u_of(m.box));
    }
    for (const assembly::Opening& o : bench.wall.face->openings) {
        if (v_of(o).overlaps(v)) taken.push_back(u_of(o));
    }
    return free_of(stretch, std::move(taken));
}

}  // namespace warmside::framing
