#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "assembly/check.h"
#include "assembly/check_words.h"
#include "assembly/geometry.h"

namespace warmside::assembly {

namespace {

bool over_the_same_ground(const Storey& a, const Storey& b) {
    const auto least = [](const Storey& s, auto key) {
        return (*std::min_element(s.outline.begin(), s.outline.end(),
                                  [&](const Point& p, const Point& q) { return p.*key < q.*key; })).*
               key;
    };
    const auto most = [](const Storey& s, auto key) {
        return (*std::max_element(s.outline.begin(), s.outline.end(),
                                  [&](const Point& p, const Point& q) { return p.*key < q.*key; })).*
               key;
    };
    if (a.outline.empty() || b.outline.empty()) return false;
    return least(a, &Point::x) < most(b, &Point::x) && least(b, &Point::x) < most(a, &Point::x) &&
           least(a, &Point::y) < most(b, &Point::y) && least(b, &Point::y) < most(a, &Point::y);
}

// The storey that stands next on `below`, or null.
const Storey* storey_on(const House& house, const Storey& below) {
    const Storey* out = nullptr;
    for (const Storey& each : house.storeys) {
        if (each.floor <= below.floor || !over_the_same_ground(each, below)) continue;
        if (!out || each.floor < out->floor) out = &each;
    }
    return out;
}

// A header that [details] gives may not fit; one sized by its table may be shallower.
void check_headers(const House& house, const Face& face, Problems& problems) {
    const Details& d = house.details;
    if (d.header_plies.value == 0 || house.practice.sized_headers.value) return;
    // Over the plates there is room for it.
    const Storey* storey = house.storey(face.storey);
    if (d.header_place.value == HeaderPlace::rim && storey && storey_on(house, *storey)) return;
    const Exact plates = Exact::nearest(d.member.value * d.top_plates.value);
    const Exact header = Exact::nearest(d.header.value);
    for (const Opening& opening : face.openings) {
        const Exact head = opening.sill + opening.height;
        if (head > face.height) continue;  // said already
        const Exact room = face.height - plates - head;
        if (room + Exact::millimetres(2) >= header) continue;
        add(problems, Severity::warning, Code::conflict,
            fmt::format("{} in face {} leaves {} under the top plates, its header is {} high", opening.name,
                        face.name, feet(std::max(room, Exact{})), feet(header)),
            opening.origin.where, "a lower head, header in [details], or sized_headers = true in [framing]");
    }
}

void check_floors(const House& house, Exact joist, Problems& problems) {
    const Exact needed = joist + Exact::nearest(house.details.deck.value);
    for (const Storey& below : house.storeys) {
        const Storey* above = storey_on(house, below);
        if (!above) continue;
        const Exact room = above->floor - below.floor - below.height;
        if (room.count() < 0 || room + Exact::millimetres(2) >= needed) continue;
        add(problems, Severity::warning, Code::conflict,
            fmt::format("between storeys {} and {} there are {}, joists and subfloor take {}", below.name,
                        above->name, feet(room), feet(needed)),
            above->origin.where, "floor = of the upper storey, or joist in [framing]");
    }
}

void check_roof(const House& house, const Roof& roof, Problems& problems) {
    const Storey* storey = storey_under(house, roof);
    if (!storey) return;
    const Storey* above = storey_on(house, *storey);
    const auto own = rectangle_of(storey->outline);
    const auto other = above ? rectangle_of(above->outline) : std::nullopt;
    // A lower roof may lean against a smaller storey; one storey wholly under another carries no roof.
    if (own && other && other->low.x <= own->low.x && other->low.y <= own->low.y &&
        other->high.x >= own->high.x && other->high.y >= own->high.y) {
        add(problems, Severity::error, Code::conflict,
            fmt::format("roof {} lies on storey {}, which storey {} covers", roof.name, storey->name,
                        above->name),
            roof.origin.where, fmt::format("storey = \"{}\"", above->name));
    }
    for (const Roof& twin : house.roofs) {
        if (&twin == &roof) break;
        if (storey_under(house, twin) != storey) continue;
        add(problems, Severity::error, Code::duplicate,
            fmt::format("roof {} lies on storey {}, which has roof {}", roof.name, storey->name, twin.name),
            roof.origin.where, "one roof for each storey");
        break;
    }
}

}  // namespace

void check_partition(const Face& face, const Partition& partition, Exact width,
                     const std::vector<Partition>& others, const Place& at, Problems& problems) {
    const Exact length = Exact::nearest(distance(face.from, face.to));
    const Exact left = partition.at - half(width), right = partition.at + half(width);
    if (left.count() < 0 || right > length) {
        add(problems, Severity::error, Code::out_of_range,
            fmt::format("partition {} is {} thick and stands {} from the left corner of face {}, which is {} "
                        "long",
                        partition.name, feet(width), feet(partition.at), face.name, feet(length)),
            at, "at = its middle, inside the face");
        return;
    }
    for (const Opening& opening : face.openings) {
        if (left >= opening.left + opening.width || right <= opening.left) continue;
        add(problems, Severity::error, Code::conflict,
            fmt::format("partition {} meets face {} in its opening {}", partition.name, face.name,
                        opening.name),
            at,
            fmt::format("{} takes {} to {}", opening.name, feet(opening.left),
                        feet(opening.left + opening.width)));
    }
    for (const Partition& other : others) {
        if (other.face != partition.face) continue;
        const Exact apart = other.at > partition.at ? other.at - partition.at : partition.at - other.at;
        if (apart >= width) continue;
        add(problems, Severity::error, Code::conflict,
            fmt::format("partition {} stands in partition {}", partition.name, other.name), at);
    }
}

void check_framing(const House& house, Exact joist, Problems& problems) {
    for (const Face& face : house.faces) check_headers(house, face, problems);
    check_floors(house, joist, problems);
    for (const Roof& roof : house.roofs) check_roof(house, roof, problems);
}

}  // namespace warmside::assembly
