#include "thermal/repeating.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <utility>

#include "thermal/pattern.h"

namespace warmside::thermal {

using assembly::Assembly;
using assembly::Layer;

namespace {

// A row of members that run one way, and where it stands.
struct Rows {
    std::vector<std::size_t> bands;
    Piece piece;
    bool any() const { return !bands.empty(); }
};

Result<Rows> rows_of(const std::vector<Band>& bands, Ply::Run run, int periods) {
    Rows out;
    std::vector<Members> members;
    for (std::size_t i = 0; i < bands.size(); ++i) {
        if (bands[i].run != run) continue;
        out.bands.push_back(i);
        members.push_back(bands[i].members);
    }
    if (members.empty()) return out;
    auto piece = piece_of(members, periods);
    if (!piece) return fail(std::move(piece).error());
    out.piece = std::move(*piece);
    return out;
}

conduction::Region air(std::size_t environment, const char* name, conduction::Shape shape, double film) {
    conduction::Region region;
    region.name = name;
    region.shape = std::move(shape);
    region.environment = environment;
    region.film = film;
    return region;
}

// Lays regions of the cell: boxes in 3D, rectangles in 2D.
class Builder {
public:
    Builder(const Assembly& assembly, const States& states, double width, double height)
        : assembly_(assembly), states_(states), width_(width), height_(height) {}

    conduction::Model build(const std::vector<Band>& bands, const Rows& across, const Rows& up) {
        conduction::Model model;
        model.name = assembly_.name;
        model.geometry = solid() ? conduction::Geometry::solid : conduction::Geometry::plane;
        model.environments = environments_of(states_);
        model.where = assembly_.origin.where;
        model.regions.push_back(air(0, "inside", slab(-drawn_air, 0.0), states_.films.inside));
        double depth = 0.0;
        for (std::size_t i = 0; i < bands.size(); ++i) {
            const Band& band = bands[i];
            const Layer& layer = assembly_.layers[band.layer];
            model.regions.push_back(
                material(layer.title(), band.fill, slab(depth, depth + band.thickness), layer.origin));
            for (const Stretch& s : stretches(across, i)) {
                add_member(model, band, {s.from, depth, 0.0}, {s.to, depth + band.thickness, height_});
            }
            for (const Stretch& s : stretches(up, i)) {
                add_member(model, band, {0.0, depth, s.from}, {width_, depth + band.thickness, s.to});
            }
            depth += band.thickness;
        }
        model.regions.push_back(air(1, "outside", slab(depth, depth + drawn_air), states_.films.outside));
        return model;
    }

private:
    [[nodiscard]] bool solid() const { return height_ > 0.0; }

    [[nodiscard]] conduction::Shape shape(conduction::Point low, conduction::Point high) const {
        return solid() ? conduction::box(low, high) : conduction::rectangle(low, high);
    }
    [[nodiscard]] conduction::Shape slab(double from, double to) const {
        return shape({0.0, from, 0.0}, {width_, to, height_});
    }

    static conduction::Region material(std::string name, double conductivity, conduction::Shape shape,
                                       const Origin& origin) {
        conduction::Region region;
        region.name = std::move(name);
        region.shape = std::move(shape);
        region.conductivity = conductivity;
        region.where = origin.where;
        return region;
    }

    static std::vector<Stretch> stretches(const Rows& rows, std::size_t band) {
        for (std::size_t k = 0; k < rows.bands.size(); ++k) {
            if (rows.bands[k] == band) return rows.piece.members[k];
        }
        return {};
    }

    void add_member(conduction::Model& model, const Band& band, conduction::Point low,
                    conduction::Point high) const {
        const auto& f = assembly_.layers[band.layer].framing;
        if (!f) return;
        model.regions.push_back(material(f->member, band.member, shape(low, high), f->origin));
        model.regions.back().over = true;
    }

    const Assembly& assembly_;
    const States& states_;
    double width_, height_;  // height 0: 2D
};

Result<void> check(const Assembly& assembly, const std::vector<Band>& bands) {
    for (const Band& band : bands) {
        if (band.fill > 0.0 && std::isfinite(band.fill)) continue;
        return fail(Code::out_of_range,
                    fmt::format("{} has no resistance", assembly.layers[band.layer].title()),
                    assembly.layers[band.layer].origin.where);
    }
    return {};
}

double layer_sum(const std::vector<Band>& bands, const States& states) {
    double r = states.films.inside + states.films.outside;
    for (const Band& band : bands) r += band.thickness / band.fill;
    return r;
}

}  // namespace

std::vector<conduction::Environment> environments_of(const States& states) {
    const auto& t = states.temperatures;
    return {{"inside", t.empty() ? 293.15 : t.front()}, {"outside", t.empty() ? 273.15 : t.back()}};
}

std::vector<Band> bands_of(const Assembly& assembly, const States& states, Include include) {
    const std::vector<bool> structural = structural_layers(assembly);
    std::vector<Band> out;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const LayerState& state = states.layers[i];
        if (state.counted == 0.0 || layer.kind == Layer::Kind::membrane) continue;
        const double fill = layer.thickness.metres() / state.resistance();
        const bool stands =
            layer.framing && (include == Include::all || (include == Include::structural && structural[i]));
        if (!stands) {
            out.push_back({.layer = i, .thickness = layer.thickness.metres(), .fill = fill});
            continue;
        }
        for (const assembly::Slice& slice : assembly::slices(layer)) {
            if (!(slice.thickness > 0.0)) continue;
            Band band{.layer = i, .thickness = slice.thickness, .fill = fill};
            const units::Exact width = units::Exact::nearest(slice.width);
            if (slice.member && width.count() > 0) {
                const assembly::Framing& f = *layer.framing;
                band.member = material::conductivity(*slice.member, state.member_temperature) / state.counted;
                band.run = f.run == assembly::Run::vertical ? Ply::Run::vertical : Ply::Run::horizontal;
                band.members = {.width = width, .spacing = f.spacing, .offset = f.offset};
            }
            out.push_back(band);
        }
    }
    return out;
}

Result<RepeatingCell> repeating_cell(const Assembly& assembly, const States& states, Include include,
                                     int periods) {
    const std::vector<Band> bands = bands_of(assembly, states, include);
    if (auto good = check(assembly, bands); !good) return fail(good.error());
    auto vertical = rows_of(bands, Ply::Run::vertical, periods);
    if (!vertical) return fail(std::move(vertical).error());
    auto horizontal = rows_of(bands, Ply::Run::horizontal, periods);
    if (!horizontal) return fail(std::move(horizontal).error());
    if (!vertical->any() && !horizontal->any()) {
        return fail(Code::unsupported, fmt::format("{} has no members", assembly.name),
                    assembly.origin.where);
    }
    // Members of one direction only: x runs across them, whichever it is.
    if (!vertical->any()) std::swap(*vertical, *horizontal);
    const double width = vertical->piece.length;
    const double height = horizontal->any() ? horizontal->piece.length : 0.0;
    RepeatingCell out;
    out.model = Builder(assembly, states, width, height).build(bands, *vertical, *horizontal);
    out.area = width * (horizontal->any() ? height : 1.0);
    out.mirrored = vertical->piece.mirrored && (!horizontal->any() || horizontal->piece.mirrored);
    return out;
}

Result<CellValue> cell_u(const Assembly& assembly, const States& states, Include include,
                         const conduction::SteadyOptions& options, const Control& control) {
    const std::vector<Band> bands = bands_of(assembly, states, include);
    if (auto good = check(assembly, bands); !good) return fail(good.error());
    const bool framed =
        std::any_of(bands.begin(), bands.end(), [](const Band& b) { return b.run != Ply::Run::none; });
    if (!framed) {
        const double r = layer_sum(bands, states);
        if (!(r > 0.0)) return fail(Code::out_of_range, "the cell has no resistance at all");
        return CellValue{.u = 1.0 / r};
    }
    const auto cell = repeating_cell(assembly, states, include);
    if (!cell) return fail(cell.error());
    const auto solved = conduction::steady(cell->model, options, control);
    if (!solved) return fail(solved.error());
    return CellValue{.u = solved->between(0, 1) / cell->area,
                     .error = solved->error,
                     .dimensions = cell->model.geometry == conduction::Geometry::solid ? 3 : 2,
                     .bound = solved->bound && cell->mirrored,
                     .cells = solved->grid.cells()};
}

}  // namespace warmside::thermal
