// Detail file to a conduction problem: one joint, bracket or edge drawn as rectangles and polygons.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/origin.h"
#include "base/result.h"
#include "conduction/model.h"

namespace warmside::project {

/// What a region is made of, for people and for drawings.
struct Substance {
    std::string words;  ///< "stone wool batt", "air of the room", "still air"
    std::string hatch;  ///< as in material::Material; empty for air
    Origin origin;      ///< of the conductivity
};

/// A point whose temperature is wanted.
struct Probe {
    std::string name;
    conduction::Point at;  ///< m
    Place where;
};

struct Detail {
    std::string name;
    bool inch_pound_first = true;
    double tolerance = 1e-3;        ///< relative, of the coupling coefficients
    double mean_temperature = 0.0;  ///< K at which catalogue conductivities are taken
    conduction::Model model;
    std::vector<Substance> substances;            ///< [region of the model]
    std::vector<std::optional<double>> humidity;  ///< [environment] relative, 0..1, where stated
    std::vector<Probe> probes;
    std::array<std::optional<std::pair<double, double>>, 3> window;  ///< m along x, y, z: what pictures show
};

struct DetailReading {
    std::unique_ptr<Detail> detail;  ///< null when there is an error
    Problems problems;               ///< errors, warnings and notes, in order of place
};

/// Reads a detail file (docs/detail.md). All problems at once; never throws, never stops at the first. The
/// model is checked as well (conduction::check): what overlaps, what is open, what no temperature touches.
[[nodiscard]] DetailReading read_detail(std::string_view file_name, std::string_view text);

}  // namespace warmside::project
