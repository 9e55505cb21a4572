#include "report/live.h"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/svg.h"
#include "drawing/viridis.h"
#include "report/html_parts.h"
#include "report/json.h"

namespace warmside::report {
namespace {

std::string event(std::string_view name, const Json& data) {
    return fmt::format("event: {}\ndata: {}\n\n", name, dump_line(data));
}

std::string text_of(std::span<const Problem> problems) {
    std::string text;
    for (const auto& p : problems) text += render(p);
    return text;
}

std::string live_document(std::string_view title, std::string_view main, std::string_view problem) {
    std::string table;
    for (const auto colour : drawing::viridis) table += fmt::format("{:06x}", colour);
    const std::string body = fmt::format(
        "<div style=\"max-width:1560px;margin:0 auto;padding:8px 28px "
        "0;display:flex;justify-content:space-between;gap:24px\">"
        "<div id=\"problem\" role=\"alert\">{}</div><div id=\"status\" class=\"quiet\" "
        "role=\"status\">connecting</div></div>\n<main>\n{}</main>\n",
        drawing::escape(problem), main);
    const std::string scripts = fmt::format(
        "<script type=\"application/json\" "
        "id=\"viridis\">\"{}\"</script>\n<script>\n{}</script>\n<script>\n{}</script>\n",
        table, asset("web/report.js"), asset("web/live.js"));
    return document_of(title, body, scripts);
}

}  // namespace

answer::Answer blank(const assembly::House& house, const std::string& only) {
    answer::Answer out;
    out.house = house.name;
    out.place = house.place;
    out.inch_pound_first = house.units != "metric";
    for (const auto& ladder : house.ladders) {
        answer::LadderAnswer row{.part = ladder.part, .rungs = {}};
        for (const auto index : ladder.rungs) {
            const auto& a = house.assemblies.at(index);
            if (!only.empty() && a.name != only) continue;
            answer::RungAnswer rung;
            rung.name = a.name;
            rung.title = a.title;
            rung.assembly = index;
            rung.thickness = a.thickness().metres();
            row.rungs.push_back(std::move(rung));
        }
        if (!row.rungs.empty()) out.ladders.push_back(std::move(row));
    }
    return out;
}

std::string live_page(const assembly::House& house, const answer::Answer* a) {
    const answer::Answer empty = a ? answer::Answer{} : blank(house);
    const Context context{.house = house, .answer = a ? *a : empty, .live = true};
    return live_document(house.name, main_of(context), {});
}

std::string live_page(std::span<const Problem> problems) {
    return live_document("The house file has a problem", "", text_of(problems));
}

Feed::Feed(const assembly::House& house, std::uint64_t generation, int columns, const std::string& rung)
    : house_(house), generation_(generation), columns_(columns), known_(blank(house, rung)) {
    std::size_t count = 0;
    for (const auto& ladder : known_.ladders) count += ladder.rungs.size();
    steady_.assign(count, false);
}

std::string Feed::generation() const {
    Json data;
    data["generation"] = generation_;
    data["rungs"] = Json::array();
    for (const auto& ladder : known_.ladders) {
        for (const auto& rung : ladder.rungs) data["rungs"].push_back(rung.name);
    }
    return event("generation", data);
}

std::string Feed::steady(const answer::RungAnswer& rung) {
    std::size_t index = 0;
    for (auto& ladder : known_.ladders) {
        for (auto& known : ladder.rungs) {
            if (known.name == rung.name && known.assembly == rung.assembly) {
                known = rung;
                steady_[index] = true;
            }
            ++index;
        }
    }
    if (!std::all_of(steady_.begin(), steady_.end(), [](bool there) { return there; })) return {};
    Json data;
    data["generation"] = generation_;
    data["html"] = main_of({.house = house_, .answer = known_, .live = true});
    return event("steady", data);
}

std::string Feed::column(const std::string& rung, int column,
                         std::span<const float> relative_humidity) const {
    std::string bytes(relative_humidity.size(), '\0');
    // The top row of a carpet is the outermost depth.
    std::transform(relative_humidity.rbegin(), relative_humidity.rend(), bytes.begin(), [](float value) {
        return static_cast<char>(
            drawing::viridis_index(static_cast<double>(value), drawing::carpet_least, drawing::carpet_most));
    });
    Json data;
    data["generation"] = generation_;
    data["rung"] = rung;
    data["column"] = column;
    data["columns"] = columns_;
    data["rows"] = relative_humidity.size();
    data["values"] = drawing::base64(bytes);
    return event("column", data);
}

template <class Fill>
std::string Feed::take(const char* name, const answer::RungAnswer& rung, const Fill& fill) {
    Json data;
    data["generation"] = generation_;
    data["rung"] = rung.name;
    data["cells"] = Json::object();
    for (auto& ladder : known_.ladders) {
        for (auto& known : ladder.rungs) {
            if (known.name != rung.name || known.assembly != rung.assembly) continue;
            known = rung;
            const Context context{.house = house_, .answer = known_, .live = true};
            for (auto& [id, html] : fill(context, ladder, known)) data["cells"][id] = html;
        }
    }
    return event(name, data);
}

std::string Feed::priced(const answer::RungAnswer& rung) {
    return take("priced", rung, price_cells);
}

std::string Feed::finished(const answer::RungAnswer& rung) {
    return take("finished", rung, verdict_cells);
}

std::string Feed::finished(const answer::Answer& whole) const {
    Json data;
    data["generation"] = generation_;
    data["rung"] = nullptr;
    data["html"] = main_of({.house = house_, .answer = whole, .live = true});
    return event("finished", data);
}

std::string problem_event(std::uint64_t generation, std::span<const Problem> problems) {
    Json data = problems_json(problems);
    data["generation"] = generation;
    data["text"] = text_of(problems);
    return event("problem", data);
}

}  // namespace warmside::report
