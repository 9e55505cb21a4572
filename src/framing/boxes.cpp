#include "framing/boxes.h"

#include <algorithm>
#include <fmt/format.h>

namespace warmside::framing {

namespace {

using assembly::BoxKind;
using assembly::BoxSeat;

// An explicit box goes to the nearest wood: at most one bay away, at most this much up or down. Ours.
constexpr Exact most_lift = Exact::sixty_fourths_of_inch(12 * 64);
// What a receptacle has to reach beyond those that stand already, so that the rule ends. Ours.
constexpr Exact least_gain = Exact::sixty_fourths_of_inch(6 * 64);
// No wall has more.
constexpr int most_in_a_space = 200;

class Placing {
public:
    explicit Placing(const Bench& bench)
        : bench_(bench),
          house_(bench.house),
          face_(*bench.wall.face),
          wall_(*bench.wall.build->assembly),
          rules_(assembly::box_rules()) {}

    void all() {
        for (const assembly::ElectricalBox& box : house_.boxes) {
            if (box.face == face_.name) explicit_box(box);
        }
        const assembly::Storey* storey = house_.storey(face_.storey);
        if (house_.practice.boxes.value && (!storey || storey->heated)) by_rule();
        auto& boxes = bench_.panel.boxes;
        std::stable_sort(boxes.begin(), boxes.end(),
                         [](const WallBox& a, const WallBox& b) { return a.box.low[0] < b.box.low[0]; });
        int receptacle = 0, count = 0;
        for (WallBox& box : boxes) {
            box.mark = fmt::format("E{}", ++count);
            if (box.by_rule) box.name = fmt::format("receptacle {}", ++receptacle);
        }
    }

private:
    void note(std::string what, const Place& where) const {
        bench_.notes.push_back({.code = Code::out_of_range,
                                .severity = Severity::note,
                                .what = std::move(what),
                                .where = where});
    }

    // Where the middle of a box may be between inner walls and corners, in the stretch around `at`.
    [[nodiscard]] Interval room(const Interval& stretch, Exact width) const {
        return {stretch.low + rules_.edge + half(width), stretch.high - rules_.edge - half(width)};
    }

    void explicit_box(const assembly::ElectricalBox& box) {
        const auto seat = assembly::box_seat(wall_, box.body.value);
        if (!seat) {
            note(fmt::format("box {}: no framed layer of {} is deep enough; left out", box.name, wall_.name),
                 box.origin.where);
            return;
        }
        const Exact bay = wall_.layers[seat->layer].framing->spacing;
        BoxWish wish{.u = box.at.value, .v = box.height.value};
        for (const Interval& stretch : free_of({Exact{}, bench_.wall.length}, inner_walls(house_, face_))) {
            if (wish.u < stretch.low || wish.u > stretch.high) continue;
            const Interval free = room(stretch, seat->body->width);
            wish.centre = {std::max(free.low, wish.u - bay), std::min(free.high, wish.u + bay)};
        }
        const Exact half_height = half(seat->body->height);
        wish.heights = {std::max(wish.v - half_height - most_lift, Exact{}),
                        std::min(wish.v + half_height + most_lift, face_.height)};
        if (!put_box(*seat, wish, box.kind, box.name, box.origin)) {
            note(fmt::format("box {}: nothing to hold it within one bay of {} in face {}; left out", box.name,
                             units::feet_inches(box.at.value.metres()), face_.name),
                 box.at.origin.where);
        }
    }

    void by_rule() {
        const auto seat = assembly::box_seat(wall_, house_.practice.box_body.value);
        if (!seat) {
            note(fmt::format(
                     "face {}: no framed layer of {} is deep enough for a box; receptacles are left out",
                     face_.name, wall_.name),
                 face_.origin.where);
            return;
        }
        for (const WallSpace& space : wall_spaces(house_, face_)) serve(space, *seat);
    }

    // Stretches within reach of the receptacles that stand in `space` already.
    [[nodiscard]] std::vector<Interval> reached(const WallSpace& space) const {
        const Exact reach = house_.practice.box_reach.value;
        std::vector<Interval> out;
        for (const WallBox& box : bench_.panel.boxes) {
            const Exact centre = box.box.low[0] + half(box.box.size(0));
            if (box.kind != BoxKind::receptacle || box.box.high[1] > rules_.highest) continue;
            if (centre < space.u.low || centre > space.u.high) continue;
            out.push_back({centre - reach, centre + reach});
        }
        return out;
    }

    // From the left: the stretch that is not reached yet is divided evenly, the first receptacle placed, and
    // again.
    void serve(const WallSpace& space, const BoxSeat& seat) {
        const Exact reach = house_.practice.box_reach.value;
        const Interval demand{space.u.low - space.before, space.u.high + space.after};
        const Interval free = room(space.u, seat.body->width);
        for (int i = 0; i < most_in_a_space; ++i) {
            const auto gaps = free_of(demand, reached(space));
            if (gaps.empty()) return;
            const Interval gap = gaps.front();
            const std::int64_t pieces = (gap.size().count() - 1) / (reach.count() * 2) + 1;
            const Exact target = gap.low + Exact::eighths_of_micrometre(gap.size().count() / (2 * pieces));
            const Interval centre{std::max(free.low, gap.low - reach + least_gain),
                                  std::min(free.high, gap.low + reach)};
            const BoxWish wish{.centre = centre,
                               .u = std::clamp(target, std::min(centre.low, centre.high), centre.high),
                               .v = house_.practice.box_height.value,
                               .heights = {Exact{}, std::min(rules_.highest, face_.height)}};
            if (centre.low <= centre.high &&
                put_box(seat, wish, BoxKind::receptacle, {}, house_.practice.box_reach.origin))
                continue;
            note(fmt::format(
                     "face {}: no place for a receptacle {} to {} from its left corner, where the spacing "
                     "rule asks for one",
                     face_.name, units::feet_inches(std::max(gap.low, Exact{}).metres()),
                     units::feet_inches(std::min(gap.high, bench_.wall.length).metres())),
                 face_.origin.where);
            return;
        }
    }

    bool put_box(const BoxSeat& seat, const BoxWish& wish, BoxKind kind, const std::string& name,
                 const Origin& origin) {
        const auto spot = box_spot(bench_, seat, wish);
        if (!spot) return false;
        const auto layer = static_cast<int>(seat.layer);
        if (spot->block_u) {
            const assembly::Framing& framing = *wall_.layers[seat.layer].framing;
            const Exact low = bench_.wall.build->layers[seat.layer].low;
            put(bench_.panel, Role::furring, section_of(framing), plate_lumber(house_, framing),
                *spot->block_u, *spot->block_v, {low, low + framing.depth}, 1, layer);
        }
        bench_.panel.boxes.push_back(
            {.name = name,
             .kind = kind,
             .body = seat.body->name,
             .title = seat.body->title,
             .volume = seat.body->volume,
             .box = {{spot->u.low, spot->v.low, seat.front}, {spot->u.high, spot->v.high, seat.back}},
             .layer = layer,
             .holder = spot->holder,
             .own_block = spot->block_u.has_value(),
             .by_rule = name.empty(),
             .inner_cavity = seat.inner_cavity,
             .pierces_airtight = seat.pierces_airtight,
             .origin = origin});
        return true;
    }

    const Bench& bench_;
    const assembly::House& house_;
    const assembly::Face& face_;
    const assembly::Assembly& wall_;
    const assembly::BoxRules& rules_;
};

}  // namespace

void place_boxes(const Bench& bench) {
    Placing(bench).all();
}

}  // namespace warmside::framing
