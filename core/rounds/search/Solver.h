#pragma once
// Construction by cheapest insertion with regret, then a local search over nurses and days with late
// acceptance and ruin-and-recreate. Any-time: stopping gives the best plan so far. Deterministic: same
// problem, seed and iterations give the same plan on any machine (seconds are an outer guard only).
#include "core/base/Progress.h"
#include "core/base/Result.h"
#include "core/rounds/problem/CostModel.h"

#include <stop_token>

namespace kitround::rounds {

struct SolveOptions {
    std::uint64_t seed = 1;
    std::int64_t iterations = 20000; // work limit
    double seconds = 0;              // 0 = no guard
    bool keepPublished = true;       // start from the published plan where there is one
};
struct SolveReport {
    WeekPlan plan;
    CostParts parts;
    std::int64_t iterations = 0;
    double firstPlanSeconds = 0;
    double seconds = 0;
    bool wasStopped = false;
};
// Progress: stage "search", measure = best cost, open = unplaced. At most ten a second.
Result<SolveReport> solve(const WeekProblem &problem, const SolveOptions &options, std::stop_token stop,
                          const ProgressSink &progress);

} // namespace kitround::rounds
