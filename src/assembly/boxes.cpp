#include "assembly/boxes.h"

#include <algorithm>
#include <cassert>
#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::assembly {

namespace {

constexpr std::string_view file = "data/framing/boxes.toml";
// A 2x3: what stands up and is shallower is furring.
const Exact least_stud = Exact::millimetres(63);

Origin origin_of(units::TableReader& reader, std::string_view file_name) {
    const auto source = reader.required(reader.text("source"), "source");
    const auto evidence = reader.required(reader.text("evidence"), "evidence");
    Place where = reader.place();
    where.file = std::string(file_name);
    const Evidence word = evidence_of(evidence.value_or(""));
    return {word == Evidence::practice ? Origin::Kind::assumed : Origin::Kind::standard, where,
            source.value_or(""), word};
}

Exact size(units::TableReader& reader, std::string_view key) {
    return reader.required(reader.exact(key, {0.01, 5.0}), key).value_or(Exact{});
}

BoxBody read_body(units::TableReader reader, std::string_view file_name) {
    BoxBody body;
    body.name = reader.required(reader.text("name"), "name").value_or("");
    body.title = reader.required(reader.text("title"), "title").value_or("");
    body.width = size(reader, "width");
    body.height = size(reader, "height");
    body.depth = size(reader, "depth");
    body.volume =
        reader.required(reader.quantity("volume", units::volume, {1e-5, 1e-2}), "volume").value_or(0.0);
    const auto front = reader.required(reader.word("front", {"finish", "framing"}), "front");
    body.flush_with_lining = front == "finish";
    body.origin = origin_of(reader, file_name);
    reader.finish();
    return body;
}

// From the inside face of the lining to the inner face of a layer.
Exact depth_before(const Assembly& wall, std::size_t layer) {
    Exact out;
    for (std::size_t i = 0; i < layer; ++i) out += wall.layers[i].thickness;
    return out;
}

std::optional<BoxSeat> seat_in(const Assembly& wall, std::size_t layer, std::string_view wanted) {
    const Exact low = depth_before(wall, layer), high = low + wall.layers[layer].thickness;
    for (const BoxBody& body : box_rules().bodies) {
        if (body.name != wanted && box_rules().body(wanted)) continue;
        const Exact front = body.flush_with_lining ? Exact{} : low, back = front + body.depth;
        if (back > high || back <= low) continue;
        const auto airtight = wall.airtight_layer();
        return BoxSeat{layer,
                       &body,
                       front,
                       back,
                       airtight && layer < *airtight,
                       airtight && depth_before(wall, *airtight) < back};
    }
    return std::nullopt;
}

bool upright_studs(const Layer& layer) {
    return layer.kind != Layer::Kind::air && layer.framing->run == Run::vertical &&
           layer.framing->depth >= least_stud;
}

}  // namespace

const char* name_of(BoxKind kind) {
    switch (kind) {
        case BoxKind::receptacle: return "receptacle";
        case BoxKind::wall_switch: return "switch";
        case BoxKind::light: return "light";
        case BoxKind::data: return "data";
    }
    return "";
}

Exact BoxRules::height_of(BoxKind kind) const {
    switch (kind) {
        case BoxKind::receptacle: return receptacle;
        case BoxKind::wall_switch: return wall_switch;
        case BoxKind::light: return light;
        case BoxKind::data: return data;
    }
    return receptacle;
}

const BoxBody* BoxRules::body(std::string_view name) const {
    const auto found =
        std::find_if(bodies.begin(), bodies.end(), [&](const BoxBody& each) { return each.name == name; });
    return found == bodies.end() ? nullptr : &*found;
}

Result<BoxRules> read_box_rules(std::string_view file_name, std::string_view text) {
    const auto table = units::parse_toml(file_name, text);
    if (!table) return fail(table.error());
    BoxRules out;
    Problems problems;
    units::TableReader reader(*table, std::string(file_name), problems);
    if (const toml::array* rows = reader.array("body")) {
        for (const toml::node& node : *rows) {
            if (const toml::table* row = node.as_table())
                out.bodies.push_back(read_body({*row, "[[body]]", problems}, file_name));
        }
    }
    if (out.bodies.empty() && problems.empty()) reader.missing("body");
    if (const toml::table* spacing = reader.table("spacing")) {
        units::TableReader r(*spacing, "[spacing]", problems);
        out.reach = size(r, "reach");
        out.least_space = size(r, "least_space");
        out.highest = size(r, "highest");
        out.spacing_origin = origin_of(r, file_name);
        r.finish();
    } else {
        reader.missing("spacing");
    }
    if (const toml::table* practice = reader.table("practice")) {
        units::TableReader r(*practice, "[practice]", problems);
        out.casing = size(r, "casing");
        out.edge = size(r, "edge");
        out.receptacle = size(r, "receptacle");
        out.wall_switch = size(r, "switch");
        out.light = size(r, "light");
        out.data = size(r, "data");
        out.practice_origin = origin_of(r, file_name);
        r.finish();
    } else {
        reader.missing("practice");
    }
    reader.finish();
    if (!problems.empty()) return fail(problems.front());
    return out;
}

const BoxRules& box_rules() {
    static const BoxRules all = [] {
        const auto text = embedded::find(file);
        assert(text && "boxes.toml is embedded");
        auto read = read_box_rules(file, *text);
        assert(read && "boxes.toml reads; assembly_test checks it");
        return std::move(*read);
    }();
    return all;
}

std::optional<BoxSeat> box_seat(const Assembly& wall, std::string_view body) {
    const auto airtight = wall.airtight_layer();
    for (std::size_t i = 0; i < airtight.value_or(wall.layers.size()); ++i) {
        if (!wall.layers[i].framing || wall.layers[i].kind == Layer::Kind::air) continue;
        if (auto seat = seat_in(wall, i, body)) return seat;
    }
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        if (!wall.layers[i].framing || !upright_studs(wall.layers[i])) continue;
        if (auto seat = seat_in(wall, i, body)) return seat;
    }
    return std::nullopt;
}

}  // namespace warmside::assembly
