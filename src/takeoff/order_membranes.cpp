// Membranes: the placed runs as strips cut along rolls; layers without runs by area.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <map>

#include "takeoff/areas.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using assembly::Layer;
using framing::Panel;

/// A strip as it is rolled out.
struct Strip {
    Exact length, width;
};
struct Sheeting {
    double area = 0.0;  ///< m2 covered
    std::vector<Strip> strips;
    double loose = 0.0;             ///< m2 of layers without placed runs
    std::set<std::string> loosely;  ///< panels of those
};

const Package* row_of(const OrderWork& work, const std::string& membrane) {
    const auto found = work.rules.membranes.find(membrane);
    return found == work.rules.membranes.end() ? nullptr : &found->second;
}

void add_layer(const OrderWork& work, const Panel& panel, const Layer& layer, int index,
               std::map<std::string, Sheeting>& all) {
    const Package* package = row_of(work, layer.membrane->name);
    if (package && package->form != Form::roll) return;
    Sheeting& sheeting = all[layer.membrane->name];
    const double area = layer_area(work.house, panel, index);
    sheeting.area += area;
    bool placed = false;
    for (const auto& run : panel.runs) {
        if (run.layer != index) continue;
        placed = true;
        sheeting.strips.push_back({run.box.size(0), run.box.size(1)});
    }
    if (placed) return;
    sheeting.loose += area;
    sheeting.loosely.insert(panel.name);
}

/// A strip longer than the roll goes on from the next one, lapped.
std::vector<Strip> within_rolls(const std::vector<Strip>& strips, Exact roll, Exact lap) {
    std::vector<Strip> out;
    for (Strip strip : strips) {
        for (; strip.length > roll && roll > lap; strip.length = strip.length - roll + lap)
            out.push_back({roll, strip.width});
        if (strip.length > Exact{}) out.push_back(strip);
    }
    return out;
}

/// Strips that lie side by side in the roll's width are cut together: lengths to be cut off rolls.
std::vector<Exact> side_by_side(std::vector<Strip> strips, Exact width) {
    std::sort(strips.begin(), strips.end(), [](const Strip& a, const Strip& b) {
        return a.length != b.length ? a.length > b.length : a.width > b.width;
    });
    std::vector<Exact> lengths, rooms;
    for (const Strip& strip : strips) {
        const auto row =
            std::find_if(rooms.begin(), rooms.end(), [&](Exact room) { return room >= strip.width; });
        if (row != rooms.end()) {
            *row = *row - strip.width;
            continue;
        }
        lengths.push_back(strip.length);
        rooms.push_back(std::max(Exact{}, width - strip.width));
    }
    return lengths;
}

/// What comes off rolls: m of it, and the rolls that a plan of cuts along them needs.
struct Rolled {
    double length = 0.0;
    double rolls = 0.0;
    double least = 0.0;  ///< no plan needs fewer
};

Result<Rolled> along_rolls(const OrderWork& work, const std::string& name, const std::vector<Exact>& lengths,
                           Exact roll) {
    std::vector<Piece> pieces;
    Rolled out;
    for (const Exact length : lengths) {
        pieces.push_back({length, 1, {}});
        out.length += length.metres();
    }
    const auto plan = cut_plan(name, std::move(pieces), {{roll, 1.0, -1}}, Exact{}, work.control);
    if (!plan) return fail(plan.error());
    for (const Pattern& pattern : plan->patterns) out.rolls += pattern.times;
    out.least = std::ceil(plan->bound - 1e-6);
    return out;
}

Result<void> order_one(OrderWork& work, const std::string& name, const Sheeting& sheeting) {
    const Package* package = row_of(work, name);
    const auto& practice = work.house.practice;
    const bool own_roll = package && !package->sizes.empty() && sheeting.strips.empty();
    const Exact width = own_roll ? package->sizes.front().width : practice.roll_width.value;
    const Exact length = own_roll ? package->sizes.front().length : practice.roll_length.value;
    const Sourced<double>& damage = package ? package->waste : work.rules.roll_waste;
    const double a_roll = width.metres() * length.metres();
    double bought = 0.0, rolls = 0.0;
    std::vector<std::string> why;
    if (!sheeting.strips.empty()) {
        const auto strips = within_rolls(sheeting.strips, length, practice.lap.value);
        const auto rolled = along_rolls(work, name, side_by_side(strips, width), length);
        if (!rolled) return fail(rolled.error());
        bought += rolled->length * width.metres();
        rolls += rolled->rolls;
        why.push_back(
            fmt::format("{} strips with laps and openings, {:.1f} m off {:.0f} rolls ({:.0f} at least)",
                        strips.size(), rolled->length, rolled->rolls, rolled->least));
    }
    if (sheeting.loose > 0.0) {
        bought += sheeting.loose * (1.0 + work.rules.roll_laps.value);
        why.push_back(fmt::format("{:.1f} m2 by area, laps {:g} %", sheeting.loose,
                                  100.0 * work.rules.roll_laps.value));
        if (!sheeting.strips.empty())
            work.out.notes.push_back(fmt::format("{}: no runs are placed in {}; there it is counted by area",
                                                 name, fmt::join(sheeting.loosely, ", ")));
    }
    why.push_back(fmt::format("{:g} % added, {}", 100.0 * damage.value, damage.origin.source));
    Item item{.kind = "membrane",
              .name = name,
              .price_key = name,
              .net = sheeting.area,
              .waste_source = fmt::format("{}", fmt::join(why, "; ")),
              .gross = bought * (1.0 + damage.value),
              .unit = "m2",
              .package = fmt::format("roll {} x {}", size_text(width), size_text(length)),
              .origin = own_roll ? package->size_origin : practice.roll_width.origin};
    if (!(item.net > 0.0)) return {};
    item.waste = std::max(0.0, item.gross / item.net - 1.0);
    item.count = std::max(rolls, std::ceil(item.gross / a_roll - 1e-9));
    work.out.items.push_back(std::move(item));
    return {};
}

}  // namespace

Result<void> order_membranes(OrderWork& work) {
    std::map<std::string, Sheeting> all;
    for (const Panel& panel : work.frame.panels) {
        const assembly::Assembly* assembly = assembly_of(work, panel);
        for (std::size_t i = 0; assembly && i < assembly->layers.size(); ++i) {
            const Layer& layer = assembly->layers[i];
            if (!layer.existing && layer.kind == Layer::Kind::membrane)
                add_layer(work, panel, layer, static_cast<int>(i), all);
        }
    }
    for (const auto& [name, sheeting] : all)
        if (auto done = order_one(work, name, sheeting); !done) return done;
    return {};
}

}  // namespace warmside::takeoff
