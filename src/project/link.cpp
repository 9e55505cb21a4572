// Names to things: what ladders, faces, roofs, floors and foundations are built with.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "assembly/boxes.h"
#include "base/nearest.h"
#include "project/draft.h"

namespace warmside::project {

using assembly::Assembly;
using assembly::Ladder;
using assembly::Part;

namespace {

constexpr std::array parts{Part::wall,  Part::roof, Part::ceiling,
                           Part::floor, Part::slab, Part::basement_wall};

std::vector<std::string> names_of(const std::vector<Assembly>& assemblies, const std::vector<Part>& fit) {
    std::vector<std::string> out;
    for (const Assembly& each : assemblies) {
        if (std::find(fit.begin(), fit.end(), each.part) != fit.end()) out.push_back(each.name);
    }
    return out;
}

std::string nearest_or_list(const std::string& name, const std::vector<std::string>& known) {
    auto found = nearest(name, known);
    return found.empty() && !known.empty() ? "one of " + listed(known) : found;
}

// Assemblies of the ladder's part that none of its rungs names yet.
std::vector<std::string> free_for(const Draft& draft, const Ladder& ladder,
                                  const std::vector<std::string>& rungs) {
    auto out = names_of(draft.house.assemblies, {ladder.part});
    std::erase_if(
        out, [&](const auto& each) { return std::find(rungs.begin(), rungs.end(), each) != rungs.end(); });
    return out;
}

void add_rung(Draft& draft, Ladder& ladder, const std::vector<std::string>& rungs, std::size_t at,
              const Place& where) {
    const std::string& name = rungs[at];
    const auto& all = draft.house.assemblies;
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const Assembly& a) { return a.name == name; });
    if (found == all.end()) {
        if (draft.is_lost("assembly", name)) return;
        draft.error(Code::unknown_name, fmt::format("rung \"{}\" is no assembly of this file", name), where,
                    nearest_or_list(name, free_for(draft, ladder, rungs)));
        return;
    }
    const auto index = static_cast<std::size_t>(found - all.begin());
    if (found->part != ladder.part && !draft.is_lost("assembly", name)) {
        draft.error(Code::conflict,
                    fmt::format("rung \"{}\" is a {}, and this is the {} ladder", name, name_of(found->part),
                                name_of(ladder.part)),
                    where);
        return;
    }
    if (std::find(ladder.rungs.begin(), ladder.rungs.end(), index) != ladder.rungs.end()) {
        draft.error(Code::duplicate, fmt::format("rung \"{}\" stands twice on this ladder", name), where,
                    "each rung once");
        return;
    }
    ladder.rungs.push_back(index);
}

void read_ladder(Draft& draft, const std::string& key, const toml::table& table) {
    std::string word = key;
    std::replace(word.begin(), word.end(), '_', ' ');
    Section r(table, "ladder", fmt::format("[ladder.{}]", key), draft.problems);
    const auto part = std::find_if(parts.begin(), parts.end(), [&](Part p) { return word == name_of(p); });
    if (part == parts.end()) {
        const std::vector<std::string> known{"wall", "roof", "ceiling", "floor", "slab", "basement_wall"};
        draft.error(
            Code::unknown_name,
            fmt::format("\"{}\" is no part of a house: wall, roof, ceiling, floor, slab, basement_wall", key),
            r.place(), nearest(key, known));
        return;
    }
    const auto twin = std::find_if(draft.house.ladders.begin(), draft.house.ladders.end(),
                                   [&](const Ladder& l) { return l.part == *part; });
    if (twin != draft.house.ladders.end()) {
        draft.error(Code::duplicate, fmt::format("a second ladder of the {}", word), r.place(),
                    "one ladder for each part");
        return;
    }
    Ladder ladder{.part = *part, .rungs = {}, .origin = r.origin()};
    if (const auto rungs = r.texts("rungs")) {
        const auto* list = r.array("rungs");
        if (rungs->empty())
            r.complain("rungs", Code::out_of_range, fmt::format("{} has no rungs", r.title()));
        for (std::size_t i = 0; i < rungs->size() && i < 100; ++i)
            add_rung(draft, ladder, *rungs, i, units::place_of((*list)[i]));
        if (rungs->size() > 100)
            r.complain("rungs", Code::out_of_range,
                       fmt::format("{} has {} rungs, more than 100", r.title(), rungs->size()));
    }
    r.finish();
    draft.house.ladders.push_back(std::move(ladder));
}

bool has_ladder(const Draft& draft, const std::vector<Part>& fit) {
    const auto& ladders = draft.house.ladders;
    if (std::any_of(draft.lost.begin(), draft.lost.end(),
                    [](const auto& name) { return name.starts_with("ladder"); }))
        return true;
    return std::any_of(ladders.begin(), ladders.end(), [&](const Ladder& l) {
        return std::find(fit.begin(), fit.end(), l.part) != fit.end();
    });
}

// `table` is where the user wrote the name, `title` what it is the assembly of.
void check_use(Draft& draft, const toml::table* root, std::string_view kind, const std::string& name,
               const std::string& built_with, const std::vector<Part>& fit) {
    const auto* owner = root ? (*root)[kind][name].as_table() : nullptr;
    const auto* node = owner ? owner->get("assembly") : nullptr;
    const Place where = node ? units::place_of(*node) : owner ? units::place_of(*owner) : Place{};
    std::string wanted;
    for (const Part part : fit) wanted += (wanted.empty() ? "" : " or ") + std::string(name_of(part));
    if (built_with.empty()) {
        if (!node && !has_ladder(draft, fit)) {
            draft.error(Code::missing,
                        fmt::format("{} {} has no assembly, and there is no ladder of the {} to take it from",
                                    kind, name, wanted),
                        where, nearest_or_list("", names_of(draft.house.assemblies, fit)));
        }
        return;
    }
    const auto* found = draft.house.find(built_with);
    if (!found) {
        if (draft.is_lost("assembly", built_with)) return;
        draft.error(Code::unknown_name,
                    fmt::format("{} {}: no assembly is called \"{}\"", kind, name, built_with), where,
                    nearest_or_list(built_with, names_of(draft.house.assemblies, fit)));
        return;
    }
    if (std::find(fit.begin(), fit.end(), found->part) == fit.end() &&
        !draft.is_lost("assembly", built_with)) {
        draft.error(Code::conflict,
                    fmt::format("{} {}: \"{}\" is a {}, not a {}", kind, name, built_with,
                                name_of(found->part), wanted),
                    where);
    }
}

void check_deck(Draft& draft, const toml::table& root, const assembly::Roof& roof) {
    const auto* node = root["roof"][roof.name]["deck"].node();
    const Place where = node ? units::place_of(*node) : Place{};
    const auto* found = draft.house.find(roof.deck);
    if (draft.is_lost("assembly", roof.deck)) return;
    if (!found) {
        draft.error(Code::unknown_name,
                    fmt::format("roof {}: no assembly is called \"{}\"", roof.name, roof.deck), where,
                    nearest_or_list(roof.deck, names_of(draft.house.assemblies, {Part::roof})));
    } else if (found->part != Part::roof) {
        draft.error(
            Code::conflict,
            fmt::format("roof {}: \"{}\" is a {}, not a roof", roof.name, roof.deck, name_of(found->part)),
            where);
    }
}

void check_uses(Draft& draft, const toml::table& root) {
    using assembly::Foundation;
    const auto& house = draft.house;
    for (const auto& face : house.faces)
        check_use(draft, &root, "face", face.name, face.assembly, {Part::wall, Part::basement_wall});
    for (const auto& roof : house.roofs) {
        check_use(draft, &root, "roof", roof.name, roof.assembly,
                  roof.over_attic ? std::vector{Part::ceiling} : std::vector{Part::roof});
        if (!roof.deck.empty()) check_deck(draft, root, roof);
    }
    for (const auto& floor : house.floors) {
        if (floor.over == assembly::Floor::Over::heated && floor.assembly.empty()) continue;
        check_use(draft, &root, "floor", floor.name, floor.assembly, {Part::floor, Part::slab});
    }
    for (const auto& each : house.foundations) {
        if (each.assembly.empty()) continue;
        check_use(
            draft, &root, "foundation", each.name, each.assembly,
            each.kind == Foundation::Kind::slab ? std::vector{Part::slab} : std::vector{Part::basement_wall});
    }
}

// A roof assembly leans as the roof that is built with it.
void set_tilts(Draft& draft, const toml::table& root) {
    for (Assembly& each : draft.house.assemblies) {
        if (each.part != Part::roof || root["assembly"][each.name]["pitch"]) continue;
        const auto uses = [&](const assembly::Roof& roof) {
            return roof.deck == each.name ||
                   (!roof.over_attic && (roof.assembly == each.name || roof.assembly.empty()));
        };
        const auto& roofs = draft.house.roofs;
        const auto found = std::find_if(roofs.begin(), roofs.end(), uses);
        if (found == roofs.end()) {
            if (draft.is_lost("assembly", each.name)) continue;
            draft.error(Code::missing, fmt::format("[assembly.{}] is a roof and has no pitch", each.name),
                        each.origin.where, "pitch = \"9/12\", or a [roof] that is built with it");
            continue;
        }
        each.tilt = found->pitch;
    }
}

// Rafters are those of the roof's assembly, and all stand at its module, unless [roof] says otherwise.
void set_rafters(Draft& draft, const toml::table& root) {
    auto& house = draft.house;
    for (assembly::Roof& roof : house.roofs) {
        const Assembly* built = assembly::built_as(house, roof);
        const assembly::Framing* main = built ? assembly::main_framing(*built) : nullptr;
        if (!main) continue;
        // Members of a ceiling are ceiling joists or lower chords, not rafters.
        if (built->part == Part::roof && roof.structure == assembly::Roof::Structure::rafters &&
            !root["roof"][roof.name]["member"])
            roof.member = main->member;
        if (!root["roof"][roof.name]["spacing"]) roof.spacing = main->spacing;
    }
}

void note_idle(Draft& draft) {
    const auto& house = draft.house;
    for (std::size_t i = 0; i < house.assemblies.size(); ++i) {
        const std::string& name = house.assemblies[i].name;
        const auto on_ladder = [&](const Ladder& l) {
            return std::find(l.rungs.begin(), l.rungs.end(), i) != l.rungs.end();
        };
        const auto named = [&](const auto& each) { return each.assembly == name; };
        const auto any = [&](const auto& list) { return std::any_of(list.begin(), list.end(), named); };
        if (std::any_of(house.ladders.begin(), house.ladders.end(), on_ladder)) continue;
        if (any(house.faces) || any(house.roofs) || any(house.floors) || any(house.foundations)) continue;
        const auto covers = [&](const assembly::Roof& roof) { return roof.deck == name; };
        if (std::any_of(house.roofs.begin(), house.roofs.end(), covers)) continue;
        draft.add(
            Severity::note, Code::conflict,
            fmt::format("assembly {} stands on no ladder and nothing is built with it", name),
            house.assemblies[i].origin.where,
            fmt::format("\"{}\" among the rungs of [ladder.{}]", name, name_of(house.assemblies[i].part)));
    }
}

}  // namespace

void link(Draft& draft, const toml::table& root) {
    each_named(draft, root, "ladder", 20,
               [&](const std::string& key, const toml::table& table) { read_ladder(draft, key, table); });
    check_uses(draft, root);
    set_tilts(draft, root);
    set_rafters(draft, root);
    assembly::check_boxes(draft.house, draft.problems);
    if (usable(draft.problems)) note_idle(draft);
}

}  // namespace warmside::project
