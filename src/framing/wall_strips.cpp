#include "framing/wall_strips.h"

#include <algorithm>

namespace warmside::framing {

namespace {

// Shorter ends are waste, not members: ours.
const Exact least_strip = Exact::millimetres(25);

struct Strips {
    const Bench& bench;
    const FramedLayer& layer;
    Role role;
    Section section;
    std::string lumber;
    Exact width;                // across the face
    Interval run;               // on u
    Interval height;            // on v
    std::vector<Exact> joints;  // where a lying strip may be cut: centres of studs

    // A strip along `axis` where nothing of this layer and no opening lies yet.
    void lay(const Interval& u, const Interval& v, int axis) const {
        const Interval along = axis == 0 ? u : v, across = axis == 0 ? v : u;
        std::vector<Interval> taken;
        for (const Member& m : bench.panel.members) {
            if (m.layer != layer.layer) continue;
            const Interval a = axis == 0 ? u_of(m.box) : v_of(m.box),
                           b = axis == 0 ? v_of(m.box) : u_of(m.box);
            if (b.overlaps(across)) taken.push_back(a);
        }
        for (const assembly::Opening& o : bench.wall.face->openings) {
            const Interval a = axis == 0 ? u_of(o) : v_of(o), b = axis == 0 ? v_of(o) : u_of(o);
            if (b.overlaps(across)) taken.push_back(a);
        }
        for (const Interval& free : free_of(along, std::move(taken))) {
            for (const Interval& piece : pieces_of(free, axis == 0 ? joints : std::vector<Exact>{})) {
                if (piece.size() < least_strip) continue;
                place(bench, role, section, lumber, axis == 0 ? piece : across, axis == 0 ? across : piece,
                      layer.depth, axis);
            }
        }
    }
    void upright(Exact low) const { lay({low, low + width}, height, 1); }
    void lying(Exact low) const { lay(run, {low, low + width}, 0); }
};

Exact clipped(Exact v, const Interval& within) {
    return std::clamp(v, within.low, within.high);
}

// Around each opening: along its sides, over its head and under its sill.
void around_openings(const Strips& s, bool full_height) {
    for (const assembly::Opening& o : s.bench.wall.face->openings) {
        const Interval u = u_of(o), v = v_of(o);
        for (const Exact low : {u.low - s.width, u.high}) {
            const Interval side{clipped(low, s.run), clipped(low + s.width, s.run)};
            if (side.size() > Exact{}) s.lay(side, full_height ? s.height : v, 1);
        }
        if (full_height) continue;
        const Interval over{clipped(u.low - s.width, s.run), clipped(u.high + s.width, s.run)};
        s.lay(over, {v.high, std::min(v.high + s.width, s.height.high)}, 0);
        if (v.low > s.height.low) s.lay(over, {std::max(v.low - s.width, s.height.low), v.low}, 0);
    }
}

void lying_rows(const Strips& s) {
    around_openings(s, false);
    // The rows at floor and ceiling also close the furred space there (IRC R302.11, seen).
    s.lying(s.height.low);
    s.lying(s.height.high - s.width);
    const Exact module = s.layer.framing->spacing;
    if (module <= Exact{}) return;
    for (Exact v = module + s.layer.framing->offset; v + s.width < s.height.high; v += module)
        s.lying(v - half(s.width));
}

void upright_rows(const Strips& s, const FramePlan& bearing) {
    const bool inside = s.layer.duty == Duty::furring;
    if (inside) {
        s.lying(s.height.low);
        s.lying(s.height.high - s.width);
    }
    s.upright(s.run.low);
    s.upright(s.run.high - s.width);
    around_openings(s, true);
    // At the corners one more lands on the end stud where the layer runs out past it.
    const Exact inset = half(bearing.thickness) - half(s.width);
    for (const Exact low : {bearing.run.low + inset, bearing.run.high - inset - s.width}) {
        if (low >= s.run.low && low + s.width <= s.run.high) s.upright(low);
    }
    for (const Exact mark : marks_of(s.bench, *s.layer.framing, bearing.run)) {
        const Exact low = mark - half(s.width);
        if (low >= s.run.low && low + s.width <= s.run.high) s.upright(low);
    }
    if (!inside) return;
    for (const assembly::Opening& o : s.bench.wall.face->openings) {
        const Interval u = u_of(o), v = v_of(o);
        s.lay(u, {v.high, std::min(v.high + s.width, s.height.high)}, 0);
        if (v.low > s.height.low) s.lay(u, {std::max(v.low - s.width, s.height.low), v.low}, 0);
    }
}

std::vector<const FramedLayer*> frames_of(const Build& build) {
    std::vector<const FramedLayer*> out;
    for (const FramedLayer& f : build.framed) {
        if (f.duty == Duty::bearing || f.duty == Duty::second) out.push_back(&f);
    }
    return out;
}

bool stops_fire(const Build& build, int from, int to) {
    for (int i = from + 1; i < to; ++i) {
        const assembly::Layer& layer = build.assembly->layers[static_cast<std::size_t>(i)];
        if (layer.thickness == Exact{}) continue;
        // A sheet between two frames leaves no gap.
        const bool fills =
            layer.material && (layer.material->family == "batt" || layer.material->family == "panel" ||
                               layer.material->name.find("cellulose") != std::string::npos);
        if (!fills) return false;
    }
    return true;
}

}  // namespace

void build_strips(const Bench& bench, const FramedLayer& layer, const FramePlan& bearing) {
    const assembly::Framing& framing = *layer.framing;
    Strips strips{.bench = bench,
                  .layer = layer,
                  .role = layer.duty == Duty::furring ? Role::furring : Role::batten,
                  .section = section_of(framing),
                  .lumber = plate_lumber(bench.house, framing),
                  .width = framing.width,
                  .run = extent_of(bench.wall, layer.layer, layer.depth),
                  .height = {Exact{}, bearing.height}};
    for (const Member& m : bench.panel.members) {
        if (m.layer == bearing.layer->layer && m.along == 1 &&
            m.length == bearing.stud_high - bearing.stud_low)
            strips.joints.push_back(m.box.low[0] + half(m.box.size(0)));
    }
    std::sort(strips.joints.begin(), strips.joints.end());
    if (framing.run == assembly::Run::horizontal)
        lying_rows(strips);
    else
        upright_rows(strips, bearing);
}

void build_bucks(const Bench& bench) {
    const Exact t = Exact::nearest(bench.house.details.buck.value);
    const auto frames = frames_of(*bench.wall.build);
    if (frames.size() < 2 || t <= Exact{}) return;
    const Interval w{frames.front()->depth.low, frames.back()->depth.high};
    const Section section = section_of(t, w.size());
    const auto& openings = bench.wall.face->openings;
    for (std::size_t i = 0; i < openings.size(); ++i) {
        const Interval u = u_of(openings[i]), v = v_of(openings[i]);
        const bool sill = v.low > Exact{};
        const int index = static_cast<int>(i);
        place(bench, Role::buck, section, "plywood", u, {v.high - t, v.high}, w, 0, index);
        if (sill) place(bench, Role::buck, section, "plywood", u, {v.low, v.low + t}, w, 0, index);
        const Interval side{sill ? v.low + t : v.low, v.high - t};
        place(bench, Role::buck, section, "plywood", {u.low, u.low + t}, side, w, 1, index);
        place(bench, Role::buck, section, "plywood", {u.high - t, u.high}, side, w, 1, index);
    }
}

void stop_gaps(const Bench& bench) {
    const auto frames = frames_of(*bench.wall.build);
    const Exact t = Exact::nearest(bench.house.details.buck.value);
    for (std::size_t i = 1; i < frames.size(); ++i) {
        const Interval gap{frames[i - 1]->depth.high, frames[i]->depth.low};
        if (gap.size() <= Exact{} || stops_fire(*bench.wall.build, frames[i - 1]->layer, frames[i]->layer))
            continue;
        // At a re-entrant corner the frames end before the inside face does.
        const Exact end = std::min(bench.wall.length, extent_of(bench.wall, frames[i - 1]->layer, gap).high);
        for (Exact u = fire_stop; u < end; u += fire_stop) {
            const Interval at{u - t, u};
            const auto& openings = bench.wall.face->openings;
            // A box in an opening closes the gap there.
            if (std::any_of(openings.begin(), openings.end(), [&](auto& o) { return u_of(o).overlaps(at); }))
                continue;
            place(bench, Role::fire_block, section_of(t, gap.size()), "plywood", at,
                  {Exact{}, bench.wall.face->height}, gap, 1);
        }
    }
}

}  // namespace warmside::framing
