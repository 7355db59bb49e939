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
    kinds.push_back({.patients = 20, .nurses = 2, .days = 21, .visitsPerPatient = 4, .weekdaysOfNurse = 4});
    kinds.push_back({.patients = 12, .nurses = 3, .days = 3, .windowShare = 1.0, .publishedShare = 1.0});
    kinds.push_back({.patients = 24, .nurses = 5, .windowShare = 0.1, .followShare = 1.0});
    kinds.push_back({.patients = 24,
                     .nurses = 5,
                     .publishedShare = 0.4,
                     .followShare = 1.0,
                     .hasBreaks = false,
                     .hasBlocks = true});
    kinds.push_back({.patients = 24, .nurses = 5, .twoNurseShare = 0.2, .sharedShare = 0.5});
    kinds.push_back(
        {.patients = 24, .nurses = 5, .publishedShare = 0.4, .followShare = 0.5, .sharedShare = 0.5});
    return kinds;
}

TEST(SolverTest, NeverBreaksAHardRule) {
    std::uint64_t seed = 1;
    for (const MadeUp &kind : manyKinds())
        for (int k = 0; k < 3; ++k, ++seed) {
            const WeekProblem problem = madeUpWeek(kind, seed);
            SolveOptions options;
            options.seed = seed;
            options.iterations = 120;
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
            const Nearness near(problem);
            Ruin ruin(problem, near);
            Random random(seed);
            recreate.construct({});
            plan.mark();
            std::vector<std::int32_t> removed;
            for (int i = 0; i < 40; ++i) {
                const double before = plan.cost();
                ASSERT_NEAR(before, evaluate(problem, plan.plan()).parts.total(), 1e-6)
                    << "seed " << seed << " step " << i;
                ruin(plan, random, removed);
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
            if (plan.isPlaced(job)) // came with the one it follows
                continue;
            const Insertion best = inserter.best(job);
            if (!best.isFound())
                continue;
            ASSERT_TRUE(inserter.apply(job, best));
            // Of a pair, what the week says (evenness, deliveries) is told of each by itself.
            EXPECT_NEAR(plan.cost() - before, best.cost, plan.pairOf(job) ? 10 : 1e-6)
                << "seed " << seed << " job " << job;
        }
    }
}

WeekPlan solved(const WeekProblem &problem, std::int64_t iterations, std::uint64_t seed = 1) {
    SolveOptions options;
    options.iterations = iterations;
    options.seed = seed;
    auto report = solve(problem, options, {}, {});
    EXPECT_TRUE(report);
    return std::move(report).value().plan;
}

bool same(const WeekPlan &a, const WeekPlan &b) {
    if (a.cost != b.cost || a.riderJob != b.riderJob)
        return false;
    for (std::size_t j = 0; j < a.placements.size(); ++j)
        if (a.placements[j].duty != b.placements[j].duty || a.placements[j].start != b.placements[j].start ||
            a.placements[j].secondDuty != b.placements[j].secondDuty)
            return false;
    return true;
}

TEST(SolverTest, TheSameSeedGivesTheSamePlan) {
    const WeekProblem problem = madeUpWeek({.patients = 25, .nurses = 4, .twoNurseShare = 0.1}, 400);
    EXPECT_TRUE(same(solved(problem, 80, 5), solved(problem, 80, 5)));
}

TEST(SolverTest, LocksHold) {
    const WeekProblem problem =
        madeUpWeek({.patients = 20, .nurses = 4, .twoNurseShare = 0, .lockShare = 0.6}, 401);
    const WeekPlan plan = solved(problem, 60);
    int looked = 0;
    for (std::size_t j = 0; j < problem.jobs.size(); ++j) {
        if (!plan.placements[j].isPlaced())
            continue;
        const Duty &duty = problem.duties[static_cast<std::size_t>(plan.placements[j].duty)];
        if (problem.jobs[j].lockedNurse >= 0) {
            EXPECT_EQ(duty.nurse, problem.jobs[j].lockedNurse);
            ++looked;
        }
        if (problem.jobs[j].lockedDay >= 0) {
            EXPECT_EQ(duty.day, problem.jobs[j].lockedDay);
        }
    }
    EXPECT_GT(looked, 5);
}

TEST(SolverTest, APublishedPlanIsKeptWhereNothingSpeaksAgainstIt) {
    WeekProblem problem = madeUpWeek({.patients = 20, .nurses = 4, .twoNurseShare = 0, .softShare = 0}, 402);
    const WeekPlan before = solved(problem, 100);
    for (std::size_t j = 0; j < problem.jobs.size(); ++j) {
        if (!before.placements[j].isPlaced())
            continue;
        const Duty &duty = problem.duties[static_cast<std::size_t>(before.placements[j].duty)];
        problem.jobs[j].publishedNurse = duty.nurse;
        problem.jobs[j].publishedDay = duty.day;
        problem.jobs[j].publishedStart = before.placements[j].start;
    }
    problem.weights.changed = 1000;
    const Evaluation e = evaluate(problem, solved(problem, 30));
    EXPECT_EQ(e.parts.changes, 0);
}

TEST(SolverTest, OneMoreNurseNeverMakesItMuchWorse) {
    WeekProblem problem = madeUpWeek({.patients = 25, .nurses = 3}, 403);
    const double before = solved(problem, 150).cost;
    NurseInfo extra = problem.nurses[0];
    extra.id = NurseId(99);
    const auto n = static_cast<std::int32_t>(problem.nurses.size());
    problem.nurses.push_back(extra);
    const std::vector<Duty> duties = problem.duties;
    for (Duty duty : duties)
        if (duty.nurse == 0) {
            duty.nurse = n;
            problem.duties.push_back(duty);
        }
    problem.weights.uneven = 0; // an extra hand shifts everybody's fair share; that is not what is asked here
    EXPECT_LT(solved(problem, 150).cost, before * 1.02 + 5);
}

TEST(SolverTest, MirroredHomesCostTheSame) {
    const WeekProblem problem = madeUpWeek({.patients = 20, .nurses = 3}, 404);
    WeekProblem mirrored = problem;
    for (TravelPlace &place : mirrored.places)
        place.point->longitude = -place.point->longitude;
    mirrored.travel = travelTable(mirrored.places, AgencySettings());
    EXPECT_EQ(solved(problem, 60).cost, solved(mirrored, 60).cost);
}

TEST(SolverTest, StoppingEarlyStillGivesAValidPlan) {
    const WeekProblem problem = madeUpWeek({.patients = 30, .nurses = 4}, 405);
    std::stop_source source;
    int calls = 0;
    const ProgressSink sink = [&](const Progress &p) {
        EXPECT_EQ(p.stage, "search");
        if (++calls == 2)
            source.request_stop();
    };
    SolveOptions options;
    options.iterations = 1000000;
    options.seconds = 60;
    auto report = solve(problem, options, source.get_token(), sink);
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->wasStopped);
    EXPECT_LT(report->iterations, options.iterations);
    EXPECT_TRUE(evaluate(problem, report->plan).broken.empty());
    source.request_stop(); // stopped before it began: nothing is placed, and that is a valid plan too
    report = solve(problem, options, source.get_token(), {});
    ASSERT_TRUE(report);
    EXPECT_TRUE(evaluate(problem, report->plan).broken.empty());
}

TEST(SolverTest, AWeekWithoutNursesOrVisitsIsNoTrouble) {
    WeekProblem problem = madeUpWeek({.patients = 3, .nurses = 2}, 406);
    WeekProblem noVisits = problem;
    noVisits.jobs.clear();
    noVisits.series.clear();
    noVisits.riders.clear();
    EXPECT_EQ(solved(noVisits, 10).cost, 0);
    problem.duties.clear();
    const WeekPlan plan = solved(problem, 10);
    for (const Placement &placement : plan.placements)
        EXPECT_FALSE(placement.isPlaced());
}

} // namespace
} // namespace kitround::rounds
