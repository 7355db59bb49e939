#include "core/rounds/search/Standing.h"

#include "core/base/Index.h"
#include "core/rounds/repair/Repair.h"
#include "core/rounds/search/WorkingPlan.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::rounds {
namespace {

using testing::madeUpWeek;

// An agency of more nurses than take part whatever happens.
class StandingTest : public ::testing::Test {
protected:
    static WeekProblem week() {
        return madeUpWeek({.patients = 120, .nurses = 45, .twoNurseShare = 0.05}, 77);
    }
    static WeekPlan planned() {
        SolveOptions options;
        options.iterations = 20;
        return solve(week(), options, {}, {})->plan;
    }
    StandingTest() : week_(week()) {
        static const WeekPlan once = planned(); // the dear part
        plan_ = once;
        options_.seconds = 0;
        options_.iterations = 150;
    }
    std::int32_t busyDuty() const {
        const auto busy = std::ranges::find_if(plan_.placements, [&](const Placement &placement) {
            return placement.isPlaced() && placement.secondDuty < 0 &&
                   week_.duties[at(placement.duty)].day == 2;
        });
        return busy == plan_.placements.end() ? -1 : busy->duty;
    }
    WeekProblem withHerAway(std::int32_t duty) const {
        return withNurseAway(week_, week_.duties[at(duty)].nurse, week_.duties[at(duty)].day, 0);
    }
    static bool isSame(const Placement &a, const Placement &b) {
        return a.duty == b.duty && a.secondDuty == b.secondDuty;
    }

    WeekProblem week_;
    WeekPlan plan_;
    RepairOptions options_;
};

TEST_F(StandingTest, WhatKeepsEveryRuleStaysThoseOfTwoNursesToo) {
    const Standing standing(week_, plan_);
    int ofTwo = 0;
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        EXPECT_TRUE(isSame(standing.plan().placements[j], plan_.placements[j])) << j;
        ofTwo += plan_.placements[j].secondDuty >= 0 ? 1 : 0;
    }
    EXPECT_GT(ofTwo, 0);
    EXPECT_FALSE(standing.lost(standing.plan()));
    EXPECT_TRUE(standing.lost(WeekPlan{std::vector<Placement>(week_.jobs.size()), {}, 0}));
}

TEST_F(StandingTest, OfASeriesThatComesTooNearOnlyOneVisitLosesItsPlace) {
    const auto series = std::ranges::find_if(week_.series, [&](const Series &s) {
        return std::ranges::count_if(
                   s.jobs, [&](std::int32_t job) { return plan_.placements[at(job)].isPlaced(); }) == 2;
    });
    ASSERT_NE(series, week_.series.end());
    series->leastGap = series->mostGap = 7;
    const Standing standing(week_, plan_);
    EXPECT_EQ(
        std::ranges::count_if(
            series->jobs, [&](std::int32_t job) { return standing.plan().placements[at(job)].isPlaced(); }),
        1);
}

TEST_F(StandingTest, OnlyThoseNearWhatLostItsPlaceTakePart) {
    const std::int32_t away = busyDuty();
    ASSERT_GE(away, 0);
    const WeekProblem without = withHerAway(away);
    const Standing standing(without, plan_);
    ASSERT_FALSE(standing.isWhole());
    std::vector<char> nurses(week_.nurses.size(), 0);
    for (std::size_t d = 0; d < week_.duties.size(); ++d)
        if (standing.scope().duties[d] != 0)
            nurses[at(week_.duties[d].nurse)] = 1;
    const auto count = static_cast<std::size_t>(std::ranges::count(nurses, char{1}));
    EXPECT_GE(count, Standing::kNurses);
    EXPECT_LT(count, week_.nurses.size());

    const auto repaired = repair(without, plan_, options_);
    ASSERT_TRUE(repaired);
    EXPECT_TRUE(evaluate(without, repaired->plan).broken.empty());
    int far = 0;
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        const Placement &was = plan_.placements[j], &is = repaired->plan.placements[j];
        EXPECT_NE(is.duty, away);
        if (standing.scope().jobs[j] != 0)
            continue;
        EXPECT_TRUE(isSame(was, is)) << j;
        ++far;
    }
    EXPECT_GT(far, 0);
    const auto again = repair(without, plan_, options_);
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        EXPECT_TRUE(isSame(again->plan.placements[j], repaired->plan.placements[j]));
        EXPECT_EQ(again->plan.placements[j].start, repaired->plan.placements[j].start);
    }
}

TEST_F(StandingTest, WhereNearlyEveryVisitLostItsPlaceAllTakePart) {
    EXPECT_TRUE(Standing(week_, WeekPlan{}).isWhole());
}

TEST_F(StandingTest, WhatStaysOutsideCostsWhatItDoes) {
    const WeekProblem without = withHerAway(busyDuty());
    const Standing standing(without, plan_);
    WorkingPlan plan(without, &standing.scope());
    plan.stand(standing.plan());
    EXPECT_NEAR(plan.cost(), evaluate(without, plan.plan()).parts.total(), 1e-6);
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        const auto job = static_cast<std::int32_t>(j);
        EXPECT_TRUE(isSame(plan.placement(job), standing.plan().placements[j]));
        if (!plan.isInPlay(job)) {
            EXPECT_TRUE(plan.dutiesFor(job).empty());
        }
    }
}

} // namespace
} // namespace kitround::rounds
