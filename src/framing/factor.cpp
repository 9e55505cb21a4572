// Framing factor from placed members.
#include <algorithm>

#include "framing/fractions.h"
#include "framing/wall_parts.h"

namespace warmside::framing {

namespace {

struct Rectangle {
    Interval u, v;
    Region region = Region::none;
};

// Regions of one stretch on u win in this order, so that wood behind wood counts once.
int rank(Region region) {
    switch (region) {
        case Region::openings: return 0;
        case Region::corners: return 1;
        case Region::plates: return 2;
        case Region::field: return 3;
        case Region::none: return 4;
    }
    return 4;
}

struct Wood {
    std::array<double, 4> area{};  // m2 by rank
    double net = 0.0;              // m2
    [[nodiscard]] double whole() const { return area[0] + area[1] + area[2] + area[3]; }
    void operator+=(const Wood& b) {
        for (std::size_t i = 0; i < area.size(); ++i) area[i] += b.area[i];
        net += b.net;
    }
};

// Length covered on v by what is in `parts` and not in `taken`; adds it to `taken`.
Exact covered(std::vector<Interval> parts, std::vector<Interval>& taken) {
    Exact sum;
    for (const Interval& part : parts) {
        for (const Interval& piece : free_of(part, taken)) {
            sum += piece.size();
            taken.push_back(piece);
        }
    }
    return sum;
}

// The wood of one layer as seen from outside: strips between all ends of boxes, the openings cut out.
Wood wood_of(const assembly::House& house, const Panel& panel, int layer) {
    const assembly::Face& face = house.faces[panel.face];
    std::vector<Rectangle> boxes;
    std::vector<Exact> cuts{panel.opaque_from, panel.opaque_from + panel.opaque_length};
    for (const Member& m : panel.members) {
        // A header in the rim lies over the wall.
        if (m.layer != layer || region_of(m.role) == Region::none || m.box.low[1] >= panel.height) continue;
        boxes.push_back({u_of(m.box), v_of(m.box), region_of(m.role)});
        cuts.insert(cuts.end(), {m.box.low[0], m.box.high[0]});
    }
    for (const assembly::Opening& o : face.openings) cuts.insert(cuts.end(), {u_of(o).low, u_of(o).high});
    std::sort(cuts.begin(), cuts.end());
    cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
    std::stable_sort(boxes.begin(), boxes.end(),
                     [](const Rectangle& a, const Rectangle& b) { return rank(a.region) < rank(b.region); });
    Wood wood;
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        const Interval strip{cuts[i - 1], cuts[i]};
        const bool beyond =
            strip.high <= panel.opaque_from || strip.low >= panel.opaque_from + panel.opaque_length;
        std::vector<Interval> taken;
        for (const assembly::Opening& o : face.openings) {
            if (u_of(o).overlaps(strip)) taken.push_back(v_of(o));
        }
        for (const Rectangle& box : boxes) {
            if (!box.u.overlaps(strip)) continue;
            const Exact height = covered({box.v}, taken);
            // Beyond the inside corner all wood is the corner's.
            const int to = beyond ? rank(Region::corners) : rank(box.region);
            wood.area[static_cast<std::size_t>(to)] += height.metres() * strip.size().metres();
        }
    }
    wood.net = panel.opaque_length.metres() * panel.height.metres();
    for (const assembly::Opening& o : face.openings) wood.net -= o.width.metres() * o.height.metres();
    return wood;
}

double rim_of(const std::vector<Panel>& panels) {
    double area = 0.0;
    for (const Panel& panel : panels) {
        for (const Member& m : panel.members) {
            const bool header = m.role == Role::header && m.box.low[1] >= panel.height;
            // Ply behind ply once: the outermost.
            const bool outermost =
                header && std::none_of(panel.members.begin(), panel.members.end(), [&](const Member& o) {
                    return o.role == Role::header && o.opening == m.opening && o.box.low[2] > m.box.low[2];
                });
            if (m.role == Role::rim || outermost) area += m.length.metres() * m.section.width.metres();
        }
    }
    return area;
}

}  // namespace

FramingFactor factor_of_layer(const assembly::House& house, const assembly::Assembly& wall,
                              const std::vector<Panel>& panels, int layer) {
    FramingFactor out;
    Wood sum;
    for (const Panel& panel : panels) {
        if (panel.kind != Panel::Kind::wall || panel.assembly != wall.name ||
            panel.face >= house.faces.size())
            continue;
        const Wood wood = wood_of(house, panel, layer);
        sum += wood;
        out.by_panel.emplace_back(panel.name, wood.net > 0.0 ? wood.whole() / wood.net : 0.0);
    }
    out.origin = {Origin::Kind::computed, {}, "members placed in the walls", Evidence::computed};
    out.net_area = sum.net;
    if (sum.net <= 0.0) return out;
    out.openings = sum.area[0] / sum.net;
    out.corners = sum.area[1] / sum.net;
    out.plates = sum.area[2] / sum.net;
    out.field = sum.area[3] / sum.net;
    out.whole = sum.whole() / sum.net;
    out.rim = rim_of(panels) / sum.net;
    return out;
}

FramingFactor factor_of(const assembly::House& house, const assembly::Assembly& wall,
                        const std::vector<Panel>& panels) {
    const auto build = build_of(wall);
    FramingFactor out = factor_of_layer(house, wall, panels, build ? build->bearer().layer : -1);
    if (!build || build->bearer().framing->kind != assembly::Framing::Kind::solid) return out;
    if (const auto published = published_fraction(build->bearer().framing->spacing.metres()))
        out.published = published->whole;
    return out;
}

}  // namespace warmside::framing
