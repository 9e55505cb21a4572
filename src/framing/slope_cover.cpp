// Strapping, sheets and membranes on a plane of a roof, inside and outside of the rafters.
#include <algorithm>
#include <cmath>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using assembly::RoofStrip;

const Exact none;
// Deck where the file names none: 7/16 in OSB, span rating 24/16 (common practice).
const Exact standard_deck = Exact::sixty_fourths_of_inch(28);

class Cover {
public:
    Cover(const RoofPlan& plan, const RoofPlane& plane, Panel& panel)
        : p_(plan), plane_(plane), panel_(panel) {}

    void build() {
        const Patch top = placed(plane_.strips, p_.top);
        if (const auto field = around(top); field && top.size() > 0) {
            auto outline = outline_of(top);
            const double box = field->u.size().metres() * field->v.size().metres();
            if (outline.size() != 4 || std::abs(area_of(outline) - box) > 1e-6)
                panel_.outline = std::move(outline);
        }
        if (!p_.covering) {
            lay_sheets(*p_.house, panel_, -1, top, {p_.top, p_.top + standard_deck});
            return;
        }
        const auto& layers = p_.covering->layers;
        Exact at;
        for (std::size_t i = 0; i < layers.size(); ++i) {
            if (static_cast<int>(i) == p_.layer) {
                at = p_.top;
                continue;
            }
            const Interval w{at, at + layers[i].thickness};
            at = w.high;
            layer(static_cast<int>(i), layers[i], w);
        }
    }

private:
    // Strips of the plan, from the eave's line in, on the slope at height w.
    Patch placed(const std::vector<RoofStrip>& strips, Exact w) const {
        const bool rising = ways_of(plane_.side).rising();
        const auto v = [&](double level) { return p_.v_at(level, w.metres()); };
        Patch out;
        for (const RoofStrip& s : strips) {
            RoofStrip each = s;
            each.from = rising ? s.from - plane_.from() : plane_.to() - s.to;
            each.to = rising ? s.to - plane_.from() : plane_.to() - s.from;
            each.low_from = v(rising ? s.low_from : s.low_to);
            each.low_to = v(rising ? s.low_to : s.low_from);
            each.high_from = v(rising ? s.high_from : s.high_to);
            each.high_to = v(rising ? s.high_to : s.high_from);
            out.push_back(each);
        }
        return out;
    }

    // What the plane covers at height w: outside all of it, inside what lies over the rooms.
    Patch reach(Exact w, bool outside) const {
        if (outside) return placed(plane_.strips, w);
        const bool on_x = assembly::runs_east_west(plane_.side);
        Patch out;
        for (const Field& room : strips_of(p_.storey->outline, on_x ? 0 : 1)) {
            const Interval &along = on_x ? room.u : room.v, &across = on_x ? room.v : room.u;
            const bool before = plane_.side == Side::south || plane_.side == Side::west;
            // What lies beyond the eave's line is none of this plane.
            const double low =
                before ? across.low.metres() - plane_.line : plane_.line - across.high.metres();
            const double high =
                before ? across.high.metres() - plane_.line : plane_.line - across.low.metres();
            if (high <= 0.0) continue;
            RoofStrip r{.from = along.low.metres(), .to = along.high.metres()};
            r.low_from = std::max(low, 0.0);
            r.high_from = high;
            const Patch part = clipped(plane_.strips, r);
            out.insert(out.end(), part.begin(), part.end());
        }
        return placed(out, w);
    }

    void layer(int index, const assembly::Layer& layer, const Interval& w) {
        const bool outside = index > p_.layer;
        const Patch patch = reach(w.low, outside);
        if (patch.empty()) return;
        if (layer.framing) strapping(index, *layer.framing, patch, w, outside);
        if (is_sheet(layer)) lay_sheets(*p_.house, panel_, index, patch, w);
        if (layer.membrane) lay_runs(*p_.house, panel_, index, patch, w);
    }

    void strapping(int index, const assembly::Framing& framing, const Patch& patch, const Interval& w,
                   bool outside) {
        const Role role = outside ? Role::batten : Role::furring;
        const Section section = section_of(framing);
        const Interval depth{w.low, w.low + framing.depth};
        const bool up = framing.run == assembly::Run::vertical;
        const Field field = *around(patch);
        const Interval& across = up ? field.u : field.v;
        if (framing.spacing <= none) return;
        for (const Exact at : centres(across, across.low + framing.spacing, framing.spacing, framing.width)) {
            const Interval wide{at - half(framing.width), at - half(framing.width) + framing.width};
            for (const Interval& length : up ? heights(patch, wide, false) : widths(patch, wide, true)) {
                for (const Interval& piece : pieces_of(length, {})) {
                    put(panel_, role, section, joist_lumber(*p_.house), up ? wide : piece, up ? piece : wide,
                        depth, up ? 1 : 0, index);
                }
            }
        }
    }

    const RoofPlan& p_;
    const RoofPlane& plane_;
    Panel& panel_;
};

}  // namespace

void cover_plane(const RoofPlan& p, const RoofPlane& plane, Panel& panel) {
    Cover(p, plane, panel).build();
}

}  // namespace warmside::framing
