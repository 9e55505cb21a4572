// Geometry of houses: roofs over a rectangle.
#include <array>
#include <cmath>

#include "assembly/geometry.h"
#include "proof/operation.h"
#include "units/reader.h"

namespace warmside::proof {
namespace {

struct RoofGiven {
    double length = 0.0, span = 0.0, rise = 0.0, run = 0.0;  // m, m, and rise over run
};

Result<RoofGiven> roof_in(const Given& given) {
    Problems problems;
    units::TableReader reader(given, "given", problems);
    const units::Limits size{.least = 0.1, .most = 100.0};
    const auto length = reader.required(reader.quantity("length", units::length, size), "length");
    const auto span = reader.required(reader.quantity("span", units::length, size), "span");
    const units::Limits slope{.least = 0.001, .most = 100.0};
    const auto rise = reader.required(reader.quantity("rise", units::length, slope), "rise");
    const auto run = reader.required(reader.quantity("run", units::length, slope), "run");
    reader.finish();
    if (!length || !span || !rise || !run || !usable(problems)) return fail(problems.front());
    return RoofGiven{*length, *span, *rise, *run};
}

assembly::RoofArea over_rectangle(const RoofGiven& given, assembly::Roof::Form form) {
    using units::Exact;
    assembly::House house;
    const Exact x = Exact::nearest(given.length), y = Exact::nearest(given.span), zero;
    house.storeys.push_back({.name = "main",
                             .height = Exact::millimetres(2400),
                             .outline = {{zero, zero}, {x, zero}, {x, y}, {zero, y}}});
    house.roofs.push_back({.name = "roof",
                           .form = form,
                           .pitch = std::atan(given.rise / given.run),
                           .ridge = "east-west",
                           .high_side = "north",
                           .over_attic = false});
    return assembly::areas(house).roofs.front();
}

Result<Outcome> roof(const Given& given, assembly::Roof::Form form) {
    const auto read = roof_in(given);
    if (!read) return fail(read.error());
    const auto area = over_rectangle(*read, form);
    return Outcome{{"surface", {area.surface}},
                   {"rise", {area.rise}},
                   {"gables", {area.gable}},
                   {"volume", {area.volume}},
                   // Length of a common rafter over one run, as a framing square prints it.
                   {"rafter", {area.surface / area.plan * read->run}}};
}

/// given: length (along the ridge), span, rise, run. Surface, m2, rise, m, gables, m2, volume, m3, rafter, m.
Result<Outcome> gable(const Given& given) {
    return roof(given, assembly::Roof::Form::gable);
}
Result<Outcome> shed(const Given& given) {
    return roof(given, assembly::Roof::Form::shed);
}
Result<Outcome> hip(const Given& given) {
    return roof(given, assembly::Roof::Form::hip);
}

constexpr std::array operations{Operation{"assembly.gable_roof", gable},
                                Operation{"assembly.shed_roof", shed}, Operation{"assembly.hip_roof", hip}};

}  // namespace

std::span<const Operation> assembly_operations() {
    return operations;
}

}  // namespace warmside::proof
