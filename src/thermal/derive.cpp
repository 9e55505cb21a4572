// How each figure came about: equation, clause, inputs with their Origin.
#include <algorithm>
#include <fmt/format.h>

#include "thermal/stair.h"
#include "thermal/worth.h"

namespace warmside::thermal {

using assembly::Assembly;
using assembly::Layer;

namespace {

const Origin iso{Origin::Kind::standard, {}, "ISO 6946:2017", Evidence::memory};
const Origin handbook{
    Origin::Kind::standard, {}, "ASHRAE Handbook Fundamentals 2021, ch. 26 and 27", Evidence::seen};
const Origin computed{Origin::Kind::computed, {}, {}, Evidence::none};
constexpr const char* r_unit = "m2 K/W";
constexpr const char* u_unit = "W/(m2 K)";

// Another result as a term.
Term result(const char* name, double value, const char* unit, const char* path) {
    return {name, value, unit, computed, path};
}

Term layer_term(std::size_t i, const LayerWorth& layer) {
    return {layer.title, layer.resistance, r_unit, layer.origin, fmt::format("layers/{}", i + 1)};
}

Origin label_origin(const Layer& layer) {
    if (layer.label_r) return layer.origin;
    return material::origin_of(*layer.material, "label");
}

class Writer {
public:
    Writer(const Assembly& assembly, const Conditions& conditions, const Worth& worth)
        : assembly_(assembly),
          conditions_(conditions),
          worth_(worth),
          films_(iso_films(heat_flow(assembly.tilt, conditions.inside >= conditions.outside))) {}

    std::vector<Derivation> all() {
        label();
        limits();
        clear();
        handbook_limits();
        face();
        code();
        for (std::size_t i = 0; i < worth_.layers.size(); ++i) layer(i);
        for (const Tread& tread : worth_.stair) stair(tread);
        return std::move(out_);
    }

private:
    Derivation& add(std::string path, std::string equation, std::string source, double value,
                    const char* unit) {
        out_.push_back({std::move(path), std::move(equation), std::move(source), value, unit, {}, {}});
        return out_.back();
    }

    void label() {
        Derivation& d =
            add("label_r", "sum of the package R of insulation layers", "", worth_.label_r, r_unit);
        d.note = "Package R is tested at 24 degC; no framing, board, air space or film is in it.";
        for (std::size_t i = 0; i < assembly_.layers.size(); ++i) {
            if (worth_.layers[i].label == 0.0) continue;
            d.terms.push_back({worth_.layers[i].title,
                               worth_.layers[i].label,
                               r_unit,
                               label_origin(assembly_.layers[i]),
                               {}});
        }
    }

    void add_films(Derivation& d) const {
        d.terms.push_back({"inside film", films_.inside, r_unit, iso, {}});
        d.terms.push_back({"outside film, to open air", films_.outside, r_unit, iso, {}});
        d.terms.push_back({"inside air", conditions_.inside, "K", {}, {}});
        d.terms.push_back({"outside air", conditions_.outside, "K", {}, {}});
    }

    void add_layers(Derivation& d) const {
        for (std::size_t i = 0; i < worth_.layers.size(); ++i) {
            const LayerWorth& layer = worth_.layers[i];
            d.terms.push_back(layer_term(i, layer));
            const auto& framing = assembly_.layers[i].framing;
            if (!framing || !layer.framing_resistance) continue;
            const Origin& origin = framing->origin;
            d.terms.push_back(
                {layer.title + ": through the member", *layer.framing_resistance, r_unit, origin, {}});
            d.terms.push_back({layer.title + ": share of members", layer.framing_share, "-", origin, {}});
        }
    }

    void limits() {
        Derivation& upper = add("upper_r", "1/R'_T = sum over paths of share / R of the path, air to air",
                                "ISO 6946:2017 6.7.2.3", worth_.upper_r, r_unit);
        upper.note = "Vertical and horizontal members cross with the product of their shares.";
        add_films(upper);
        add_layers(upper);
        Derivation& lower = add("lower_r", "R''_T = Rsi + sum over layers of 1/(sum of share / R) + Rse",
                                "ISO 6946:2017 6.7.2.4", worth_.lower_r, r_unit);
        add_films(lower);
        add_layers(lower);
    }

    void clear() {
        if (worth_.clear_dimensions > 0) {
            Derivation& r = add("clear_r", "R = 1/(U of the cell + sum of n chi + air voids)",
                                "conduction over the repeating cell; ISO 10211:2017 for the method",
                                worth_.clear_r, r_unit);
            r.note = fmt::format("{}. {}.", worth_.clear_method, worth_.iso_words);
            r.terms = {result("U of the repeating cell", worth_.cell_u, u_unit, "cell_u"),
                       result("fasteners, sum of n chi", worth_.fastener_u, u_unit, "fastener_u"),
                       result("air voids", worth_.void_u, u_unit, "")};
            cell();
            fasteners();
        } else {
            Derivation& r = add("clear_r", "R = 1/(2/(R'_T + R''_T) + Delta U)",
                                "ISO 6946:2017 6.7.2 and annex F", worth_.clear_r, r_unit);
            r.note = fmt::format("{}. Relative error at most {:.1f} %.", worth_.clear_method,
                                 100.0 * worth_.relative_error);
            r.terms = {result("clear-field R by ISO 6946", worth_.iso_clear_r, r_unit, "iso_clear_r")};
        }
        add("clear_u", "U = 1/R", "", worth_.clear_u, u_unit).terms = {
            result("clear-field R", worth_.clear_r, r_unit, "clear_r")};
        iso_clear();
        correction();
    }

    void cell() {
        Derivation& d =
            add("cell_u", "U = L/A: heat through the cell a kelvin of difference, over its face",
                "finite volumes with films, refined until the flow is known to 0.1 %", worth_.cell_u, u_unit);
        d.note = worth_.clear_dimensions == 1
                     ? "Nothing is framed: the layers add up."
                     : fmt::format(
                           "{}D, {} cells, relative error {:.2f} %. The piece of the face "
                           "that repeats, "
                           "no heat crosses its sides.",
                           worth_.clear_dimensions, worth_.clear_cells, 100.0 * worth_.cell_error);
        add_films(d);
        add_layers(d);
    }

    void fasteners() {
        Derivation& d =
            add("fastener_u", "sum of n chi", "axisymmetric cell of the face that one fastener serves",
                worth_.fastener_u, u_unit);
        if (worth_.fasteners.empty()) d.note = "No fasteners are stated in a layer that counts.";
        for (const FastenerWorth& f : worth_.fasteners) {
            const std::string& title = worth_.layers[f.layer].title;
            const Origin& origin = assembly_.layers[f.layer].fasteners->origin;
            d.terms.push_back({title + ": fasteners", f.per_area, "1/m2", origin, {}});
            d.terms.push_back({title + ": chi of one", f.chi, "W/K", computed, {}});
            d.terms.push_back(
                {title + ": Delta U by ISO 6946 annex F, before its 3 % rule", f.iso_u, u_unit, iso, {}});
        }
    }

    void iso_clear() {
        Derivation& r = add("iso_clear_r", "R = 1/(2/(R'_T + R''_T) + Delta U)",
                            "ISO 6946:2017 6.7.2 and annex F", worth_.iso_clear_r, r_unit);
        r.note = fmt::format("A second opinion. Relative error of the method at most {:.1f} %.",
                             100.0 * worth_.relative_error);
        r.terms = {result("upper limit R'_T", worth_.upper_r, r_unit, "upper_r"),
                   result("lower limit R''_T", worth_.lower_r, r_unit, "lower_r"),
                   result("Delta U", worth_.correction_u, u_unit, "correction_u")};
    }

    void correction() {
        Derivation& d =
            add("correction_u",
                "Delta U = (voids + 0.8 k A n / d) (R1/R_T,h)^2 summed over layers, nothing below 3 % of U",
                "ISO 6946:2017 annex F", worth_.correction_u, u_unit);
        for (std::size_t i = 0; i < assembly_.layers.size(); ++i) {
            const Layer& layer = assembly_.layers[i];
            const std::string& title = worth_.layers[i].title;
            if (layer.void_level != 0)
                d.terms.push_back(
                    {title + ": air void level", double(layer.void_level), "-", layer.origin, {}});
            if (!layer.fasteners) continue;
            const assembly::Fasteners& f = *layer.fasteners;
            d.terms.push_back({title + ": fasteners", f.per_area, "1/m2", f.origin, {}});
            d.terms.push_back({title + ": section of one", f.cross_section, "m2", f.origin, {}});
            d.terms.push_back({title + ": conductivity of one", f.conductivity, "W/(m K)", f.origin, {}});
        }
        if (d.terms.empty()) d.note = "No fasteners and no air voids are stated.";
    }

    void handbook_limits() {
        Derivation& parallel = add("parallel_r", "parallel path, repeating members",
                                   "ASHRAE Handbook Fundamentals ch. 27", worth_.parallel_r, r_unit);
        parallel.note = "Handbook films and air spaces, package R, other layers at 24 degC.";
        handbook_terms(parallel);
        Derivation& planes = add("isothermal_r", "isothermal planes, repeating members",
                                 "ASHRAE Handbook Fundamentals ch. 27", worth_.isothermal_r, r_unit);
        planes.note = parallel.note;
        handbook_terms(planes);
    }

    void handbook_terms(Derivation& d) const {
        const auto states = handbook_states(assembly_);
        if (!states) return;
        const Origin film{
            Origin::Kind::standard, {}, "ASHRAE Handbook Fundamentals, surface films", Evidence::memory};
        d.terms.push_back({"inside film", states->films.inside, r_unit, film, {}});
        d.terms.push_back({"outside film", states->films.outside, r_unit, film, {}});
        for (std::size_t i = 0; i < states->layers.size(); ++i) {
            const Layer& layer = assembly_.layers[i];
            const LayerState& state = states->layers[i];
            const Origin& origin = layer.kind == Layer::Kind::air ? handbook
                                   : worth_.layers[i].label > 0.0 ? label_origin(layer)
                                                                  : worth_.layers[i].origin;
            d.terms.push_back({worth_.layers[i].title, state.resistance(), r_unit, origin, {}});
            if (!layer.framing) continue;
            const Origin& member = layer.framing->origin;
            const std::string& title = worth_.layers[i].title;
            d.terms.push_back(
                {title + ": through the member", through_member(layer, state), r_unit, member, {}});
            d.terms.push_back(
                {title + ": share of members", worth_.layers[i].framing_share, "-", member, {}});
        }
    }

    void face() {
        Derivation& r =
            add("face_r",
                "R = 1/(1/(Q R_cell) + sum of n chi + air voids), Q = combined ISO 6946 R with a share "
                "P = (F - s)/(1 - s) of the face wood through every structural layer, over that without",
                "ISO 6946:2017 6.7.2; framing fraction", worth_.face_r, r_unit);
        r.terms.push_back(result("clear-field R", worth_.clear_r, r_unit, "clear_r"));
        if (worth_.framing_fraction > 0.0) {
            r.terms.push_back({"framing fraction F of the whole face",
                               worth_.framing_fraction,
                               "-",
                               worth_.framing_origin,
                               {}});
            Derivation& f =
                add("framing_fraction",
                    worth_.field_share ? "area of all members in the structural layer over the net face"
                                       : "published share of studs, plates, sills and headers",
                    worth_.framing_origin.source, worth_.framing_fraction, "-");
            if (worth_.published_fraction)
                f.terms.push_back({"published fraction",
                                   *worth_.published_fraction,
                                   "-",
                                   worth_.field_share ? Origin{} : worth_.framing_origin,
                                   {}});
            if (worth_.field_share) field();
        } else {
            r.note =
                "No published fraction for this framing or part: the face counts repeating members only.";
        }
    }

    void field() {
        Derivation& d =
            add("field_u",
                "clear-field U with the share f of placed members between junctions in place of the "
                "module's s: P = (f - s)/(1 - s) of the face wood, by ISO 6946 combined R",
                "ISO 6946:2017 6.7.2; placed members", worth_.field_u, u_unit);
        d.terms.push_back(result("clear-field U", worth_.clear_u, u_unit, "clear_u"));
        d.terms.push_back({"share f", *worth_.field_share, "-", worth_.framing_origin, {}});
    }

    void code() {
        if (worth_.code_u == 0.0) return;
        Derivation& d = add("code_u", "U = sum over paths of share / R of the path, air to air",
                            "ASHRAE Handbook Fundamentals ch. 27, parallel path", worth_.code_u, u_unit);
        d.note = worth_.code_note;
        handbook_terms(d);
        if (worth_.framing_fraction > 0.0) {
            d.terms.push_back({"framing fraction of the whole face",
                               worth_.framing_fraction,
                               "-",
                               worth_.framing_origin,
                               {}});
        }
    }

    void layer(std::size_t i) {
        const LayerWorth& w = worth_.layers[i];
        const Layer& from = assembly_.layers[i];
        const std::string path = fmt::format("layers/{}", i + 1);
        if (from.kind == Layer::Kind::air) {
            Derivation& d = add(path, "R = 1/(h_a + E h_r0)", "ISO 6946:2017 annex D", w.resistance, r_unit);
            d.note = w.note;
            d.terms = {{"thickness", w.thickness, "m", from.origin, {}},
                       {"emissivity, inner face", from.emissivity_inside, "-", from.origin, {}},
                       {"emissivity, outer face", from.emissivity_outside, "-", from.origin, {}},
                       {"mean temperature", w.mean_temperature, "K", computed, {}}};
            return;
        }
        if (from.kind == Layer::Kind::membrane) {
            add(path, "R = 0", "", 0.0, r_unit).note = w.note;
            return;
        }
        Derivation& d = add(path, "R = d/k, k = k_test exp(f (T - T_test))",
                            "ISO 6946:2017 6.7.1; ISO 10456:2007", w.resistance, r_unit);
        d.note = w.note;
        const material::Material& m = *from.material;
        d.terms = {
            {"thickness", w.thickness, "m", from.origin, {}},
            {"conductivity as tested", m.conductivity, "W/(m K)", material::origin_of(m, "conductivity"), {}},
            {"test temperature", m.test_temperature, "K", material::origin_of(m, "test_temperature"), {}},
            {"temperature factor f",
             m.temperature_factor,
             "1/K",
             material::origin_of(m, "temperature_factor"),
             {}},
            {"mean temperature", w.mean_temperature, "K", computed, {}},
            {"conductivity in use", w.conductivity, "W/(m K)", w.origin, {}}};
        if (from.label_r)
            d.terms.push_back({"package R in the file", *from.label_r, r_unit, from.origin, {}});
    }

    void stair(const Tread& tread) {
        std::string path = "stair/" + tread.name;
        std::replace(path.begin(), path.end(), ' ', '_');
        Derivation& d = add(std::move(path), "R after the tread less R before it", "",
                            tread.r_change.value_or(0.0), r_unit);
        d.note = tread.words;
        d.terms = {result("R after the tread", tread.r_after, r_unit, ""),
                   result("U after the tread", tread.u_after, u_unit, "")};
        if (!tread.r_change) d.note += ". The value is not known, not zero.";
    }

    const Assembly& assembly_;
    const Conditions& conditions_;
    const Worth& worth_;
    Films films_;
    std::vector<Derivation> out_;
};

}  // namespace

std::vector<Derivation> derive(const Assembly& assembly, const Conditions& conditions, const Worth& worth) {
    return Writer(assembly, conditions, worth).all();
}

}  // namespace warmside::thermal
