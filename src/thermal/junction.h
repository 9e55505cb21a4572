// Junctions between assemblies: their sections are generated, solved in two dimensions and given as psi and
// f.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "conduction/steady.h"
#include "thermal/worth.h"

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
[[nodiscard]] const char* name_of(JunctionKind kind);  ///< "outer corner", "window head"

/// Where the window frame stands in the wall's depth.
enum class FramePlace { sheathing, middle, inner };

/// How the crew builds the junctions; every figure has a default with its origin, the house file may state
/// it.
struct JunctionDetails {
    int corner_studs = 3;  ///< 2 or 3 at an outer corner
    FramePlace frame = FramePlace::sheathing;
    double frame_lap = 0.0;      ///< m that exterior insulation laps over the frame
    bool rim_insulated = true;   ///< the rim's depth behind the rim board is filled
    double rim_thickness = 0.0;  ///< m ...
};

struct Junction {
    JunctionKind kind = JunctionKind::outer_corner;
    std::string name;           ///< "outer corner", "window head"
    double psi_internal = 0.0;  ///< W/(m K), against internal dimensions
    double psi_external = 0.0;  ///< W/(m K), against external dimensions
    double psi_plain =
        0.0;              ///< W/(m K), internal, members of the junction replaced by the fill of their layer
    double factor = 1.0;  ///< lowest inner surface temperature factor, Rsi 0.25 (0.13 on glazing)
    std::optional<double> factor_glazing;  ///< on frame and glass, Rsi 0.13
    double humidity =
        0.0;  ///< 0..1, indoor RH above which the coldest place passes 80 % at the design temperatures
    double error = 0.0;       ///< relative, of the coupling
    double length = 0.0;      ///< m in the house; 0 outside a house
    conduction::Model model;  ///< with films for heat flow
    std::vector<std::string> notes;
};

}  // namespace warmside::thermal
