#include "house/shading.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "assembly/geometry.h"

namespace warmside::house {

namespace {

using Flat = std::array<double, 2>;
using Polygon = std::vector<Flat>;

double area_of(const Polygon& p) {
    double twice = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Flat &a = p[i], &b = p[(i + 1) % p.size()];
        twice += a[0] * b[1] - a[1] * b[0];
    }
    return 0.5 * twice;
}

// Sutherland and Hodgman: what of `subject` lies in the convex, counter-clockwise `window`.
Polygon clip(Polygon subject, const Polygon& window) {
    for (std::size_t e = 0; e < window.size() && !subject.empty(); ++e) {
        const Flat &a = window[e], &b = window[(e + 1) % window.size()];
        const auto side = [&](const Flat& p) {
            return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
        };
        Polygon kept;
        for (std::size_t i = 0; i < subject.size(); ++i) {
            const Flat &p = subject[i], &q = subject[(i + 1) % subject.size()];
            const double sp = side(p), sq = side(q);
            if (sp >= 0.0) kept.push_back(p);
            if ((sp > 0.0 && sq < 0.0) || (sp < 0.0 && sq > 0.0)) {
                const double t = sp / (sp - sq);
                kept.push_back({p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])});
            }
        }
        subject = std::move(kept);
    }
    return subject;
}

Polygon outline(const Frontage& window) {
    return {{0.0, 0.0}, {window.width, 0.0}, {window.width, window.height}, {0.0, window.height}};
}

// Area of the union of shadows `from` and later, within `part`: sum over subsets with alternating sign, an
// empty part ends its branch.
double covered(const Polygon& part, const std::vector<Polygon>& shadows, std::size_t from) {
    double sum = 0.0;
    for (std::size_t i = from; i < shadows.size(); ++i) {
        const Polygon both = clip(part, shadows[i]);
        if (both.size() < 3) continue;
        sum += area_of(both) - covered(both, shadows, i + 1);
    }
    return sum;
}

constexpr std::size_t most_screens = 8;

// Where the wall's top and the roof above it are, in the window's axes.
struct WallTop {
    double left = 0.0, right = 0.0;  // m, ends of the face
    double plate = 0.0;              // m, above the sill
};

Screen eave(const WallTop& top, double out, double drop) {
    const double l = top.left - out, r = top.right + out;
    return {
        {{l, top.plate, 0.0}, {r, top.plate, 0.0}, {r, top.plate - drop, out}, {l, top.plate - drop, out}}};
}

Screen rake(Flat low, Flat high, double out) {
    return {{{low[0], low[1], 0.0}, {high[0], high[1], 0.0}, {high[0], high[1], out}, {low[0], low[1], out}}};
}

// Quarter of the compass to which the face looks most.
int quarter_of(const assembly::Face& face) {
    return static_cast<int>(std::lround(assembly::azimuth(face) / (std::numbers::pi / 2.0))) % 4;
}

int quarter_of(std::string_view side) {
    return side == "north" ? 0 : side == "east" ? 1 : side == "south" ? 2 : 3;
}

void add_gable_end(const WallTop& top, double slope, double out, std::vector<Screen>& screens) {
    const double middle = 0.5 * (top.left + top.right);
    const double rise = (middle - top.left) * slope, drop = out * slope;
    screens.push_back(rake({top.left - out, top.plate - drop}, {middle, top.plate + rise}, out));
    screens.push_back(rake({top.right + out, top.plate - drop}, {middle, top.plate + rise}, out));
}

void add_shed(const assembly::Roof& roof, const assembly::Face& face, const WallTop& top, double slope,
              double out, const assembly::Storey& under, std::vector<Screen>& screens) {
    const int turn = (quarter_of(face) - quarter_of(roof.high_side) + 4) % 4;
    const auto plan = assembly::rectangle_of(under.outline);
    double span = top.right - top.left;  // of the slope; along the face where that is an end
    if (turn % 2 == 0) {
        if (!plan) return;
        const bool north_south = quarter_of(face) % 2 == 0;
        span = north_south ? (plan->high.y - plan->low.y).metres() : (plan->high.x - plan->low.x).metres();
    }
    const double rise = span * slope, drop = out * slope;
    if (turn == 2) return screens.push_back(eave(top, out, drop));
    if (turn == 0) {
        WallTop high = top;
        high.plate += rise;
        return screens.push_back(eave(high, out, -drop));
    }
    // Seen from outside, an end whose face looks a quarter clockwise of the high side has that side on its
    // right.
    const bool right = turn == 1;
    const double low = right ? top.left - out : top.right + out,
                 far = right ? top.right + out : top.left - out;
    screens.push_back(rake({low, top.plate - drop}, {far, top.plate + rise + drop}, out));
}

}  // namespace

Screen overhang(const Frontage& window, double above, double depth, double left, double right) {
    const double y = window.height + above, l = -left, r = window.width + right;
    return {{{l, y, 0.0}, {r, y, 0.0}, {r, y, depth}, {l, y, depth}}};
}

Screen left_fin(const Frontage& window, double beside, double depth, double below, double above) {
    const double x = -beside, low = -below, high = window.height + above;
    return {{{x, low, 0.0}, {x, high, 0.0}, {x, high, depth}, {x, low, depth}}};
}

Screen right_fin(const Frontage& window, double beside, double depth, double below, double above) {
    const double x = window.width + beside, low = -below, high = window.height + above;
    return {{{x, low, 0.0}, {x, high, 0.0}, {x, high, depth}, {x, low, depth}}};
}

Spot toward(double azimuth, double elevation, double wall_azimuth) {
    const double turn = azimuth - wall_azimuth;
    return {-std::sin(turn) * std::cos(elevation), std::sin(elevation), std::cos(turn) * std::cos(elevation)};
}

double sunlit(const Frontage& window, std::span<const Screen> screens, const Spot& sun) {
    if (!(sun[2] > 1e-9)) return 0.0;
    const double across = sun[0] / sun[2], down = sun[1] / sun[2];
    const Polygon whole = outline(window);
    std::vector<Polygon> shadows;
    for (const Screen& screen : screens) {
        if (shadows.size() == most_screens) break;
        Polygon shadow;
        for (const auto& [x, y, z] : screen.corners) shadow.push_back({x - z * across, y - z * down});
        const double turned = area_of(shadow);
        if (turned < 0.0) std::reverse(shadow.begin(), shadow.end());
        if (std::abs(turned) > 1e-12) shadows.push_back(std::move(shadow));
    }
    const double dark = covered(whole, shadows, 0);
    return std::clamp(1.0 - dark / area_of(whole), 0.0, 1.0);
}

SeenShares seen(const Frontage& window, std::span<const Screen> screens) {
    if (screens.empty()) return {};
    constexpr int rings = 24, steps = 48;
    SeenShares out{0.0, 0.0};
    for (int i = 0; i < rings; ++i) {
        // Even in the square of the sine: each direction carries the same cosine-weighted solid angle.
        const double square = (i + 0.5) / rings;
        const double sine = std::sqrt(square), z = std::sqrt(1.0 - square);
        for (int k = 0; k < steps; ++k) {
            const double turn = (k + 0.5) / steps * std::numbers::pi;
            const double x = sine * std::cos(turn), y = sine * std::sin(turn);
            out.sky += sunlit(window, screens, {x, y, z});
            out.ground += sunlit(window, screens, {x, -y, z});
        }
    }
    out.sky /= rings * steps;
    out.ground /= rings * steps;
    return out;
}

std::vector<Screen> roof_screens(const assembly::House& house, const assembly::Face& face,
                                 const assembly::Opening& opening) {
    std::vector<Screen> screens;
    const assembly::Storey* own = house.storey(face.storey);
    if (!own) return screens;
    for (const assembly::Roof& roof : house.roofs) {
        const assembly::Storey* under = assembly::storey_under(house, roof);
        const double out = roof.overhang.metres();
        if (!under || under->floor < own->floor || !(out > 0.0)) continue;
        const double left = -opening.left.metres();
        const WallTop top{.left = left,
                          .right = left + assembly::distance(face.from, face.to),
                          .plate = (under->floor + under->height - own->floor - opening.sill).metres()};
        const bool flat = roof.form == assembly::Roof::Form::flat;
        const double slope = flat ? 0.0 : std::tan(roof.pitch);
        const bool looks_north_south = quarter_of(face) % 2 == 0;
        if (roof.form == assembly::Roof::Form::shed)
            add_shed(roof, face, top, slope, out, *under, screens);
        else if (roof.form == assembly::Roof::Form::gable &&
                 looks_north_south == (roof.ridge == "north-south"))
            add_gable_end(top, slope, out, screens);
        else
            screens.push_back(eave(top, out, out * slope));
    }
    return screens;
}

}  // namespace warmside::house
