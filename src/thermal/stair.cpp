#include "thermal/stair.h"

#include <cmath>
#include <fmt/format.h>

#include "units/quantity.h"

namespace warmside::thermal {

using assembly::Layer;

namespace {

std::string r_text(double rsi) { return fmt::format("R-{:.1f} ({:.2f} m2 K/W)", units::ip_r(rsi), rsi); }

// "Studs take away R-3.1 (0.55 m2 K/W)." `one` is true for a subject in the singular.
std::string change_words(const char* subject, bool one, double change) {
    if (std::abs(units::ip_r(change)) < 0.05) {
        return fmt::format("{} {} less than R-0.1 ({:+.3f} m2 K/W).", subject, one ? "changes" : "change", change);
    }
    const char* verb = change > 0.0 ? (one ? "adds" : "add") : (one ? "takes away" : "take away");
    return fmt::format("{} {} {}.", subject, verb, r_text(std::abs(change)));
}

}  // namespace

StairValues bay_values(const assembly::Assembly& assembly, const States& winter) {
    StairValues v;
    double boards = 0.0, air = 0.0, bay = 0.0;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const LayerState& state = winter.layers[i];
        const double label = label_of(layer);
        v.label += label;
        if (layer.kind == Layer::Kind::material && label == 0.0) {
            boards += state.counted * layer.thickness.metres() / layer.material->conductivity;
        }
        if (layer.kind == Layer::Kind::air) air += state.counted * state.fill;
        // Insulation outside a ventilated layer is on the label and warms nobody.
        air -= (1.0 - state.counted) * label;
        bay += state.counted * state.fill;
    }
    v.boards = v.label + boards;
    v.air_spaces = v.boards + air;
    v.films = v.air_spaces + winter.films.inside + winter.films.outside;
    v.temperature = bay + winter.films.inside + winter.films.outside;
    return v;
}

Cell without_furring(Cell cell) {
    for (Ply& ply : cell.plies) {
        if (!ply.structural) ply.run = Ply::Run::none;
    }
    return cell;
}

std::vector<Tread> stair(const StairValues& v, assembly::Part part) {
    std::vector<Tread> out;
    double before = 0.0;
    const auto add = [&](const char* name, const char* subject, bool one, double after) {
        // The change is the difference of what is shown, so that the treads sum to the last bit they can.
        const double change = after - before;
        out.push_back({name, change_words(subject, one, change), change, after, 1.0 / after});
        before = after;
    };
    const auto leave_out = [&](const char* name, std::string words) {
        out.push_back({name, std::move(words), std::nullopt, before, 1.0 / before});
    };
    if (v.label > 0.0) {
        out.push_back({"label", fmt::format("The packages say {}.", r_text(v.label)), v.label, v.label, 1.0 / v.label});
        before = v.label;
    } else {
        out.push_back({"label", "No layer is sold as insulation: the packages say R-0.", 0.0, 0.0, 0.0});
    }
    if (v.boards > 0.0) {
        add("boards", "Boards", false, v.boards);
    } else {
        out.push_back({"boards", "There are no boards.", 0.0, 0.0, 0.0});
    }
    if (v.air_spaces > 0.0) {
        add("air spaces", "Air spaces", false, v.air_spaces);
    } else {
        out.push_back({"air spaces", "Nothing counts so far.", v.air_spaces - before, v.air_spaces, 0.0});
        before = v.air_spaces;
    }
    add("films", "Surface films", false, v.films);
    add("temperature", "Winter temperature, against the package's test,", true, v.temperature);
    add("studs", "Studs", false, v.studs);
    add("furring", "Furring", true, v.furring);
    add("fasteners", "Fasteners and air voids", false, v.fasteners);
    if (v.plates) {
        add("plates and headers", "Plates and headers", false, *v.plates);
    } else {
        leave_out("plates and headers", part == assembly::Part::wall
                                            ? "Plates and headers are not counted: no published share for this framing."
                                            : "Plates and headers are not counted: the published shares are for walls.");
    }
    leave_out("junctions", "Corners, rims and window edges are not computed yet.");
    return out;
}

}  // namespace warmside::thermal
