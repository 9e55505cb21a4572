#include "report/csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "climate/calendar.h"
#include "moisture/measure.h"
#include "moisture/potential.h"
#include "moisture/series.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

constexpr int first_calendar_year = 2001;

/// Ends of the rows: time and date.
void begin_row(Csv& csv, const moisture::History& history, std::size_t row, const Interval& interval) {
    const auto each = static_cast<int>(interval.samples) * history.probe_every;
    const int end = std::min(static_cast<int>(row + 1) * each, history.hours);
    csv.cell(fmt::format("{}", end)).cell(date_of(history.start_hour, end));
}

std::size_t rows_of(const moisture::History& history, const Interval& interval) {
    const auto samples = static_cast<std::size_t>(history.hours / std::max(history.probe_every, 1));
    return (samples + interval.samples - 1) / interval.samples;
}

/// The four quantities of one place, cut into rows.
struct Columns {
    std::vector<float> temperature, humidity, pressure, moisture;
};

Columns columns_of(const moisture::Probe& probe, std::size_t each) {
    std::vector<float> pressure(probe.temperature.size());
    for (std::size_t i = 0; i < pressure.size(); ++i)
        pressure[i] =
            static_cast<float>(static_cast<double>(probe.relative_humidity[i]) *
                               moisture::saturation_pressure(static_cast<double>(probe.temperature[i])));
    return {moisture::means_of_each(probe.temperature, each),
            moisture::means_of_each(probe.relative_humidity, each), moisture::means_of_each(pressure, each),
            moisture::means_of_each(probe.moisture, each)};
}

}  // namespace

Csv& Csv::cell(std::string_view text) {
    if (!first_) text_ += ',';
    first_ = false;
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
        text_ += text;
        return *this;
    }
    text_ += '"';
    for (const char c : text) {
        if (c == '"') text_ += '"';
        text_ += c;
    }
    text_ += '"';
    return *this;
}

Csv& Csv::cell(double value, int decimals) {
    if (!first_) text_ += ',';
    first_ = false;
    if (!std::isfinite(value)) return *this;
    const std::size_t begin = text_.size();
    fmt::format_to(std::back_inserter(text_), "{:.{}f}", value, decimals);
    // Nothing is left of a small negative number but its sign.
    if (text_.find_first_not_of("-0.", begin) == std::string::npos && text_[begin] == '-')
        text_.erase(begin, 1);
    return *this;
}

void Csv::end_row() {
    text_ += "\r\n";
    first_ = true;
}

std::string date_of(int start_hour, int hours) {
    const int all = start_hour + hours, year = all / climate::hours_in_year,
              hour = all % climate::hours_in_year;
    const int month = climate::month_of(hour), within = hour - climate::first_hour_of(month);
    return fmt::format("{:04}-{:02}-{:02}T{:02}:00", first_calendar_year + year, month + 1, within / 24 + 1,
                       within % 24);
}

std::string places_csv(const moisture::History& history, const std::vector<NamedProbe>& places,
                       const Interval& interval) {
    Csv csv;
    csv.cell("time since start (h)").cell("date");
    std::vector<Columns> columns;
    for (const auto& place : places) {
        csv.cell(place.name + " temperature (degC)")
            .cell(place.name + " relative humidity (%)")
            .cell(place.name + " vapour pressure (Pa)");
        if (!place.probe->moisture.empty()) csv.cell(place.name + " water content (kg/m3)");
        columns.push_back(columns_of(*place.probe, interval.samples));
    }
    csv.end_row();
    for (std::size_t row = 0; row < rows_of(history, interval); ++row) {
        begin_row(csv, history, row, interval);
        for (const auto& place : columns) {
            csv.cell(units::celsius(static_cast<double>(place.temperature[row])), 3)
                .cell(100.0 * static_cast<double>(place.humidity[row]), 3)
                .cell(static_cast<double>(place.pressure[row]), 2);
            if (!place.moisture.empty()) csv.cell(static_cast<double>(place.moisture[row]), 4);
        }
        csv.end_row();
    }
    return csv.take();
}

std::string layers_csv(const moisture::History& history, const assembly::Assembly& assembly,
                       const Interval& interval) {
    Csv csv;
    csv.cell("time since start (h)").cell("date");
    std::vector<std::vector<float>> columns;
    for (const auto& layer : history.layers) {
        const std::string name = fmt::format(
            "layer {} {}", layer.layer + 1,
            layer.layer < assembly.layers.size() ? assembly.layers[layer.layer].title() : std::string());
        csv.cell(name + ", mean (kg/m3)").cell(name + ", wettest 10 mm (kg/m3)");
        columns.push_back(moisture::means_of_each(layer.moisture, interval.samples));
        columns.push_back(moisture::means_of_each(layer.wettest, interval.samples));
    }
    csv.end_row();
    for (std::size_t row = 0; row < rows_of(history, interval); ++row) {
        begin_row(csv, history, row, interval);
        for (const auto& column : columns) csv.cell(static_cast<double>(column[row]), 4);
        csv.end_row();
    }
    return csv.take();
}

std::string verdicts_csv(const answer::Answer& answer) {
    Csv csv;
    for (const char* head : {"part", "rung", "title", "verdict", "criterion", "place", "value", "unit",
                             "dry ends at", "wet begins at", "margin (%)", "hours since start", "week",
                             "month", "year of the run", "run", "reason"})
        csv.cell(head);
    csv.end_row();
    const auto limit = [](double value) { return value > 0.0 ? value : std::nan(""); };
    for (const auto& ladder : answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            csv.cell(assembly::name_of(ladder.part)).cell(rung.name).cell(rung.title);
            if (!rung.verdict || rung.verdict->findings.empty()) {
                csv.cell(rung.verdict ? moisture::name_of(rung.verdict->dryness) : "not judged");
                for (int i = 0; i < 12; ++i) csv.cell("");
                csv.cell(rung.verdict ? rung.verdict->reason : rung.verdict_absent);
                csv.end_row();
                continue;
            }
            const auto& f = rung.verdict->deciding;
            csv.cell(moisture::name_of(rung.verdict->dryness))
                .cell(f.criterion)
                .cell(f.place)
                .cell(f.value, 4);
            csv.cell(f.unit)
                .cell(limit(f.watch_limit), 4)
                .cell(limit(f.wet_limit), 4)
                .cell(100.0 * f.margin, 1);
            csv.cell(fmt::format("{}", f.hour)).cell(fmt::format("{}", f.week)).cell(f.month);
            csv.cell(f.first_year ? "first" : "settled").cell(f.run).cell(rung.verdict->reason);
            csv.end_row();
        }
    }
    return csv.take();
}

}  // namespace warmside::report
