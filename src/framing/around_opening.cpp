#include "framing/around_opening.h"

#include <algorithm>

namespace warmside::framing {

namespace {

bool is_jamb(const Member& m) {
    return m.role == Role::king || m.role == Role::jack;
}

// In another frame of the wall than the one asked for.
bool elsewhere(const Member& m, int layer) {
    return layer >= 0 && m.layer >= 0 && m.layer != layer;
}

// The plies of the lowest header that lies over all of an opening.
std::vector<const Member*> header_over(const Panel& panel, const assembly::Opening& opening, int layer) {
    std::vector<const Member*> out;
    for (const Member& m : panel.members) {
        if (elsewhere(m, layer)) continue;
        const bool over = m.role == Role::header && m.box.low[0] <= opening.left &&
                          m.box.high[0] >= opening.left + opening.width &&
                          m.box.low[1] >= opening.sill + opening.height;
        if (!over) continue;
        if (!out.empty() && m.box.low[1] < out.front()->box.low[1]) out.clear();
        if (out.empty() || m.box.low[1] == out.front()->box.low[1]) out.push_back(&m);
    }
    return out;
}

}  // namespace

AroundOpening around_opening(const Panel& panel, const assembly::Face& face, int opening, int layer) {
    const assembly::Opening& own = face.openings[static_cast<std::size_t>(opening)];
    AroundOpening out{.plies = header_over(panel, own, layer), .clear = {}};
    out.governing = out.plies.empty() ? opening : out.plies.front()->opening;
    if (!out.plies.empty()) out.at_rim = out.plies.front()->box.low[1] >= panel.height;
    const Exact middle = own.left + half(own.width), right_side = own.left + own.width;
    std::array<bool, 2> at_jamb{};
    std::array<int, 2> studs{};
    std::array<std::optional<Exact>, 2> faces;
    for (const Member& m : panel.members) {
        if (elsewhere(m, layer)) continue;
        const std::size_t side = m.box.low[0] < middle ? 0 : 1;
        const bool touches = side == 0 ? m.box.high[0] == own.left : m.box.low[0] == right_side;
        if (m.role == Role::stud && m.opening >= 0 && touches && m.box.low[1] <= own.sill) studs[side] = 1;
        if (m.opening != out.governing) continue;
        if (is_jamb(m)) {
            ++(m.role == Role::king ? out.kings : out.jacks)[side];
            at_jamb[side] = at_jamb[side] || touches;
            const Exact edge = side == 0 ? m.box.high[0] : m.box.low[0];
            auto& nearest = faces[side];
            if (!nearest || (side == 0 ? edge > *nearest : edge < *nearest)) nearest = edge;
        }
        if (m.role == Role::cripple_above && !out.plies.empty() &&
            m.box.low[1] >= out.plies.front()->box.high[1])
            out.cripples_on = true;
    }
    for (const std::size_t side : {0U, 1U})
        out.jambs[side] = at_jamb[side] ? out.kings[side] + out.jacks[side] : studs[side];
    out.clear = faces[0] && faces[1] ? *faces[1] - *faces[0] : own.width;
    return out;
}

}  // namespace warmside::framing
