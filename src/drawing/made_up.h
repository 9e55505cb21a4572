// Test data only. Every assembly and figure here is made up for the tests of drawing and report.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "assembly/assembly.h"

namespace warmside::made_up {

using assembly::Assembly;
using assembly::Framing;
using assembly::Layer;
using units::Exact;

inline Exact in64(int n) {
    return Exact::sixty_fourths_of_inch(n);
}
inline Exact inch(int n) {
    return in64(64 * n);
}
inline Exact mm(int n) {
    return Exact::millimetres(n);
}

struct Row {
    const char *name, *hatch;
    double conductivity;
    bool insulation;
};

inline material::Catalogue catalogue() {
    static constexpr Row rows[] = {
        {"gypsum board", "gypsum", 0.2, false},
        {"stone wool batt", "batt", 0.037, true},
        {"stone wool board", "board", 0.035, true},
        {"osb", "sheathing", 0.13, false},
        {"spruce siding", "wood", 0.12, false},
        {"spruce", "wood", 0.12, false},
        {"concrete", "concrete", 2.0, false},
        {"brick", "brick", 0.7, false},
        {"xps", "foam", 0.034, true},
        {"roofing", "plain", 0.2, false},
    };
    material::Catalogue out;
    for (const auto& row : rows) {
        material::Material m;
        m.name = row.name;
        m.hatch = row.hatch;
        m.conductivity = row.conductivity;
        m.is_insulation = row.insulation;
        m.family = "made up";
        m.origin = {.kind = Origin::Kind::catalogue,
                    .where = {},
                    .source = "made up for a test",
                    .evidence = Evidence::none};
        out.materials.push_back(m);
    }
    for (const char* name : {"variable retarder", "housewrap", "polyethylene"}) {
        material::Membrane m;
        m.name = name;
        m.permeance = {{0.2, 0.8}, {1e-11, 1e-10}};
        out.membranes.push_back(m);
    }
    return out;
}

/// Builds assemblies whose layers point into the house's own catalogue.
class Builder {
public:
    explicit Builder(assembly::House& house) : house_(house) { house_.catalogue = catalogue(); }

    Layer solid(const char* name, Exact thickness) const {
        Layer l;
        l.material = row(name);
        l.thickness = thickness;
        return l;
    }
    Layer framed(const char* name, Exact thickness, const char* member, Exact width, Exact depth,
                 Exact spacing, assembly::Run run = assembly::Run::vertical) const {
        Layer l = solid(name, thickness);
        l.framing = Framing{.member = member, .width = width, .depth = depth, .run = run, .spacing = spacing};
        l.framing->material = row("spruce");
        return l;
    }
    Layer sheet(const char* name, bool airtight, bool water = false) const {
        Layer l;
        l.kind = Layer::Kind::membrane;
        for (const auto& m : house_.catalogue.membranes) {
            if (m.name == name) l.membrane = &m;
        }
        l.airtight = airtight;
        l.water = water;
        return l;
    }
    Layer cavity(Exact thickness, Exact spacing) const {
        Layer l;
        l.kind = Layer::Kind::air;
        l.air = assembly::AirKind::ventilated;
        l.thickness = thickness;
        l.framing = Framing{.member = "1x3", .width = in64(160), .depth = thickness, .spacing = spacing};
        l.framing->material = row("spruce");
        return l;
    }

    Assembly assembly(std::string name, std::string title, std::vector<Layer> layers,
                      assembly::Part part = assembly::Part::wall) const {
        Assembly a;
        a.name = std::move(name);
        a.title = std::move(title);
        a.part = part;
        a.layers = std::move(layers);
        return a;
    }

private:
    const material::Material* row(std::string_view name) const {
        for (const auto& m : house_.catalogue.materials) {
            if (m.name == name) return &m;
        }
        return nullptr;
    }
    assembly::House& house_;
};

/// Six walls and two roofs, a ladder each; `walls` of the six (more repeat, thicker).
inline assembly::House house(int walls = 6) {
    assembly::House h;
    h.name = "Made-up house for a test";
    h.place = "Nowhere, Northland";
    const Builder b(h);
    const Exact gap = in64(48), siding = in64(48), osb = in64(28), board = in64(32), bay = inch(24);
    const auto batt = [&](const char* member, int eighths, Exact spacing) {
        return b.framed("stone wool batt", in64(8 * eighths), member, in64(96), in64(8 * eighths), spacing);
    };
    const auto inner = [&](Exact depth) {
        return b.framed("stone wool batt", depth, "2x2", in64(96), depth, bay, assembly::Run::horizontal);
    };
    const auto air = b.sheet("variable retarder", true), wrap = b.sheet("housewrap", false, true);
    const auto gypsum = b.solid("gypsum board", board);
    std::vector<Assembly> all{
        b.assembly("w1", "2x4, the old minimum",
                   {gypsum, b.sheet("polyethylene", false), batt("2x4", 28, inch(16)), b.solid("osb", osb),
                    wrap, b.solid("spruce siding", siding)}),
        b.assembly("w2", "2x6, drywall on the sheet",
                   {gypsum, air, batt("2x6", 44, bay), b.solid("osb", osb), wrap, b.cavity(gap, bay),
                    b.solid("spruce siding", siding)}),
        b.assembly("w3", "2x6 with a wired inner cavity",
                   {gypsum, inner(in64(96)), air, batt("2x6", 44, bay), b.solid("osb", osb), wrap,
                    b.cavity(gap, bay), b.solid("spruce siding", siding)}),
        b.assembly("w4", "2x8 with a wired inner cavity",
                   {gypsum, inner(in64(96)), air, batt("2x8", 58, bay), b.solid("osb", osb), wrap,
                    b.cavity(gap, bay), b.solid("spruce siding", siding)}),
        b.assembly(
            "w5", "2x8, inner cavity, 2 in. outside",
            {gypsum, inner(in64(96)), air, batt("2x8", 58, bay), b.solid("osb", osb), wrap,
             b.solid("stone wool board", inch(2)), b.cavity(gap, bay), b.solid("spruce siding", siding)}),
        b.assembly("w6", "Nordic 50 + 200 + 50",
                   {gypsum, inner(mm(50)), air,
                    b.framed("stone wool batt", mm(200), "45x195", mm(45), mm(195), mm(600)),
                    b.solid("osb", osb), wrap, b.solid("stone wool board", mm(50)), b.cavity(mm(25), mm(600)),
                    b.solid("spruce siding", mm(21))}),
    };
    for (int i = 6; i < walls; ++i) {
        auto more = all.back();
        more.name = "w" + std::to_string(i + 1);
        more.title = "A longer title, as a person might write it, number " + std::to_string(i + 1);
        more.layers[6].thickness += mm(25);
        all.push_back(std::move(more));
    }
    assembly::Ladder wall{.part = assembly::Part::wall};
    for (int i = 0; i < walls; ++i) {
        wall.rungs.push_back(h.assemblies.size());
        h.assemblies.push_back(all[static_cast<std::size_t>(i)]);
    }
    h.ladders.push_back(wall);
    auto truss = b.framed("stone wool batt", mm(450), "truss", mm(38), mm(450), bay);
    truss.framing->kind = Framing::Kind::truss;
    truss.framing->flange_depth = mm(89);
    auto joist = b.framed("stone wool batt", mm(302), "I-joist", mm(64), mm(302), inch(16));
    joist.framing->kind = Framing::Kind::i_joist;
    joist.framing->flange_depth = mm(38);
    joist.framing->web_thickness = mm(10);
    auto old_board = b.solid("osb", osb);
    old_board.existing = true;
    assembly::Ladder roof{.part = assembly::Part::roof};
    for (auto& a : {b.assembly("r1", "I-joist roof on old boards",
                               {gypsum, air, joist, old_board, b.cavity(mm(50), inch(16)),
                                b.solid("osb", osb), b.solid("roofing", mm(3))},
                               assembly::Part::roof),
                    b.assembly("r2", "Half a metre of wool",
                               {gypsum, inner(mm(50)), air, truss, b.cavity(mm(50), bay), b.solid("osb", osb),
                                b.solid("roofing", mm(3))},
                               assembly::Part::roof)}) {
        roof.rungs.push_back(h.assemblies.size());
        h.assemblies.push_back(a);
    }
    h.ladders.push_back(roof);
    return h;
}

}  // namespace warmside::made_up
