// What stands around an opening: kings, jacks, header, filler, sill and cripples.
#include <algorithm>
#include <fmt/format.h>

#include "framing/spans.h"
#include "framing/wall_frame.h"
#include "framing/wall_headers.h"

namespace warmside::framing {

namespace {

std::string size(Exact length) {
    return units::feet_inches(length.metres());
}

Problem trouble(const assembly::Opening& opening, std::string what, std::string expected,
                std::string suggestion) {
    return {.code = Code::out_of_range,
            .what = std::move(what),
            .expected = std::move(expected),
            .suggestion = std::move(suggestion),
            .where = opening.origin.where};
}

// A header tight under the plates, unless the opening's head lies lower than that by more than the header's
// own height: then it lies at the head and cripples stand on it.
Result<void> set_header(const Bench& bench, const FramePlan& plan, Rough& rough) {
    const Exact room = plan.stud_high - rough.head;
    if (!plan.bearing) {
        rough.header_low = rough.header_high = rough.head;
        if (room >= Exact{}) return {};
        return fail(
            trouble(*rough.opening,
                    fmt::format("{} of face {}: its head, {} above the floor, reaches into the plates",
                                rough.opening->name, bench.wall.face->name, size(rough.head)),
                    fmt::format("a head at {} at most", size(plan.stud_high)), "a lower head or sill"));
    }
    const HeaderWish wish = header_wish(bench, plan, rough);
    rough.jacks = wish.jacks;
    rough.kings = wish.kings;
    rough.plies = wish.plies;
    rough.dropped = wish.dropped;
    if (room < wish.height) {
        return fail(trouble(
            *rough.opening,
            fmt::format(
                "{} of face {}: its head is {} above the floor, which leaves {} under the plates for a "
                "header of {}",
                rough.opening->name, bench.wall.face->name, size(rough.head),
                room > Exact{} ? size(room) : std::string("nothing"), size(wish.height)),
            fmt::format("a head at {} at most", size(plan.stud_high - wish.height)),
            "a lower head or sill, a higher wall, or header = of [details]"));
    }
    rough.header_low = wish.dropped ? rough.head : plan.stud_high - wish.height;
    rough.header_high = rough.header_low + wish.height;
    return {};
}

Result<void> check_sill(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    if (rough.sill <= Exact{} || rough.sill >= plan.stud_low) return {};
    return fail(
        trouble(*rough.opening,
                fmt::format("{} of face {}: its sill, {} above the floor, lies within the bottom plate",
                            rough.opening->name, bench.wall.face->name, size(rough.sill)),
                fmt::format("0 or at least {}", size(plan.stud_low)), ""));
}

Result<void> check_room(const Bench& bench, const FramePlan& plan, const std::vector<Rough>& all) {
    const Interval between{plan.run.low + plan.thickness, plan.run.high - plan.thickness};
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Rough& rough = all[i];
        const Exact beside = rough.clear.low - rough.zone.low;
        if (rough.zone.low < between.low || rough.zone.high > between.high) {
            const bool left = rough.zone.low < between.low;
            return fail(trouble(
                *rough.opening,
                fmt::format("{} of face {}: no room for its king and jack studs, {}, at the {} end "
                            "of the wall",
                            rough.opening->name, bench.wall.face->name, size(beside),
                            left ? "left" : "right"),
                left ? fmt::format("left = {} at least", size(between.low + beside))
                     : fmt::format("left = {} at most", size(between.high - beside - rough.clear.size())),
                "move the opening, or jamb_studs of [details]"));
        }
        if (i > 0 && rough.zone.low < all[i - 1].zone.high) {
            return fail(
                trouble(*rough.opening,
                        fmt::format("{} and {} of face {}: their king and jack studs need {} between the "
                                    "openings, there are {}",
                                    all[i - 1].opening->name, rough.opening->name, bench.wall.face->name,
                                    size(beside + (all[i - 1].zone.high - all[i - 1].clear.high)),
                                    rough.clear.low > all[i - 1].clear.high
                                        ? size(rough.clear.low - all[i - 1].clear.high)
                                        : std::string("none")),
                        "", "move them apart, or make one opening of them"));
        }
    }
    return {};
}

Interval centred(Exact centre, Exact width) {
    const Exact low = centre - half(width);
    return {low, low + width};
}

// Short studs over `v`: one at each end of `u` when `ends`, and on the layout between. A layout cripple
// nearer than a stud's thickness to an end cripple is dropped, or where it would reach out of u.
void cripples(const Bench& bench, const FramePlan& plan, const Rough& rough, Role role, const Interval& u,
              const Interval& v, bool ends) {
    const Exact t = plan.thickness;
    const auto add = [&](const Interval& at) {
        place(bench, role, plan.stud, plan.stud_lumber, at, v, plan.depth, 1, rough.index);
    };
    if (ends && u.size() < t * 2) ends = false;
    if (ends) add({u.low, u.low + t});
    const Interval inner = ends ? Interval{u.low + t * 2, u.high - t * 2} : u;
    for (const Exact mark : plan.marks) {
        const Interval at = centred(mark, t);
        if (at.low >= inner.low && at.high <= inner.high) add(at);
    }
    if (ends) add({u.high - t, u.high});
}

// From the opening's head up to `under`: a flat piece and cripples on it; what is less than a flat piece is
// ripped.
void fill_above(const Bench& bench, const FramePlan& plan, const Rough& rough, Exact under, bool ends) {
    const Exact t = plan.plate_thickness;
    Exact at = rough.head;
    const auto flat = [&](Exact thick) {
        const Section section = thick == t ? plan.plate : section_of(thick, plan.depth.size());
        place(bench, Role::header_filler, section, plan.plate_lumber, rough.clear, {at, at + thick},
              plan.depth, 0, rough.index);
        at += thick;
    };
    const Exact gap = under - at;
    if (gap <= Exact{}) return;
    flat(std::min(gap, t));
    const Exact rest = under - at;
    if (rest > Exact{} && rest < t)
        flat(rest);
    else
        cripples(bench, plan, rough, Role::cripple_above, rough.clear, {at, under}, ends);
}

void sill(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    const Exact t = plan.plate_thickness;
    const Exact room = rough.sill - plan.stud_low;
    if (room <= Exact{}) return;
    const Exact thick = std::min(room, t);
    const Section section = thick == t ? plan.plate : section_of(thick, plan.depth.size());
    place(bench, Role::sill, section, plan.plate_lumber, rough.clear, {rough.sill - thick, rough.sill},
          plan.depth, 0, rough.index);
    cripples(bench, plan, rough, Role::cripple_below, rough.clear, {plan.stud_low, rough.sill - thick}, true);
}

void header(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    const Exact t = plan.plate_thickness, jacks = rough.jack_width(plan.thickness);
    const Interval u{rough.clear.low - jacks, rough.clear.high + jacks};
    const Interval v{rough.header_low, rough.header_high};
    const Section section = section_of(t, v.size());
    for (int i = 0; i < rough.plies; ++i) {
        // At the outer side; insulation fills the rest of the depth.
        const Interval w{plan.depth.high - t * (i + 1), plan.depth.high - t * i};
        place(bench, Role::header, section, plate_lumber(bench.house, *plan.layer->framing), u, v, w, 0,
              rough.index);
    }
    if (rough.dropped)
        cripples(bench, plan, rough, Role::cripple_above, u, {rough.header_high, plan.stud_high}, false);
    else
        fill_above(bench, plan, rough, rough.header_low, true);
}

}  // namespace

Result<std::vector<Rough>> rough_openings(const Bench& bench, const FramePlan& plan) {
    std::vector<Rough> all;
    const auto& openings = bench.wall.face->openings;
    for (std::size_t i = 0; i < openings.size(); ++i) {
        Rough rough{.opening = &openings[i], .index = static_cast<int>(i), .clear = u_of(openings[i])};
        rough.sill = openings[i].sill;
        rough.head = openings[i].sill + openings[i].height;
        rough.jacks = 0;
        if (auto done = set_header(bench, plan, rough); !done) return fail(done.error());
        if (auto done = check_sill(bench, plan, rough); !done) return fail(done.error());
        const Exact beside = plan.thickness * (rough.jacks + rough.kings);
        rough.zone = {rough.clear.low - beside, rough.clear.high + beside};
        all.push_back(rough);
    }
    std::sort(all.begin(), all.end(), [](const Rough& a, const Rough& b) { return a.zone.low < b.zone.low; });
    if (auto done = check_room(bench, plan, all); !done) return fail(done.error());
    return all;
}

void build_opening(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    const Exact t = plan.thickness;
    const Interval jack_height{plan.stud_low, rough.header_low};
    for (int i = 0; i < rough.jacks + rough.kings; ++i) {
        const bool jack = i < rough.jacks;
        const Interval v = jack ? jack_height : Interval{plan.stud_low, plan.stud_high};
        for (const Exact low : {rough.clear.low - t * (i + 1), rough.clear.high + t * i}) {
            place(bench, jack ? Role::jack : Role::king, plan.stud, plan.stud_lumber, {low, low + t}, v,
                  plan.depth, 1, rough.index);
        }
    }
    if (plan.bearing)
        header(bench, plan, rough);
    else
        fill_above(bench, plan, rough, plan.stud_high, false);
    sill(bench, plan, rough);
}

}  // namespace warmside::framing
