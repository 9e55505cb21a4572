#include <algorithm>

#include "assembly/boxes.h"
#include "assembly/check_words.h"
#include "assembly/geometry.h"
#include "assembly/members.h"

namespace warmside::assembly {

namespace {

struct Outline {
    Exact left, right, low, high;
    [[nodiscard]] bool overlaps(const Outline& b) const {
        return left < b.right && b.left < right && low < b.high && b.low < high;
    }
};

// As large as the box can be in any rung: which body is taken depends on the wall.
Outline outline_of(const ElectricalBox& box) {
    const BoxBody* own = box_rules().body(box.body.value);
    Exact width, height;
    for (const BoxBody& body : box_rules().bodies) {
        if (own && &body != own) continue;
        width = std::max(width, body.width);
        height = std::max(height, body.height);
    }
    const Exact left = box.at.value - half(width), low = box.height.value - half(height);
    return {left, left + width, low, low + height};
}

void check_place(const House& house, const Face& face, const ElectricalBox& box, Problems& problems) {
    const Outline own = outline_of(box);
    const Exact length = Exact::nearest(distance(face.from, face.to));
    if (own.left < Exact{} || own.right > length) {
        add(problems, Severity::error, Code::out_of_range,
            fmt::format("box {} is {} wide and stands {} from the left corner of face {}, which is {} long",
                        box.name, feet(own.right - own.left), feet(box.at.value), face.name, feet(length)),
            box.at.origin.where, "at = its middle, inside the face");
        return;
    }
    if (own.low < Exact{} || own.high > face.height) {
        add(problems, Severity::error, Code::out_of_range,
            fmt::format("box {} is {} high and stands {} above the floor of face {}, which is {} high",
                        box.name, feet(own.high - own.low), feet(box.height.value), face.name,
                        feet(face.height)),
            box.height.origin.where.line > 0 ? box.height.origin.where : box.origin.where,
            "height = its middle, above the floor");
        return;
    }
    for (const Opening& o : face.openings) {
        if (!own.overlaps({o.left, o.left + o.width, o.sill, o.sill + o.height})) continue;
        add(problems, Severity::error, Code::conflict,
            fmt::format("box {} stands in {} of face {}", box.name, o.name, face.name), box.at.origin.where,
            fmt::format("{} takes {} to {}", o.name, feet(o.left), feet(o.left + o.width)));
    }
    for (const Partition& p : house.partitions) {
        const auto member = member_size(house.catalogue, p.member);
        if (p.face != box.face || !member) continue;
        const Exact left = p.at - half(member->wide);
        if (own.left >= left + member->wide || own.right <= left) continue;
        add(problems, Severity::error, Code::conflict,
            fmt::format("box {} stands where partition {} meets face {}", box.name, p.name, face.name),
            box.at.origin.where);
    }
    for (const ElectricalBox& other : house.boxes) {
        if (&other == &box) break;
        if (other.face != box.face || !own.overlaps(outline_of(other))) continue;
        add(problems, Severity::error, Code::conflict,
            fmt::format("box {} overlaps box {} in face {}", box.name, other.name, face.name),
            box.at.origin.where);
    }
}

// A body that the file names may be too deep for a rung, or for its inner cavity alone.
void check_depth(const Assembly& wall, const std::string& what, const char* key,
                 const Sourced<std::string>& body, Problems& problems) {
    const BoxBody* named = box_rules().body(body.value);
    if (!named || body.origin.kind != Origin::Kind::house_file) return;
    const auto seat = box_seat(wall, body.value), other = box_seat(wall, "");
    if (!seat) {
        add(problems, Severity::error, Code::out_of_range,
            fmt::format("{} is {} deep: no framed layer of {} is deep enough", what, feet(named->depth),
                        wall.name),
            body.origin.where, other ? fmt::format("{} = \"{}\"", key, other->body->name) : std::string());
    } else if (other && other->inner_cavity && !seat->inner_cavity) {
        add(problems, Severity::warning, Code::conflict,
            fmt::format("{} is {} deep, deeper than the inner cavity of {}: it pierces the airtight layer",
                        what, feet(named->depth), wall.name),
            body.origin.where, fmt::format("{} = \"{}\"", key, other->body->name));
    }
}

}  // namespace

void check_boxes(const House& house, Problems& problems) {
    for (const ElectricalBox& box : house.boxes) {
        const auto face = std::find_if(house.faces.begin(), house.faces.end(),
                                       [&](const Face& f) { return f.name == box.face; });
        if (face != house.faces.end()) check_place(house, *face, box, problems);
    }
    for (const Ladder& ladder : house.ladders) {
        if (ladder.part != Part::wall) continue;
        for (const std::size_t rung : ladder.rungs) {
            const Assembly& wall = house.assemblies[rung];
            check_depth(wall, "the box of [framing]", "box_body", house.practice.box_body, problems);
            for (const ElectricalBox& box : house.boxes)
                check_depth(wall, "box " + box.name, "body", box.body, problems);
        }
    }
}

}  // namespace warmside::assembly
