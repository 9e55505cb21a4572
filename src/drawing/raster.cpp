#include "drawing/raster.h"

#include <fmt/format.h>
#include <ft2build.h>
#include <png.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "drawing/type.h"

namespace warmside::drawing {
namespace {

constexpr double largest_side = 16384.0;
constexpr int most_cells = 256;
constexpr std::size_t most_points = 30000;  // an outline of the library counts its points in 16 bits

// By Ink: none, paper, ink, quiet, hairline, accent, wood, wool, pale. The values of svg.cpp.
constexpr std::array<unsigned, 9> light{0xfbfaf7, 0xfbfaf7, 0x23272b, 0x6d747b, 0xc9cdd0,
                                        0xb4531f, 0xefe3cc, 0xf6f3ea, 0xe3e5e5};
constexpr std::array<unsigned, 9> dark{0x17191b, 0x17191b, 0xe8e6e1, 0x9aa1a7, 0x43494e,
                                       0xe08a52, 0x4a4030, 0x24241f, 0x34393d};

double area(const Outline& outline) {
    double sum = 0.0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        sum += a.x * b.y - b.x * a.y;
    }
    return 0.5 * sum;
}

Outline circle(const Point& centre, double radius) {
    Outline out;
    const int pieces = std::clamp(static_cast<int>(8.0 * std::sqrt(radius + 1.0)), 12, 96);
    for (int k = 0; k < pieces; ++k) {
        const double angle = 2.0 * std::numbers::pi * k / pieces;
        out.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
    }
    return out;
}

/// Pixels of the sheet, and the only place that knows of the library's rasteriser.
class Canvas {
public:
    Canvas(int width, int height, unsigned paper)
        : width_(width), height_(height), pixels_(static_cast<std::size_t>(width * height) * 3) {
        for (std::size_t i = 0; i < pixels_.size(); i += 3) put(i, paper, 255);
        clip_ = {0, 0, width, height};
        FT_Init_FreeType(&library_);
    }
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;
    ~Canvas() { FT_Done_FreeType(library_); }

    struct Clip {
        int left, top, right, bottom;
    };
    Clip clip() const { return clip_; }
    void set_clip(const Clip& clip) { clip_ = clip; }

    /// Fills all outlines together by the rule of non-zero winding. Pixels; y down.
    void fill(const std::vector<Outline>& outlines, unsigned colour) {
        std::size_t begin = 0, points = 0;
        for (std::size_t i = 0; i <= outlines.size(); ++i) {
            const std::size_t more = i < outlines.size() ? outlines[i].size() : 0;
            if (i == outlines.size() || points + more > most_points) {
                fill_some(std::span(outlines).subspan(begin, i - begin), colour);
                begin = i;
                points = 0;
            }
            points += more;
        }
    }

    /// rgba: four bytes a pixel.
    void image(const Box& box, const std::vector<std::uint8_t>& rgba, int columns, int rows, double opacity) {
        const int x0 = std::max(clip_.left, static_cast<int>(std::lround(box.x)));
        const int x1 = std::min(clip_.right, static_cast<int>(std::lround(box.right())));
        const int y0 = std::max(clip_.top, static_cast<int>(std::lround(box.y)));
        const int y1 = std::min(clip_.bottom, static_cast<int>(std::lround(box.bottom())));
        for (int y = y0; y < y1; ++y) {
            const auto row = std::clamp(static_cast<int>((y + 0.5 - box.y) / box.height * rows), 0, rows - 1);
            for (int x = x0; x < x1; ++x) {
                const auto column =
                    std::clamp(static_cast<int>((x + 0.5 - box.x) / box.width * columns), 0, columns - 1);
                const auto from = static_cast<std::size_t>(row * columns + column) * 4;
                const unsigned colour = static_cast<unsigned>(rgba[from]) << 16U |
                                        static_cast<unsigned>(rgba[from + 1]) << 8U | rgba[from + 2];
                put(static_cast<std::size_t>(y * width_ + x) * 3, colour,
                    static_cast<unsigned>(std::lround(opacity * rgba[from + 3])));
            }
        }
    }

    Result<std::string> png() const {
        if (failed_) return fail(Code::unsupported, "an outline of the picture could not be filled");
        png_image image{};
        image.version = PNG_IMAGE_VERSION;
        image.width = static_cast<png_uint_32>(width_);
        image.height = static_cast<png_uint_32>(height_);
        image.format = PNG_FORMAT_RGB;
        png_alloc_size_t size = 0;
        std::string bytes;
        // Asked twice: for the size, then for the bytes.
        for (int round = 0; round < 2; ++round) {
            bytes.resize(size);
            if (png_image_write_to_memory(&image, round ? bytes.data() : nullptr, &size, 0, pixels_.data(), 0,
                                          nullptr) == 0)
                return fail(Code::unsupported, fmt::format("PNG: {}", image.message));
        }
        bytes.resize(size);
        return bytes;
    }

private:
    void put(std::size_t at, unsigned colour, unsigned cover) {
        for (const unsigned shift : {16U, 8U, 0U}) {
            const unsigned under = pixels_[at], over = colour >> shift & 255U;
            pixels_[at++] = static_cast<std::uint8_t>((under * (255U - cover) + over * cover + 127U) / 255U);
        }
    }

    void fill_some(std::span<const Outline> outlines, unsigned colour) {
        std::vector<FT_Vector> points;
        std::vector<char> tags;
        std::vector<short> ends;
        for (const Outline& outline : outlines) {
            if (outline.size() < 3) continue;
            for (const Point& p : outline) {
                points.push_back({std::lround(64.0 * p.x), std::lround(64.0 * (height_ - p.y))});
                tags.push_back(FT_CURVE_TAG_ON);
            }
            ends.push_back(static_cast<short>(points.size() - 1));
        }
        if (points.empty()) return;
        FT_Outline shape{};
        shape.n_contours = static_cast<short>(ends.size());
        shape.n_points = static_cast<short>(points.size());
        shape.points = points.data();
        shape.tags = tags.data();
        shape.contours = ends.data();
        struct Brush {
            Canvas* canvas;
            unsigned colour;
        } brush{this, colour};
        FT_Raster_Params how{};
        how.flags = FT_RASTER_FLAG_AA | FT_RASTER_FLAG_DIRECT | FT_RASTER_FLAG_CLIP;
        how.gray_spans = [](int y, int count, const FT_Span* spans, void* user) {
            const auto& b = *static_cast<Brush*>(user);
            for (int k = 0; k < count; ++k) b.canvas->span(y, spans[k], b.colour);
        };
        how.user = &brush;
        // The library keeps one cell for each pixel of a row that an edge touches, and not many of them: a
        // long line that runs level needs more than it has. Columns of a few hundred pixels always fit.
        const auto [least, most] = std::minmax_element(
            points.begin(), points.end(), [](const FT_Vector& u, const FT_Vector& v) { return u.x < v.x; });
        const int begin = std::max(clip_.left, static_cast<int>(least->x / 64) - 1);
        const int end = std::min(clip_.right, static_cast<int>(most->x / 64) + 2);
        for (int left = begin; left < end; left += most_cells) {
            how.clip_box = {left, height_ - clip_.bottom, std::min(left + most_cells, end),
                            height_ - clip_.top};
            if (FT_Outline_Render(library_, &shape, &how) != 0) failed_ = true;
        }
    }

    void span(int y, const FT_Span& span, unsigned colour) {
        const int row = height_ - 1 - y;
        for (int x = span.x; x < span.x + span.len; ++x)
            put(static_cast<std::size_t>(row * width_ + x) * 3, colour, span.coverage);
    }

    int width_, height_;
    std::vector<std::uint8_t> pixels_;
    Clip clip_{};
    bool failed_ = false;
    FT_Library library_ = nullptr;
};

class Painter {
public:
    Painter(Canvas& canvas, const RasterOptions& options, double margin)
        : canvas_(canvas), options_(options), margin_(margin) {}

    void paint(const std::vector<Item>& items) {
        for (const auto& item : items) std::visit([this](const auto& it) { one(it); }, item);
    }
    const std::optional<Problem>& problem() const { return problem_; }

private:
    [[nodiscard]] Point at(const Point& p) const {
        return {(p.x + margin_) * options_.scale, (p.y + margin_) * options_.scale};
    }
    [[nodiscard]] unsigned colour(Ink ink) const { return colour_of(ink, options_.dark); }

    void one(const Line& it) { stroke({at(it.from), at(it.to)}, false, it.stroke); }

    void one(const Polygon& it) {
        Outline points;
        for (const auto& p : it.points) points.push_back(at(p));
        if (it.fill != Ink::none) canvas_.fill({points}, colour(it.fill));
        stroke(points, it.closed, it.stroke);
    }

    void one(const Curve& it) {
        if (it.points.empty()) return;
        Outline points{at(it.points[0])};
        constexpr int pieces = 12;
        for (std::size_t i = 1; i + 2 < it.points.size(); i += 3) {
            const Point a = points.back(), b = at(it.points[i]), c = at(it.points[i + 1]),
                        d = at(it.points[i + 2]);
            for (int k = 1; k <= pieces; ++k) {
                const double t = static_cast<double>(k) / pieces, s = 1.0 - t;
                const auto mix = [&](double p, double q, double u, double v) {
                    return s * s * s * p + 3.0 * s * s * t * q + 3.0 * s * t * t * u + t * t * t * v;
                };
                points.push_back({mix(a.x, b.x, c.x, d.x), mix(a.y, b.y, c.y, d.y)});
            }
        }
        stroke(points, false, it.stroke);
    }

    void one(const Circle& it) {
        const Outline round = circle(at(it.centre), it.radius * options_.scale);
        if (it.fill != Ink::none) canvas_.fill({round}, colour(it.fill));
        stroke(round, true, it.stroke);
    }

    void one(const Text& it) {
        Point start = it.at;
        const double width = it.anchor == Anchor::start ? 0.0 : width_of(it.text, it.font, it.size);
        start.x -= it.anchor == Anchor::middle ? width / 2.0 : width;
        const auto outlines = outlines_of(it.text, it.font, it.size * options_.scale, at(start));
        if (!outlines) {
            problem_ = outlines.error();
            return;
        }
        canvas_.fill(*outlines, colour(it.ink));
    }

    void one(const Image& it) {
        png_image image{};
        image.version = PNG_IMAGE_VERSION;
        std::vector<std::uint8_t> rgba;
        bool good = png_image_begin_read_from_memory(&image, it.png.data(), it.png.size()) != 0;
        if (good) {
            image.format = PNG_FORMAT_RGBA;
            rgba.resize(PNG_IMAGE_SIZE(image));
            good = png_image_finish_read(&image, nullptr, rgba.data(), 0, nullptr) != 0;
        }
        if (!good) {
            problem_ = Problem{.code = Code::unsupported, .what = fmt::format("PNG: {}", image.message)};
            return;
        }
        const Point corner = at({it.box.x, it.box.y});
        canvas_.image({corner.x, corner.y, it.box.width * options_.scale, it.box.height * options_.scale},
                      rgba, static_cast<int>(image.width), static_cast<int>(image.height), it.opacity);
    }

    void one(const std::shared_ptr<const Group>& group) {
        const auto before = canvas_.clip();
        if (group->clipped) {
            const Point a = at({group->clip.x, group->clip.y}),
                        b = at({group->clip.right(), group->clip.bottom()});
            canvas_.set_clip({std::max(before.left, static_cast<int>(std::floor(a.x))),
                              std::max(before.top, static_cast<int>(std::floor(a.y))),
                              std::min(before.right, static_cast<int>(std::ceil(b.x))),
                              std::min(before.bottom, static_cast<int>(std::ceil(b.y)))});
        }
        paint(group->items);
        canvas_.set_clip(before);
    }

    /// Each straight piece becomes a bar, each joint of a thick line a disc; all wind the same way, so that
    /// they fill as one.
    void stroke(const Outline& points, bool closed, const Stroke& stroke) {
        if (stroke.ink == Ink::none || points.size() < 2) return;
        const double half = 0.5 * stroke.width * options_.scale;
        std::vector<Outline> bars;
        std::size_t dash = 0;
        double left = stroke.dash.empty() ? 0.0 : stroke.dash[0] * options_.scale;
        const std::size_t pieces = closed ? points.size() : points.size() - 1;
        for (std::size_t i = 0; i < pieces; ++i) {
            const Point a = points[i], b = points[(i + 1) % points.size()];
            const double length = std::hypot(b.x - a.x, b.y - a.y);
            if (!(length > 0.0)) continue;
            const Point along{(b.x - a.x) / length, (b.y - a.y) / length};
            const auto bar = [&](double from, double to) {
                const Point p{a.x + along.x * from, a.y + along.y * from},
                    q{a.x + along.x * to, a.y + along.y * to}, side{-along.y * half, along.x * half};
                push(bars, {{p.x + side.x, p.y + side.y},
                            {q.x + side.x, q.y + side.y},
                            {q.x - side.x, q.y - side.y},
                            {p.x - side.x, p.y - side.y}});
            };
            if (stroke.dash.empty()) {
                bar(0.0, length);
                if (half > 0.8 && (closed || i > 0)) push(bars, circle(a, half));
                continue;
            }
            for (double from = 0.0; from < length;) {
                const double to = std::min(length, from + left);
                if (dash % 2 == 0) bar(from, to);
                left -= to - from;
                from = to;
                if (left <= 1e-9)
                    left = std::max(stroke.dash[++dash % stroke.dash.size()], 0.1) * options_.scale;
            }
        }
        canvas_.fill(bars, colour(stroke.ink));
    }

    static void push(std::vector<Outline>& bars, Outline outline) {
        if (area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
        bars.push_back(std::move(outline));
    }

    Canvas& canvas_;
    const RasterOptions& options_;
    double margin_;
    std::optional<Problem> problem_;
};

}  // namespace

unsigned colour_of(Ink ink, bool is_dark) {
    return (is_dark ? dark : light)[static_cast<std::size_t>(ink)];
}

Result<std::string> picture(const Sheet& sheet, const RasterOptions& options) {
    const double width = std::ceil((sheet.width + 2.0 * sheet.margin) * options.scale),
                 height = std::ceil((sheet.height + 2.0 * sheet.margin) * options.scale);
    if (!(width >= 1.0 && height >= 1.0 && width <= largest_side && height <= largest_side))
        return fail(Code::out_of_range, fmt::format("a picture of {} x {} pixels", width, height));
    Canvas canvas(static_cast<int>(width), static_cast<int>(height), colour_of(Ink::paper, options.dark));
    Painter painter(canvas, options, sheet.margin);
    painter.paint(sheet.root.items);
    if (painter.problem()) return fail(*painter.problem());
    return canvas.png();
}

}  // namespace warmside::drawing
