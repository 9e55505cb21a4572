#include "thermal/worth.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "framing/fractions.h"
#include "thermal/clear_field.h"
#include "thermal/corrections.h"
#include "thermal/dynamic.h"
#include "thermal/stair.h"
#include "units/quantity.h"

namespace warmside::thermal {

using assembly::Assembly;
using assembly::Framing;
using assembly::Layer;
using assembly::Part;

namespace {

// Origin of the conductivity in use.
Origin conductivity_origin(const Layer& layer) {
    switch (layer.kind) {
        case Layer::Kind::material:
            return layer.label_r ? layer.origin : material::origin_of(*layer.material, "conductivity");
        case Layer::Kind::air:
            return Origin{Origin::Kind::standard, {}, "ISO 6946:2017 annex D", Evidence::memory};
        case Layer::Kind::membrane: return layer.membrane->origin;
    }
    return {};
}

std::string layer_note(const Layer& layer, const LayerState& state) {
    if (!state.note.empty()) return state.note;
    if (layer.kind == Layer::Kind::air) return "as still air, ISO 6946";
    if (layer.label_r) return "conductivity from the package R in the house file";
    if (layer.kind == Layer::Kind::membrane) return "no thermal resistance counted";
    return {};
}

std::vector<LayerWorth> layer_worths(const Assembly& assembly, const States& winter) {
    std::vector<LayerWorth> out;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const LayerState& state = winter.layers[i];
        LayerWorth w{.title = layer.title(),
                     .thickness = layer.thickness.metres(),
                     .conductivity = state.conductivity,
                     .mean_temperature = 0.5 * (winter.temperatures[i + 1] + winter.temperatures[i + 2]),
                     .resistance = state.resistance(),
                     .label = label_of(layer),
                     .origin = conductivity_origin(layer),
                     .note = layer_note(layer, state)};
        if (layer.framing) {
            w.framing_resistance = through_member(layer, state);
            w.framing_share = layer.framing->width.metres() / layer.framing->spacing.metres();
        }
        out.push_back(std::move(w));
    }
    return out;
}

// Delta U of ISO 6946 for all layers, before the 3 % rule.
Result<double> correction(const Assembly& assembly, const States& winter, double total) {
    double sum = 0.0;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const double r = winter.layers[i].resistance();
        if (layer.kind != Layer::Kind::material || r == 0.0) continue;
        if (layer.void_level != 0) {
            const auto voids = void_correction(layer.void_level, r, total);
            if (!voids) return voids;
            sum += *voids;
        }
        const auto screws = iso_fasteners(layer, winter.layers[i], total);
        if (!screws) return screws;
        sum += *screws;
    }
    return sum;
}

// How plates and headers enter: the share P, or why there is none.
struct Plates {
    std::optional<double> share;
    double fraction = 0.0;  // whole face
    Origin origin;
    std::optional<double> published;        // whole face
    std::optional<double> published_share;  // P by it, where `share` is by placed members
    std::optional<double> field_share;      // placed members outside junctions, of the whole face
    double extra = 0.0;                     // P of them; negative: fewer than the module's
    std::string note;
};

// Share P of wood through every structural layer that turns the share s into F.
double share_beyond(double whole, double repeating) {
    return (whole - repeating) / (1.0 - repeating);
}

// By the members that stand in the walls.
void by_members(const framing::FramingFactor& placed, double repeating, Plates& out) {
    if (out.share) out.published_share = out.share;
    out.fraction = std::max(placed.whole, repeating);
    out.share = share_beyond(out.fraction, repeating);
    out.origin = placed.origin;
    out.field_share = placed.field;
    out.extra = share_beyond(placed.field, repeating);
    out.note = fmt::format(
        "{:.1f} % of the walls' face is wood, counted from the placed members; studs on the module alone "
        "would be {:.1f} %",
        100.0 * placed.whole, 100.0 * repeating);
    if (out.published) out.note += fmt::format(", a published fraction {:.0f} %", 100.0 * *out.published);
    out.note += ".";
}

Plates plates_of(const Assembly& assembly, const framing::FramingFactor* placed) {
    Plates out;
    if (assembly.part != Part::wall) {
        out.note =
            "Plates and headers: published framing fractions are for walls, so the face counts repeating "
            "members only.";
        return out;
    }
    const std::vector<bool> structural = structural_layers(assembly);
    const Framing* deepest = nullptr;
    for (std::size_t i = 0; i < structural.size(); ++i) {
        const auto& f = assembly.layers[i].framing;
        if (structural[i] && f && (!deepest || f->depth > deepest->depth)) deepest = &*f;
    }
    if (!deepest) {
        out.note = "There is no framing.";
        return out;
    }
    const double repeating = deepest->width.metres() / deepest->spacing.metres();
    const auto published = framing::published_fraction(deepest->spacing.metres());
    const bool counted = placed && placed->net_area > 0.0;
    if (published && deepest->kind == Framing::Kind::solid) out.published = published->whole;
    if (counted && !out.published) {
        by_members(*placed, repeating, out);
        return out;
    }
    if (!published || deepest->kind != Framing::Kind::solid) {
        out.note = fmt::format(
            "Plates and headers: no published framing fraction for {} at {} o.c., so the face counts "
            "repeating members only.",
            deepest->member, units::inches(deepest->spacing.metres()));
        return out;
    }
    out.fraction = std::max(published->whole, repeating);
    out.share = share_beyond(out.fraction, repeating);
    out.origin = published->origin;
    if (counted) {
        by_members(*placed, repeating, out);
        return out;
    }
    if (published->interpolated) {
        out.note = fmt::format("Framing fraction {:.1f} % interpolated between published spacings.",
                               100.0 * out.fraction);
    }
    if (repeating > published->whole) {
        out.note = fmt::format("Studs alone take {:.0f} % of the face, more than the published {:.0f} %.",
                               100.0 * repeating, 100.0 * published->whole);
    }
    return out;
}

std::string code_words(const Assembly& assembly, const Plates& plates) {
    std::string text =
        "Handbook parallel path: its films, package R of insulation, other layers at 24 degC, ";
    text += plates.share ? fmt::format("{:.0f} % of the face framed{}", 100.0 * plates.fraction,
                                       plates.field_share ? " by the placed members" : "")
                         : "repeating members only";
    const bool open = std::any_of(assembly.layers.begin(), assembly.layers.end(),
                                  [](const Layer& layer) { return layer.ventilated(); });
    if (open) text += "; a ventilated cavity and the cladding outside it are not counted";
    return text + ".";
}

struct CodeWay {
    Limits repeating;
    double u = 0.0;
    std::optional<double> published;  // U with the published fraction, beside that with the placed members
};

Result<CodeWay> code_way(const Assembly& assembly, const Plates& plates) {
    const auto states = handbook_states(assembly);
    if (!states) return fail(states.error());
    Cell cell = cell_of(assembly, *states);
    const auto repeating = limits(cell);
    if (!repeating) return fail(repeating.error());
    cell.plates = plates.share.value_or(0.0);
    const auto face = limits(cell);
    if (!face) return fail(face.error());
    CodeWay out{*repeating, 1.0 / face->upper, {}};
    if (plates.published_share) {
        cell.plates = *plates.published_share;
        const auto usual = limits(cell);
        if (!usual) return fail(usual.error());
        out.published = 1.0 / usual->upper;
    }
    return out;
}

Result<double> combined(const Cell& cell) {
    return limits(cell).map([](const Limits& l) { return l.combined(); });
}

// ISO 6946: both limits and the combined value with its corrections.
Result<void> iso_way(const Cell& cell, double raw, Worth& out) {
    const auto both = limits(cell);
    if (!both) return fail(both.error());
    out.upper_r = both->upper;
    out.lower_r = both->lower;
    out.relative_error = both->relative_error();
    out.correction_u = counted_correction(raw, 1.0 / both->combined());
    out.iso_clear_r = 1.0 / (1.0 / both->combined() + out.correction_u);
    if (both->ratio() > 1.5) {
        out.notes.push_back(
            fmt::format("The limits of ISO 6946 lie {:.2f} apart (R' over R''), above 1.5: its combined "
                        "method is at its limit, the cell decides.",
                        both->ratio()));
    }
    if (raw > 0.0 && out.correction_u == 0.0) {
        out.notes.push_back(
            fmt::format("By ISO 6946 fasteners and air voids come to {:.4f} W/(m2 K), below 3 % of U: it "
                        "leaves them out.",
                        raw));
    }
    return {};
}

// U of the framed treads, by the cell.
void by_cell(const ClearField& field, Worth& out, StairValues& v) {
    v.studs = 1.0 / field.studs_u;
    v.furring = 1.0 / field.cell.u;
    v.fasteners = 1.0 / field.u();
    out.clear_dimensions = field.cell.dimensions;
    out.clear_error = field.error();
    out.clear_cells = field.cell.cells;
    out.cell_u = field.cell.u;
    out.cell_error = field.cell.error;
    out.fastener_u = field.fastener_u;
    out.void_u = field.void_u;
    out.fasteners = field.fasteners;
    out.clear_method = method_of(field);
}

// The same by ISO 6946, where there is no cell.
Result<void> by_iso(const Cell& cell, const Problem& why, Worth& out, StairValues& v) {
    const auto studs = combined(without_furring(cell));
    if (!studs) return fail(studs.error());
    v.studs = *studs;
    v.furring = 0.5 * (out.upper_r + out.lower_r);
    v.fasteners = out.iso_clear_r;
    out.clear_method = "ISO 6946 combined method, no cell could be solved: " + why.what;
    out.notes.push_back(fmt::format(
        "Clear-field R is the ISO 6946 value, because the repeating cell could not be solved: {}.",
        why.what));
    return {};
}

// Fills the framed half of the stair and the figures that stand on its treads.
Result<void> climb(const Assembly& assembly, const States& winter, const Plates& plates, double raw,
                   const Control& control, StairValues& v, Worth& out) {
    const Cell cell = cell_of(assembly, winter);
    if (auto done = iso_way(cell, raw, out); !done) return done;
    const auto field = clear_field(assembly, winter, v.temperature, control);
    if (field) {
        by_cell(*field, out, v);
    } else if (field.error().code == Code::stopped) {
        return fail(field.error());
    } else if (auto done = by_iso(cell, field.error(), out, v); !done) {
        return done;
    }
    const double points = 1.0 / v.fasteners - 1.0 / v.furring;
    // U with a share of wood through every structural layer besides.
    const auto with_share = [&](double share) -> Result<double> {
        Cell face = cell;
        face.plates = share;
        return combined(face).map(
            [&](double r) { return 0.5 * (out.upper_r + out.lower_r) / (v.furring * r) + points; });
    };
    if (plates.share) {
        const auto u = with_share(*plates.share);
        if (!u) return fail(u.error());
        v.plates = 1.0 / *u;
    }
    out.clear_r = v.fasteners;
    out.clear_u = 1.0 / out.clear_r;
    out.field_u = out.clear_u;
    if (plates.field_share) {
        // Fewer members than the module's take away what as many more would add.
        const auto u = with_share(std::abs(plates.extra));
        if (!u) return fail(u.error());
        out.field_u += std::copysign(*u - out.clear_u, plates.extra);
    }
    out.face_r = v.plates.value_or(v.fasteners);
    out.stair = stair(v, assembly.part);
    return {};
}

}  // namespace

Result<Worth> worth(const Assembly& assembly, const Conditions& conditions, const Control& control,
                    const framing::FramingFactor* placed) {
    if (auto good = check(assembly); !good) return fail(good.error());
    const auto winter = winter_states(assembly, conditions);
    if (!winter) return fail(winter.error());
    const Plates plates = plates_of(assembly, placed);
    StairValues values = bay_values(assembly, *winter);
    const auto raw = correction(assembly, *winter, values.temperature);
    if (!raw) return fail(raw.error());

    Worth out;
    out.thickness = assembly.thickness().metres();
    out.label_r = values.label;
    if (auto done = climb(assembly, *winter, plates, *raw, control, values, out); !done)
        return fail(done.error());
    out.framing_fraction = plates.fraction;
    out.framing_origin = plates.origin;
    out.published_fraction = plates.published;
    out.field_share = plates.field_share;
    if (on_ground(assembly)) {
        out.notes.emplace_back(
            "The build-up alone, with the film inside: what the ground adds depends on the floor's area and "
            "perimeter (ISO 13370) and is not in these figures, nor is there a code U.");
    } else {
        const auto code = code_way(assembly, plates);
        if (!code) return fail(code.error());
        out.parallel_r = code->repeating.upper;
        out.isothermal_r = code->repeating.lower;
        out.code_u = code->u;
        out.code_u_published = code->published;
        out.code_note = code_words(assembly, plates);
    }
    if (out.clear_dimensions > 0) out.iso_words = iso_words(out);
    out.handbook_words = handbook_words(out);
    for (const FastenerWorth& f : out.fasteners)
        out.notes.push_back(fastener_words(f, assembly.layers[f.layer].title()));
    out.layers = layer_worths(assembly, *winter);
    out.bay_temperatures = winter->temperatures;
    if (const auto swing = dynamic(assembly, *winter)) {
        out.daily = *swing;
    } else {
        out.notes.push_back("No daily swing: " + swing.error().what + ".");
    }
    if (!plates.note.empty()) out.notes.push_back(plates.note);
    const double by_cold = values.temperature / values.films - 1.0;
    if (std::abs(by_cold) >= 0.01) {
        out.notes.push_back(fmt::format(
            "At {:.0f} degF ({:.0f} degC) outside the layers resist {:.0f} % {} than at their test "
            "temperature; clear-field and face R are winter values, label R and code U are not.",
            units::fahrenheit(conditions.outside), units::celsius(conditions.outside),
            100.0 * std::abs(by_cold), by_cold > 0.0 ? "more" : "less"));
    }
    return out;
}

}  // namespace warmside::thermal
