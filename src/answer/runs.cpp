#include "answer/runs.h"

#include <algorithm>
#include <fmt/format.h>

#include "answer/setting.h"
#include "climate/calendar.h"
#include "leakage/wind.h"
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

Result<Plan> Plan::make(const assembly::House& house, const assembly::Assembly& a,
                        const std::vector<FaceCase>& faces, const Surroundings& around) {
    using assembly::Part;
    Plan plan;
    plan.house_ = &house;
    plan.assembly_ = &a;
    plan.faces_ = &faces;
    plan.around_ = &around;
    for (std::size_t i = 0; i < faces.size(); ++i)
        if (faces[i].stressed) plan.tried_.push_back(i);
    if (a.part != Part::wall && a.part != Part::roof && a.part != Part::ceiling) return plan;
    for (const FaceCase& face : faces) {
        auto flow =
            leakage::air_flow(house, a, a.part == Part::ceiling ? climate::Plane{0.0, 0.0} : face.plane,
                              face.stressed ? around.pressures_stressed : around.pressures_typical);
        if (!flow) return fail(std::move(flow).error());
        plan.air_.push_back(std::move(*flow));
    }
    for (const std::size_t i : plan.tried_)
        if (!faces[plan.windiest_].stressed ||
            plan.air_[i].outward_winter > plan.air_[plan.windiest_].outward_winter)
            plan.windiest_ = i;
    return plan;
}

moisture::Run Plan::run(std::size_t index, moisture::Path path, Air air) const {
    const FaceCase& face = (*faces_)[index];
    moisture::Run run;
    run.name = fmt::format("{} {} {}{} {}", assembly_->name, face.name, moisture::name_of(path),
                           air == Air::joint ? " joint" : "", face.stressed ? "stressed" : "typical");
    run.assembly = assembly_;
    run.path = path;
    run.outside = &face.outside;
    run.beyond = face.beyond.get();
    run.inside = face.stressed ? &around_->indoor_stressed : &around_->indoor_typical;
    run.start_hour = climate::first_hour_of(start_month(*house_));
    run.rain_leak = rain_leak_of(*assembly_);
    run.wind_share = leakage::wind_share(house_->air.terrain, around_->pressures_typical.envelope.eaves);
    if (air != Air::none && leaks()) {
        run.air_flow_by_hour = air == Air::joint ? &air_[index].concentrated : &air_[index].spread;
        run.air_past_lining = air == Air::joint;
    }
    run.mesh = path == moisture::Path::bay ? (bay_.pieces.empty() ? nullptr : &bay_)
                                           : (framing_.pieces.empty() ? nullptr : &framing_);
    return run;
}

std::vector<moisture::Run> Plan::pilots() const {
    std::vector<moisture::Run> out;
    for (const std::size_t i : tried_) out.push_back(run(i, moisture::Path::bay, Air::spread));
    if (has_structural_framing(*assembly_) && !tried_.empty())
        out.push_back(run(tried_.front(), moisture::Path::framing, Air::none));
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
        const bool always = (*faces_)[tried_[k]].always;
        if (!always && left == 0) continue;
        if (!always) --left;
        chosen_.push_back(tried_[k]);
    }
}

std::vector<moisture::Run> Plan::runs() const {
    using moisture::Path;
    std::vector<moisture::Run> out;
    // A joint leaks into the open: an attic takes the air of the whole ceiling.
    if (leaks() && assembly_->part != assembly::Part::ceiling && !chosen_.empty()) {
        out.push_back(run(chosen_.front(), Path::bay, Air::joint));
        if (windiest_ != chosen_.front()) out.push_back(run(windiest_, Path::bay, Air::joint));
    }
    const bool framed = has_structural_framing(*assembly_);
    for (auto harsh = chosen_.rbegin(); harsh != chosen_.rend(); ++harsh) {
        const FaceCase& face = (*faces_)[*harsh];
        const bool worst = *harsh == chosen_.front();
        for (std::size_t i = 0; i < faces_->size(); ++i) {  // the same face in typical weather
            if ((*faces_)[i].name != face.name || (*faces_)[i].stressed) continue;
            if (framed && (worst || face.always)) out.push_back(run(i, Path::framing, Air::none));
            out.push_back(run(i, Path::bay, Air::spread));
        }
        if (framed) out.push_back(run(*harsh, Path::framing, Air::none));
        out.push_back(run(*harsh, Path::bay, Air::spread));
    }
    return out;
}

std::string Plan::faces_in_words() const {
    std::string words;
    for (const std::size_t i : chosen_) words += (words.empty() ? "" : " and ") + (*faces_)[i].name;
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

moisture::Basis Plan::basis() const {
    const assembly::House& house = *house_;
    const assembly::Assembly& a = *assembly_;
    const Surroundings& around = *around_;
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
    basis.air_leakage_run = leaks();
    basis.air = leaks() ? air_.front().assumes : "no air passes through it";
    return basis;
}

}  // namespace warmside::answer
