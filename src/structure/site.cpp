#include "structure/site.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <fmt/format.h>

#include "assembly/duty.h"
#include "assembly/geometry.h"
#include "assembly/roof_shape.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

constexpr double gravity = 9.80665;

bool is_gypsum(const assembly::Layer& layer) {
    return layer.kind == assembly::Layer::Kind::material && layer.material &&
           layer.material->name.find("gypsum board") != std::string::npos;
}

}  // namespace

Size size_of(const framing::Section& section) {
    return {section.thickness.metres(), section.width.metres()};
}

Input computed(std::string name, double value, std::string unit) {
    return {std::move(name),
            value,
            std::move(unit),
            {Origin::Kind::computed, {}, "from the placed members", Evidence::none}};
}

Finding unnumbered(Outcome outcome, std::string subject, std::string where, std::string rule,
                   std::string citation, std::string words) {
    Finding out;
    out.subject = std::move(subject);
    out.where = std::move(where);
    out.rule = std::move(rule);
    out.citation = std::move(citation);
    out.outcome = outcome;
    out.words = std::move(words);
    return out;
}

void judge(Finding& finding, double demand, double capacity, std::string unit) {
    finding.demand = demand;
    finding.capacity = capacity;
    finding.unit = std::move(unit);
    finding.ratio = demand / capacity;
    finding.outcome = *finding.ratio <= 1.0 ? Outcome::passes : Outcome::fails;
}

std::optional<Core> core_of(const assembly::Assembly& wall) {
    const auto* framing = assembly::main_framing(wall);
    if (!framing) return std::nullopt;
    const auto duties = assembly::duties_of(wall);
    return Core{*assembly::bearing_layer(wall),
                framing,
                {framing->width.metres(), framing->depth.metres()},
                std::find(duties.begin(), duties.end(), assembly::Duty::second) != duties.end()};
}

bool stands_in(const Core& core, const framing::Member& member) {
    return member.layer < 0 || static_cast<std::size_t>(member.layer) == core.layer;
}

double weight_of(const assembly::Assembly& assembly, std::size_t from) {
    double sum = 0.0;
    for (std::size_t i = from; i < assembly.layers.size(); ++i) {
        const auto& layer = assembly.layers[i];
        double share = 0.0;
        if (layer.framing && layer.framing->spacing.count() > 0) {
            share = layer.framing->width.metres() / layer.framing->spacing.metres();
            const auto* wood = layer.framing->material;
            sum += share * layer.framing->depth.metres() * (wood ? wood->density : 0.0);
        }
        if (layer.kind == assembly::Layer::Kind::material)
            sum += (1 - share) * layer.thickness.metres() * layer.material->density;
    }
    return sum * gravity;
}

const assembly::Layer* sheathing_of(const assembly::Assembly& wall) {
    const auto core = core_of(wall);
    for (std::size_t i = core ? core->layer + 1 : 0; i < wall.layers.size(); ++i) {
        const auto& layer = wall.layers[i];
        if (layer.kind != assembly::Layer::Kind::material || layer.framing) continue;
        const std::string& name = layer.material->name;
        if (name.starts_with("osb") || name.find("plywood") != std::string::npos) return &layer;
    }
    return nullptr;
}

Lining lining_of(const assembly::Assembly& wall) {
    constexpr double half_inch = 0.0124;  // 12.5 mm boards count as 1/2 in
    Lining out;
    const auto core = core_of(wall);
    for (std::size_t i = 0; core && i < core->layer; ++i) {
        const auto& layer = wall.layers[i];
        if (is_gypsum(layer) && layer.thickness.metres() >= half_inch) out.gypsum = true;
        if (out.gypsum && layer.framing) out.on_battens = true;
    }
    return out;
}

bool is_east_west(const assembly::Face& face) {
    return std::abs(face.to.x.metres() - face.from.x.metres()) >=
           std::abs(face.to.y.metres() - face.from.y.metres());
}

Site::Site(const assembly::House& house, const assembly::Assembly& wall) : house_(house), wall_(wall) {
    const auto core = core_of(wall);
    for (std::size_t i = 0; core && i <= core->layer; ++i) frame_ += wall.layers[i].thickness.metres();
}

const assembly::Assembly& Site::built_as(const framing::Panel& panel) const {
    const auto* found = house_.find(panel.assembly);
    return found ? *found : wall_;
}

const assembly::Face* Site::face(const framing::Panel& panel) const {
    return panel.face < house_.faces.size() ? &house_.faces[panel.face] : nullptr;
}

std::vector<const assembly::Storey*> Site::above(const assembly::Storey& storey) const {
    std::vector<const assembly::Storey*> out;
    for (const auto& each : house_.storeys) {
        if (each.floor > storey.floor) out.push_back(&each);
    }
    return out;
}

int Site::storeys() const {
    return static_cast<int>(house_.storeys.size());
}

double Site::extent(const assembly::Storey& storey, bool east_west) const {
    double low = 0.0, high = 0.0;
    for (std::size_t i = 0; i < storey.outline.size(); ++i) {
        const double at = (east_west ? storey.outline[i].x : storey.outline[i].y).metres();
        low = i == 0 ? at : std::min(low, at);
        high = i == 0 ? at : std::max(high, at);
    }
    return high - low;
}

bool Site::joists_east_west(const assembly::Storey& storey) const {
    const std::string& run = house_.practice.joist_run.value;
    if (!run.empty()) return run == "east-west";
    return extent(storey, true) <= extent(storey, false);
}

const assembly::Roof* Site::roof_over(const assembly::Storey& storey) const {
    const bool highest = above(storey).empty();
    for (const auto& roof : house_.roofs) {
        if (roof.storey == storey.name || (roof.storey.empty() && highest)) return &roof;
    }
    return nullptr;
}

bool Site::spans_north_south(const assembly::Roof& roof) const {
    if (roof.form == assembly::Roof::Form::gable && !roof.ridge.empty()) return roof.ridge == "east-west";
    if (roof.form == assembly::Roof::Form::shed)
        return roof.high_side == "north" || roof.high_side == "south";
    const auto* storey = assembly::storey_under(house_, roof);
    return storey && extent(*storey, false) <= extent(*storey, true);
}

double Site::roof_span(const assembly::Roof& roof) const {
    const auto* storey = under(roof);
    if (!storey) return 0.0;
    // Of a main body and wings the main body's: no wing is wider.
    const auto shape = assembly::roof_shape(storey->outline, roof);
    if (shape && shape->bodies.size() > 1) return shape->bodies.front().span() + 2 * frame_;
    // Of an outline that no such shape covers the side that asks for more.
    const double across = assembly::rectangle_of(storey->outline)
                              ? extent(*storey, !spans_north_south(roof))
                              : std::max(extent(*storey, true), extent(*storey, false));
    return across + 2 * frame_;
}

double Site::roof_span(const assembly::Roof& roof, const assembly::Face& face) const {
    const auto* storey = under(roof);
    if (!storey || assembly::rectangle_of(storey->outline)) return roof_span(roof);
    return extent(*storey, !is_east_west(face)) + 2 * frame_;
}

const assembly::Storey* Site::under(const assembly::Roof& roof) const {
    for (const auto& storey : house_.storeys) {
        if (roof_over(storey) == &roof) return &storey;
    }
    return nullptr;
}

double Site::rise(const assembly::Roof& roof) const {
    using Form = assembly::Roof::Form;
    if (roof.form == Form::flat) return 0.0;
    return roof_span(roof) * std::tan(roof.pitch) * (roof.form == Form::shed ? 1.0 : 0.5);
}

double Site::mean_roof_height() const {
    double low = 0.0, top = 0.0;
    bool first = true;
    for (const auto& storey : house_.storeys) {
        const double plate = storey.floor.metres() + storey.height.metres();
        const auto* roof = roof_over(storey);
        const double mean = plate + (roof ? rise(*roof) / 2 : 0.0);
        low = first ? storey.floor.metres() : std::min(low, storey.floor.metres());
        top = first ? mean : std::max(top, mean);
        first = false;
    }
    double above_grade = 0.0;
    for (const auto& each : house_.foundations)
        above_grade = std::max(above_grade, each.height_above_grade.metres());
    return top - low + above_grade;
}

LineLoad Site::line_load(const assembly::Face& face, const assembly::Assembly& wall) const {
    LineLoad out;
    const auto* storey = house_.storey(face.storey);
    if (!storey) return out;
    const bool east_west = is_east_west(face);
    const double weight = weight_of(wall);
    double own = face.height.metres();
    const auto higher = above(*storey);
    out.storeys_above = static_cast<int>(higher.size());
    for (const auto* each : higher) {
        own += each->height.metres();
        const bool bears = joists_east_west(*each) != east_west;
        const double across = extent(*each, !east_west);
        const double width = bears ? across / (house_.practice.bearing_line.value ? 4 : 2)
                                   : house_.practice.joist_spacing.value.metres() / 2;
        out.floors += bears ? 1 : 0;
        out.floor_width += width;
    }
    const auto* top = higher.empty() ? storey : higher.back();
    for (const auto* each : higher) {
        if (each->floor > top->floor) top = each;
    }
    if (const auto* roof = roof_over(*top)) {
        using Form = assembly::Roof::Form;
        // Over an outline that is no rectangle any wall may carry a wing's roof.
        out.bears_roof = roof->form == Form::hip || spans_north_south(*roof) == east_west ||
                         !assembly::rectangle_of(top->outline);
        const double half = out.bears_roof ? roof_span(*roof, face) / 2 : roof->spacing.metres() / 2;
        out.roof_width = half + roof->overhang.metres();
        if (!out.bears_roof && (roof->form == Form::gable || roof->form == Form::shed)) own += rise(*roof);
        if (roof->over_attic) out.attic_live = half * house_.loads.attic_live.value;
    }
    const auto& loads = house_.loads;
    out.dead =
        own * weight + out.roof_width * loads.roof_dead.value + out.floor_width * loads.floor_dead.value;
    out.floor_live = out.floor_width * loads.floor_live.value;
    out.snow = out.roof_width * (loads.ground_snow ? loads.ground_snow->value : 0.0);
    out.roof_live = out.roof_width * limits().roof_live;
    if (out.bears_roof)
        out.supports = out.storeys_above == 0   ? Supports::roof
                       : out.storeys_above == 1 ? Supports::one_floor_and_roof
                                                : Supports::two_floors_and_roof;
    else if (out.floors > 0)
        out.supports = out.floors == 1 ? Supports::one_floor : Supports::two_floors_and_roof;
    return out;
}

Input Site::snow() const {
    const auto& given = house_.loads.ground_snow;
    assert(given && "asked for only where it is given");
    return input("ground snow, used as the roof's", *given, "Pa");
}

Input Site::wind() const {
    const auto& given = house_.loads.wind_speed;
    assert(given && "asked for only where it is given");
    return input("wind speed, ultimate", *given, "m/s");
}

}  // namespace warmside::structure
