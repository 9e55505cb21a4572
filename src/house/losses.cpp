#include "house/losses.h"

#include <algorithm>

namespace warmside::house {

namespace {

constexpr double hour = 3600.0;  // s
constexpr double heats = 1e-6;   // W: what counts as heating
const char* const stored = "stored in inner walls and floors";

class Lines {
public:
    Loss& of(const Share& share) {
        const auto found = std::find_if(lines.begin(), lines.end(), [&](const Loss& l) {
            return l.kind == share.kind && l.name == share.name;
        });
        if (found != lines.end()) return *found;
        lines.push_back({.kind = share.kind, .name = share.name});
        return lines.back();
    }
    std::vector<Loss> lines;
};

bool same_parts(const Building& a, const Building& b) {
    const auto& x = a.network;
    const auto& y = b.network;
    const auto same = [](const auto& p, const auto& q) { return p.name == q.name; };
    return std::equal(x.elements.begin(), x.elements.end(), y.elements.begin(), y.elements.end(), same) &&
           std::equal(x.links.begin(), x.links.end(), y.links.begin(), y.links.end(), same);
}

bool heated(const Building& b, const Run& run, std::size_t h) {
    return run.heating[b.rooms][h] > heats;
}

// J that left the rooms through one row of flows into them.
double left(const Building& b, const Run& run, const std::vector<double>& inward) {
    double sum = 0.0;
    for (std::size_t h = 1; h < inward.size(); ++h)
        if (heated(b, run, h)) sum -= inward[h] * hour;
    return sum;
}

}  // namespace

Given given(const Building& hourly, const Run& run) {
    const Zone& rooms = hourly.network.zones[hourly.rooms];
    Given out;
    for (std::size_t h = 1; h < run.heating[hourly.rooms].size(); ++h) {
        if (!heated(hourly, run, h)) continue;
        const int i = static_cast<int>(h);
        out.heating += hour * run.heating[hourly.rooms][h];
        out.gains += hour * (rooms.convective.at(i) + rooms.radiant.at(i));
    }
    return out;
}

Result<std::vector<Loss>> losses(const Building& hourly, const Run& run, const Building& design,
                                 const Steady& steady, double outdoors) {
    if (!same_parts(hourly, design))
        return fail(Code::conflict, "the hourly house and that of the design hour have different parts");
    if (run.inward.size() != hourly.elements.size() || run.links.size() != hourly.links.size() ||
        steady.inward.size() != design.elements.size() || steady.links.size() != design.links.size())
        return fail(Code::incomplete, "the run is not one of this house");
    Lines out;
    const auto add = [&](const std::vector<Share>& owners, double year, double watts) {
        for (const Share& share : owners) {
            Loss& line = out.of(share);
            line.year += share.share * year;
            line.design += share.share * watts;
        }
    };
    for (std::size_t i = 0; i < hourly.elements.size(); ++i)
        if (!hourly.elements[i].empty())
            add(hourly.elements[i], left(hourly, run, run.inward[i]), -steady.inward[i]);
    for (std::size_t i = 0; i < hourly.links.size(); ++i)
        if (!hourly.links[i].empty()) add(hourly.links[i], left(hourly, run, run.links[i]), -steady.links[i]);
    double kept = 0.0;
    const auto& air = run.air[hourly.rooms];
    for (std::size_t h = 1; h < air.size(); ++h)
        if (heated(hourly, run, h)) kept += air[h] - air[h - 1];
    add({{Loss::Kind::other, stored, 1.0}}, kept * hourly.network.zones[hourly.rooms].capacity, 0.0);
    const double difference = steady.air[design.rooms] - outdoors;
    for (Loss& line : out.lines) line.conductance = difference > 0.0 ? line.design / difference : 0.0;
    return std::move(out.lines);
}

}  // namespace warmside::house
