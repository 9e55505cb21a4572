// Where a box can stand: clear of everything, held by wood.
#include <algorithm>

#include "framing/boxes.h"

namespace warmside::framing {

namespace {

// What a block of its own costs against moving the box: ours.
constexpr Exact block_cost = Exact::sixty_fourths_of_inch(6 * 64);

Exact apart(Exact a, Exact b) {
    return a < b ? b - a : a - b;
}

bool within(const Interval& inner, const Interval& outer) {
    return outer.low <= inner.low && inner.high <= outer.high;
}

class Search {
public:
    Search(const Bench& bench, const assembly::BoxSeat& seat, const BoxWish& wish)
        : bench_(bench),
          wish_(wish),
          layer_(static_cast<int>(seat.layer)),
          framing_(*bench.wall.build->assembly->layers[seat.layer].framing),
          width_(seat.body->width),
          height_(seat.body->height),
          depth_{seat.front, seat.back},
          casing_(assembly::box_rules().casing) {
        for (std::size_t i = 0; i < bench.panel.members.size(); ++i) {
            const Member& m = bench.panel.members[i];
            // A block beside the box reaches this far.
            const Exact reach = width_ + framing_.width;
            if (!w_of(m.box).overlaps(depth_) ||
                !u_of(m.box).touches({wish.centre.low - reach, wish.centre.high + reach}))
                continue;
            near_.push_back(i);
        }
    }

    std::optional<BoxSpot> best() {
        for (const Exact low : lows_on_u()) {
            const Exact way = apart(low + half(width_), wish_.u);
            if (best_ && way >= cost_) break;  // nearest first
            for (const Exact v : lows_on_v({low, low + width_})) try_at(low, v, way);
        }
        return best_;
    }

private:
    [[nodiscard]] const Member& member(std::size_t i) const { return bench_.panel.members[i]; }
    [[nodiscard]] bool lying() const { return framing_.run == assembly::Run::horizontal; }

    // Beside each upright; where rows lie, anywhere.
    [[nodiscard]] std::vector<Exact> lows_on_u() const {
        std::vector<Exact> out;
        for (const std::size_t i : near_) {
            const Member& m = member(i);
            if (m.layer != layer_ || m.along != 1) continue;
            out.insert(out.end(), {m.box.low[0] - width_, m.box.high[0]});
        }
        if (lying()) {
            for (const Exact centre : {wish_.u, wish_.centre.low, wish_.centre.high})
                out.push_back(centre - half(width_));
            for (const assembly::Opening& o : bench_.wall.face->openings)
                out.insert(out.end(), {o.left - casing_ - width_, o.left + o.width + casing_});
        }
        std::erase_if(out, [&](Exact low) {
            const Exact centre = low + half(width_);
            return centre < wish_.centre.low || centre > wish_.centre.high;
        });
        std::stable_sort(out.begin(), out.end(), [&](Exact a, Exact b) {
            return apart(a + half(width_), wish_.u) < apart(b + half(width_), wish_.u);
        });
        out.erase(std::unique(out.begin(), out.end()), out.end());
        return out;
    }

    // Where it should be; against what lies above or below it there.
    [[nodiscard]] std::vector<Exact> lows_on_v(const Interval& u) const {
        std::vector<Exact> out{wish_.v - half(height_)};
        for (const std::size_t i : near_) {
            const Member& m = member(i);
            if (u_of(m.box).overlaps(u)) out.insert(out.end(), {m.box.low[1] - height_, m.box.high[1]});
        }
        for (const assembly::Opening& o : bench_.wall.face->openings)
            out.insert(out.end(), {v_of(o).low - casing_ - height_, v_of(o).high + casing_});
        std::erase_if(out, [&](Exact low) { return !within({low, low + height_}, wish_.heights); });
        return out;
    }

    void try_at(Exact low_u, Exact low_v, Exact way) {
        BoxSpot spot{.u = {low_u, low_u + width_}, .v = {low_v, low_v + height_}};
        const Exact cost = way + apart(low_v + half(height_), wish_.v) * 2;
        if ((best_ && cost >= cost_) || !clear(spot.u, spot.v, depth_, casing_)) return;
        if (const auto holder = wood_beside(spot)) {
            spot.holder = *holder;
            keep(spot, cost);
        } else if (lying() && (!best_ || cost + block_cost < cost_) && add_block(spot)) {
            keep(spot, cost + block_cost);
        }
    }
    void keep(const BoxSpot& spot, Exact cost) {
        best_ = spot;
        cost_ = cost;
    }

    [[nodiscard]] bool clear(const Interval& u, const Interval& v, const Interval& w, Exact margin) const {
        for (const std::size_t i : near_) {
            const Box& b = member(i).box;
            if (u_of(b).overlaps(u) && v_of(b).overlaps(v) && w_of(b).overlaps(w)) return false;
        }
        for (const WallBox& other : bench_.panel.boxes) {
            if (u_of(other.box).overlaps(u) && v_of(other.box).overlaps(v) && w_of(other.box).overlaps(w))
                return false;
        }
        for (const assembly::Opening& o : bench_.wall.face->openings) {
            const Interval ou{o.left - margin, o.left + o.width + margin},
                ov{o.sill - margin, o.sill + o.height + margin};
            if (ou.overlaps(u) && ov.overlaps(v)) return false;
        }
        return true;
    }

    // A member of the layer whose face lies against a whole side of the box.
    [[nodiscard]] std::optional<std::size_t> wood_beside(const BoxSpot& spot) const {
        std::optional<std::size_t> found;
        for (const std::size_t i : near_) {
            const Member& m = member(i);
            if (m.layer != layer_) continue;
            const Interval u = u_of(m.box), v = v_of(m.box);
            const bool side = (u.high == spot.u.low || u.low == spot.u.high) && within(spot.v, v);
            const bool end = (v.high == spot.v.low || v.low == spot.v.high) && within(spot.u, u);
            if (side && m.along == 1) return i;
            if (end && m.along == 0 && !found) found = i;
        }
        return found;
    }

    // An upright strip beside the box, from the row below to the row above.
    bool add_block(BoxSpot& spot) const {
        const Exact t = framing_.width;
        for (const Interval u :
             {Interval{spot.u.high, spot.u.high + t}, Interval{spot.u.low - t, spot.u.low}}) {
            if (u.low < Exact{} || u.high > bench_.wall.length) continue;
            std::vector<Interval> taken;
            std::vector<std::pair<Interval, Interval>> rows;
            for (const std::size_t i : near_) {
                const Member& m = member(i);
                if (m.layer != layer_ || !u_of(m.box).overlaps(u)) continue;
                taken.push_back(v_of(m.box));
                rows.emplace_back(u_of(m.box), v_of(m.box));
            }
            for (const auto& stretch : free_of({Exact{}, bench_.wall.face->height}, std::move(taken))) {
                if (!within(spot.v, stretch) || !carried(rows, u, stretch)) continue;
                const Interval w{depth_of_layer()};
                if (!clear(u, stretch, w, Exact{})) continue;
                spot.block_u = u;
                spot.block_v = stretch;
                spot.holder = bench_.panel.members.size();
                return true;
            }
        }
        return false;
    }
    [[nodiscard]] static bool carried(const std::vector<std::pair<Interval, Interval>>& rows,
                                      const Interval& u, const Interval& stretch) {
        const auto at = [&](Exact v, bool above) {
            return std::any_of(rows.begin(), rows.end(), [&](const auto& row) {
                return within(u, row.first) && (above ? row.second.low : row.second.high) == v;
            });
        };
        return at(stretch.low, false) && at(stretch.high, true);
    }
    [[nodiscard]] Interval depth_of_layer() const {
        const Exact low = bench_.wall.build->layers[static_cast<std::size_t>(layer_)].low;
        return {low, low + framing_.depth};
    }

    const Bench& bench_;
    const BoxWish& wish_;
    int layer_;
    const assembly::Framing& framing_;
    Exact width_, height_;
    Interval depth_;
    Exact casing_;
    std::vector<std::size_t> near_;
    std::optional<BoxSpot> best_;
    Exact cost_;
};

}  // namespace

std::optional<BoxSpot> box_spot(const Bench& bench, const assembly::BoxSeat& seat, const BoxWish& wish) {
    return Search(bench, seat, wish).best();
}

}  // namespace warmside::framing
