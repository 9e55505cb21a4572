// Digests of everything that a stage reads, so that equal keys mean equal results.
#pragma once

#include "assembly/assembly.h"
#include "base/digest.h"
#include "climate/year.h"
#include "leakage/pressures.h"
#include "moisture/simulate.h"
#include "takeoff/cost.h"

namespace warmside::answer {

void add(Digest& digest, const material::Material& material);
void add(Digest& digest, const material::Membrane& membrane);
void add(Digest& digest, const assembly::Layer& layer);
void add(Digest& digest, const assembly::Assembly& assembly);
void add(Digest& digest, const assembly::Details& details);
void add(Digest& digest, const takeoff::PriceBook& book);
/// One wall and all that stands around it: the other assemblies but walls that no face is built as, geometry,
/// details, and what framing reads. What a frame and the junctions of a rung depend on.
void add_built(Digest& digest, const assembly::House& house, const assembly::Assembly& wall);
/// Storeys, faces, roofs, floors and foundations.
void add_geometry(Digest& digest, const assembly::House& house);
void add(Digest& digest, const assembly::Practice& practice);
void add(Digest& digest, const assembly::Loads& loads);
/// What framing, structure, take-off and cost read beside geometry, details and assemblies: practice, loads,
/// partitions, places of openings, what carries the roofs, the name of the price book.
void add_framing(Digest& digest, const assembly::House& house);
void add(Digest& digest, const climate::Year& year);
void add(Digest& digest, const climate::IndoorChoice& indoor);
void add(Digest& digest, const assembly::Airtightness& air);
void add(Digest& digest, const leakage::Envelope& envelope);
/// What pressures and indoor air read beside air, envelope and weather: fans, and for the air of the house
/// itself people, cooling and the lining.
void add_air(Digest& digest, const assembly::House& house, const leakage::Envelope& envelope);
void add(Digest& digest, const moisture::Options& options);

template <class... T>
[[nodiscard]] Key key_of(const T&... inputs) {
    Digest digest;
    const auto each = [&](const auto& input) {
        if constexpr (requires { digest.add(input); }) {
            digest.add(input);
        } else {
            add(digest, input);
        }
    };
    (each(inputs), ...);
    return digest.key();
}

}  // namespace warmside::answer
