// Parts of the search held to plain ways of saying the same.
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/search/Annealing.h"
#include "core/rounds/search/Solver.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <cmath>

namespace kitround::rounds {
namespace {

using testing::madeUpWeek;

TEST(AnnealingTest, TheSteadyLogarithmIsTheLogarithm) {
    for (double x = 1; x > 1e-12; x *= 0.83)
        EXPECT_NEAR(steadyLog(x), std::log(x), 1e-11 * (1 - std::log(x)));
}

TEST(AnnealingTest, CoolsGeometrically) {
    // Half way from 8 to 2 is the square root of 8 x 2 = 4. With U near 1 nothing worse is accepted.
    Annealing annealing(8, 2);
    Random random(1);
    const auto meanAbove = [&](double share) {
        annealing.cool(share);
        double sum = 0;
        for (int i = 0; i < 40000; ++i)
            sum += annealing.threshold(100, random) - 100;
        return sum / 40000; // -T ln U has the mean T
    };
    EXPECT_NEAR(meanAbove(0), 8, 0.2);
    EXPECT_NEAR(meanAbove(0.5), 4, 0.1);
    EXPECT_NEAR(meanAbove(1), 2, 0.05);
}

// The fast clock for common duties says what the general one says: the general one is made to run by a second
// hard window that lies within the first and so allows nothing more.
TEST(DutyTimerTest, TheFastClockAgreesWithTheGeneralOne) {
    int timed = 0;
    for (std::uint64_t seed = 700; seed < 720; ++seed) {
        const WeekProblem fast = madeUpWeek(
            {.patients = 20, .nurses = 3, .windowShare = 0.7, .softShare = 0.3, .publishedShare = 0.2}, seed);
        WeekProblem general = fast;
        for (Job &job : general.jobs)
            for (auto &windows : job.windows) {
                const auto hard = std::ranges::find_if(windows, &TimeWindow::isHard);
                const bool hasHard = hard != windows.end();
                const TimeWindow same = hasHard ? *hard : TimeWindow{0, 1440, true};
                for (int k = 0; k < (hasHard ? 1 : 2); ++k)
                    windows.push_back(same);
            }
        DutyTimer a(fast), b(general);
        Random random(seed);
        std::vector<std::int32_t> jobs;
        std::vector<Minute> startsA, startsB;
        for (int k = 0; k < 400; ++k) {
            const auto duty = static_cast<std::int32_t>(random.below(fast.duties.size()));
            jobs.clear();
            const auto want = random.between(1, 5);
            while (std::ssize(jobs) < want) {
                const auto job = static_cast<std::int32_t>(random.below(fast.jobs.size()));
                if (std::ranges::find(jobs, job) == jobs.end())
                    jobs.push_back(job);
            }
            RouteCost costA, costB;
            const bool isTimed = a.time(duty, jobs, {}, startsA, costA);
            ASSERT_EQ(isTimed, b.time(duty, jobs, {}, startsB, costB)) << seed;
            if (!isTimed)
                continue;
            ++timed;
            EXPECT_EQ(startsA, startsB);
            EXPECT_NEAR(costA.cost, costB.cost, 1e-9);
            EXPECT_EQ(costA.paid, costB.paid);
        }
    }
    EXPECT_GT(timed, 500);
}

TEST(SolverTest, TwoSearchesSideBySideGiveTheSamePlanAgain) {
    const WeekProblem problem = madeUpWeek({.patients = 25, .nurses = 4, .twoNurseShare = 0.1}, 701);
    SolveOptions options;
    options.iterations = 640;
    options.threads = 2;
    const auto once = solve(problem, options, {}, {});
    const auto again = solve(problem, options, {}, {});
    ASSERT_TRUE(once);
    ASSERT_TRUE(again);
    EXPECT_EQ(once->iterations, 1280);
    EXPECT_EQ(once->plan.cost, again->plan.cost);
    for (std::size_t j = 0; j < problem.jobs.size(); ++j) {
        EXPECT_EQ(once->plan.placements[j].duty, again->plan.placements[j].duty);
        EXPECT_EQ(once->plan.placements[j].start, again->plan.placements[j].start);
    }
    EXPECT_TRUE(evaluate(problem, once->plan).broken.empty());
    EXPECT_NEAR(evaluate(problem, once->plan).parts.total(), once->plan.cost, 1e-9);
}

} // namespace
} // namespace kitround::rounds
