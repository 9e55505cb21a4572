// Which openings of a face share jambs and a header, and whether there is room for them.
#include <algorithm>
#include <fmt/format.h>

#include "framing/wall_frame.h"
#include "framing/wall_headers.h"

namespace warmside::framing {

namespace {

// A header in the rim runs this far past the opening where there is room (IRC Figure R602.7.2, memory).
constexpr Exact rim_reach = Exact::sixty_fourths_of_inch(6 * 64);

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

Result<void> check_head(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const Exact room = plan.stud_high - bay.head;
    if (room >= Exact{}) return {};
    const assembly::Opening& opening = *bay.top().opening;
    return fail(trouble(opening,
                        fmt::format("{} of face {}: its head, {} above the floor, reaches into the plates",
                                    opening.name, bench.wall.face->name, size(bay.head)),
                        fmt::format("a head at {} at most", size(plan.stud_high)), "a lower head or sill"));
}

Result<void> check_header(const Bench& bench, const FramePlan& plan, const Bay& bay, Exact height) {
    const Exact room = plan.stud_high - bay.head;
    if (room >= height) return {};
    const assembly::Opening& opening = *bay.top().opening;
    return fail(trouble(opening,
                        fmt::format("{} of face {}: its head is {} above the floor, which leaves {} under "
                                    "the plates for a header of {}",
                                    opening.name, bench.wall.face->name, size(bay.head),
                                    room > Exact{} ? size(room) : std::string("nothing"), size(height)),
                        fmt::format("a head at {} at most", size(plan.stud_high - height)),
                        "a lower head or sill, a higher wall, or header = of [details]"));
}

// A header tight under the plates, unless the opening's head lies lower than that by more than the header's
// own height: then it lies at the head and cripples stand on it. Or in the rim.
Result<void> set_header(const Bench& bench, const FramePlan& plan, Bay& bay, Problems& notes) {
    if (!plan.bearing) {
        bay.header_low = bay.header_high = bay.head;
        return check_head(bench, plan, bay);
    }
    HeaderWish wish = header_wish(bench, plan, bay);
    bay.jacks = wish.jacks;
    bay.kings = wish.kings;
    bay.plies = wish.plies;
    bay.ply = wish.ply;
    bay.dropped = wish.dropped;
    bay.at_rim = wish.at_rim;
    bay.header_lumber = std::move(wish.lumber);
    std::move(wish.notes.begin(), wish.notes.end(), std::back_inserter(notes));
    if (bay.at_rim) {
        bay.header_low = plan.height;
        bay.header_high = plan.height + wish.height;
        return check_head(bench, plan, bay);
    }
    bay.header_low = bay.dropped ? bay.head : plan.stud_high - wish.height;
    bay.header_high = bay.header_low + wish.height;
    return check_header(bench, plan, bay, wish.height);
}

Result<void> check_sill(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    if (rough.sill <= Exact{} || rough.sill >= plan.stud_low) return {};
    return fail(
        trouble(*rough.opening,
                fmt::format("{} of face {}: its sill, {} above the floor, lies within the bottom plate",
                            rough.opening->name, bench.wall.face->name, size(rough.sill)),
                fmt::format("0 or at least {}", size(plan.stud_low)), ""));
}

// Before its header is known: what it spans.
Bay bay_of(std::vector<Rough> openings) {
    Bay bay{.openings = std::move(openings), .clear = {}, .zone = {}, .header = {}};
    std::sort(bay.openings.begin(), bay.openings.end(), [](const Rough& a, const Rough& b) {
        return a.clear.low != b.clear.low ? a.clear.low < b.clear.low : a.sill < b.sill;
    });
    bay.clear = bay.openings.front().clear;
    for (std::size_t i = 0; i < bay.openings.size(); ++i) {
        const Rough& each = bay.openings[i];
        bay.clear = {std::min(bay.clear.low, each.clear.low), std::max(bay.clear.high, each.clear.high)};
        if (each.head > bay.openings[bay.governing].head) bay.governing = i;
    }
    bay.head = bay.top().head;
    return bay;
}

// A bay with the notes that its header brought.
struct Draft {
    Bay bay;
    Problems notes;
};

Result<Draft> draft_of(const Bench& bench, const FramePlan& plan, std::vector<Rough> openings) {
    Draft out{.bay = bay_of(std::move(openings)), .notes = {}};
    Bay& bay = out.bay;
    if (auto done = set_header(bench, plan, bay, out.notes); !done) return fail(done.error());
    const Exact beside = plan.thickness * (bay.jacks + bay.kings);
    bay.zone = {bay.clear.low - beside, bay.clear.high + beside};
    const Exact bearing = plan.thickness * bay.jacks;
    bay.header = {bay.clear.low - bearing, bay.clear.high + bearing};
    return out;
}

// One has an opening above one of the other's.
bool stacked(const Bay& a, const Bay& b) {
    return std::any_of(a.openings.begin(), a.openings.end(), [&](const Rough& p) {
        return std::any_of(b.openings.begin(), b.openings.end(),
                           [&](const Rough& q) { return p.head <= q.sill || q.head <= p.sill; });
    });
}

// Bays whose jambs would stand in one another become one, until none do.
Result<void> join(const Bench& bench, const FramePlan& plan, std::vector<Draft>& drafts) {
    for (std::size_t i = 0; i < drafts.size(); ++i) {
        for (std::size_t j = i + 1; j < drafts.size(); ++j) {
            const Bay &a = drafts[i].bay, &b = drafts[j].bay;
            if (!a.zone.overlaps(b.zone) || !stacked(a, b)) continue;
            std::vector<Rough> both = a.openings;
            both.insert(both.end(), b.openings.begin(), b.openings.end());
            auto one = draft_of(bench, plan, std::move(both));
            if (!one) return fail(one.error());
            drafts.erase(drafts.begin() + static_cast<std::ptrdiff_t>(j));
            drafts[i] = std::move(*one);
            return join(bench, plan, drafts);
        }
    }
    return {};
}

Result<void> check_ends(const Bench& bench, const FramePlan& plan, const Bay& bay) {
    const Interval between{plan.run.low + plan.thickness, plan.run.high - plan.thickness};
    if (bay.zone.low >= between.low && bay.zone.high <= between.high) return {};
    const Exact beside = bay.clear.low - bay.zone.low;
    const bool left = bay.zone.low < between.low;
    // Of several the outermost is named.
    const auto outermost = std::find_if(bay.openings.begin(), bay.openings.end(), [&](const Rough& r) {
        return left ? r.clear.low == bay.clear.low : r.clear.high == bay.clear.high;
    });
    const assembly::Opening& opening = *outermost->opening;
    return fail(trouble(
        opening,
        fmt::format("{} of face {}: no room for its king and jack studs, {}, at the {} end of the wall",
                    opening.name, bench.wall.face->name, size(beside), left ? "left" : "right"),
        left ? fmt::format("left = {} at least", size(between.low + beside))
             : fmt::format("left = {} at most", size(between.high - beside - outermost->clear.size())),
        "move the opening, or jamb_studs of [details]"));
}

Result<void> check_room(const Bench& bench, const FramePlan& plan, const std::vector<Draft>& drafts) {
    for (std::size_t i = 0; i < drafts.size(); ++i) {
        const Bay& bay = drafts[i].bay;
        if (auto done = check_ends(bench, plan, bay); !done) return done;
        if (i == 0 || bay.zone.low >= drafts[i - 1].bay.zone.high) continue;
        const Bay& before = drafts[i - 1].bay;
        const assembly::Opening &a = *before.openings.back().opening, &b = *bay.openings.front().opening;
        const Exact needed = (bay.clear.low - bay.zone.low) + (before.zone.high - before.clear.high);
        return fail(trouble(
            b,
            fmt::format("{} and {} of face {}: their king and jack studs need {} between the openings, "
                        "there are {}",
                        a.name, b.name, bench.wall.face->name, size(needed),
                        bay.clear.low > before.clear.high ? size(bay.clear.low - before.clear.high)
                                                          : std::string("none")),
            "", "move them apart, or make one opening of them"));
    }
    return {};
}

// A header in the rim lies over all its kings, and as far past the opening as it should where neither a
// neighbour nor the end of the rim is in the way.
void reach_out(const Bench& bench, const FramePlan& plan, std::vector<Bay>& bays) {
    for (std::size_t i = 0; i < bays.size(); ++i) {
        Bay& bay = bays[i];
        if (!bay.at_rim) continue;
        const auto run =
            std::find_if(bench.wall.rim.runs.begin(), bench.wall.rim.runs.end(),
                         [&](const Interval& r) { return r.low <= bay.zone.low && bay.zone.high <= r.high; });
        Exact low = std::max(bay.clear.low - rim_reach, plan.run.low),
              high = std::min(bay.clear.high + rim_reach, plan.run.high);
        if (run != bench.wall.rim.runs.end()) {
            low = std::max(low, run->low);
            high = std::min(high, run->high);
        }
        const auto middle = [](Exact a, Exact b) { return a + half(b - a); };
        if (i > 0) low = std::max(low, middle(bays[i - 1].zone.high, bay.zone.low));
        if (i + 1 < bays.size()) high = std::min(high, middle(bay.zone.high, bays[i + 1].zone.low));
        bay.header = {std::min(low, bay.zone.low), std::max(high, bay.zone.high)};
    }
}

void tell_slits(const Bench& bench, FramePlan& plan) {
    auto& names = plan.slits;
    if (names.empty()) return;
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
    tell(bench.notes,
         {.code = Code::unsupported,
          .severity = Severity::note,
          .what = fmt::format("face {}: {} wide at most stay open at {}: nothing thinner than {} is cut, "
                              "shims or foam fill them",
                              bench.wall.face->name, units::millimetres(plan.widest_slit.metres()),
                              fmt::join(names, ", "), units::inches(least_piece.metres())),
          .where = bench.wall.face->origin.where});
}

}  // namespace

Result<std::vector<Bay>> bays_of(const Bench& bench, FramePlan& plan) {
    std::vector<Draft> drafts;
    const auto& openings = bench.wall.face->openings;
    for (std::size_t i = 0; i < openings.size(); ++i) {
        const Rough rough{.opening = &openings[i],
                          .index = static_cast<int>(i),
                          .clear = u_of(openings[i]),
                          .sill = openings[i].sill,
                          .head = openings[i].sill + openings[i].height};
        if (auto done = check_sill(bench, plan, rough); !done) return fail(done.error());
        auto draft = draft_of(bench, plan, {rough});
        if (!draft) return fail(draft.error());
        drafts.push_back(std::move(*draft));
    }
    if (auto done = join(bench, plan, drafts); !done) return fail(done.error());
    std::sort(drafts.begin(), drafts.end(),
              [](const Draft& a, const Draft& b) { return a.bay.zone.low < b.bay.zone.low; });
    if (auto done = check_room(bench, plan, drafts); !done) return fail(done.error());
    std::vector<Bay> bays;
    for (Draft& draft : drafts) {
        for (Problem& note : draft.notes) tell(bench.notes, std::move(note));
        bays.push_back(std::move(draft.bay));
    }
    reach_out(bench, plan, bays);
    for (Bay& bay : bays) {
        auto inside = inside_of(bench, plan, bay);
        if (!inside) return fail(inside.error());
        bay.inside = std::move(*inside);
    }
    tell_slits(bench, plan);
    return bays;
}

}  // namespace warmside::framing
