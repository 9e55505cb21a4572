// Sheet materials: those placed by the framing through a plan of cuts, the rest by area.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <optional>

#include "takeoff/areas.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using framing::Member;
using framing::Panel;
using framing::Role;

struct Group {
    std::string material;
    Exact thickness;
    friend auto operator<=>(const Group&, const Group&) = default;
    [[nodiscard]] std::string key() const { return fmt::format("{} {}", material, size_text(thickness)); }
};
struct Cuts {
    std::vector<Rectangle> pieces;
    double net = 0.0;    ///< m2 built in from them
    double loose = 0.0;  ///< m2 of layers where no sheets are placed
    const Package* package = nullptr;
};

/// Gypsum has no strong side; panels keep theirs.
bool may_turn(const std::string& material) {
    return material.starts_with("gypsum");
}

void add_placed(const OrderWork& work, const Panel& panel, std::map<Group, Cuts>& groups) {
    const assembly::Assembly* assembly = assembly_of(work, panel);
    for (const auto& sheet : panel.sheets) {
        Group group{"osb", sheet.box.size(2)};  // deck of a floor or roof that no assembly describes
        if (assembly && sheet.layer >= 0 && sheet.layer < static_cast<int>(assembly->layers.size())) {
            const auto& layer = assembly->layers[static_cast<std::size_t>(sheet.layer)];
            const Package* package = layer.material ? package_of(work.rules, *layer.material) : nullptr;
            if (layer.existing || !package || package->form != Form::sheet) continue;  // boards go by volume
            group = {layer.material->name, layer.thickness};
            groups[group].package = package;
        }
        Cuts& cuts = groups[group];
        Exact width = sheet.box.size(0), height = sheet.box.size(1);
        if (!sheet.long_side_up) std::swap(width, height);
        if (width <= Exact{} || height <= Exact{}) continue;
        cuts.pieces.push_back({width, height, 1, may_turn(group.material), panel.name});
        cuts.net += framing::area_of(sheet);
    }
}

/// Layers of sheets in which the framing placed none.
void add_loose(OrderWork& work, const Panel& panel, std::map<Group, Cuts>& groups) {
    const assembly::Assembly* assembly = assembly_of(work, panel);
    if (!assembly) return;
    for (std::size_t i = 0; i < assembly->layers.size(); ++i) {
        const auto& layer = assembly->layers[i];
        if (layer.existing || !layer.material || layer.kind != assembly::Layer::Kind::material) continue;
        const Package* package = package_of(work.rules, *layer.material);
        if (!package || package->form != Form::sheet || placed_area(panel, static_cast<int>(i)) > 0.0)
            continue;
        Cuts& cuts = groups[{layer.material->name, layer.thickness}];
        cuts.package = package;
        cuts.loose += layer_area(work.house, panel, static_cast<int>(i));
    }
}

/// Thicker than a sheet comes: so many layers of it.
constexpr Exact thickest_sheet = Exact::sixty_fourths_of_inch(48);

/// Bucks, plates and stops of plywood; what is longer than a sheet is joined.
void add_plywood(OrderWork& work, const Panel& panel, std::map<Group, Cuts>& groups) {
    const Exact longest = work.house.practice.sheet_length.value;
    if (longest <= Exact{}) return;
    for (const Member& member : panel.members) {
        if (!from_sheets(member)) continue;
        const std::int64_t whole = member.section.thickness.count(), most = thickest_sheet.count();
        // Sizes that came through decimal text are a little off.
        constexpr std::int64_t slack = 160;
        const std::int64_t plies = std::max<std::int64_t>(1, (whole - slack + most - 1) / most);
        const Exact thickness = Exact::eighths_of_micrometre(whole / plies);
        Cuts& cuts = groups[{member.lumber, thickness}];
        const int count = static_cast<int>(plies);
        for (Exact left = member.length; left > Exact{}; left = left - longest)
            cuts.pieces.push_back({member.section.width, std::min(left, longest), count, false, member.mark});
        cuts.net += count * member.section.width.metres() * member.length.metres();
        if (plies > 1)
            work.out.notes.push_back(fmt::format("plates of {} are {} layers of plywood, {} each",
                                                 size_text(member.section.thickness), plies,
                                                 size_text(thickness)));
    }
}

/// Of the sizes that hold all pieces the one with the least to buy.
Result<SheetPlan> best_plan(const OrderWork& work, const Group& group, const Cuts& cuts) {
    std::vector<PackageSize> sizes;
    if (cuts.package) sizes = cuts.package->sizes;
    const auto& practice = work.house.practice;
    sizes.push_back({practice.sheet_width.value, practice.sheet_length.value});
    std::optional<SheetPlan> best;
    std::optional<Problem> trouble;
    const auto bought = [](const SheetPlan& plan) {
        return static_cast<double>(plan.sheets) * plan.sheet_width.metres() * plan.sheet_height.metres();
    };
    for (const PackageSize& size : sizes) {
        auto plan = sheet_plan(group.key(), cuts.pieces, size.width, size.length, work.rules.lumber.kerf,
                               work.control);
        if (!plan) {
            trouble = std::move(plan).error();
            if (trouble->code == Code::stopped) break;
            continue;
        }
        if (!best || bought(*plan) < bought(*best) * (1.0 - 1e-9)) best = std::move(*plan);
    }
    if (best) return std::move(*best);
    return fail(std::move(*trouble));
}

std::string sheet_name(Exact width, Exact length) {
    return fmt::format("sheet {} x {}", size_text(width), size_text(length));
}

Result<void> add_group(OrderWork& work, const Group& group, const Cuts& cuts) {
    const Package& package = *cuts.package;
    Item item{.kind = group.material.starts_with("gypsum board") ? "finish" : "sheet",
              .name = group.key(),
              .price_key = group.key(),
              .unit = "m2",
              .origin = package.size_origin};
    if (!cuts.pieces.empty()) {
        auto plan = best_plan(work, group, cuts);
        if (!plan) return fail(std::move(plan).error());
        const double each = plan->sheet_width.metres() * plan->sheet_height.metres();
        Item placed = item;
        placed.net = cuts.net;
        placed.waste = package.waste.value;
        placed.waste_source = fmt::format("sheet plan, {} sheets ({:.0f} at least); {}", plan->sheets,
                                          plan->bound, package.waste.origin.source);
        placed.package = sheet_name(plan->sheet_width, plan->sheet_height);
        placed.count = std::ceil(static_cast<double>(plan->sheets) * (1.0 + package.waste.value) - 1e-9);
        placed.gross = placed.count * each;
        work.out.items.push_back(std::move(placed));
        work.out.sheets.push_back(std::move(*plan));
    }
    if (cuts.loose > 0.0) {
        const auto& practice = work.house.practice;
        item.net = cuts.loose;
        item.waste = package.waste_by_area.value;
        item.waste_source = package.waste_by_area.origin.source;
        item.package = sheet_name(practice.sheet_width.value, practice.sheet_length.value);
        add_item(work, std::move(item),
                 practice.sheet_width.value.metres() * practice.sheet_length.value.metres());
    }
    return {};
}

}  // namespace

bool from_sheets(const framing::Member& member) {
    return member.lumber == "plywood";
}

Result<void> order_sheets(OrderWork& work) {
    std::map<Group, Cuts> groups;
    for (const Panel& panel : work.frame.panels) {
        add_placed(work, panel, groups);
        add_loose(work, panel, groups);
        add_plywood(work, panel, groups);
    }
    for (auto& [group, cuts] : groups) {
        const auto found = work.rules.materials.find(group.material);
        const auto panel = work.rules.families.find("panel");
        if (!cuts.package)
            cuts.package = found != work.rules.materials.end() ? &found->second : &panel->second;
        if (auto done = add_group(work, group, cuts); !done) return done;
    }
    return {};
}

}  // namespace warmside::takeoff
