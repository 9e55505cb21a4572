#include "takeoff/labour.h"

#include <algorithm>
#include <map>
#include <set>

#include "takeoff/areas.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {
namespace {

using assembly::Assembly;
using assembly::Layer;
using framing::Member;
using framing::Panel;
using framing::Role;

/// The operation that sets a member; empty: set with another one.
std::string_view operation_of(Role role) {
    switch (role) {
        case Role::bottom_plate:
        case Role::top_plate: return "plates";
        case Role::stud:
        case Role::king:
        case Role::jack:
        case Role::corner:
        case Role::cripple_above:
        case Role::cripple_below: return "studs";
        case Role::header:
        case Role::sill: return "headers and sills";
        case Role::header_filler:
        case Role::backing:
        case Role::blocking:
        case Role::fire_block: return "blocking";
        case Role::furring: return "furring";
        case Role::batten: return "battens";
        case Role::buck: return "";  // by opening
        case Role::rim: return "rim";
        case Role::joist: return "joists";
        case Role::bearing_beam:
        case Role::ridge:
        case Role::hip:
        case Role::valley: return "beams";
        case Role::rafter:
        case Role::ceiling_joist:
        case Role::lookout: return "rafters";
        case Role::truss: return "trusses";
    }
    return "";
}

std::string_view unit_of(std::string_view operation) {
    for (const Operation& each : operations()) {
        if (each.key == operation) return each.unit;
    }
    return "";
}

bool is_family(const Layer& layer, std::string_view family) {
    return layer.material && layer.material->family == family;
}

/// What is done to a layer of a wall, a ceiling or a roof; empty: nothing of its own.
std::string_view operation_of(const Assembly& a, std::size_t i) {
    const Layer& layer = a.layers[i];
    if (layer.existing) return "";
    if (layer.kind == Layer::Kind::air) return "";
    if (layer.kind == Layer::Kind::membrane) return layer.airtight || !layer.water ? "membrane" : "housewrap";
    if (!layer.material) return "";
    if (layer.material->is_insulation) {
        if (is_family(layer, "loose fill")) return "loose fill";
        return layer.framing || is_family(layer, "batt") ? "batts" : "insulation boards";
    }
    if (i == 0) return "interior finish";
    if (layer.framing) return "";  // a wall of solid members
    if (i == a.datum()) return a.part == assembly::Part::roof ? "roof deck" : "sheathing";
    if (i > a.datum())
        return a.part == assembly::Part::wall && i + 1 == a.layers.size() ? "cladding" : "sheathing";
    return "sheathing";
}

class Counter {
public:
    explicit Counter(const assembly::House& house) : house_(house) {}

    void panel(const Panel& panel) {
        std::set<int> in_openings, bucks;
        for (const Member& member : panel.members) {
            if (member.opening >= 0) (member.role == Role::buck ? bucks : in_openings).insert(member.opening);
            count(member);
        }
        in_openings.insert(bucks.begin(), bucks.end());
        add("openings", static_cast<double>(in_openings.size()));
        add("bucks", static_cast<double>(bucks.size()));
        for (const framing::Seam& seam : panel.seams) add("tape", seam.length.metres());
        const Assembly* a = house_.find(panel.assembly);
        for (const framing::WallBox& box : panel.boxes) {
            if (!is_new(a, box)) continue;
            add("boxes", 1.0);
            if (box.pierces_airtight) add("box covers", 1.0);
        }
        if (a) {
            layers(panel, *a);
        } else if (panel.kind == Panel::Kind::floor) {
            add("subfloor", layer_area(house_, panel, -1));
        }
    }

    [[nodiscard]] std::vector<Work> all() const {
        std::vector<Work> out;
        for (const Operation& each : operations()) {
            const auto at = sums_.find(each.key);
            if (at == sums_.end() || !(at->second > 0.0)) continue;
            out.push_back(
                {std::string(each.key), std::string(each.words), at->second, std::string(each.unit)});
        }
        return out;
    }

private:
    void add(std::string_view operation, double quantity) { sums_[operation] += quantity; }

    void count(const Member& member) {
        const auto operation = operation_of(member.role);
        if (operation.empty()) return;
        add(operation, unit_of(operation) == "piece" ? 1.0 : member.length.metres());
    }

    void layers(const Panel& panel, const Assembly& a) {
        for (std::size_t i = 0; i < a.layers.size(); ++i) {
            const auto operation = operation_of(a, i);
            const Layer& layer = a.layers[i];
            const double area = layer_area(house_, panel, static_cast<int>(i));
            if (layer.fasteners && !layer.existing) add("long screws", layer.fasteners->per_area * area);
            if (operation.empty()) continue;
            add(operation, unit_of(operation) == "m3" ? area * layer.thickness.metres() : area);
        }
    }

    const assembly::House& house_;
    std::map<std::string_view, double> sums_;
};

}  // namespace

const std::vector<Operation>& operations() {
    static const std::vector<Operation> all{
        {"joists", "set joists", "piece"},
        {"rim", "set rim boards", "m"},
        {"beams", "set beams, ridges and hips", "m"},
        {"subfloor", "lay the subfloor", "m2"},
        {"plates", "mark and lay plates", "m"},
        {"studs", "cut and set studs, kings, jacks, corners and cripples", "piece"},
        {"headers and sills", "cut and set headers and sills", "piece"},
        {"blocking", "cut and set blocks and backing", "piece"},
        {"trusses", "set trusses", "piece"},
        {"rafters", "cut and set rafters, ceiling joists and lookouts", "piece"},
        {"roof deck", "lay the roof deck", "m2"},
        {"sheathing", "nail sheathing", "m2"},
        {"housewrap", "hang the housewrap", "m2"},
        {"bucks", "build and set bucks", "piece"},
        {"openings", "flash and seal rough openings", "piece"},
        {"insulation boards", "lay insulation boards outside", "m2"},
        {"battens", "cut and fasten battens", "m"},
        {"long screws", "drive long screws into studs", "piece"},
        {"cladding", "nail cladding", "m2"},
        {"batts", "cut and fit batts", "m2"},
        {"loose fill", "blow loose fill", "m3"},
        {"membrane", "hang the inner membrane", "m2"},
        {"tape", "tape and seal seams", "m"},
        {"furring", "cut and fasten inner furring", "m"},
        {"boxes", "nail up electrical boxes", "piece"},
        {"box covers", "seal covers of boxes to the sheet", "piece"},
        {"interior finish", "hang and finish gypsum board", "m2"},
        {"jamb extensions", "fit jamb extensions", "m2"},
        {"window stools", "fit window stools", "m2"},
        {"outer sills", "fit outer sills and jamb trim", "m2"},
    };
    return all;
}

std::vector<Work> work_of(const assembly::House& house, const framing::Frame& frame) {
    Counter counter(house);
    for (const Panel& panel : frame.panels) counter.panel(panel);
    return counter.all();
}

}  // namespace warmside::takeoff
