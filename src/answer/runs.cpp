#include "answer/runs.h"

#include <algorithm>
#include <fmt/format.h>

#include "answer/setting.h"
#include "climate/calendar.h"
#include "moisture/measure.h"

namespace warmside::answer {

bool is_wall_like(const assembly::Assembly& a) {
    return a.part == assembly::Part::wall;
}

std::string outside_the_model(const assembly::House& house, const assembly::Assembly& a) {
    return setting_of(house, a).absent;
}

namespace {

bool has_structural_framing(const assembly::Assembly& a) {
    return std::any_of(a.layers.begin(), a.layers.end(), [](const assembly::Layer& layer) {
        return layer.framing && layer.kind == assembly::Layer::Kind::material;
    });
}

/// 0 to 11.
int start_month(const assembly::House& house) {
    return static_cast<int>(std::clamp(house.start_month, 1.0, 12.0)) - 1;
}

/// ASHRAE 160 gives its 1 % for walls; a roof leaks only where the house file says so.
double rain_leak_of(const assembly::Assembly& a) {
    const bool stated = a.rain_leak_origin.kind == Origin::Kind::house_file;
    return is_wall_like(a) || stated ? a.rain_leak : 0.0;
}

}  // namespace

Plan::Plan(const assembly::House& house, const assembly::Assembly& a, const std::vector<FaceCase>& faces,
           const Surroundings& around)
    : house_(&house), assembly_(&a), faces_(&faces), around_(&around) {
    for (std::size_t i = 0; i < faces.size(); ++i)
        if (faces[i].stressed) tried_.push_back(i);
}

moisture::Run Plan::run(const FaceCase& face, moisture::Path path) const {
    moisture::Run run;
    run.name = fmt::format("{} {} {} {}", assembly_->name, face.name, moisture::name_of(path),
                           face.stressed ? "stressed" : "typical");
    run.assembly = assembly_;
    run.path = path;
    run.outside = &face.outside;
    run.beyond = face.beyond.get();
    run.inside = face.stressed ? &around_->indoor_stressed : &around_->indoor_typical;
    run.start_hour = climate::first_hour_of(start_month(*house_));
    run.rain_leak = rain_leak_of(*assembly_);
    return run;
}

std::vector<moisture::Run> Plan::pilots() const {
    std::vector<moisture::Run> out;
    for (const std::size_t i : tried_) out.push_back(run((*faces_)[i], moisture::Path::bay));
    if (has_structural_framing(*assembly_) && !tried_.empty())
        out.push_back(run((*faces_)[tried_.front()], moisture::Path::framing));
    return out;
}

void Plan::choose(std::span<const moisture::Pilot> pilots, const moisture::Thresholds& limits) {
    const auto bays = pilots.first(std::min(tried_.size(), pilots.size()));
    bay_ = moisture::finest(bays);
    framing_ = moisture::finest(pilots.subspan(bays.size()));
    std::vector<std::pair<double, std::size_t>> ranked;
    for (std::size_t k = 0; k < bays.size(); ++k)
        ranked.emplace_back(moisture::worst_severity(*assembly_, bays[k].history, limits), k);
    std::stable_sort(ranked.begin(), ranked.end(),
                     [](const auto& x, const auto& y) { return x.first > y.first; });
    chosen_.clear();
    const bool other_kinds =
        std::any_of(tried_.begin(), tried_.end(), [&](std::size_t i) { return (*faces_)[i].always; });
    std::size_t left = other_kinds ? 1 : 2;
    for (const auto& [severity, k] : ranked) {
        const FaceCase& face = (*faces_)[tried_[k]];
        if (!face.always && left == 0) continue;
        if (!face.always) --left;
        chosen_.push_back(face.name);
    }
}

std::vector<moisture::Run> Plan::runs() const {
    std::vector<moisture::Run> out;
    for (auto name = chosen_.rbegin(); name != chosen_.rend(); ++name) {
        for (const FaceCase& face : *faces_) {
            if (face.name != *name) continue;
            for (const auto path : {moisture::Path::framing, moisture::Path::bay}) {
                if (path == moisture::Path::framing && !has_structural_framing(*assembly_)) continue;
                out.push_back(run(face, path));
                out.back().mesh = path == moisture::Path::bay ? &bay_ : &framing_;
            }
        }
    }
    return out;
}

std::string Plan::faces_in_words() const {
    std::string words;
    for (const auto& name : chosen_) words += (words.empty() ? "" : " and ") + name;
    if (tried_.size() > chosen_.size()) words += fmt::format(", the worst of {} faces", tried_.size());
    return words;
}

namespace {

std::string rain_in_words(const assembly::Assembly& a, const Surroundings& around,
                          const moisture::Basis& basis) {
    using assembly::Part;
    if (!basis.rain_known) return "the weather has no rain: driving rain and its leak are not considered";
    if (is_wall_like(a))
        return fmt::format(
            "{:.3g} % of the driving rain leaks to the outer side of the water layer ({} face: {:.0f} kg/m2 "
            "a year "
            "reach the wall)",
            100.0 * basis.rain_leak, around.summary.wettest_face, around.wall_rain);
    if (a.part == Part::basement_wall)
        return "driving rain wets the strip above grade; none leaks into the wall";
    if (a.part == Part::floor || a.part == Part::slab) return "no rain reaches the floor";
    if (basis.rain_leak > 0.0)
        return fmt::format("{:.3g} % of the rain on the roof leaks to the outer side of the water layer",
                           100.0 * basis.rain_leak);
    return "the roofing keeps all rain out";
}

}  // namespace

moisture::Basis basis_of(const assembly::House& house, const assembly::Assembly& a,
                         const Surroundings& around) {
    moisture::Basis basis;
    basis.stressed_year_run = true;
    basis.rain_leak = rain_leak_of(a);
    const climate::Stress stress;  // the amounts that `surroundings` stresses by
    basis.weather = fmt::format(
        "the weather of {}, typical and stressed ({:g} K colder, {:g} points damper, rain x {:g})",
        around.summary.place, stress.cooling, 100.0 * stress.humidity_rise, stress.rain_factor);
    basis.indoor = around.indoor_typical.assumes;
    basis.start = fmt::format("closed in {} with materials at their usual built-in moisture",
                              climate::month_names[static_cast<std::size_t>(start_month(house))]);
    basis.rain_known = !is_wall_like(a) || around.wall_rain > 0.0;
    basis.rain = rain_in_words(a, around, basis);
    const Setting setting = setting_of(house, a);
    basis.beyond = setting.words;
    basis.air = "no air leaks through the assembly: the airtight layer must be tight";
    return basis;
}

}  // namespace warmside::answer
