// Does a model make sense? Errors for what cannot be built or computed, warnings for what is probably a slip.
#pragma once

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::assembly {

/// One assembly: layers present; framing not deeper than its layer nor wider than its spacing; one airtight
/// layer; order from inside to outside; thickness that can be true. Places are those of the layers.
void check_assembly(const Assembly& assembly, Problems& problems);

/// An outline: at least three corners, no edge of zero length, counter-clockwise, crossing itself nowhere.
/// `title` names it: "storey ground". `where` is the outline's place; `corners` the place of each corner.
void check_outline(const std::string& title, const std::vector<Point>& outline, const Place& where,
                   const std::vector<Place>& corners, Problems& problems);

/// Openings of a face: inside the face, below the plate, apart from each other.
void check_openings(const Face& face, Problems& problems);

/// An inner wall, `width` thick, against `face`: inside it, in none of its openings, beside the `others`.
/// `at` is where the file says its place.
void check_partition(const Face& face, const Partition& partition, Exact width,
                     const std::vector<Partition>& others, const Place& at, Problems& problems);

/// What a framer would ask back: room for headers under the plates, for joists between storeys (`joist`
/// deep), outlines that the roof forms fit, storeys that carry a roof and another storey.
void check_framing(const House& house, Exact joist, Problems& problems);

/// Storeys one above the other, faces along each outline.
void check_house(const House& house, Problems& problems);

}  // namespace warmside::assembly
