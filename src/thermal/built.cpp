#include "thermal/built.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "units/quantity.h"

namespace warmside::thermal {

namespace {

constexpr const char* u_unit = "W/(m2 K)";
constexpr const char* psi_unit = "W/K per m";

// "Corners and rims take away R-1.2 (0.21 m2 K/W)"
std::string words(const char* subject, double change) {
    const double r = units::ip_r(std::abs(change));
    if (r < 0.05) return fmt::format("{} change less than R-0.1 ({:+.3f} m2 K/W)", subject, change);
    return fmt::format("{} {} R-{:.1f} ({:.2f} m2 K/W)", subject, change > 0.0 ? "add" : "take away", r,
                       std::abs(change));
}

Tread* tread_called(Worth& worth, const char* name) {
    const auto found = std::find_if(worth.stair.begin(), worth.stair.end(),
                                    [&](const Tread& tread) { return tread.name == name; });
    return found == worth.stair.end() ? nullptr : &*found;
}

void set(Tread* tread, const char* subject, double u_before, double u_after) {
    if (!tread) return;
    tread->r_change = 1.0 / u_after - 1.0 / u_before;
    tread->r_after = 1.0 / u_after;
    tread->u_after = u_after;
    tread->words = words(subject, *tread->r_change);
}

Term term(std::string name, double value, const char* unit, std::string path = {}) {
    return {std::move(name), value, unit, {Origin::Kind::computed, {}, {}, Evidence::none}, std::move(path)};
}

std::string path_of(const Junction& junction) {
    std::string out = "junctions/" + junction.name;
    std::replace(out.begin(), out.end(), ' ', '_');
    return out;
}

// What of the details a drawing of this kind rests on.
std::vector<Term> terms_of(JunctionKind kind, const assembly::Details& told,
                           const std::optional<OpeningMembers>& placed) {
    std::vector<Term> out;
    assembly::Details d = told;
    const Origin counted{Origin::Kind::computed, {}, "members placed in the walls", Evidence::none};
    if (placed && placed->plies > 0) {
        d.header = {placed->header, counted};
        d.header_plies = {placed->plies, counted};
    }
    if (placed && placed->jambs > 0) d.jamb_studs = {placed->jambs, counted};
    const auto add = [&](const char* name, const auto& value, const char* unit) {
        out.push_back({name, static_cast<double>(value.value), unit, value.origin, {}});
    };
    add("thickness of studs and plates", d.member, "m");
    switch (kind) {
        case JunctionKind::outer_corner: add("studs in the corner", d.corner_studs, "-"); break;
        case JunctionKind::inner_corner: break;
        case JunctionKind::partition: add("backing stud, 1 or 0", d.partition_stud, "-"); break;
        case JunctionKind::balcony_ledger: add("height of the ledger", d.ledger, "m"); [[fallthrough]];
        case JunctionKind::rim_joist:
            add("rim board", d.rim_board, "m");
            add("insulated behind it, 1 or 0", d.rim_insulated, "-");
            add("deck", d.deck, "m");
            add("top plates", d.top_plates, "-");
            add("bottom plates", d.bottom_plates, "-");
            break;
        case JunctionKind::sill_slab:
            add("foundation wall", d.stem_wall, "m");
            add("its depth below the ground", d.foundation_depth, "m");
            add("edge insulation", d.edge_insulation, "m");
            break;
        case JunctionKind::sill_basement:
            add("rim board", d.rim_board, "m");
            add("insulated behind it, 1 or 0", d.rim_insulated, "-");
            add("joists", d.joist, "m");
            add("edge insulation", d.edge_insulation, "m");
            break;
        case JunctionKind::sill_crawl_space: add("foundation wall", d.stem_wall, "m"); [[fallthrough]];
        case JunctionKind::exposed_floor:
            add("rim board", d.rim_board, "m");
            add("bottom plates", d.bottom_plates, "-");
            break;
        case JunctionKind::eave:
            add("heel", d.heel, "m");
            add("vent gap", d.vent_gap, "m");
            [[fallthrough]];
        case JunctionKind::gable: add("top plates", d.top_plates, "-"); break;
        case JunctionKind::window_head:
        case JunctionKind::window_jamb:
        case JunctionKind::window_sill:
            if (kind == JunctionKind::window_head) add("header", d.header, "m");
            if (kind == JunctionKind::window_head) add("plies of the header", d.header_plies, "-");
            if (kind == JunctionKind::window_jamb) add("studs at the jamb", d.jamb_studs, "-");
            add("U of the frame", d.frame_u, u_unit);
            add("depth of the frame", d.frame_depth, "m");
            add("width of the frame", d.frame_width, "m");
            add("insulation over the frame", d.frame_lap, "m");
            add("gap at the frame", d.gap, "m");
            break;
    }
    return out;
}

}  // namespace

BuiltParts built_parts(std::span<const Junction> junctions, double area) {
    BuiltParts out;
    for (const Junction& junction : junctions) {
        const double plain = junction.psi_plain.value_or(junction.psi_internal);
        out.wood += (junction.psi_internal - plain) * junction.length / area;
        out.place += plain * junction.length / area;
    }
    return out;
}

void complete(Worth& worth, std::span<const Junction> junctions, double area) {
    const BuiltParts parts = built_parts(junctions, area);
    const double with_wood = worth.field_u + parts.wood, built = with_wood + parts.place;
    worth.built_r = 1.0 / built;
    set(tread_called(worth, "plates and headers"),
        worth.field_share ? "Plates, headers, corners and studs off the module"
                          : "Plates, headers and corner studs",
        worth.clear_u, with_wood);
    set(tread_called(worth, "junctions"), "Corners, floor edges, eaves and window edges", with_wood, built);
}

double junction_heat(std::span<const Junction> junctions) {
    double heat = 0.0;
    for (const Junction& junction : junctions) heat += junction.psi_internal * junction.length;
    return heat;
}

std::vector<Derivation> derive_built(const Worth& worth, std::span<const Junction> junctions, double area,
                                     const assembly::Details& details) {
    std::vector<Derivation> out;
    if (!worth.built_r) return out;
    Derivation built{
        .path = "built_r",
        .equation = worth.field_share ? "R = 1/(U_field + sum of psi l / A), U_field by the placed members"
                                      : "R = 1/(U_clear + sum of psi l / A)",
        .source = "ISO 14683; ISO 10211",
        .value = *worth.built_r,
        .unit = "m2 K/W",
        .note =
            "Internal dimensions. Every junction of the outer walls counts whole for the wall, none for "
            "the neighbour: corners, partitions, rims, edges of openings, sills, eaves and gables."};
    built.terms.push_back(term("clear-field U", worth.clear_u, u_unit, "clear_u"));
    if (worth.field_share)
        built.terms.push_back(
            term("U with the members that stand between junctions", worth.field_u, u_unit, "field_u"));
    built.terms.push_back(term("A, walls without openings", area, "m2"));
    for (const Junction& junction : junctions) {
        built.terms.push_back(term(junction.name + ": psi l", junction.psi_internal * junction.length, "W/K",
                                   path_of(junction)));
        Derivation each{.path = path_of(junction),
                        .equation = "psi = L2D - sum of U l",
                        .source = "ISO 10211:2017",
                        .value = junction.psi_internal,
                        .unit = psi_unit,
                        .note = "Internal dimensions."};
        each.terms = {
            term("L2D, solved in two dimensions", junction.coupling, psi_unit),
            term("sum of U l, windows' own included", junction.coupling - junction.psi_internal, psi_unit),
            term("error of psi", junction.error, psi_unit),
            term("psi, external dimensions", junction.psi_external, psi_unit),
            term("psi, overall internal dimensions", junction.psi_overall, psi_unit),
            term("length", junction.length, "m"),
            term("lowest surface temperature factor, Rsi 0.25", junction.factor, "-"),
            term("indoor humidity at 20 degC that keeps it at 80 %", junction.humidity, "-")};
        if (junction.psi_plain)
            each.terms.push_back(term("psi without the junction's wood", *junction.psi_plain, psi_unit));
        if (junction.factor_glazing)
            each.terms.push_back(term("factor of frame and pane, Rsi 0.13", *junction.factor_glazing, "-"));
        for (auto& term : terms_of(junction.kind, details, junction.opening_members))
            each.terms.push_back(std::move(term));
        for (const auto& note : junction.notes) each.note += " " + note;
        out.push_back(std::move(each));
    }
    out.insert(out.begin(), std::move(built));
    return out;
}

}  // namespace warmside::thermal
