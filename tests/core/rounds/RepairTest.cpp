#include "core/rounds/repair/Repair.h"
#include "core/base/Index.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::rounds {
namespace {

using testing::madeUpWeek;

class RepairTest : public ::testing::Test {
protected:
    RepairTest() : week_(madeUpWeek({.patients = 30, .nurses = 5, .twoNurseShare = 0.05}, 500)) {
        SolveOptions options;
        options.iterations = 400;
        plan_ = solve(week_, options, {}, {})->plan;
        options_.seconds = 0;
        options_.iterations = 300;
    }
    // A duty with visits, the later in the week the better for having a past.
    std::int32_t busyDuty(std::int32_t fromDay) const {
        for (const Placement &placement : plan_.placements)
            if (placement.isPlaced() && week_.duties[at(placement.duty)].day >= fromDay)
                return placement.duty;
        return -1;
    }
    bool isListed(const RepairReport &report, std::int32_t job) const {
        return std::ranges::find(report.moved, job, &MovedVisit::job) != report.moved.end();
    }

    WeekProblem week_;
    WeekPlan plan_;
    RepairOptions options_;
};

TEST_F(RepairTest, WhereNothingChangedNothingMoves) {
    const auto report = repair(week_, plan_, options_);
    ASSERT_TRUE(report);
    for (const MovedVisit &moved : report->moved) // only what had no place may have found one
        EXPECT_FALSE(moved.before.isPlaced()) << moved.job;
}

TEST_F(RepairTest, ACallOutMovesHerVisitsAndListsEveryMove) {
    const std::int32_t duty = busyDuty(2);
    ASSERT_GE(duty, 0);
    const Duty gone = week_.duties[at(duty)];
    const WeekProblem without = withNurseAway(week_, gone.nurse, gone.day, 0);
    options_.today = gone.day;
    options_.now = 420;
    const auto report = repair(without, plan_, options_);
    ASSERT_TRUE(report);
    EXPECT_TRUE(evaluate(without, report->plan).broken.empty());
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        const Placement &before = plan_.placements[j];
        const Placement &after = report->plan.placements[j];
        EXPECT_NE(after.duty, duty);
        EXPECT_NE(after.secondDuty, duty);
        const bool isElsewhere = before.duty != after.duty || before.secondDuty != after.secondDuty ||
                                 std::abs(before.start - after.start) > 30;
        EXPECT_EQ(isListed(*report, static_cast<std::int32_t>(j)), isElsewhere) << j;
        if (before.isPlaced() && week_.duties[at(before.duty)].day < gone.day) {
            EXPECT_EQ(after.duty, before.duty) << "the past does not move: " << j;
        }
    }
    // Most of the week stands still.
    EXPECT_LT(report->moved.size(), week_.jobs.size() / 3);
}

TEST_F(RepairTest, AHalfDayOffKeepsWhatWasBefore) {
    const std::int32_t duty = busyDuty(0);
    const Duty &gone = week_.duties[at(duty)];
    const WeekProblem without = withNurseAway(week_, gone.nurse, gone.day, 720);
    ASSERT_TRUE(checkProblem(without));
    const auto report = repair(without, plan_, options_);
    ASSERT_TRUE(report);
    const Evaluation e = evaluate(without, report->plan);
    EXPECT_TRUE(e.broken.empty());
    EXPECT_LE(e.duties[at(duty)].back, 720);
}

TEST_F(RepairTest, AHoldTakesThePatientOutOfThoseDays) {
    const auto placed = std::ranges::find_if(plan_.placements, &Placement::isPlaced);
    const auto job = static_cast<std::int32_t>(placed - plan_.placements.begin());
    const PatientId patient = week_.jobs[at(job)].patient;
    const WeekProblem held = withHold(week_, patient, 0, week_.days - 1);
    const auto report = repair(held, plan_, options_);
    ASSERT_TRUE(report);
    EXPECT_TRUE(isListed(*report, job));
    for (std::size_t j = 0; j < week_.jobs.size(); ++j)
        if (week_.jobs[j].patient == patient) {
            EXPECT_FALSE(report->plan.placements[j].isPlaced());
            EXPECT_EQ(std::ranges::count(report->unplaced, static_cast<std::int32_t>(j)), 0);
        }
}

TEST_F(RepairTest, AnOverrunStaysWhereItIsAndTheRestMakesRoom) {
    const std::int32_t duty = busyDuty(0);
    std::int32_t job = -1;
    for (std::size_t j = 0; j < week_.jobs.size(); ++j)
        if (plan_.placements[j].duty == duty && plan_.placements[j].secondDuty < 0)
            job = static_cast<std::int32_t>(j);
    ASSERT_GE(job, 0);
    const WeekProblem longer = withOverrun(week_, plan_, job, 60);
    const auto report = repair(longer, plan_, options_);
    ASSERT_TRUE(report);
    const Evaluation e = evaluate(longer, report->plan);
    EXPECT_TRUE(e.broken.empty());
    if (report->plan.placements[at(job)].isPlaced()) {
        EXPECT_EQ(report->plan.placements[at(job)].duty, duty);
        EXPECT_EQ(report->plan.placements[at(job)].start, plan_.placements[at(job)].start);
    }
}

TEST_F(RepairTest, AReferralIsPlacedBesideTheOthers) {
    WeekProblem more = week_;
    Job referral = week_.jobs[0];
    referral.patient = PatientId(9999);
    referral.series = -1;
    referral.twoNurses = false;
    referral.priority = Priority::Urgent;
    more.jobs.push_back(referral);
    const auto report = repair(more, plan_, options_);
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->plan.placements.back().isPlaced());
    EXPECT_TRUE(isListed(*report, static_cast<std::int32_t>(more.jobs.size()) - 1));
    EXPECT_TRUE(evaluate(more, report->plan).broken.empty());
}

TEST_F(RepairTest, NothingIsGivenAnHourGoneBy) {
    const std::int32_t duty = busyDuty(2);
    const Duty gone = week_.duties[at(duty)];
    options_.today = gone.day;
    options_.now = 660;
    for (Job &job : week_.jobs) // as the agency locks what it knows to be under way
        if (const auto j = static_cast<std::size_t>(&job - week_.jobs.data());
            plan_.placements[j].duty == duty) {
            job.lockedDay = gone.day;
            job.lockedNurse = gone.nurse;
            job.lockedStart = plan_.placements[j].start;
            job.hasBegun = plan_.placements[j].start <= options_.now;
        }
    const auto report = repair(withNurseAway(week_, gone.nurse, gone.day, 0), plan_, options_);
    ASSERT_TRUE(report);
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        const Placement &was = plan_.placements[j];
        const Placement &is = report->plan.placements[j];
        EXPECT_NE(is.duty, duty);
        const bool isToday = is.isPlaced() && week_.duties[at(is.duty)].day == gone.day;
        if (isToday && (was.duty != is.duty || was.start > options_.now)) {
            EXPECT_GE(is.start, options_.now) << j;
        }
    }
}

TEST_F(RepairTest, WhoIsAwayBeganNothingAndTheDayIsFreeAgainUnlessSomebodyAskedForIt) {
    Job &job = week_.jobs[0];
    job.lockedDay = 1;
    job.lockedNurse = 0;
    job.lockedStart = 500;
    job.hasBegun = true;
    EXPECT_EQ(withNurseAway(week_, 0, 1, 0).jobs[0].lockedDay, -1);
    EXPECT_FALSE(withNurseAway(week_, 0, 1, 0).jobs[0].hasBegun);
    job.askedDay = 1;
    EXPECT_EQ(withNurseAway(week_, 0, 1, 0).jobs[0].lockedDay, 1);
}

TEST_F(RepairTest, WhatHasBegunStaysWhateverRuleItBreaks) {
    const std::int32_t duty = busyDuty(1);
    const Duty &round = week_.duties[at(duty)];
    std::int32_t first = -1;
    for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
        const Placement &placed = plan_.placements[j];
        if (placed.duty == duty && placed.secondDuty < 0 &&
            (first < 0 || placed.start < plan_.placements[at(first)].start))
            first = static_cast<std::int32_t>(j);
    }
    ASSERT_GE(first, 0);
    Job &job = week_.jobs[at(first)];
    if (job.series < 0) {
        job.series = static_cast<std::int32_t>(week_.series.size());
        week_.series.push_back({});
        week_.series.back().jobs = {first};
    }
    Series &series = week_.series[at(job.series)]; // she was there the day before, too near for the order
    series.leastGap = 3;
    series.mostGap = std::max(series.mostGap, 7);
    series.fixedDays.push_back(round.day - 1);
    options_.today = round.day;
    options_.now = plan_.placements[at(first)].start + 5;
    const auto report = repair(week_, plan_, options_);
    ASSERT_TRUE(report);
    EXPECT_EQ(report->plan.placements[at(first)].duty, duty);
    EXPECT_EQ(report->plan.placements[at(first)].start, plan_.placements[at(first)].start);
    EXPECT_FALSE(isListed(*report, first));
    for (std::size_t j = 0; j < week_.jobs.size(); ++j)
        if (report->plan.placements[j].duty == duty &&
            report->plan.placements[j].start > plan_.placements[at(first)].start) {
            EXPECT_GE(report->plan.placements[j].start, plan_.placements[at(first)].start + job.length);
        }
}

} // namespace
} // namespace kitround::rounds
