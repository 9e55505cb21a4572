#include "report/dry_files.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <sstream>

#include "climate/calendar.h"
#include "drawing/carpet_figure.h"
#include "drawing/plot.h"
#include "drawing/raster.h"
#include "drawing/svg.h"
#include "drawing/type.h"
#include "moisture/measure.h"
#include "moisture/series.h"
#include "report/mark.h"
#include "report/terminal_parts.h"
#include "report/words.h"

namespace warmside::report {
namespace {

constexpr std::size_t hours_in_day = 24;

std::vector<std::string> words_of(std::string_view text) {
    std::istringstream in{std::string(text)};
    std::vector<std::string> out;
    for (std::string word; in >> word;) out.push_back(word);
    return out;
}

/// "north, framing path, stressed weather": the run's name without the rung's.
std::string run_words(const answer::RungAnswer& rung, std::string_view run) {
    if (run.starts_with(rung.name)) run.remove_prefix(rung.name.size());
    std::string out;
    for (const auto& word : words_of(run)) {
        const bool path = word == "bay" || word == "framing",
                   weather = word == "typical" || word == "stressed";
        // A face may have two words, a slope; the rest stands apart.
        const bool joint = word == "joint";
        if (!out.empty()) out += path || weather || joint ? ", " : " ";
        out += joint ? "at a leaking joint" : word + (path ? " path" : weather ? " weather" : "");
    }
    return out;
}

Result<std::vector<const moisture::History*>> chosen(const answer::RungAnswer& rung, const DryWish& wish) {
    std::vector<const moisture::History*> out;
    const auto wanted = words_of(wish.run);
    std::vector<std::string> names;
    for (const auto& history : *rung.histories) {
        names.push_back(history.name);
        const bool fits = wish.run.empty() ? history.name == rung.carpet_run
                                           : std::all_of(wanted.begin(), wanted.end(), [&](const auto& word) {
                                                 return moisture::has_word(history.name, word);
                                             });
        if (fits) out.push_back(&history);
    }
    if (out.empty())
        return fail(Code::unknown_name, fmt::format("no run of {} has the words \"{}\"; its runs are: {}",
                                                    rung.name, wish.run, fmt::join(names, "; ")));
    return out;
}

std::string from_month(const moisture::History& history) {
    const int month = climate::month_of(history.start_hour % climate::hours_in_year);
    const int years = history.hours / climate::hours_in_year;
    return fmt::format("from {}, {} {}", climate::month_names[static_cast<std::size_t>(month)], years,
                       years == 1 ? "year" : "years");
}

/// As drawing::layer_lines; a layer that the verdict only reports has no limits.
std::vector<drawing::LayerLine> lines_of(const assembly::Assembly& assembly, moisture::Path path,
                                         std::span<const moisture::LayerMoisture> layers,
                                         const answer::RungAnswer& rung) {
    auto lines = drawing::layer_lines(assembly, path, layers);
    for (auto& line : lines) {
        const auto judged = [&](const moisture::Finding& f) {
            return f.layer == line.layer && f.judged && f.criterion == "wood moisture content";
        };
        const auto& findings = rung.verdict ? rung.verdict->findings : std::vector<moisture::Finding>();
        if (std::none_of(findings.begin(), findings.end(), judged)) line.watch = line.wet = 0.0;
    }
    return lines;
}

drawing::Caption caption_of(const answer::RungAnswer& rung, std::string_view what, std::string_view run,
                            std::string_view time) {
    drawing::Caption out;
    out.title = rung.title.empty() ? rung.name : rung.name + ": " + rung.title;
    out.line = pretty(fmt::format("{}; {}; {}", what, run, time));
    if (rung.verdict) {
        out.word = moisture::name_of(rung.verdict->dryness);
        out.accent = rung.verdict->dryness == moisture::Dryness::wet;
    }
    return out;
}

/// Everything of one run.
class RunFiles {
public:
    RunFiles(const assembly::Assembly& assembly, const answer::RungAnswer& rung,
             const moisture::History& history, const DryWish& wish, std::string stem)
        : assembly_(assembly),
          rung_(rung),
          history_(history),
          wish_(wish),
          stem_(std::move(stem)),
          path_(moisture::path_of(history.name)) {}

    Result<std::vector<OutFile>> make() {
        if (auto done = carpet(drawing::Field::relative_humidity, "humidity", "Relative humidity"); !done)
            return fail(done.error());
        if (wish_.temperature) {
            if (auto done = carpet(drawing::Field::temperature, "temperature", "Temperature"); !done)
                return fail(done.error());
        }
        if (auto done = layers(); !done) return fail(done.error());
        if (wish_.tables) tables();
        return std::move(out_);
    }

private:
    [[nodiscard]] drawing::Caption caption(std::string_view what) const {
        return caption_of(rung_, what, run_words(rung_, history_.name), from_month(history_));
    }

    Result<void> carpet(drawing::Field field, std::string_view name, std::string_view what) {
        std::optional<drawing::Mark> mark;
        if (rung_.verdict && field == drawing::Field::relative_humidity) {
            const auto& f = rung_.verdict->deciding;
            mark = mark_of(assembly_, history_.carpet, f, history_.name, history_.hours);
            if (mark)
                mark->words = fmt::format("{} {} at the {}, {}", f.criterion, value_of(f), f.place, f.month);
        }
        const auto sheet = drawing::carpet_figure(
            history_.carpet, assembly_, path_, field, history_.start_hour, history_.hours,
            {.inch_pound_first = wish_.inch_pound_first}, mark, caption(what));
        if (!sheet) return fail(sheet.error());
        return both(name, *sheet);
    }

    Result<void> layers() {
        const auto days = static_cast<int>(static_cast<std::size_t>(history_.hours) / hours_in_day);
        const auto lines = lines_of(assembly_, path_, moisture::layer_means(history_, days), rung_);
        return both("layers",
                    drawing::layer_plot(assembly_, path_, lines, history_.start_hour, history_.hours,
                                        {.inch_pound_first = wish_.inch_pound_first},
                                        caption("Moisture of each layer, daily means")));
    }

    Result<void> both(std::string_view name, drawing::Sheet sheet) {
        sheet.margin = 22.0;
        const std::string path = stem_ + "-" + std::string(name);
        using drawing::Font;
        auto png = drawing::picture(sheet, {.dark = wish_.dark});
        if (!png) return fail(png.error());
        out_.push_back(
            {path + ".svg", drawing::svg(sheet, {.fonts = drawing::font_rules(
                                                     {Font::body, Font::condensed, Font::strong})})});
        out_.push_back({path + ".png", std::move(*png)});
        return {};
    }

    void tables() {
        std::vector<NamedProbe> places;
        for (std::size_t i = 0; i < history_.depths.size(); ++i)
            places.push_back(
                {i < wish_.depths.size() ? wish_.depths[i] : history_.depths[i].name, &history_.depths[i]});
        if (places.empty()) {
            for (const auto& probe : history_.probes) places.push_back({probe.name, &probe});
        }
        out_.push_back({stem_ + "-places.csv", places_csv(history_, places, wish_.interval)});
        out_.push_back({stem_ + "-layers.csv", layers_csv(history_, assembly_, wish_.interval)});
    }

    const assembly::Assembly& assembly_;
    const answer::RungAnswer& rung_;
    const moisture::History& history_;
    const DryWish& wish_;
    std::string stem_;
    moisture::Path path_;
    std::vector<OutFile> out_;
};

/// "+9 %", "-16 %", "5 times" the limit.
std::string short_margin(double margin) {
    if (!std::isfinite(margin)) return {};
    if (margin < -1.0) return fmt::format("{:.0f} times", 1.0 - margin);
    return fmt::format("{:+.0f} %", 100.0 * margin);
}

}  // namespace

std::string file_word(std::string_view name) {
    std::string out;
    for (const char c : name) {
        const bool plain = std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_';
        out += plain ? c : '-';
    }
    return out;
}

Result<std::vector<OutFile>> dry_files(const assembly::House& house, const answer::RungAnswer& rung,
                                       const DryWish& wish) {
    if (!rung.histories || rung.assembly >= house.assemblies.size())
        return fail(Code::incomplete, rung.name + " has no histories");
    const auto runs = chosen(rung, wish);
    if (!runs) return fail(runs.error());
    std::vector<OutFile> out;
    for (const auto* history : *runs) {
        const std::string stem = wish.run.empty() ? rung.name : history->name;
        auto files = RunFiles(house.assemblies[rung.assembly], rung, *history, wish, file_word(stem)).make();
        if (!files) return fail(files.error());
        std::move(files->begin(), files->end(), std::back_inserter(out));
    }
    return out;
}

std::optional<drawing::Sheet> layer_sheet(const assembly::Assembly& assembly, const answer::RungAnswer& rung,
                                          double width, bool inch_pound_first) {
    if (rung.layers.empty() || rung.hours <= 0) return std::nullopt;
    const auto path = moisture::path_of(rung.carpet_run);
    const auto lines = lines_of(assembly, path, rung.layers, rung);
    return drawing::layer_plot(assembly, path, lines, rung.start_hour, rung.hours,
                               {.width = width, .panel = 40.0, .inch_pound_first = inch_pound_first},
                               {.title = "Moisture of each layer",
                                .line = "weekly means; " + run_words(rung, rung.carpet_run),
                                .word = "",
                                .accent = false});
}

std::string verdict_table(const answer::Answer& answer, const Style& style, std::string_view rung) {
    Table table({3});
    table.row({"rung", "dry?", "decided by", "margin", "year", "where"});
    for (const auto& ladder : answer.ladders) {
        for (const auto& it : ladder.rungs) {
            if (!rung.empty() && it.name != rung) continue;
            if (!it.verdict || it.verdict->findings.empty()) {
                table.row({it.name, it.verdict ? moisture::name_of(it.verdict->dryness) : "not judged", "",
                           "", "", it.verdict ? it.verdict->reason : it.verdict_absent});
                continue;
            }
            const auto& f = it.verdict->deciding;
            table.row({it.name, moisture::name_of(it.verdict->dryness), brief(f), short_margin(f.margin),
                       f.first_year ? "first" : "settled", f.place});
        }
    }
    return table.text(2, 1, style);
}

}  // namespace warmside::report
