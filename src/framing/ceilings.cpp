// What carries a roof over an attic and the ceiling under it: trusses or ceiling joists, strapping, lining,
// membrane; and the sets that lie on the main trusses where a wing meets them.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using Form = assembly::Roof::Form;

const Exact none;
// Lower sets than this are cut from the deck's strips on site.
constexpr double least_set = 3 * 0.0254;

// A part of the frame that trusses or joists of one length cross. On the panel, from the frame's corner.
struct Bay {
    int axis = 1;                                    // that they run along
    Interval span, ridge;                            // along them, across them
    bool low_end = true, high_end = true;            // on the outline
    bool stepped_low = false, stepped_high = false;  // a hip end
    bool shared = false;                             // its low end is the high end of the bay before
};

class Ceiling {
public:
    explicit Ceiling(const RoofPlan& plan) : p_(plan) {
        const Field& f = p_.plan.whole;
        framing_ = p_.built ? assembly::main_framing(*p_.built) : nullptr;
        layer_ = framing_ ? layer_of(*p_.built, framing_) : -1;
        for (int i = 0; i < layer_; ++i) low_ += p_.built->layers[static_cast<std::size_t>(i)].thickness;
        panel_ = Panel{.kind = Panel::Kind::ceiling,
                       .name = (p_.roof->over_attic ? "ceiling " : "trusses ") + p_.roof->name,
                       .assembly = p_.built && p_.roof->over_attic ? p_.built->name : "",
                       .storey = p_.storey->name,
                       .from = none,
                       .length = f.u.size(),
                       .height = f.v.size(),
                       .opaque_from = p_.plan.inside.u.low - f.u.low,
                       .opaque_length = p_.plan.inside.u.size(),
                       .origin = {f.u.low.metres(), f.v.low.metres(), (p_.plate() - low_).metres()},
                       .u = {1, 0, 0},
                       .v = {0, 1, 0},
                       .w = {0, 0, 1}};
        if (!p_.plan.rectangle) {
            for (const assembly::Point& c : p_.plan.outline)
                panel_.outline.push_back({c.x - f.u.low, c.y - f.v.low});
        }
        find_bays();
    }

    Panel build(Problems& notes) {
        p_.rafters ? joists() : trusses(notes);
        layers();
        mark_members(panel_);
        return std::move(panel_);
    }

private:
    void find_bays() {
        const Field& f = p_.plan.whole;
        const auto between = [](double a, double b, Exact zero) {
            return Interval{Exact::nearest(a) - zero, Exact::nearest(b) - zero};
        };
        for (const RoofBody& b : p_.frame.bodies) {
            const Interval x = between(b.west, b.east, f.u.low), y = between(b.south, b.north, f.v.low);
            Bay bay{.axis = b.ridge_east_west ? 1 : 0,
                    .span = b.ridge_east_west ? y : x,
                    .ridge = b.ridge_east_west ? x : y};
            const bool tip_low = b.tip == Side::west || b.tip == Side::south;
            bay.low_end = b.parent < 0 || tip_low;
            bay.high_end = b.parent < 0 || !tip_low;
            bay.stepped_low = p_.hip() && bay.low_end;
            bay.stepped_high = p_.hip() && bay.high_end;
            bays_.push_back(bay);
        }
        if (!bays_.empty()) {
            axis_ = bays_.front().axis;
            return;
        }
        // A shed's or a flat roof's trusses climb from its low side.
        if (p_.ridged()) return;
        axis_ = assembly::runs_east_west(p_.edge.planes.front().side) ? 1 : 0;
        for (const Field& strip : strips_of(p_.plan.outline, 1 - axis_)) {
            Bay bay{.axis = axis_,
                    .span = between((axis_ == 1 ? strip.v : strip.u).low.metres(),
                                    (axis_ == 1 ? strip.v : strip.u).high.metres(),
                                    axis_ == 1 ? f.v.low : f.u.low),
                    .ridge = between((axis_ == 1 ? strip.u : strip.v).low.metres(),
                                     (axis_ == 1 ? strip.u : strip.v).high.metres(),
                                     axis_ == 1 ? f.u.low : f.v.low)};
            bay.shared = !bays_.empty() && bays_.back().ridge.high == bay.ridge.low;
            bays_.push_back(bay);
        }
    }

    Member* stick(const Bay& bay, Role role, const Section& section, const std::string& lumber,
                  const Interval& along, const Interval& beside, const Interval& w, int layer) {
        return bay.axis == 0 ? put(panel_, role, section, lumber, along, beside, w, 0, layer)
                             : put(panel_, role, section, lumber, beside, along, w, 1, layer);
    }

    // Centres across a bay: on the frame's module, flush with its ends.
    std::vector<Exact> places(const Bay& bay) const {
        auto out = centres(bay.ridge, bay.ridge.low + p_.spacing, p_.spacing, p_.thick);
        if (!out.empty() && bay.shared) out.erase(out.begin());
        return out;
    }

    // Height of the roof over the plate, of a truss at `at` along the ridge.
    Exact height(const Bay& bay, Exact at) const {
        const Exact heel = Exact::nearest(p_.house->details.heel.value);
        double level = half(bay.span.size()).metres();
        if (bay.stepped_low) level = std::min(level, (at - bay.ridge.low).metres());
        if (bay.stepped_high) level = std::min(level, (bay.ridge.high - at).metres());
        if (p_.roof->form == Form::shed) {
            const Interval whole{none, bay.axis == 1 ? p_.plan.whole.v.size() : p_.plan.whole.u.size()};
            const Side low = p_.edge.planes.front().side;
            level = (low == Side::south || low == Side::west ? bay.span.high : whole.high - bay.span.low)
                        .metres();
        }
        return heel + Exact::nearest(level * std::tan(p_.pitch));
    }

    void trusses(Problems& notes) {
        for (const Bay& bay : bays_) {
            const auto at = places(bay);
            for (const Exact each : at) {
                const bool low = bay.low_end && each == at.front(), high = bay.high_end && each == at.back();
                if ((low && bay.stepped_low) || (high && bay.stepped_high)) continue;
                const Exact tall = height(bay, each);
                const bool stepped = (bay.stepped_low && each - bay.ridge.low < half(bay.span.size())) ||
                                     (bay.stepped_high && bay.ridge.high - each < half(bay.span.size()));
                const char* name = stepped ? "hip truss" : low || high ? "gable truss" : "truss";
                const Exact left = each - half(p_.thick);
                stick(bay, Role::truss, {name, p_.thick, tall}, "ordered", bay.span, {left, left + p_.thick},
                      {low_, low_ + tall}, layer_);
            }
        }
        if (p_.hip()) {
            notes.push_back(
                note(fmt::format("roof {}: trusses of the hip ends count as stepped trusses at the spacing; "
                                 "their maker settles girders and jacks",
                                 p_.roof->name),
                     p_.where()));
        }
    }

    // Beside each rafter; they tie the walls.
    void joists() {
        const Section section = framing_ ? section_of(*framing_) : named_section(*p_.house, "2x6");
        const Exact t = framing_ ? framing_->width : section.thickness,
                    d = framing_ ? framing_->depth : section.width;
        const bool split = p_.house->practice.bearing_line.value;
        for (const Bay& bay : bays_) {
            const Exact middle = bay.span.low + half(bay.span.size());
            Exact taken = bay.ridge.low - t;
            for (const Exact at : places(bay)) {
                const bool last = at + half(p_.thick) + t > bay.ridge.high;
                const Exact left = last ? at - half(p_.thick) - t : at + half(p_.thick);
                if (left < taken) continue;
                taken = left + t;
                std::vector<Interval> parts{bay.span};
                if (split) parts = {{bay.span.low, middle}, {middle, bay.span.high}};
                for (const Interval& part : parts) {
                    stick(bay, Role::ceiling_joist, section, joist_lumber(*p_.house), part, {left, left + t},
                          {low_, low_ + d}, layer_);
                }
            }
        }
    }

    void layers() {
        if (!p_.built || !p_.roof->over_attic) return;
        const Field& frame = p_.plan.whole;
        std::vector<Field> parts;
        for (const Field& room : strips_of(p_.storey->outline, 0)) {
            parts.push_back({{room.u.low - frame.u.low, room.u.high - frame.u.low},
                             {room.v.low - frame.v.low, room.v.high - frame.v.low}});
        }
        Exact at;
        for (std::size_t i = 0; i < p_.built->layers.size(); ++i) {
            const auto& layer = p_.built->layers[i];
            const Interval w{at, at + layer.thickness};
            at = w.high;
            const int index = static_cast<int>(i);
            for (const Field& part : parts) {
                if (is_sheet(layer)) lay_sheets(*p_.house, panel_, index, part, w, 1 - axis_);
                if (layer.membrane) lay_runs(*p_.house, panel_, index, part, w);
                if (layer.framing && index != layer_) strapping(index, *layer.framing, part, w);
            }
        }
    }

    void strapping(int index, const assembly::Framing& framing, const Field& field, const Interval& w) {
        const bool on_span = framing.run == assembly::Run::vertical;
        const int axis = on_span ? axis_ : 1 - axis_;
        const Interval &length = axis == 0 ? field.u : field.v, &across = axis == 0 ? field.v : field.u;
        if (framing.spacing <= none) return;
        for (const Exact at : centres(across, across.low + framing.spacing, framing.spacing, framing.width)) {
            const Exact left = at - half(framing.width);
            const Interval wide{left, left + framing.width}, deep{w.low, w.low + framing.depth};
            for (const Interval& piece : pieces_of(length, {})) {
                put(panel_, Role::furring, section_of(framing), joist_lumber(*p_.house),
                    axis == 0 ? piece : wide, axis == 0 ? wide : piece, deep, axis, index);
            }
        }
    }

    const RoofPlan& p_;
    Panel panel_;
    const assembly::Framing* framing_ = nullptr;
    int layer_ = -1, axis_ = 1;
    Exact low_;
    std::vector<Bay> bays_;
};

}  // namespace

Panel frame_ceiling(const RoofPlan& p, Problems& notes) {
    return Ceiling(p).build(notes);
}

void frame_valley_sets(const RoofPlan& p, std::vector<Panel>& panels) {
    if (p.rafters || !p.ridged()) return;
    int number = 0;
    for (const RoofBody& wing : p.frame.bodies) {
        if (wing.parent < 0) continue;
        const double span = wing.span(), tangent = std::tan(p.pitch);
        // The eave that the wing stands at, and the way in from it.
        const bool along_y = !wing.ridge_east_west;
        const double eave = wing.tip == Side::south   ? wing.north
                            : wing.tip == Side::north ? wing.south
                            : wing.tip == Side::east  ? wing.west
                                                      : wing.east;
        const double in = wing.tip == Side::south || wing.tip == Side::west ? 1.0 : -1.0;
        const double base = p.plate().metres() + p.house->details.heel.value;
        Panel panel{.kind = Panel::Kind::roof,
                    .name = fmt::format("roof {} valley set {}", p.roof->name, ++number),
                    .storey = p.storey->name,
                    .from = none,
                    .length = Exact::nearest(span),
                    .height = Exact::nearest(span / 2),
                    .opaque_length = Exact::nearest(span)};
        // u along the sets, v inwards, w up.
        if (along_y) {
            panel.origin = {in > 0 ? wing.west : wing.east, eave, base};
            panel.u = {in, 0, 0};
            panel.v = {0, in, 0};
        } else {
            panel.origin = {eave, in > 0 ? wing.north : wing.south, base};
            panel.u = {0, -in, 0};
            panel.v = {in, 0, 0};
        }
        panel.w = {0, 0, 1};
        // The lowest lies a module in from the last truss of the wing, at the ends of the main ones.
        for (Exact at = p.spacing;; at += p.spacing) {
            const double deep = at.metres(), tall = (span / 2 - deep) * tangent;
            if (tall < least_set) break;
            const Interval v{at - half(p.thick), at - half(p.thick) + p.thick};
            const Interval u{at, Exact::nearest(span) - at};
            const Exact low = Exact::nearest(deep * tangent);
            put(panel, Role::truss, {"valley set", p.thick, Exact::nearest(tall)}, "ordered", u, v,
                {low, low + Exact::nearest(tall)}, 0);
        }
        if (panel.members.empty()) continue;
        mark_members(panel);
        panels.push_back(std::move(panel));
    }
}

}  // namespace warmside::framing
