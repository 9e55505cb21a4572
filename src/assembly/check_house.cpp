#include <algorithm>
#include <fmt/format.h>

#include "assembly/check.h"
#include "assembly/check_words.h"
#include "assembly/geometry.h"

namespace warmside::assembly {

namespace {

// Twice the signed area of a triangle; long double holds products of counts within 300 m exactly.
long double turn(const Point& a, const Point& b, const Point& c) {
    const auto d = [](Exact u, Exact v) { return static_cast<long double>((u - v).count()); };
    return d(b.x, a.x) * d(c.y, a.y) - d(b.y, a.y) * d(c.x, a.x);
}

bool within_box(const Point& a, const Point& b, const Point& p) {
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
           p.y <= std::max(a.y, b.y);
}

// Do the closed segments a-b and c-d share a point?
bool meet(const Point& a, const Point& b, const Point& c, const Point& d) {
    const auto sign = [](long double v) { return (v > 0) - (v < 0); };
    const int abc = sign(turn(a, b, c)), abd = sign(turn(a, b, d));
    const int cda = sign(turn(c, d, a)), cdb = sign(turn(c, d, b));
    if (abc * abd < 0 && cda * cdb < 0) return true;
    return (abc == 0 && within_box(a, b, c)) || (abd == 0 && within_box(a, b, d)) ||
           (cda == 0 && within_box(c, d, a)) || (cdb == 0 && within_box(c, d, b));
}

// Does the edge after corner b run straight back over the edge before it?
bool folds_back(const Point& a, const Point& b, const Point& c) {
    const auto dot = [](Exact u, Exact v) { return u.metres() * v.metres(); };
    return turn(a, b, c) == 0 && dot(b.x - a.x, c.x - b.x) + dot(b.y - a.y, c.y - b.y) < 0.0;
}

bool check_edges(const std::string& title, const std::vector<Point>& outline,
                 const std::vector<Place>& corners, Problems& problems) {
    const std::size_t n = outline.size();
    bool sound = true;
    for (std::size_t i = 0; i < n; ++i) {
        const Point& a = outline[i];
        const Point& b = outline[(i + 1) % n];
        if (a.x == b.x && a.y == b.y) {
            add(problems, Severity::error, Code::out_of_range,
                fmt::format("{}: edge {} has no length, both its corners are at {}, {}", title, i + 1,
                            units::feet_inches(a.x.metres()), units::feet_inches(a.y.metres())),
                corners[i],
                i + 1 == n ? "leave out the last corner: the outline closes by itself"
                           : "leave out one of the two corners");
            sound = false;
        }
    }
    return sound;
}

bool check_crossings(const std::string& title, const std::vector<Point>& outline,
                     const std::vector<Place>& corners, Problems& problems) {
    const std::size_t n = outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point& a = outline[i];
        const Point& b = outline[(i + 1) % n];
        if (folds_back(a, b, outline[(i + 2) % n])) {
            add(problems, Severity::error, Code::conflict,
                fmt::format("{}: edge {} runs back over edge {}", title, (i + 1) % n + 1, i + 1),
                corners[(i + 1) % n]);
            return false;
        }
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j == n - 1) continue;
            if (!meet(a, b, outline[j], outline[(j + 1) % n])) continue;
            add(problems, Severity::error, Code::conflict,
                fmt::format("{}: edges {} and {} cross or touch each other", title, i + 1, j + 1), corners[j],
                "list the corners in order, walking once round the house");
            return false;
        }
    }
    return true;
}

}  // namespace

void check_outline(const std::string& title, const std::vector<Point>& outline, const Place& where,
                   const std::vector<Place>& corners, Problems& problems) {
    if (outline.size() < 3) {
        add(problems, Severity::error, Code::incomplete,
            fmt::format("{}: an outline needs at least three corners, not {}", title, outline.size()), where);
        return;
    }
    if (!check_edges(title, outline, corners, problems) ||
        !check_crossings(title, outline, corners, problems))
        return;
    if (signed_area(outline) < 0.0) {
        add(problems, Severity::error, Code::conflict, fmt::format("{}: the outline runs clockwise", title),
            where, "list the corners the other way round: counter-clockwise, seen from above with north up");
    }
}

void check_openings(const Face& face, Problems& problems) {
    const Exact length = Exact::nearest(distance(face.from, face.to));
    // A sixteenth of an inch of rounding on a slanting face is no mistake.
    const Exact slack = Exact::millimetres(2);
    for (std::size_t i = 0; i < face.openings.size(); ++i) {
        const Opening& o = face.openings[i];
        const Exact right = o.left + o.width;
        if (right > length + slack) {
            add(problems, Severity::error, Code::out_of_range,
                fmt::format("{} ends {} from the left corner of face {}, which is only {} long", o.name,
                            feet(right), face.name, feet(length)),
                o.origin.where);
        }
        if (o.sill + o.height > face.height + slack) {
            add(problems, Severity::error, Code::out_of_range,
                fmt::format("{} reaches {} above the floor, face {} is only {} high", o.name,
                            feet(o.sill + o.height), face.name, feet(face.height)),
                o.origin.where);
        }
        for (std::size_t j = 0; j < i; ++j) {
            const Opening& other = face.openings[j];
            const bool beside = o.left >= other.left + other.width || other.left >= right;
            const bool above = o.sill >= other.sill + other.height || other.sill >= o.sill + o.height;
            if (beside || above) continue;
            add(problems, Severity::error, Code::conflict,
                fmt::format("{} overlaps {} in face {}", o.name, other.name, face.name), o.origin.where);
        }
    }
}

namespace {

bool same(const Point& a, const Point& b) {
    return a.x == b.x && a.y == b.y;
}

bool on_edge(const Point& a, const Point& b, const Point& p) {
    const double length = distance(a, b);
    // Off the line by less than 1 mm: turn() is the doubled area in counts.
    return static_cast<double>(turn(a, b, p)) / 8e6 / 8e6 / length < 1e-3 &&
           static_cast<double>(turn(a, b, p)) / 8e6 / 8e6 / length > -1e-3 && within_box(a, b, p);
}

void check_edge_faces(const House& house, const Storey& storey, Problems& problems) {
    const std::size_t n = storey.outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point& a = storey.outline[i];
        const Point& b = storey.outline[(i + 1) % n];
        double covered = 0.0;
        for (const Face& face : house.faces) {
            if (face.storey == storey.name && on_edge(a, b, face.from) && on_edge(a, b, face.to))
                covered += distance(face.from, face.to);
        }
        const double length = distance(a, b);
        if (covered >= length - 2e-3) continue;
        add(problems, Severity::warning, Code::incomplete,
            fmt::format(
                "storey {}: edge {} is {} long, its faces only {}; the rest of that wall is not counted",
                storey.name, i + 1, feet(Exact::nearest(length)), feet(Exact::nearest(covered))),
            storey.origin.where,
            fmt::format("[face.NAME] with storey = \"{}\" and edge = {}", storey.name, i + 1));
    }
}

void check_face_place(const House& house, const Face& face, Problems& problems) {
    const Storey* storey = house.storey(face.storey);
    if (!storey) return;
    const std::size_t n = storey->outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point& a = storey->outline[i];
        const Point& b = storey->outline[(i + 1) % n];
        if (!on_edge(a, b, face.from) || !on_edge(a, b, face.to)) continue;
        if (distance(a, face.from) <= distance(a, face.to)) return;
        add(problems, Severity::error, Code::conflict,
            fmt::format("face {} runs clockwise, from right to left as seen from outside", face.name),
            face.origin.where, "swap from and to");
        return;
    }
    add(problems, Severity::error, Code::conflict,
        fmt::format("face {} does not lie on an edge of storey {}", face.name, storey->name),
        face.origin.where, "edge = 1, 2 ... of the outline instead of from and to");
}

void check_overlapping_faces(const House& house, Problems& problems) {
    for (std::size_t i = 0; i < house.faces.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const Face& a = house.faces[j];
            const Face& b = house.faces[i];
            if (a.storey != b.storey || turn(a.from, a.to, b.from) != 0 || turn(a.from, a.to, b.to) != 0)
                continue;
            const Point lo{std::max(std::min(a.from.x, a.to.x), std::min(b.from.x, b.to.x)),
                           std::max(std::min(a.from.y, a.to.y), std::min(b.from.y, b.to.y))};
            const Point hi{std::min(std::max(a.from.x, a.to.x), std::max(b.from.x, b.to.x)),
                           std::min(std::max(a.from.y, a.to.y), std::max(b.from.y, b.to.y))};
            if (lo.x > hi.x || lo.y > hi.y || same(lo, hi)) continue;
            add(problems, Severity::error, Code::conflict,
                fmt::format("face {} lies over face {}", b.name, a.name), b.origin.where,
                "each stretch of wall once");
        }
    }
}

void check_levels(const House& house, Problems& problems) {
    std::vector<const Storey*> order;
    order.reserve(house.storeys.size());
    for (const Storey& storey : house.storeys) order.push_back(&storey);
    std::sort(order.begin(), order.end(),
              [](const Storey* a, const Storey* b) { return a->floor < b->floor; });
    for (std::size_t i = 1; i < order.size(); ++i) {
        const Storey& below = *order[i - 1];
        const Storey& above = *order[i];
        if (above.floor >= below.floor + below.height) continue;
        // Split levels stand side by side; only storeys over the same ground can collide.
        if (below.outline.empty() || above.outline.empty()) continue;
        const auto inside_box = [](const Storey& s, bool x, bool most) {
            const auto key = [&](const Point& p) { return x ? p.x : p.y; };
            Exact v = key(s.outline.front());
            for (const Point& p : s.outline) v = most ? std::max(v, key(p)) : std::min(v, key(p));
            return v;
        };
        const bool apart = inside_box(below, true, true) <= inside_box(above, true, false) ||
                           inside_box(above, true, true) <= inside_box(below, true, false) ||
                           inside_box(below, false, true) <= inside_box(above, false, false) ||
                           inside_box(above, false, true) <= inside_box(below, false, false);
        if (apart) continue;
        add(problems, Severity::error, Code::conflict,
            fmt::format("storey {} starts at {}, below the ceiling of storey {} at {}", above.name,
                        feet(above.floor), below.name, feet(below.floor + below.height)),
            above.origin.where);
    }
}

}  // namespace

void check_house(const House& house, Problems& problems) {
    check_levels(house, problems);
    for (const Face& face : house.faces) check_face_place(house, face, problems);
    check_overlapping_faces(house, problems);
    for (const Storey& storey : house.storeys) {
        if (storey.heated) check_edge_faces(house, storey, problems);
    }
}

}  // namespace warmside::assembly
