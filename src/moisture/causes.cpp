#include "moisture/causes.h"

#include <fmt/format.h>

#include <algorithm>
#include <deque>
#include <memory>
#include <optional>

#include "moisture/allowance.h"
#include "moisture/measure.h"
#include "moisture/thresholds.h"
#include "moisture/variation.h"
#include "moisture/wording.h"

namespace warmside::moisture {
namespace {

constexpr std::size_t runs_at_once = 24;

/// One run to do, and who wants its history.
struct Job {
    Trial trial;
    std::string what;  ///< for the note when it cannot be solved
    std::function<void(const History&)> take;
    bool must = false;                ///< its failure is the inquiry's
    std::function<void()> give_up{};  ///< told when it cannot be solved; may be empty
};

double score(const Verdict& v) {
    const Limit limit{.watch = v.deciding.watch_limit, .wet = v.deciding.wet_limit};
    // A verdict can be tempered: not settled, no stressed year.
    return std::max(severity(v.deciding.value, limit), v.dryness == Dryness::dry ? 0.0 : 1.0);
}

bool helps(const Verdict& now, const Verdict& before) {
    return now.dryness < before.dryness || score(now) <= score(before) - least_help;
}

/// The same criterion at the same place in the same year.
std::optional<Finding> same_finding(const assembly::Assembly& a, const History& history,
                                    const Finding& wanted, const Thresholds& limits) {
    std::vector<Measured> rows;
    measure(a, history, 0, limits, rows);
    for (const Measured& row : rows) {
        if (row.layer != wanted.layer || row.first_year != wanted.first_year) continue;
        auto words = put_into_words(history, row, limits);
        if (words.criterion == wanted.criterion && words.place == wanted.place) return words;
    }
    return std::nullopt;
}

/// One inquiry on its way: hands out jobs, takes their histories, asks for more until all is known.
class Case {
public:
    Case(const Inquiry& inquiry, const Thresholds& limits) : in_(inquiry), limits_(limits) {
        const auto named = std::find_if(in_.runs.begin(), in_.runs.end(),
                                        [&](const Run& r) { return r.name == in_.verdict->deciding.run; });
        if (named == in_.runs.end()) {
            stage_ = Stage::done;
            return;
        }
        decides_ = &*named;
        leaks_ = decides_;
        if (!(yearly_rain(*leaks_) > 0.0)) {
            for (const Run& run : in_.runs)
                if (run.path == decides_->path && yearly_rain(run) > yearly_rain(*leaks_)) leaks_ = &run;
        }
        const double most = std::min(most_leak, yearly_rain(*leaks_));
        const bool lands = in_.assembly->leak_layer >= 0 ||
                           std::any_of(in_.assembly->layers.begin(), in_.assembly->layers.end(),
                                       [](const assembly::Layer& l) { return l.water; });
        if (most > 0.0 && lands) search_.emplace(most);
    }

    [[nodiscard]] bool done() const { return stage_ == Stage::done; }

    /// Jobs of the next stage; called when all of the last are taken. None: done.
    std::vector<Job> next() {
        std::vector<Job> jobs;
        if (stage_ == Stage::first) {
            add_base(jobs);
            add_drivers(jobs);
            tried_.reserve(16);
            for (auto& candidate : candidates(*decides_)) add_candidate(std::move(candidate), jobs);
            add_leaks(jobs);
            stage_ = Stage::more;
            return jobs;
        }
        if (stage_ == Stage::more) {
            add_leaks(jobs);
            add_check(jobs);
        }
        if (jobs.empty()) conclude();
        return jobs;
    }

    void failed(const Job& job, const Problem& problem) {
        in_.verdict->notes.push_back(fmt::format("not tried: {} ({})", job.what, problem.what));
        if (job.give_up) job.give_up();
    }

private:
    enum class Stage { first, more, done };
    struct Tried {
        Candidate candidate;
        std::optional<Verdict> verdict;  ///< over the run that decides
    };
    /// The best candidate while it is run in all runs.
    struct Check {
        Trial first;  ///< keeps its assembly
        std::vector<History> histories;
        std::size_t wanted = 0;
        bool broken = false;
    };

    Verdict judged(const assembly::Assembly& a, std::span<const History> histories) const {
        return judge(a, histories, in_.basis);
    }

    void add_base(std::vector<Job>& jobs) {
        jobs.push_back({Trial(*decides_), "the run that decides",
                        [this](const History& h) {
                            base_ = judged(*in_.assembly, {&h, 1});
                            if (search_ && leaks_ == decides_) search_->tell(assumed(), base_->dryness);
                        },
                        true});
    }

    void add_drivers(std::vector<Job>& jobs) {
        const auto value_of = [this](const History& h) {
            return same_finding(*in_.assembly, h, in_.verdict->deciding, limits_);
        };
        for (const Driver driver : all_drivers) {
            auto trial = without(*decides_, driver);
            if (!trial) continue;
            jobs.push_back({std::move(*trial), fmt::format("no {}", name_of(driver)),
                            [this, driver, value_of](const History& h) {
                                const auto found = value_of(h);
                                in_.verdict->drivers.push_back({driver, found ? found->value : 0.0,
                                                                found ? found->dryness : Dryness::dry});
                            }});
        }
        for (const bool sun_too : {false, true})
            jobs.push_back(
                {without_any(*decides_, sun_too), "no driver at all", [this, value_of](const History& h) {
                     const auto found = value_of(h);
                     const double value = found ? found->value : 0.0;
                     auto& least = in_.verdict->without_drivers;
                     least = std::min(least.value_or(value), value);
                 }});
    }

    void add_candidate(Candidate candidate, std::vector<Job>& jobs) {
        const std::size_t k = tried_.size();
        Trial trial = candidate.apply(*decides_);
        const auto* a = trial.run.assembly;
        const auto keep = trial.assembly;
        std::string what = candidate.what;
        tried_.push_back({std::move(candidate), std::nullopt});
        jobs.push_back({std::move(trial), std::move(what),
                        [this, k, a, keep](const History& h) { tried_[k].verdict = judged(*a, {&h, 1}); }});
    }

    double assumed() const { return rain_leak_of(*leaks_) * yearly_rain(*leaks_); }

    void add_leaks(std::vector<Job>& jobs) {
        if (!search_) return;
        for (const double level : search_->next()) {
            Trial trial(*leaks_);
            trial.run.rain_leak = level / yearly_rain(*leaks_);
            jobs.push_back({std::move(trial), fmt::format("a rain leak of {:.3g} kg/(m2 a)", level),
                            [this, level](const History& h) {
                                search_->tell(level, judged(*in_.assembly, {&h, 1}).dryness);
                            },
                            false, [this, level] { search_->give_up(level); }});
        }
    }

    /// The best candidate that is still in question goes through all runs.
    void add_check(std::vector<Job>& jobs) {
        if (checking_) settle_check();
        if (checked_ || !base_) return;
        std::stable_sort(tried_.begin(), tried_.end(), [](const Tried& a, const Tried& b) {
            if (!a.verdict || !b.verdict) return a.verdict.has_value() && !b.verdict;
            return score(*a.verdict) < score(*b.verdict);
        });
        while (!tried_.empty() && !(tried_.front().verdict && helps(*tried_.front().verdict, *base_)))
            tried_.erase(tried_.begin());
        if (tried_.empty()) return;
        checking_ = std::make_unique<Check>(
            Check{tried_.front().candidate.apply(*decides_), {}, in_.runs.size(), false});
        for (const Run& run : in_.runs)
            jobs.push_back({tried_.front().candidate.apply(run), tried_.front().candidate.what,
                            [this](const History& h) { checking_->histories.push_back(h); }, false,
                            [this] { checking_->broken = true; }});
    }

    void settle_check() {
        Check& check = *checking_;
        const bool whole = !check.broken && check.histories.size() == check.wanted;
        const auto over_all =
            whole ? std::optional(judged(*check.first.run.assembly, check.histories)) : std::nullopt;
        if (over_all && helps(*over_all, *in_.verdict)) {
            tried_.front().verdict = *over_all;
            checked_ = true;
        } else {
            tried_.erase(tried_.begin());
        }
        checking_.reset();
    }

    void conclude() {
        stage_ = Stage::done;
        Verdict& v = *in_.verdict;
        const Finding& f = v.deciding;
        std::stable_sort(v.drivers.begin(), v.drivers.end(), [](const DriverShare& a, const DriverShare& b) {
            return a.value_without < b.value_without;
        });
        if (!v.drivers.empty() && f.value == 0.0) v.drivers.clear();
        v.driver_words = driver_sentence(v);
        if (search_) {
            v.allowance = search_->answer();
            v.allowance->assumed = assumed();
        }
        for (const Tried& each : tried_) {
            if (!each.verdict || !base_) continue;
            const bool first = &each == &tried_.front();
            if (!first && !helps(*each.verdict, *base_)) continue;
            const Finding& now = each.verdict->deciding;
            v.changes.push_back({.what = each.candidate.what,
                                 .all_runs = first && checked_,
                                 .value = now.value,
                                 .criterion = now.criterion,
                                 .place = now.place,
                                 .unit = now.unit,
                                 .dryness = each.verdict->dryness});
        }
    }

    Inquiry in_;
    const Thresholds& limits_;
    Stage stage_ = Stage::first;
    const Run* decides_ = nullptr;
    const Run* leaks_ = nullptr;   ///< whose leak is searched
    std::optional<Verdict> base_;  ///< over the run that decides
    std::optional<LeakSearch> search_;
    std::vector<Tried> tried_;
    std::unique_ptr<Check> checking_;
    bool checked_ = false;
};

/// Passes the solver's progress on as a share of the whole search.
class Share : public Progress {
public:
    Share(const Control& whole, double from, double to) : whole_(whole), from_(from), to_(to) {}
    void report(std::string_view, double done) override {
        whole_.report("causes", from_ + (to_ - from_) * done);
    }

private:
    const Control& whole_;
    double from_, to_;
};

/// Appends the histories of the runs; where they cannot be solved together, in halves, down to those that
/// cannot.
Result<void> run_all(std::span<const Run> runs, const Options& options, const Control& control,
                     std::vector<Result<History>>& out) {
    auto all = simulate(runs, options, control);
    if (all) {
        for (auto& history : *all) out.emplace_back(std::move(history));
        return {};
    }
    if (all.error().code == Code::stopped) return fail(all.error());
    if (runs.size() == 1) {
        out.emplace_back(fail(all.error()));
        return {};
    }
    const std::size_t half = runs.size() / 2;
    return run_all(runs.first(half), options, control, out).and_then([&] {
        return run_all(runs.subspan(half), options, control, out);
    });
}

}  // namespace

std::string driver_sentence(const Verdict& verdict) {
    if (verdict.drivers.empty()) return {};
    const DriverShare& most = verdict.drivers.front();
    const auto would_be = [&](double value) {
        Finding f = verdict.deciding;
        f.value = value;
        return fmt::format("{}{}", figure(value, f), f.unit == "-" ? "" : " " + f.unit);
    };
    const double value = verdict.deciding.value;
    const double rest = std::min(verdict.without_drivers.value_or(0.0), value);
    const double share = value > rest ? (value - most.value_without) / (value - rest) : 0.0;
    const auto outcome = fmt::format("without it the {} would be {} ({})", verdict.deciding.criterion,
                                     would_be(most.value_without), name_of(most.dryness_without));
    if (value - most.value_without < 0.05 * value)
        return fmt::format("no single driver: with all of them taken away the {} would be {}",
                           verdict.deciding.criterion, would_be(rest));
    return fmt::format("{} {}: {}", share > 0.5 ? "mostly" : "partly", name_of(most.driver), outcome);
}

Result<void> find_causes(std::span<const Inquiry> inquiries, const Options& options, const Control& control,
                         const std::function<void(std::size_t)>& finished) {
    const auto& limits = built_in_thresholds();
    if (!limits) return fail(limits.error());
    Options lean = options;
    lean.carpet_columns = lean.carpet_rows = 0;
    std::vector<std::unique_ptr<Case>> cases;
    for (const auto& inquiry : inquiries) cases.push_back(std::make_unique<Case>(inquiry, *limits));
    std::vector<std::deque<Job>> waiting(cases.size());
    std::vector<bool> told(cases.size(), false);
    for (;;) {
        std::vector<std::pair<std::size_t, Job>> round;
        std::size_t complete = 0;
        for (std::size_t i = 0; i < cases.size(); ++i) {
            if (waiting[i].empty() && !cases[i]->done() && round.size() < runs_at_once)
                for (auto& job : cases[i]->next()) waiting[i].push_back(std::move(job));
            while (!waiting[i].empty() && round.size() < runs_at_once) {
                round.emplace_back(i, std::move(waiting[i].front()));
                waiting[i].pop_front();
            }
            complete += cases[i]->done() ? 1 : 0;
            if (cases[i]->done() && !told[i]) {
                told[i] = true;
                if (finished) finished(i);
            }
        }
        if (round.empty()) return {};
        const double each = 1.0 / static_cast<double>(cases.size());
        Share share(control, each * static_cast<double>(complete), each * static_cast<double>(complete + 1));
        std::vector<Run> runs;
        for (const auto& [number, job] : round) runs.push_back(job.trial.run);
        std::vector<Result<History>> histories;
        const auto solved = run_all(runs, lean, {.stop = control.stop, .progress = &share}, histories);
        if (!solved) return fail(solved.error());
        for (std::size_t k = 0; k < round.size(); ++k) {
            const auto& [number, job] = round[k];
            if (histories[k]) {
                job.take(*histories[k]);
            } else if (job.must) {
                return fail(histories[k].error());
            } else {
                cases[number]->failed(job, histories[k].error());
            }
        }
    }
}

}  // namespace warmside::moisture
