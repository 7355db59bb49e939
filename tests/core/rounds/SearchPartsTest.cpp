// Parts of the search held to plain ways of saying the same.
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/search/Annealing.h"
#include "core/rounds/search/Crossing.h"
#include "core/rounds/search/OpenWeight.h"
#include "core/rounds/search/Population.h"
#include "core/rounds/search/Recreate.h"
#include "core/rounds/search/Ruin.h"
#include "core/rounds/search/Solver.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

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

TEST(OpenWeightTest, EasesWhilePlansAreCompleteAndComesBackWhereTooFewAre) {
    OpenWeight weight(0.5);
    const auto note = [&](int complete, int open) {
        bool hasChanged = false;
        for (int i = 0; i < complete; ++i)
            hasChanged = weight.note(true) || hasChanged;
        for (int i = 0; i < open; ++i)
            hasChanged = weight.note(false) || hasChanged;
        return hasChanged;
    };
    EXPECT_FALSE(note(99, 0));
    EXPECT_EQ(weight.share(), 1);
    EXPECT_TRUE(note(1, 0));
    EXPECT_NEAR(weight.share(), 1 / 1.2, 1e-12);
    EXPECT_TRUE(note(90, 10)); // nine of ten are enough
    EXPECT_NEAR(weight.share(), 1 / 1.44, 1e-12);
    EXPECT_TRUE(note(89, 11));
    EXPECT_NEAR(weight.share(), 1 / 1.2, 1e-12);
    note(1000, 0);
    EXPECT_EQ(weight.share(), 0.5);
    for (int i = 0; i < 10; ++i)
        note(0, 100);
    EXPECT_EQ(weight.share(), 1);
    EXPECT_FALSE(note(0, 100));
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

// A first plan with its best kept, and another one by the same hand from a random half of it.
class TwoPlans {
public:
    TwoPlans(const WeekProblem &problem, std::uint64_t seed)
        : near(problem), plan(problem), inserter(plan), recreate(plan, inserter), random(seed),
          other(problem) {
        recreate.construct({});
        plan.mark();
        std::vector<std::int32_t> removed;
        for (std::size_t j = 0; j < problem.jobs.size(); ++j)
            if (const auto job = static_cast<std::int32_t>(j); random.chance(0.5) && plan.isPlaced(job)) {
                plan.remove(job);
                removed.push_back(job);
            }
        recreate.repair(random, removed);
        plan.mark();
        other.keep(plan);
        otherCost = plan.cost();
        for (int k = 0; k < 20; ++k) {
            Ruin(problem, near)(plan, random, removed);
            recreate.repair(random, removed);
        }
        plan.mark();
    }
    Nearness near;
    WorkingPlan plan;
    Inserter inserter;
    Recreate recreate;
    Random random;
    PlanKeeper other;
    double otherCost = 0;
};

TEST(CrossingTest, AChildKeepsEveryHardRuleAndTakesRoundsOfBoth) {
    int fromOther = 0, fromFirst = 0;
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        const WeekProblem week = madeUpWeek(
            {.patients = 40, .nurses = 4, .twoNurseShare = 0.1, .windowShare = 0.5, .followShare = 0.2},
            seed);
        TwoPlans two(week, seed);
        const std::vector<Placement> first = two.plan.placements();
        Crossing crossing(week, two.near);
        std::vector<std::int32_t> open;
        const bool differed = crossing(two.plan, two.other, two.random, open);
        if (!differed)
            continue;
        for (const std::int32_t job : open)
            EXPECT_FALSE(two.plan.isPlaced(job));
        const WeekPlan child = two.plan.plan();
        EXPECT_TRUE(evaluate(week, child).broken.empty()) << seed;
        EXPECT_NEAR(two.plan.cost(), evaluate(week, child).parts.total(), 1e-6) << "the sums are kept";
        for (std::size_t d = 0; d < week.duties.size(); ++d)
            for (const std::int32_t job : two.other.jobsOf(static_cast<std::int32_t>(d))) {
                const auto now = child.placements[static_cast<std::size_t>(job)].duty;
                if (first[static_cast<std::size_t>(job)].duty == now)
                    ++fromFirst;
                else if (now == static_cast<std::int32_t>(d))
                    ++fromOther;
            }
    }
    EXPECT_GT(fromOther, 30);
    EXPECT_GT(fromFirst, 300);
}

TEST(PopulationTest, OfNearlyTheSameTheBetterStaysAndTheDearestGoes) {
    const WeekProblem week = madeUpWeek({.patients = 40, .nurses = 4}, 3);
    Population population(week);
    TwoPlans two(week, 3);
    const auto costs = [&] {
        std::set<double> seen; // drawn often enough that each is seen
        for (int k = 0; k < 400; ++k)
            seen.insert(population.cost(population.draw(two.random)));
        return seen;
    };
    population.add(two.plan, 100);
    population.add(two.plan, 90);
    population.add(two.plan, 95);
    EXPECT_EQ(population.size(), 1U) << "the same plan three times";
    EXPECT_EQ(costs(), std::set<double>{90});
    std::vector<std::int32_t> removed;
    for (int k = 0; k < 60; ++k) {
        for (int i = 0; i < 20; ++i) {
            Ruin(week, two.near)(two.plan, two.random, removed);
            two.recreate.repair(two.random, removed);
        }
        population.add(two.plan, 80 - k);
    }
    EXPECT_EQ(population.size(), 10U);
    EXPECT_EQ(*costs().begin(), 21) << "the best is in";
    EXPECT_FALSE(costs().contains(90)) << "the dearest went";
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

// So much work a visit that plans are crossed (kWorkOfBreeding in Solver.cpp).
TEST(SolverTest, WithMuchWorkAVisitTheSameSeedStillGivesTheSamePlan) {
    const WeekProblem problem = madeUpWeek({.patients = 6, .nurses = 2, .visitsPerPatient = 1}, 702);
    SolveOptions options;
    options.iterations = 6000 * static_cast<std::int64_t>(problem.jobs.size());
    const auto once = solve(problem, options, {}, {});
    const auto again = solve(problem, options, {}, {});
    ASSERT_TRUE(once && again);
    EXPECT_EQ(once->iterations, options.iterations);
    EXPECT_EQ(once->plan.cost, again->plan.cost);
    EXPECT_TRUE(evaluate(problem, once->plan).broken.empty());
    // What an open visit weighs changes on the way; what is told and kept is by its full weight.
    double told = 0;
    const auto watched = solve(problem, options, {}, [&](const Progress &now) { told = now.measure; });
    ASSERT_TRUE(watched);
    EXPECT_NEAR(told, watched->plan.cost, 1e-6);
    options.iterations /= 60;
    const auto quick = solve(problem, options, {}, {});
    ASSERT_TRUE(quick);
    EXPECT_LE(once->plan.cost, quick->plan.cost + 1e-9);
}

} // namespace
} // namespace kitround::rounds
