#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "base/embedded.h"
#include "material/read.h"

using namespace warmside;
using namespace warmside::material;

TEST_CASE("the built-in catalogue reads without a problem") {
    Catalogue catalogue;
    Problems problems;
    for (const embedded::File& file : embedded::files()) {
        if (!file.path.starts_with("data/materials/")) continue;
        read_catalogue(file.path, file.bytes, Origin::Kind::catalogue, catalogue, problems);
    }
    for (const Problem& problem : problems) FAIL_CHECK(render(problem));
    CHECK(catalogue.materials.size() >= 45);
    CHECK(catalogue.membranes.size() >= 8);
    MESSAGE(catalogue.materials.size() << " materials, " << catalogue.membranes.size() << " membranes, "
                                       << catalogue.lumber.size() << " members");
}
