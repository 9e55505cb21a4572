#include "framing/roof.h"

#include <algorithm>
#include <cmath>

namespace warmside::framing {

namespace {

using Form = assembly::Roof::Form;

const Exact none;
const Exact lookout_thick = Exact::sixty_fourths_of_inch(96);

}  // namespace

Ways ways_of(Side side) {
    switch (side) {
        case Side::south: return {{1, 0}, {0, 1}};
        case Side::east: return {{0, 1}, {-1, 0}};
        case Side::north: return {{-1, 0}, {0, -1}};
        case Side::west: break;
    }
    return {{0, -1}, {1, 0}};
}

double RoofPlan::v_at(double level, double w) const {
    return level / std::cos(pitch) + (w - low.metres()) * std::tan(pitch);
}

double RoofPlan::underside(double level) const {
    return plate().metres() + (level - (overhang + seat).metres()) * std::tan(pitch);
}

Exact rake_drop(const RoofPlan& plan) {
    return plan.overhang > none && !plan.hip() ? lookout_thick : none;
}

const assembly::Assembly& wall_under(const RoofPlan& p, Side side) {
    const Ways ways = ways_of(side);
    const assembly::Assembly* out = p.wall;
    double longest = 0.0;
    for (const assembly::Face& face : p.house->faces) {
        if (face.storey != p.storey->name) continue;
        const double length = (face.to.x - face.from.x).metres() * ways.along[0] +
                              (face.to.y - face.from.y).metres() * ways.along[1];
        if (length <= longest) continue;
        longest = length;
        const auto* named = face.assembly.empty() ? nullptr : p.house->find(face.assembly);
        out = named ? named : p.wall;
    }
    return *out;
}

int layer_of(const assembly::Assembly& built, const assembly::Framing* framing) {
    for (std::size_t i = 0; i < built.layers.size(); ++i) {
        if (built.layers[i].framing && &*built.layers[i].framing == framing) return static_cast<int>(i);
    }
    return -1;
}

Plate plate_of(const RoofPlan& p, const assembly::Assembly& wall) {
    const Exact board = Exact::nearest(p.house->details.member.value);
    const auto build = build_of(wall);
    if (!build) return {section_of(board, p.seat), joist_lumber(*p.house), board};
    const assembly::Framing& framing = *build->bearer().framing;
    const bool solid = framing.kind == assembly::Framing::Kind::solid;
    return {solid ? section_of(framing) : section_of(board, framing.depth), plate_lumber(*p.house, framing),
            solid ? framing.width : board};
}

std::vector<Rake> rakes_of(const RoofPlan& p) {
    std::vector<Rake> out;
    if (p.roof->form == Form::gable) {
        for (const RoofBody& b : p.frame.bodies) {
            std::vector<Side> ends{b.tip};
            if (b.parent < 0) ends.push_back(assembly::opposite(b.tip));
            for (const Side side : ends) {
                switch (side) {
                    case Side::south: out.push_back({side, b.south, b.west, b.east}); break;
                    case Side::east: out.push_back({side, b.east, b.south, b.north}); break;
                    case Side::north: out.push_back({side, b.north, b.west, b.east}); break;
                    case Side::west: out.push_back({side, b.west, b.south, b.north}); break;
                }
            }
        }
    }
    if (p.roof->form == Form::shed) {
        const auto& corners = p.plan.outline;
        for (std::size_t i = 0; i < corners.size(); ++i) {
            const assembly::Point &a = corners[i], &b = corners[(i + 1) % corners.size()];
            if (p.frame.along(a, b) <= 1e-9) continue;
            const double dx = (b.x - a.x).metres(), dy = (b.y - a.y).metres();
            if (a.y == b.y)
                out.push_back({dx > 0 ? Side::south : Side::north, a.y.metres(), std::min(a.x, b.x).metres(),
                               std::max(a.x, b.x).metres()});
            else
                out.push_back({dy > 0 ? Side::east : Side::west, a.x.metres(), std::min(a.y, b.y).metres(),
                               std::max(a.y, b.y).metres()});
        }
    }
    return out;
}

bool ends_plane(const RoofPlan& p, const Rake& rake) {
    return std::any_of(p.frame.planes.begin(), p.frame.planes.end(), [&](const RoofPlane& plane) {
        return assembly::runs_east_west(plane.side) != assembly::runs_east_west(rake.side) &&
               (std::abs(plane.from() - rake.line) < 1e-6 || std::abs(plane.to() - rake.line) < 1e-6);
    });
}

}  // namespace warmside::framing
