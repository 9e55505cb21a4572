// Tape, sealant and gaskets by the metre; nails and screws by rule.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

#include "assembly/duty.h"
#include "takeoff/areas.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using assembly::Layer;
using framing::Member;
using framing::Panel;
using framing::Role;
using framing::Seam;

void add_linear(OrderWork& work, const char* kind, const char* name, double length, const LinearRule& rule,
                const char* package) {
    Item item{.kind = kind,
              .name = name,
              .price_key = name,
              .net = length,
              .waste = rule.waste.value,
              .waste_source = rule.waste.origin.source,
              .unit = "m",
              .package = fmt::format("{} of {:g} m", package, rule.package.value),
              .origin = rule.package.origin};
    add_item(work, std::move(item), rule.package.value);
}

/// Panels of the storey whose floor lies lowest.
bool on_foundation(const OrderWork& work, const Panel& panel) {
    const auto lowest = std::min_element(work.house.storeys.begin(), work.house.storeys.end(),
                                         [](const auto& a, const auto& b) { return a.floor < b.floor; });
    return panel.kind == Panel::Kind::wall && lowest != work.house.storeys.end() &&
           panel.storey == lowest->name;
}

/// How many fasteners of each kind.
class Count {
public:
    explicit Count(const OrderWork& work) : work_(work), rule_(work.rules.fasteners) {}

    void panel(const Panel& panel) {
        for (const Member& member : panel.members) nail(panel, member);
        for (const auto& joint : panel.plate_joints) tie(joint);
        const assembly::Assembly* assembly = assembly_of(work_, panel);
        for (const auto& sheet : panel.sheets) fix_sheet(panel, assembly, sheet);
        for (std::size_t i = 0; assembly && i < assembly->layers.size(); ++i) layer(panel, *assembly, i);
    }
    [[nodiscard]] const std::map<std::string, double>& pieces() const { return pieces_; }

private:
    static double along(double length, double spacing) { return std::ceil(length / spacing - 1e-9) + 1.0; }

    void nail(const Panel& panel, const Member& member) {
        const double length = member.length.metres();
        switch (member.role) {
            case Role::jack: framing(rule_.jack); [[fallthrough]];
            case Role::stud:
            case Role::king:
            case Role::cripple_above:
            case Role::cripple_below:
            case Role::corner:
            case Role::backing: framing(2 * rule_.stud_end); break;
            case Role::top_plate:
            case Role::bottom_plate:
            case Role::rim: framing(along(length, rule_.plate_spacing)); break;
            case Role::header:
            case Role::header_filler:
            case Role::bearing_beam:
            case Role::ridge: framing(2 * along(length, rule_.header_spacing)); break;
            case Role::sill:
            case Role::blocking:
            case Role::fire_block:
            case Role::lookout: framing(2 * rule_.block_end); break;
            case Role::joist:
            case Role::rafter:
            case Role::hip:
            case Role::valley:
            case Role::ceiling_joist:
            case Role::truss: framing(2 * rule_.joist_end); break;
            case Role::furring: pieces_["furring screws"] += along(length, stud_spacing(panel)); break;
            case Role::batten:
                if (!through_insulation(panel))
                    pieces_["batten screws"] += along(length, rule_.batten_spacing.value);
                break;
            case Role::buck: pieces_["sheathing nails"] += 2 * along(length, rule_.sheathing_field); break;
        }
    }
    void tie(const framing::PlateJoint& joint) {
        if (!joint.steel) return framing(2 * joint.nails);
        pieces_[fmt::format("splice plate 3 x {:.0f} in", joint.length.metres() / 0.0254)] += 1.0;
        pieces_["splice plate nails"] += 2 * joint.nails;
    }
    void framing(double count) { pieces_["framing nails"] += count; }

    [[nodiscard]] double stud_spacing(const Panel& panel) const {
        const assembly::Assembly* assembly = assembly_of(work_, panel);
        const auto structure = assembly ? assembly::bearing_layer(*assembly) : std::nullopt;
        return structure ? assembly->layers[*structure].framing->spacing.metres()
                         : work_.house.practice.joist_spacing.value.metres();
    }
    [[nodiscard]] bool through_insulation(const Panel& panel) const {
        const assembly::Assembly* assembly = assembly_of(work_, panel);
        return assembly && std::any_of(assembly->layers.begin(), assembly->layers.end(),
                                       [](const Layer& layer) { return layer.fasteners.has_value(); });
    }
    void fix_sheet(const Panel& panel, const assembly::Assembly* assembly, const framing::Sheet& sheet) {
        const double width = sheet.box.size(0).metres(), height = sheet.box.size(1).metres();
        const double spacing = stud_spacing(panel);
        const double field_rows = std::max(0.0, std::ceil(width / spacing - 1e-9) - 1.0);
        const Layer* layer =
            assembly && sheet.layer >= 0 && sheet.layer < static_cast<int>(assembly->layers.size())
                ? &assembly->layers[static_cast<std::size_t>(sheet.layer)]
                : nullptr;
        const Package* package =
            layer && layer->material ? package_of(work_.rules, *layer->material) : nullptr;
        if (layer && (layer->existing || !package || package->form != Form::sheet)) return;
        if (layer && layer->material->name == "gypsum board") {
            pieces_["drywall screws"] += (field_rows + 2.0) * along(height, rule_.drywall_spacing.value);
            return;
        }
        pieces_["sheathing nails"] += std::ceil(2.0 * (width + height) / rule_.sheathing_edge) +
                                      field_rows * along(height, rule_.sheathing_field);
    }
    void layer(const Panel& panel, const assembly::Assembly& assembly, std::size_t i) {
        const Layer& layer = assembly.layers[i];
        if (layer.existing) return;
        const double area = layer_area(work_.house, panel, static_cast<int>(i));
        if (layer.fasteners) {
            pieces_[long_screw(assembly, i)] += std::ceil(area * layer.fasteners->per_area);
        }
        if (layer.kind == Layer::Kind::membrane)
            pieces_["staples"] += std::ceil(area * rule_.staple_per_area.value);
        if (!layer.material) return;
        const Package* package = package_of(work_.rules, *layer.material);
        if (!package) return;
        if (package->form == Form::siding)
            pieces_["siding nails"] += std::ceil(area * rule_.siding_per_area.value);
        const bool loose = package->form == Form::sheet && placed_area(panel, static_cast<int>(i)) <= 0.0;
        if (!loose) return;
        const bool gypsum = layer.material->name == "gypsum board";
        const double spacing = gypsum ? rule_.drywall_spacing.value : rule_.sheathing_field;
        pieces_[gypsum ? "drywall screws" : "sheathing nails"] +=
            std::ceil(area / (stud_spacing(panel) * spacing));
    }
    /// Through batten, insulation and sheathing into the studs; the next length sold.
    [[nodiscard]] std::string long_screw(const assembly::Assembly& assembly, std::size_t insulation) const {
        const auto structure = assembly::bearing_layer(assembly);
        double needed = rule_.penetration.value;
        for (std::size_t i = structure ? *structure + 1 : insulation; i < assembly.layers.size(); ++i) {
            const Layer& layer = assembly.layers[i];
            const bool batten = layer.kind == Layer::Kind::air && layer.framing;
            if (i > insulation && !batten) break;
            needed += batten ? layer.framing->depth.metres() : layer.thickness.metres();
            if (batten) break;
        }
        for (const Exact length : rule_.lengths)
            if (length.metres() >= needed - 1e-9) return fmt::format("{} {}", long_screws, size_text(length));
        return fmt::format("{} over {}", long_screws, size_text(rule_.lengths.back()));
    }

    const OrderWork& work_;
    const FastenerRule& rule_;
    std::map<std::string, double> pieces_;
};

const Origin& origin_of(const FastenerRule& rule, const std::string& name) {
    if (name == "sheathing nails") return rule.sheathing_origin;
    if (name == "drywall screws") return rule.drywall_spacing.origin;
    if (name == "siding nails") return rule.siding_per_area.origin;
    if (name == "batten screws") return rule.batten_spacing.origin;
    if (name == "furring screws") return rule.furring_origin;
    if (name.starts_with("splice plate")) return rule.splice_origin;
    if (name == "staples") return rule.staple_per_area.origin;
    if (name.starts_with(long_screws)) return rule.penetration.origin;
    return rule.framing_origin;
}

}  // namespace

void order_joints(OrderWork& work) {
    double airtight = 0.0, water = 0.0, sealed = 0.0, gasket = 0.0;
    for (const Panel& panel : work.frame.panels) {
        const assembly::Assembly* assembly = assembly_of(work, panel);
        for (const Seam& seam : panel.seams) {
            const bool outer = assembly && seam.layer >= 0 &&
                               seam.layer < static_cast<int>(assembly->layers.size()) &&
                               assembly->layers[static_cast<std::size_t>(seam.layer)].water &&
                               !assembly->layers[static_cast<std::size_t>(seam.layer)].airtight;
            double& sum = seam.kind == Seam::Kind::plate ? sealed : outer ? water : airtight;
            sum += seam.length.metres();
        }
        if (!on_foundation(work, panel)) continue;
        for (const Member& member : panel.members)
            if (member.role == Role::bottom_plate) gasket += member.length.metres();
    }
    add_linear(work, "tape", "membrane tape", airtight, work.rules.tape, "roll");
    add_linear(work, "tape", "housewrap tape", water, work.rules.tape, "roll");
    add_linear(work, "sealant", "sealant", sealed, work.rules.sealant, "cartridge");
    add_linear(work, "gasket", "sill gasket", gasket, work.rules.gasket, "roll");
}

void order_fasteners(OrderWork& work) {
    Count count(work);
    for (const Panel& panel : work.frame.panels) count.panel(panel);
    const FastenerRule& rule = work.rules.fasteners;
    for (const auto& [name, pieces] : count.pieces()) {
        Item item{.kind = "fastener",
                  .name = name,
                  .price_key = name,
                  .net = pieces,
                  .waste = rule.waste.value,
                  .waste_source = rule.waste.origin.source,
                  .unit = "piece",
                  .package = "piece",
                  .origin = origin_of(rule, name)};
        add_item(work, std::move(item), 1.0);
    }
}

}  // namespace warmside::takeoff
