// How much braced wall a wall line needs by table, and what full-height sheathing it has.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "structure/wind.h"

namespace warmside::structure {

/// One braced wall line. Lengths in m, speed in m/s.
struct BracedLine {
    double wind = 0.0;  ///< ultimate speed
    Exposure exposure = Exposure::b;
    int floors = 0;          ///< carried besides the roof, 0 to 2
    int storeys = 1;         ///< of the house, 1 to 3: for the exposure factor
    double spacing = 0.0;    ///< to the next line
    double rise = 0.0;       ///< eave to ridge
    double storey = 0.0;     ///< height of the storey's wall
    int lines = 2;           ///< parallel lines
    bool continuous = true;  ///< the whole side is sheathed, CS-WSP; else separate panels, WSP
    bool gypsum = true;      ///< 1/2 in gypsum counts on the side opposite the panels
    bool blocked = true;     ///< horizontal joints of the panels stand on wood
};

/// Length of full-height panels that the line needs under wind, m.
///
///   table length (line spacing, speed, floors above) x exposure x rise x storey height x lines x gypsum x
///   blocking
///
/// Nothing outside the tables: 140 mph and more, lines more than 60 ft apart, rise above 20 ft (15 ft under
/// two floors), a storey above 12 ft, more than two floors carried.
/// Source  IRC 2021 Tables R602.10.3(1) and (2); check: proof/structure/bracing.toml
[[nodiscard]] std::optional<double> braced_length(const BracedLine& line);

/// A stretch of wall between openings or ends, m.
struct Stretch {
    double length = 0.0;
    double opening = 0.0;  ///< clear height of the taller opening beside it; 0: none
};
/// Length that counts as braced: stretches at least as long as the method CS-WSP asks beside such an opening.
/// Nothing for a wall above 12 ft. Source  IRC 2021 R602.10.5; check: proof/structure/bracing.toml
[[nodiscard]] std::optional<double> offered_length(const std::vector<Stretch>& stretches, double wall);
/// The least panel, m, beside an opening of a clear height in a wall of a height.
[[nodiscard]] std::optional<double> least_panel(double opening, double wall);

/// False where the first stretch that counts begins, or the last one ends, more than 10 ft from its end of
/// the wall, or two of them stand more than 20 ft apart. `stretches` in order, `gaps[i]` between i and i + 1.
[[nodiscard]] bool well_placed(const std::vector<Stretch>& stretches, const std::vector<double>& gaps,
                               double wall);

/// A bracing method that is not held here, for a reminder.
struct BracingMethod {
    std::string name, what;  ///< "LIB", "let-in 1x4 or strap"
    double spacing = 0.0;    ///< m, of studs, at most
};
/// Those that studs at a spacing (m) may have.
[[nodiscard]] std::vector<BracingMethod> other_methods(double spacing);

struct SheathingRow {
    double thickness = 0.0, spacing = 0.0;  ///< m; the row holds up to this stud spacing
    std::vector<double> speeds;             ///< m/s, largest, exposures B, C, D
    std::string nail;
    Origin origin;
};
/// The row of IRC Table R602.3(3) for a wood panel on studs; nothing outside.
[[nodiscard]] std::optional<SheathingRow> sheathing_row(double thickness, double spacing);

[[nodiscard]] const Origin& bracing_origin();

}  // namespace warmside::structure
