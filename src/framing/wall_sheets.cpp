#include "framing/wall_sheets.h"

#include <algorithm>
#include <fmt/format.h>

namespace warmside::framing {

namespace {

using assembly::Layer;

// Least bearing of a sheet's edge: 3/8 in (nail edge distance; common practice, no source).
constexpr Exact bearing_edge = Exact::sixty_fourths_of_inch(24);

bool is_sheet(const Layer& layer) {
    return layer.kind == Layer::Kind::material && !layer.framing && layer.material &&
           (layer.material->family == "panel" || layer.material->family == "gypsum");
}

// The framed layer that a sheet is nailed to: the next one towards the bearing frame, or from it outwards the
// one before.
const FramedLayer* support_of(const Build& build, int layer) {
    const bool inside = layer < build.bearer().layer;
    const FramedLayer* found = nullptr;
    for (const FramedLayer& f : build.framed) {
        if (inside && f.layer > layer) return &f;
        if (!inside && f.layer < layer) found = &f;
    }
    return found;
}

class Joints {
public:
    Joints(const Bench& bench, const FramedLayer& support, bool from_inside)
        : bench_(bench), height_{Exact{}, bench.wall.face->height} {
        const Exact face = from_inside ? support.depth.low : support.depth.high;
        for (const Member& m : bench.panel.members) {
            if (m.layer != support.layer) continue;
            // Over a header the lining is held by what stands beside it.
            if (m.role != Role::header && (from_inside ? m.box.low[2] : m.box.high[2]) != face) continue;
            boxes_.push_back({u_of(m.box), v_of(m.box)});
            if (m.along != 1) continue;
            candidates_.insert(candidates_.end(),
                               {m.box.low[0], m.box.low[0] + half(m.box.size(0)), m.box.high[0]});
        }
        std::sort(candidates_.begin(), candidates_.end());
    }
    // The furthest joint after `from`, at most `limit`.
    std::optional<Exact> before(Exact from, Exact limit) const {
        if (lands(limit)) return limit;
        for (auto at = candidates_.rbegin(); at != candidates_.rend(); ++at) {
            if (*at <= limit && *at > from && lands(*at)) return *at;
        }
        return std::nullopt;
    }

private:
    // Wood behind both edges over the whole height, openings and slits that no piece fills aside.
    bool lands(Exact u) const { return covered(u - bearing_edge) && covered(u + bearing_edge); }
    bool covered(Exact u) const {
        std::vector<Interval> wood;
        for (const auto& [across, along] : boxes_) {
            if (across.low <= u && u <= across.high) wood.push_back(along);
        }
        for (const assembly::Opening& o : bench_.wall.face->openings) {
            if (u_of(o).low <= u && u <= u_of(o).high) wood.push_back(v_of(o));
        }
        const auto bare = free_of(height_, std::move(wood));
        return std::all_of(bare.begin(), bare.end(),
                           [](const Interval& i) { return i.size() < least_piece; });
    }
    const Bench& bench_;
    Interval height_;
    std::vector<std::pair<Interval, Interval>> boxes_;
    std::vector<Exact> candidates_;
};

std::vector<Exact> joints_of(const Bench& bench, int layer, const Interval& run) {
    const Exact wide = bench.house.practice.sheet_width.value;
    const Build& build = *bench.wall.build;
    const FramedLayer* support = support_of(build, layer);
    const bool landing = support && support->framing->run == assembly::Run::vertical;
    const bool inside = layer < build.bearer().layer;
    std::optional<Joints> joints;
    if (landing) joints.emplace(bench, *support, inside);
    std::vector<Exact> out;
    Exact at = run.low;
    while (wide > Exact{} && run.high - at > wide) {
        std::optional<Exact> next = at + wide;
        if (landing) next = joints->before(at, at + wide);
        if (!next) {
            bench.notes.push_back(
                {.code = Code::out_of_range,
                 .severity = Severity::note,
                 .what = fmt::format(
                     "face {}: the joint of a sheet of {} {} from its left corner lies on no stud; it "
                     "needs a block or a stud of its own",
                     bench.wall.face->name, build.assembly->layers[static_cast<std::size_t>(layer)].title(),
                     units::feet_inches((at + wide).metres())),
                 .where = bench.wall.face->origin.where});
            next = at + wide;
        }
        at = *next;
        out.push_back(at);
    }
    return out;
}

void lay(const Bench& bench, int layer, const Interval& u, const Interval& v, const Interval& w) {
    Sheet sheet{.layer = layer, .box = {{u.low, v.low, w.low}, {u.high, v.high, w.high}}};
    for (const assembly::Opening& o : bench.wall.face->openings) {
        const Interval ou = u_of(o), ov = v_of(o);
        if (!ou.overlaps(u) || !ov.overlaps(v)) continue;
        const Box cut{{std::max(ou.low, u.low), std::max(ov.low, v.low), w.low},
                      {std::min(ou.high, u.high), std::min(ov.high, v.high), w.high}};
        if (u_of(cut).size() == u.size() && v_of(cut).size() == v.size()) return;
        sheet.cut_outs.push_back(cut);
    }
    bench.panel.sheets.push_back(std::move(sheet));
}

// Length of `stretch` at the height v less the openings there.
Exact less_openings(const Bench& bench, const Interval& stretch, Exact v) {
    Exact length = stretch.size();
    for (const assembly::Opening& o : bench.wall.face->openings) {
        if (v_of(o).low <= v && v < v_of(o).high) length = length - o.width;
    }
    return length;
}

void add_seam(const Bench& bench, int layer, Seam::Kind kind, Exact length) {
    if (length > Exact{}) bench.panel.seams.push_back({layer, kind, length});
}

// What is taped or sealed whatever the layer is made of: openings, the corner at the right end, plates.
void edge_seams(const Bench& bench, int layer, const Interval& run) {
    for (const assembly::Opening& o : bench.wall.face->openings)
        add_seam(bench, layer, Seam::Kind::opening, (o.width + o.height) * 2);
    const Exact height = bench.wall.face->height;
    if (bench.wall.right.kind != WallEnd::Kind::open) add_seam(bench, layer, Seam::Kind::corner, height);
    add_seam(bench, layer, Seam::Kind::plate, less_openings(bench, run, Exact{}));
    add_seam(bench, layer, Seam::Kind::plate, run.size());
}

void sheet_seams(const Bench& bench, int layer, const Interval& run, const std::vector<Exact>& joints) {
    const Exact height = bench.wall.face->height, sheet = bench.house.practice.sheet_length.value;
    for (const Exact joint : joints) {
        Exact length = height;
        for (const assembly::Opening& o : bench.wall.face->openings) {
            if (u_of(o).low < joint && joint < u_of(o).high) length = length - o.height;
        }
        add_seam(bench, layer, Seam::Kind::lap, length);
    }
    for (Exact v = sheet; sheet > Exact{} && v < height; v += sheet)
        add_seam(bench, layer, Seam::Kind::lap, less_openings(bench, run, v));
    edge_seams(bench, layer, run);
}

void lay_membrane(const Bench& bench, int layer, bool sealed) {
    const Build& build = *bench.wall.build;
    const assembly::Practice& practice = bench.house.practice;
    const Interval w = build.layers[static_cast<std::size_t>(layer)];
    const Interval run = long_extent_of(bench.wall, layer, w);
    const Exact height = bench.wall.face->height;
    const Exact roll = practice.roll_width.value, lap = practice.lap.value;
    if (roll <= lap) return;
    Exact v;
    do {
        const Exact own_lap = v > Exact{} ? lap : Exact{};
        const Exact low = v - own_lap, high = std::min(low + roll, height);
        bench.panel.runs.push_back({layer, {{run.low, low, w.low}, {run.high, high, w.high}}, own_lap});
        if (sealed && own_lap > Exact{})
            add_seam(bench, layer, Seam::Kind::lap, less_openings(bench, run, v));
        const std::int64_t ends = practice.roll_length.value > Exact{}
                                      ? (run.size().count() - 1) / practice.roll_length.value.count()
                                      : 0;
        if (sealed) add_seam(bench, layer, Seam::Kind::end_lap, (high - low) * ends);
        v = high;
    } while (v < height);
    if (sealed) edge_seams(bench, layer, run);
}

}  // namespace

void lay_sheets(const Bench& bench) {
    const Build& build = *bench.wall.build;
    const Exact height = bench.wall.face->height;
    const Exact tall = std::max(bench.house.practice.sheet_length.value, Exact::millimetres(300));
    for (std::size_t i = 0; i < build.layers.size(); ++i) {
        const Layer& layer = build.assembly->layers[i];
        if (layer.ventilated()) break;  // what follows is cladding
        if (!is_sheet(layer)) continue;
        const int index = static_cast<int>(i);
        const Interval run = long_extent_of(bench.wall, index, build.layers[i]);
        const std::vector<Exact> joints = joints_of(bench, index, run);
        for (Exact v; v < height; v += tall) {
            const Interval course{v, std::min(v + tall, height)};
            Exact at = run.low;
            for (const Exact joint : joints) {
                lay(bench, index, {at, joint}, course, build.layers[i]);
                at = joint;
            }
            lay(bench, index, {at, run.high}, course, build.layers[i]);
        }
        if (layer.airtight || layer.water) sheet_seams(bench, index, run, joints);
    }
}

void lay_membranes(const Bench& bench) {
    const auto& layers = bench.wall.build->assembly->layers;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i].kind == Layer::Kind::membrane)
            lay_membrane(bench, static_cast<int>(i), layers[i].airtight || layers[i].water);
    }
}

}  // namespace warmside::framing
