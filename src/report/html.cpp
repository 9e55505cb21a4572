#include "report/html.h"

#include <fmt/format.h>

#include <cassert>
#include <cctype>

#include "base/embedded.h"
#include "drawing/svg.h"
#include "report/html_parts.h"

namespace warmside::report {
namespace {

using drawing::escape;

struct Face {
    std::string_view family, file;
    int weight;
};

constexpr Face faces[] = {
    {"IBM Plex Sans", "ibm-plex-sans-latin-400-normal", 400},
    {"IBM Plex Sans", "ibm-plex-sans-latin-600-normal", 600},
    {"IBM Plex Sans Condensed", "ibm-plex-sans-condensed-latin-400-normal", 400},
    {"IBM Plex Sans Condensed", "ibm-plex-sans-condensed-latin-600-normal", 600},
    {"IBM Plex Mono", "ibm-plex-mono-latin-400-normal", 400},
};

std::string font_rules() {
    std::string out;
    for (const auto& face : faces) {
        out += fmt::format(
            "@font-face{{font-family:\"{}\";font-weight:{};font-style:normal;src:url(data:font/"
            "woff2;base64,{}) format(\"woff2\")}}\n",
            face.family, face.weight, drawing::base64(asset(fmt::format("data/fonts/{}.woff2", face.file))));
    }
    return out;
}

std::string header(const Context& c) {
    const auto& a = c.answer;
    std::string place = a.place.empty() ? a.weather.place : a.place;
    if (!a.weather.climate_zone.empty()) place += ", zone " + a.weather.climate_zone;
    return fmt::format(
        "<header><div><h1>{}</h1><p>{}</p></div><div class=\"side\"><p>{}</p></div></header>\n",
        escape(a.house), escape(place),
        a.inch_pound_first ? "inch-pound first, SI beside it" : "SI first, inch-pound beside it");
}

std::string footer(const Context& c) {
    std::string out = "<footer>";
    for (const auto& line : c.answer.cautions) out += fmt::format("<p>{}</p>", escape(line));
    if (c.answer.key != Key{})
        out += fmt::format("<p>Warmside; answer <code>{}</code></p>", c.answer.key.hex().substr(0, 12));
    return out + "</footer>\n";
}

}  // namespace

std::string_view asset(std::string_view path) {
    const auto bytes = embedded::find(path);
    assert(bytes && "an asset of the page is not embedded");
    return bytes.value_or(std::string_view());
}

double column_width(std::size_t rungs) {
    if (rungs <= 4) return 250.0;
    if (rungs <= 6) return 178.0;
    if (rungs <= 8) return 138.0;
    return 122.0;
}

std::string id_of(assembly::Part part, std::string_view rung) {
    std::string id = std::string(assembly::name_of(part)) + "-" + std::string(rung);
    for (char& ch : id) {
        if (std::isalnum(static_cast<unsigned char>(ch)) == 0 && ch != '-' && ch != '_') ch = '-';
    }
    return id;
}

std::string main_of(const Context& c) {
    std::string out = header(c);
    for (const auto& ladder : c.answer.ladders) out += ladder_table(c, ladder);
    return out + notes_of(c) + footer(c);
}

std::string document_of(std::string_view title, std::string_view body, std::string_view scripts) {
    return fmt::format(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
        "content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<link rel=\"icon\" "
        "href=\"data:,\">\n<style>\n{}{}{}</style>\n</head>\n<body>\n{}{}</body>\n</html>\n",
        escape(title), font_rules(), asset("web/report.css"), drawing::svg_classes(), body, scripts);
}

std::string page(const assembly::House& house, const answer::Answer& a) {
    const Context context{.house = house, .answer = a};
    return document_of(a.house, "<main>\n" + main_of(context) + "</main>\n",
                       fmt::format("<script>\n{}</script>\n", asset("web/report.js")));
}

}  // namespace warmside::report
