#include "framing/frame.h"

#include <iterator>

namespace warmside::framing {

Result<Frame> frame(const assembly::House& house, const assembly::Assembly& wall) {
    auto out = frame_walls(house, wall);
    if (!out) return out;
    for (auto* part : {&frame_floors, &frame_roofs}) {
        auto panels = part(house, wall, out->notes);
        if (!panels) return fail(panels.error());
        std::move(panels->begin(), panels->end(), std::back_inserter(out->panels));
    }
    return out;
}

}  // namespace warmside::framing
