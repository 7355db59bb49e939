#include "core/rounds/search/Solver.h"
#include "core/rounds/search/Insertion.h"
#include "core/rounds/search/Recreate.h"
#include "core/rounds/search/Ruin.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

namespace kitround::rounds {
namespace {

using testing::MadeUp;
using testing::madeUpWeek;

std::string told(const Evaluation &e) {
    std::string text;
    for (const RuleBreak &b : e.broken)
        text += "rule " + std::to_string(int(b.rule)) + " job " + std::to_string(b.job) + " duty " +
                std::to_string(b.duty) + " by " + std::to_string(b.amount) + "; ";
    return text;
}

std::vector<MadeUp> manyKinds() {
    std::vector<MadeUp> kinds;
    kinds.push_back({});
    kinds.push_back({.patients = 30, .nurses = 4, .twoNurseShare = 0.2, .softShare = 0.5, .hasBlocks = true});
    kinds.push_back({.patients = 25, .nurses = 3, .lockShare = 0.3, .publishedShare = 0.5});
    kinds.push_back({.patients = 40, .nurses = 2, .hasBreaks = false});
    kinds.push_back({.patients = 12, .nurses = 3, .days = 3, .windowShare = 1.0, .publishedShare = 1.0});
    return kinds;
}

TEST(SolverTest, NeverBreaksAHardRule) {
    std::uint64_t seed = 1;
    for (const MadeUp &kind : manyKinds())
        for (int k = 0; k < 3; ++k, ++seed) {
            const WeekProblem problem = madeUpWeek(kind, seed);
            SolveOptions options;
            options.seed = seed;
            options.iterations = 60;
            const auto report = solve(problem, options, {}, {});
            ASSERT_TRUE(report) << debugText(report.error());
            const Evaluation e = evaluate(problem, report->plan);
            EXPECT_TRUE(e.broken.empty()) << "seed " << seed << ": " << told(e);
        }
}

TEST(WorkingPlanTest, RunningCostAgreesWithThePlainEvaluation) {
    std::uint64_t seed = 100;
    for (const MadeUp &kind : manyKinds())
        for (int k = 0; k < 2; ++k, ++seed) {
            const WeekProblem problem = madeUpWeek(kind, seed);
            WorkingPlan plan(problem);
            Inserter inserter(plan);
            Recreate recreate(plan, inserter);
            Ruin ruin(problem);
            Random random(seed);
            recreate.construct({});
            plan.mark();
            std::vector<std::int32_t> removed;
            for (int i = 0; i < 40; ++i) {
                const double before = plan.cost();
                ASSERT_NEAR(before, evaluate(problem, plan.plan()).parts.total(), 1e-6)
                    << "seed " << seed << " step " << i;
                ruin(plan, random, 8, removed);
                ASSERT_NEAR(plan.cost(), evaluate(problem, plan.plan()).parts.total(), 1e-6);
                recreate.repair(random, removed);
                ASSERT_NEAR(plan.cost(), evaluate(problem, plan.plan()).parts.total(), 1e-6);
                if (random.chance(0.5)) {
                    plan.rollBack();
                    ASSERT_DOUBLE_EQ(plan.cost(), before);
                } else {
                    plan.mark();
                }
            }
        }
}

TEST(InserterTest, TellsTheChangeOfTheWholeCost) {
    std::uint64_t seed = 200;
    for (MadeUp kind : manyKinds()) {
        kind.riderShare = 0.3;
        const WeekProblem problem = madeUpWeek(kind, ++seed);
        WorkingPlan plan(problem);
        Inserter inserter(plan);
        Random random(seed);
        for (std::int32_t job = 0; job < static_cast<std::int32_t>(problem.jobs.size()); ++job) {
            const double before = plan.cost();
            const Insertion best = inserter.best(job);
            if (!best.isFound())
                continue;
            ASSERT_TRUE(inserter.apply(job, best));
            EXPECT_NEAR(plan.cost() - before, best.cost, 1e-6) << "seed " << seed << " job " << job;
        }
    }
}

} // namespace
} // namespace kitround::rounds
