#include "drawing/axes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "climate/calendar.h"
#include "climate/year.h"
#include "drawing/hatch.h"
#include "drawing/type.h"
#include "moisture/measure.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr double month_size = 9.5, year_size = 10.5;

std::string year_words(int year, int years) {
    if (years > 2 && year + 1 == years) return "settled year";
    return year == 0 ? "first year" : fmt::format("year {}", year + 1);
}

/// How many letters of each month's name fit between the ticks, one length for all: 3, 1 or 0.
std::size_t letters_that_fit(const std::vector<MonthTick>& months, double right) {
    for (const std::size_t length : {std::size_t{3}, std::size_t{1}}) {
        bool fits = true;
        for (std::size_t i = 0; i < months.size() && fits; ++i) {
            const double end = i + 1 < months.size() ? months[i + 1].x : right;
            const std::string name = climate::month_names[static_cast<std::size_t>(months[i].month)];
            // A month cut off by the end of the run goes without.
            if (i + 1 == months.size() && end <= months[i].x) break;
            fits = width_of(name.substr(0, length), Font::condensed, month_size) + 3.0 <= end - months[i].x;
        }
        if (fits) return length;
    }
    return 0;
}

}  // namespace

std::vector<double> round_ticks(double least, double most, int wanted) {
    if (!std::isfinite(least) || !std::isfinite(most) || !(most > least) || wanted < 1) return {};
    const double rough = (most - least) / wanted, power = std::pow(10.0, std::floor(std::log10(rough)));
    double step = 10.0 * power;
    for (const double factor : {5.0, 2.0, 1.0}) {
        if (factor * power >= rough * 0.999) step = factor * power;
    }
    std::vector<double> out;
    for (double k = std::ceil(least / step - 1e-9); k * step <= most + 1e-9 * step; ++k)
        out.push_back(k == 0.0 ? 0.0 : k * step);
    return out;
}

std::vector<double> spread(std::vector<double> wanted, double gap, double least, double most) {
    if (wanted.empty()) return wanted;
    if (wanted.size() > 1) gap = std::min(gap, (most - least) / static_cast<double>(wanted.size() - 1));
    // Neighbours that are too close are pooled and stand evenly about the mean of what they want.
    struct Pool {
        double sum;  // of wanted place minus the place within the pool
        std::size_t count;
        double start;
    };
    std::vector<Pool> pools;
    const auto settle = [&](Pool& pool) {
        const double length = gap * static_cast<double>(pool.count - 1);
        pool.start =
            std::clamp(pool.sum / static_cast<double>(pool.count), least, std::max(least, most - length));
    };
    for (const double place : wanted) {
        pools.push_back({place, 1, 0.0});
        settle(pools.back());
        while (pools.size() > 1) {
            Pool &before = pools[pools.size() - 2], &last = pools.back();
            if (before.start + gap * static_cast<double>(before.count) <= last.start + 1e-9) break;
            before.sum += last.sum - gap * static_cast<double>(before.count * last.count);
            before.count += last.count;
            pools.pop_back();
            settle(pools.back());
        }
    }
    std::vector<double> out;
    for (const Pool& pool : pools) {
        for (std::size_t k = 0; k < pool.count; ++k) out.push_back(pool.start + gap * static_cast<double>(k));
    }
    return out;
}

double TimeAxis::x(double hour) const {
    return hours > 0 ? left + (right - left) * std::clamp(hour / hours, 0.0, 1.0) : left;
}

std::vector<MonthTick> month_ticks(const TimeAxis& axis) {
    std::vector<MonthTick> out;
    const int start = axis.start_hour % climate::hours_in_year;
    for (int year = 0; axis.hours > 0; ++year) {
        for (int month = 0; month < 12; ++month) {
            const int hour = year * climate::hours_in_year + climate::first_hour_of(month) - start;
            if (hour > axis.hours) return out;
            if (hour >= 0) out.push_back({axis.x(hour), hour, month});
        }
    }
    return out;
}

void draw_time_axis(std::vector<Item>& items, const TimeAxis& axis, double y) {
    Group group{.title = "months", .part = "time axis"};
    auto& out = group.items;
    const Stroke fine{.ink = Ink::quiet, .width = 0.6};
    out.emplace_back(Line{{axis.left, y}, {axis.right, y}, fine});
    const auto months = month_ticks(axis);
    const std::size_t letters = letters_that_fit(months, axis.right);
    for (std::size_t i = 0; i < months.size(); ++i) {
        out.emplace_back(Line{{months[i].x, y}, {months[i].x, y + 3.0}, fine});
        const double end = i + 1 < months.size() ? months[i + 1].x : axis.right;
        if (letters == 0 || end <= months[i].x) continue;
        out.emplace_back(
            Text{.at = {0.5 * (months[i].x + end), y + 12.5},
                 .text = std::string(climate::month_names[static_cast<std::size_t>(months[i].month)])
                             .substr(0, letters),
                 .anchor = Anchor::middle,
                 .font = Font::condensed,
                 .size = month_size,
                 .ink = Ink::quiet});
    }
    const int years = (axis.hours + climate::hours_in_year - 1) / climate::hours_in_year;
    for (int year = 0; year < years; ++year) {
        const double from = axis.x(year * climate::hours_in_year),
                     to = axis.x((year + 1) * climate::hours_in_year);
        out.emplace_back(Line{{from, y}, {from, y + 29.0}, fine});
        const auto words = fitted(year_words(year, years), Font::condensed, year_size, to - from - 6.0);
        out.emplace_back(
            Text{.at = {from + 5.0, y + 27.0}, .text = words, .font = Font::condensed, .size = year_size});
    }
    add(items, std::move(group));
}

std::string layer_words(const assembly::Assembly& assembly, moisture::Path path, std::size_t layer) {
    if (layer >= assembly.layers.size()) return {};
    const auto& l = assembly.layers[layer];
    if (path == moisture::Path::framing && l.framing && l.framing->material) {
        const auto wood = moisture::wood_on(assembly, path);
        if (wood[layer] == l.framing->material) {
            return l.framing->member.empty() ? l.framing->material->name : l.framing->member + " framing";
        }
    }
    return l.title();
}

double depth_y(const assembly::Assembly& assembly, const Box& box, double depth) {
    const double thickness = assembly.thickness().metres();
    return box.bottom() - (thickness > 0.0 ? box.height * std::clamp(depth / thickness, 0.0, 1.0) : 0.0);
}

Group strip(const assembly::Assembly& assembly, moisture::Path path, const Box& box) {
    Group group{.title = "the layers to scale, inside at the bottom", .part = "strip"};
    const auto wood = moisture::wood_on(assembly, path);
    double depth = 0.0;
    std::vector<Item> sheets;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const auto& layer = assembly.layers[i];
        const double bottom = depth_y(assembly, box, depth);
        depth += layer.thickness.metres();
        const double top = depth_y(assembly, box, depth);
        const bool solid = layer.kind == assembly::Layer::Kind::material && layer.material;
        if (layer.thickness.count() > 0) {
            const Box band{box.x, top, box.width, bottom - top};
            const bool member = path == moisture::Path::framing && layer.framing && wood[i] &&
                                wood[i] == layer.framing->material;
            const std::string word = solid ? layer.material->hatch : std::string();
            if (member) {
                add(group.items, crossed(band, Ink::quiet));
            } else {
                const bool large = word == "batt" || word == "board" || word == "foam";
                group.items.emplace_back(rectangle(band, ground_of(word)));
                add(group.items, hatch(word, band, large ? Ink::hairline : Ink::quiet));
            }
            group.items.emplace_back(rectangle(band, Ink::none, {.ink = Ink::ink, .width = 0.5}));
        }
        if (layer.airtight) {
            sheets.emplace_back(
                Line{{box.x - 5.0, bottom}, {box.right() + 5.0, bottom}, {.ink = Ink::accent, .width = 1.8}});
        } else if (layer.kind == assembly::Layer::Kind::membrane) {
            sheets.emplace_back(Line{
                {box.x, bottom}, {box.right(), bottom}, {.ink = Ink::ink, .width = 1.0, .dash = {4.0, 2.0}}});
        }
    }
    group.items.emplace_back(rectangle(box, Ink::none, {.ink = Ink::ink, .width = 1.0}));
    for (auto& sheet : sheets) group.items.push_back(std::move(sheet));
    return group;
}

std::string length_words(double metres, bool inch_pound_first) {
    return inch_pound_first ? units::inches(metres) : units::millimetres(metres);
}

}  // namespace warmside::drawing
