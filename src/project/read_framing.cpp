#include "project/read_framing.h"

#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>

#include "base/nearest.h"

namespace warmside::project {

using assembly::Framing;
using assembly::member_size;
using assembly::Part;
using units::Exact;

namespace {

bool near(Exact a, Exact b) {
    return std::abs((a - b).count()) <= Exact::millimetres(1).count();
}

// "2x5": the sizes that begin alike, else the nearest.
std::string other_members(const material::Catalogue& catalogue, const std::string& member) {
    std::vector<std::string> alike;
    const auto cross = member.find('x');
    const auto names = catalogue.member_names();
    for (const auto& name : names) {
        if (cross != std::string::npos && name.starts_with(member.substr(0, cross + 1)))
            alike.push_back(name);
    }
    if (!alike.empty()) return "one of " + listed(alike) + ", or two sizes, \"45 x 220 mm\"";
    const auto found = nearest(member, names);
    return found.empty() ? "\"2x6\", \"45x195\" or two sizes, \"45 x 220 mm\"" : found;
}

void read_member(Draft& draft, Section& r, const std::string& member, Exact layer, Framing& framing) {
    const auto size = member_size(draft.house.catalogue, member);
    if (!size) {
        r.complain("member", Code::unknown_name, fmt::format("no member is called \"{}\"", member),
                   other_members(draft.house.catalogue, member));
        return;
    }
    const auto flat = r.flag("flat");
    // Strapping is as thick as its layer when it lies flat; a stud on edge is never as narrow as its layer.
    const bool lies = flat.value_or(framing.kind == Framing::Kind::solid && layer.count() > 0 &&
                                    near(layer, size->narrow) && size->wide > layer);
    framing.width = lies ? size->wide : size->narrow;
    framing.depth = lies ? size->narrow : size->wide;
    // A layer stated as the rounded depth of its member is that deep.
    if (framing.kind == Framing::Kind::solid && framing.depth > layer && near(layer, framing.depth) &&
        layer.count() > 0)
        framing.depth = layer;
}

void need(Section& r, std::initializer_list<std::string_view> keys, std::string_view kind) {
    for (const auto key : keys) {
        r.missing(key, fmt::format("{} is of kind {} and has no {}", r.title(), kind, key));
    }
}

void refuse(Section& r, std::initializer_list<std::string_view> keys, std::string_view kind,
            const std::string& suggestion = {}) {
    for (const auto key : keys) {
        if (r.has(key))
            r.complain(key, Code::conflict, fmt::format("{} has no place in framing of kind {}", key, kind),
                       suggestion);
    }
}

void read_built_up(Draft& draft, Section& r, Exact layer, Framing& framing,
                   const std::optional<std::string>& member) {
    const bool truss = framing.kind == Framing::Kind::truss;
    if (truss) {
        need(r, {"member", "depth", "web", "web_share"}, "truss");
        refuse(r, {"width", "flange"}, "truss");
        if (member) {
            read_member(draft, r, *member, {}, framing);
            framing.flange_depth = framing.depth;
            framing.member = *member + " truss";
        }
    } else {
        need(r, {"width", "depth", "flange", "web"}, "i-joist");
        refuse(r, {"flat", "web_share"}, "i-joist");
        framing.width = r.length("width").value_or(Exact{});
        framing.flange_depth = r.length("flange").value_or(Exact{});
        framing.member = member.value_or("I-joist");
    }
    framing.depth = r.length("depth").value_or(Exact{});
    framing.web_thickness = r.length("web").value_or(Exact{});
    framing.web_share = r.quantity("web_share").value_or(1.0);
    if (framing.depth > layer && near(framing.depth, layer)) framing.depth = layer;
}

const material::Material* find_lumber(Draft& draft, Section& r, std::string_view key,
                                      std::string_view standard) {
    const auto name = r.text(key);
    if (r.has(key) && !name) return nullptr;
    const auto& all = draft.house.catalogue;
    const auto* found = all.material(name ? *name : std::string(standard));
    if (!found && name && !draft.is_lost("material", *name)) {
        r.complain(key, Code::unknown_name, fmt::format("no material is called \"{}\"", *name),
                   nearest(*name, all.material_names()));
    }
    return found;
}

bool is_upright(Part part) {
    return part == Part::wall || part == Part::basement_wall;
}

void read_run(Section& r, Part part, Framing& framing) {
    const auto run = r.word("run");
    if (!run) return;
    const bool upright = is_upright(part);
    const bool of_wall = *run == "vertical" || *run == "horizontal";
    if (of_wall != upright) {
        r.complain("run", Code::conflict,
                   fmt::format("run \"{}\" is for {}, this is a {}", *run,
                               of_wall ? "walls" : "roofs, ceilings and floors", name_of(part)),
                   upright ? "vertical or horizontal" : "along or across");
        return;
    }
    framing.run = *run == "vertical" || *run == "along" ? assembly::Run::vertical : assembly::Run::horizontal;
}

}  // namespace

std::optional<std::string> read_member_name(Draft& draft, Section& r, std::string_view key) {
    auto name = r.text(key);
    if (!name || member_size(draft.house.catalogue, *name)) return name;
    r.complain(key, Code::unknown_name, fmt::format("no member is called \"{}\"", *name),
               other_members(draft.house.catalogue, *name));
    return std::nullopt;
}

std::optional<Framing> read_framing(Draft& draft, const toml::table& table, const std::string& title,
                                    Part part, Exact layer) {
    Section r(table, "framing", "framing of " + title, draft.problems);
    const auto before = draft.problems.size();
    Framing framing;
    framing.origin = r.origin();
    const auto kind = r.word("kind");
    if (kind == "i-joist") framing.kind = Framing::Kind::i_joist;
    if (kind == "truss") framing.kind = Framing::Kind::truss;
    const auto member = r.text("member");
    if (member) framing.member = *member;
    if (framing.kind == Framing::Kind::solid) {
        refuse(r, {"width", "depth", "flange", "web", "web_share", "web_material"}, "solid",
               "kind = \"i-joist\" or \"truss\"");
        r.missing("member", r.title() + " has no member", "member = \"2x6\"");
        if (member) read_member(draft, r, *member, layer, framing);
    } else {
        read_built_up(draft, r, layer, framing, member);
        framing.web_material = find_lumber(draft, r, "web_material", "osb");
    }
    framing.spacing = r.length("spacing").value_or(Exact{});
    framing.offset = r.length("offset").value_or(Exact{});
    framing.material = find_lumber(draft, r, "material", framing_lumber);
    read_run(r, part, framing);
    r.finish();
    if (!usable({draft.problems.begin() + static_cast<std::ptrdiff_t>(before), draft.problems.end()}))
        return std::nullopt;
    return framing;
}

}  // namespace warmside::project
