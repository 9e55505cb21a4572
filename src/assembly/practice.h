// How the crew frames, and what the house has to carry: what [framing], [loads], [partition.NAME] and
// [box.NAME] of a house file say. Lengths in m unless Exact, pressures in Pa, speeds in m/s.
#pragma once

#include <optional>
#include <string>

#include "assembly/details.h"
#include "base/origin.h"
#include "units/quantity.h"

namespace warmside::assembly {

/// Beyond layers and [details]. Plates, corner studs, header height and plies, jambs, joist depth, rim board,
/// heel and partition backing stand in Details and hold here too.
struct Practice {
    Sourced<std::string> species = Details::common<std::string>("spruce-pine-fir");
    Sourced<std::string> grade = Details::common<std::string>("No. 2");  ///< joists, rafters, headers, plates
    Sourced<std::string> stud_grade =
        Details::common<std::string>("Stud");        ///< "none": ungraded or rough-sawn
    Sourced<bool> stacked = Details::common(false);  ///< one grid of studs through all storeys, roof on it
    Sourced<bool> sized_headers =
        Details::common(false);  ///< header by its span table, not as [details] says
    Sourced<bool> edge_blocking = Details::common(false);  ///< behind horizontal joints of the sheathing
    Sourced<units::Exact> sheet_width = Details::common(units::Exact::sixty_fourths_of_inch(48 * 64));
    Sourced<units::Exact> sheet_length = Details::common(units::Exact::sixty_fourths_of_inch(96 * 64));
    Sourced<units::Exact> roll_width = Details::common(units::Exact::millimetres(1500));  ///< membrane
    Sourced<units::Exact> roll_length = Details::common(units::Exact::millimetres(50000));
    Sourced<units::Exact> lap = Details::common(units::Exact::millimetres(100));
    Sourced<std::string> joist = Details::common<std::string>("2x10");
    Sourced<units::Exact> joist_spacing = Details::common(units::Exact::sixty_fourths_of_inch(16 * 64));
    Sourced<std::string> joist_run =
        Details::ours<std::string>("");                ///< "east-west", "north-south"; "": the short way
    Sourced<bool> bearing_line = Details::ours(true);  ///< joists rest on a bearing line at mid span
    Sourced<bool> boxes = Details::common(true);  ///< receptacles along the outer walls by the spacing rule
    Sourced<units::Exact> box_reach = {
        units::Exact::sixty_fourths_of_inch(72 * 64),  ///< along the floor line, to the nearest receptacle
        {Origin::Kind::standard, {}, "NEC 210.52(A)", Evidence::memory}};
    Sourced<units::Exact> box_height =
        Details::common(units::Exact::sixty_fourths_of_inch(16 * 64));  ///< of receptacles, to their middle
    Sourced<std::string> box_body =
        Details::common<std::string>("deepest that fits");  ///< else a name of box_bodies()
    Origin origin;                                          ///< of the table
};

enum class BoxKind { receptacle, wall_switch, light, data };

/// An electrical box that the file places in an outer wall.
struct ElectricalBox {
    std::string name;
    std::string face;
    Sourced<units::Exact> at;      ///< its middle, from the left corner of the face, seen from outside
    Sourced<units::Exact> height;  ///< its middle, above the floor
    BoxKind kind = BoxKind::receptacle;
    Sourced<std::string> body;  ///< as Practice::box_body
    Origin origin;
};

/// Loads are never guessed: what is not given is not checked, and says so.
struct Loads {
    enum class Exposure { b, c, d };
    std::optional<Sourced<double>> ground_snow;  ///< Pa
    std::optional<Sourced<double>> wind_speed;   ///< m/s, ultimate, 3 s gust (ASCE 7)
    std::optional<Sourced<Exposure>> exposure;
    std::optional<Sourced<std::string>> seismic;          ///< design category, "A" to "F"
    Sourced<double> floor_live = Details::ours(1915.2);   ///< 40 psf (IRC Table R301.5, seen)
    Sourced<double> floor_dead = Details::common(478.8);  ///< 10 psf
    Sourced<double> roof_dead = Details::common(718.2);   ///< 15 psf
    Sourced<double> attic_live = Details::ours(478.8);    ///< 10 psf, no storage (IRC Table R301.5, seen)
    std::optional<Sourced<double>> cladding;  ///< Pa, weight on the wall; absent: from the layers' densities
    Origin origin;
};

/// An inner wall that meets an outer one.
struct Partition {
    std::string name;
    std::string face;    ///< the outer wall that it meets
    units::Exact at;     ///< middle of the partition, from the left corner of the face, seen from outside
    std::string member;  ///< "2x4"
    Origin origin;
};

}  // namespace warmside::assembly
