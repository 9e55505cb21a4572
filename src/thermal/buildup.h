// An assembly as sections of junctions see it: the sheets that count, without their repeating members.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "thermal/worth.h"

namespace warmside::thermal {

struct Sheet {
    std::string name;
    double thickness = 0.0;     ///< m
    double conductivity = 0.0;  ///< W/(m K), of the fill; of an air layer what has its resistance
    bool structural = false;    ///< plates and corner studs run through it
    double wood = 0.13;         ///< W/(m K), of members that stand in it
};

/// From inside to outside. Ventilated layers and what lies outside of them are left out; the outer film says
/// so.
struct Buildup {
    std::string name;
    std::vector<Sheet> sheets;                       ///< never empty, at least one of them structural
    double inside_film = 0.13, outside_film = 0.04;  ///< m2 K/W

    [[nodiscard]] double thickness() const;               ///< m
    [[nodiscard]] double resistance() const;              ///< m2 K/W, without films
    [[nodiscard]] double u() const;                       ///< W/(m2 K), no members
    [[nodiscard]] double depth(std::size_t sheet) const;  ///< m, inner face to the sheet's inner side
    [[nodiscard]] std::size_t first_structural() const;
    [[nodiscard]] std::size_t last_structural() const;
    [[nodiscard]] double inner() const {
        return depth(first_structural());
    }  ///< m, inner face of the framing
    [[nodiscard]] double outer() const { return depth(last_structural() + 1); }  ///< m, its outer face
    [[nodiscard]] double wood() const { return sheets[last_structural()].wood; }
};

/// With the conductivities of winter_states. A part without framing has its thickest sheet for structure.
///
/// Problem  those of winter_states; missing: no layer counts
[[nodiscard]] Result<Buildup> buildup_of(const assembly::Assembly& assembly, const Conditions& conditions);

}  // namespace warmside::thermal
