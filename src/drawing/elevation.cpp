#include "drawing/elevation.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "assembly/boxes.h"
#include "drawing/axes.h"
#include "drawing/cut_list.h"
#include "drawing/label.h"
#include "drawing/type.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

using framing::Member;
using framing::Panel;
using framing::Role;

constexpr double left_room = 84.0;  // for the height
constexpr double mark_row = 28.0;   // for marks above and below
// On paper at one sheet unit a CSS pixel: capitals of marks 1.6 mm high.
constexpr double mark_size = 8.5, mark_gap = 4.0, words_size = 9.5, note_size = 10.5;
constexpr double end_room = 0.12;  // m: plates at the end of a member of full height
constexpr double beside = 26.0;    // between the picture's names and the list

bool is_layout(Role role) {
    return role == Role::stud || role == Role::joist || role == Role::rafter || role == Role::truss ||
           role == Role::ceiling_joist || role == Role::furring || role == Role::batten;
}

bool is_wall(const Panel& panel) {
    return panel.kind == Panel::Kind::wall || panel.kind == Panel::Kind::gable_wall;
}

/// One or several members at one place of the picture, under one label.
struct Mark {
    std::vector<std::string> marks;
    Box box;  // of the member, on the sheet
    std::string words;
    bool stacked = false;  // one upon the other: a joint crosses the box
};

class Elevation {
public:
    Elevation(const Panel& panel, const assembly::Face* face, const ElevationFrame& frame)
        : panel_(panel), face_(face), frame_(frame), members_(members_shown(panel, frame.shown)) {}

    Sheet draw(const Caption& caption) {
        extents();
        sort_marks();
        scale();
        Sheet sheet{.margin = 24.0, .root = {}};
        auto& items = sheet.root.items;
        draw_members(items);
        draw_ticks(items);
        draw_openings(items);
        draw_upright(items, top_, true);
        draw_upright(items, bottom_, false);
        draw_lying(items);
        draw_boxes(items);
        draw_height(items);
        const double below = draw_strings(items);
        const double list_x = right_ + beside;
        double list_height = 0.0;
        if (frame_.listed && !members_.empty()) {
            const auto rows = cut_list(members_);
            list_height = draw_cut_list(items, rows, list_x, caption_height, frame_.inch_pound_first);
        }
        sheet.width = list_height > 0.0 ? list_x + cut_list_width : right_;
        sheet.height = draw_notes(items, std::max(below, caption_height + list_height + 8.0), sheet.width);
        draw_caption(items, caption, sheet.width);
        sheet.root.title = fmt::format("{}: {}", caption.title, panel_.name);
        sheet.root.description = describe();
        return sheet;
    }

private:
    // ---- the picture's place

    void extents() {
        u0_ = panel_.from.metres();
        u1_ = u0_ + panel_.length.metres();
        v1_ = panel_.height.metres();
        for (const Member* m : members_) {
            u0_ = std::min(u0_, m->box.low[0].metres());
            u1_ = std::max(u1_, m->box.high[0].metres());
            v0_ = std::min(v0_, m->box.low[1].metres());
            v1_ = std::max(v1_, m->box.high[1].metres());
        }
        u1_ = std::max(u1_, u0_ + 1e-3);
        v1_ = std::max(v1_, v0_ + 1e-3);
    }

    /// Uprights to the row that their free end is nearer to; of members at one place one label.
    void sort_marks() {
        for (const Member* m : members_) {
            if (m->mark.empty()) continue;
            const Box box = metres_of(*m);
            std::vector<Mark>* into = &lying_;
            if (m->along == 1) {
                const double above = v1_ - m->box.high[1].metres(), under = m->box.low[1].metres() - v0_;
                // What stands from plate to plate has its mark above.
                into = above <= std::max(under, end_room) + 1e-6 ? &top_ : &bottom_;
            }
            const auto at = std::find_if(into->begin(), into->end(),
                                         [&](const Mark& each) { return together(each.box, box, *m); });
            if (at == into->end()) {
                into->push_back({.marks = {m->mark}, .box = box});
                continue;
            }
            at->marks.push_back(m->mark);
            at->stacked = at->stacked || std::abs(at->box.y - box.y) > 1e-6;
            const double low = std::min(at->box.y, box.y);
            at->box.height = std::max(at->box.y + at->box.height, box.y + box.height) - low;
            at->box.y = low;
        }
        for (auto* row : {&top_, &bottom_, &lying_}) {
            for (Mark& each : *row) each.words = marks_text(each.marks);
            std::stable_sort(row->begin(), row->end(),
                             [](const Mark& a, const Mark& b) { return middle(a.box) < middle(b.box); });
        }
    }

    /// One label for both: uprights in one line, lying members behind or upon each other. Metres, y up.
    [[nodiscard]] static bool together(const Box& a, const Box& b, const Member& m) {
        if (m.along == 1) return std::abs(middle(a) - middle(b)) < 2e-3;
        return std::abs(a.x - b.x) < 1e-6 && std::abs(a.width - b.width) < 1e-6 &&
               a.y <= b.y + b.height + 1e-6 && b.y <= a.y + a.height + 1e-6;
    }
    [[nodiscard]] static double middle(const Box& box) { return box.x + box.width / 2.0; }
    [[nodiscard]] static double widest(const std::vector<Mark>& marks) {
        double out = 0.0;
        for (const Mark& each : marks) out = std::max(out, width_of(each.words, Font::condensed, mark_size));
        return out;
    }

    /// As large as the frame allows, larger where the marks of uprights need the room.
    void scale() {
        scale_ = std::min(frame_.picture / (u1_ - u0_), frame_.highest / (v1_ - v0_));
        for (const auto* row : {&top_, &bottom_}) {
            const double room = static_cast<double>(row->size()) * (widest(*row) + mark_gap);
            scale_ = std::max(scale_, room / (u1_ - u0_));
        }
        box_ = {left_room, caption_height + mark_row, (u1_ - u0_) * scale_, (v1_ - v0_) * scale_};
        right_ = box_.right();
        for (auto* row : {&top_, &bottom_, &lying_}) {
            for (Mark& each : *row) {
                const Box b = each.box;
                each.box = {x_of(b.x), y_of(b.y + b.height), b.width * scale_, b.height * scale_};
            }
        }
    }

    [[nodiscard]] double x_of(double u) const { return box_.x + (u - u0_) * scale_; }
    [[nodiscard]] double y_of(double v) const { return box_.bottom() - (v - v0_) * scale_; }
    [[nodiscard]] static Box metres_of(const Member& m) {
        return {m.box.low[0].metres(), m.box.low[1].metres(), m.box.size(0).metres(), m.box.size(1).metres()};
    }
    [[nodiscard]] Box box_on_sheet(const Member& m) const {
        return {x_of(m.box.low[0].metres()), y_of(m.box.high[1].metres()), m.box.size(0).metres() * scale_,
                m.box.size(1).metres() * scale_};
    }

    // ---- members

    void draw_members(std::vector<Item>& items) const {
        Group all{.title = "members", .part = "members"};
        for (const Member* m : members_) {
            const Box box = box_on_sheet(*m);
            Group group{
                .title = fmt::format("{} {}, {}, {}", m->mark, framing::name_of(m->role), m->section.name,
                                     length_words(m->length.metres(), frame_.inch_pound_first)),
                .part = "member"};
            group.items.emplace_back(rectangle(
                box, fill_of(m->role), {.ink = Ink::ink, .width = m->role == Role::header ? 0.9 : 0.5}));
            if (is_block(m->role))
                group.items.emplace_back(
                    Line{{box.x, box.bottom()}, {box.right(), box.y}, {.ink = Ink::quiet, .width = 0.4}});
            add(all.items, std::move(group));
        }
        for (const Member* m : members_) {
            if (!is_behind(*m)) continue;
            const Stroke dashed{.ink = Ink::quiet, .width = 0.5, .dash = {3.0, 2.0}};
            all.items.emplace_back(rectangle(box_on_sheet(*m), Ink::none, dashed));
        }
        add(items, std::move(all));
    }

    [[nodiscard]] static Ink fill_of(Role role) {
        switch (role) {
            case Role::king:
            case Role::jack:
            case Role::header:
            case Role::header_filler:
            case Role::sill:
            case Role::cripple_above:
            case Role::cripple_below: return Ink::pale;
            default: return Ink::wood;
        }
    }
    [[nodiscard]] static bool is_block(Role role) {
        return role == Role::blocking || role == Role::fire_block || role == Role::backing;
    }
    [[nodiscard]] bool is_behind(const Member& m) const {
        return std::any_of(members_.begin(), members_.end(), [&](const Member* other) {
            if (other == &m || other->box.low[2] < m.box.high[2] || m.box.high[2] <= m.box.low[2])
                return false;
            return other->box.low[0] < m.box.high[0] && m.box.low[0] < other->box.high[0] &&
                   other->box.low[1] < m.box.high[1] && m.box.low[1] < other->box.high[1];
        });
    }

    /// Centres of the layout on the frame's lower and upper edge.
    void draw_ticks(std::vector<Item>& items) const {
        if (!is_wall(panel_) || frame_.shown != Shown::frame) return;
        Group group{.title = "layout on the plates", .part = "layout"};
        const Stroke fine{.ink = Ink::accent, .width = 0.8};
        // A header in the rim lies over the plates.
        const double top = y_of(panel_.height.metres());
        for (const double u : layout()) {
            const double x = x_of(u);
            group.items.emplace_back(Line{{x, box_.bottom() - 5.0}, {x, box_.bottom() + 2.0}, fine});
            if (panel_.kind == Panel::Kind::wall)
                group.items.emplace_back(Line{{x, top - 2.0}, {x, top + 5.0}, fine});
        }
        add(items, std::move(group));
    }

    /// m, centres of the members that follow the module, from the left; one place once.
    [[nodiscard]] std::vector<double> layout() const {
        std::vector<double> out;
        for (const Member* m : members_) {
            if (m->along == 1 && m->opening < 0 && is_layout(m->role))
                out.push_back((m->box.low[0] + m->box.high[0]).metres() / 2.0);
        }
        // Members at the ends belong to the corner, not to the module.
        constexpr double end = 0.05;
        const double from = panel_.from.metres() + end, to = from + panel_.length.metres() - 2.0 * end;
        std::erase_if(out, [&](double u) { return u < from || u > to; });
        std::sort(out.begin(), out.end());
        out.erase(std::unique(out.begin(), out.end(), [](double a, double b) { return b - a < 2e-3; }),
                  out.end());
        return out;
    }

    // ---- openings

    void draw_openings(std::vector<Item>& items) {
        if (!face_) return;
        Group group{.title = "rough openings", .part = "openings"};
        for (const auto& opening : face_->openings) {
            const Box box{x_of(opening.left.metres()), y_of((opening.sill + opening.height).metres()),
                          opening.width.metres() * scale_, opening.height.metres() * scale_};
            group.items.emplace_back(rectangle(box, Ink::none, {.ink = Ink::accent, .width = 0.9}));
            std::vector<std::string> lines{opening.name};
            // A size is never cut short: where it is too long for one line it takes two.
            const std::string size = fmt::format("{} × {}", length(opening.width), length(opening.height));
            if (width_of(size, Font::condensed, words_size) <= box.width - 4.0) {
                lines.push_back(size);
            } else {
                lines.push_back(length(opening.width) + " ×");
                lines.push_back(length(opening.height));
            }
            if (opening.kind == assembly::Opening::Kind::window)
                lines.push_back("sill " + length(opening.sill));
            double y = box.y + box.height / 2.0 - 11.0 * (static_cast<double>(lines.size()) - 1.0) / 2.0;
            for (std::size_t i = 0; i < lines.size(); ++i, y += 11.0) {
                Text text{.at = {box.x + box.width / 2.0, y + 3.0},
                          .text = fitted(lines[i], Font::condensed, words_size, box.width - 4.0),
                          .anchor = Anchor::middle,
                          .font = Font::condensed,
                          .size = words_size,
                          .ink = i == 0 ? Ink::ink : Ink::quiet};
                taken_.take(box_of(text));
                group.items.emplace_back(std::move(text));
            }
        }
        add(items, std::move(group));
    }

    [[nodiscard]] std::string length(units::Exact value) const {
        return length_words(value.metres(), frame_.inch_pound_first);
    }
    [[nodiscard]] std::string long_length(double metres) const {
        return frame_.inch_pound_first ? units::feet_inches(metres) : units::millimetres(metres);
    }

    // ---- marks

    void draw_upright(std::vector<Item>& items, const std::vector<Mark>& marks, bool above) {
        if (marks.empty()) return;
        Group group{.title = above ? "marks above" : "marks below", .part = "marks"};
        const double half = widest(marks) / 2.0;
        std::vector<double> wanted;
        for (const Mark& each : marks) wanted.push_back(middle(each.box));
        const auto places = spread(wanted, 2.0 * half + mark_gap, box_.x + half,
                                   std::max(box_.x + half, box_.right() - half));
        const double sign = above ? -1.0 : 1.0, edge = above ? box_.y : box_.bottom();
        for (std::size_t i = 0; i < marks.size(); ++i) {
            const double end = above ? marks[i].box.y : marks[i].box.bottom();
            group.items.emplace_back(Polygon{
                .points = {{wanted[i], end}, {wanted[i], edge + sign * 6.0}, {places[i], edge + sign * 14.0}},
                .closed = false,
                .stroke = {.ink = Ink::quiet, .width = 0.35}});
            Text text{.at = {places[i], edge + sign * (above ? 16.5 : 21.5)},
                      .text = marks[i].words,
                      .anchor = Anchor::middle,
                      .font = Font::condensed,
                      .size = mark_size};
            taken_.take(box_of(text));
            group.items.emplace_back(std::move(text));
        }
        add(items, std::move(group));
    }

    /// In the member, above or below it where nothing else stands; else at the right with a line.
    void draw_lying(std::vector<Item>& items) {
        Group group{.title = "marks", .part = "marks"};
        std::vector<const Mark*> rest;
        for (const Mark& each : lying_) {
            auto text = place(each);
            if (!text) {
                rest.push_back(&each);
                continue;
            }
            taken_.take(box_of(*text));
            group.items.emplace_back(std::move(*text));
        }
        std::stable_sort(rest.begin(), rest.end(),
                         [](const Mark* a, const Mark* b) { return a->box.y < b->box.y; });
        std::vector<double> wanted;
        for (const Mark* each : rest) wanted.push_back(each->box.y + each->box.height / 2.0);
        const double pitch = mark_size + 2.0;
        const double last = std::max(box_.bottom(), box_.y + pitch * static_cast<double>(rest.size()));
        const auto places = spread(wanted, pitch, box_.y, last);
        double width = 0.0;
        for (std::size_t i = 0; i < rest.size(); ++i) {
            const double x = box_.right() + 16.0;
            group.items.emplace_back(Polygon{.points = {{rest[i]->box.right(), wanted[i]},
                                                        {box_.right() + 4.0, wanted[i]},
                                                        {x - 2.0, places[i]}},
                                             .closed = false,
                                             .stroke = {.ink = Ink::quiet, .width = 0.35}});
            group.items.emplace_back(Text{.at = {x, places[i] + 2.6},
                                          .text = rest[i]->words,
                                          .font = Font::condensed,
                                          .size = mark_size});
            width = std::max(width, width_of(rest[i]->words, Font::condensed, mark_size));
        }
        if (!rest.empty()) right_ = box_.right() + 16.0 + width;
        names_end_ = rest.empty() ? box_.bottom() : std::max(box_.bottom(), places.back() + 6.0);
        add(items, std::move(group));
    }

    [[nodiscard]] std::optional<Text> place(const Mark& mark) const {
        Text text{.text = mark.words, .anchor = Anchor::middle, .font = Font::condensed, .size = mark_size};
        const double width = width_of(mark.words, Font::condensed, mark_size);
        const Box& b = mark.box;
        const auto try_at = [&](double x, double y, bool inside) {
            text.at = {x, y};
            const Box box = box_of(text);
            const Box wide{box.x - 1.0, box.y - 0.5, box.width + 2.0, box.height + 1.0};
            return taken_.free(wide) && within(wide) &&
                   (inside ? covers(b, wide) && !mark.stacked : clear(wide));
        };
        for (const double share : {0.5, 0.35, 0.65, 0.2, 0.8}) {
            if (try_at(b.x + share * b.width, b.y + b.height / 2.0 + 0.28 * mark_size, true)) return text;
        }
        // Long members that reach the picture's side are named there.
        if (b.width > 0.6 * box_.width && b.right() > box_.right() - 12.0) return std::nullopt;
        for (const double share : {0.5, 0.3, 0.7, 0.15, 0.85}) {
            const double x = b.x + std::max(share * b.width, std::min(width, b.width) / 2.0);
            if (try_at(x, b.y - 2.6, false)) return text;
            if (try_at(x, b.bottom() + 0.74 * mark_size + 1.6, false)) return text;
        }
        return std::nullopt;
    }
    [[nodiscard]] static bool covers(const Box& outer, const Box& inner) {
        return outer.x <= inner.x && inner.right() <= outer.right() && outer.y <= inner.y &&
               inner.bottom() <= outer.bottom();
    }
    [[nodiscard]] bool within(const Box& box) const { return covers(box_, box); }
    [[nodiscard]] bool clear(const Box& box) const {
        return std::none_of(members_.begin(), members_.end(),
                            [&](const Member* m) { return overlap(box_on_sheet(*m), box); });
    }

    // ---- electrical boxes

    /// To scale, with a ring that is filled where the box comes through the airtight layer, and its mark.
    void draw_boxes(std::vector<Item>& items) {
        if (frame_.shown == Shown::battens || panel_.boxes.empty()) return;
        Group all{.title = "electrical boxes", .part = "boxes"};
        constexpr double ring = 3.4;
        for (const framing::WallBox& b : panel_.boxes) {
            const Box box{x_of(b.box.low[0].metres()), y_of(b.box.high[1].metres()),
                          b.box.size(0).metres() * scale_, b.box.size(1).metres() * scale_};
            const Point centre{middle(box), box.y + box.height / 2.0};
            Group group{.title = fmt::format("{} {}, {}, {} above the floor{}", b.mark, b.name, b.title,
                                             length(half(b.box.low[1] + b.box.high[1])),
                                             b.pierces_airtight ? ", through the airtight layer" : ""),
                        .part = "box"};
            group.items.emplace_back(rectangle(box, Ink::paper, {.ink = Ink::accent, .width = 0.7}));
            group.items.emplace_back(Circle{.centre = centre,
                                            .radius = ring,
                                            .fill = b.pierces_airtight ? Ink::accent : Ink::paper,
                                            .stroke = {.ink = Ink::accent, .width = 0.8}});
            if (auto text = box_mark(b.mark, centre, std::max(ring, box.height / 2.0))) {
                taken_.take(box_of(*text));
                group.items.emplace_back(std::move(*text));
            }
            add(all.items, std::move(group));
        }
        add(items, std::move(all));
    }

    [[nodiscard]] std::optional<Text> box_mark(const std::string& mark, Point centre, double away) const {
        Text text{.text = mark,
                  .anchor = Anchor::middle,
                  .font = Font::condensed,
                  .size = mark_size,
                  .ink = Ink::accent};
        for (const double y : {centre.y - away - 2.0, centre.y + away + 0.8 * mark_size}) {
            for (const double aside : {0.0, 9.0, -9.0}) {
                text.at = {centre.x + aside, y};
                if (taken_.free(box_of(text)) && within(box_of(text))) return text;
            }
        }
        return std::nullopt;
    }

    // ---- dimensions

    void draw_height(std::vector<Item>& items) const {
        Group group{.part = "dimension"};
        const double x = box_.x - 12.0, low = y_of(0.0), high = y_of(panel_.height.metres());
        const Stroke fine{.ink = Ink::quiet, .width = 0.5};
        group.items.emplace_back(Line{{x, low}, {x, high}, fine});
        for (const double y : {low, high}) {
            group.items.emplace_back(
                Line{{x - 3.0, y}, {box_.x - 3.0, y}, {.ink = Ink::hairline, .width = 0.5}});
            group.items.emplace_back(Line{{x - 2.5, y + 2.5}, {x + 2.5, y - 2.5}, {.width = 0.7}});
        }
        group.items.emplace_back(Text{.at = {x - 5.0, (low + high) / 2.0 + 3.0},
                                      .text = long_length(panel_.height.metres()),
                                      .anchor = Anchor::end,
                                      .font = Font::condensed,
                                      .size = words_size});
        add(items, std::move(group));
    }

    /// Layout, openings, overall, from near to far. Returns the height below them.
    double draw_strings(std::vector<Item>& items) {
        DimensionRow row{.y = box_.bottom() + (bottom_.empty() ? 0.0 : mark_row) + 16.0,
                         .witness = box_.bottom() + (bottom_.empty() ? 3.0 : mark_row),
                         .left = box_.x,
                         .right = box_.right(),
                         .size = words_size};
        const double u0 = panel_.from.metres(), u1 = u0 + panel_.length.metres();
        for (const auto& spans : {layout_spans(u0, u1), opening_spans(u0, u1),
                                  std::vector<Span>{{x_of(u0), x_of(u1), long_length(u1 - u0)}}}) {
            if (spans.empty()) continue;
            words_left_out_ += draw_dimensions(items, spans, row);
            row.witness = row.y + 8.0;
            row.y += dimension_pitch;
        }
        return std::max(row.y - dimension_pitch + 14.0, names_end_);
    }

    /// Equal steps one after the other are one span: "9 × 16 in".
    [[nodiscard]] std::vector<Span> layout_spans(double u0, double u1) const {
        std::vector<double> at{u0};
        for (const double u : layout()) {
            if (u > u0 + 2e-3 && u < u1 - 2e-3) at.push_back(u);
        }
        at.push_back(u1);
        std::vector<Span> out;
        if (at.size() < 3) return out;
        for (std::size_t i = 1; i < at.size();) {
            const double step = at[i] - at[i - 1];
            std::size_t end = i + 1;
            while (end < at.size() && std::abs(at[end] - at[end - 1] - step) < 1e-4) ++end;
            const std::string words = length_words(step, frame_.inch_pound_first);
            out.push_back({x_of(at[i - 1]), x_of(at[end - 1]),
                           end - i > 1 ? fmt::format("{} × {}", end - i, words) : words});
            i = end;
        }
        return out;
    }

    [[nodiscard]] std::vector<Span> opening_spans(double u0, double u1) const {
        std::vector<Span> out;
        if (!face_ || face_->openings.empty()) return out;
        std::vector<double> at{u0, u1};
        for (const auto& opening : face_->openings) {
            at.push_back(opening.left.metres());
            at.push_back((opening.left + opening.width).metres());
        }
        std::sort(at.begin(), at.end());
        for (std::size_t i = 1; i < at.size(); ++i) {
            if (at[i] - at[i - 1] > 1e-4)
                out.push_back({x_of(at[i - 1]), x_of(at[i]), long_length(at[i] - at[i - 1])});
        }
        return out;
    }

    // ---- words

    [[nodiscard]] std::string view_words() const {
        switch (panel_.kind) {
            case Panel::Kind::floor:
            case Panel::Kind::ceiling: return "Plan seen from above, north up.";
            case Panel::Kind::roof: return "Roof plane seen square to itself from outside, its eave below.";
            default:
                return frame_.shown == Shown::furring ? "Seen from outside, through the wall."
                                                      : "Seen from outside.";
        }
    }

    [[nodiscard]] bool has(Role role) const {
        return std::any_of(members_.begin(), members_.end(),
                           [&](const Member* m) { return m->role == role; });
    }

    /// What shades, lines and diagonals stand for, of those that are drawn.
    [[nodiscard]] std::string legend(bool opened, bool ticks) const {
        std::vector<std::string> parts;
        if (std::any_of(members_.begin(), members_.end(),
                        [](const Member* m) { return fill_of(m->role) == Ink::pale; }))
            parts.emplace_back("grey: what frames an opening");
        if (opened) parts.emplace_back("coloured outline: rough opening");
        if (ticks) parts.emplace_back("coloured ticks: the layout, on the plates");
        if (std::any_of(members_.begin(), members_.end(), [](const Member* m) { return is_block(m->role); }))
            parts.emplace_back("diagonal: a block or backing");
        if (parts.empty()) return {};
        std::string out = fmt::format("{}.", fmt::join(parts, "; "));
        out[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(out[0])));
        return out;
    }

    double draw_notes(std::vector<Item>& items, double y, double width) const {
        const bool opened = face_ && !face_->openings.empty(), laid_out = !layout().empty();
        const bool ticks = laid_out && is_wall(panel_) && frame_.shown == Shown::frame;
        std::vector<std::string> notes{fmt::format("{} Dimensions to the frame{}{}.", view_words(),
                                                   opened ? " and to the edges of rough openings" : "",
                                                   laid_out ? "; layout to centres" : "")};
        if (const auto words = legend(opened, ticks); !words.empty()) notes.push_back(words);
        if (std::any_of(members_.begin(), members_.end(),
                        [](const Member* m) { return m->end_cut[0] != 0.0 || m->end_cut[1] != 0.0; }))
            notes.emplace_back(
                "Slanting ends are drawn square; cut lengths are from long point to long point.");
        if (panel_.kind == Panel::Kind::roof && !has(Role::rafter))
            notes.emplace_back("The trusses below this plane stand in the plan of the ceiling.");
        if (std::any_of(members_.begin(), members_.end(), [&](const Member* m) { return is_behind(*m); }))
            notes.emplace_back(
                "Dashed: stands behind what is drawn. Marks set together stand behind or upon one another.");
        if (frame_.shown != Shown::battens && !panel_.boxes.empty()) {
            notes.emplace_back(
                "E1, E2 ...: electrical boxes; a filled ring comes through the airtight layer, an open one "
                "stays inside of it.");
            notes.push_back(fmt::format("Caution: {}.", assembly::box_caution));
        }
        if (words_left_out_ > 0)
            notes.push_back(fmt::format("{} dimension{} too short to be written: see the cut list.",
                                        words_left_out_, words_left_out_ == 1 ? " is" : "s are"));
        for (const std::string& each : notes) {
            y += 14.0;
            items.emplace_back(Text{.at = {0.0, y},
                                    .text = fitted(each, Font::body, note_size, width),
                                    .size = note_size,
                                    .ink = Ink::quiet});
        }
        return y + 6.0;
    }

    [[nodiscard]] std::string describe() const {
        std::string text = view_words() + fmt::format(" {} members", members_.size());
        if (face_ && !face_->openings.empty())
            text += fmt::format(", {} rough openings", face_->openings.size());
        if (!panel_.boxes.empty()) text += fmt::format(", {} electrical boxes", panel_.boxes.size());
        text += ". Cut list: ";
        for (const CutRow& row : cut_list(members_))
            text += fmt::format("{} {} {} {}; ", row.count, framing::name_of(row.role), row.section,
                                length(row.length));
        text.resize(text.size() - 2);
        return text + ".";
    }

    const Panel& panel_;
    const assembly::Face* face_;
    const ElevationFrame& frame_;
    std::vector<const Member*> members_;
    double u0_ = 0.0, u1_ = 0.0, v0_ = 0.0, v1_ = 0.0, scale_ = 1.0;  // m; sheet units per m
    Box box_;
    double right_ = 0.0, names_end_ = 0.0;
    int words_left_out_ = 0;
    std::vector<Mark> top_, bottom_, lying_;
    Taken taken_;
};

}  // namespace

std::vector<const Member*> members_shown(const Panel& panel, Shown shown) {
    std::vector<const Member*> out;
    for (const Member& m : panel.members) {
        const Shown own = m.role == Role::furring  ? Shown::furring
                          : m.role == Role::batten ? Shown::battens
                                                   : Shown::frame;
        if (own == shown && m.role != Role::buck) out.push_back(&m);
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Member* a, const Member* b) { return a->box.low[2] < b->box.low[2]; });
    return out;
}

Sheet elevation(const Panel& panel, const assembly::Face* face, const ElevationFrame& frame,
                const Caption& caption) {
    return Elevation(panel, face, frame).draw(caption);
}

}  // namespace warmside::drawing
