#include "framing/wall_headers.h"

#include <algorithm>
#include <fmt/format.h>

#include "framing/spans.h"

namespace warmside::framing {

namespace {

constexpr Exact two_by = Exact::sixty_fourths_of_inch(96);
constexpr double mph = 0.44704;  // m/s, 1609.344 m in 3600 s

HeaderWish as_told(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    const assembly::Details& details = bench.house.details;
    HeaderWish wish{.height = Exact::nearest(details.header.value)};
    const auto most = static_cast<int>(plan.depth.size().count() / plan.plate_thickness.count());
    wish.plies = std::clamp(details.header_plies.value, 1, std::max(most, 1));
    wish.jacks = std::max(details.jamb_studs.value - 1, 0);
    wish.dropped = plan.stud_high - wish.height - rough.head > wish.height;
    return wish;
}

// Extent of the building across the ridge, m; the shorter side of the outline where no roof says how it runs.
double width_across(const assembly::House& house, const assembly::Storey& storey) {
    if (storey.outline.empty()) return 0.0;
    Exact west = storey.outline.front().x, east = west, south = storey.outline.front().y, north = south;
    for (const assembly::Point& p : storey.outline) {
        west = std::min(west, p.x);
        east = std::max(east, p.x);
        south = std::min(south, p.y);
        north = std::max(north, p.y);
    }
    const double x = (east - west).metres(), y = (north - south).metres();
    for (const assembly::Roof& roof : house.roofs) {
        if (roof.ridge == "east-west") return y;
        if (roof.ridge == "north-south") return x;
    }
    return std::min(x, y);
}

struct Burden {
    double width = 0.0;
    Carries carries = Carries::roof;
    std::string beyond;  // why the table does not hold; empty: it does
};

Burden burden_of(const Bench& bench, const FramePlan& plan) {
    Burden out;
    const assembly::House& house = bench.house;
    const assembly::Storey* storey = house.storey(bench.wall.face->storey);
    if (!storey) return {.beyond = "the face has no storey"};
    out.width = width_across(house, *storey);
    const auto above = std::count_if(house.storeys.begin(), house.storeys.end(),
                                     [&](const assembly::Storey& s) { return s.floor > storey->floor; });
    if (above > 0) out.carries = Carries::roof_and_floor;
    const std::string& species = house.practice.species.value;
    const std::string& grade = house.practice.grade.value;
    const bool known = species == "spruce-pine-fir" || species == "douglas fir-larch" ||
                       species == "hem-fir" || species == "southern pine";
    if (above > 1) out.beyond = "more than one storey stands above it";
    if (above > 0 && !house.practice.bearing_line.value) out.beyond = "the floor above spans the whole width";
    if (plan.thickness != two_by) out.beyond = "the table is for 2x lumber";
    if (!known || (grade != "No. 2" && grade != "No. 1" && grade != "Select Structural"))
        out.beyond = fmt::format("the table does not hold for {} {}", species, grade);
    return out;
}

int kings(const Bench& bench, double span, int jacks) {
    const assembly::Loads& loads = bench.house.loads;
    if (!loads.wind_speed || !loads.exposure) return 1;
    const bool calm = loads.exposure->value == assembly::Loads::Exposure::b &&
                      loads.wind_speed->value <= 115 * mph + 0.01 && jacks > 0;
    return kings_for(span, calm).value_or(1);
}

}  // namespace

HeaderWish header_wish(const Bench& bench, const FramePlan& plan, const Rough& rough) {
    HeaderWish told = as_told(bench, plan, rough);
    const assembly::House& house = bench.house;
    if (!house.practice.sized_headers.value || !house.loads.ground_snow) return told;
    const Burden burden = burden_of(bench, plan);
    const double span = rough.clear.size().metres(), room = (plan.stud_high - rough.head).metres();
    const auto most = static_cast<int>(plan.depth.size().count() / plan.plate_thickness.count());
    for (const bool braced : {true, false}) {
        if (!burden.beyond.empty()) break;
        const auto choice = header_for(span, burden.width, house.loads.ground_snow->value, burden.carries,
                                       braced, most, room);
        if (!choice) continue;
        const Exact height = *depth_of_two_by(choice->member);
        // Tight under the plates only while the space below it is no higher than the header.
        const bool dropped = plan.stud_high - height - rough.head > height;
        if (dropped && braced) continue;
        return {.height = height,
                .plies = choice->plies,
                .jacks = choice->jacks,
                .kings = kings(bench, span, choice->jacks),
                .dropped = dropped};
    }
    bench.notes.push_back(
        {.code = Code::unsupported,
         .severity = Severity::warning,
         .what = fmt::format(
             "{} of face {}: the header is taken as [details] says, an engineer decides: {}",
             rough.opening->name, bench.wall.face->name,
             burden.beyond.empty() ? "no row of IRC Table R602.7(1) here holds and fits in" : burden.beyond),
         .where = rough.opening->origin.where});
    return told;
}

}  // namespace warmside::framing
