#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <set>

#include "base/embedded.h"
#include "material/read.h"
#include "material/wood.h"

using namespace warmside;
using namespace warmside::material;

TEST_CASE("the built-in catalogue reads without a problem and is as large as promised") {
    Catalogue catalogue;
    Problems problems;
    for (const embedded::File& file : embedded::files()) {
        if (!file.path.starts_with("data/materials/")) continue;
        read_catalogue(file.path, file.bytes, Origin::Kind::catalogue, catalogue, problems);
    }
    for (const Problem& problem : problems) FAIL_CHECK(render(problem));
    CHECK(catalogue.materials.size() >= 45);
    CHECK(catalogue.membranes.size() >= 8);
    const auto variable =
        std::count_if(catalogue.membranes.begin(), catalogue.membranes.end(),
                      [](const Membrane& m) { return m.variable && m.permeance.x.size() > 1; });
    CHECK(variable >= 3);
}

TEST_CASE("every value has a source and an evidence word") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        CHECK_FALSE(m.origin.source.empty());
        CHECK(m.origin.evidence != Evidence::none);
        for (const char* key : {"density", "specific_heat", "conductivity"}) {
            CAPTURE(key);
            CHECK(origin_of(m, key).where.line > 0);
        }
        for (const auto& [key, origin] : m.value_origin) {
            CAPTURE(key);
            CHECK_FALSE(origin.source.empty());
            CHECK(origin.evidence != Evidence::none);
        }
    }
    for (const Membrane& m : built_in().membranes) {
        CHECK_FALSE(m.origin.source.empty());
        CHECK(m.origin.evidence != Evidence::none);
    }
    for (const Lumber& m : built_in().lumber) {
        CHECK_FALSE(m.origin.source.empty());
        CHECK(m.origin.evidence != Evidence::none);
    }
}

TEST_CASE("names and aliases are lower case and mean one thing") {
    const auto check = [](const std::vector<std::string>& names) {
        std::set<std::string> seen;
        for (const auto& name : names) {
            CAPTURE(name);
            CHECK(seen.insert(name).second);
            CHECK(
                std::none_of(name.begin(), name.end(), [](unsigned char c) { return std::isupper(c) != 0; }));
        }
    };
    check(built_in().material_names());
    check(built_in().membrane_names());
    check(built_in().member_names());
}

TEST_CASE("builders' words find their material") {
    const std::pair<const char*, const char*> words[] = {
        {"Drywall", "gypsum board"},
        {"mineral wool batt", "stone wool batt"},
        {"2x lumber", ""},
        {"SPF", "spruce-pine-fir lumber"},
        {"fiberglass", "glass wool batt"},
        {"clt", "cross-laminated timber"},
    };
    for (const auto& [word, name] : words) {
        CAPTURE(word);
        const Material* m = built_in().material(word);
        CHECK((m ? m->name : "") == name);
    }
    CHECK(built_in().membrane("6 mil poly")->name == "polyethylene");
    CHECK(built_in().membrane("no such sheet") == nullptr);
    CHECK(built_in().member("2X6")->depth == doctest::Approx(0.1397));
    CHECK(built_in().member("2x5") == nullptr);
}

TEST_CASE("materials stay within what is possible") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        CHECK(m.free_saturation <= m.porosity * 1000.0 * (1.0 + 1e-9));
        CHECK(m.start_humidity > 0.5);
        CHECK(m.start_humidity < 1.0);
        CHECK_FALSE(m.hatch.empty());
        CHECK_FALSE(m.family.empty());
        // Dry mass and water at free saturation cannot exceed solid rock full of water.
        if (m.family != "metal") CHECK(m.density + m.free_saturation < 3000.0);
        if (m.is_insulation) CHECK(m.conductivity < 0.06);
    }
}

TEST_CASE("wood holds at 20 degC what the Wood Handbook says, up to 95 %") {
    for (const Material& m : built_in().materials) {
        if (m.family != "wood") continue;
        CAPTURE(m.name);
        for (int percent = 5; percent <= 95; ++percent) {
            const double rh = percent / 100.0;
            const double share = moisture_content(m, rh) / m.density;
            // Interpolating costs at most 0.1 % of moisture content.
            CHECK(std::abs(share - wood_moisture(293.15, rh)) < 0.001);
        }
    }
}

TEST_CASE("labels agree with the handbook's conductivity within a fifth") {
    for (const Material& m : built_in().materials) {
        for (std::size_t i = 0; i < m.label.x.size(); ++i) {
            CAPTURE(m.name);
            CAPTURE(m.label.x[i]);
            const double handbook = m.label.x[i] / m.conductivity;
            CHECK(m.label.y[i] / handbook > 0.8);
            CHECK(m.label.y[i] / handbook < 1.2);
        }
    }
}

TEST_CASE("classes of vapour retarders follow the dry cup") {
    const std::pair<const char*, const char*> classes[] = {
        {"polyethylene", "I"},  {"kraft facing", "II"}, {"variable retarder", "II"},
        {"latex paint", "III"}, {"housewrap", ""},
    };
    for (const auto& [name, expected] : classes) {
        CAPTURE(name);
        CHECK(built_in().membrane(name)->retarder_class == expected);
    }
}
