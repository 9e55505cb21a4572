#include "base/origin.h"

#include <fmt/format.h>

namespace warmside {

const char* name_of(Evidence evidence) {
    switch (evidence) {
        case Evidence::seen: return "seen";
        case Evidence::quoted: return "quoted";
        case Evidence::memory: return "memory";
        case Evidence::computed: return "computed";
        case Evidence::practice: return "practice";
        case Evidence::none: return "none";
    }
    return "none";
}

Evidence evidence_of(std::string_view word) {
    for (const auto evidence :
         {Evidence::seen, Evidence::quoted, Evidence::memory, Evidence::computed, Evidence::practice}) {
        if (word == name_of(evidence)) return evidence;
    }
    return Evidence::none;
}

std::string describe(const Origin& origin) {
    std::string place = origin.where.file;
    if (origin.where.line > 0) place += fmt::format(":{}", origin.where.line);
    std::string out = place;
    if (!origin.source.empty()) out += (out.empty() ? "" : ", ") + origin.source;
    if (origin.evidence == Evidence::practice) {
        out += " (common practice, no source)";
    } else if (origin.evidence != Evidence::none) {
        out += fmt::format(" ({})", name_of(origin.evidence));
    }
    if (out.empty()) out = origin.kind == Origin::Kind::computed ? "computed" : "assumed";
    return out;
}

}  // namespace warmside
