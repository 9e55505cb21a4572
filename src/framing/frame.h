// Members, sheets and rolls placed in the real walls, floors and roofs of a house.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::framing {

using units::Exact;

/// What a piece is for. A role belongs to the face's field, to a junction or to neither (region_of).
enum class Role {
    bottom_plate,
    top_plate,
    stud,
    king,
    jack,
    cripple_above,
    cripple_below,
    header,
    header_filler,
    sill,
    corner,
    backing,
    blocking,
    fire_block,
    furring,  ///< inside, in front of the membrane: the service cavity
    batten,   ///< outside, behind the cladding
    buck,     ///< box in an opening through a deep wall
    rim,
    joist,
    bearing_beam,
    rafter,
    ridge,
    hip,
    valley,
    ceiling_joist,
    lookout,
    truss  ///< ordered whole; one piece, its span as length
};
[[nodiscard]] const char* name_of(Role role);  ///< "king stud"
[[nodiscard]] const char* mark_of(Role role);  ///< letters on the drawing: "K"

/// Actual size. `name` as the yard says it: "2x6", "48x198".
struct Section {
    std::string name;
    Exact thickness;  ///< the smaller one
    Exact width;
};

/// A box in its panel's axes: u along the face from its left corner seen from outside, v up (on a roof up the
/// slope, on a floor to the north or east), w outwards from the inside face of the finish (on a roof from the
/// ceiling up, on a floor up from the underside of the joists).
struct Box {
    std::array<Exact, 3> low, high;
    [[nodiscard]] Exact size(int axis) const {
        return high[static_cast<std::size_t>(axis)] - low[static_cast<std::size_t>(axis)];
    }
};

struct Member {
    Role role = Role::stud;
    Section section;
    std::string lumber;     ///< species and grade, "spruce-pine-fir Stud"; material's name where not lumber
    Box box;                ///< before cuts at its ends
    int along = 1;          ///< axis of its length: 0, 1, 2
    Exact length;           ///< to be cut, long point to long point; exact
    int layer = -1;         ///< index into the assembly's layers; -1: none (buck, rim, joist, ...)
    int opening = -1;       ///< index into the face's openings; -1: none
    std::string partition;  ///< the inner wall that it backs
    std::array<double, 2> end_cut{};  ///< rad from square, at the low and the high end
    /// rad, across the thickness: the cheek cut of a jack rafter, > 0 where its side of high u is the longer;
    /// of a hip, valley or ridge > 0 two cheeks that meet in its middle, < 0 one.
    std::array<double, 2> bevel{};
    double rip = 0.0;  ///< rad from square, along its length: a stud bevelled to a mitred corner
    std::string mark;  ///< "K3": unique in the panel
};

/// A corner of an outline in a panel.
struct Spot {
    Exact u, v;
};
/// m2 within an outline, counter-clockwise.
[[nodiscard]] double area_of(const std::vector<Spot>& outline);

/// One cut sheet of a layer as it is nailed on.
struct Sheet {
    int layer = 0;
    Box box;  ///< that it is cut from; openings in it are cut out on site
    std::vector<Box> cut_outs;
    bool long_side_up = true;
    std::vector<Spot> outline;  ///< where it is cut to a slope; empty: all of its box
};
/// m2 of a sheet as nailed on, cut-outs off.
[[nodiscard]] double area_of(const Sheet& sheet);

/// One run of a membrane: rolled along u.
struct Run {
    int layer = 0;
    Box box;
    Exact lap;  ///< over the run below; zero for the lowest
};

/// A joint that is taped or sealed in the airtight or the water layer.
struct Seam {
    int layer = 0;
    enum class Kind { lap, end_lap, opening, corner, plate } kind = Kind::lap;
    Exact length;
};

/// An electrical box as it is nailed up.
struct WallBox {
    std::string name;  ///< the house file's, or "receptacle 3": counted along its wall
    assembly::BoxKind kind = assembly::BoxKind::receptacle;
    std::string body;     ///< name of assembly::BoxRules::bodies
    std::string title;    ///< "device box 2 x 3 x 3 1/2 in"
    double volume = 0.0;  ///< m3, for wires
    Box box;
    int layer = -1;          ///< that holds it
    std::size_t holder = 0;  ///< index into Panel::members: what it is nailed to
    bool own_block = false;  ///< the holder is a block between two rows of furring, there for the box alone
    bool by_rule = false;    ///< placed by the spacing of receptacles, not by the file
    bool inner_cavity = false;  ///< on the inner side of the airtight layer
    bool pierces_airtight = false;
    std::string mark;  ///< "E3": unique in the panel
    Origin origin;
};

/// Where two pieces of a top plate meet and what ties them: a steel plate over a single plate's joint or a
/// mitre, else the other plate, which passes it.
struct PlateJoint {
    enum class Kind { straight, corner, inner_wall } kind = Kind::straight;
    Exact at;            ///< u
    bool steel = false;  ///< galvanized, 3 in wide, 0.036 in thick, `length` long
    Exact length;        ///< of the steel, or of the lap
    int nails = 0;       ///< on each side
};

/// A wall face of a storey, a floor, a ceiling or a roof plane.
struct Panel {
    enum class Kind { wall, gable_wall, floor, ceiling, roof } kind = Kind::wall;
    std::string name;      ///< face, "floor upper", "roof main south"
    std::string assembly;  ///< that it is built as; empty for a floor between heated storeys
    std::string storey;
    std::size_t face = static_cast<std::size_t>(-1);  ///< index into House::faces, for a wall
    Exact from, length,
        height;  ///< of the structural frame: its left end on u (inside corner = 0), its length, its height
    Exact opaque_from, opaque_length;  ///< of the inside face, what internal dimensions count
    /// u, v, w axes and the origin in the house's axes (east, north, up), m.
    std::array<double, 3> origin{}, u{}, v{}, w{};
    std::vector<Spot>
        outline;  ///< of the frame where it is no rectangle: a gable wall, a plane with hips or valleys
    std::vector<Member> members;
    std::vector<Sheet> sheets;
    std::vector<Run> runs;
    std::vector<Seam> seams;
    std::vector<WallBox> boxes;  ///< of a wall, from left to right
    std::vector<PlateJoint> plate_joints;
};

/// Wood in the structural layers as seen from outside, shares of the net face (internal dimensions, rough
/// openings out). A member belongs to the field or to a junction (design.md), never to both.
struct FramingFactor {
    double net_area = 0.0;  ///< m2
    double whole = 0.0;     ///< all members that cross the structural layer
    double field = 0.0;     ///< studs, cripples, blocks, backing: what is not a junction's
    double plates = 0.0, corners = 0.0, openings = 0.0;  ///< openings: kings, jacks, headers, sills
    double rim = 0.0;  ///< m2 of rim over m2 of net face; not part of `whole`
    std::vector<std::pair<std::string, double>> by_panel;  ///< panel, its whole factor
    std::optional<double> published;  ///< whole face, by the published rows for that spacing (fractions.h)
    Origin origin;
};

struct Frame {
    std::string assembly;  ///< rung that the outer walls (or the part) are built as
    std::vector<Panel> panels;
    FramingFactor factor;  ///< of all walls built as `assembly`
    Problems notes;        ///< what was left out or taken otherwise, with its place
};

/// Which part of the face a role counts to. Furring and battens count to none: they lie in their own layers.
enum class Region { field, plates, corners, openings, none };
[[nodiscard]] Region region_of(Role role);

/// Everything framed, with the faces of the wall's ladder built as `wall` (a face that names an assembly
/// keeps it).
///
/// Corners: walls pass in turn, each at its end (pinwheel): at an outer corner a wall runs on to the outer
/// face of the next one's frame, which butts against it; at an inner corner likewise with inner faces.
/// Layout: centres at k x module from the left end of each wall's frame, or from the storey's grid
/// (Practice::stacked).
///
/// Problem  unsupported (a wall that is not framed), out_of_range (an opening that leaves no room for its
/// jacks, a face
///          shorter than its corner), conflict; with the place of the face or opening
/// Source   IRC 2021 chapter 6 for what must be there; layout: common practice, no source
/// Check    proof/framing/panels.toml (worked panels, by hand), property tests
[[nodiscard]] Result<Frame> frame(const assembly::House& house, const assembly::Assembly& wall);

/// The walls alone, and the floors and roofs alone; frame() is both.
///
/// A header in the rim is a member of its wall and lies over the plates; the floor's rim and joists keep
/// clear of those in `walls`.
///
/// Floors and ceilings: u to the east, v to the north, w up, from the south-west corner of the frame's outer
/// faces; joists at k x spacing from there, rim boards within the outline, those at the joists' ends through.
/// Roof planes: u along the eave, v up the slope from the tail's lowest edge, w from the ceiling up. Rafters
/// have plumb cuts at both ends: their length is (level run) / cos(pitch) along an edge and depth x
/// tan(pitch) more from long point to long point, rounded up to 1/64 in. The underside of a rafter meets the
/// plate's top at the inner edge of its seat (the plate's width, 3 1/2 in at most). Ridges and hips are
/// panels of their own.
[[nodiscard]] Result<Frame> frame_walls(const assembly::House& house, const assembly::Assembly& wall);
[[nodiscard]] Result<std::vector<Panel>> frame_floors(const assembly::House& house,
                                                      const assembly::Assembly& wall, Problems& notes,
                                                      const std::vector<Panel>& walls = {});
[[nodiscard]] Result<std::vector<Panel>> frame_roofs(const assembly::House& house,
                                                     const assembly::Assembly& wall, Problems& notes);

/// Framing factor of the walls in `panels` that are built as `wall`, in the bearing frame's layer (the
/// deepest layer of solid upright studs); further frames, furring and battens have their own by
/// factor_of_layer.
///
/// Area of wood as seen from outside, wood behind wood once, rough openings cut out, over the net inside area
/// (Panel::opaque_length x height less rough openings). A wall's frame is longer than its inside face at an
/// outer corner: what lies beyond the inside face (studs, ends of plates) counts to `corners`, so `field`,
/// `plates` and `openings` are of the inside face alone and `whole` is all the wood of the wall's frame.
[[nodiscard]] FramingFactor factor_of(const assembly::House& house, const assembly::Assembly& wall,
                                      const std::vector<Panel>& panels);
/// The same of another framed layer of the assembly, by its index; roles of Region::none count to nothing.
[[nodiscard]] FramingFactor factor_of_layer(const assembly::House& house, const assembly::Assembly& wall,
                                            const std::vector<Panel>& panels, int layer);

}  // namespace warmside::framing
