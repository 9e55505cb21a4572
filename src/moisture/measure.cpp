#include "moisture/measure.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "moisture/criteria.h"
#include "moisture/decay.h"
#include "moisture/mould.h"
#include "moisture/path.h"

namespace warmside::moisture {

namespace {

using material::Material;
using material::MouldClass;

constexpr double hour = 3600.0;
constexpr double least_index = 0.01;  // of the original model, worth a line
constexpr double still = 0.005;       // of an index from one year to the next
constexpr double same_place = 5e-4;   // m: two depths that are one surface

struct Year {
    std::size_t begin = 0, end = 0;  // samples
};

/// First year, the year before the last, and the last.
struct Calendar {
    std::size_t samples_in_year = 0, years = 0;
    double sample = 0.0;  // s
    explicit Calendar(const History& h)
        : samples_in_year(static_cast<std::size_t>(climate::hours_in_year / h.probe_every)),
          years(static_cast<std::size_t>(h.hours / climate::hours_in_year)),
          sample(h.probe_every * hour) {}
    [[nodiscard]] Year year(std::size_t k) const { return {k * samples_in_year, (k + 1) * samples_in_year}; }
    /// Whether year k is the settled one of a run that has it.
    [[nodiscard]] bool ends_settled(std::size_t k, const History& h) const {
        return k + 1 == years && years >= 3 && h.settled;
    }
    [[nodiscard]] std::size_t samples(double duration) const {
        return std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(duration / sample)));
    }
};

/// Index of the outermost water-resistive layer: from its outer side on, water is meant to run off.
std::size_t water_layer(const assembly::Assembly& a) {
    for (std::size_t i = a.layers.size(); i-- > 0;)
        if (a.layers[i].water) return i;
    return a.layers.size();
}

/// First layer of what stands in the weather and is reported only: a wall's outermost ventilated cavity and
/// all beyond, else a last layer beyond the water-resistive one. On roofs the panel over a cavity carries
/// load and is judged.
std::size_t cladding_begins(const assembly::Assembly& a) {
    const bool wall = a.part == assembly::Part::wall || a.part == assembly::Part::basement_wall;
    for (std::size_t i = a.layers.size(); wall && i-- > 0;)
        if (a.layers[i].ventilated()) return i;
    return water_layer(a) + 1 < a.layers.size() ? a.layers.size() - 1 : a.layers.size();
}

double outer_depth(const assembly::Assembly& a, std::size_t layer) {
    double depth = 0.0;
    for (std::size_t i = 0; i <= layer; ++i) depth += a.layers[i].thickness.metres();
    return depth;
}

/// The materials that meet at a probe: its own layer's and, at an interface, those on both sides.
struct Meeting {
    std::optional<MouldClass> most_sensitive;
    bool wood = false;
};

Meeting meeting_at(const std::vector<Segment>& path, const Probe& probe) {
    Meeting out;
    double inner = 0.0;
    for (const Segment& segment : path) {
        const double outer = inner + segment.thickness;
        const bool holds = segment.layer == probe.layer && probe.depth > inner - same_place &&
                           probe.depth < outer + same_place;
        const bool touches =
            std::abs(inner - probe.depth) < same_place || std::abs(outer - probe.depth) < same_place;
        if ((holds || touches) && segment.material) {
            const Material& m = *segment.material;
            out.most_sensitive = std::min(out.most_sensitive.value_or(m.mould), m.mould);
            out.wood = out.wood || holds_wood(m);
        }
        inner = outer;
    }
    return out;
}

/// The path through the assembly and the layers beyond its outer face.
std::vector<Segment> whole_path(const assembly::Assembly& a, Path path, const History& history) {
    std::vector<std::string> notes;  // the solver's, already in its history
    auto out = path_through(a, path, notes);
    if (history.space > 0.0)
        out.push_back(
            {.kind = Segment::Kind::cavity, .layer = a.layers.size() - 1, .thickness = history.space});
    for (std::size_t k = 0; k < history.beyond.size(); ++k) {
        const assembly::Layer& layer = history.beyond[k];
        out.push_back({.layer = a.layers.size() + k,
                       .material = layer.kind == assembly::Layer::Kind::material ? layer.material : nullptr,
                       .thickness = layer.thickness.metres()});
    }
    return out;
}

/// Which places stand in the weather, so that they are reported and not judged.
class Reported {
public:
    Reported(const assembly::Assembly& a, const History& history)
        : own_(a.layers.size()),
          cladding_(cladding_begins(a)),
          water_(water_layer(a)),
          far_water_(own_ + history.beyond.size()),
          outside_(history.sheltered || a.layers.empty() ? 1e9 : outer_depth(a, a.layers.size() - 1)) {
        for (std::size_t k = history.beyond.size(); k-- > 0;)
            if (history.beyond[k].water) far_water_ = own_ + k;
    }
    // Beyond a space the deck is judged, what sheds water over it is not.
    [[nodiscard]] bool judges(std::size_t layer) const {
        return layer < own_ ? layer < cladding_ : layer < far_water_;
    }
    // ASHRAE 160-2016 leaves out the outer face of the envelope; behind a ventilated cladding the
    // cavity's side is critical too with little consequence (greenland-9-houses).
    [[nodiscard]] bool judges(const Probe& probe) const {
        return judges(probe.layer) && probe.depth < outside_ - same_place;
    }
    [[nodiscard]] bool inside_of_water(std::size_t layer) const {
        return layer < own_ ? layer < water_ : layer < far_water_;
    }

private:
    std::size_t own_, cladding_, water_, far_water_;
    double outside_;
};

/// Takes the worst of each year from `of_year(k)` and adds first and settled year.
template <class OfYear>
void add_years(const Calendar& calendar, const History& history, Measured base, std::vector<Measured>& out,
               OfYear of_year) {
    double before = 0.0;
    for (std::size_t k = 0; k < calendar.years; ++k) {
        const Worst worst = of_year(k, base);
        const bool settled = k + 1 == calendar.years;
        if ((k == 0 || settled) && worst.found) {
            base.first_year = k == 0;
            base.value = worst.value;
            base.rise = settled ? worst.value - before : 0.0;
            base.hour = worst.sample * static_cast<std::size_t>(history.probe_every);
            out.push_back(base);
        }
        before = worst.value;
    }
}

void measure_sensitive(const Probe& probe, const Meeting& meeting, const Calendar& calendar,
                       const History& history, const Thresholds& limits, Measured base,
                       std::vector<Measured>& out) {
    const double hours = calendar.sample / hour;
    const auto in_year = [&](const std::vector<float>& series, std::size_t k) {
        return std::span<const float>(series).subspan(calendar.year(k).begin, calendar.samples_in_year);
    };
    const auto add_index = [&](Criterion criterion, MouldSurface mould, bool judged) {
        Measured row = base;
        row.criterion = criterion;
        row.judged = judged;
        double rise = 0.0, peak = 0.0;
        add_years(calendar, history, row, out, [&](std::size_t k, Measured& now) {
            auto at = mould.march(in_year(probe.temperature, k), in_year(probe.relative_humidity, k), hours);
            rise = mould.peak() - peak;
            peak = mould.peak();
            // The settled year comes back until the index no longer rises, or to the horizon.
            int year = static_cast<int>(k) + 1;
            for (; calendar.ends_settled(k, history) && rise > still && year < limits.settled_years; ++year) {
                at = mould.march(in_year(probe.temperature, k), in_year(probe.relative_humidity, k), hours);
                rise = mould.peak() - peak;
                peak = mould.peak();
            }
            if (year > static_cast<int>(k) + 1)
                now.detail = fmt::format("in year {}, the settled one repeated", year);
            return Worst{peak, calendar.year(k).begin + at, true};
        });
        if (!out.empty() && !out.back().first_year) out.back().rise = rise;
    };
    add_index(Criterion::mould_index,
              MouldSurface({.sensitivity = meeting.most_sensitive.value_or(MouldClass::sensitive),
                            .decline = limits.mould_decline,
                            .below_freezing = limits.below_freezing}),
              base.judged);
    if (meeting.wood && base.judged) {
        const auto before = static_cast<std::ptrdiff_t>(out.size());
        add_index(Criterion::original_mould_index, MouldSurface(original_mould_model(limits.below_freezing)),
                  false);
        const auto bare = [](const Measured& m) { return m.value < least_index; };
        if (std::all_of(out.begin() + before, out.end(), bare)) out.erase(out.begin() + before, out.end());
    }

    if (meeting.wood) {
        DecaySurface decay;
        base.criterion = Criterion::decay;
        add_years(calendar, history, base, out, [&](std::size_t k, Measured& row) {
            const auto at =
                decay.march(in_year(probe.temperature, k), in_year(probe.relative_humidity, k), hours);
            row.mass_loss = decay.mass_loss();
            return Worst{decay.peak(), calendar.year(k).begin + at, true};
        });
        base.mass_loss = 0.0;
    }

    base.criterion = Criterion::surface_humidity;
    base.judged = false;
    add_years(calendar, history, base, out, [&](std::size_t k, Measured&) {
        const Year year = calendar.year(k);
        return worst_surface_humidity(probe.temperature, probe.relative_humidity,
                                      calendar.samples(limits.humidity_average), year.begin, year.end,
                                      limits.coldest, limits.warmest);
    });
}

void measure_frost(const FrostLayer& layer, const Calendar& calendar, const History& history,
                   const Thresholds& limits, Measured base, std::vector<Measured>& out) {
    base.criterion = Criterion::freeze_thaw;
    const bool concrete = layer.material && layer.material->family == "concrete";
    const FrostLimits at{
        .frost = limits.frost,
        .hard_frost = limits.hard_frost,
        .thaw = limits.thaw,
        .critical = concrete ? limits.critical_saturation_concrete : limits.critical_saturation};
    FrostCount count;
    add_years(calendar, history, base, out, [&](std::size_t k, Measured& row) {
        const Year year = calendar.year(k);
        count_cycles(layer.temperature, layer.saturation, at, year.begin, year.end, count);
        row.detail = fmt::format(
            "{} of them under {:g} degC; {} cycles at any saturation; fullest while frozen {:.0f} % of the "
            "pores; "
            "critical {:.0f} %, {}; a closed pore is full at {:.1f} %",
            count.hard_and_wet, limits.hard_frost - 273.15, count.all, 100.0 * count.fullest,
            100.0 * at.critical, concrete ? "from memory" : "assumed", 100.0 * limits.full_saturation);
        return Worst{static_cast<double>(count.wet), count.fullest_sample, true};
    });
}

void measure_free_water(const FreeWater& water, const Calendar& calendar, const History& history,
                        const Thresholds& limits, Measured base, std::vector<Measured>& out) {
    if (water.mass.empty()) return;
    base.criterion = Criterion::condensed_water;
    add_years(calendar, history, base, out, [&](std::size_t k, Measured& row) {
        const Year year = calendar.year(k);
        const auto most = std::max_element(water.mass.begin() + static_cast<std::ptrdiff_t>(year.begin),
                                           water.mass.begin() + static_cast<std::ptrdiff_t>(year.end));
        const double mass = static_cast<double>(*most);
        row.detail =
            mass > limits.clings
                ? fmt::format("{:.2f} kg/m2 of it more than an upright surface holds: it would run off",
                              mass - limits.clings)
                : std::string();
        return Worst{mass, static_cast<std::size_t>(most - water.mass.begin()), true};
    });
}

void measure_wood(const LayerMoisture& layer, const Material& wood, const Calendar& calendar,
                  const History& history, const Thresholds& limits, Measured base,
                  std::vector<Measured>& out) {
    base.criterion = Criterion::wood_moisture;
    add_years(calendar, history, base, out, [&](std::size_t k, Measured&) {
        const Year year = calendar.year(k);
        Worst worst =
            worst_running_mean(layer.wettest, calendar.samples(limits.wood_average), year.begin, year.end);
        worst.value /= wood.density;
        return worst;
    });
}

}  // namespace

const Limit& limit_of(const Thresholds& t, Criterion criterion) {
    switch (criterion) {
        case Criterion::mould_index: return t.mould_index;
        case Criterion::wood_moisture: return t.wood_moisture;
        case Criterion::decay: return t.decay;
        case Criterion::condensate: return t.condensate;
        case Criterion::condensed_water: return t.condensed_water;
        case Criterion::freeze_thaw: return t.freeze_thaw;
        case Criterion::original_mould_index: return t.mould_index;
        case Criterion::surface_humidity: break;
    }
    return t.surface_humidity;
}

double severity(double value, const Limit& limit) {
    // Asked this way round so that NaN counts as the worst.
    if (value < limit.watch) return value / limit.watch;
    if (limit.wet <= 0.0) return 2.0 - limit.watch / value;
    if (value < limit.wet) return 1.0 + (value - limit.watch) / (limit.wet - limit.watch);
    return 1.0 + value / limit.wet;
}

bool has_word(std::string_view name, std::string_view word) {
    for (auto at = name.find(word); at != std::string_view::npos; at = name.find(word, at + 1)) {
        const auto after = at + word.size();
        if ((at == 0 || name[at - 1] == ' ') && (after == name.size() || name[after] == ' ')) return true;
    }
    return false;
}

Path path_of(std::string_view name) {
    return has_word(name, "framing") ? Path::framing : Path::bay;
}

std::vector<const Material*> wood_on(const assembly::Assembly& a, Path path,
                                     std::span<const assembly::Layer> beyond) {
    std::vector<std::string> notes;  // the solver's, already in its history
    std::vector<const Material*> out(a.layers.size(), nullptr);
    for (const Segment& segment : path_through(a, path, notes))
        if (segment.material && holds_wood(*segment.material)) out[segment.layer] = segment.material;
    for (const assembly::Layer& layer : beyond)
        out.push_back(layer.material && holds_wood(*layer.material) ? layer.material : nullptr);
    return out;
}

bool holds_wood(const Material& m) {
    return m.is_wood || m.family == "wood" || (m.family == "panel" && m.mould <= MouldClass::sensitive);
}

void measure(const assembly::Assembly& a, const History& history, std::size_t run, const Thresholds& limits,
             std::vector<Measured>& out) {
    const std::size_t first = out.size();
    const Calendar calendar(history);
    const Path path = path_of(history.name);
    const auto segments = whole_path(a, path, history);
    const auto wood = wood_on(a, path, history.beyond);
    const Reported reported(a, history);
    for (const Probe& probe : history.probes) {
        Measured base{.run = run, .layer = probe.layer, .place = probe.name};
        base.judged = reported.judges(probe);
        if (probe.sensitive)
            measure_sensitive(probe, meeting_at(segments, probe), calendar, history, limits, base, out);
        base.criterion = Criterion::condensate;
        base.judged = base.judged && reported.inside_of_water(probe.layer);
        add_years(calendar, history, base, out, [&](std::size_t k, Measured&) {
            const Year year = calendar.year(k);
            Worst spell = longest_spell(probe.relative_humidity, static_cast<float>(limits.condensate_level),
                                        year.begin, year.end);
            spell.value *= calendar.sample;
            spell.found = true;
            return spell;
        });
    }
    for (const FrostLayer& layer : history.frost) {
        const Measured base{
            .run = run, .layer = layer.layer, .place = layer.name, .judged = reported.judges(layer.layer)};
        measure_frost(layer, calendar, history, limits, base, out);
    }
    for (const FreeWater& water : history.free_water) {
        // Rain and dew wet the cladding and the outermost face; that is no condensate.
        const bool outermost =
            !history.sheltered && water.layer + 1 == a.layers.size() && water.name.starts_with("outer");
        if (!reported.judges(water.layer) || !reported.inside_of_water(water.layer) || outermost) continue;
        const Measured base{.run = run, .layer = water.layer, .place = water.name};
        measure_free_water(water, calendar, history, limits, base, out);
    }
    for (const LayerMoisture& layer : history.layers) {
        const Material* m = wood[layer.layer];
        if (!m) continue;
        const Measured base{
            .run = run, .layer = layer.layer, .judged = reported.judges(layer.layer), .wood = m};
        measure_wood(layer, *m, calendar, history, limits, base, out);
    }
    const bool assumed = has_word(history.name, "joint");
    for (std::size_t i = first; assumed && i < out.size(); ++i) out[i].assumed = true;
}

double severity_of(const Measured& m, const Thresholds& limits) {
    const double plain = severity(m.value, limit_of(limits, m.criterion));
    return m.assumed && plain >= 2.0 ? 2.0 - 1e-3 / plain : plain;
}

double worst_severity(const assembly::Assembly& a, const History& history, const Thresholds& limits) {
    std::vector<Measured> all;
    measure(a, history, 0, limits, all);
    double worst = 0.0;
    for (const Measured& m : all)
        if (m.judged) worst = std::max(worst, severity_of(m, limits));
    return worst;
}

}  // namespace warmside::moisture
