#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using assembly::House;
using assembly::Roof;
using Form = assembly::Roof::Form;

const Exact none;
// Upper chord of a truss: 2x4, as the maker may choose otherwise (assumed).
constexpr const char* chord = "2x4";
const Exact most_seat = Exact::sixty_fourths_of_inch(224);

int layer_of(const assembly::Assembly& built, const assembly::Framing* framing) {
    for (std::size_t i = 0; i < built.layers.size(); ++i) {
        if (built.layers[i].framing && &*built.layers[i].framing == framing) return static_cast<int>(i);
    }
    return -1;
}

// A ridge or hip is as deep as the plumb cut of the rafters against it (IRC R802.3, seen in excerpt).
void choose_ridge(RoofPlan& p, Problems& notes) {
    const double needed = p.depth.metres() / std::cos(p.pitch);
    for (const char* name : {"2x4", "2x6", "2x8", "2x10", "2x12"}) {
        p.ridge = named_section(*p.house, name);
        p.ridge_lumber = joist_lumber(*p.house);
        if (p.ridge.width.metres() >= needed) return;
    }
    const Exact eighth = Exact::sixty_fourths_of_inch(8);
    const auto steps = static_cast<std::int64_t>(std::ceil(needed / eighth.metres() - 1e-6));
    p.ridge = section_of(p.ridge.thickness, eighth * steps);
    p.ridge_lumber = "laminated veneer lumber";
    const bool has_ridge =
        p.rafters && p.plan.rectangle && (p.roof->form == Form::gable || p.roof->form == Form::hip);
    if (!has_ridge) return;
    notes.push_back(
        note(fmt::format("roof {}: no 2x is as deep as the plumb cut of {} rafters, {}; the ridge is taken "
                         "as laminated veneer lumber",
                         p.roof->name, p.section.name, units::inches(needed)),
             p.where()));
}

void choose_rafters(RoofPlan& p) {
    const Roof& roof = *p.roof;
    p.spacing = roof.spacing;
    const bool own = !roof.over_attic && p.covering;
    const auto* framing = own ? assembly::main_framing(*p.covering) : nullptr;
    if (framing && (framing->member == roof.member || !p.rafters)) {
        p.section = section_of(*framing);
        p.thick = framing->width;
        p.depth = framing->depth;
        p.lumber = framing->kind == assembly::Framing::Kind::solid ? joist_lumber(*p.house) : "I-joist";
    } else {
        p.section = named_section(*p.house, p.rafters ? roof.member : chord);
        p.thick = p.section.thickness;
        p.depth = p.section.width;
        p.lumber = joist_lumber(*p.house);
    }
    if (framing) {
        p.layer = layer_of(*p.covering, framing);
        for (int i = 0; i < p.layer; ++i) p.low += p.covering->layers[static_cast<std::size_t>(i)].thickness;
        p.top = p.low + std::max(p.depth, p.covering->layers[static_cast<std::size_t>(p.layer)].thickness);
    } else {
        p.top = p.low + p.depth;
    }
}

std::optional<RoofPlan> plan_roof(const House& house, const assembly::Assembly& wall, const Roof& roof,
                                  Problems& notes) {
    RoofPlan p{.house = &house, .wall = &wall, .roof = &roof, .storey = assembly::storey_under(house, roof)};
    if (!p.storey) return std::nullopt;
    auto plan = plan_of(house, *p.storey, wall);
    if (!plan) {
        notes.push_back(
            note(fmt::format("roof {}: an edge of the outline does not run along an axis; the roof is not "
                             "framed",
                             roof.name),
                 p.where()));
        return std::nullopt;
    }
    p.plan = std::move(*plan);
    p.built = assembly::built_as(house, roof);
    p.rafters = roof.structure == Roof::Structure::rafters;
    p.pitch = roof.form == Form::flat ? 0.0 : roof.pitch;
    p.overhang = roof.overhang > none ? p.plan.beyond + roof.overhang : none;
    p.covering = roof.over_attic ? house.find(roof.deck) : p.built;
    const auto build = build_of(wall);
    p.seat = std::min(build ? build->bearer().depth.size() : most_seat, most_seat);
    choose_rafters(p);
    if (p.depth <= none || p.spacing <= p.thick) return std::nullopt;
    choose_ridge(p, notes);
    return p;
}

// The ceiling under an attic: trusses or ceiling joists, strapping, lining, membrane.
class Ceiling {
public:
    explicit Ceiling(const RoofPlan& plan) : p_(plan) {
        const Field& f = p_.plan.whole;
        const auto* framing = p_.built ? assembly::main_framing(*p_.built) : nullptr;
        layer_ = framing ? layer_of(*p_.built, framing) : -1;
        for (int i = 0; i < layer_; ++i) low_ += p_.built->layers[static_cast<std::size_t>(i)].thickness;
        panel_ = Panel{.kind = Panel::Kind::ceiling,
                       .name = (p_.roof->over_attic ? "ceiling " : "trusses ") + p_.roof->name,
                       .assembly = p_.built && p_.roof->over_attic ? p_.built->name : "",
                       .storey = p_.storey->name,
                       .from = none,
                       .length = f.u.size(),
                       .height = f.v.size(),
                       .opaque_from = p_.plan.inside.u.low - f.u.low,
                       .opaque_length = p_.plan.inside.u.size(),
                       .origin = {f.u.low.metres(), f.v.low.metres(), (p_.plate() - low_).metres()},
                       .u = {1, 0, 0},
                       .v = {0, 1, 0},
                       .w = {0, 0, 1}};
        // The span runs from eave to eave.
        const Side eave = p_.roof->form == Form::hip ? (f.u.size() >= f.v.size() ? Side::south : Side::west)
                                                     : eaves_of(p_).front();
        axis_ = eave == Side::south || eave == Side::north ? 1 : 0;
        span_ = {none, axis_ == 1 ? f.v.size() : f.u.size()};
        ridge_ = {none, axis_ == 1 ? f.u.size() : f.v.size()};
    }

    Panel build(Problems& notes) {
        if (p_.plan.rectangle) p_.rafters ? joists() : trusses(notes);
        layers();
        mark_members(panel_);
        return std::move(panel_);
    }

private:
    Member* stick(Role role, const Section& section, const std::string& lumber, const Interval& along,
                  const Interval& beside, const Interval& w, bool on_span, int layer) {
        const int axis = on_span ? axis_ : 1 - axis_;
        return axis == 0 ? put(panel_, role, section, lumber, along, beside, w, 0, layer)
                         : put(panel_, role, section, lumber, beside, along, w, 1, layer);
    }

    // Height of the roof over the plate, of a truss at `at` along the ridge.
    Exact height(Exact at) const {
        const Exact heel = Exact::nearest(p_.house->details.heel.value);
        double level = half(span_.size()).metres();
        if (p_.roof->form == Form::shed) level = span_.size().metres();
        if (p_.roof->form == Form::hip) level = std::min(level, std::min(at, ridge_.high - at).metres());
        return heel + Exact::nearest(level * std::tan(p_.pitch));
    }

    void trusses(Problems& notes) {
        const auto places = centres(ridge_, p_.spacing, p_.spacing, p_.thick);
        for (const Exact at : places) {
            const bool end = at == places.front() || at == places.back();
            const bool hip = p_.roof->form == Form::hip;
            const Exact stepped = std::min(at, ridge_.high - at);
            if (hip && end) continue;
            const Exact high = height(at);
            const char* name = hip && stepped < half(span_.size()) ? "hip truss"
                               : end                               ? "gable truss"
                                                                   : "truss";
            const Exact left = at - half(p_.thick);
            stick(Role::truss, {name, p_.thick, high}, "ordered", span_, {left, left + p_.thick},
                  {low_, low_ + high}, true, layer_);
        }
        if (p_.roof->form == Form::hip) {
            notes.push_back(
                note(fmt::format("roof {}: trusses of the hip ends count as stepped trusses at the spacing; "
                                 "their maker settles girders and jacks",
                                 p_.roof->name),
                     p_.where()));
        }
    }

    // Beside each rafter; they tie the walls.
    void joists() {
        const auto* framing = layer_ >= 0 ? assembly::main_framing(*p_.built) : nullptr;
        const Section section = framing ? section_of(*framing) : named_section(*p_.house, "2x6");
        const Exact t = framing ? framing->width : section.thickness,
                    d = framing ? framing->depth : section.width;
        const Exact middle = half(span_.size());
        const bool split = p_.house->practice.bearing_line.value;
        Exact taken = none - t;
        for (const Exact at : centres(ridge_, p_.spacing, p_.spacing, p_.thick)) {
            const bool last = at + half(p_.thick) + t > ridge_.high;
            const Exact left = last ? at - half(p_.thick) - t : at + half(p_.thick);
            if (left < taken) continue;
            taken = left + t;
            std::vector<Interval> parts{span_};
            if (split) parts = {{span_.low, middle}, {middle, span_.high}};
            for (const Interval& part : parts) {
                stick(Role::ceiling_joist, section, joist_lumber(*p_.house), part, {left, left + t},
                      {low_, low_ + d}, true, layer_);
            }
        }
    }

    void layers() {
        if (!p_.built || !p_.roof->over_attic) return;
        const Field &in = p_.plan.inside, &frame = p_.plan.whole;
        const Field field{{in.u.low - frame.u.low, in.u.high - frame.u.low},
                          {in.v.low - frame.v.low, in.v.high - frame.v.low}};
        std::vector<Field> parts;
        for (const Field& strip : strips_of(p_.plan.outline, 0)) {
            // Between the inside faces as far as the strip meets them.
            parts.push_back({{std::max(strip.u.low - frame.u.low, field.u.low),
                              std::min(strip.u.high - frame.u.low, field.u.high)},
                             {std::max(strip.v.low - frame.v.low, field.v.low),
                              std::min(strip.v.high - frame.v.low, field.v.high)}});
        }
        Exact at;
        for (std::size_t i = 0; i < p_.built->layers.size(); ++i) {
            const auto& layer = p_.built->layers[i];
            const Interval w{at, at + layer.thickness};
            at = w.high;
            const int index = static_cast<int>(i);
            for (const Field& part : parts) {
                if (is_sheet(layer)) lay_sheets(*p_.house, panel_, index, part, w, 1 - axis_);
                if (layer.membrane) lay_runs(*p_.house, panel_, index, part, w);
                if (layer.framing && index != layer_) strapping(index, *layer.framing, part, w);
            }
        }
    }

    void strapping(int index, const assembly::Framing& framing, const Field& field, const Interval& w) {
        const bool on_span = framing.run == assembly::Run::vertical;
        const Interval& span = axis_ == 0 ? field.u : field.v;
        const Interval& ridge = axis_ == 0 ? field.v : field.u;
        const Interval &length = on_span ? span : ridge, &across = on_span ? ridge : span;
        if (framing.spacing <= none) return;
        for (const Exact at : centres(across, across.low + framing.spacing, framing.spacing, framing.width)) {
            const Exact left = at - half(framing.width);
            for (const Interval& piece : pieces_of(length, {})) {
                stick(Role::furring, section_of(framing), joist_lumber(*p_.house), piece,
                      {left, left + framing.width}, {w.low, w.low + framing.depth}, on_span, index);
            }
        }
    }

    const RoofPlan& p_;
    Panel panel_;
    int layer_ = -1, axis_ = 1;
    Exact low_;
    Interval span_, ridge_;
};

void say_what_is_left_out(const RoofPlan& p, Problems& notes) {
    notes.push_back(
        note(fmt::format("roof {}: fascia, barge boards, bracing of trusses and ties against uplift are not "
                         "listed",
                         p.roof->name),
             p.where()));
    if (p.rafters && !p.roof->over_attic && (p.roof->form == Form::gable || p.roof->form == Form::hip)) {
        notes.push_back(
            note(fmt::format("roof {}: no ceiling joists tie the walls, so the ridge is a beam that carries "
                             "half the roof; an engineer sizes it and its posts",
                             p.roof->name),
                 p.where()));
    }
    if (!p.covering) {
        notes.push_back(
            note(fmt::format("roof {}: no deck is named; its sheets are taken as 7/16 in OSB", p.roof->name),
                 p.where()));
    }
}

}  // namespace

Result<std::vector<Panel>> frame_roofs(const House& house, const assembly::Assembly& wall, Problems& notes) {
    std::vector<Panel> panels;
    for (const Roof& roof : house.roofs) {
        const auto plan = plan_roof(house, wall, roof, notes);
        if (!plan) continue;
        // Trusses without an attic are counted likewise; their lining lies on the slope.
        if (roof.over_attic || !plan->rafters) panels.push_back(Ceiling(*plan).build(notes));
        if (!plan->plan.rectangle) {
            notes.push_back(
                note(fmt::format("roof {}: the outline of storey {} is not a rectangle; its trusses or "
                                 "rafters and its deck are not placed",
                                 roof.name, plan->storey->name),
                     plan->where()));
            continue;
        }
        frame_slopes(*plan, panels, notes);
        frame_gable_walls(*plan, panels, notes);
        say_what_is_left_out(*plan, notes);
    }
    return panels;
}

}  // namespace warmside::framing
