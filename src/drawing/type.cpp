#include "drawing/type.h"

#include <fmt/format.h>
#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H

#include <array>
#include <set>

#include "base/embedded.h"
#include "drawing/svg.h"

namespace warmside::drawing {
namespace {

struct Face {
    std::string_view family, file;
    int weight;
};

// By Font: body, condensed, figure, strong, mono.
constexpr std::array faces{
    Face{"IBM Plex Sans", "ibm-plex-sans-latin-400-normal", 400},
    Face{"IBM Plex Sans Condensed", "ibm-plex-sans-condensed-latin-400-normal", 400},
    Face{"IBM Plex Sans", "ibm-plex-sans-latin-400-normal", 400},
    Face{"IBM Plex Sans", "ibm-plex-sans-latin-600-normal", 600},
    Face{"IBM Plex Mono", "ibm-plex-mono-latin-400-normal", 400},
};

std::string_view bytes_of(const Face& face) {
    return embedded::find(fmt::format("data/fonts/{}.woff2", face.file)).value_or(std::string_view());
}

/// The faces as the library opened them; one set a thread, since the library shares nothing between threads.
class Library {
public:
    Library() { FT_Init_FreeType(&library_); }
    Library(const Library&) = delete;
    Library& operator=(const Library&) = delete;
    ~Library() { FT_Done_FreeType(library_); }

    /// Null when it cannot be read.
    FT_Face face(Font font) {
        const auto i = static_cast<std::size_t>(font);
        if (!open_[i] && library_) {
            const auto bytes = bytes_of(faces[i]);
            if (FT_New_Memory_Face(library_, reinterpret_cast<const FT_Byte*>(bytes.data()),
                                   static_cast<FT_Long>(bytes.size()), 0, &open_[i]) != 0)
                open_[i] = nullptr;
        }
        return open_[i];
    }

private:
    FT_Library library_ = nullptr;
    std::array<FT_Face, faces.size()> open_{};
};

FT_Face face_of(Font font) {
    thread_local Library library;
    return library.face(font);
}

/// The next letter of UTF-8; a byte that begins none counts as itself.
char32_t next_letter(std::string_view text, std::size_t& at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(at);
    const std::size_t more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
    char32_t letter = more == 0 ? lead : lead & (0x3FU >> more);
    ++at;
    for (std::size_t k = 0; k < more && at < text.size() && (byte(at) & 0xC0U) == 0x80U; ++k, ++at)
        letter = letter << 6U | (byte(at) & 0x3FU);
    return letter;
}

/// Calls each(face) with the letter's outline loaded, unscaled.
template <class Each>
void each_letter(std::string_view text, FT_Face face, Each&& each) {
    for (std::size_t at = 0; at < text.size();) {
        const auto letter = next_letter(text, at);
        if (FT_Load_Char(face, letter, FT_LOAD_NO_SCALE) == 0) each(face->glyph);
    }
}

/// Takes the pieces of an outline; curves become eight straight pieces each.
struct Pen {
    std::vector<Outline>& out;
    Point origin;
    double scale;
    [[nodiscard]] Point place(const FT_Vector& v) const {
        return {origin.x + scale * static_cast<double>(v.x), origin.y - scale * static_cast<double>(v.y)};
    }
    static constexpr int pieces = 8;
};

int move_to(const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    pen.out.push_back({pen.place(*to)});
    return 0;
}
int line_to(const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    pen.out.back().push_back(pen.place(*to));
    return 0;
}
int cubic_to(const FT_Vector* a, const FT_Vector* b, const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    const Point p0 = pen.out.back().back(), p1 = pen.place(*a), p2 = pen.place(*b), p3 = pen.place(*to);
    for (int k = 1; k <= Pen::pieces; ++k) {
        const double t = static_cast<double>(k) / Pen::pieces, s = 1.0 - t;
        const double b0 = s * s * s, b1 = 3.0 * s * s * t, b2 = 3.0 * s * t * t, b3 = t * t * t;
        pen.out.back().push_back(
            {b0 * p0.x + b1 * p1.x + b2 * p2.x + b3 * p3.x, b0 * p0.y + b1 * p1.y + b2 * p2.y + b3 * p3.y});
    }
    return 0;
}
int conic_to(const FT_Vector* middle, const FT_Vector* to, void* user) {
    auto& pen = *static_cast<Pen*>(user);
    const Point p0 = pen.out.back().back(), p1 = pen.place(*middle), p2 = pen.place(*to);
    for (int k = 1; k <= Pen::pieces; ++k) {
        const double t = static_cast<double>(k) / Pen::pieces, s = 1.0 - t;
        pen.out.back().push_back({s * s * p0.x + 2.0 * s * t * p1.x + t * t * p2.x,
                                  s * s * p0.y + 2.0 * s * t * p1.y + t * t * p2.y});
    }
    return 0;
}

}  // namespace

double width_of(std::string_view text, Font font, double size) {
    const FT_Face face = face_of(font);
    if (!face) return 0.0;
    FT_Pos advance = 0;
    each_letter(text, face, [&](FT_GlyphSlot glyph) { advance += glyph->advance.x; });
    return size * static_cast<double>(advance) / face->units_per_EM;
}

std::string fitted(std::string_view text, Font font, double size, double room) {
    if (width_of(text, font, size) <= room) return std::string(text);
    std::size_t best = 0;
    for (std::size_t at = 0; at < text.size();) {
        next_letter(text, at);
        if (width_of(std::string(text.substr(0, at)) + "\u2026", font, size) > room) break;
        best = at;
    }
    while (best > 0 && text[best - 1] == ' ') --best;
    return std::string(text.substr(0, best)) + "\u2026";
}

Result<std::vector<Outline>> outlines_of(std::string_view text, Font font, double size, Point at) {
    const FT_Face face = face_of(font);
    if (!face) return fail(Code::unsupported, "a typeface of the program cannot be read");
    std::vector<Outline> out;
    FT_Outline_Funcs pieces{};
    pieces.move_to = move_to;
    pieces.line_to = line_to;
    pieces.conic_to = conic_to;
    pieces.cubic_to = cubic_to;
    const double scale = size / face->units_per_EM;
    int fault = 0;
    each_letter(text, face, [&](FT_GlyphSlot glyph) {
        Pen pen{out, at, scale};
        if (const int error = FT_Outline_Decompose(&glyph->outline, &pieces, &pen)) fault = error;
        at.x += scale * static_cast<double>(glyph->advance.x);
    });
    if (fault != 0) return fail(Code::unsupported, fmt::format("a typeface: error {}", fault));
    return out;
}

std::string font_rules(const std::vector<Font>& fonts) {
    std::string out;
    std::set<std::string_view> done;
    for (const Font font : fonts) {
        const Face& face = faces[static_cast<std::size_t>(font)];
        if (!done.insert(face.file).second) continue;
        out += fmt::format(
            "@font-face{{font-family:\"{}\";font-weight:{};font-style:normal;src:url(data:font/"
            "woff2;base64,{}) format(\"woff2\")}}\n",
            face.family, face.weight, base64(bytes_of(face)));
    }
    return out;
}

}  // namespace warmside::drawing
