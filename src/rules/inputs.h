// What the findings are made from: plain inputs, so that no result of the house model is needed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "rules/tables.h"
#include "rules/zone.h"

namespace warmside::rules {

/// One kind of opaque surface, once each: every rung that stands in the house, and for a rung to be judged in
/// place of another the same area with that rung. A slab on the ground is no surface: it stands in
/// Inputs::slabs.
struct Surface {
    std::string part;  ///< path of its findings, "wall/w3"
    std::string row;   ///< row of the tables: row_of(part), "mass wall", "crawl space wall", ...
    const assembly::Assembly* assembly = nullptr;  ///< null: only U and area are known
    double area = 0.0;             ///< m2, windows and doors taken off; 0: not known, no total is made
    std::optional<double> code_u;  ///< W/(m2 K), thermal::Worth::code_u; never built U. Absent: not known
};
/// "wall", "ceiling" (roofs too), "floor", "slab" (which is no row of a Surface), "basement wall".
[[nodiscard]] std::string row_of(assembly::Part part);

struct Glazing {
    enum class Kind { window, door, skylight };
    std::string name;
    Kind kind = Kind::window;  ///< a door is opaque: no SHGC
    double area = 0.0;         ///< m2, rough opening
    double u = 0.0;            ///< W/(m2 K), rated; 0: not stated
    double solar_gain = 0.0;   ///< rated SHGC; 0: not stated
};

/// A floor on the ground whose edge the tables ask insulation of.
struct Slab {
    std::string part;  ///< "slab/ground"
    bool heated = false;
    double perimeter = 0.0;      ///< m, exposed edge; 0: not known
    std::optional<double> edge;  ///< m2 K/W, insulation at the edge
    double depth = 0.0;          ///< m that it reaches down, under or out from the top of the slab
    std::optional<double> full;  ///< m2 K/W under the whole slab
    std::optional<double> f;     ///< W/(m K), by 90.1 appendix A or a Handbook-consistent method
};

/// Air leakage of the heated volume at 50 Pa.
struct Leakage {
    std::optional<double> measured;  ///< 1/s, by a blower-door test
    std::optional<double> expected;  ///< 1/s, by the sealing plan
    double volume = 0.0;             ///< m3, for the limit by area
    double enclosure = 0.0;          ///< m2, whole enclosure, for the limit by area
};

/// For the share of R inside the sheet and for unvented roofs. Absent: those sums are left out.
struct Winter {
    double inside = 294.15;               ///< K
    std::optional<double> dew_point;      ///< K, of the indoor air in the coldest month
    std::optional<double> coldest;        ///< K, mean of the coldest month
    std::optional<double> three_coldest;  ///< K, mean of the three coldest months
    std::optional<double> degree_days;    ///< K d, below 18 degC, for the comparison with Canada
};

struct Inputs {
    const Tables* tables = nullptr;  ///< tables_of(edition), amended; required
    PlacedZone zone;                 ///< zone_of(place), or the house file's
    std::vector<Surface> surfaces;
    std::vector<Glazing> glazing;
    std::vector<Slab> slabs;
    Leakage leakage;
    Winter winter;
    bool high_or_windborne = false;     ///< above 4000 ft, or windborne debris
    bool crawl_space = false;           ///< for the reminders
    bool attic = false;                 ///< a vented attic lies over the ceiling
    std::optional<double> attic_vents;  ///< m2 of free vent area per m2 of ceiling
    bool balanced = false;              ///< balanced mechanical ventilation
    std::optional<double> recovery;     ///< sensible effectiveness of balanced ventilation, 0..1
};

}  // namespace warmside::rules
