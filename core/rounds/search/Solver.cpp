#include "core/rounds/search/Solver.h"

#include "core/rounds/problem/Riders.h"
#include "core/rounds/search/Annealing.h"
#include "core/rounds/search/Begun.h"
#include "core/rounds/search/Crossing.h"
#include "core/rounds/search/Descent.h"
#include "core/rounds/search/Islands.h"
#include "core/rounds/search/OpenWeight.h"
#include "core/rounds/search/PlanKeeper.h"
#include "core/rounds/search/Population.h"
#include "core/rounds/search/Recreate.h"
#include "core/rounds/search/Ruin.h"
#include "core/rounds/search/Standing.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <memory>
#include <thread>

namespace kitround::rounds {
namespace {

constexpr std::size_t kAlwaysConstructed = 1000; // visits
// Temperatures in the mean cost of a visit that has its place. The more work a visit gets, the hotter the
// start that pays: found by trial on routes of 100 visits (15,000 iterations each) and weeks of 600 (50
// each).
constexpr double kWorkOfHalf = 50; // iterations a visit for which the start is half that cost
constexpr double kHottest = 3, kColdest = 0.3;
constexpr double kLastOfFirst = 0.01, kLastAtLeast = 0.01;
constexpr double kGuessUntil = 0.02;  // share of the time after which the work to come is known
constexpr double kSearchShare = 0.98; // of the time; the rest is for the last descent
// Where a visit gets so much work that one annealing has long settled, several plans are annealed one after
// another in a part of it; the rest goes into children of two of them (Crossing), each annealed from a lower
// temperature. Found by trial on routes of 100 and 200 visits.
constexpr double kWorkOfBreeding = 5000; // iterations a visit
constexpr int kFounders = 8;
constexpr double kFoundersShare = 0.5, kChildShare = 0.02;
constexpr double kChildHottest = 0.3, kChildColdest = 0.01;
// An open visit's weight, in the mean cost of a placed one: at half of one, routes of eleven visits a round
// became half a percent worse.
constexpr double kOpenAtLeast = 3;
constexpr int kMostThreads = 64;
constexpr std::int64_t kLookEvery = 8; // iterations between looks at the clock
constexpr double kTraceEvery = 0.02;   // seconds

class Stopwatch {
public:
    double seconds() const {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
    }

private:
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

class Search {
public:
    Search(const WeekProblem &problem, const Standing *standing, const SolveOptions &options,
           std::uint64_t seed, std::stop_token stop, const ProgressSink &progress)
        : p_(problem), standing_(standing), options_(options), stop_(std::move(stop)), progress_(progress),
          plan_(problem, standing ? &standing->scope() : nullptr), inserter_(plan_),
          near_(problem, plan_.jobsInPlay()), recreate_(plan_, inserter_), ruin_(problem, near_),
          crossing_(problem, near_), random_(seed), keeper_(problem), legKeeper_(problem),
          population_(problem) {}

    // Others may be looked at between two waits only; nobody else then changes.
    void join(Islands &islands, const std::vector<std::unique_ptr<Search>> &all) {
        islands_ = &islands;
        all_ = &all;
    }
    void search() {
        first();
        improve();
        descend();
        tell(true);
        if (islands_)
            islands_->leave();
    }
    double best() const { return best_; }
    std::int64_t iterations() const { return report_.iterations; }

    SolveReport report() {
        report_.plan = keeper_.plan(plan_);
        report_.parts = evaluate(p_, report_.plan).parts;
        report_.plan.cost = report_.parts.total();
        report_.seconds = watch_.seconds();
        report_.trace.emplace_back(report_.seconds, report_.plan.cost);
        return std::move(report_);
    }

private:
    void first() {
        if (standing_)
            plan_.stand(standing_->plan());
        else if (options_.keepPublished)
            recreate_.keepPublished();
        // A week that is planned in a blink gets its first plan even where a stop was asked for meanwhile.
        recreate_.construct(p_.jobs.size() > kAlwaysConstructed ? stop_ : std::stop_token());
        plan_.mark();
        current_ = plan_.cost();
        keepBest();
        report_.firstPlanSeconds = watch_.seconds();
        tell(true);
    }

    // Mean cost of a visit that has its place: the scale on which one plan is worse than another.
    double scale() const {
        double cost = current_;
        for (const std::int32_t job : plan_.unplaced())
            cost -= plan_.unplacedCost(job);
        const std::size_t placed = p_.jobs.size() - plan_.unplaced().size();
        return std::max(1e-6, std::abs(cost) / static_cast<double>(std::max<std::size_t>(1, placed)));
    }

    // A stretch of annealing: shares of the work, temperatures in units.
    struct Leg {
        double from = 0, until = 1, hot = 0, cold = 0;
    };

    void improve() {
        if (plan_.jobsInPlay().empty() || p_.duties.empty())
            return;
        unit_ = scale();
        for (int founder = 0; founder < kFounders && !isDone(); ++founder) {
            anneal(founderLeg(founder), founder);
            if (!breeds())
                return;
            population_.add(plan_, current_);
        }
        while (!isDone())
            breed();
    }

    bool breeds() const {
        return !plan_.hasLinks() && work_ >= kWorkOfBreeding * static_cast<double>(p_.jobs.size());
    }

    Leg founderLeg(int founder) const {
        Leg leg;
        if (breeds()) {
            leg.from = kFoundersShare * founder / kFounders;
            leg.until = kFoundersShare * (founder + 1) / kFounders;
        }
        // (work / kWorkOfHalf)^(3/8) by square roots, which every machine rounds alike.
        const double work = work_ * (leg.until - leg.from);
        const double quarter = std::sqrt(std::sqrt(work / static_cast<double>(p_.jobs.size()) / kWorkOfHalf));
        leg.hot = std::clamp(0.5 * quarter * std::sqrt(quarter), kColdest, kHottest);
        leg.cold = std::max(kLastAtLeast, leg.hot * kLastOfFirst);
        return leg;
    }

    // Nobody who asks to stop waits for it.
    void descend() {
        const auto isOver = [&] {
            return stop_.stop_requested() || (options_.seconds > 0 && watch_.seconds() > options_.seconds);
        };
        if (isOver())
            return;
        keeper_.giveTo(plan_);
        keeper_.noteAll();
        current_ = Descent(plan_, inserter_, recreate_, near_).run(plan_.cost(), isOver);
        if (current_ < best_ - kHair)
            keepBest();
    }

    void breed() {
        const std::size_t one = population_.draw(random_), other = population_.draw(random_);
        population_.plan(one).giveTo(plan_);
        if (one != other) {
            crossing_(plan_, population_.plan(other), random_, open_);
            recreate_.repair(random_, open_);
        }
        plan_.mark();
        current_ = plan_.cost();
        keeper_.noteAll();
        if (current_ < best_ - kHair)
            keepBest();
        const double now = share(report_.iterations);
        anneal({now, std::min(1.0, now + kChildShare), kChildHottest, kChildColdest}, -1);
        population_.add(plan_, current_);
    }

    // Ends with the best plan of the leg as the current one. `founder` < 0: a child's leg, as given.
    void anneal(Leg leg, int founder) {
        Annealing annealing(1, 1);
        OpenWeight openWeight(kOpenAtLeast * unit_ / lightestOpen());
        const std::int64_t first = report_.iterations;
        legKeeper_.noteAll();
        legBest_ = founder < 0 ? current_ : kImpossible;
        if (founder < 0)
            legKeeper_.keep(plan_);
        keeper_.noteAll();
        for (std::int64_t i = first; i < options_.iterations; ++i) {
            if ((i - first) % kLookEvery == 0) {
                const double done = share(i);
                if (isOver() || done >= leg.until)
                    break;
                if (i == 0 || isGuess(done))
                    guessWork(done, i);
                if (i == first || isGuess(done)) {
                    if (founder >= 0)
                        leg = founderLeg(founder);
                    annealing.setRange(leg.hot * unit_, leg.cold * unit_);
                }
                annealing.cool((done - leg.from) / (leg.until - leg.from));
                for (; islands_ && met_ < Islands::kMeetAt.size() && done >= Islands::kMeetAt[met_]; ++met_)
                    meet();
                tell(false);
            }
            ruin_(plan_, random_, removed_);
            recreate_.repair(random_, removed_);
            const double cost = plan_.cost();
            if (cost < annealing.threshold(current_, random_))
                accept(cost);
            else
                plan_.rollBack();
            if (founder < 0 && openWeight.note(plan_.unplaced().empty()))
                weighOpen(openWeight.share());
            report_.iterations = i + 1;
        }
        weighOpen(1);
        if (legBest_ < kImpossible)
            legKeeper_.giveTo(plan_);
        current_ = plan_.cost();
    }

    // The cost by the full weights, whatever an open visit weighs in the search just now.
    double fullCost() const { return current_ + plan_.forgiven(); }
    void weighOpen(double share) {
        plan_.setOpenShare(share);
        current_ = plan_.cost();
    }
    double lightestOpen() const {
        double least = kImpossible;
        for (const Job &job : p_.jobs)
            least = std::min(least, p_.weights.unplaced[static_cast<std::size_t>(job.priority)]);
        return std::max(least, 1e-6);
    }

    void accept(double cost) {
        current_ = cost;
        keeper_.note(plan_.touched());
        legKeeper_.note(plan_.touched());
        plan_.mark();
        const double full = fullCost();
        if (full < legBest_ - kHair) {
            legBest_ = full;
            legKeeper_.keep(plan_);
        }
        if (full < best_ - kHair)
            keepBest();
    }

    bool isGuess(double done) const { return options_.seconds > 0 && done < begun_ + kGuessUntil; }
    // By the pace since the first iteration: what went before it, or kept it waiting, tells nothing of the
    // rest.
    void guessWork(double done, std::int64_t iterations) {
        if (iterations == 0)
            begun_ = done;
        work_ = static_cast<double>(options_.iterations);
        if (options_.seconds > 0 && iterations > 0)
            work_ = std::min(work_, static_cast<double>(iterations) * std::max(0.0, 1.0 - begun_) /
                                        std::max(done - begun_, 1e-6));
    }

    // Where another's best plan is better, on from there.
    void meet() {
        islands_->wait();
        const Search *leader = all_->front().get();
        for (const auto &other : *all_)
            if (other->best_ < leader->best_)
                leader = other.get();
        const double leading = leader->best_;
        if (leader != this && leading < best_ - kHair)
            leader->keeper_.giveTo(plan_);
        islands_->wait(); // all have read before any writes
        if (leader != this && leading < best_ - kHair) {
            keeper_.noteAll();
            legKeeper_.noteAll();
            accept(plan_.cost());
        }
    }

    double share(std::int64_t iteration) const {
        const double work = options_.iterations > 0
                                ? static_cast<double>(iteration) / static_cast<double>(options_.iterations)
                                : 1;
        return options_.seconds > 0 ? std::max(work, watch_.seconds() / searchSeconds()) : work;
    }

    double searchSeconds() const { return kSearchShare * options_.seconds; }
    bool isDone() { return isOver() || report_.iterations >= options_.iterations; }
    bool isOver() {
        report_.wasStopped =
            stop_.stop_requested() || (options_.seconds > 0 && watch_.seconds() > searchSeconds());
        return report_.wasStopped;
    }

    void keepBest() {
        best_ = fullCost();
        keeper_.keep(plan_);
        unplaced_ = static_cast<int>(plan_.unplaced().size());
        const double now = watch_.seconds();
        if (report_.trace.empty() || now > report_.trace.back().first + kTraceEvery)
            report_.trace.emplace_back(now, best_);
    }

    void tell(bool isMilestone) {
        if (!progress_ || (!isMilestone && watch_.seconds() < nextTell_))
            return;
        nextTell_ = watch_.seconds() + 0.1;
        progress_({std::min(1.0, share(report_.iterations)), "search", best_, unplaced_});
    }

    const WeekProblem &p_;
    const Standing *standing_; // nullptr: none
    const SolveOptions options_;
    std::stop_token stop_;
    const ProgressSink &progress_;
    Stopwatch watch_;
    WorkingPlan plan_;
    Inserter inserter_;
    Nearness near_;
    Recreate recreate_;
    Ruin ruin_;
    Crossing crossing_;
    Random random_;
    PlanKeeper keeper_;    // the best of all
    PlanKeeper legKeeper_; // of this leg
    Population population_;
    std::vector<std::int32_t> removed_, open_;
    SolveReport report_;
    double unit_ = 1;
    double work_ = 0;  // iterations, known or guessed
    double begun_ = 0; // share of the time that was over at the first iteration
    double current_ = 0;
    double best_ = 0;
    double legBest_ = 0;
    double nextTell_ = 0;
    int unplaced_ = 0;
    Islands *islands_ = nullptr;
    const std::vector<std::unique_ptr<Search>> *all_ = nullptr;
    std::size_t met_ = 0;
};

SolveReport searchTogether(const WeekProblem &problem, const Standing *standing, const SolveOptions &options,
                           const std::stop_token &stop, const ProgressSink &progress) {
    const auto count = static_cast<std::size_t>(std::clamp(options.threads, 1, kMostThreads));
    std::vector<std::unique_ptr<Search>> searches;
    Random seeds(options.seed);
    const ProgressSink silent;
    for (std::size_t i = 0; i < count; ++i)
        searches.push_back(std::make_unique<Search>(problem, standing, options,
                                                    i == 0 ? options.seed : seeds.next(), stop,
                                                    i == 0 ? progress : silent));
    Islands islands(count);
    std::vector<std::jthread> threads;
    for (std::size_t i = 0; i < count && count > 1; ++i)
        searches[i]->join(islands, searches);
    for (std::size_t i = 1; i < count; ++i)
        threads.emplace_back([&, i] { searches[i]->search(); });
    searches[0]->search();
    threads.clear(); // joins
    Search *best = searches[0].get();
    std::int64_t iterations = 0;
    for (const auto &search : searches) {
        iterations += search->iterations();
        if (search->best() < best->best())
            best = search.get();
    }
    SolveReport report = best->report();
    report.iterations = iterations;
    return report;
}

// Links tie all rounds together: then none of them is far.
SolveReport searchFrom(const WeekProblem &problem, const SolveOptions &options, const std::stop_token &stop,
                       const ProgressSink &progress) {
    if (!options.standing || !problem.links.empty() || problem.weights.worstSoft != 0)
        return searchTogether(problem, nullptr, options, stop, progress);
    Standing standing(problem, *options.standing);
    SolveReport report = searchTogether(problem, &standing, options, stop, progress);
    if (standing.lost(report.plan)) {
        standing.widen();
        report = searchTogether(problem, &standing, options, stop, progress);
    }
    return report;
}

// What is kept from the search costs it what an open visit does, and is none.
ProgressSink withoutKept(const WeekProblem &problem, const std::vector<std::int32_t> &kept,
                         const ProgressSink &progress) {
    if (!progress || kept.empty())
        return progress;
    double cost = 0;
    for (const std::int32_t job : kept)
        cost += problem.weights
                    .unplaced[static_cast<std::size_t>(problem.jobs[static_cast<std::size_t>(job)].priority)];
    return [cost, open = static_cast<int>(kept.size()), progress](const Progress &told) {
        Progress now = told;
        now.measure -= cost;
        now.open -= open;
        progress(now);
    };
}

// One more time where the search gave up a visit that has begun.
Result<SolveReport> searchBesideBegun(const WeekProblem &problem, const SolveOptions &options,
                                      const std::stop_token &stop, const ProgressSink &progress) {
    Begun begun(problem);
    for (int attempt = 0;; ++attempt) {
        const WeekProblem rest = begun.rest();
        if (Result<void> checked = checkProblem(rest); !checked)
            return checked.error();
        const ProgressSink telling = withoutKept(problem, begun.kept(), progress);
        SolveReport report = searchFrom(rest, options, stop, telling);
        if (!begun.restore(report.plan) && attempt == 0)
            continue;
        RiderMatcher(problem).assign(report.plan.placements, report.plan.riderJob);
        report.parts = evaluate(problem, report.plan).parts;
        report.plan.cost = report.parts.total();
        report.trace.back().second = report.plan.cost;
        return report;
    }
}

} // namespace

Result<SolveReport> solve(const WeekProblem &problem, const SolveOptions &options, std::stop_token stop,
                          const ProgressSink &progress) {
    if (Result<void> checked = checkProblem(problem); !checked)
        return checked.error();
    if (std::ranges::any_of(problem.jobs, &Job::hasBegun))
        return searchBesideBegun(problem, options, stop, progress);
    return searchFrom(problem, options, stop, progress);
}

} // namespace kitround::rounds
