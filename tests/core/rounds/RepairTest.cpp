#include "core/rounds/repair/Repair.h"
#include "core/base/Index.h"
#include "core/rounds/problem/Riders.h"
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
        tell();
        options_.seconds = 0;
        options_.iterations = 300;
    }
    void tell() {
        for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
            if (!plan_.placements[j].isPlaced())
                continue;
            const Duty &duty = week_.duties[at(plan_.placements[j].duty)];
            const std::int32_t second = plan_.placements[j].secondDuty;
            week_.jobs[j].publishedNurse = duty.nurse;
            week_.jobs[j].publishedSecondNurse = second < 0 ? -1 : week_.duties[at(second)].nurse;
            week_.jobs[j].publishedDay = duty.day;
            week_.jobs[j].publishedStart = plan_.placements[j].start;
        }
    }
    void untell(std::int32_t index) {
        Job &job = week_.jobs[at(index)];
        job.publishedNurse = job.publishedSecondNurse = job.publishedDay = job.publishedStart = -1;
    }
    // A duty with visits, the later in the week the better for having a past.
    std::int32_t busyDuty(std::int32_t fromDay) const {
        for (const Placement &placement : plan_.placements)
            if (placement.isPlaced() && week_.duties[at(placement.duty)].day >= fromDay)
                return placement.duty;
        return -1;
    }
    // Of the visits on the duty that need one nurse the first.
    std::int32_t firstOn(std::int32_t duty) const {
        std::int32_t first = -1;
        for (std::size_t j = 0; j < week_.jobs.size(); ++j) {
            const Placement &placed = plan_.placements[j];
            if (placed.duty == duty && placed.secondDuty < 0 &&
                (first < 0 || placed.start < plan_.placements[at(first)].start))
                first = static_cast<std::int32_t>(j);
        }
        return first;
    }
    // She was there the day before, too near for the order.
    void visitTheDayBefore(std::int32_t index, std::int32_t day) {
        Job &job = week_.jobs[at(index)];
        if (job.series < 0) {
            job.series = static_cast<std::int32_t>(week_.series.size());
            week_.series.push_back({});
            week_.series.back().jobs = {index};
        }
        Series &series = week_.series[at(job.series)];
        series.leastGap = 3;
        series.mostGap = std::max(series.mostGap, 7);
        series.fixedDays.push_back(day - 1);
    }
    void begin(std::int32_t index) {
        Job &job = week_.jobs[at(index)];
        const Placement &placed = plan_.placements[at(index)];
        job.hasBegun = true;
        job.lockedDay = week_.duties[at(placed.duty)].day;
        job.lockedNurse = week_.duties[at(placed.duty)].nurse;
        job.lockedStart = placed.start;
    }
    void expectGoneOnFrom(const WeekPlan &plan, std::int32_t duty, std::int32_t first) const {
        const Placement &was = plan_.placements[at(first)];
        EXPECT_EQ(plan.placements[at(first)].duty, duty);
        EXPECT_EQ(plan.placements[at(first)].start, was.start);
        for (std::size_t j = 0; j < week_.jobs.size(); ++j)
            if (plan.placements[j].duty == duty && plan.placements[j].start > was.start) {
                EXPECT_GE(plan.placements[j].start, was.start + week_.jobs[at(first)].length);
            }
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

TEST_F(RepairTest, AVisitLeftWithoutADayStaysOutAndIsNotToBeDecidedOn) {
    const auto placed = std::ranges::find_if(plan_.placements, &Placement::isPlaced);
    const auto job = static_cast<std::int32_t>(placed - plan_.placements.begin());
    const PatientId patient = week_.jobs[at(job)].patient;
    WeekProblem held = week_;
    for (Job &one : held.jobs)
        if (one.patient == patient)
            one.allowedDays.assign(one.allowedDays.size(), false);
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

TEST_F(RepairTest, WhoHasMadeAllSheMayAndLeavesKeepsTheVisitSheBegan) {
    const std::int32_t duty = busyDuty(1);
    const std::int32_t first = firstOn(duty);
    ASSERT_GE(first, 0);
    begin(first);
    Duty &hers = week_.duties[at(duty)];
    hers.made = hers.mostVisits;
    hers.mostVisits = 0;
    const Placement was = plan_.placements[at(first)];
    options_.today = hers.day;
    options_.now = was.start + 5;
    const auto report = repair(withNurseAway(week_, hers.nurse, hers.day, options_.now), plan_, options_);
    ASSERT_TRUE(report);
    EXPECT_EQ(report->plan.placements[at(first)].duty, duty);
    EXPECT_EQ(report->plan.placements[at(first)].start, was.start);
    const auto away = repair(withNurseAway(week_, hers.nurse, hers.day, 0), plan_, options_);
    ASSERT_TRUE(away);
    EXPECT_NE(away->plan.placements[at(first)].duty, duty) << "she did not come at all";
}

TEST_F(RepairTest, WhatHasBegunStaysWhateverRuleItBreaks) {
    const std::int32_t duty = busyDuty(1);
    const std::int32_t first = firstOn(duty);
    ASSERT_GE(first, 0);
    options_.today = week_.duties[at(duty)].day;
    visitTheDayBefore(first, options_.today);
    options_.now = plan_.placements[at(first)].start + 5;
    const auto report = repair(week_, plan_, options_);
    ASSERT_TRUE(report);
    EXPECT_FALSE(isListed(*report, first));
    expectGoneOnFrom(report->plan, duty, first);
}

TEST_F(RepairTest, WhatOnlyADraftPutIntoTheMorningHasNotBegun) {
    const std::int32_t duty = busyDuty(1);
    const std::int32_t first = firstOn(duty);
    ASSERT_GE(first, 0);
    const Duty hers = week_.duties[at(duty)];
    const Placement was = plan_.placements[at(first)];
    options_.today = hers.day;
    options_.now = was.start + 5;
    const auto isAhead = [&] {
        const auto report = repair(week_, plan_, options_);
        EXPECT_TRUE(report);
        const Placement &is = report->plan.placements[at(first)];
        const std::int32_t day = is.isPlaced() ? week_.duties[at(is.duty)].day : week_.days;
        return day > hers.day || (day == hers.day && is.start >= options_.now);
    };
    EXPECT_FALSE(isAhead()) << "she was told";
    week_.jobs[at(first)].publishedStart = options_.now + 60;
    EXPECT_TRUE(isAhead()) << "told for later: the draft put it forward without a word";
    week_.jobs[at(first)].publishedStart = was.start;
    week_.jobs[at(first)].publishedNurse = (hers.nurse + 1) % static_cast<int>(week_.nurses.size());
    EXPECT_TRUE(isAhead()) << "another nurse was told";
    untell(first);
    EXPECT_TRUE(isAhead()) << "nobody was told";
    const auto longer = repair(withOverrun(week_, plan_, first, 30), plan_, options_);
    ASSERT_TRUE(longer);
    EXPECT_EQ(longer->plan.placements[at(first)].start, was.start)
        << "who says that it runs over saw it begin";
}

TEST_F(RepairTest, PlannedAnewWhatHasBegunStaysToo) {
    const std::int32_t duty = busyDuty(1);
    const std::int32_t first = firstOn(duty);
    ASSERT_GE(first, 0);
    visitTheDayBefore(first, week_.duties[at(duty)].day);
    begin(first);
    SolveOptions options;
    options.iterations = 300;
    const auto open = [](const WeekPlan &plan) {
        return std::ranges::count_if(plan.placements, [](const Placement &p) { return !p.isPlaced(); });
    };
    int told = -1;
    const auto report = solve(week_, options, {}, [&](const Progress &now) { told = now.open; });
    ASSERT_TRUE(report);
    expectGoneOnFrom(report->plan, duty, first);
    for (const RuleBreak &broken : evaluate(week_, report->plan).broken)
        EXPECT_EQ(broken.job, first) << "whatever rule it breaks, the others break none";
    EXPECT_NEAR(report->plan.cost, evaluate(week_, report->plan).parts.total(), 1e-9);
    EXPECT_EQ(told, open(report->plan)) << "what is kept from the search is not told as open";
}

TEST_F(RepairTest, WhoHasNoDutyAnyMoreBeganNothing) {
    const std::int32_t duty = busyDuty(1);
    const std::int32_t first = firstOn(duty);
    ASSERT_GE(first, 0);
    begin(first);
    week_.duties.erase(week_.duties.begin() + duty);
    SolveOptions options;
    options.iterations = 50;
    const auto report = solve(week_, options, {}, {});
    ASSERT_TRUE(report);
    EXPECT_FALSE(report->plan.placements[at(first)].isPlaced()) << "locked to somebody who is off";
}

TEST(RepairOfTwoTest, WhereTheSecondNurseIsAwayTheFirstBeganNothingAlone) {
    WeekProblem week =
        madeUpWeek({.patients = 10, .nurses = 5, .visitsPerPatient = 1, .twoNurseShare = 1.0}, 77);
    SolveOptions options;
    options.iterations = 300;
    const WeekPlan plan = solve(week, options, {}, {})->plan;
    const auto pair = std::ranges::find_if(plan.placements, [&](const Placement &placed) {
        return placed.isPlaced() && placed.secondDuty >= 0 && week.duties[at(placed.duty)].day < 5;
    });
    ASSERT_NE(pair, plan.placements.end());
    const auto job = static_cast<std::size_t>(pair - plan.placements.begin());
    const Duty &second = week.duties[at(pair->secondDuty)];
    week.jobs[job].publishedNurse = week.duties[at(pair->duty)].nurse;
    week.jobs[job].publishedSecondNurse = second.nurse;
    week.jobs[job].publishedDay = second.day;
    week.jobs[job].publishedStart = pair->start;
    RepairOptions repairing;
    repairing.seconds = 0;
    repairing.iterations = 300;
    repairing.today = second.day;
    repairing.now = pair->start + 5;
    const auto report = repair(withNurseAway(week, second.nurse, second.day, 0), plan, repairing);
    ASSERT_TRUE(report);
    const Placement &is = report->plan.placements[job];
    EXPECT_NE(is.secondDuty, pair->secondDuty);
    EXPECT_NE(is.duty, pair->secondDuty);
    if (is.isPlaced() && week.duties[at(is.duty)].day == repairing.today) {
        EXPECT_GE(is.start, repairing.now);
    }
}

TEST_F(RepairTest, OnlyWhatIsPackedForItRidesWithAVisitThatHasBegun) {
    const auto placed = std::ranges::find_if(plan_.placements, [&](const Placement &p) {
        return p.isPlaced() && week_.nurses[at(week_.duties[at(p.duty)].nurse)].carSpaceMl > 0;
    });
    ASSERT_NE(placed, plan_.placements.end());
    const auto job = static_cast<std::int32_t>(placed - plan_.placements.begin());
    const std::int32_t day = week_.duties[at(placed->duty)].day;
    Rider rider;
    rider.patient = week_.jobs[at(job)].patient;
    rider.spaceMl = 1000;
    rider.earliestDay = rider.latestDay = day;
    const auto carrier = [&] {
        week_.riders = {rider};
        std::vector<std::int32_t> riderJob;
        RiderMatcher(week_).assign(plan_.placements, riderJob);
        return riderJob.front();
    };
    EXPECT_EQ(carrier(), job);
    begin(job);
    EXPECT_EQ(carrier(), -1) << "nobody packed a proposal";
    rider.delivery = DeliveryId(1);
    EXPECT_EQ(carrier(), -1) << "nor what is only promised";
    week_.jobs[at(job)].visit = VisitId(7);
    rider.packedFor = VisitId(7);
    EXPECT_EQ(carrier(), job);
    rider.packedFor = VisitId(8);
    EXPECT_EQ(carrier(), -1) << "in the car for another visit";
    week_.jobs[at(job)].hasBegun = false;
    EXPECT_EQ(carrier(), -1) << "nor may it ride with one that is still to come";
    rider.packedFor = {};
    EXPECT_EQ(carrier(), job);
}

} // namespace
} // namespace kitround::rounds
