// The whole job: a house in, its ladders answered.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/digest.h"
#include "base/origin.h"
#include "base/stop.h"
#include "climate/year.h"
#include "framing/frame.h"
#include "moisture/simulate.h"
#include "moisture/verdict.h"
#include "structure/check.h"
#include "takeoff/cost.h"
#include "thermal/junction.h"
#include "thermal/worth.h"

namespace warmside::answer {

/// The house framed with one wall rung, and whether the members carry their loads.
struct Framed {
    framing::Frame frame;
    structure::Structure structure;
};

/// What the walls of a rung take to buy and to build.
struct Priced {
    takeoff::Order order;
    takeoff::Cost cost;
};

/// One rung, answered. Paths of its figures begin with `ladder/<part>/<name>/`.
struct RungAnswer {
    std::string name, title;
    std::size_t assembly = 0;  ///< index into House::assemblies
    double thickness = 0.0;    ///< m
    thermal::Worth worth;
    std::vector<thermal::Junction> junctions;    ///< of a wall, with their lengths in the house
    double junction_area = 0.0;                  ///< m2, net wall that they stand in
    double junction_heat = 0.0;                  ///< W/K, sum of psi l, internal dimensions (ISO 14683)
    std::string built_absent;                    ///< why, when worth.built_r is not there
    std::shared_ptr<const Framed> framed;        ///< of a wall
    std::string framed_absent;                   ///< why, when it is not there
    std::shared_ptr<const Priced> priced;        ///< of a wall
    std::string priced_absent;                   ///< why, when it is not there
    std::optional<takeoff::StepCost> step_cost;  ///< over the rung below
    std::optional<moisture::Verdict> verdict;  ///< nothing for a part the transient model does not cover yet
    std::string verdict_absent;                ///< why, when there is none
    moisture::Carpet carpet;                   ///< of the deciding run
    std::string carpet_run;                    ///< its name
    moisture::Balance balance;                 ///< worst over the runs
    int runs = 0;
    std::vector<moisture::LayerMoisture> layers;  ///< of the deciding run, one mean for each carpet column
    int start_hour = 0, hours = 0;  ///< of the deciding run: where in the year it starts, how long
    std::shared_ptr<const std::vector<moisture::History>> histories;  ///< with Ask::keep_histories
    std::vector<std::string> notes;
};

struct LadderAnswer {
    assembly::Part part = assembly::Part::wall;
    std::vector<RungAnswer> rungs;
};

struct Weather {
    std::string place;                 ///< "Duluth, Minnesota" or the file's name
    std::string climate_zone;          ///< "7", empty if not known
    std::string kind;                  ///< "generated from monthly means, typical and stressed"
    double mean_temperature = 0.0;     ///< K
    double january = 0.0;              ///< K, mean of the coldest month
    double heating_degree_days = 0.0;  ///< K d, base 65 degF, from hourly means
    std::string wettest_face;          ///< "east"
    std::vector<std::string> notes;
};

/// What steady heat is computed for: indoors as the house file has it, outdoors the coldest month's mean.
[[nodiscard]] thermal::Conditions winter_of(const assembly::House& house, const Weather& weather);

/// A group of areas from the house geometry, internal dimensions.
struct Areas {
    double floor = 0.0, wall_gross = 0.0, wall_net = 0.0, window = 0.0, door = 0.0, roof = 0.0,
           ceiling = 0.0;  ///< m2
    double volume = 0.0;   ///< m3
};

struct Answer {
    std::string house, place;
    bool inch_pound_first = true;
    Weather weather;
    std::optional<Areas> areas;
    std::vector<LadderAnswer> ladders;
    bool stopped = false;               ///< with Ask::keep_finished: not every rung is judged
    std::vector<std::string> cautions;  ///< the calm lines of design.md "Safety of use"
    Key key;                            ///< of all inputs: equal keys, equal answers
};

/// What may be left out, and what is handed in.
struct Ask {
    bool heat = true;  ///< what each rung is worth, and junctions
    bool dry = true;
    bool cost = true;                                  ///< take-off and cost of each wall rung
    bool cost_whole = false;                           ///< with its floors and roofs, not the walls alone
    std::shared_ptr<const takeoff::PriceBook> prices;  ///< null: the built-in demo book
    bool causes = false;  ///< drivers, wetting allowance and changes of each verdict too
    /// Of each rung's runs. With a Stream they are only lent to Stream::finished and dropped after it, so
    /// that a ladder takes no more memory than the rungs in progress; without one they stay in the answer.
    bool keep_histories = false;
    /// A stop gives the answer with the rungs that are judged (if any is) rather than a Problem.
    bool keep_finished = false;
    int years = 3;                         ///< of each run, at least 2
    std::string rung;                      ///< only this one; empty: all
    std::optional<climate::Year> weather;  ///< read from House::weather_file by the caller
    moisture::Options moisture;
};

/// What is known as it comes: which rung, which column. `column` may be called by several threads at once,
/// also while one of the others runs; those come one at a time.
class Stream {
public:
    Stream() = default;
    Stream(const Stream&) = delete;
    Stream& operator=(const Stream&) = delete;
    virtual ~Stream() = default;
    /// Steady figures of a rung are ready (verdict not yet).
    virtual void steady(const RungAnswer& rung) = 0;
    virtual void column(const std::string& rung, int column, std::span<const float> relative_humidity) = 0;
    /// What the rung's walls take to buy and to build is known, and what its step adds; or why not. After the
    /// steady figures of all rungs, before any verdict.
    virtual void priced(const RungAnswer& rung) = 0;
    /// The rung is judged; the others still run.
    virtual void finished(const RungAnswer& rung) = 0;
};

/// Stages with their results kept by key: an edit re-runs only what it changed. One Engine a thread of
/// callers; a call holds the engine until it returns.
class Engine {
public:
    Engine();
    ~Engine();
    Engine(const Engine&) = delete;
    Engine& operator=(const Engine&) = delete;
    /// Problem: what a stage could not do, with its place; stopped.
    [[nodiscard]] Result<Answer> answer(const assembly::House& house, const Ask& ask,
                                        const Control& control = {}, Stream* stream = nullptr);
    /// Stages run and stages taken from the store in the last call, for tests and --verbose.
    struct Count {
        int run = 0, kept = 0;
    };
    [[nodiscard]] Count last() const;

private:
    struct Store;
    std::unique_ptr<Store> store_;
};

/// How one figure came about; the path as in the JSON, `ladder/wall/w3/clear_r`. Problem: unknown_name with
/// the nearest path.
[[nodiscard]] Result<Derivation> why(const assembly::House& house, const Answer& answer,
                                     std::string_view path);
/// All paths that `why` knows.
[[nodiscard]] std::vector<std::string> paths(const assembly::House& house, const Answer& answer);

}  // namespace warmside::answer
