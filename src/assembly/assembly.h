// Assemblies, ladders and the house as plain data: what a house file says, resolved against the catalogue.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "assembly/details.h"
#include "assembly/practice.h"
#include "assembly/services.h"
#include "base/origin.h"
#include "climate/year.h"
#include "material/material.h"
#include "units/quantity.h"

namespace warmside::assembly {

using units::Exact;

enum class Part { wall, roof, ceiling, floor, slab, basement_wall };
[[nodiscard]] const char* name_of(Part part);  ///< "wall", "basement wall"

enum class Run { vertical, horizontal };  ///< of a wall member; on a roof, along or across the slope

/// Repeating members in a layer.
struct Framing {
    enum class Kind { solid, i_joist, truss };  ///< truss: chords, with webs of which the layer holds a share
    Kind kind = Kind::solid;
    std::string member;  ///< "2x6", as written
    Exact width;         ///< actual, across the wall's face
    Exact depth;         ///< actual, through the wall; may be less than the layer
    Exact flange_depth,
        web_thickness;       ///< I-joist and truss: flange or chord through the wall, web across the face
    double web_share = 1.0;  ///< of the member's length that has a web; 1 for an I-joist
    Run run = Run::vertical;
    Exact spacing;                                     ///< centre to centre
    Exact offset;                                      ///< of the first member from the corner's module
    const material::Material* material = nullptr;      ///< never null after reading
    const material::Material* web_material = nullptr;  ///< I-joist and truss; null: `material`
    Origin origin;
};

enum class AirKind { still, slightly_ventilated, ventilated };

/// Point fasteners that cross a layer (screws through exterior insulation).
struct Fasteners {
    double per_area = 0.0;       ///< 1/m2
    double cross_section = 0.0;  ///< m2
    double conductivity = 0.0;   ///< W/(m K)
    Origin origin;
};

struct Layer {
    enum class Kind { material, membrane, air };
    Kind kind = Kind::material;
    const material::Material* material = nullptr;              ///< kind material
    const material::Membrane* membrane = nullptr;              ///< kind membrane
    AirKind air = AirKind::still;                              ///< kind air
    double emissivity_inside = 0.9, emissivity_outside = 0.9;  ///< faces of an air layer
    double air_change = 0.0;  ///< 1/s of a ventilated cavity, fixed; 0: it follows wind and buoyancy
    /// Of a ventilated cavity: heights of the slots at its lower and upper end, over its whole width, and the
    /// length between them (up the wall, along the slope). Absent: the default of the method.
    std::optional<Exact> opening, opening_top, length;
    Exact thickness;  ///< zero for a membrane
    std::optional<Framing> framing;
    std::optional<Fasteners> fasteners;
    std::optional<double> label_r;  ///< m2 K/W, the package's, when the file states it ("R-23")
    int void_level = 0;             ///< ISO 6946 air voids, 0 to 2
    bool airtight = false;
    bool water = false;            ///< the water-resistive layer: the rain leak lands on its outer side
    bool existing = false;         ///< kept under a retrofit
    double start_humidity = -1.0;  ///< built-in water as relative humidity; negative: the material's own
    const material::Membrane* finish = nullptr;  ///< paint on the inner face, or none
    /// How its inner face meets the material before it. full: water crosses in any phase; open: a capillary
    /// break, vapour and heat cross; gap: a film of air, which also resists heat.
    enum class Contact { full, open, gap } contact = Contact::full;
    Origin origin;
    /// An air space that outdoor air passes through, freely or slightly.
    [[nodiscard]] bool ventilated() const { return kind == Kind::air && air != AirKind::still; }
    [[nodiscard]] std::string title() const;  ///< "gypsum board", "housewrap", "ventilated air"
};

/// Ordered from inside to outside.
struct Assembly {
    std::string name;  ///< "w2"
    Part part = Part::wall;
    std::string title;
    std::vector<Layer> layers;
    double solar_absorptance = 0.6;    ///< outer face
    double emissivity = 0.9;           ///< outer face, long wave
    double tilt = 1.5707963267948966;  ///< rad, of the outer normal: wall pi/2, roof by its pitch, floor pi
    bool vented = false;               ///< roof: a ventilated space above the insulation
    double rain_leak = 0.01;           ///< share of driving rain that reaches the leak layer
    int leak_layer =
        -1;  ///< index of the layer on whose outer face it lands; -1: outer side of the water layer
    Origin rain_leak_origin;
    Origin origin;
    [[nodiscard]] Exact thickness() const;
    /// Index of the layer whose outer face is the drawing datum: outer sheathing, else outermost framing,
    /// else last.
    [[nodiscard]] std::size_t datum() const;
    [[nodiscard]] std::optional<std::size_t> airtight_layer() const;
};

struct Ladder {
    Part part = Part::wall;
    std::vector<std::size_t> rungs;  ///< indices into House::assemblies, in climbing order
    Origin origin;
};

// House geometry. Lengths exact; areas and volumes by geometry.h.

struct Point {
    Exact x, y;  ///< plan, m east and north of the file's origin
};

struct Opening {
    std::string name;
    enum class Kind { window, door } kind = Kind::window;
    Exact width, height;      ///< rough opening
    Exact left;               ///< from the left corner of the face, seen from outside
    Exact sill;               ///< above the floor of its storey
    double u = 0.0;           ///< W/(m2 K); 0 = not stated
    double solar_gain = 0.0;  ///< SHGC; 0 = not stated
    Origin origin;
};

struct Face {
    std::string name;  ///< "north", "south gable"
    std::string storey;
    Point from, to;        ///< corners, walking with the house on the left (counter-clockwise outline)
    Exact height;          ///< wall height of the storey
    std::string assembly;  ///< a rung or assembly name; empty: the ladder's current rung
    std::vector<Opening> openings;
    Origin origin;
};

struct Storey {
    std::string name;
    Exact floor;                 ///< level of the finished floor
    Exact height;                ///< floor to ceiling
    std::vector<Point> outline;  ///< counter-clockwise, inside faces of the walls (internal dimensions)
    bool heated = true;
    Origin origin;
};

struct Roof {
    std::string name;
    enum class Form { gable, shed, hip, flat } form = Form::gable;
    double pitch = 0.0;     ///< rad
    std::string storey;     ///< under it; empty: the highest
    std::string ridge;      ///< "east-west" or "north-south"
    std::string high_side;  ///< shed: "north", "east", "south" or "west"
    Exact overhang;
    std::string assembly;
    bool over_attic = true;      ///< insulation at the ceiling
    double vents = 1.0 / 300.0;  ///< m2 of free vent area of the attic per m2 of ceiling
    std::string deck;  ///< a roof assembly whose layers cover the attic; empty: OSB, felt and shingles
    /// What carries it. Trusses are ordered, not cut: they count as pieces, with the heel of [details].
    enum class Structure { truss, rafters } structure = Structure::truss;
    std::string member = "2x10";  ///< of rafters, where no framed layer of the assembly says so
    Exact spacing = Exact::sixty_fourths_of_inch(24 * 64);
    Origin origin;
};

struct Floor {
    std::string name;
    enum class Over { ground, crawl_space, basement, outside, heated } over = Over::ground;
    std::string assembly;
    double area = 0.0;  ///< m2; 0: the lowest storey's outline
    Origin origin;
};

struct Foundation {
    std::string name;
    enum class Kind { slab, crawl_space, basement, piers } kind = Kind::slab;
    Exact depth;  ///< of the floor below grade
    Exact height_above_grade;
    std::string assembly;
    enum class Soil { sand, clay } soil = Soil::sand;
    double soil_humidity = 0.99;       ///< relative, of the air in the ground's pores
    double vents = 1.0 / 150.0;        ///< crawl space: m2 of free vent area per m2 of floor; 0: closed
    double air_change = 0.5 / 3600.0;  ///< 1/s of a closed crawl space
    bool bare_ground = false;          ///< crawl space without a ground cover
    const material::Membrane* ground_cover = nullptr;  ///< crawl space; null: polyethylene, unless bare
    Origin origin;
};

/// How airtight the house is, and what drives air through it. Negative: not stated.
struct Airtightness {
    enum class Terrain { open, suburban, city };
    double blower_door = -1.0;  ///< 1/s at 50 Pa: air changes of the heated volume
    double leakage = -1.0;      ///< m3/(s m2) at 50 Pa through walls, roofs and ceilings themselves
    double fan = 0.0;           ///< Pa that ventilation adds indoors; positive: more is blown in than out
    Terrain terrain = Terrain::suburban;
    Origin origin;
};

struct House {
    std::string name;
    std::string place;                 ///< built-in place, or empty
    std::string weather_file;          ///< as written, or empty
    std::string units = "inch-pound";  ///< which system comes first: "inch-pound" or "metric"
    climate::IndoorChoice indoor;
    Origin indoor_origin;
    climate::RainExposure rain_exposure;
    Origin rain_exposure_origin;
    Airtightness air;
    Details details;    ///< how the crew builds junctions
    Practice practice;  ///< how it frames
    Loads loads;
    std::vector<Partition> partitions;
    std::vector<ElectricalBox> boxes;
    Services services;              ///< how it is lived in, heated and ventilated
    std::string prices;             ///< price book file as written, or empty: the built-in demo book
    double start_month = 10.0;      ///< 1 to 12: moisture runs begin on its first day
    material::Catalogue catalogue;  ///< built-in rows and the file's own; layers point into it
    std::vector<Assembly> assemblies;
    std::vector<Ladder> ladders;
    std::vector<Storey> storeys;
    std::vector<Face> faces;
    std::vector<Roof> roofs;
    std::vector<Floor> floors;
    std::vector<Foundation> foundations;
    Origin origin;

    House() = default;
    House(const House&) = delete;  // layers point into `catalogue`
    House& operator=(const House&) = delete;
    House(House&&) = default;  // vectors keep their elements' addresses when moved
    House& operator=(House&&) = default;
    [[nodiscard]] const Assembly* find(std::string_view assembly) const;
    [[nodiscard]] const Storey* storey(std::string_view storey) const;
};

/// The members of the bearing layer (duty.h) where they run up a wall or along a roof's slope or a floor's
/// joists. Null without any.
[[nodiscard]] const Framing* main_framing(const Assembly& assembly);

/// What a roof is built with: its own assembly, else the first rung of the roof ladder, or over an attic of
/// the ceiling ladder. Null without any.
[[nodiscard]] const Assembly* built_as(const House& house, const Roof& roof);

/// The storey under a roof: its own, else the highest. Null without any.
[[nodiscard]] const Storey* storey_under(const House& house, const Roof& roof);

/// A slab of one layer, parallel to the wall, in which the framing does not change: what a one-dimensional
/// or two-dimensional method needs of studs that are shallower than their layer, I-joists and trusses.
struct Slice {
    double thickness = 0.0;                      ///< m
    double share = 0.0;                          ///< of the face taken by repeating members, 0 to 1
    double width = 0.0;                          ///< m, member across the face; 0 without a member
    const material::Material* member = nullptr;  ///< null without a member
};
/// From inside to outside; thicknesses sum to the layer's. Members stand at the inner side of their layer.
/// A truss web that covers a share s of the member's length counts with the width s x web.
[[nodiscard]] std::vector<Slice> slices(const Layer& layer);

}  // namespace warmside::assembly
