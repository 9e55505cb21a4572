// What the house gives a check: which wall carries what, how wide, how heavy. Inner header of the room.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "structure/check.h"
#include "structure/lumber.h"
#include "structure/studs.h"

namespace warmside::structure {

/// The framed layer of a wall that stands between its plates and carries.
struct Core {
    std::size_t layer = 0;
    const assembly::Framing* framing = nullptr;
    Size size;         ///< m: breadth along the wall, depth through it
    bool row = false;  ///< one of several rows of studs
};
/// Nothing for a wall without upright members.
[[nodiscard]] std::optional<Core> core_of(const assembly::Assembly& wall);

/// False for a member of another row of studs or of a service cavity.
[[nodiscard]] bool stands_in(const Core& core, const framing::Member& member);

/// Why studs cannot be computed (no recognised grade or size, I-joists); empty where they can.
[[nodiscard]] std::string ungraded(const assembly::House& house, const Core& core);

/// Weight of an assembly, Pa, members by their share of the face; of its layers from `from` on.
[[nodiscard]] double weight_of(const assembly::Assembly& assembly, std::size_t from = 0);
/// The wood panel outside of the core, or nothing.
[[nodiscard]] const assembly::Layer* sheathing_of(const assembly::Assembly& wall);
struct Lining {
    bool gypsum = false;      ///< 1/2 in gypsum, or 12.5 mm, inside of the core
    bool on_battens = false;  ///< a framed layer lies between it and the core
};
[[nodiscard]] Lining lining_of(const assembly::Assembly& wall);

/// Line loads on a wall at its bottom plate, N/m, and what they come from.
struct LineLoad {
    double dead = 0.0, floor_live = 0.0, attic_live = 0.0, snow = 0.0, roof_live = 0.0;
    bool bears_roof = false;
    int floors = 0;                              ///< floors whose joists rest on it
    int storeys_above = 0;                       ///< storeys that stand on it
    double roof_width = 0.0, floor_width = 0.0;  ///< m, tributary, all floors together
    Supports supports = Supports::nothing;
};

/// The house as a whole. Snow is the ground snow, used as the roof's as the code's span tables do.
class Site {
public:
    Site(const assembly::House& house, const assembly::Assembly& wall);
    [[nodiscard]] const assembly::House& house() const { return house_; }
    [[nodiscard]] const assembly::Assembly& wall() const { return wall_; }
    /// The assembly that a panel is built as.
    [[nodiscard]] const assembly::Assembly& built_as(const framing::Panel& panel) const;
    [[nodiscard]] const assembly::Face* face(const framing::Panel& panel) const;
    [[nodiscard]] LineLoad line_load(const assembly::Face& face, const assembly::Assembly& wall) const;
    [[nodiscard]] const assembly::Roof* roof_over(const assembly::Storey& storey) const;
    /// m, across the ridge, between the outer faces of the walls' frames; rise from plate to ridge. Of an
    /// outline that is no rectangle the longer side of the box around it.
    [[nodiscard]] double roof_span(const assembly::Roof& roof) const;
    /// The same for the roof that rests on a face: the box around the outline, across the face.
    [[nodiscard]] double roof_span(const assembly::Roof& roof, const assembly::Face& face) const;
    [[nodiscard]] double rise(const assembly::Roof& roof) const;
    [[nodiscard]] double mean_roof_height() const;
    /// m, from the lining's face to the outer face of the core.
    [[nodiscard]] double frame() const { return frame_; }
    [[nodiscard]] double extent(const assembly::Storey& storey, bool east_west) const;  ///< m, inside
    [[nodiscard]] int storeys() const;
    /// True where the joists of the floor of `storey` run east and west.
    [[nodiscard]] bool joists_east_west(const assembly::Storey& storey) const;
    /// Given loads that the finding rests on.
    [[nodiscard]] Input snow() const;
    [[nodiscard]] Input wind() const;
    [[nodiscard]] bool wind_given() const { return house_.loads.wind_speed && house_.loads.exposure; }

private:
    [[nodiscard]] std::vector<const assembly::Storey*> above(const assembly::Storey& storey) const;
    [[nodiscard]] bool spans_north_south(const assembly::Roof& roof) const;
    [[nodiscard]] const assembly::Storey* under(const assembly::Roof& roof) const;
    const assembly::House& house_;
    const assembly::Assembly& wall_;
    double frame_ = 0.0;  ///< m, from the lining's face to the outer face of the core
};

[[nodiscard]] bool is_east_west(const assembly::Face& face);
[[nodiscard]] Size size_of(const framing::Section& section);

/// `name`, SI value, unit, Origin.
template <class T>
[[nodiscard]] Input input(std::string name, const Sourced<T>& sourced, std::string unit) {
    return {std::move(name), static_cast<double>(sourced.value), std::move(unit), sourced.origin};
}
[[nodiscard]] Input computed(std::string name, double value, std::string unit);
/// A finding without a number.
[[nodiscard]] Finding unnumbered(Outcome outcome, std::string subject, std::string where, std::string rule,
                                 std::string citation, std::string words);
/// Fills ratio and outcome from demand and capacity.
void judge(Finding& finding, double demand, double capacity, std::string unit);

// The parts of check(), each for one kind of member.
void check_studs(const Site& site, const framing::Panel& panel, std::vector<Finding>& out);
void check_openings(const Site& site, const framing::Panel& panel, std::vector<Finding>& out);
/// Kings and jacks beside the opening of that index of the panel's face.
/// `clear`: m, between the jambs, which is wider than the opening where several share them.
void check_posts(const Site& site, const framing::Panel& panel, std::size_t index, double clear,
                 std::vector<Finding>& out);
void check_spans(const Site& site, const framing::Panel& panel, std::vector<Finding>& out);
void check_bracing(const Site& site, const framing::Frame& frame, std::vector<Finding>& out);
void check_cladding(const Site& site, const assembly::Assembly& wall, std::vector<Finding>& out);
void check_inner_furring(const Site& site, const assembly::Assembly& wall, std::vector<Finding>& out);

}  // namespace warmside::structure
