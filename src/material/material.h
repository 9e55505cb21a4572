// Materials and membranes as functions of humidity, moisture content and temperature.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/origin.h"

namespace warmside::material {

/// Points of a property over x; x strictly increasing. For sorption y rises strictly too.
struct Curve {
    std::vector<double> x;
    std::vector<double> y;
};

/// What kind of surface the mould model sees (Ojanen and others 2010: sensitivity classes).
enum class MouldClass { very_sensitive, sensitive, medium_resistant, resistant };
[[nodiscard]] const char* name_of(MouldClass mould);  ///< "very sensitive", "medium resistant"

struct Material {
    std::string name;  ///< "stone wool batt": what a house file says; lower case
    std::vector<std::string> aliases;
    std::string family;  ///< wood, panel, gypsum, batt, board insulation, foam, masonry, siding, roofing, ...
    Origin origin;       ///< of the row; single values may differ, see value_origin

    double density = 0.0;                     ///< kg/m3, dry
    double specific_heat = 0.0;               ///< J/(kg K), dry
    double conductivity = 0.0;                ///< W/(m K) at test_temperature and test_moisture
    double test_temperature = 297.15;         ///< K
    double test_moisture = 0.0;               ///< kg/m3; wood is tabulated at 12 %, most others dry
    double temperature_factor = 0.0;          ///< 1/K: k = k_test exp(f (T - T_test)); ISO 10456
    double moisture_factor = 0.0;             ///< m3/m3: k x exp(f (w - w_test)/1000); ISO 10456
    std::optional<double> label_resistivity;  ///< m K/W, of the thickest package; see label_resistance
    Curve label;                              ///< packages: thickness m -> label R m2 K/W; may be empty
    bool is_insulation = false;               ///< counts in label R

    double porosity = 0.0;          ///< m3/m3
    double free_saturation = 0.0;   ///< kg/m3, w at relative humidity 1; 0 = holds no water (metal)
    Curve sorption;                 ///< relative humidity -> kg/m3, from (0, 0) up to the last point below 1
    Curve permeability;             ///< relative humidity -> kg/(s m Pa), vapour
    double absorption = 0.0;        ///< kg/(m2 s^0.5); 0 = no liquid transport
    double air_permeability = 0.0;  ///< kg/(s m Pa); 0 = not known
    MouldClass mould = MouldClass::medium_resistant;
    bool is_wood = false;  ///< wood moisture content (mass %) is meaningful
    std::string hatch;     ///< drawing: batt, board, wood, sheathing, gypsum, concrete, brick, foam, plain
    std::string note;      ///< a caution for people, or empty
    double start_humidity = 0.8;  ///< relative humidity of built-in moisture (ASHRAE 160: EMC80)
    std::vector<std::pair<std::string, Origin>>
        value_origin;  ///< key -> Origin where it differs from `origin`
};

/// The Origin of one value of a row, by its key in the data file: its own, else the row's.
[[nodiscard]] const Origin& origin_of(const Material& m, std::string_view key);

// What holds for every Material that read_material lets pass (tested over 2000 points a row):
// moisture_content, moisture_capacity and relative_humidity are continuous, moisture_content is once
// continuously differentiable and strictly increasing, relative_humidity is its inverse, vapour_permeability,
// conductivity, liquid_diffusivity and permeance are continuous and not negative (all but liquid_diffusivity
// positive). Arguments outside 0..1 (or below 0 kg/m3, above w at 1) count as the nearer end.

/// Stands for the moisture content at which conductivity was tested.
inline constexpr double as_tested = -1.0;

/// k at a temperature (K) and moisture content (kg/m3), W/(m K).
///
///   k = k_test exp(f_T (T - T_test)) exp(f_w (psi - psi_test)),  psi = w/1000
///
///   psi held at 0.1 m3/m3, for wood at 25 % of the dry mass: the factors' sources go no further
///
/// Source   ISO 10456:2007 eqs for temperature and moisture conversion (memory)
[[nodiscard]] double conductivity(const Material& m, double temperature, double moisture = as_tested);
/// Water held at a relative humidity 0..1, kg/m3; strictly increasing, free_saturation at 1 where there is
/// one.
///
///   Monotone cubic (Fritsch and Carlson 1980) through (0, 0), the sorption points and (1, free_saturation)
///   in xi = -ln(1 - rh + 0.001), which is near rh when dry and near the logarithm of suction when wet.
///   Where nothing was measured above 99.5 % the last piece is steepest at saturation. README.md says why.
[[nodiscard]] double moisture_content(const Material& m, double relative_humidity);
/// d w / d rh, kg/m3, > 0; the exact derivative of moisture_content.
[[nodiscard]] double moisture_capacity(const Material& m, double relative_humidity);
/// Relative humidity that holds w kg/m3 (inverse of moisture_content, within its range).
[[nodiscard]] double relative_humidity(const Material& m, double moisture);
/// kg/(s m Pa); its logarithm is linear in relative humidity between the points and held outside them.
[[nodiscard]] double vapour_permeability(const Material& m, double relative_humidity);
/// Liquid diffusivity D_w (m2/s) at moisture content w: 3.8 (A/w_f)^2 1000^(w/w_f - 1), Kunzel 1995
/// (thesis, IBP Stuttgart; evidence: memory); 0 without absorption.
[[nodiscard]] double liquid_diffusivity(const Material& m, double moisture);
/// Label R of one layer, m2 K/W: the package's where the thickness (m) is a package's within 1 mm, else the
/// thickness times the resistivity interpolated between packages (held outside); nothing without a label.
[[nodiscard]] std::optional<double> label_resistance(const Material& m, double thickness);

struct Membrane {
    std::string name;
    std::vector<std::string> aliases;
    Origin origin;
    Curve
        permeance;  ///< relative humidity (mean of both sides) -> kg/(s m2 Pa); ln interpolated, held outside
    bool variable = false;  ///< humidity-dependent on purpose
    bool airtight_capable = true;
    bool drains_water = false;   ///< usable as a water-resistive layer
    std::string note;            ///< a caution for people, or empty
    std::string retarder_class;  ///< I, II, III or "" by dry cup (IRC R702.7; 1 perm = 57.2 ng/(s m2 Pa))
};
/// kg/(s m2 Pa) at the mean humidity of both sides.
[[nodiscard]] double permeance(const Membrane& m, double relative_humidity);
/// "I", "II", "III" or "": at most 0.1, 1, 10 perm in a dry cup (mean humidity 25 %). IRC 2018 R702.7
/// (quoted).
[[nodiscard]] std::string retarder_class(const Membrane& m);

/// A stick of lumber or a batten: actual size.
struct Lumber {
    std::string name;        ///< "2x6", "45x195"
    double thickness = 0.0;  ///< m, the narrow face (38.1 mm for 2x)
    double depth = 0.0;      ///< m
    std::string region;      ///< "US dry", "Nordic planed"
    Origin origin;
};

struct Catalogue {
    std::vector<Material> materials;
    std::vector<Membrane> membranes;
    std::vector<Lumber> lumber;
    [[nodiscard]] const Material* material(std::string_view name) const;  ///< by name or alias, null if none
    [[nodiscard]] const Membrane* membrane(std::string_view name) const;
    [[nodiscard]] const Lumber* member(std::string_view name) const;
    /// Every name and alias, for "did you mean".
    [[nodiscard]] std::vector<std::string> material_names() const;
    [[nodiscard]] std::vector<std::string> membrane_names() const;
    [[nodiscard]] std::vector<std::string> member_names() const;
};

/// The built-in catalogue, data/materials/*.toml. Parsed once; a slip in our data ends the program in a test.
[[nodiscard]] const Catalogue& built_in();

}  // namespace warmside::material
