// Junctions between assemblies: sections generated from the layers that meet, solved in two dimensions and
// given as psi and as the lowest surface temperature factor.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/details.h"
#include "conduction/steady.h"
#include "thermal/buildup.h"

namespace warmside::thermal {

enum class JunctionKind {
    outer_corner,
    inner_corner,
    partition,
    rim_joist,
    sill_slab,
    sill_basement,
    sill_crawl_space,
    eave,
    gable,
    window_head,
    window_jamb,
    window_sill,
    exposed_floor,
    balcony_ledger
};
[[nodiscard]] const char* name_of(JunctionKind kind);  ///< "outer corner", "sill on slab"

/// Environments of every junction's model.
inline constexpr std::size_t indoors = 0, outdoors = 1;

/// A junction as drawn, before it is solved. x and y in m; the inner faces that meet, meet at the origin
/// unless the drawing function says otherwise.
/// What stands around an opening in the placed walls, in place of what [details] says.
struct OpeningMembers {
    double header = 0.0;  ///< m, height
    std::string section;  ///< of one ply, "2x10"
    int plies = 0;
    int jambs = 0;  ///< kings and jacks, or a stud, on the side that has more
    bool flat =
        false;  ///< the header lies elsewhere: `header` and `plies` are of a flat piece over the opening
    friend auto operator<=>(const OpeningMembers&, const OpeningMembers&) = default;
};

struct JunctionDrawing {
    JunctionKind kind = JunctionKind::outer_corner;
    std::string name;
    /// Plane. Environment 0 is indoors at 1 K, 1 is outdoors at 0 K, so that temperatures are factors.
    conduction::Model model;
    std::vector<std::size_t> members;  ///< regions of wood that the junction adds to the plain layers
    std::vector<std::size_t> glazing;  ///< regions of frame and pane that face indoors alone
    /// sum of U l over what meets, W/(m K): against internal, overall internal and external dimensions.
    double internal = 0.0, overall = 0.0, external = 0.0;
    /// Window: the frame and pane alone; its coupling is taken off as well.
    double opening = 0.0;  ///< W/(m K), about what frame and pane pass
    std::optional<conduction::Model> apart;
    std::vector<conduction::Point> sharp;  ///< where the surface is coldest, as far as is known beforehand
    std::optional<OpeningMembers> opening_members;  ///< of an opening's edge, where the walls are framed
    std::vector<std::string> notes;
};

struct Junction {
    JunctionKind kind = JunctionKind::outer_corner;
    std::string name;
    double coupling = 0.0;      ///< W/(m K), L2D
    double psi_internal = 0.0;  ///< W/(m K), against internal dimensions
    double psi_overall = 0.0;   ///< W/(m K), overall internal: partitions and floors between storeys count
    double psi_external = 0.0;  ///< W/(m K), against external dimensions
    std::optional<double> psi_plain;  ///< W/(m K), internal, with the junction's members left out; when asked
    double factor = 1.0;              ///< lowest surface temperature factor of opaque surfaces, Rsi 0.25
    conduction::Point coldest;
    std::optional<double>
        factor_glazing;  ///< of frame and pane, Rsi 0.13; the edge of the glass is not modelled
    /// 0 to 1: indoor humidity at 20 degC up to which the coldest opaque place stays at or below 80 %.
    double humidity = 0.0;
    double error = 0.0;       ///< W/(m K), of psi: the solver's estimate
    double length = 0.0;      ///< m in the house; 0 outside a house
    conduction::Model model;  ///< with films for heat flow
    std::optional<OpeningMembers> opening_members;
    std::vector<std::string> notes;
};

struct JunctionOptions {
    bool factor = true;              ///< a second solve
    bool plain = false;              ///< another one
    double accuracy = 0.001;         ///< W/(m K), of psi
    double factor_accuracy = 0.003;  ///< of the factor at the coldest place
    /// m; above 0: factors are the lowest means over pieces of surface that long, else of points.
    double spot = 0.0;
    double glazing_film = 0.13;  ///< m2 K/W, indoors on frame and pane in the solve for the factor
    double outside = 263.15;     ///< K, design temperature behind `humidity`
};

/// Solves a drawing. psi = L2D - sum of U l (ISO 10211:2017, evidence: memory).
///
/// Problem  those of conduction::steady
/// Check    proof/thermal/junctions.toml
[[nodiscard]] Result<Junction> solve(const JunctionDrawing& drawing, const JunctionOptions& options = {},
                                     const Control& control = {});

/// Relative humidity indoors at 20 degC, 0 to 1, up to which a surface with this factor stays at or below 80
/// % (ISO 13788:2012, evidence: memory).
///
/// outside  K
[[nodiscard]] double highest_humidity(double factor, double outside);

// Drawings. Lengths of each side: 1 m or three times the thickness, whichever is more (ISO 10211).

/// Two walls of one build-up, indoors the quarter x < 0, y < 0. Two studs: the end stud of the wall along x
/// and the stud of the other wall that butts against it; the third lies flat behind the lining.
[[nodiscard]] JunctionDrawing outer_corner(const Buildup& wall, const assembly::Details& details);
/// The same geometry without any wood.
[[nodiscard]] JunctionDrawing plain_corner(const Buildup& wall);
/// Re-entrant, indoors everywhere but the quarter x > 0, y > 0 beyond the outer faces: end studs of both
/// walls and a flat one behind the lining.
[[nodiscard]] JunctionDrawing inner_corner(const Buildup& wall, const assembly::Details& details);
/// An uninsulated inner wall of two linings on studs meets the wall's innermost sheet but one.
[[nodiscard]] JunctionDrawing partition(const Buildup& wall, const assembly::Details& details);

/// Two storeys' walls, y = 0 at the top of the lower one's plates. `zone` is the height from there to the
/// finished floor above, m, deck included. Indoor air fills the joists' space; joists are not drawn.
[[nodiscard]] JunctionDrawing rim_joist(const Buildup& wall, const assembly::Details& details, double zone);
/// The same with a ledger on the sheathing, through what insulation lies outside of it.
[[nodiscard]] JunctionDrawing balcony_ledger(const Buildup& wall, const assembly::Details& details,
                                             double zone);
/// A wall at the edge of a floor over open air (or over a crawl space, which is taken as cold as outdoors,
/// with a sill plate and a foundation wall under it).
[[nodiscard]] JunctionDrawing exposed_floor(const Buildup& wall, const Buildup& floor,
                                            const assembly::Details& details, bool crawl_space);

/// Ground around a floor.
struct GroundPlan {
    double area = 0.0, perimeter = 0.0;  ///< m2, m
    double conductivity = 2.0;           ///< W/(m K)
    double above_grade = 0.2;            ///< m, floor (basement: top of its wall) over grade
    double depth = 0.0;                  ///< m, basement floor below grade
};
/// A slab inside a foundation wall, foam between, against ISO 13370's U of the floor. y = 0 at the floor.
[[nodiscard]] Result<JunctionDrawing> sill_on_slab(const Buildup& wall, const Buildup& slab,
                                                   const assembly::Details& details,
                                                   const GroundPlan& ground);
/// A heated basement: floor edge, sill, basement wall and basement floor, against ISO 13370's U of wall and
/// floor. y = 0 at the top of the basement wall.
[[nodiscard]] Result<JunctionDrawing> sill_on_basement(const Buildup& wall, const Buildup& basement,
                                                       const Buildup& floor, const assembly::Details& details,
                                                       const GroundPlan& ground, double zone);

/// A ceiling under an attic with raised heels: the insulation runs over the plates to the outer face of the
/// framing, thinned there by the roof's slope. Attic air is as cold as outdoors. pitch in rad.
[[nodiscard]] JunctionDrawing eave_under_attic(const Buildup& wall, const Buildup& ceiling,
                                               const assembly::Details& details, double pitch);
/// A wall under an insulated roof. pitch in rad, 0 for a flat roof and for a gable, whose section runs along
/// the ridge.
[[nodiscard]] JunctionDrawing eave_under_roof(const Buildup& wall, const Buildup& roof,
                                              const assembly::Details& details, double pitch);
/// A gable wall under an attic: as the eave, with full depth of insulation, and the truss's chord in it.
[[nodiscard]] JunctionDrawing gable_under_attic(const Buildup& wall, const Buildup& ceiling,
                                                const assembly::Details& details);

/// What an opening's psi is measured to.
enum class OpeningLine {
    rough_opening,  ///< the house: the wall ends at the studs, the gap counts with the frame's U
    frame           ///< the wall ends at the frame
};
/// Frame and pane in the wall, section across the jamb: x = 0 at the rough opening, the wall at x < 0, y from
/// the inner face outwards. The pane is a panel of 40 mm, 0.035 W/(m K) (as ISO 10077-2 has it), 0.3 m of it.
[[nodiscard]] JunctionDrawing window(JunctionKind kind, const Buildup& wall, const assembly::Details& details,
                                     OpeningLine line = OpeningLine::rough_opening);

}  // namespace warmside::thermal
