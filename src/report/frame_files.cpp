#include "report/frame_files.h"

#include <fmt/format.h>

#include "assembly/boxes.h"
#include "drawing/raster.h"
#include "drawing/svg.h"
#include "drawing/type.h"
#include "report/csv.h"
#include "report/elevations.h"
#include "report/takeoff_files.h"

namespace warmside::report {

std::string members_csv(const framing::Frame& frame) {
    Csv csv;
    for (const char* head : {"panel", "mark", "role", "section", "lumber", "length_m", "u_m", "v_m", "w_m",
                             "along_u_m", "along_v_m", "along_w_m"})
        csv.cell(head);
    csv.end_row();
    constexpr int micrometres = 6;
    for (const auto& panel : frame.panels) {
        for (const auto& m : panel.members) {
            csv.cell(panel.name).cell(m.mark).cell(framing::name_of(m.role));
            csv.cell(m.section.name).cell(m.lumber).cell(m.length.metres(), micrometres);
            for (const auto& low : m.box.low) csv.cell(low.metres(), micrometres);
            for (int axis = 0; axis < 3; ++axis) csv.cell(m.box.size(axis).metres(), micrometres);
            csv.end_row();
        }
    }
    return csv.take();
}

std::string boxes_csv(const framing::Frame& frame) {
    Csv csv;
    for (const char* head :
         {"panel", "mark", "name", "kind", "body", "u_m", "v_m", "w_m", "along_u_m", "along_v_m", "along_w_m",
          "held_by", "own_block", "inner_cavity", "pierces_airtight"})
        csv.cell(head);
    csv.end_row();
    constexpr int micrometres = 6;
    const auto yes = [](bool is) { return is ? "yes" : "no"; };
    for (const auto& panel : frame.panels) {
        for (const auto& b : panel.boxes) {
            csv.cell(panel.name).cell(b.mark).cell(b.name).cell(assembly::name_of(b.kind)).cell(b.title);
            for (const auto& low : b.box.low) csv.cell(low.metres(), micrometres);
            for (int axis = 0; axis < 3; ++axis) csv.cell(b.box.size(axis).metres(), micrometres);
            csv.cell(b.holder < panel.members.size() ? panel.members[b.holder].mark : std::string());
            csv.cell(yes(b.own_block)).cell(yes(b.inner_cavity)).cell(yes(b.pierces_airtight)).end_row();
        }
    }
    return csv.take();
}

Result<std::vector<OutFile>> frame_files(const assembly::House& house, const answer::RungAnswer& rung,
                                         const FrameWish& wish) {
    using drawing::Font, drawing::Shown;
    const std::string fonts = drawing::font_rules({Font::body, Font::condensed, Font::strong});
    std::vector<OutFile> out;
    const auto& frame = rung.framed->frame;
    for (const auto& panel : frame.panels) {
        for (const Shown shown : {Shown::frame, Shown::furring, Shown::battens}) {
            if (shown != Shown::frame && drawing::members_shown(panel, shown).empty()) continue;
            auto sheet = elevation_sheet(house, rung, panel, shown, wish.inch_pound_first);
            sheet.margin = 22.0;
            auto png = drawing::picture(sheet, {.dark = wish.dark});
            if (!png) return fail(png.error());
            std::string stem = file_word(rung.name + " " + panel.name);
            if (shown != Shown::frame) stem += fmt::format("-{}", name_of(shown));
            out.push_back({stem + ".svg", drawing::svg(sheet, {.fonts = fonts})});
            out.push_back({stem + ".png", std::move(*png)});
        }
    }
    out.push_back({file_word(rung.name) + "-members.csv", members_csv(frame)});
    out.push_back({file_word(rung.name) + "-boxes.csv", boxes_csv(frame)});
    return out;
}

std::vector<OutFile> order_files(const answer::RungAnswer& rung) {
    const takeoff::Order& order = rung.priced->order;
    const std::string stem = file_word(rung.name);
    return {{stem + "-order.csv", order_csv(order)},
            {stem + "-cuts.csv", cuts_csv(order)},
            {stem + "-sheets.csv", sheets_csv(order)}};
}

std::string workbook_name(const answer::RungAnswer& rung) {
    return file_word(rung.name) + "-takeoff.xlsx";
}

}  // namespace warmside::report
