#include "framing/wall_headers.h"

#include <algorithm>

namespace warmside::framing {

HeaderWish header_wish(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    const assembly::Details& details = bench.house.details;
    HeaderWish wish{.height = Exact::nearest(details.header.value)};
    const auto most = static_cast<int>(plan.depth.size().count() / plan.plate_thickness.count());
    wish.plies = std::clamp(details.header_plies.value, 1, std::max(most, 1));
    wish.jacks = std::max(details.jamb_studs.value - 1, 0);
    wish.dropped = plan.stud_high - wish.height - rough.head > wish.height;
    return wish;
}

}  // namespace warmside::framing
