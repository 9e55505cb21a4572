#include "report/elevations.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "drawing/svg.h"
#include "report/html_parts.h"

namespace warmside::report {
namespace {

using drawing::Shown;

constexpr std::array shown_names{std::pair{Shown::frame, std::string_view("frame")},
                                 std::pair{Shown::furring, std::string_view("furring")},
                                 std::pair{Shown::battens, std::string_view("battens")}};

/// `text` as a value in the address of a request.
std::string address_word(std::string_view text) {
    std::string out;
    for (const char ch : text) {
        const auto byte = static_cast<unsigned char>(ch);
        out += std::isalnum(byte) != 0 && byte < 0x80 ? std::string(1, ch) : fmt::format("%{:02X}", byte);
    }
    return out;
}

std::string picture(const assembly::House& house, const answer::RungAnswer& rung, const framing::Panel& panel,
                    Shown shown, bool inch_pound_first, std::string_view id) {
    const auto sheet = elevation_sheet(house, rung, panel, shown, inch_pound_first);
    // One sheet unit a pixel: its letters are as large as the page's; where the page is narrower, it scrolls.
    return fmt::format("<div class=\"elevation\"><div style=\"width:{:.0f}px\">{}</div></div>", sheet.width,
                       drawing::svg(sheet, {.standalone = false, .id = std::string(id)}));
}

}  // namespace

std::string_view name_of(Shown shown) {
    return std::find_if(shown_names.begin(), shown_names.end(),
                        [&](const auto& each) { return each.first == shown; })
        ->second;
}

std::optional<Shown> shown_of(std::string_view name) {
    const auto* found = std::find_if(shown_names.begin(), shown_names.end(),
                                     [&](const auto& each) { return each.second == name; });
    if (found == shown_names.end()) return std::nullopt;
    return found->first;
}

drawing::Sheet elevation_sheet(const assembly::House& house, const answer::RungAnswer& rung,
                               const framing::Panel& panel, Shown shown, bool inch_pound_first) {
    const assembly::Face* face = panel.face < house.faces.size() ? &house.faces[panel.face] : nullptr;
    std::string title = fmt::format("{}  {}", rung.name, panel.name);
    if (shown != Shown::frame) title += fmt::format(", {}", name_of(shown));
    return drawing::elevation(panel, face, {.inch_pound_first = inch_pound_first, .shown = shown},
                              {title, rung.title});
}

std::string elevations_of(const Context& c, const answer::RungAnswer& rung, std::string_view id) {
    std::string out;
    const auto& panels = rung.framed->frame.panels;
    for (std::size_t i = 0; i < panels.size(); ++i) {
        for (const auto& [shown, name] : shown_names) {
            if (drawing::members_shown(panels[i], shown).empty()) continue;
            // A report holds what carries: with furring and battens it would be twice as large.
            if (!c.live && shown != Shown::frame) continue;
            const std::string own = fmt::format("f-{}-{}-{}", id, i, name);
            std::string words = panels[i].name;
            if (shown != Shown::frame) words += fmt::format(", {}", name);
            const std::string summary = fmt::format("<summary>{}</summary>", drawing::escape(words));
            if (c.live)
                out += fmt::format(
                    "<details class=\"sheet\" id=\"{}\" "
                    "data-picture=\"elevation?rung={}&amp;panel={}&amp;shown={}\">{}</details>",
                    own, address_word(rung.name), i, name, summary);
            else
                out += fmt::format(
                    "<details class=\"sheet\" id=\"{}\">{}{}</details>", own, summary,
                    picture(c.house, rung, panels[i], shown, c.answer.inch_pound_first, own + "-s"));
        }
    }
    if (out.empty()) return out;
    out.insert(0, "<h3>Framing elevations, cut lists beside them</h3>");
    if (!c.live)
        out += fmt::format(
            "<p class=\"quiet\">On paper stand those that are open. Furring and battens: <code>warmside "
            "frame "
            "HOUSE.toml --rung {} --out DIR</code> writes every drawing.</p>",
            drawing::escape(rung.name));
    return out;
}

void Elevations::set(std::shared_ptr<const assembly::House> house, const answer::Answer& answer) {
    auto framed = std::make_shared<Framed>();
    framed->house = std::move(house);
    framed->answer.inch_pound_first = answer.inch_pound_first;
    for (const auto& ladder : answer.ladders) {
        answer::LadderAnswer row{.part = ladder.part, .rungs = {}};
        for (const auto& rung : ladder.rungs) {
            answer::RungAnswer bare;
            bare.name = rung.name;
            bare.title = rung.title;
            bare.framed = rung.framed;
            row.rungs.push_back(std::move(bare));
        }
        framed->answer.ladders.push_back(std::move(row));
    }
    const std::lock_guard lock(guard_);
    framed_ = std::move(framed);
}

std::optional<std::string> Elevations::svg(std::string_view rung, std::size_t panel,
                                           std::string_view shown) const {
    std::shared_ptr<const Framed> framed;
    {
        const std::lock_guard lock(guard_);
        framed = framed_;
    }
    const auto layer = shown_of(shown);
    if (!framed || !layer) return std::nullopt;
    for (const auto& ladder : framed->answer.ladders) {
        for (const auto& each : ladder.rungs) {
            if (each.name != rung || !each.framed) continue;
            const auto& panels = each.framed->frame.panels;
            if (panel >= panels.size() || drawing::members_shown(panels[panel], *layer).empty())
                return std::nullopt;
            return picture(*framed->house, each, panels[panel], *layer, framed->answer.inch_pound_first,
                           fmt::format("f-{}-{}-{}-s", id_of(ladder.part, rung), panel, shown));
        }
    }
    return std::nullopt;
}

}  // namespace warmside::report
