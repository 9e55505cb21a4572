#include "framing/frame.h"

#include <iterator>

namespace warmside::framing {

Result<Frame> frame(const assembly::House& house, const assembly::Assembly& wall) {
    auto out = frame_walls(house, wall);
    if (!out) return out;
    const auto add = [&](Result<std::vector<Panel>> panels) -> Result<void> {
        if (!panels) return fail(panels.error());
        std::move(panels->begin(), panels->end(), std::back_inserter(out->panels));
        return {};
    };
    if (auto done = add(frame_floors(house, wall, out->notes, out->panels)); !done) return fail(done.error());
    if (auto done = add(frame_roofs(house, wall, out->notes)); !done) return fail(done.error());
    return out;
}

}  // namespace warmside::framing
