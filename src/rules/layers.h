// An assembly as the code's R tables see it: cavity insulation, continuous insulation, studs, sheathing.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"

namespace warmside::rules {

/// Which stud column of Tables R702.7(3) and (4) holds.
enum class Core {
    none,         ///< no members, no insulation between them
    two_by_four,  ///< insulated depth to 3 1/2 in
    two_by_six,   ///< to 5 1/2 in
    deeper        ///< beyond the tables: deeper studs, double studs, an insulated inner cavity on 2x6
};

/// What one layer counts as.
struct LayerShare {
    enum class As { nothing, cavity, continuous_inside, continuous_outside };
    As as = As::nothing;
    double r = 0.0;   ///< m2 K/W, package R
    std::string why;  ///< "crossed by furring"; empty where plain
};

struct Insulation {
    std::vector<LayerShare> layers;            ///< one a layer
    double cavity = 0.0;                       ///< m2 K/W
    double continuous = 0.0;                   ///< inside and outside
    double continuous_outside = 0.0;           ///< of that, outside the frame
    double foam_outside = 0.0;                 ///< of that, of foam
    std::optional<std::size_t> bearing;        ///< the frame that carries
    std::optional<std::size_t> first_outside;  ///< first layer that counts as continuous outside
    Core core = Core::none;
    double insulated_depth = 0.0;  ///< m, of insulation that is not continuous
    [[nodiscard]] double total() const { return cavity + continuous; }
    [[nodiscard]] bool existing(const assembly::Assembly& assembly) const;  ///< some of it is kept
};

/// Cavity layers add to cavity, continuous layers to continuous, never across; package R, no films, no other
/// materials, nothing outside a ventilated layer.
///
/// A layer with members in it is cavity insulation, also stone wool between furring outside; one without is
/// continuous, screws or not, where it lies outside or inside all frames. Between two frames (the gap of a
/// double wall) it counts as cavity: our reading, the code does not name it.
///
/// Source   IECC R402.1.4 (2021, seen; IECC 2018 R402.1.3 memory) and its definition of continuous insulation
[[nodiscard]] Insulation insulation_of(const assembly::Assembly& assembly);

[[nodiscard]] const char* name_of(Core core);  ///< "2x4", "2x6", "deeper than 2x6"

/// The first layer that outdoor air passes through; the number of layers where there is none.
[[nodiscard]] std::size_t first_ventilated(const assembly::Assembly& assembly);

/// What the outer sheathing is for vented cladding: "wood panel", "fibreboard", "gypsum", or "other".
[[nodiscard]] std::string sheathing_of(const assembly::Assembly& assembly, const Insulation& insulation);

/// Foam of any kind among the layers inside of the ventilated one.
[[nodiscard]] bool is_foam(const assembly::Layer& layer);

}  // namespace warmside::rules
