#include "models.h"

namespace warmside::fem {

namespace {

using conduction::Model;
using conduction::Region;

constexpr double wood = 0.12, wool = 0.035, gypsum = 0.25, osb = 0.13;

Region material(const char* name, double conductivity, conduction::Shape shape) {
    return {.name = name, .shape = std::move(shape), .conductivity = conductivity, .over = true};
}
Region air(const char* name, std::size_t environment, double film, conduction::Shape shape) {
    return {.name = name, .shape = std::move(shape), .environment = environment, .film = film, .over = true};
}

// x from..to, y from..to, m.
conduction::Shape flat(double x0, double x1, double y0, double y1) {
    return conduction::rectangle({x0, y0}, {x1, y1});
}

Model model_of(const char* name) {
    Model model;
    model.name = name;
    model.environments = {{"inside", 293.15}, {"outside", 273.15}};
    return model;
}

}  // namespace

Model stud_wall() {
    Model m = model_of("stud wall");
    m.regions = {
        air("inside", 0, 0.13, flat(0, 0.4, -0.05, 0)),
        material("gypsum board", gypsum, flat(0, 0.4, 0, 0.0125)),
        material("wool", wool, flat(0, 0.4, 0.0125, 0.1525)),
        material("stud", wood, flat(0.181, 0.219, 0.0125, 0.1525)),
        material("osb", osb, flat(0, 0.4, 0.1525, 0.1635)),
        air("outside", 1, 0.04, flat(0, 0.4, 0.1635, 0.2135)),
    };
    return m;
}

}  // namespace warmside::fem
