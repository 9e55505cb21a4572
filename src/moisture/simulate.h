// Hour by hour heat and moisture through an assembly.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"
#include "base/stop.h"
#include "climate/year.h"

namespace warmside::moisture {

enum class Path { bay, framing };
[[nodiscard]] const char* name_of(Path path);

struct Beyond;  // beyond.h: attic, crawl space, ground, shade
struct Mesh;    // mesh.h: pieces of each layer

/// One transient run. Pointers are not owned and outlive the call.
struct Run {
    std::string name;  ///< "w3 north bay stressed"
    const assembly::Assembly* assembly = nullptr;
    Path path = Path::bay;
    const climate::FaceWeather* outside = nullptr;
    const climate::Indoor* inside = nullptr;
    int start_hour = 6552;  ///< of the year; 6552 = 1 October
    int years = 3;
    double rain_leak = -1.0;  ///< share of driving rain; negative: the assembly's own
    double air_flow = 0.0;    ///< m3/(s m2) through the assembly, outward positive (exfiltration)
    const std::vector<double>* air_flow_by_hour = nullptr;  ///< [8760] of the year, added to air_flow
    /// The air enters (or leaves) behind the innermost layer, at a joint or box, not through its face.
    bool air_past_lining = false;
    double wind_share = 0.62;  ///< wind at the house over the weather's (10 m, open ground): leakage/wind.h
    const Beyond* beyond = nullptr;  ///< what stands between the outer face and the weather; null: nothing
    const Mesh* mesh = nullptr;      ///< null: the standard pieces of Options::mesh_level
    double start_humidity = -1.0;    ///< negative: each layer's own
};

struct Options {
    double tolerance = 2e-3;      ///< local error per step, relative to the scale of each variable
    int mesh_level = 1;           ///< 0 coarse, 1 standard, 2 and up halve the cells
    double mesh_target = 2.5e-3;  ///< relative humidity; what `pilot` cuts layers for (mesh.h)
    int probe_every = 1;          ///< hours between samples of probes
    int carpet_columns = 156;     ///< over the whole run (weekly for three years), a whole number each year
    int carpet_rows = 48;         ///< over the depth, inside first
    /// Runs of three years and more end with a settled year: one that ends as it began, to this change of the
    /// moisture variable (relative humidity up to 85 %) at every node inside the water layer. 0: the years
    /// are marched one after the other, settled or not.
    double settled_within = 5e-3;
    int most_years = 10;          ///< marched at most in search of it
    std::vector<double> depths;   ///< m from the inside, kept in History::depths; each within every assembly
    bool probe_moisture = false;  ///< keep Probe::moisture of History::probes too
};

/// Hourly history of one place.
struct Probe {
    std::string name;                      ///< "inner face of osb"
    std::size_t layer = 0;                 ///< index into Assembly::layers, then into History::beyond
    double depth = 0.0;                    ///< m from the inside
    bool sensitive = false;                ///< an organic surface that the mould criterion judges
    std::vector<float> temperature;        ///< K
    std::vector<float> relative_humidity;  ///< 0..1
    std::vector<float> moisture;  ///< kg/m3; empty: not asked for, or air and sheets, which hold next to none
};

/// Mean moisture of one layer.
struct LayerMoisture {
    std::size_t layer = 0;
    std::vector<float> moisture;  ///< kg/m3, mean over the layer
    std::vector<float> wettest;   ///< kg/m3, wettest 10 mm (or the whole layer if thinner)
};

/// 5 to 10 mm below an exposed face of a mineral layer, where frost does its harm (frost.h).
struct FrostLayer {
    std::string name;  ///< "5 to 10 mm below the outer face of brick"
    std::size_t layer = 0;
    const material::Material* material = nullptr;
    std::vector<float> temperature;  ///< K
    std::vector<float> saturation;   ///< water over all pores, 0..1
};

/// Water that one side of a layer holds beyond free saturation: condensate, frost, what would run off
/// (frost.h).
struct FreeWater {
    std::string name;  ///< "outer half of stone wool batt"
    std::size_t layer = 0;
    std::vector<float> mass;  ///< kg/m2; empty: there never was any
};

/// Relative humidity and temperature on a fixed grid, for the depth-time carpet: [column * rows + row].
struct Carpet {
    int columns = 0, rows = 0;
    std::vector<float> relative_humidity;
    std::vector<float> temperature;  ///< K
    std::vector<float> depth;        ///< m, centre of each row, inside first
};

/// Balances from stored mass and energy differences against boundary fluxes.
struct Balance {
    double water_in = 0.0, water_out = 0.0, water_stored = 0.0;  ///< kg/m2
    double water_error = 0.0;                                    ///< |in - out - stored| / max(in, out)
    double energy_error = 0.0;                                   ///< same, of J/m2
    double rain_absorbed = 0.0, rain_run_off = 0.0, leak = 0.0;  ///< kg/m2
};

struct History {
    std::string name;
    int start_hour = 0, hours = 0, probe_every = 1;
    std::vector<Probe> probes;
    std::vector<Probe> depths;  ///< of Options::depths, in their order, between the nodes by straight lines
    std::vector<LayerMoisture> layers;
    std::vector<FrostLayer> frost;
    std::vector<FreeWater> free_water;
    Carpet carpet;
    Balance balance;
    std::int64_t steps = 0, newton_iterations = 0, rejected = 0;
    int cells = 0;
    /// Layers beyond the outer face that were run too (an attic's roof): their indices go on from
    /// Assembly::layers. They point into the catalogue of the run's assembly.
    std::vector<assembly::Layer> beyond;
    double space = 0.0;          ///< m from the outer face to the first of them
    bool sheltered = false;      ///< the outer face does not stand in the weather, and is judged
    int years_marched = 0;       ///< years of the history that equal the year before them are not marched
    double yearly_change = 0.0;  ///< of the moisture variable over the last year, largest inside
    bool settled = true;         ///< false: it is above Options::settled_within
    std::vector<double>
        air_change;  ///< 1/s, mean of each cavity that wind and buoyancy ventilate, inside first
    std::vector<std::string> notes;  ///< what the model leaves out or assumes for this run
};

/// Finished carpet columns, while the run goes on. Called from worker threads. The columns of a year that is
/// recorded anew on the way to a settled one come again; the last of each counts.
class CarpetSink {
public:
    CarpetSink() = default;
    CarpetSink(const CarpetSink&) = delete;
    CarpetSink& operator=(const CarpetSink&) = delete;
    virtual ~CarpetSink() = default;
    virtual void column(std::size_t run, int column, std::span<const float> relative_humidity) = 0;
};

/// Histories as they come, while other runs go on. Called from worker threads, several at once.
class HistorySink {
public:
    HistorySink() = default;
    HistorySink(const HistorySink&) = delete;
    HistorySink& operator=(const HistorySink&) = delete;
    virtual ~HistorySink() = default;
    virtual void finished(std::size_t run, History history) = 0;
};

/// Simulates all runs and hands each history over when it is whole; runs come to their end in about the order
/// in which they are given. After a Problem (as `simulate`) the histories handed over before stay good.
[[nodiscard]] Result<void> simulate_each(std::span<const Run> runs, const Options& options,
                                         const Control& control, HistorySink& histories,
                                         CarpetSink* sink = nullptr);

/// Simulates all runs; they share lanes of the solver where their shapes allow, and the result of a run
/// does not depend on the others. Problem: not_converged (names run, layer, hour, cause), stopped,
/// unsupported; out_of_range: a depth outside an assembly.
[[nodiscard]] Result<std::vector<History>> simulate(std::span<const Run> runs, const Options& options,
                                                    const Control& control = {}, CarpetSink* sink = nullptr);

}  // namespace warmside::moisture
