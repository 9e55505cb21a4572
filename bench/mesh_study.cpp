// What do meshes and tolerances cost in accuracy? Five assemblies of the examples, bay and framing, against a
// fine reference; prints docs/methods/mesh-study.md. Invented assemblies, built-in weather of Duluth,
// stressed, a year.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "moisture/mesh.h"
#include "moisture/simulate.h"
#include "project/read.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

struct Subject {
    const char *file, *assembly, *words;
};
constexpr std::array subjects{
    Subject{"examples/heron-ridge/house.toml", "w2", "2x6, drywall on the sheet"},
    Subject{"examples/heron-ridge/house.toml", "w5", "2x8, service cavity, 2 in stone wool outside"},
    Subject{"examples/heron-ridge/house.toml", "w6", "50 + 200 + 50, vapour-open boards"},
    Subject{"examples/assemblies/double-stud.toml", "double_stud", "double stud, dense-packed cellulose"},
    Subject{"examples/assemblies/roofs.toml", "unvented", "unvented roof"},
};

struct Error {
    double humidity = 0.0, temperature = 0.0;  // of weekly means: share, K
};

// Largest difference of a weekly mean at the judged surfaces.
Error error_of(const History& h, const History& reference) {
    constexpr std::size_t weeks = 52, week = 168;
    Error worst;
    for (std::size_t k = 0; k < h.probes.size(); ++k) {
        if (!h.probes[k].sensitive) continue;
        for (std::size_t w = 0; w < weeks; ++w) {
            double humidity = 0.0, temperature = 0.0;
            for (std::size_t i = week * w; i < week * (w + 1); ++i) {
                humidity += h.probes[k].relative_humidity[i] - reference.probes[k].relative_humidity[i];
                temperature += h.probes[k].temperature[i] - reference.probes[k].temperature[i];
            }
            worst.humidity = std::max(worst.humidity, std::abs(humidity) / week);
            worst.temperature = std::max(worst.temperature, std::abs(temperature) / week);
        }
    }
    return worst;
}

History run_one(const Run& run, const Options& options) {
    auto done = simulate(std::vector<Run>{run}, options);
    if (!done) {
        fmt::print(stderr, "{}\n", done.error().what);
        std::exit(1);
    }
    return std::move(done->front());
}

void study(const Subject& subject, Path path, const climate::Year& year, const climate::Indoor& indoor) {
    std::ifstream file(subject.file);
    std::stringstream text;
    text << file.rdbuf();
    const auto reading = project::read_house(subject.file, text.str());
    const assembly::Assembly* wall = reading.house ? reading.house->find(subject.assembly) : nullptr;
    if (!wall) {
        fmt::print(stderr, "{}: no {}\n", subject.file, subject.assembly);
        std::exit(1);
    }
    const auto weather = climate::weather_on(year, {0.0, wall->tilt}, {});
    Run run{.name = subject.assembly, .assembly = wall, .path = path, .outside = &weather, .inside = &indoor};
    run.years = 1;
    Options options{.carpet_columns = 0};
    const auto pilots = pilot(std::vector<Run>{run}, options);
    if (!pilots) {
        fmt::print(stderr, "{}\n", pilots.error().what);
        std::exit(1);
    }
    const Mesh chosen = pilots->front().mesh;
    Mesh finer = chosen, coarser = chosen;
    for (int& pieces : finer.pieces) pieces *= 4;
    for (int& pieces : coarser.pieces) pieces = std::max(3, static_cast<int>(std::lround(0.7 * pieces)));
    Options tight = options, loose = options, tighter = options;
    tight.tolerance = 2e-4;
    loose.tolerance = 8e-3;
    tighter.tolerance = 5e-4;
    run.mesh = &finer;
    const History reference = run_one(run, tight);
    fmt::print("| {} | {} | {} |", subject.words, name_of(path), reference.cells);
    const auto show = [&](const Mesh* mesh, const Options& o) {
        run.mesh = mesh;
        const History h = run_one(run, o);
        const Error e = error_of(h, reference);
        fmt::print(" {}: {:.3f} %, {:.3f} K |", h.cells, 100.0 * e.humidity, e.temperature);
    };
    show(nullptr, options);
    show(&coarser, options);
    show(&chosen, options);
    show(&chosen, loose);
    show(&chosen, tighter);
    fmt::print("\n");
}

}  // namespace

int main() {
    const auto place = climate::find_place("Duluth, Minnesota");
    const auto typical = place ? climate::generate(**place) : Result<climate::Year>(fail(place.error()));
    if (!typical) return 1;
    const climate::Year year = climate::stressed(*typical);
    const auto inside = climate::indoor_air({}, year);
    if (!inside) return 1;
    const climate::Indoor& indoor = *inside;
    fmt::print(
        "# Mesh and tolerance study\n\n"
        "Written by `./dev study`. Five assemblies of the examples (invented), north face, the built-in year "
        "of Duluth in\n"
        "stressed weather, from October, rain leak as in the house files, no air. Each cell: nodes, then the "
        "largest\n"
        "difference of a weekly mean of relative humidity and of temperature at any judged surface to a "
        "reference with\n"
        "four times the chosen pieces in every layer and a tenth of the tolerance.\n\n"
        "Standard: fixed rules. Chosen: what `pilot` cuts for {:.2g} % of interpolation error "
        "(moisture/mesh.h). Default\n"
        "tolerance {:g}; loose four times, tight a quarter of it.\n\n"
        "| assembly | path | nodes of the reference | standard | 0.7 of the chosen | **chosen** | chosen, "
        "loose | chosen, "
        "tight |\n|---|---|---|---|---|---|---|---|\n",
        100.0 * Options{}.mesh_target, Options{}.tolerance);
    for (const Subject& subject : subjects)
        for (const Path path : {Path::bay, Path::framing}) study(subject, path, year, indoor);
    return 0;
}
