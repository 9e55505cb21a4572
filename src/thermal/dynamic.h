// What an assembly does to a temperature that swings once a day.
#pragma once

#include "assembly/assembly.h"
#include "conduction/periodic.h"
#include "thermal/layering.h"

namespace warmside::thermal {

inline constexpr double day = 86400.0;  ///< s

/// Periodic transmittance, decrement factor, time shift and areal heat capacities along the bay, between the
/// air on both sides. Layers as `states` has them and the dry density and specific heat
/// of the catalogue; air layers are resistances without mass; what stands outside a ventilated layer does not
/// count; framing is left out (wood is heavier, so capacities err on the small side).
///
/// period   s, > 0
/// Problem  out_of_range: a material without density or specific heat
/// Source   ISO 13786:2017 (evidence: memory); check: proof/thermal/iso13786_periodic.toml, dynamic_test.cpp
[[nodiscard]] Result<conduction::Periodic> dynamic(const assembly::Assembly& assembly, const States& states,
                                                   double period = day);

}  // namespace warmside::thermal
