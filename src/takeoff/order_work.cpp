#include "takeoff/order_work.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace warmside::takeoff {

const Package* package_of(const Packages& rules, const material::Material& material) {
    if (const auto by_name = rules.materials.find(material.name); by_name != rules.materials.end())
        return &by_name->second;
    const auto by_family = rules.families.find(material.family);
    return by_family == rules.families.end() ? nullptr : &by_family->second;
}

const assembly::Assembly* assembly_of(const OrderWork& work, const framing::Panel& panel) {
    return panel.assembly.empty() ? nullptr : work.house.find(panel.assembly);
}

std::string size_text(Exact length) {
    constexpr std::int64_t sixty_fourth = 3175, foot = 12 * 64 * sixty_fourth;
    if (length.count() > 8 * foot && length.count() % foot == 0)
        return fmt::format("{} ft", length.count() / foot);
    if (length.count() % sixty_fourth == 0) return units::inches(length.metres(), 64);
    // A size that came through decimal text, 0.01826 m of 23/32 in, is neither whole in 64ths nor in half mm.
    constexpr std::int64_t half_mm = 4000, slack = 160;
    const std::int64_t nearest = (length.count() + sixty_fourth / 2) / sixty_fourth * sixty_fourth;
    if (length.count() % half_mm != 0 && std::abs(nearest - length.count()) <= slack)
        return units::inches(Exact::eighths_of_micrometre(nearest).metres(), 64);
    const double mm = length.metres() * 1e3;
    return fmt::format("{:g} mm", std::round(mm * 100.0) / 100.0);
}

void add_item(OrderWork& work, Item item, double size) {
    if (!(item.net > 0.0)) return;
    item.gross = item.net * (1.0 + item.waste);
    // Less a little, so that what fills its packages is not rounded up to one more.
    if (size > 0.0) item.count = std::ceil(item.gross / size - 1e-9);
    work.out.items.push_back(std::move(item));
}

}  // namespace warmside::takeoff
