// Lumber by section, grade and stock length, from cutting plans; trusses by the piece.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <set>

#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using framing::Member;
using framing::Role;

struct Group {
    std::string section, lumber;  // no lumber: the section tells all, "I-joist 9 1/2 in"
    friend auto operator<=>(const Group&, const Group&) = default;
    [[nodiscard]] std::string title() const {
        return lumber.empty() ? section : fmt::format("{} {}", section, lumber);
    }
};

/// Made of pieces, so in depths and lengths of its own.
bool engineered(const std::string& lumber) {
    return lumber == "I-joist" || lumber == "rim board" || lumber == "laminated veneer lumber";
}

/// Ordered whole.
bool is_truss(const Member& member) {
    return member.role == Role::truss || member.lumber == "truss";
}

/// "48x198" is in mm, "2x6" in inches.
bool is_metric(const std::string& section) {
    return std::isdigit(static_cast<unsigned char>(section.front())) != 0 && std::stoi(section) >= 10;
}

/// Members that may be joined end to end over a support; others have to come in one piece.
bool may_be_spliced(Role role) {
    switch (role) {
        case Role::bottom_plate:
        case Role::top_plate:
        case Role::furring:
        case Role::batten:
        case Role::rim:
        case Role::ridge:
        case Role::bearing_beam: return true;
        default: return false;
    }
}

void add_pieces(const Member& member, const std::string& panel, Exact longest, Exact least,
                std::vector<Piece>& pieces) {
    const std::string mark = fmt::format("{} ({})", member.mark, panel);
    Exact left = member.length;
    if (may_be_spliced(member.role) && longest > least * 2) {
        while (left > longest) {
            // The last part stays at least `least` long.
            const Exact part = left - longest < least ? left - least : longest;
            pieces.push_back({part, 1, mark});
            left = left - part;
        }
    }
    pieces.push_back({left, 1, mark});
}

/// Lengths a yard keeps of a section, and precut studs where one is nearly as long as a piece.
std::vector<Stock> stock_of(const LumberRule& rule, const Group& group, const std::vector<Piece>& pieces) {
    std::vector<Stock> out;
    const bool metric = is_metric(group.section);
    const auto& lengths = group.lumber.empty() ? rule.engineered_lengths
                          : metric             ? rule.metric_lengths
                                               : rule.inch_lengths;
    for (const Exact length : lengths) out.push_back({length});
    const auto& members = rule.precut_members;
    if (metric || std::find(members.begin(), members.end(), group.section) == members.end()) return out;
    const Exact near = Exact::sixty_fourths_of_inch(6 * 64);
    for (const Exact length : rule.precut) {
        const bool fits = std::any_of(pieces.begin(), pieces.end(), [&](const Piece& piece) {
            return piece.length <= length && length - piece.length <= near;
        });
        if (fits) out.push_back({length});
    }
    return out;
}

std::string stick_text(Exact length, bool metric) {
    if (metric) return fmt::format("{:.1f} m", length.metres());
    const Exact foot = Exact::sixty_fourths_of_inch(12 * 64);
    if (length.count() % foot.count() == 0) return fmt::format("{} ft", length.count() / foot.count());
    return size_text(length);
}

void add_sticks(OrderWork& work, const Group& group, const CutPlan& plan) {
    const LumberRule& rule = work.rules.lumber;
    const bool metric = is_metric(group.section);
    std::map<Exact, std::pair<int, double>> by_length;  // sticks, m built in
    for (const Pattern& pattern : plan.patterns) {
        auto& [count, built_in] = by_length[plan.stock[pattern.stock].length];
        count += pattern.times;
        for (std::size_t i = 0; i < pattern.cut.size(); ++i)
            built_in += pattern.times * pattern.cut[i] * plan.pieces[i].length.metres();
    }
    for (const auto& [length, entry] : by_length) {
        const auto& [sticks, built_in] = entry;
        Item item{.kind = "lumber",
                  .name = fmt::format("{}, {}", group.title(), stick_text(length, metric)),
                  .price_key = group.section,
                  .net = built_in,
                  .waste = rule.damage.value,
                  .waste_source = fmt::format("cutting plan, {:.3f} % from its proven least; {}",
                                              100.0 * plan.gap(), rule.damage.origin.source),
                  .unit = "m",
                  .package = fmt::format("piece of {:.3f} m", length.metres()),
                  .origin = metric ? rule.metric_origin : rule.inch_origin};
        item.count = sticks + std::round(rule.damage.value * sticks);
        item.gross = item.count * length.metres();
        work.out.items.push_back(std::move(item));
    }
}

// Sizes come through decimal text; yards do not tell half a millimetre.
constexpr double size_slack = 0.0005;
// What is thinner is a shim, not a stick.
constexpr double thinnest = 0.006;

/// The section of the yard that a member is sawn from: itself, else the smallest that holds it, else (nothing
/// is thick enough) the thickest that is wide enough, packed out; of the panel's own system of sizes where it
/// has one. Its own name where nothing is wide enough.
std::string sold_as(OrderWork& work, const framing::Section& section, bool metric,
                    std::set<std::string>& told) {
    if (work.house.catalogue.member(section.name)) return section.name;
    const double thickness = section.thickness.metres(), width = section.width.metres();
    const material::Lumber* best = nullptr;
    const auto better = [&](const material::Lumber& a, const material::Lumber& b) {
        const bool own_a = is_metric(a.name) == metric, own_b = is_metric(b.name) == metric;
        if (own_a != own_b) return own_a;
        const bool holds_a = a.thickness >= thickness - size_slack,
                   holds_b = b.thickness >= thickness - size_slack;
        if (holds_a != holds_b) return holds_a;
        if (!holds_a && a.thickness != b.thickness) return a.thickness > b.thickness;
        return a.thickness * a.depth < b.thickness * b.depth;
    };
    for (const auto& lumber : work.house.catalogue.lumber)
        if (lumber.depth >= width - size_slack && (!best || better(lumber, *best))) best = &lumber;
    if (!best) return section.name;
    const bool holds = best->thickness >= thickness - size_slack;
    const bool same = holds && std::abs(best->thickness - thickness) < size_slack &&
                      std::abs(best->depth - width) < size_slack;
    if (!same && told.insert(section.name).second)
        work.out.notes.push_back(fmt::format(
            "{} is {} {}", section.name, holds ? "ripped from" : "not sold: packed out from", best->name));
    return best->name;
}

/// "I-joist 9 1/2 in"; of rim board and laminated veneer lumber the next depth that is sold.
Group engineered_group(const LumberRule& rule, const Member& member) {
    Exact depth = member.section.width;
    if (member.lumber != "I-joist")
        for (const Exact sold : rule.engineered_depths)
            if (sold.metres() >= depth.metres() - size_slack) {
                depth = sold;
                break;
            }
    return {fmt::format("{} {}", member.lumber, size_text(depth)), ""};
}

/// What the panel's studs, joists or rafters are named by.
bool in_metric(const OrderWork& work, const framing::Panel& panel) {
    for (const Member& member : panel.members)
        if (work.house.catalogue.member(member.section.name)) return is_metric(member.section.name);
    return false;
}

void add_trusses(OrderWork& work) {
    std::map<std::pair<bool, Exact>, int> by_length;  // in a wall?
    for (const auto& panel : work.frame.panels)
        for (const Member& member : panel.members)
            if (is_truss(member)) ++by_length[{member.role != Role::truss, member.length}];
    for (const auto& [key, count] : by_length) {
        const auto& [in_wall, length] = key;
        const std::string size = units::feet_inches(length.metres());
        Item item{
            .kind = "truss",
            .name = fmt::format("{}", in_wall ? "wall truss, " + size : "roof truss, " + size + " span"),
            .price_key = in_wall ? "wall truss" : "truss",
            .net = count * length.metres(),
            .waste = 0.0,
            .waste_source = "ordered by the piece from the maker's drawing",
            .gross = count * length.metres(),
            .unit = "m",
            .count = static_cast<double>(count),
            .package = fmt::format("piece of {:.3f} m", length.metres())};
        item.origin.kind = Origin::Kind::computed;
        work.out.items.push_back(std::move(item));
    }
}

}  // namespace

Result<void> order_lumber(OrderWork& work) {
    const LumberRule& rule = work.rules.lumber;
    std::map<Group, std::vector<Piece>> groups;
    std::set<std::string> told;
    bool shims = false;
    for (const auto& panel : work.frame.panels) {
        const bool metric = in_metric(work, panel);
        for (const Member& member : panel.members) {
            if (is_truss(member) || from_sheets(member)) continue;
            if (member.section.thickness.metres() < thinnest) {
                shims = true;
                continue;
            }
            const bool made = engineered(member.lumber);
            const Group group = made ? engineered_group(rule, member)
                                     : Group{sold_as(work, member.section, metric, told), member.lumber};
            const auto& lengths = made                       ? rule.engineered_lengths
                                  : is_metric(group.section) ? rule.metric_lengths
                                                             : rule.inch_lengths;
            add_pieces(member, panel.name, lengths.back(), rule.splice_least, groups[group]);
        }
    }
    if (shims) work.out.notes.emplace_back("members thinner than 6 mm are shims, not in the order");
    for (auto& [group, pieces] : groups) {
        auto stock = stock_of(rule, group, pieces);
        auto plan = cut_plan(group.title(), std::move(pieces), std::move(stock), rule.kerf, work.control);
        if (!plan) return fail(std::move(plan).error());
        add_sticks(work, group, *plan);
        work.out.lumber.push_back(std::move(*plan));
    }
    add_trusses(work);
    return {};
}

}  // namespace warmside::takeoff
