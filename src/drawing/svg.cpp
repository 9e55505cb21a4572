#include "drawing/svg.h"

#include <fmt/format.h>

#include <cmath>

namespace warmside::drawing {
namespace {

constexpr std::string_view classes =
    R"(.d text{font-family:"IBM Plex Sans",system-ui,sans-serif;font-variant-numeric:tabular-nums}
.d .t-condensed{font-family:"IBM Plex Sans Condensed","IBM Plex Sans",system-ui,sans-serif}
.d .t-strong{font-weight:600}
.d .t-mono{font-family:"IBM Plex Mono",ui-monospace,monospace}
.d .f-none{fill:none}.d .f-paper{fill:var(--paper)}.d .f-ink{fill:var(--ink)}.d .f-quiet{fill:var(--quiet)}
.d .f-hairline{fill:var(--hairline)}.d .f-accent{fill:var(--accent)}.d .f-wood{fill:var(--wood)}
.d .f-wool{fill:var(--wool)}.d .f-pale{fill:var(--pale)}
.d .s-paper{stroke:var(--paper)}.d .s-ink{stroke:var(--ink)}.d .s-quiet{stroke:var(--quiet)}
.d .s-hairline{stroke:var(--hairline)}.d .s-accent{stroke:var(--accent)}.d .s-wood{stroke:var(--wood)}
.d .s-wool{stroke:var(--wool)}.d .s-pale{stroke:var(--pale)}
)";

constexpr std::string_view light =
    "svg{--paper:#fbfaf7;--ink:#23272b;--quiet:#6d747b;--hairline:#c9cdd0;--accent:#b4531f;--wood:#efe3cc;--"
    "wool:#f6f3ea;--pale:#e3e5e5;"
    "background:var(--paper)}\n";
constexpr std::string_view dark =
    "@media "
    "(prefers-color-scheme:dark){svg{--paper:#17191b;--ink:#e8e6e1;--quiet:#9aa1a7;--hairline:#43494e;--"
    "accent:#e08a52;"
    "--wood:#4a4030;--wool:#24241f;--pale:#34393d}}\n";

constexpr std::string_view ink_names[] = {"none",   "paper", "ink",  "quiet", "hairline",
                                          "accent", "wood",  "wool", "pale"};
constexpr std::string_view font_names[] = {"body", "condensed", "figure", "strong", "mono"};
constexpr std::string_view anchor_names[] = {"start", "middle", "end"};

std::string_view name_of(Ink ink) {
    return ink_names[static_cast<std::size_t>(ink)];
}

/// Two decimals, no trailing zeros: half the size, and far below what a screen or a plotter shows.
std::string num(double value) {
    if (!std::isfinite(value)) value = 0.0;
    std::string text = fmt::format("{:.2f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

class Writer {
public:
    explicit Writer(const SvgOptions& options) : options_(options) {}

    std::string sheet(const Sheet& sheet) {
        const auto& root = sheet.root;
        const double m = sheet.margin, width = sheet.width + 2.0 * m, height = sheet.height + 2.0 * m;
        const std::string own =
            options_.standalone
                ? fmt::format(" xmlns=\"http://www.w3.org/2000/svg\" width=\"{}\" height=\"{}\"", num(width),
                              num(height))
                : "";
        out_ +=
            fmt::format("<svg class=\"d\"{} viewBox=\"{} {} {} {}\" role=\"img\" aria-labelledby=\"{}-t\"",
                        own, num(-m), num(-m), num(width), num(height), options_.id);
        if (!root.description.empty()) out_ += fmt::format(" aria-describedby=\"{}-d\"", options_.id);
        out_ += fmt::format("><title id=\"{}-t\">{}</title>", options_.id, escape(root.title));
        if (!root.description.empty())
            out_ += fmt::format("<desc id=\"{}-d\">{}</desc>", options_.id, escape(root.description));
        if (options_.standalone)
            out_ += fmt::format("<style>{}{}{}{}</style>", options_.fonts, light, dark, classes);
        for (const auto& item : root.items) write(item);
        out_ += "</svg>";
        return std::move(out_);
    }

private:
    void write(const Item& item) {
        std::visit([this](const auto& it) { one(it); }, item);
    }

    std::string paint(Ink fill, const Stroke& stroke) const {
        std::string text = fmt::format(" class=\"f-{}", name_of(fill));
        if (stroke.ink != Ink::none) text += fmt::format(" s-{}", name_of(stroke.ink));
        text += '"';
        if (stroke.ink == Ink::none) return text;
        text += fmt::format(" stroke-width=\"{}\"", num(stroke.width));
        if (!stroke.dash.empty()) {
            text += " stroke-dasharray=\"";
            for (std::size_t i = 0; i < stroke.dash.size(); ++i) text += (i ? " " : "") + num(stroke.dash[i]);
            text += '"';
        }
        return text;
    }

    void one(const Line& it) {
        out_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>", num(it.from.x),
                            num(it.from.y), num(it.to.x), num(it.to.y), paint(Ink::none, it.stroke));
    }

    void one(const Polygon& it) {
        if (it.points.empty()) return;
        std::string path;
        for (std::size_t i = 0; i < it.points.size(); ++i)
            path += fmt::format("{}{} {}", i ? "L" : "M", num(it.points[i].x), num(it.points[i].y));
        if (it.closed) path += "Z";
        out_ += fmt::format("<path d=\"{}\"{}/>", path, paint(it.fill, it.stroke));
    }

    void one(const Curve& it) {
        if (it.points.empty()) return;
        std::string path = fmt::format("M{} {}", num(it.points[0].x), num(it.points[0].y));
        for (std::size_t i = 1; i + 2 < it.points.size(); i += 3) {
            path += fmt::format("C{} {} {} {} {} {}", num(it.points[i].x), num(it.points[i].y),
                                num(it.points[i + 1].x), num(it.points[i + 1].y), num(it.points[i + 2].x),
                                num(it.points[i + 2].y));
        }
        out_ += fmt::format("<path d=\"{}\"{}/>", path, paint(Ink::none, it.stroke));
    }

    void one(const Circle& it) {
        out_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>", num(it.centre.x), num(it.centre.y),
                            num(it.radius), paint(it.fill, it.stroke));
    }

    void one(const Text& it) {
        out_ += fmt::format(
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\" class=\"f-{} t-{}\">{}</text>",
            num(it.at.x), num(it.at.y), num(it.size), anchor_names[static_cast<std::size_t>(it.anchor)],
            name_of(it.ink), font_names[static_cast<std::size_t>(it.font)], escape(it.text));
    }

    void one(const Image& it) {
        out_ += fmt::format(
            "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\"{} "
            "href=\"data:image/png;base64,{}\"/>",
            num(it.box.x), num(it.box.y), num(it.box.width), num(it.box.height),
            it.opacity < 1.0 ? fmt::format(" opacity=\"{}\"", num(it.opacity)) : "", base64(it.png));
    }

    void one(const std::shared_ptr<const Group>& group) {
        out_ += "<g";
        if (!group->part.empty()) out_ += fmt::format(" data-part=\"{}\"", escape(group->part));
        std::string clip;
        if (group->clipped) {
            const std::string id = fmt::format("{}-c{}", options_.id, ++clips_);
            out_ += fmt::format(" clip-path=\"url(#{})\"", id);
            const auto& box = group->clip;
            clip = fmt::format(
                "<clipPath id=\"{}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>", id,
                num(box.x), num(box.y), num(box.width), num(box.height));
        }
        out_ += ">" + clip;
        if (!group->title.empty()) out_ += fmt::format("<title>{}</title>", escape(group->title));
        if (!group->description.empty()) out_ += fmt::format("<desc>{}</desc>", escape(group->description));
        for (const auto& item : group->items) write(item);
        out_ += "</g>";
    }

    const SvgOptions& options_;
    std::string out_;
    int clips_ = 0;
};

}  // namespace

std::string svg(const Sheet& sheet, const SvgOptions& options) {
    return Writer(options).sheet(sheet);
}

std::string_view svg_classes() {
    return classes;
}

std::string escape(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        switch (c) {
            case '&': out += "&amp;"; break;
            case '<': out += "&lt;"; break;
            case '>': out += "&gt;"; break;
            case '"': out += "&quot;"; break;
            case '\'': out += "&#39;"; break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
        }
    }
    return out;
}

std::string base64(std::string_view bytes) {
    constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const auto byte = [&](std::size_t k) {
            return k < bytes.size() ? static_cast<unsigned>(static_cast<unsigned char>(bytes[k])) : 0U;
        };
        const unsigned word = byte(i) << 16U | byte(i + 1) << 8U | byte(i + 2);
        out += letters[word >> 18U & 63U];
        out += letters[word >> 12U & 63U];
        out += i + 1 < bytes.size() ? letters[word >> 6U & 63U] : '=';
        out += i + 2 < bytes.size() ? letters[word & 63U] : '=';
    }
    return out;
}

}  // namespace warmside::drawing
