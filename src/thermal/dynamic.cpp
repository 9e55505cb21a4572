#include "thermal/dynamic.h"

#include <fmt/format.h>

namespace warmside::thermal {

Result<conduction::Periodic> dynamic(const assembly::Assembly& assembly, const States& states,
                                     double period) {
    std::vector<conduction::PlaneLayer> layers;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const assembly::Layer& layer = assembly.layers[i];
        const double resistance = states.layers[i].resistance();
        if (resistance <= 0.0) continue;
        conduction::PlaneLayer plane{.thickness = layer.thickness.metres()};
        plane.conductivity = plane.thickness / resistance;
        if (layer.kind == assembly::Layer::Kind::material) {
            plane.density = layer.material->density;
            plane.specific_heat = layer.material->specific_heat;
            if (plane.density <= 0.0 || plane.specific_heat <= 0.0) {
                return fail(Code::out_of_range,
                            fmt::format("\"{}\" has no density or specific heat", layer.material->name),
                            layer.origin.where);
            }
        }
        layers.push_back(plane);
    }
    return conduction::periodic(layers, states.films.inside, states.films.outside, period);
}

}  // namespace warmside::thermal
