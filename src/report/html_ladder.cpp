// The ladder: rungs across, questions down.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "drawing/carpet.h"
#include "drawing/png.h"
#include "drawing/section.h"
#include "drawing/stair.h"
#include "drawing/svg.h"
#include "drawing/viridis.h"
#include "report/html_parts.h"
#include "report/junctions.h"
#include "report/mark.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

/// Text of people or of other rooms, units as people write them.
std::string escape(std::string_view text) {
    return drawing::escape(pretty(text));
}

using answer::LadderAnswer;
using answer::RungAnswer;

const assembly::Assembly& assembly_of(const Context& c, const RungAnswer& rung) {
    return c.house.assemblies.at(rung.assembly);
}

/// "six rungs": words up to twelve.
std::string counted(std::size_t count, std::string_view things) {
    constexpr std::string_view words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                          "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    return count < std::size(words) ? fmt::format("{} {}", words[count], things)
                                    : fmt::format("{} {}", count, things);
}

bool any(const LadderAnswer& ladder, bool (*test)(const RungAnswer&)) {
    return std::any_of(ladder.rungs.begin(), ladder.rungs.end(), test);
}

std::string heads(const LadderAnswer& ladder) {
    std::string out = "<thead><tr><td></td>";
    int number = 0;
    for (const auto& rung : ladder.rungs) {
        out += fmt::format("<th scope=\"col\"><span class=\"accent\">{}</span>{} <code>{}</code></th>",
                           ++number, escape(rung.title), drawing::escape(rung.name));
    }
    return out + "</tr></thead>\n";
}

std::string section_key(const Context& c, const LadderAnswer& ladder) {
    const auto has = [&](auto&& test) {
        return std::any_of(ladder.rungs.begin(), ladder.rungs.end(), [&](const RungAnswer& r) {
            const auto& layers = assembly_of(c, r).layers;
            return std::any_of(layers.begin(), layers.end(), test);
        });
    };
    const bool upright = ladder.part == assembly::Part::wall || ladder.part == assembly::Part::basement_wall;
    std::string out = fmt::format("<th scope=\"row\"><b>{}</b>",
                                  upright ? "Section, plan cut" : "Section, turned on its side");
    out += "<span class=\"key-line\">inside <i class=\"in\"></i></span>";
    const auto line = [&](const char* kind, const char* text) {
        out += fmt::format("<span class=\"key-line\"><i class=\"{}\"></i>{}</span>", kind, text);
    };
    if (has([](const assembly::Layer& l) { return l.airtight; })) line("sheet", "airtight layer");
    if (has([](const assembly::Layer& l) {
            return l.kind == assembly::Layer::Kind::membrane && !l.airtight;
        }))
        line("other", "other membrane");
    if (has([](const assembly::Layer& l) { return l.existing; })) line("old", "existing, kept");
    line("chain", upright ? "outside face of the sheathing, in line" : "one face in line");
    return out + "<span class=\"key-line\">All to one scale.</span></th>";
}

std::string sections(const Context& c, const LadderAnswer& ladder) {
    std::vector<const assembly::Assembly*> all;
    all.reserve(ladder.rungs.size());
    for (const auto& rung : ladder.rungs) all.push_back(&assembly_of(c, rung));
    const auto frame = drawing::frame_of(all, column_width(ladder.rungs.size()));
    return "<tbody class=\"sections\">\n" +
           row(section_key(c, ladder), ladder,
               [&](const RungAnswer& rung) {
                   const auto sheet =
                       drawing::section(assembly_of(c, rung), frame, c.answer.inch_pound_first);
                   return drawing::svg(sheet,
                                       {.standalone = false, .id = "s-" + id_of(ladder.part, rung.name)});
               }) +
           "</tbody>\n";
}

/// What the last bar of the stair is: with plates and headers, or the repeating members alone.
bool ends_at_face(const thermal::Worth& w) {
    if (w.face_r <= 0.0 || w.stair.empty()) return false;
    double last = w.label_r;
    for (const auto& tread : w.stair) {
        if (tread.r_change) last = tread.r_after;
    }
    return std::abs(last - w.face_r) < std::abs(last - w.clear_r);
}

std::string worth_key(const Context& c, const LadderAnswer& ladder) {
    const bool built = any(ladder, [](const RungAnswer& r) { return r.worth.built_r.has_value(); });
    const bool face = built || any(ladder, [](const RungAnswer& r) { return ends_at_face(r.worth); });
    std::string out =
        fmt::format("<th scope=\"row\"><b>Clear-field {}</b>", c.answer.inch_pound_first ? "R" : "RSI");
    out += fmt::format(
        "from label R, tread by tread: boards, air spaces and films up; studs{}, furring and fasteners{} "
        "down, "
        "to {}",
        face ? ", plates and headers" : "", built ? " and junctions" : "",
        built  ? "built R"
        : face ? "the whole face"
               : "the clear field");
    for (const auto& rung : ladder.rungs) {
        if (ladder.part != assembly::Part::wall || rung.worth.built_r || rung.worth.clear_r <= 0.0) continue;
        out += "<br>Built R: " + escape(built_value(rung, c.answer.inch_pound_first)) + ".";
        break;
    }
    return out + "</th>";
}

/// In a narrow column the stair stands below its figures.
bool stair_below(double column) {
    return column < 150.0;
}

std::string worth_cell(const Context& c, const RungAnswer& rung, const drawing::StairFrame& frame,
                       double column, assembly::Part part) {
    const auto& w = rung.worth;
    const bool first = c.answer.inch_pound_first;
    if (w.clear_r <= 0.0)
        return fmt::format("<span class=\"quiet\">{}</span>", c.live ? "computing" : "not computed");
    std::string out = fmt::format("<div class=\"worth{}\"><div><div class=\"big\">{:.{}f}</div>",
                                  stair_below(column) ? " below" : "",
                                  first ? units::ip_r(w.clear_r) : w.clear_r, first ? 1 : 2);
    const auto r = r_value(w.clear_r, first), u = u_value(w.clear_u, first);
    out += fmt::format("<small>label {}</small><small>{}</small></div>", r_value(w.label_r, first).first,
                       first ? u.first : fmt::format("U {:.3f}", w.clear_u));
    const auto sheet = drawing::stair(w, frame, first);
    out += fmt::format("<div class=\"stair\" style=\"width:{:.0f}px\">{}</div></div>", frame.width,
                       drawing::svg(sheet, {.standalone = false, .id = "r-" + id_of(part, rung.name)}));
    std::string more =
        fmt::format("<span>{},</span> <span>{}</span><br>", escape(r.second), escape(u.second));
    if (w.face_r > 0.0) more += "whole face " + escape(r_value(w.face_r, first).first);
    if (w.built_r)
        more +=
            fmt::format("{}built {}", w.face_r > 0.0 ? ", " : "", escape(r_value(*w.built_r, first).first));
    return out + fmt::format("<small class=\"small condensed\">{}</small>", more);
}

std::string worths(const Context& c, const LadderAnswer& ladder) {
    if (!c.live && !any(ladder, [](const RungAnswer& r) { return r.worth.clear_r > 0.0; })) return {};
    drawing::StairFrame frame;
    const double column = column_width(ladder.rungs.size());
    frame.width = stair_below(column) ? column - 12.0 : std::min(column - 82.0, 130.0);
    for (const auto& rung : ladder.rungs)
        frame.highest = std::max(frame.highest, drawing::highest(rung.worth));
    return "<tbody>\n" +
           row(
               worth_key(c, ladder), ladder,
               [&](const RungAnswer& rung) { return worth_cell(c, rung, frame, column, ladder.part); },
               "worth") +
           "</tbody>\n";
}

std::string dry_key(const Context& c, const LadderAnswer& ladder) {
    if (!c.live && !any(ladder, [](const RungAnswer& r) { return r.carpet.columns > 0; })) {
        return "<th scope=\"rowgroup\" rowspan=\"3\"><b>Does it stay dry?</b></th>";
    }
    std::array<std::uint8_t, 256> ramp{};
    std::iota(ramp.begin(), ramp.end(), std::uint8_t{0});
    const auto picture = drawing::png(256, 1, ramp, drawing::viridis);
    std::string span = "time";
    for (const auto& rung : ladder.rungs) {
        if (const int years = years_of(rung.carpet); years > 0)
            span = years == 1 ? "one year" : counted(static_cast<std::size_t>(years), "years");
    }
    std::string out = fmt::format(
        "<th scope=\"rowgroup\" rowspan=\"3\"><b>Does it stay dry?</b>depth of the {} up, {} across, "
        "relative humidity; the ring: where and when it is worst",
        assembly::name_of(ladder.part), span);
    if (picture)
        out += fmt::format(
            "<img class=\"scale\" alt=\"dark is 40 %, bright is 100 %\" src=\"data:image/png;base64,{}\">",
            drawing::base64(*picture));
    return out + "<span class=\"scale-ends\"><span>40 %</span><span>100 %</span></span></th>";
}

std::string word_cell(const Context& c, const LadderAnswer& ladder, const RungAnswer& rung) {
    if (!rung.verdict) {
        if (c.live && rung.verdict_absent.empty()) return "<span class=\"quiet\">computing</span>";
        return "<span class=\"word quiet\">not judged</span>";
    }
    const auto& v = *rung.verdict;
    const bool wet = v.dryness == moisture::Dryness::wet;
    std::string word =
        fmt::format("<span class=\"word{}\">{}</span>", wet ? " accent" : "", moisture::name_of(v.dryness));
    if (column_width(ladder.rungs.size()) < 170.0) return word;  // no room beside it; the reason stands below
    return fmt::format("{} <span class=\"brief condensed\">{}</span>", word, escape(brief(v.deciding)));
}

std::string carpet_cell(const Context& c, const LadderAnswer& ladder, const RungAnswer& rung) {
    const drawing::CarpetFrame frame{.width = column_width(ladder.rungs.size()),
                                     .years = rung.carpet.columns > 0 ? years_of(rung.carpet) : 0};
    const drawing::SvgOptions options{.standalone = false, .id = "c-" + id_of(ladder.part, rung.name)};
    const std::string title = fmt::format("Humidity in {} over time, run {}", rung.title, rung.carpet_run);
    if (rung.carpet.columns > 0) {
        const auto sheet = drawing::carpet(rung.carpet, assembly_of(c, rung), frame,
                                           mark_of(assembly_of(c, rung), rung), title);
        if (sheet) return "<div class=\"carpet\">" + drawing::svg(*sheet, options) + "</div>";
    }
    if (!c.live || !rung.verdict_absent.empty()) return {};
    const auto sheet = drawing::empty_carpet(assembly_of(c, rung), frame,
                                             fmt::format("Humidity in {}, still computing", rung.title));
    return fmt::format(
        "<div class=\"carpet\">{}<canvas data-rung=\"{}\" "
        "style=\"left:{:.3f}%;width:{:.3f}%;height:{:.3f}%\" aria-hidden=\"true\"></canvas></div>",
        drawing::svg(sheet, options), drawing::escape(rung.name), 100.0 * drawing::carpet_edge / frame.width,
        100.0 * (1.0 - drawing::carpet_edge / frame.width), 100.0 * frame.picture / sheet.height);
}

std::string reason_cell(const LadderAnswer& ladder, const RungAnswer& rung) {
    if (!rung.verdict)
        return fmt::format("<div class=\"reason condensed quiet\">{}</div>", escape(rung.verdict_absent));
    const auto& v = *rung.verdict;
    std::string out = fmt::format("<div class=\"reason condensed\">{}", escape(v.reason));
    if (const auto m = margin(v.deciding); !m.empty()) out += fmt::format("; {}", escape(m));
    out += "</div>";
    if (v.assumes.empty() || common_assumptions(ladder)) return out;
    out += fmt::format("<details id=\"if-{}\"><summary>{}</summary><ul>", id_of(ladder.part, rung.name),
                       v.dryness == moisture::Dryness::dry ? "dry, if &hellip;" : "this rests on &hellip;");
    for (const auto& a : v.assumes) out += "<li>" + escape(a) + "</li>";
    return out + "</ul></details>";
}

/// What all verdicts rest on, once, across the table. In a live page it comes with the whole answer.
std::string rests_row(const LadderAnswer& ladder) {
    const auto* all = common_assumptions(ladder);
    if (!all) return {};
    const bool dry = any(ladder, [](const RungAnswer& r) {
        return r.verdict && r.verdict->dryness == moisture::Dryness::dry;
    });
    return fmt::format("<tr class=\"rests\"><th scope=\"row\">{}</th><td colspan=\"{}\">{}</td></tr>\n",
                       dry ? "dry, if &hellip;" : "this rests on", ladder.rungs.size(),
                       escape(fmt::format("{}", fmt::join(*all, "; "))));
}

std::string dryness(const Context& c, const LadderAnswer& ladder) {
    return "<tbody>\n" +
           row(
               dry_key(c, ladder), ladder, [&](const RungAnswer& r) { return word_cell(c, ladder, r); },
               "word") +
           row(
               "", ladder, [&](const RungAnswer& r) { return carpet_cell(c, ladder, r); }, "carpet") +
           row(
               "", ladder, [&](const RungAnswer& r) { return reason_cell(ladder, r); }, "reason") +
           rests_row(ladder) + "</tbody>\n";
}

}  // namespace

std::string row(std::string_view th, const LadderAnswer& ladder,
                const std::function<std::string(const RungAnswer&)>& cell, std::string_view id) {
    std::string out = fmt::format("<tr>{}", th);
    for (const auto& rung : ladder.rungs) {
        const std::string name =
            id.empty() ? "" : fmt::format(" id=\"{}-{}\"", id, id_of(ladder.part, rung.name));
        out += fmt::format("<td{}>{}</td>", name, cell(rung));
    }
    return out + "</tr>\n";
}

std::vector<std::pair<std::string, std::string>> verdict_cells(const Context& c, const LadderAnswer& ladder,
                                                               const RungAnswer& rung) {
    const auto id = id_of(ladder.part, rung.name);
    return {{"word-" + id, word_cell(c, ladder, rung)},
            {"carpet-" + id, carpet_cell(c, ladder, rung)},
            {"reason-" + id, reason_cell(ladder, rung)}};
}

std::string ladder_table(const Context& c, const LadderAnswer& ladder) {
    if (ladder.rungs.empty()) return {};
    const double width = column_width(ladder.rungs.size()) + 14.0;
    std::string out = fmt::format(
        "<section class=\"ladder\"><h2>{}, {}</h2>\n<table style=\"width:{:.0f}px\"><colgroup><col "
        "class=\"key\">",
        heading(ladder.part),
        ladder.rungs.size() == 1 ? "one rung"
                                 : counted(ladder.rungs.size(), "rungs") + ", today's practice first",
        150.0 + width * static_cast<double>(ladder.rungs.size()));
    for (std::size_t i = 0; i < ladder.rungs.size(); ++i)
        out += fmt::format("<col style=\"width:{:.0f}px\">", width);
    out += "</colgroup>\n";
    return out + heads(ladder) + sections(c, ladder) + worths(c, ladder) + dryness(c, ladder) +
           building_rows(c, ladder) + "</table></section>\n";
}

}  // namespace warmside::report
