#pragma once
// Construction by cheapest insertion with regret, then ruin and recreate over nurses and days under simulated
// annealing; where there is work enough, a population of annealed plans that are crossed (hybrid genetic
// search: Vidal, Crainic, Gendreau, Lahrichi and Rei, Operations Research 60(3), 2012). Any-time: stopping
// gives the best plan so far. Deterministic: same problem, seed and iterations give the same plan on any
// machine. Seconds are for those who wait: with them the cooling follows the clock, and the plan depends on
// the machine.
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/rounds/problem/CostModel.h"

#include <stop_token>

namespace kitround::rounds {

struct SolveOptions {
    std::uint64_t seed = 1;
    std::int64_t iterations = 20000; // work limit
    double seconds = 0;              // 0 = no limit; else whichever comes first
    bool keepPublished = true;       // start from the published plan where there is one
    // Else from this one, as far as it still can be; what lies far from what it leaves without a place then
    // stays as it is (Standing). Outlives the call.
    const WeekPlan *standing = nullptr;
    int threads = 1; // searches side by side, each with the whole work
};
struct SolveReport {
    WeekPlan plan;
    CostParts parts;
    std::int64_t iterations = 0;
    double firstPlanSeconds = 0;
    double seconds = 0;
    bool wasStopped = false;
    std::vector<std::pair<double, double>> trace; // seconds and best cost, as it fell; thinned
};
// What has begun keeps its place whatever rule that breaks (Begun); the rest breaks none.
// Progress: stage "search", measure = best cost, open = unplaced. At most ten a second.
Result<SolveReport> solve(const WeekProblem &problem, const SolveOptions &options, std::stop_token stop,
                          const ProgressSink &progress);

} // namespace kitround::rounds
