#include <algorithm>
#include <fmt/format.h>

#include "assembly/check.h"
#include "base/nearest.h"
#include "project/draft.h"
#include "project/read_framing.h"

namespace warmside::project {

using assembly::Face;
using assembly::Floor;
using assembly::Foundation;
using assembly::Opening;
using assembly::Roof;
using assembly::Storey;

namespace {

// More than any house has; keeps checks of each against each quick.
constexpr std::size_t most_storeys = 50, most_faces = 500, most_corners = 500, most_openings = 200;

void read_storey(Draft& draft, const std::string& name, const toml::table& table) {
    const std::string title = fmt::format("[storey.{}]", name);
    Section r(table, "storey", title, draft.problems);
    Storey storey;
    storey.name = name;
    storey.origin = r.origin();
    const auto floor = r.length("floor");
    const auto height = r.length("height");
    storey.heated = r.flag("heated").value_or(true);
    std::vector<Place> corners;
    const auto outline = r.corners("outline", corners);
    bool sound = floor && height && outline;
    if (outline && outline->size() > most_corners) {
        r.complain(
            "outline", Code::out_of_range,
            fmt::format("{}: an outline of {} corners, more than {}", title, outline->size(), most_corners));
        sound = false;
    } else if (outline) {
        const auto before = draft.problems.size();
        assembly::check_outline("storey " + name, *outline, r.place("outline"), corners, draft.problems);
        sound = sound && draft.problems.size() == before;
    }
    r.finish();
    if (!sound) {
        draft.lost.insert("storey." + name);
        return;
    }
    storey.floor = *floor;
    storey.height = *height;
    storey.outline = *outline;
    draft.house.storeys.push_back(std::move(storey));
}

void check_storey_name(Draft& draft, Section& r, const std::string& name) {
    if (draft.house.storey(name) || draft.is_lost("storey", name)) return;
    std::vector<std::string> known;
    known.reserve(draft.house.storeys.size());
    for (const Storey& storey : draft.house.storeys) known.push_back(storey.name);
    r.complain("storey", Code::unknown_name, fmt::format("no storey is called \"{}\"", name),
               nearest(name, known));
}

// The corners of a face, from its edge or its own. False when they are not known.
bool place_face(Section& r, const Storey* storey, Face& face) {
    const auto edge = r.integer("edge");
    const auto from = r.corner("from");
    const auto to = r.corner("to");
    const bool has_corners = r.has("from") || r.has("to");
    if (r.has("edge") && has_corners) {
        r.complain("edge", Code::conflict, fmt::format("{} has an edge and corners", r.title()),
                   "either edge, or from and to");
        return false;
    }
    if (!r.has("edge") && !(r.has("from") && r.has("to"))) {
        r.missing("edge", fmt::format("{} has no place: neither edge nor both from and to", r.title()),
                  "edge = 1 of the storey's outline");
        return false;
    }
    if (from && to) {
        face.from = *from;
        face.to = *to;
        if (from->x == to->x && from->y == to->y) {
            r.complain("to", Code::out_of_range,
                       fmt::format("{} has no length: from and to are the same corner", r.title()));
            return false;
        }
        return true;
    }
    if (!edge || !storey) return false;
    const auto n = storey->outline.size();
    if (static_cast<std::size_t>(*edge) > n) {
        r.complain("edge", Code::out_of_range,
                   fmt::format("edge {} is not there: the outline of storey {} has {} edges", *edge,
                               storey->name, n));
        return false;
    }
    face.from = storey->outline[static_cast<std::size_t>(*edge) - 1];
    face.to = storey->outline[static_cast<std::size_t>(*edge) % n];
    return true;
}

bool read_opening(Draft& draft, const toml::table& table, const std::string& title, std::size_t number,
                  Opening& opening) {
    Section r(table, "opening", title, draft.problems);
    opening.origin = r.origin();
    const auto kind = r.word("kind");
    if (kind == "door") opening.kind = Opening::Kind::door;
    opening.name = r.text("name").value_or(fmt::format("{} {}", kind == "door" ? "door" : "window", number));
    const auto width = r.length("width"), height = r.length("height"), left = r.length("left");
    const auto sill = r.length("sill");
    opening.sill = sill.value_or(units::Exact{});
    opening.u = r.quantity("u").value_or(0.0);
    opening.solar_gain = r.quantity("shgc").value_or(0.0);
    r.finish();
    if (!width || !height || !left || (r.has("sill") && !sill)) return false;
    opening.width = *width;
    opening.height = *height;
    opening.left = *left;
    return true;
}

bool read_openings(Draft& draft, Section& r, Face& face) {
    const auto* list = r.array("openings");
    if (!list) return true;
    if (list->size() > most_openings) {
        r.complain("openings", Code::out_of_range,
                   fmt::format("{} has {} openings, more than {}", r.title(), list->size(), most_openings));
        return false;
    }
    bool sound = true;
    std::size_t number = 0;
    for (const auto& item : *list) {
        const std::string title = fmt::format("opening {} of face {}", ++number, face.name);
        const auto* table = item.as_table();
        if (!table) {
            draft.error(Code::wrong_type, title + " is not a table", units::place_of(item),
                        "{ width = \"3 ft\", height = \"4 ft\", left = \"5 ft\", sill = \"3 ft\" }");
            sound = false;
            continue;
        }
        Opening opening;
        if (!read_opening(draft, *table, title, number, opening)) {
            sound = false;
            continue;
        }
        const auto twin = std::find_if(face.openings.begin(), face.openings.end(),
                                       [&](const Opening& o) { return o.name == opening.name; });
        if (twin != face.openings.end()) {
            draft.error(Code::duplicate,
                        fmt::format("face {} has two openings called \"{}\"", face.name, opening.name),
                        opening.origin.where);
        }
        face.openings.push_back(std::move(opening));
    }
    return sound;
}

void read_face(Draft& draft, const std::string& name, const toml::table& table) {
    Section r(table, "face", fmt::format("[face.{}]", name), draft.problems);
    Face face;
    face.name = name;
    face.origin = r.origin();
    const Storey* storey = nullptr;
    if (const auto wanted = r.text("storey")) {
        face.storey = *wanted;
        storey = draft.house.storey(*wanted);
        check_storey_name(draft, r, *wanted);
    }
    const bool placed = place_face(r, storey, face);
    face.assembly = r.text("assembly").value_or("");
    const auto height = r.length("height");
    face.height = height ? *height : storey ? storey->height : units::Exact{};
    read_openings(draft, r, face);
    r.finish();
    if (placed && face.height.count() > 0) assembly::check_openings(face, draft.problems);
    if (!placed) {
        draft.lost.insert("face." + name);
        return;
    }
    draft.house.faces.push_back(std::move(face));
}

// link() fills in what the assembly says where the roof itself is silent.
void read_roof_structure(Draft& draft, Section& r, Roof& roof) {
    const auto word = r.word("structure");
    const bool rafters = word ? *word == "rafters" : !roof.over_attic;
    roof.structure = rafters ? Roof::Structure::rafters : Roof::Structure::truss;
    roof.member = read_member_name(draft, r, "member").value_or(roof.member);
    roof.spacing = r.length("spacing").value_or(roof.spacing);
    if (r.has("member") && !rafters && (word || !r.has("structure")))
        r.complain("member", Code::conflict, "trusses are ordered whole: their maker chooses the member",
                   "structure = \"rafters\", or leave it out");
}

void read_roof(Draft& draft, const std::string& name, const toml::table& table) {
    Section r(table, "roof", fmt::format("[roof.{}]", name), draft.problems);
    Roof roof;
    roof.name = name;
    roof.origin = r.origin();
    const auto form = r.word("form");
    if (form == "shed") roof.form = Roof::Form::shed;
    if (form == "hip") roof.form = Roof::Form::hip;
    if (form == "flat") roof.form = Roof::Form::flat;
    roof.pitch = r.pitch("pitch").value_or(0.0);
    roof.ridge = r.word("ridge").value_or("");
    roof.high_side = r.word("high_side").value_or("");
    if (const auto storey = r.text("storey")) {
        roof.storey = *storey;
        check_storey_name(draft, r, *storey);
    }
    roof.overhang = r.length("overhang").value_or(units::Exact{});
    roof.assembly = r.text("assembly").value_or("");
    const auto attic = r.flag("over_attic");
    const auto* built = draft.house.find(roof.assembly);
    roof.over_attic = attic.value_or(!built || built->part != assembly::Part::roof);
    roof.vents = r.level("vents", {1.0 / 150.0, 1.0 / 300.0, 0.0}).value_or(roof.vents);
    roof.deck = r.text("deck").value_or("");
    read_roof_structure(draft, r, roof);
    for (const auto* key : {"vents", "deck"}) {
        if (!roof.over_attic && r.has(key))
            r.complain(key, Code::conflict, fmt::format("{} has no attic, so it has no {}", r.title(), key),
                       "over_attic = true");
    }
    const auto need = [&](std::string_view key, bool needed, std::string_view example) {
        if (form && needed)
            r.missing(key, fmt::format("{} is a {} and has no {}", r.title(), *form, key),
                      std::string(example));
        if (form && !needed && r.has(key))
            r.complain(key, Code::conflict, fmt::format("a {} roof has no {}", *form, key), "leave it out");
    };
    need("ridge", roof.form == Roof::Form::gable || (roof.form == Roof::Form::hip && r.has("ridge")),
         "ridge = \"east-west\"");
    need("high_side", roof.form == Roof::Form::shed, "high_side = \"north\"");
    if (form && *form != "flat" && !r.has("pitch")) need("pitch", true, "pitch = \"9/12\"");
    if (form == "flat" && roof.pitch > 0.0)
        r.complain("pitch", Code::conflict, "a flat roof has no pitch", "leave it out, or form = \"shed\"");
    r.finish();
    draft.house.roofs.push_back(std::move(roof));
}

void read_floor(Draft& draft, const std::string& name, const toml::table& table) {
    Section r(table, "floor", fmt::format("[floor.{}]", name), draft.problems);
    Floor floor;
    floor.name = name;
    floor.origin = r.origin();
    const auto over = r.word("over");
    if (over == "crawl space") floor.over = Floor::Over::crawl_space;
    if (over == "basement") floor.over = Floor::Over::basement;
    if (over == "outside") floor.over = Floor::Over::outside;
    if (over == "heated") floor.over = Floor::Over::heated;
    floor.assembly = r.text("assembly").value_or("");
    floor.area = r.quantity("area").value_or(0.0);
    r.finish();
    draft.house.floors.push_back(std::move(floor));
}

void read_crawl_space(Draft& draft, Section& r, Foundation& foundation) {
    foundation.vents = r.level("vents", {1.0 / 150.0, 1.0 / 1500.0, 0.0}).value_or(foundation.vents);
    foundation.air_change = r.quantity("air_change").value_or(foundation.air_change);
    const auto cover = r.text("ground_cover");
    foundation.bare_ground = cover == "bare";
    if (cover && !foundation.bare_ground) {
        foundation.ground_cover = draft.house.catalogue.membrane(*cover);
        if (!foundation.ground_cover && !draft.is_lost("membrane", *cover)) {
            auto known = draft.house.catalogue.membrane_names();
            known.emplace_back("bare");
            r.complain("ground_cover", Code::unknown_name,
                       fmt::format("no membrane is called \"{}\"", *cover), nearest(*cover, known));
        }
    }
    for (const auto* key : {"vents", "air_change", "ground_cover"}) {
        if (r.has("kind") && foundation.kind != Foundation::Kind::crawl_space && r.has(key))
            r.complain(key, Code::conflict, fmt::format("{} belongs to a crawl space", key),
                       "kind = \"crawl space\", or leave it out");
    }
    if (r.has("air_change") && foundation.vents > 0.0 && foundation.kind == Foundation::Kind::crawl_space)
        r.complain("air_change", Code::conflict, "a crawl space with vents takes its air from the wind",
                   "vents = \"none\", or leave air_change out");
}

void read_foundation(Draft& draft, const std::string& name, const toml::table& table) {
    Section r(table, "foundation", fmt::format("[foundation.{}]", name), draft.problems);
    Foundation foundation;
    foundation.name = name;
    foundation.origin = r.origin();
    const auto kind = r.word("kind");
    if (kind == "crawl space") foundation.kind = Foundation::Kind::crawl_space;
    if (kind == "basement") foundation.kind = Foundation::Kind::basement;
    if (kind == "piers") foundation.kind = Foundation::Kind::piers;
    foundation.depth = r.length("depth").value_or(units::Exact{});
    foundation.height_above_grade = r.length("height_above_grade").value_or(units::Exact{});
    foundation.assembly = r.text("assembly").value_or("");
    if (r.word("soil") == "clay") foundation.soil = Foundation::Soil::clay;
    foundation.soil_humidity = r.quantity("soil_humidity").value_or(foundation.soil_humidity);
    read_crawl_space(draft, r, foundation);
    if (kind == "basement") {
        r.missing("depth", r.title() + " is a basement and has no depth",
                  "depth = \"7 ft\" of its floor below the ground outside");
    }
    r.finish();
    draft.house.foundations.push_back(std::move(foundation));
}

}  // namespace

void read_geometry(Draft& draft, const toml::table& root) {
    const auto each = [&](std::string_view kind, std::size_t most,
                          void (*read)(Draft&, const std::string&, const toml::table&)) {
        each_named(draft, root, kind, most,
                   [&](const std::string& name, const toml::table& table) { read(draft, name, table); });
    };
    each("storey", most_storeys, read_storey);
    each("face", most_faces, read_face);
    each("roof", most_storeys, read_roof);
    each("floor", most_storeys, read_floor);
    each("foundation", most_storeys, read_foundation);
    const bool whole = std::none_of(draft.lost.begin(), draft.lost.end(), [](const auto& name) {
        return name.starts_with("storey") || name.starts_with("face");
    });
    if (whole) assembly::check_house(draft.house, draft.problems);
}

}  // namespace warmside::project
