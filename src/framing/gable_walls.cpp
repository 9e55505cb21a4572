// Walls between the plate and a roof without an attic: studs, plates, furring, sheets and membranes, cut to
// the slope.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <numbers>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using Form = assembly::Roof::Form;
using assembly::Layer;
using assembly::RoofStrip;

const Exact none;
constexpr double hair = 1e-6;
// Studs and strips shorter than this are filled with blocks on site.
const Exact least_stud = Exact::sixty_fourths_of_inch(3 * 64);

bool holds(const std::vector<assembly::Point>& outline, double x, double y) {
    bool in = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const assembly::Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if (a.x != b.x || a.x.metres() > x) continue;
        if ((a.y.metres() > y) != (b.y.metres() > y)) in = !in;
    }
    return in;
}

class GableWall {
public:
    GableWall(const RoofPlan& plan, const Rake& rake, const Build& build, const std::vector<Rake>& all)
        : p_(plan),
          rake_(rake),
          build_(build),
          framed_(build.bearer()),
          plate_(plate_of(plan, *build.assembly)),
          t_(plate_.thick),
          rising_(ways_of(rake.side).rising()) {
        const Side low = p_.edge.planes.front().side;
        level_ = p_.roof->form == Form::shed &&
                 assembly::runs_east_west(low) == assembly::runs_east_west(rake.side);
        high_ = level_ && rake.side == assembly::opposite(low);
        drop_ = ends_plane(p_, rake) && !level_ ? rake_drop(p_) : none;
        for (const bool right : {false, true}) ends_[right ? 1 : 0] = end_of(right, all);
        outer_ = framed_.depth.high;
        frame_ = {none - ends_[0].inset, none};
        length_ = Exact::nearest(rake.to - rake.from);
        frame_.high = frame_.low + length_;
        inside_ = length_ - ends_[0].inset - ends_[1].inset;
        panel();
    }

    Panel build() {
        panel_.outline = outline_of(patch(frame_run(), [&](double level) { return underside(level); }));
        if (p_.rafters) {
            for (const FramedLayer& f : build_.framed) {
                if (f.duty == Duty::bearing || f.duty == Duty::second) frame(f);
            }
        }
        for (const FramedLayer& f : build_.framed) {
            if (f.duty == Duty::furring || f.duty == Duty::batten) strips(f);
        }
        sheets();
        membranes();
        for (const Member& m : panel_.members) panel_.height = std::max(panel_.height, m.box.high[1]);
        for (const Spot& s : panel_.outline) panel_.height = std::max(panel_.height, s.v);
        mark_members(panel_);
        return std::move(panel_);
    }

private:
    // One end of it, seen from outside.
    struct End {
        Exact inset;         // from the frame's end to the inside corner; negative at a re-entrant one
        bool meets = false;  // a level wall above the plate, which passes
        Exact passes;        // by so much
    };
    End end_of(bool right, const std::vector<Rake>& all) const {
        End out;
        const bool at_high = right == rising_;
        const double at = at_high ? rake_.to : rake_.from;
        const Side side = static_cast<Side>((static_cast<int>(rake_.side) + (right ? 1 : 3)) % 4);
        const auto neighbour = build_of(wall_under(p_, side));
        const Exact thick = neighbour ? neighbour->bearer().depth.high : framed_.depth.high;
        const double beyond = at + (at_high ? hair : -hair) * 10;
        const auto inwards = ways_of(rake_.side).inwards;
        const double outside = rake_.line - (inwards[0] + inwards[1]) * hair * 10;
        const bool on_x = assembly::runs_east_west(rake_.side);
        const bool reentrant = holds(p_.plan.outline, on_x ? beyond : outside, on_x ? outside : beyond);
        out.inset = reentrant ? none - thick : thick;
        for (const Rake& other : all) {
            if (reentrant || level_ || other.side != side || std::abs(other.line - at) > hair) continue;
            out.meets = true;
            out.passes = neighbour ? neighbour->bearer().depth.size() : none;
        }
        return out;
    }

    void panel() {
        const Ways ways = ways_of(rake_.side);
        const bool on_x = assembly::runs_east_west(rake_.side);
        const double left =
            rising_ ? rake_.from + ends_[0].inset.metres() : rake_.to - ends_[0].inset.metres();
        const double line = rake_.line + outer_.metres() * (on_x ? ways.inwards[1] : ways.inwards[0]);
        panel_ =
            Panel{.kind = Panel::Kind::gable_wall,
                  .name = fmt::format("gable {} of roof {}", assembly::name_of(rake_.side), p_.roof->name),
                  .assembly = build_.assembly->name,
                  .storey = p_.storey->name,
                  .from = frame_.low,
                  .length = length_,
                  .opaque_from = none,
                  .opaque_length = inside_,
                  .origin = {on_x ? left : line, on_x ? line : left, p_.plate().metres()},
                  .u = {ways.along[0], ways.along[1], 0.0},
                  .v = {0.0, 0.0, 1.0},
                  .w = {-ways.inwards[0], -ways.inwards[1], 0.0}};
    }

    // On u: studs and plates; another wall that passes takes its own room.
    Interval frame_run() const { return {frame_.low + ends_[0].passes, frame_.high - ends_[1].passes}; }

    // Of the roof over a place u, over the frame's outer face; on beyond its ends.
    double level(double u) const {
        const double at =
            rising_ ? rake_.from + (u - frame_.low.metres()) : rake_.to - (u - frame_.low.metres());
        const double inside = std::clamp(at, rake_.from, rake_.to);
        const auto on = [&](double place) {
            return assembly::runs_east_west(rake_.side) ? p_.frame.level(place, rake_.line)
                                                        : p_.frame.level(rake_.line, place);
        };
        if (inside == at || level_) return on(inside);
        const double step = 0.01 * (at > inside ? -1.0 : 1.0);
        return on(inside) + (on(inside + step) - on(inside)) / step * (at - inside);
    }

    // Heights above the plate. Of the rafters' underside.
    double rafters(double over) const { return (over - p_.seat.metres()) * std::tan(p_.pitch); }
    // Of the underside of the sloping (or level) plates.
    double underside(double over) const {
        const double plates = t_.metres() * p_.house->details.top_plates.value;
        if (high_) return rafters(over - framed_.depth.size().metres()) - plates;
        if (level_) return rafters(over) - plates;
        return rafters(over) - (plates + drop_.metres()) / std::cos(p_.pitch);
    }
    // That a layer reaches up to: inside to the lining of the slope, outside to the top of the end rafter, or
    // under the rafters where they pass over it.
    double top_of(std::size_t layer, double over) const {
        const Interval w = build_.layers[layer];
        const double cosine = std::cos(p_.pitch);
        const bool inside = static_cast<int>(layer) < framed_.layer;
        if (level_) over += (high_ ? -1.0 : 1.0) * (outer_ - w.low).metres();
        if (inside) return rafters(over) - p_.low.metres() / cosine;
        return level_ ? rafters(over) : rafters(over) + (p_.depth - drop_).metres() / cosine;
    }

    // What lies over the plate and under a line, from u to u.
    template <class Height>
    Patch patch(const Interval& run, const Height& height) const {
        std::vector<double> places{run.low.metres(), run.high.metres()};
        const auto add = [&](double at) {
            const double u = frame_.low.metres() + (rising_ ? at - rake_.from : rake_.to - at);
            if (run.low.metres() < u && u < run.high.metres()) places.push_back(u);
        };
        for (const double at : assembly::runs_east_west(rake_.side) ? p_.frame.x_breaks : p_.frame.y_breaks) {
            if (rake_.from - hair <= at && at <= rake_.to + hair) add(at);
        }
        std::sort(places.begin(), places.end());
        Patch out;
        for (std::size_t i = 0; i + 1 < places.size(); ++i) {
            RoofStrip s{.from = places[i], .to = places[i + 1]};
            if (s.to - s.from < hair) continue;
            s.low_from = s.low_to = 0.0;
            s.high_from = height(level(s.from));
            s.high_to = height(level(s.to));
            out.push_back(s);
        }
        // A strip that dips below the plate crosses it, and is cut there.
        Patch cut;
        for (RoofStrip s : out) {
            if (s.high_from < 0.0 && s.high_to < 0.0) continue;
            const double zero = s.from + (s.to - s.from) * s.high_from / (s.high_from - s.high_to);
            if (s.high_from < 0.0) s.from = zero, s.high_from = 0.0;
            if (s.high_to < 0.0) s.to = zero, s.high_to = 0.0;
            if (s.to - s.from > hair) cut.push_back(s);
        }
        return cut;
    }

    // How far a layer runs: beyond the inside corners by its own depth, or up to the wall that passes.
    Patch covered(std::size_t layer) const {
        const Interval w = build_.layers[layer];
        Interval run{none, inside_};
        const auto beyond = [&](const End& end) {
            return end.inset < none ? none - w.low : end.meets ? w.low : w.high;
        };
        run.low = run.low - beyond(ends_[0]);
        run.high += beyond(ends_[1]);
        return patch(run, [&](double over) { return top_of(layer, over); });
    }

    // Bottom plate, studs, level plates of one frame of the wall.
    void frame(const FramedLayer& f) {
        const Patch under = patch(frame_run(), [&](double over) { return underside(over); });
        const bool solid = f.framing->kind == assembly::Framing::Kind::solid;
        const Section plate = solid ? section_of(*f.framing) : section_of(t_, f.framing->depth);
        const std::string lumber = plate_lumber(*p_.house, *f.framing);
        // As far as there is room for a plate under the slope.
        for (const Interval& run : widths(under, {none, t_}, true)) {
            for (const Interval& piece : pieces_of(run, {}))
                put(panel_, Role::bottom_plate, plate, lumber, piece, {none, t_}, f.depth, 0, f.layer);
        }
        const Exact thick = f.framing->width;
        const Interval run = frame_run();
        for (const Exact at : centres(run, frame_.low + f.framing->spacing, f.framing->spacing, thick)) {
            const Interval u{at - half(thick), at - half(thick) + thick};
            stud(f, u, under);
        }
        if (!level_) return;
        const Exact base = outward(underside(level(frame_.low.metres())));
        for (int i = 0; i < p_.house->details.top_plates.value && base > t_; ++i) {
            for (const Interval& piece : pieces_of(run, {}))
                put(panel_, Role::top_plate, plate, lumber, piece, {base + t_ * i, base + t_ * (i + 1)},
                    f.depth, 0, f.layer);
        }
    }

    void stud(const FramedLayer& f, const Interval& u, const Patch& under) {
        const auto longest = heights(under, u, true), shortest = heights(under, u, false);
        if (longest.empty() || shortest.empty()) return;
        if (shortest.front().high - t_ < least_stud) return;
        const Exact length = outward(longest.front().high.metres()) - t_;
        Member* m = put(panel_, Role::stud, section_of(*f.framing), stud_lumber(*p_.house, *f.framing), u,
                        {t_, t_ + length}, f.depth, 1, f.layer);
        if (m && longest.front().high > shortest.front().high) m->end_cut = {0.0, p_.pitch};
        if (f.duty == Duty::bearing) studs_.push_back(u.low + half(u.size()));
    }

    // Furring or battens: upright on the studs and at both ends, lying from the plate up on their own module.
    void strips(const FramedLayer& f) {
        const Patch area = covered(static_cast<std::size_t>(f.layer));
        const auto field = around(area);
        if (!field) return;
        const Role role = f.duty == Duty::furring ? Role::furring : Role::batten;
        const Section section = section_of(*f.framing);
        const std::string lumber = plate_lumber(*p_.house, *f.framing);
        const Exact wide = f.framing->width;
        if (f.framing->run == assembly::Run::horizontal) {
            for (Exact low; low + wide <= field->v.high && f.framing->spacing > none;
                 low = low == none ? f.framing->spacing + f.framing->offset - half(wide)
                                   : low + f.framing->spacing) {
                for (const Interval& u : widths(area, {low, low + wide}, false)) {
                    for (const Interval& piece : pieces_of(u, studs_)) {
                        Member* m = piece.size() < least_stud ? nullptr
                                                              : put(panel_, role, section, lumber, piece,
                                                                    {low, low + wide}, f.depth, 0, f.layer);
                        if (m && !level_)
                            m->end_cut = {std::numbers::pi / 2 - p_.pitch, std::numbers::pi / 2 - p_.pitch};
                    }
                }
            }
            return;
        }
        for (const Exact at : centres(field->u, frame_.low + f.framing->spacing, f.framing->spacing, wide)) {
            const Interval u{at - half(wide), at - half(wide) + wide};
            for (const Interval& v : heights(area, u, true)) {
                if (v.size() < least_stud) continue;
                Member* m = put(panel_, role, section, lumber, u, {none, outward(v.high.metres())}, f.depth,
                                1, f.layer);
                if (m && !level_) m->end_cut = {0.0, p_.pitch};
            }
        }
    }

    // Stood up, each joint on a stud, cut to the slope; what follows a ventilated cavity is cladding.
    void sheets() {
        const Exact wide = p_.house->practice.sheet_width.value;
        const Exact tall = std::max(p_.house->practice.sheet_length.value, Exact::millimetres(300));
        for (std::size_t i = 0; i < build_.layers.size(); ++i) {
            const Layer& layer = build_.assembly->layers[i];
            if (layer.ventilated()) break;
            const bool sheet = layer.kind == Layer::Kind::material && !layer.framing && layer.material &&
                               (layer.material->family == "panel" || layer.material->family == "gypsum");
            if (!sheet || wide <= none) continue;
            const Patch area = covered(i);
            const auto field = around(area);
            if (!field) continue;
            std::vector<Exact> joints;
            for (Exact at = field->u.low; at < field->u.high;) {
                Exact next = std::min(at + wide, field->u.high);
                if (next < field->u.high) {
                    for (const Exact stud : studs_) {
                        if (stud > at && stud <= at + wide) next = stud;
                    }
                    joints.push_back(next);
                }
                for (Exact v; v < field->v.high; v += tall) {
                    cut_sheets(panel_, static_cast<int>(i), area,
                               {{at, next}, {v, std::min(v + tall, field->v.high)}}, build_.layers[i], true);
                }
                at = next;
            }
            if (!layer.airtight && !layer.water) continue;
            for (const Exact joint : joints) {
                for (const Interval& v :
                     heights(area, {joint - Exact::millimetres(1), joint + Exact::millimetres(1)}, true))
                    seam(i, Seam::Kind::lap, v.size());
            }
            for (Exact v = tall; v < field->v.high; v += tall) {
                for (const Interval& u : widths(area, {v, v}, true)) seam(i, Seam::Kind::lap, u.size());
            }
            edge_seams(i, area);
        }
    }

    void membranes() {
        const auto& practice = p_.house->practice;
        for (std::size_t i = 0; i < build_.layers.size(); ++i) {
            const Layer& layer = build_.assembly->layers[i];
            if (layer.kind != Layer::Kind::membrane) continue;
            const Patch area = covered(i);
            const auto before = panel_.seams.size();
            const auto first = panel_.runs.size();
            lay_runs(*p_.house, panel_, static_cast<int>(i), area, build_.layers[i]);
            if (!layer.airtight && !layer.water) {
                panel_.seams.resize(before);
                continue;
            }
            for (std::size_t r = first; r < panel_.runs.size() && practice.roll_length.value > none; ++r) {
                const Box& box = panel_.runs[r].box;
                seam(i, Seam::Kind::end_lap,
                     box.size(1) * ((box.size(0).count() - 1) / practice.roll_length.value.count()));
            }
            if (!area.empty()) edge_seams(i, area);
        }
    }

    void seam(std::size_t layer, Seam::Kind kind, Exact size) {
        if (size > none) panel_.seams.push_back({static_cast<int>(layer), kind, size});
    }

    // Over the wall below, to the roof along the slopes, at a corner with a wall that passes.
    void edge_seams(std::size_t layer, const Patch& area) {
        for (const Interval& u : widths(area, {none, none}, true)) seam(layer, Seam::Kind::lap, u.size());
        for (const RoofStrip& s : area)
            seam(layer, Seam::Kind::plate,
                 Exact::nearest(std::hypot(s.to - s.from, s.high_to - s.high_from)));
        for (const bool right : {false, true}) {
            if (ends_[right ? 1 : 0].meets)
                seam(layer, Seam::Kind::corner,
                     Exact::nearest(right ? area.back().high_to : area.front().high_from));
        }
    }

    const RoofPlan& p_;
    Rake rake_;
    const Build& build_;
    const FramedLayer& framed_;
    Plate plate_;
    Exact t_;
    bool rising_ = true, level_ = false, high_ = false;
    Exact drop_, outer_, length_, inside_;
    std::array<End, 2> ends_;  // left, right
    Interval frame_;           // on u
    std::vector<Exact> studs_;
    Panel panel_;
};

}  // namespace

void frame_gable_walls(const RoofPlan& p, std::vector<Panel>& panels, Problems& notes) {
    if (p.roof->over_attic || p.pitch <= 0.0) return;
    const auto rakes = rakes_of(p);
    std::map<Side, int> number;
    for (const Rake& rake : rakes) {
        const auto build = build_of(wall_under(p, rake.side));
        if (!build) continue;
        panels.push_back(GableWall(p, rake, *build, rakes).build());
        if (const int n = ++number[rake.side]; n > 1) {
            panels.back().name =
                fmt::format("gable {} {} of roof {}", assembly::name_of(rake.side), n, p.roof->name);
        }
    }
    if (rakes.empty()) return;
    const char* what =
        p.rafters ? "the walls above the plate are framed on the plates below; balloon framing or a brace "
                    "at the joint is for an engineer"
                  : "gable trusses stand for the frames of the walls above the plate; their sheets and "
                    "furring are listed";
    notes.push_back(note(fmt::format("roof {}: {}", p.roof->name, what), p.where()));
}

}  // namespace warmside::framing
