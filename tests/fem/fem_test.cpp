// Couplings of details written by hand against finite elements, within 0.2 %.
#include <doctest/doctest.h>

#include "compare.h"
#include "models.h"

using namespace warmside;

TEST_CASE("a stud wall") {
    fem::compare(fem::stud_wall(), fem::plane_sizes);
}

TEST_CASE("a steel stud") {
    fem::compare(fem::steel_stud(), fem::plane_sizes);
}

TEST_CASE("an outer corner of three studs") {
    fem::compare(fem::outer_corner(), fem::plane_sizes);
}

TEST_CASE("a rim joist between two rooms") {
    fem::compare(fem::rim_joist(), fem::plane_sizes);
}

TEST_CASE("a slab edge on ground") {
    fem::compare(fem::slab_edge(), fem::plane_sizes);
}

TEST_CASE("a window jamb") {
    fem::compare(fem::window_jamb(), fem::plane_sizes);
}

TEST_CASE("a pitched eave") {
    fem::compare(fem::eave(), fem::plane_sizes);
}

TEST_CASE("a wall aligned with no axis") {
    fem::compare(fem::rotated_wall(), fem::plane_sizes);
}

TEST_CASE("studs across furring") {
    fem::compare(fem::stud_and_furring(), fem::solid_sizes);
}

TEST_CASE("a stainless bracket through insulation") {
    fem::compare(fem::steel_bracket(), {.corner = 2e-3, .growth = 0.7, .most = 0.1});
}

TEST_CASE("a sloped roof of rafters and battens") {
    fem::compare(fem::sloped_roof(), fem::solid_sizes);
}
