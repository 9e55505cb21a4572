#include "moisture/wording.h"

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <vector>

#include "climate/calendar.h"

namespace warmside::moisture {

namespace {

struct Form {
    const char* name;
    const char* unit;
    double per_unit;  // of the SI value
};

Form form_of(Criterion criterion) {
    switch (criterion) {
        case Criterion::mould_index: return {"mould index", "-", 1.0};
        case Criterion::wood_moisture: return {"wood moisture content", "%", 100.0};
        case Criterion::decay: return {"decay", "-", 1.0};
        case Criterion::condensate: return {"condensate", "h", 1.0 / 3600.0};
        case Criterion::condensed_water: return {"condensed water", "kg/m2", 1.0};
        case Criterion::freeze_thaw: return {"freeze-thaw", "cycles", 1.0};
        case Criterion::original_mould_index: return {"mould index, original model", "-", 1.0};
        case Criterion::surface_humidity: break;
    }
    return {"surface humidity", "%", 100.0};
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find(' ', at), text.size());
        if (end > at) words.emplace_back(text.substr(at, end - at));
        at = end + 1;
    }
    return words;
}

/// "w3 north framing stressed" of assembly w3: "north, framing path, stressed".
std::string run_in_words(const std::string& run, const std::string& assembly) {
    std::string out, plain;
    const auto close = [&] {
        if (!plain.empty()) out += (out.empty() ? "" : ", ") + plain;
        plain.clear();
    };
    bool first = true;
    for (const auto& word : words_of(run)) {
        if (std::exchange(first, false) && word == assembly) continue;
        const bool apart =
            word == "bay" || word == "framing" || word == "stressed" || word == "typical" || word == "joint";
        if (apart) close();
        plain += (plain.empty() ? "" : " ") + (word == "joint" ? "at a leaking joint" : word);
        if (word == "bay" || word == "framing") plain += " path";
        if (word == "stressed" || word == "typical") plain += " weather";
        if (apart) close();
    }
    close();
    return out;
}

std::string rounded(double value, int decimals) {
    return fmt::format("{:.{}f}", value, decimals);
}

}  // namespace

int week_of(int hour) {
    return std::min(52, hour % climate::hours_in_year / 168 + 1);
}

std::string month_of(int hour) {
    const int month = climate::month_of(hour % climate::hours_in_year);
    return climate::month_names[static_cast<std::size_t>(month)];
}

std::string figure(double value, const Finding& finding) {
    const int least = finding.unit == "-" ? 1 : finding.unit == "kg/m2" ? 2 : 0;
    for (int decimals = least; decimals < 4; ++decimals) {
        const auto text = rounded(value, decimals);
        const double shown = std::strtod(text.c_str(), nullptr);
        const auto same_side = [&](double limit) {
            return limit <= 0.0 || (shown < limit) == (value < limit);
        };
        if (same_side(finding.watch_limit) && same_side(finding.wet_limit)) return text;
    }
    return rounded(value, 4);
}

Finding put_into_words(const History& history, const Measured& m, const Thresholds& thresholds) {
    const Limit& limit = limit_of(thresholds, m.criterion);
    const Form form = form_of(m.criterion);
    Finding out;
    out.criterion = form.name;
    out.source = limit.source;
    out.run = history.name;
    if (m.place.empty()) {
        out.place = fmt::format("wettest 10 mm of {}", m.wood ? m.wood->name : "the layer");
    } else {
        out.place = std::string(m.place);
    }
    out.layer = m.layer;
    // Asked this way round so that NaN is wet.
    out.dryness = m.value < limit.watch                     ? Dryness::dry
                  : limit.wet <= 0.0 || m.value < limit.wet ? Dryness::watch
                                                            : Dryness::wet;
    if (m.assumed && out.dryness == Dryness::wet) out.dryness = Dryness::watch;
    const double decides = out.dryness == Dryness::wet ? limit.wet : limit.watch;
    out.margin = (decides - m.value) / decides;
    out.value = m.value * form.per_unit;
    out.watch_limit = limit.watch * form.per_unit;
    out.wet_limit = limit.wet * form.per_unit;
    out.rise = m.rise * form.per_unit;
    out.unit = form.unit;
    out.hour = static_cast<int>(m.hour);
    const int of_year = history.start_hour + out.hour;
    out.week = week_of(of_year);
    out.month = month_of(of_year);
    out.first_year = m.first_year;
    out.judged = m.judged;
    out.detail = m.detail;
    return out;
}

std::string sentence(const assembly::Assembly& assembly, const Finding& f) {
    const std::string unit = f.unit == "-" ? "" : " " + f.unit;
    std::string limits = f.wet_limit <= 0.0 ? fmt::format("dry ends at {:g}{}", f.watch_limit, unit)
                                            : fmt::format("dry ends at {:g}{} and wet begins at {:g}{}",
                                                          f.watch_limit, unit, f.wet_limit, unit);
    const auto run = run_in_words(f.run, assembly.name);
    return fmt::format("{} {}{} at the {}, week {} in {} of the {} year{}{} ({}){}{}", f.criterion,
                       figure(f.value, f), unit, f.place, f.week, f.month, f.first_year ? "first" : "settled",
                       run.empty() ? "" : ", ", run, limits, f.detail.empty() ? "" : "; ", f.detail);
}

}  // namespace warmside::moisture
