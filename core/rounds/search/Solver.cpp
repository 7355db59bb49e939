#include "core/rounds/search/Solver.h"

#include "core/rounds/search/LateAcceptance.h"
#include "core/rounds/search/Moves.h"
#include "core/rounds/search/Recreate.h"
#include "core/rounds/search/Ruin.h"

#include <algorithm>
#include <chrono>

namespace kitround::rounds {
namespace {

constexpr std::size_t kHistory = 300;
constexpr int kMostRemoved = 10;
constexpr std::size_t kAlwaysConstructed = 1000;
constexpr double kHair = 1e-7; // sums of doubles differ by less than this for the same plan

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
    Search(const WeekProblem &problem, const SolveOptions &options, std::stop_token stop,
           const ProgressSink &progress)
        : p_(problem), options_(options), stop_(std::move(stop)), progress_(progress), plan_(problem),
          inserter_(plan_), near_(problem), recreate_(plan_, inserter_), ruin_(problem, near_),
          random_(options.seed) {}

    SolveReport run() {
        first();
        improve();
        report_.parts = evaluate(p_, report_.plan).parts;
        report_.plan.cost = report_.parts.total();
        report_.seconds = watch_.seconds();
        return std::move(report_);
    }

private:
    void first() {
        if (options_.keepPublished)
            recreate_.keepPublished();
        // A first plan of a usual week takes a moment; a stop asked for meanwhile still gets it.
        recreate_.construct(p_.jobs.size() <= kAlwaysConstructed ? std::stop_token() : stop_);
        plan_.mark();
        current_ = plan_.cost();
        keepBest();
        report_.firstPlanSeconds = watch_.seconds();
        tell(true);
    }

    void improve() {
        if (p_.jobs.empty() || p_.duties.empty())
            return;
        LateAcceptance acceptance(kHistory, current_);
        std::vector<std::int32_t> removed;
        for (std::int64_t i = 0; i < options_.iterations; ++i) {
            if (isOver(i))
                break;
            ruin_(plan_, random_, kMostRemoved, removed);
            recreate_.repair(random_, removed);
            const double cost = plan_.cost();
            if (acceptance.accepts(cost, current_)) {
                current_ = cost;
                const std::vector<std::int32_t> touched = plan_.touched();
                plan_.mark();
                if (current_ < best_ - kHair) {
                    polish(touched);
                    keepBest();
                }
            } else {
                plan_.rollBack();
            }
            acceptance.record(current_);
            report_.iterations = i + 1;
            tell(false);
        }
        tell(true);
    }

    // Every move on the duties until none helps. On new best plans only: ruin and recreate finds most of it,
    // and what it leaves is worth the time there.
    void polish(const std::vector<std::int32_t> &duties) {
        MoveTools tools{plan_, inserter_, near_};
        for (bool any = true; any && !stop_.stop_requested();) {
            any = false;
            for (const std::int32_t duty : duties)
                for (const auto move : {orOpt, swapTails, relocate, exchange})
                    any = move(tools, duty) || any;
        }
        current_ = plan_.cost();
    }

    bool isOver(std::int64_t iteration) {
        if (stop_.stop_requested() ||
            (options_.seconds > 0 && iteration % 16 == 0 && watch_.seconds() > options_.seconds)) {
            report_.wasStopped = true;
            return true;
        }
        return false;
    }

    void keepBest() {
        best_ = current_;
        report_.plan = plan_.plan();
        open_ = static_cast<int>(plan_.unplaced().size());
    }

    void tell(bool isMilestone) {
        if (!progress_ || (!isMilestone && watch_.seconds() < nextTell_))
            return;
        nextTell_ = watch_.seconds() + 0.1;
        const double share = options_.iterations > 0 ? static_cast<double>(report_.iterations) /
                                                           static_cast<double>(options_.iterations)
                                                     : 1;
        progress_({share, "search", best_, open_});
    }

    const WeekProblem &p_;
    const SolveOptions &options_;
    std::stop_token stop_;
    const ProgressSink &progress_;
    Stopwatch watch_;
    WorkingPlan plan_;
    Inserter inserter_;
    Nearness near_;
    Recreate recreate_;
    Ruin ruin_;
    Random random_;
    SolveReport report_;
    double current_ = 0;
    double best_ = 0;
    double nextTell_ = 0;
    int open_ = 0;
};

} // namespace

Result<SolveReport> solve(const WeekProblem &problem, const SolveOptions &options, std::stop_token stop,
                          const ProgressSink &progress) {
    if (Result<void> checked = checkProblem(problem); !checked)
        return checked.error();
    return Search(problem, options, std::move(stop), progress).run();
}

} // namespace kitround::rounds
