#include "project/patch.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/nearest.h"
#include "project/model_text.h"
#include "project/read.h"
#include "units/reader.h"

namespace warmside::project {

namespace {

// Byte of a line and column; columns count code points. npos when the text is shorter.
std::size_t byte_at(std::string_view text, int line, int column) {
    std::size_t at = 0;
    for (int skipped = 1; skipped < line; ++skipped) {
        at = text.find('\n', at);
        if (at == std::string_view::npos) return at;
        ++at;
    }
    for (int seen = 1; at < text.size(); ++at) {
        const bool continues = (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
        if (!continues && seen++ == column) return at;
    }
    return std::string_view::npos;
}

const toml::node* layer_node(const toml::table& root, std::string_view assembly, std::size_t layer) {
    const auto* list = root["assembly"][assembly]["layers"].as_array();
    return list && layer < list->size() ? list->get(layer) : nullptr;
}

// The bytes of a text value with its quotes, checked against what the parser read there.
Result<std::pair<std::size_t, std::size_t>> span_of(const toml::node& node, std::string_view text) {
    const Place where = units::place_of(node);
    const auto begin = byte_at(text, where.line, where.column);
    const auto* value = node.as_string();
    if (begin == std::string_view::npos || !value)
        return fail(Code::wrong_type, "the value is not a text in quotes", where);
    const char quote = text[begin];
    const auto end = quote == '"' || quote == '\'' ? text.find(quote, begin + 1) : std::string_view::npos;
    // A value with escapes or in three quotes is not patched but left to the person.
    if (end == std::string_view::npos || text.substr(begin + 1, end - begin - 1) != value->get()) {
        return fail(Code::unsupported, "the value is written in a way that cannot be patched; edit the file",
                    where);
    }
    return std::pair(begin, end + 1);
}

Result<std::unique_ptr<assembly::House>> sound(std::string_view file_name, std::string_view text) {
    auto reading = read_house(file_name, text);
    if (reading.house) return std::move(reading.house);
    const auto first = std::find_if(reading.problems.begin(), reading.problems.end(),
                                    [](const Problem& p) { return p.severity == Severity::error; });
    return fail(first == reading.problems.end() ? Problem{.what = "the file cannot be read"} : *first);
}

// Do the two houses differ in nothing but values whose path starts with `own`?
Result<void> unchanged_but(std::string_view own, const assembly::House& before,
                           const assembly::House& after) {
    const auto old_lines = model_text(before);
    const auto new_lines = model_text(after);
    if (old_lines.size() != new_lines.size())
        return fail(Code::conflict, "the change would alter more than one layer");
    for (std::size_t i = 0; i < old_lines.size(); ++i) {
        if (old_lines[i] != new_lines[i] && !new_lines[i].starts_with(own)) {
            return fail(Code::conflict, fmt::format("the change would also alter {}", new_lines[i]));
        }
    }
    return {};
}

}  // namespace

Result<std::string> with_thickness(std::string_view file_name, std::string_view text,
                                   std::string_view assembly, std::size_t layer, std::string_view thickness) {
    const auto before = sound(file_name, text);
    if (!before) return fail(before.error());
    const auto* found = (*before)->find(assembly);
    if (!found) {
        std::vector<std::string> names;
        for (const auto& each : (*before)->assemblies) names.push_back(each.name);
        Problem problem{.code = Code::unknown_name,
                        .what = fmt::format("no assembly is called \"{}\"", assembly)};
        problem.suggestion = nearest(assembly, names);
        return fail(std::move(problem));
    }
    if (layer >= found->layers.size()) {
        return fail(Code::out_of_range, fmt::format("{} has {} layers, there is no layer {}", assembly,
                                                    found->layers.size(), layer + 1));
    }
    if (thickness.find_first_of("\"\\\n\r") != std::string_view::npos) {
        return fail(Code::syntax, fmt::format("\"{}\" is not a length", thickness));
    }
    const auto root = units::parse_toml(file_name, text);
    if (!root) return fail(root.error());
    const auto* node = layer_node(*root, assembly, layer);
    const auto* value = node && node->as_table() ? node->as_table()->get("thickness") : nullptr;
    if (!value)
        return fail(Code::missing, fmt::format("layer {} of {} has no thickness", layer + 1, assembly));
    const auto span = span_of(*value, text);
    if (!span) return fail(span.error());
    std::string patched(text);
    patched.replace(span->first, span->second - span->first, fmt::format("\"{}\"", thickness));

    const auto after = sound(file_name, patched);
    if (!after) return fail(after.error());
    const std::string own = fmt::format("assembly.{}.layers.{}.", assembly, layer);
    if (const auto same = unchanged_but(own, **before, **after); !same) return fail(same.error());
    return patched;
}

}  // namespace warmside::project
