// One visit after another: by days, by minutes, by another nurse; planned, moved by hand and mended.
#include "core/base/Index.h"
#include "core/rounds/explain/Explain.h"
#include "core/rounds/problem/CostModel.h"
#include "core/rounds/repair/Repair.h"
#include "core/rounds/search/Solver.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::rounds {
namespace {

class FollowTest : public ::testing::Test {
protected:
    // Two nurses on every day with a break at noon; two visits to one home, 45 minutes each.
    FollowTest() {
        week_ = testing::madeUpWeek(
            {.patients = 0, .nurses = 2, .riderShare = 0, .hasBreaks = true, .weekdaysOfNurse = 7}, 1);
        week_.places.push_back(week_.places.front());
        week_.travel = travelTable(week_.places, AgencySettings());
        for (int k = 0; k < 2; ++k) {
            Job job;
            job.patient = PatientId(1);
            job.place = static_cast<std::int32_t>(week_.places.size()) - 1;
            job.allowedDays.assign(at(week_.days), true);
            job.windows.resize(at(week_.days));
            week_.jobs.push_back(job);
        }
    }
    WeekPlan solved() const {
        SolveOptions options;
        options.iterations = 200;
        const auto report = solve(week_, options, {}, {});
        EXPECT_TRUE(report) << debugText(report.error());
        return report ? report->plan : WeekPlan{};
    }
    std::int32_t dutyOf(std::int32_t nurse, std::int32_t day) const {
        for (std::size_t d = 0; d < week_.duties.size(); ++d)
            if (week_.duties[d].nurse == nurse && week_.duties[d].day == day)
                return static_cast<std::int32_t>(d);
        return -1;
    }
    const Duty &duty(const WeekPlan &plan, std::int32_t job) const {
        return week_.duties[at(plan.placements[at(job)].duty)];
    }

    WeekProblem week_;
};

TEST_F(FollowTest, TheSecondVisitStandsSoManyDaysAfterTheFirst) {
    week_.follows.push_back({0, 1, GapUnit::Day, 2, 3, false});
    const WeekPlan plan = solved();
    ASSERT_TRUE(plan.placements[0].isPlaced() && plan.placements[1].isPlaced());
    const std::int32_t apart = duty(plan, 1).day - duty(plan, 0).day;
    EXPECT_GE(apart, 2);
    EXPECT_LE(apart, 3);
}

TEST_F(FollowTest, ByMinutesBothStandOnOneDayWithTheGapBetweenThem) {
    week_.follows.push_back({0, 1, GapUnit::Minute, 45 + 30, 45 + 60, true});
    const WeekPlan plan = solved();
    ASSERT_TRUE(plan.placements[0].isPlaced() && plan.placements[1].isPlaced());
    EXPECT_EQ(duty(plan, 0).day, duty(plan, 1).day);
    EXPECT_NE(duty(plan, 0).nurse, duty(plan, 1).nurse) << "by another nurse";
    const Minute gap = plan.placements[1].start - (plan.placements[0].start + 45);
    EXPECT_GE(gap, 30);
    EXPECT_LE(gap, 60);
}

TEST_F(FollowTest, WhereOneNurseMayDoBothSheStaysOnForTheSecond) {
    week_.weights.waitMinute = 1;
    week_.follows.push_back({0, 1, GapUnit::Minute, 45, 45 + 60, false});
    const WeekPlan plan = solved();
    ASSERT_TRUE(plan.placements[0].isPlaced() && plan.placements[1].isPlaced());
    EXPECT_EQ(duty(plan, 0).nurse, duty(plan, 1).nurse) << "one drive instead of two";
    EXPECT_GE(plan.placements[1].start, plan.placements[0].start + 45);
    EXPECT_TRUE(evaluate(week_, plan).broken.empty());
}

TEST_F(FollowTest, AMoveByHandSaysWhichFollowingItBreaksAndByHowMuch) {
    week_.follows.push_back({0, 1, GapUnit::Day, 1, 2, false});
    WeekPlan plan;
    plan.placements.resize(2);
    plan = tryMove(week_, plan, 0, dutyOf(0, 1), -1).plan;
    plan = tryMove(week_, plan, 1, dutyOf(0, 2), -1).plan;
    const MoveCheck late = tryMove(week_, plan, 1, dutyOf(0, 5), -1);
    ASSERT_EQ(late.broken.size(), 1U);
    EXPECT_EQ(late.broken[0].rule, Rule::Linked);
    EXPECT_EQ(late.broken[0].job, 1);
    EXPECT_EQ(late.broken[0].amount, 2); // four days after, two at most
    const MoveCheck before = tryMove(week_, plan, 0, dutyOf(1, 2), -1);
    ASSERT_EQ(before.broken.size(), 1U) << "the visit before was moved onto the day of the second";
    EXPECT_EQ(before.broken[0].amount, 1);
    EXPECT_TRUE(tryMove(week_, plan, 1, dutyOf(1, 3), -1).broken.empty());
}

TEST_F(FollowTest, AMoveOntoADayOfTheOtherFindsTheMinutesBetweenThem) {
    week_.follows.push_back({0, 1, GapUnit::Minute, 45 + 20, 45 + 40, true});
    WeekPlan plan;
    plan.placements.resize(2);
    plan = tryMove(week_, plan, 0, dutyOf(0, 1), 600).plan;
    const MoveCheck fits = tryMove(week_, plan, 1, dutyOf(1, 1), -1);
    EXPECT_TRUE(fits.broken.empty());
    EXPECT_GE(fits.plan.placements[1].start, 600 + 45 + 20);
    EXPECT_LE(fits.plan.placements[1].start, 600 + 45 + 40);
    EXPECT_FALSE(tryMove(week_, plan, 1, dutyOf(0, 1), -1).broken.empty()) << "the same nurse";
    EXPECT_FALSE(tryMove(week_, plan, 1, dutyOf(1, 2), -1).broken.empty()) << "another day";
}

TEST_F(FollowTest, ByAnotherNurseMeansNeitherOfTheTwoThatCameFirst) {
    week_.jobs[0].twoNurses = true;
    week_.follows.push_back({0, 1, GapUnit::Day, 1, 3, true});
    WeekPlan plan = solved();
    EXPECT_TRUE(evaluate(week_, plan).broken.empty());
    EXPECT_NE(plan.placements[0].isPlaced(), plan.placements[1].isPlaced()) << "two nurses are all there are";
    week_.jobs[0].twoNurses = false;
    week_.jobs[1].twoNurses = true;
    plan = solved();
    EXPECT_TRUE(evaluate(week_, plan).broken.empty());
    EXPECT_NE(plan.placements[0].isPlaced(), plan.placements[1].isPlaced());
}

TEST_F(FollowTest, ACallOutMovesThePairTogether) {
    week_.follows.push_back({0, 1, GapUnit::Minute, 45, 45 + 60, false});
    const WeekPlan plan = solved();
    const Duty gone = duty(plan, 0);
    const WeekProblem without = withNurseAway(week_, gone.nurse, gone.day, 0);
    RepairOptions options;
    options.iterations = 200;
    options.seconds = 0;
    const auto report = repair(without, plan, options);
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->plan.placements[0].isPlaced() && report->plan.placements[1].isPlaced());
    EXPECT_TRUE(evaluate(without, report->plan).broken.empty());
}

TEST_F(FollowTest, WhereNeitherFindsAPlaceEachIsToldWithTheOther) {
    week_.follows.push_back({0, 1, GapUnit::Minute, 45 + 24 * 60, 45 + 25 * 60, false}); // no day is so long
    const WeekPlan plan = solved();
    ASSERT_FALSE(plan.placements[0].isPlaced() || plan.placements[1].isPlaced());
    EXPECT_EQ(whyUnplaced(week_, plan, 0).tiedTo, 1);
    EXPECT_EQ(whyUnplaced(week_, plan, 1).tiedTo, 0);
    EXPECT_TRUE(whyUnplaced(week_, plan, 0).blockers.empty()) << "alone it fits";

    const WeekPlan one = tryMove(week_, plan, 0, dutyOf(0, 1), -1).plan;
    ASSERT_TRUE(one.placements[0].isPlaced());
    EXPECT_EQ(whyUnplaced(week_, one, 1).tiedTo, -1) << "the other stands";
    EXPECT_FALSE(whyUnplaced(week_, one, 1).blockers.empty());
}

TEST_F(FollowTest, AProblemThatTiesAVisitTwiceByMinutesIsRefused) {
    week_.jobs.push_back(week_.jobs.front());
    week_.follows = {{0, 1, GapUnit::Minute, 45, 60, false}, {1, 2, GapUnit::Minute, 45, 60, false}};
    EXPECT_FALSE(checkProblem(week_));
    week_.follows[1].unit = GapUnit::Day;
    EXPECT_TRUE(checkProblem(week_));
}

} // namespace
} // namespace kitround::rounds
