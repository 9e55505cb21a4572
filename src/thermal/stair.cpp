#include "thermal/stair.h"

#include <cmath>
#include <fmt/format.h>

#include "units/quantity.h"

namespace warmside::thermal {

using assembly::Layer;

namespace {

std::string r_text(double rsi) {
    return fmt::format("R-{:.1f} ({:.2f} m2 K/W)", units::ip_r(rsi), rsi);
}

// What a tread is about: "Studs" take away, "Furring" takes away.
struct Subject {
    const char* text = "";
    bool one = false;            // in the singular
    const char* none = nullptr;  // what to say when there is nothing of it
};

// "Studs take away R-3.1 (0.55 m2 K/W)"
std::string change_words(const Subject& subject, double change) {
    if (change == 0.0 && subject.none) return subject.none;
    if (std::abs(units::ip_r(change)) < 0.05) {
        return fmt::format("{} {} less than R-0.1 ({:+.3f} m2 K/W)", subject.text,
                           subject.one ? "changes" : "change", change);
    }
    const char* verb =
        change > 0.0 ? (subject.one ? "adds" : "add") : (subject.one ? "takes away" : "take away");
    return fmt::format("{} {} {}", subject.text, verb, r_text(std::abs(change)));
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
        if (layer.kind == Layer::Kind::air) air += state.resistance();
        // Insulation outside a ventilated layer is on the label and warms nobody.
        air -= (1.0 - state.counted) * label;
        bay += state.resistance();
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
    const auto add = [&](const char* name, const Subject& subject, double after) {
        const double change = after - before;
        out.push_back({name, change_words(subject, change), change, after, after > 0.0 ? 1.0 / after : 0.0});
        before = after;
    };
    const auto leave_out = [&](const char* name, std::string words) {
        out.push_back({name, std::move(words), std::nullopt, before, 1.0 / before});
    };
    add("label", {.text = "The packages"}, v.label);
    out.back().words = v.label > 0.0 ? fmt::format("The packages say {}", r_text(v.label))
                                     : "No layer is sold as insulation: the packages say R-0";
    add("boards", {.text = "Boards", .none = "There are no boards"}, v.boards);
    add("air spaces", {.text = "Air spaces", .none = "No air space counts"}, v.air_spaces);
    add("films", {.text = "Surface films"}, v.films);
    add("temperature", {.text = "Winter cold, against the package's test at 75 degF (24 degC),", .one = true},
        v.temperature);
    add("studs", {.text = "Studs", .none = "There are no studs"}, v.studs);
    add("furring", {.text = "Furring", .one = true, .none = "There is no furring that counts"}, v.furring);
    add("fasteners", {.text = "Fasteners and air voids", .none = "Fasteners and air voids do not count"},
        v.fasteners);
    if (v.plates) {
        add("plates and headers",
            {.text = "Plates and headers", .none = "Plates and headers add nothing to the studs"}, *v.plates);
    } else {
        leave_out("plates and headers",
                  part == assembly::Part::wall
                      ? "Plates and headers are not counted: no published share for this framing"
                      : "Plates and headers are not counted: the published shares are for walls");
    }
    leave_out("junctions", "Corners, rims and window edges are not computed yet");
    return out;
}

}  // namespace warmside::thermal
