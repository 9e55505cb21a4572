// For tests: is a text well-formed XML? Tags balanced, attributes quoted and unique, entities known. No DTD,
// no CDATA.
#pragma once

#include <cctype>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace warmside::made_up {

/// Empty when well-formed, else what is wrong.
inline std::string xml_fault(std::string_view text) {
    std::vector<std::string> open;
    std::size_t i = 0;
    int roots = 0;
    const auto name_end = [&](std::size_t at) {
        while (at < text.size() && (std::isalnum(static_cast<unsigned char>(text[at])) != 0 ||
                                    text[at] == '-' || text[at] == ':' || text[at] == '_'))
            ++at;
        return at;
    };
    const auto entity = [&](std::size_t at) {
        for (const std::string_view known : {"&amp;", "&lt;", "&gt;", "&quot;", "&#39;"}) {
            if (text.substr(at).starts_with(known)) return true;
        }
        return false;
    };
    while (i < text.size()) {
        const char c = text[i];
        if (c == '&' && !entity(i)) return "bare & at " + std::to_string(i);
        if (c != '<') {
            if (open.empty() && std::isspace(static_cast<unsigned char>(c)) == 0)
                return "text outside the root";
            ++i;
            continue;
        }
        const bool closing = i + 1 < text.size() && text[i + 1] == '/';
        const std::size_t start = i + (closing ? 2 : 1), end = name_end(start);
        const std::string name(text.substr(start, end - start));
        if (name.empty()) return "a < without a name at " + std::to_string(i);
        i = end;
        if (closing) {
            if (open.empty() || open.back() != name) return "</" + name + "> closes nothing";
            open.pop_back();
            if (i >= text.size() || text[i] != '>') return "unfinished </" + name;
            ++i;
            continue;
        }
        std::set<std::string> seen;
        while (true) {
            while (i < text.size() && std::isspace(static_cast<unsigned char>(text[i])) != 0) ++i;
            if (i >= text.size()) return "unfinished <" + name;
            if (text[i] == '>') {
                if (open.empty() && ++roots > 1) return "two roots";
                open.push_back(name);
                ++i;
                break;
            }
            if (text.substr(i).starts_with("/>")) {
                if (open.empty()) ++roots;
                i += 2;
                break;
            }
            const std::size_t attribute = i;
            i = name_end(i);
            const std::string key(text.substr(attribute, i - attribute));
            if (key.empty() || !seen.insert(key).second)
                return "bad or repeated attribute '" + key + "' in <" + name;
            if (!text.substr(i).starts_with("=\"")) return "attribute " + key + " is not quoted";
            for (i += 2; i < text.size() && text[i] != '"'; ++i) {
                if (text[i] == '<' || (text[i] == '&' && !entity(i))) return "bare < or & in " + key;
            }
            ++i;
        }
    }
    if (!open.empty()) return "<" + open.back() + "> is never closed";
    return roots == 1 ? "" : "no root";
}

}  // namespace warmside::made_up
