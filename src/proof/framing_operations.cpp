// Walls framed as a worked panel is: every member counted; rows of the header table.
#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <set>

#include "framing/frame.h"
#include "framing/spans.h"
#include "material/material.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

using units::Exact;

const units::Limits size{.least = 0.0, .most = 30.0};

void read_openings(Inputs& in, assembly::Face& face) {
    const toml::array* openings = in.reader().array("openings");
    for (std::size_t i = 0; openings && i < openings->size(); ++i) {
        const toml::table* table = openings->get(i)->as_table();
        if (!table) {
            in.reader().complain("openings", Code::wrong_type, "must be tables");
            return;
        }
        units::TableReader one(*table, fmt::format("opening {}", i + 1), in.problems());
        assembly::Opening opening{.name = fmt::format("opening {}", i + 1)};
        opening.left = one.required(one.exact("left"), "left").value_or(Exact{});
        opening.width = one.required(one.exact("width"), "width").value_or(Exact{});
        opening.sill = one.required(one.exact("sill"), "sill").value_or(Exact{});
        opening.height = one.required(one.exact("height"), "height").value_or(Exact{});
        one.finish();
        face.openings.push_back(opening);
    }
}

// One wall of 2x6 that meets no other.
assembly::House wall_in(Inputs& in) {
    assembly::House house;
    const Exact length = Exact::nearest(in.one("length", units::length, size));
    const Exact height = Exact::nearest(in.one("height", units::length, size));
    assembly::Layer layer{.material = material::built_in().material("stone wool batt"),
                          .thickness = Exact::sixty_fourths_of_inch(352)};
    layer.framing = assembly::Framing{.member = "2x6",
                                      .width = Exact::sixty_fourths_of_inch(96),
                                      .depth = Exact::sixty_fourths_of_inch(352),
                                      .spacing = Exact::nearest(in.one("spacing", units::length, size))};
    assembly::Assembly wall{.name = "wall"};
    wall.layers.push_back(layer);
    house.assemblies.push_back(std::move(wall));
    house.details.top_plates.value = in.whole("top_plates", 1, 3);
    house.details.header.value = in.one_or("header", units::length, 0.18415);
    const Exact none, far = Exact::millimetres(6000);
    house.storeys.push_back({.name = "main",
                             .height = height,
                             .outline = {{none, none}, {length, none}, {length, far}, {none, far}}});
    assembly::Face face{.name = "wall", .storey = "main", .to = {length, none}, .height = height};
    read_openings(in, face);
    house.faces.push_back(std::move(face));
    return house;
}

void count_role(const framing::Panel& panel, framing::Role role, const std::string& name, Outcome& out) {
    std::set<double> lengths;
    double count = 0.0;
    for (const framing::Member& m : panel.members) {
        if (m.role != role) continue;
        count += 1.0;
        lengths.insert(m.length.metres());
    }
    out[name + "_count"] = {count};
    out[name + "_length"] = {lengths.begin(), lengths.end()};
}

double total(const framing::Panel& panel, framing::Role role) {
    Exact sum;
    for (const framing::Member& m : panel.members) {
        if (m.role == role) sum += m.length;
    }
    return sum.metres();
}

Outcome counted(const assembly::House& house, const framing::Frame& frame) {
    using framing::Role;
    const framing::Panel& panel = frame.panels.front();
    Outcome out;
    const std::array<std::pair<Role, const char*>, 8> roles{{{Role::stud, "stud"},
                                                             {Role::king, "king"},
                                                             {Role::jack, "jack"},
                                                             {Role::header, "header"},
                                                             {Role::header_filler, "filler"},
                                                             {Role::cripple_above, "cripple_above"},
                                                             {Role::cripple_below, "cripple_below"},
                                                             {Role::sill, "sill"}}};
    double sticks = 0.0;  // all but headers, which are of another size
    for (const auto& [role, name] : roles) {
        count_role(panel, role, name, out);
        if (role != Role::header) sticks += total(panel, role);
    }
    std::vector<double> centres;
    for (const framing::Member& m : panel.members) {
        if (m.role == Role::stud) centres.push_back((m.box.low[0] + m.box.high[0]).metres() / 2);
    }
    // The first and the last are the end studs.
    std::sort(centres.begin(), centres.end());
    out["common_centres"] = {centres.begin() + 1, centres.end() - 1};
    const double bottom = total(panel, Role::bottom_plate), top = total(panel, Role::top_plate);
    double doors = 0.0, openings = 0.0;
    for (const assembly::Opening& o : house.faces.front().openings) {
        openings += o.width.metres() * o.height.metres();
        if (o.sill == Exact{}) doors += o.width.metres();
    }
    out["bottom_plate"] = {bottom};
    out["bottom_plate_net"] = {bottom - doors};
    out["top_plates"] = {top};
    out["lumber"] = {sticks + bottom + top};
    out["header_lumber"] = {total(panel, Role::header)};
    out["openings"] = {openings};
    out["net_area"] = {frame.factor.net_area};
    out["framing_area"] = {frame.factor.whole * frame.factor.net_area};
    out["framing_fraction"] = {frame.factor.whole};
    return out;
}

/// given: length, height, spacing, top_plates, header (height), openings of left, width, sill, height.
/// A wall of 2x6: number and distinct lengths of members by role, m; areas, m2; framing_fraction.
Result<Outcome> panel(const Given& given) {
    Inputs in(given);
    const assembly::House house = wall_in(in);
    return in.then([&]() -> Result<Outcome> {
        const auto frame = framing::frame_walls(house, house.assemblies.front());
        if (!frame) return fail(frame.error());
        return counted(house, *frame);
    });
}

Outcome chosen(const framing::HeaderChoice& choice) {
    return {{"plies", {static_cast<double>(choice.plies)}},
            {"depth", {framing::depth_of_two_by(choice.member)->metres()}},
            {"jacks", {static_cast<double>(choice.jacks)}},
            {"span", {choice.span}}};
}

struct HeaderGiven {
    double width = 0.0, snow = 0.0;
    framing::Carries carries = framing::Carries::roof;
    bool braced = true;
};

HeaderGiven header_given(Inputs& in) {
    HeaderGiven out;
    out.width = in.one("width", units::length, size);
    out.snow = in.one("ground_snow", units::pressure);
    if (in.word("carries", {"roof", "roof and floor"}) != "roof")
        out.carries = framing::Carries::roof_and_floor;
    out.braced = !in.flag("unbraced");
    return out;
}

Result<Outcome> told(const std::optional<framing::HeaderChoice>& choice) {
    if (!choice) return fail(Code::unsupported, "the table has no such header");
    return chosen(*choice);
}

/// given: span, width, ground_snow, carries, unbraced. plies, depth, m, jacks, span, m, of the smallest
/// header.
Result<Outcome> header(const Given& given) {
    Inputs in(given);
    const double span = in.one("span", units::length, size);
    const HeaderGiven g = header_given(in);
    return in.then([&] { return told(framing::header_for(span, g.width, g.snow, g.carries, g.braced)); });
}

/// given: plies, member, width, ground_snow, carries, unbraced. What it may span, as above.
Result<Outcome> header_span(const Given& given) {
    Inputs in(given);
    const int plies = in.whole("plies", 1, 4);
    const std::string member = in.word("member", {"2x4", "2x6", "2x8", "2x10", "2x12"});
    const HeaderGiven g = header_given(in);
    return in.then(
        [&] { return told(framing::header_row(plies, member, g.width, g.snow, g.carries, g.braced)); });
}

constexpr std::array operations{Operation{"framing.panel", panel}, Operation{"framing.header", header},
                                Operation{"framing.header_span", header_span}};

}  // namespace

std::span<const Operation> framing_operations() {
    return operations;
}

}  // namespace warmside::proof
