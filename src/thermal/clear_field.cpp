#include "thermal/clear_field.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "thermal/corrections.h"
#include "units/quantity.h"

namespace warmside::thermal {

using assembly::Assembly;
using assembly::Layer;

namespace {

// A cell that needs more than this is not worth its time beside a combined value 1 % off.
constexpr std::size_t most_cells = 1'000'000;
constexpr double cell_tolerance = 1e-3;
// chi is a difference of two flows of which it is about a hundredth.
constexpr double chi_tolerance = 1e-4;

conduction::SteadyOptions options(double tolerance) {
    conduction::SteadyOptions out;
    out.tolerance = tolerance;
    out.most_cells = most_cells;
    out.threads = 1;
    return out;
}

bool counts(const Layer& layer, const LayerState& state) {
    return layer.kind == Layer::Kind::material && state.resistance() > 0.0;
}

Result<void> add_points(const Assembly& assembly, const States& winter, double bay, const Control& control,
                        ClearField& out) {
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const LayerState& state = winter.layers[i];
        if (!counts(layer, state)) continue;
        if (layer.void_level != 0) {
            const auto voids = void_correction(layer.void_level, state.resistance(), bay);
            if (!voids) return fail(voids.error());
            out.void_u += *voids;
        }
        if (!layer.fasteners || !(layer.fasteners->per_area > 0.0)) continue;
        const auto iso = iso_fasteners(layer, state, bay);
        if (!iso) return fail(iso.error());
        const auto chi = fastener_chi(assembly, winter, i, options(chi_tolerance), control);
        if (!chi) return fail(chi.error());
        out.fasteners.push_back({i, layer.fasteners->per_area, chi->chi, *iso});
        out.fastener_u += layer.fasteners->per_area * chi->chi;
        out.fastener_error += layer.fasteners->per_area * chi->error;
    }
    return {};
}

bool only_structural(const Assembly& assembly, const States& winter) {
    const auto framed = [&](Include include) {
        const auto bands = bands_of(assembly, winter, include);
        return std::count_if(bands.begin(), bands.end(),
                             [](const Band& b) { return b.run != Ply::Run::none; });
    };
    return framed(Include::structural) == framed(Include::all);
}

std::string r_text(double rsi) {
    return fmt::format("R-{:.1f} ({:.2f} m2 K/W)", units::ip_r(rsi), rsi);
}

// "1.2 % higher", "0.4 % lower", "the same"
std::string beside(double value, double reference) {
    const double percent = 100.0 * (value / reference - 1.0);
    if (std::abs(percent) < 0.05) return "the same";
    return fmt::format("{:.1f} % {}", std::abs(percent), percent > 0.0 ? "higher" : "lower");
}

}  // namespace

Result<double> iso_fasteners(const Layer& layer, const LayerState& state, double bay) {
    if (!layer.fasteners) return 0.0;
    return fastener_correction({.per_area = layer.fasteners->per_area,
                                .cross_section = layer.fasteners->cross_section,
                                .conductivity = layer.fasteners->conductivity,
                                .layer_thickness = layer.thickness.metres(),
                                .penetration = layer.thickness.metres()},
                               state.resistance(), bay);
}

Result<ClearField> clear_field(const Assembly& assembly, const States& winter, double bay,
                               const Control& control) {
    ClearField out;
    auto all = cell_u(assembly, winter, Include::all, options(cell_tolerance), control);
    if (!all) return fail(std::move(all).error());
    out.cell = *all;
    out.studs_u = out.cell.u;
    if (!only_structural(assembly, winter)) {
        const auto studs = cell_u(assembly, winter, Include::structural, options(cell_tolerance), control);
        if (!studs) return fail(studs.error());
        out.studs_u = studs->u;
    }
    if (auto done = add_points(assembly, winter, bay, control, out); !done) return fail(done.error());
    return out;
}

std::string method_of(const ClearField& field) {
    std::string out = "layers added up, nothing is framed";
    if (field.cell.dimensions > 1) {
        out = fmt::format("{}D conduction over the repeating cell, {} cells, error {} {:.2f} %",
                          field.cell.dimensions, field.cell.cells, field.cell.bound ? "at most" : "about",
                          100.0 * field.error());
    }
    if (!field.fasteners.empty()) out += "; fasteners by chi";
    return out;
}

std::string iso_words(const Worth& w) {
    std::string out =
        fmt::format("ISO 6946 reads {}, {}", r_text(w.iso_clear_r), beside(w.iso_clear_r, w.clear_r));
    if (w.clear_dimensions < 2 && w.fasteners.empty()) return out;
    if (w.clear_dimensions >= 2) {
        const double spread = w.upper_r - w.lower_r;
        out += fmt::format(": the mean of no sideways flow ({}) and free sideways flow ({})",
                           r_text(w.upper_r), r_text(w.lower_r));
        if (spread > 1e-3 * w.lower_r) {
            out += fmt::format("; solved, the framing stands {:.0f} % of the way down from the first",
                               100.0 * (w.upper_r - 1.0 / w.cell_u) / spread);
        }
    }
    if (!w.fasteners.empty()) {
        out +=
            w.correction_u > 0.0
                ? fmt::format("; it takes {:.4f} W/(m2 K) for fasteners and air voids, here they cost {:.4f}",
                              w.correction_u, w.fastener_u + w.void_u)
                : fmt::format("; it leaves fasteners out below 3 % of U, here they cost {:.4f} W/(m2 K)",
                              w.fastener_u);
    }
    return out;
}

std::string handbook_words(const Worth& w) {
    if (w.parallel_r == 0.0) return {};
    std::string out = fmt::format(
        "parallel path reads {}, {}, isothermal planes {}, {}: they have the handbook's films and "
        "air spaces, package R and conductivities at 24 degC",
        r_text(w.parallel_r), beside(w.parallel_r, w.clear_r), r_text(w.isothermal_r),
        beside(w.isothermal_r, w.clear_r));
    if (!w.fasteners.empty()) out += ", and no fasteners";
    return out;
}

std::string fastener_words(const FastenerWorth& f, const std::string& layer) {
    return fmt::format(
        "A fastener through {} has chi {:.5f} W/K (an axisymmetric cell; taken to stand 1 1/2 in (38 mm) in "
        "the framing behind), {:.4f} W/(m2 K) in all; ISO 6946 annex F gives {:.4f}.",
        layer, f.chi, f.per_area * f.chi, f.iso_u);
}

}  // namespace warmside::thermal
