// How materials are sold: sizes, waste and fastener rules with their sources. Data:
// data/takeoff/packages.toml.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"
#include "units/quantity.h"

namespace warmside::takeoff {

using units::Exact;

enum class Form {
    none,      ///< not bought for itself: the facing of a batt, the ground
    sheet,     ///< m2, cut by a plan
    batt,      ///< m3, cut to bays
    board,     ///< m3
    blown,     ///< kg, bags
    volume,    ///< m3
    siding,    ///< m2
    roofing,   ///< m2
    flooring,  ///< m2
    masonry,   ///< m2
    roll,      ///< m2
    paint      ///< m2 of one coat
};

struct PackageSize {
    Exact width, length;
};

/// One row: how its materials, families of material or membranes are sold.
struct Package {
    Form form = Form::none;
    std::vector<PackageSize> sizes;
    Origin size_origin;
    double bag = 0.0;                 ///< kg
    double coverage = 0.0;            ///< m2 of one can
    Sourced<double> waste;            ///< share added
    Sourced<double> waste_by_area;    ///< sheets that no plan placed
    Sourced<double> waste_by_volume;  ///< batts where no members are placed
};

/// How batts go into bays.
struct BattRule {
    Exact friction;             ///< that a cut piece is wider than its bay
    Exact squeeze;              ///< that a whole batt may be wider than its bay
    Exact least;                ///< narrower or shorter than this is stuffed with scraps
    Sourced<double> bag_depth;  ///< m of batts, one on the other, in a bag
};

struct LumberRule {
    Exact kerf;
    Sourced<double> damage;  ///< share of sticks added
    std::vector<Exact> inch_lengths, metric_lengths, precut;
    std::vector<std::string> precut_members;
    std::vector<Exact> engineered_lengths;  ///< of I-joists, rim board, laminated veneer lumber
    std::vector<Exact> engineered_depths;   ///< of rim board and laminated veneer lumber, ascending
    Exact splice_least;
    Origin inch_origin, metric_origin, precut_origin;
};

/// Something sold by the metre.
struct LinearRule {
    Sourced<double> package;  ///< m in a roll or cartridge
    Sourced<double> waste;
};

struct FastenerRule {
    Sourced<double> waste;
    int stud_end = 0, jack = 0, block_end = 0, joist_end = 0;
    double header_spacing = 0.0, plate_spacing = 0.0;  ///< m
    Origin framing_origin;
    Origin splice_origin;  ///< of steel plates over joints of a single top plate, and their nails
    double sheathing_edge = 0.0, sheathing_field = 0.0;  ///< m
    Origin sheathing_origin;
    Sourced<double> drywall_spacing;  ///< m
    Sourced<double> siding_per_area;  ///< 1/m2
    Sourced<double> batten_spacing;   ///< m
    Sourced<double> staple_per_area;  ///< 1/m2
    Origin furring_origin;
    Sourced<double> penetration;  ///< m of a long screw in the stud
    std::vector<Exact> lengths;   ///< of long screws, ascending
    Origin lengths_origin;
};

struct Packages {
    std::map<std::string, Package, std::less<>> materials, families, membranes;
    Sourced<double> roll_waste, roll_laps;  ///< of membranes that no row names
    BattRule batts;
    LumberRule lumber;
    LinearRule tape, sealant, gasket;
    Sourced<double> box_waste;  ///< share of electrical boxes and their covers added
    FastenerRule fasteners;
};

/// Problem  syntax, wrong_unit, missing, duplicate (a material in two rows), with the place
[[nodiscard]] Result<Packages> read_packages(std::string_view file_name, std::string_view text);
/// The built-in rows.
[[nodiscard]] const Packages& packages();

}  // namespace warmside::takeoff
