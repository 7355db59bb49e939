// What no plan comes below: true on hand-made and random weeks, and near enough to be worth telling. That no
// plan at all comes below it is tried on the tiny weeks of EnumerationTest.
#include "core/rounds/bound/LowerBound.h"
#include "core/rounds/bound/RoundPricing.h"
#include "core/rounds/search/Solver.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

namespace kitround::rounds {
namespace {

// One nurse, 8:00 to 12:00, three homes; minutes between: base-A 10, base-B 20, base-C 30, A-B 15, B-C 5,
// A-C 25.
WeekProblem morning() {
    WeekProblem p;
    p.days = 1;
    p.places.resize(4);
    p.travel.places = 4;
    p.travel.minutes = {0, 10, 20, 30, 10, 0, 15, 25, 20, 15, 0, 5, 30, 25, 5, 0};
    p.travel.metres = p.travel.minutes;
    p.nurses.resize(1);
    p.nurses[0].id = NurseId(1);
    Duty duty;
    duty.to = 720;
    p.duties.push_back(duty);
    for (std::int32_t k = 0; k < 3; ++k) {
        Job job;
        job.patient = PatientId(k + 1);
        job.place = k + 1;
        job.length = 40;
        job.allowedDays = {true};
        job.windows.resize(1);
        p.jobs.push_back(job);
    }
    p.weights.uneven = 0;
    return p;
}

TEST(RoundPricingTest, TakesTheRoundThatPaysBest) {
    const WeekProblem p = morning();
    RoundPricing pricing(p, 0, 5);
    // Out and back to A costs 20, and A pays 25; B and C pay too little for the way.
    std::vector<double> prices{25, 5, 5};
    EXPECT_DOUBLE_EQ(pricing.cheapest(prices, 0).cost, -5);
    EXPECT_EQ(pricing.cheapest(prices, 0).jobs, (std::vector<std::int32_t>{0}));
    EXPECT_DOUBLE_EQ(pricing.cheapest(prices, 6).cost, 0); // less 6 a visit nothing is worth it
    EXPECT_TRUE(pricing.cheapest(prices, 6).jobs.empty());
}

TEST(RoundPricingTest, KeepsWindowsAndTheHoursOfTheDuty) {
    WeekProblem p = morning();
    p.jobs[0].windows[0] = {{700, 800, true}}; // nobody is back by noon from there
    RoundPricing late(p, 0, 1);
    EXPECT_DOUBLE_EQ(late.cheapest(std::vector<double>{100, 0, 0}, 0).cost, 0);
    p.jobs[0].windows[0] = {{480, 500, true}};
    p.jobs[1].windows[0] = {{480, 500, true}}; // both can't be first
    RoundPricing both(p, 0, 1);
    EXPECT_DOUBLE_EQ(both.cheapest(std::vector<double>{50, 50, 0}, 0).cost, -30);
}

TEST(LowerBoundTest, IsTheCostItselfWhereOneRoundIsAllThereIs) {
    const WeekProblem p = morning();
    SolveOptions options;
    options.iterations = 200;
    const auto report = solve(p, options, {}, {});
    ASSERT_TRUE(report);
    EXPECT_DOUBLE_EQ(report->plan.cost, 60); // 10 + 15 + 5 + 30
    const auto bound = lowerBound(p, 60, {.rounds = 300, .seconds = 0}, {});
    ASSERT_TRUE(bound);
    EXPECT_LE(*bound, 60);
    EXPECT_NEAR(*bound, 60, 0.5);
}

TEST(LowerBoundTest, CountsWhatNobodyCanTake) {
    WeekProblem p = morning();
    p.duties[0].mostVisits = 2;
    p.jobs[2].needs = SkillSet{Skill::DrainChest}; // the nurse has none
    SolveOptions options;
    options.iterations = 200;
    const auto report = solve(p, options, {}, {});
    ASSERT_TRUE(report);
    EXPECT_DOUBLE_EQ(report->plan.cost, 1200 + 45); // one of middle priority stays open; base-A-B-base
    const auto bound = lowerBound(p, report->plan.cost, {.rounds = 400, .seconds = 0}, {});
    ASSERT_TRUE(bound);
    EXPECT_LE(*bound, report->plan.cost + 1e-9);
    EXPECT_NEAR(*bound, report->plan.cost, 2);
}

TEST(LowerBoundTest, CountsForcedGapsAndCouriersThatNoVisitCanSave) {
    WeekProblem p = morning();
    Series series;
    series.mostGap = 3;
    series.fixedDays = {-8}; // five days too far from the only day there is
    series.jobs = {0};
    p.jobs[0].series = 0;
    p.series.push_back(series);
    Rider rider;
    rider.patient = PatientId(9); // nobody comes there
    rider.latestDay = 0;
    p.riders.push_back(rider);
    SolveOptions options;
    options.iterations = 200;
    const auto report = solve(p, options, {}, {});
    ASSERT_TRUE(report);
    EXPECT_DOUBLE_EQ(report->plan.cost, 60 + 5 * 60 + 45);
    const auto bound = lowerBound(p, report->plan.cost, {.rounds = 300, .seconds = 0}, {});
    ASSERT_TRUE(bound);
    EXPECT_NEAR(*bound, report->plan.cost, 0.5);
}

TEST(LowerBoundTest, IsNeverAboveAPlanAndNearItOnWeeksOfTravel) {
    double costs = 0, bounds = 0;
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        testing::MadeUp kind{.patients = 16, .nurses = 4, .riderShare = 0};
        kind.twoNurseShare = seed % 2 == 0 ? 0.1 : 0;
        WeekProblem p = testing::madeUpWeek(kind, seed);
        p.weights.uneven = 0;
        SolveOptions options;
        options.iterations = 3000;
        const auto report = solve(p, options, {}, {});
        ASSERT_TRUE(report);
        const auto bound = lowerBound(p, report->plan.cost, {.rounds = 80, .seconds = 0}, {});
        ASSERT_TRUE(bound);
        EXPECT_LE(*bound, report->plan.cost + 1e-6) << "seed " << seed;
        costs += report->plan.cost;
        bounds += *bound;
    }
    EXPECT_GT(bounds, 0.8 * costs);
}

TEST(LowerBoundTest, SaysNothingForAVisitOfNoLength) {
    WeekProblem p = morning();
    p.jobs[0].length = 0;
    EXPECT_FALSE(lowerBound(p, 60, {}, {}));
}

} // namespace
} // namespace kitround::rounds
