#include "drawing/section.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "drawing/hatch.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

using assembly::Assembly;
using assembly::Framing;
using assembly::Layer;

constexpr double above = 16.0;    // room for the airtight sheet and the chain line
constexpr double below = 44.0;    // and for the dimension
constexpr double past = 9.0;      // how far the airtight sheet runs out
constexpr double margin = 0.075;  // m of wall beyond the outermost member

double metres_to_datum(const Assembly& a) {
    double depth = 0.0;
    for (std::size_t i = 0; i < a.layers.size() && i <= a.datum(); ++i)
        depth += a.layers[i].thickness.metres();
    return depth;
}

bool is_cut(const Framing& framing) {
    return framing.run == assembly::Run::vertical;
}

/// One drawing under construction: sheet positions of everything.
class Section {
public:
    Section(const Assembly& a, const Frame& frame) : a_(a), frame_(frame) {
        double x = frame.datum - metres_to_datum(a) * frame.scale;
        for (const auto& layer : a.layers) {
            left_.push_back(x);
            x += layer.thickness.metres() * frame.scale;
        }
        left_.push_back(x);
        top_ = above;
        bottom_ = above + frame.window * frame.scale;
    }

    Sheet draw(bool inch_pound_first) {
        Sheet sheet{.width = frame_.width, .height = bottom_ + below, .root = {}};
        auto& items = sheet.root.items;
        for (std::size_t i = 0; i < a_.layers.size(); ++i) {
            if (a_.layers[i].thickness.count() > 0) add(items, layer(i));
        }
        add(items, outline());
        add(items, datum_line());
        for (std::size_t i = 0; i < a_.layers.size(); ++i) membrane(items, i);
        services(items);
        add(items, dimension(inch_pound_first));
        sheet.root.title = fmt::format("Section of {}: {}", a_.name, a_.title);
        sheet.root.description = describe(inch_pound_first);
        return sheet;
    }

private:
    [[nodiscard]] Box box_of(std::size_t i) const {
        return {left_[i], top_, left_[i + 1] - left_[i], bottom_ - top_};
    }
    [[nodiscard]] Ink line_ink(const Layer& l) const { return l.existing ? Ink::hairline : Ink::ink; }

    [[nodiscard]] Group layer(std::size_t i) const {
        const auto& l = a_.layers[i];
        const Box box = box_of(i);
        Group group{.title = l.title() + (l.existing ? ", existing" : ""), .part = "layer"};
        const std::string word =
            l.kind == Layer::Kind::material && l.material ? l.material->hatch : std::string();
        group.items.emplace_back(rectangle(box, l.existing ? Ink::paper : ground_of(word)));
        // Large fields in a light line, so that members and sheets stand out.
        const bool large = word == "batt" || word == "board" || word == "foam";
        add(group.items, hatch(word, box,
                               l.existing || large ? Ink::hairline
                               : word == "wood"    ? Ink::quiet
                                                   : Ink::ink));
        if (l.framing && is_cut(*l.framing)) add(group.items, members(i, *l.framing));
        // The line between two layers; none where a membrane has its own.
        if (i + 1 < a_.layers.size() && a_.layers[i + 1].kind != Layer::Kind::membrane) {
            group.items.emplace_back(
                Line{{box.right(), top_}, {box.right(), bottom_}, {.ink = line_ink(l), .width = 0.8}});
        }
        return group;
    }

    /// Members toward the sheathing where they are shallower than their layer: that is what they are nailed
    /// to.
    [[nodiscard]] Group members(std::size_t i, const Framing& f) const {
        const auto& l = a_.layers[i];
        const Box box = box_of(i);
        Group group{.title = f.member,
                    .part = "members",
                    .clipped = true,
                    .clip = {box.x - 0.5, box.y, box.width + 1.0, box.height}};
        const double depth =
            std::min(f.depth.count() > 0 ? f.depth.metres() * frame_.scale : box.width, box.width);
        const double x = i <= a_.datum() ? box.right() - depth : box.x;
        const double width = f.width.metres() * frame_.scale;
        const Ink ink = line_ink(l);
        const double pitch = f.spacing.metres();
        for (int k = 0; k < 64; ++k) {
            const double centre = top_ + (frame_.first_member + k * pitch) * frame_.scale;
            if (centre - width / 2.0 > bottom_) break;
            member(group.items, f, {x, centre - width / 2.0, depth, width}, ink);
            if (pitch <= 0.0) break;
        }
        return group;
    }

    void member(std::vector<Item>& items, const Framing& f, const Box& box, Ink ink) const {
        if (f.kind == Framing::Kind::solid) {
            add(items, crossed(box, ink));
            return;
        }
        const double web = std::max(f.web_thickness.metres() * frame_.scale, 1.2);
        const double middle = box.y + box.height / 2.0;
        const double flange = std::min(f.flange_depth.metres() * frame_.scale, box.width / 2.0);
        const Box web_box{box.x + flange, middle - web / 2.0, box.width - 2.0 * flange, web};
        const bool truss = f.kind == Framing::Kind::truss;
        Stroke edge{.ink = ink, .width = 0.6};
        if (truss) edge.dash = {3.0, 2.0};  // webs stand only here and there along the member
        items.emplace_back(rectangle(web_box, truss ? Ink::none : Ink::wood, edge));
        if (flange > 0.0) {
            add(items, crossed({box.x, box.y, flange, box.height}, ink));
            add(items, crossed({box.right() - flange, box.y, flange, box.height}, ink));
        }
    }

    [[nodiscard]] Group outline() const {
        Group group{.part = "outline"};
        const Box box{left_.front(), top_, left_.back() - left_.front(), bottom_ - top_};
        group.items.emplace_back(rectangle(box, Ink::none, {.ink = Ink::ink, .width = 1.3}));
        return group;
    }

    [[nodiscard]] Group datum_line() const {
        Group group{.part = "datum"};
        const Stroke chain{.ink = Ink::quiet, .width = 0.6, .dash = {9.0, 2.5, 1.5, 2.5}};
        group.items.emplace_back(Line{{frame_.datum, 0.0}, {frame_.datum, top_ - 1.5}, chain});
        group.items.emplace_back(Line{{frame_.datum, bottom_ + 1.5}, {frame_.datum, bottom_ + 14.0}, chain});
        return group;
    }

    void membrane(std::vector<Item>& items, std::size_t i) const {
        const auto& l = a_.layers[i];
        if (l.airtight) {
            // A board that is the air barrier is sealed on its inner face.
            Group group{.title = "airtight: " + l.title(), .part = "airtight"};
            group.items.emplace_back(Line{
                {left_[i], top_ - past}, {left_[i], bottom_ + past}, {.ink = Ink::accent, .width = 1.8}});
            add(items, std::move(group));
        } else if (l.kind == Layer::Kind::membrane) {
            Group group{.title = l.title(), .part = "membrane"};
            group.items.emplace_back(
                Line{{left_[i], top_}, {left_[i], bottom_}, {.ink = Ink::paper, .width = 1.4}});
            group.items.emplace_back(
                Line{{left_[i], top_},
                     {left_[i], bottom_},
                     {.ink = l.existing ? Ink::quiet : Ink::ink, .width = 1.0, .dash = {4.0, 2.0}}});
            add(items, std::move(group));
        }
    }

    /// The cavity that carries the wires: insulated, framed, inside the airtight sheet.
    [[nodiscard]] std::optional<std::size_t> service_cavity() const {
        const auto sheet = a_.airtight_layer();
        if (!sheet || a_.part != assembly::Part::wall) return std::nullopt;
        for (std::size_t i = 0; i < *sheet; ++i) {
            const auto& l = a_.layers[i];
            if (l.kind == Layer::Kind::material && l.material && l.material->is_insulation && l.framing &&
                !l.existing)
                return i;
        }
        return std::nullopt;
    }

    void services(std::vector<Item>& items) const {
        const auto cavity = service_cavity();
        if (!cavity) return;
        const Box box = box_of(*cavity);
        const double width = std::min(box.width * 0.74, 0.05 * frame_.scale);
        const double height = 0.066 * frame_.scale;
        // Between the first two members, a little off the middle: the wire stands beside it.
        const double y = top_ + frame_.window * frame_.scale * 0.42;
        const double x = box.x + (box.width - width) / 2.0;
        Group group{.title = "box and wire in the inner cavity", .part = "services"};
        group.items.emplace_back(
            rectangle({x, y, width, height}, Ink::paper, {.ink = Ink::ink, .width = 0.7}));
        const Point middle{x + width / 2.0, y + height / 2.0};
        group.items.emplace_back(
            Circle{.centre = middle, .radius = width * 0.27, .stroke = {.ink = Ink::ink, .width = 0.6}});
        group.items.emplace_back(
            Circle{.centre = {middle.x, y + height + 13.0}, .radius = 2.2, .fill = Ink::ink});
        add(items, std::move(group));
    }

    [[nodiscard]] Group dimension(bool inch_pound_first) const {
        Group group{.part = "dimension"};
        const double y = bottom_ + 22.0;
        const double l = left_.front(), r = left_.back();
        const Stroke fine{.ink = Ink::quiet, .width = 0.7};
        group.items.emplace_back(Line{{l, y}, {r, y}, fine});
        for (const double x : {l, r})
            group.items.emplace_back(
                Line{{x - 3.0, y + 3.0}, {x + 3.0, y - 3.0}, {.ink = Ink::ink, .width = 0.8}});
        const double thickness = a_.thickness().metres();
        const std::string inches = units::inches(thickness), millimetres = units::millimetres(thickness);
        // Kept on the sheet when the wall itself stands near its edge.
        const double x = std::clamp((l + r) / 2.0, 42.0, std::max(42.0, frame_.width - 42.0));
        group.items.emplace_back(Text{.at = {x, y + 15.0},
                                      .text = inch_pound_first ? inches : millimetres,
                                      .anchor = Anchor::end,
                                      .font = Font::condensed,
                                      .size = 12.5});
        auto& first = std::get<Text>(group.items.back());
        first.at.x = x + 5.0;
        group.items.emplace_back(Text{.at = {x + 11.0, y + 15.0},
                                      .text = inch_pound_first ? millimetres : inches,
                                      .font = Font::condensed,
                                      .size = 11.0,
                                      .ink = Ink::quiet});
        return group;
    }

    [[nodiscard]] std::string describe(bool inch_pound_first) const {
        std::string text = a_.part == assembly::Part::wall || a_.part == assembly::Part::basement_wall
                               ? "Plan cut, inside on the left. "
                               : fmt::format("Cut through the {}, turned on its side: inside on the left. ",
                                             assembly::name_of(a_.part));
        text += "From inside: ";
        for (std::size_t i = 0; i < a_.layers.size(); ++i) {
            const auto& l = a_.layers[i];
            if (i) text += "; ";
            if (l.thickness.count() > 0) {
                const double t = l.thickness.metres();
                text += (inch_pound_first ? units::inches(t) : units::millimetres(t)) + " ";
            }
            text += l.title();
            if (l.airtight) text += ", airtight";
            if (l.framing)
                text += fmt::format(", with {}{}", l.framing->member,
                                    is_cut(*l.framing) ? "" : " crosswise, not cut here");
        }
        return text + ".";
    }

    const Assembly& a_;
    const Frame& frame_;
    std::vector<double> left_;
    double top_ = 0.0, bottom_ = 0.0;
};

}  // namespace

Frame frame_of(std::span<const Assembly* const> rungs, double width) {
    Frame frame{.width = width};
    double inward = 0.0, outward = 0.0, spacing = 0.0;
    for (const auto* a : rungs) {
        const double to_datum = metres_to_datum(*a);
        inward = std::max(inward, to_datum);
        outward = std::max(outward, a->thickness().metres() - to_datum);
        for (const auto& l : a->layers) {
            if (l.framing && is_cut(*l.framing)) spacing = std::max(spacing, l.framing->spacing.metres());
        }
    }
    const double thickest = inward + outward;
    if (thickest <= 0.0) return frame;
    frame.window = std::clamp(spacing > 0.0 ? spacing + 2.0 * margin : 0.6, 0.4, 0.8);
    frame.first_member = margin;
    const double side = 5.0;  // the ticks of the dimension
    // No larger than what keeps a bay at a good height, however thin the assemblies are.
    frame.scale = std::min((width - 2.0 * side) / thickest, 330.0 / frame.window);
    frame.datum = side + (width - 2.0 * side - thickest * frame.scale) / 2.0 + inward * frame.scale;
    return frame;
}

Sheet section(const Assembly& assembly, const Frame& frame, bool inch_pound_first) {
    return Section(assembly, frame).draw(inch_pound_first);
}

}  // namespace warmside::drawing
