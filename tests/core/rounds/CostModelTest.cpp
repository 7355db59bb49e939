// A day worked by hand. One nurse from 8:00 (480) to 17:00 (1020); minutes between the base and the homes A
// and B:
//   base-A 10, base-B 20, A-B 15. Visit 0 at A: 30 minutes, start between 9:00 (540) and 10:00 (600).
//   Visit 1 at B: 40 minutes, any time. Notes: 15 minutes each.
#include "core/rounds/problem/CostModel.h"

#include "core/rounds/explain/Explain.h"
#include "core/rounds/problem/DutyTimer.h"
#include "core/rounds/problem/HomeVisits.h"
#include "core/rounds/problem/Riders.h"
#include "core/rounds/search/Begun.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::rounds {
namespace {

WeekProblem handWeek() {
    WeekProblem p;
    p.firstDay = Date::of(2026, 11, 22);
    p.days = 2;
    p.places.resize(3);
    p.travel.places = 3;
    p.travel.minutes = {0, 10, 20, 10, 0, 15, 20, 15, 0};
    p.travel.metres = {0, 1000, 2000, 1000, 0, 1500, 2000, 1500, 0};
    NurseInfo nurse;
    nurse.id = NurseId(1);
    nurse.carSpaceMl = 100;
    p.nurses.push_back(nurse);
    for (std::int32_t day = 0; day < 2; ++day) {
        Duty duty;
        duty.day = day;
        duty.skills = SkillSet{Skill::DrainChest};
        p.duties.push_back(duty);
    }
    for (std::int32_t k = 0; k < 2; ++k) {
        Job job;
        job.patient = PatientId(k + 1);
        job.place = k + 1;
        job.length = k == 0 ? 30 : 40;
        job.notes = 15;
        job.needs = SkillSet{Skill::DrainChest};
        job.allowedDays.assign(2, true);
        job.windows.resize(2);
        if (k == 0)
            for (auto &windows : job.windows)
                windows.push_back({540, 600, true});
        p.jobs.push_back(job);
    }
    return p;
}

WeekPlan planAt(Minute first, Minute second) {
    WeekPlan plan;
    plan.placements = {{0, -1, first}, {0, -1, second}};
    return plan;
}

bool breaks(const Evaluation &e, Rule rule, std::int32_t amount = -1) {
    return std::ranges::any_of(
        e.broken, [&](const RuleBreak &b) { return b.rule == rule && (amount < 0 || b.amount == amount); });
}

TEST(CostModelTest, ADayWithoutWaiting) {
    // 9:00 at A until 570, 15 minutes' drive, 585 at B until 625, 20 minutes home.
    const WeekProblem p = handWeek();
    ASSERT_TRUE(checkProblem(p));
    const Evaluation e = evaluate(p, planAt(540, 585));
    EXPECT_TRUE(e.broken.empty());
    const DutyTimes &day = e.duties[0];
    EXPECT_EQ(day.leave, 530);
    EXPECT_EQ(day.back, 645);
    EXPECT_EQ(day.travel, 45); // 10 + 15 + 20
    EXPECT_EQ(day.wait, 0);
    EXPECT_EQ(day.direct, 70);
    EXPECT_EQ(day.notes, 30);
    EXPECT_EQ(day.metres, 4500);
    EXPECT_EQ(e.nurseMinutes[0], 145); // 70 + 45 + 30
    EXPECT_NEAR(e.parts.total(), 45, 1e-9);
}

TEST(CostModelTest, AQuarterOfAnHourOfWaitingCostsThree) {
    const WeekProblem p = handWeek();
    const Evaluation e = evaluate(p, planAt(540, 600));
    EXPECT_EQ(e.duties[0].wait, 15);
    EXPECT_NEAR(e.parts.waiting, 15 * 0.2, 1e-9);
    EXPECT_NEAR(e.parts.total(), 48, 1e-9);
}

TEST(CostModelTest, OvertimeStartsAtTheContractWithWhatWasWorkedBefore) {
    WeekProblem p = handWeek();
    p.nurses[0].contractMinutes = 200;
    p.nurses[0].alreadyWorked = {100}; // 100 + 145 - 200 = 45 beyond, at 2 a minute
    EXPECT_NEAR(evaluate(p, planAt(540, 585)).parts.overtime, 90, 1e-9);
    p.nurses[0].overtimeExempt = true;
    EXPECT_EQ(evaluate(p, planAt(540, 585)).parts.overtime, 0);
}

TEST(CostModelTest, OvertimeIsCountedWeekByWeek) {
    WeekProblem p = handWeek();
    p.days = 14;
    p.duties[1].day = 7;
    for (Job &job : p.jobs) {
        job.allowedDays.assign(14, true);
        job.windows.resize(14);
    }
    p.nurses[0].contractMinutes = 80;
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {1, -1, 600}};
    const Evaluation e = evaluate(p, plan);
    EXPECT_TRUE(e.broken.empty());
    EXPECT_EQ(e.nurseMinutes, (std::vector<Minute>{65, 95})); // 10 + 30 + 10 + 15; 20 + 40 + 20 + 15
    EXPECT_DOUBLE_EQ(e.parts.overtime, 30); // 15 beyond in the second week, at 2; the first makes up for none
    p.nurses[0].alreadyWorked = {20, 0};
    EXPECT_DOUBLE_EQ(evaluate(p, plan).parts.overtime, 40);
}

TEST(CostModelTest, EveryHardRuleIsNoticed) {
    const WeekProblem p = handWeek();
    EXPECT_TRUE(breaks(evaluate(p, planAt(530, 585)), Rule::Window, 10));
    EXPECT_TRUE(breaks(evaluate(p, planAt(540, 580)), Rule::Overlap, 5));
    EXPECT_TRUE(breaks(evaluate(p, planAt(540, 970)), Rule::DutyHours, 10)); // 970 + 40 + 20 = 1030
    const auto with = [&](auto change) {
        WeekProblem q = handWeek();
        change(q);
        return evaluate(q, planAt(540, 585));
    };
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.jobs[1].needs = SkillSet{Skill::Assess}; }), Rule::Skill));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.jobs[1].barredNurses = {0}; }), Rule::Barred));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.jobs[1].allowedDays[0] = false; }), Rule::Day));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.jobs[1].lockedDay = 1; }), Rule::LockedDay));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.jobs[1].lockedStart = 700; }), Rule::LockedTime, 115));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.duties[0].mostVisits = 1; }), Rule::MostVisits, 1));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.jobs[1].twoNurses = true; }), Rule::TwoNurses));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) { q.duties[0].isOnCall = true; }), Rule::NoDuty));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) {
                           q.duties[0].blocked = {{600, 620, true}};
                       }),
                       Rule::Overlap));
    const auto series = [](WeekProblem &q) {
        q.series.push_back({2, 7, {}, {0, 1}});
        q.jobs[0].series = q.jobs[1].series = 0;
    };
    EXPECT_TRUE(breaks(with(series), Rule::SameDayTwice));
    EXPECT_TRUE(breaks(with([](WeekProblem &q) {
                           q.series.push_back({3, 7, {-1}, {0}});
                           q.jobs[0].series = 0;
                       }),
                       Rule::LeastGap, 2)); // yesterday, so one day apart where three are asked
    WeekProblem rider = handWeek();
    rider.riders.push_back({{}, PatientId(1), 200, 0, 1, true});
    WeekPlan plan = planAt(540, 585);
    plan.riderJob = {0};
    EXPECT_TRUE(breaks(evaluate(rider, plan), Rule::CarSpace)); // 200 mL into a car for 100
}

TEST(CostModelTest, TheBreakMayFollowTheRoundOrNeedsAGap) {
    WeekProblem p = handWeek();
    p.duties[0].breakLength = 30;
    p.duties[0].breakFrom = 600;
    p.duties[0].breakTo = 700;
    Evaluation e = evaluate(p, planAt(540, 585)); // back at 645, break to 675
    EXPECT_TRUE(e.broken.empty());
    EXPECT_EQ(e.duties[0].breakStart, 645);
    p.duties[0].to = 660;
    p.duties[0].breakTo = 660;
    // Only on the way home: from 625 to 655, then home at 675 where the duty ends at 660.
    EXPECT_TRUE(breaks(evaluate(p, planAt(540, 585)), Rule::DutyHours, 15));
    // In a gap the break takes the place of waiting: A ends at 630, B at 680 leaves 50 - 15 = 35, 30 of them
    // break.
    p = handWeek();
    p.duties[0].breakLength = 30;
    p.duties[0].breakFrom = 600;
    p.duties[0].breakTo = 700;
    e = evaluate(p, planAt(600, 680));
    EXPECT_TRUE(e.broken.empty());
    EXPECT_EQ(e.duties[0].breakStart, 630);
    EXPECT_EQ(e.duties[0].wait, 5);
}

TEST(CostModelTest, GapsBeyondTheMostAndWishesCost) {
    WeekProblem p = handWeek();
    p.series.push_back({1, 2, {-4}, {0}}); // four days since the last, two allowed: two days beyond
    p.jobs[0].series = 0;
    p.jobs[1].primaryNurse = 0;
    p.jobs[1].wishedGender = Gender::Female; // the nurse's is not on record
    const Evaluation e = evaluate(p, planAt(540, 585));
    EXPECT_NEAR(e.parts.gaps, 2 * 60, 1e-9);
    EXPECT_NEAR(e.parts.wishes, 20, 1e-9);
    EXPECT_EQ(e.parts.continuity, 0);
}

TEST(CostModelTest, ASecondNurseToOneHomeOnADayCostsAndOneWhoMeetsTheFirstIsNamed) {
    WeekProblem p = handWeek();
    p.nurses.push_back(p.nurses[0]);
    p.duties.push_back(p.duties[0]); // of the first day, another nurse
    p.duties.back().nurse = 1;
    p.jobs[1].patient = p.jobs[0].patient;
    p.jobs[1].place = p.jobs[0].place;
    using Pairs = std::vector<std::pair<std::int32_t, std::int32_t>>;
    const auto look = [&](Placement second) {
        WeekPlan plan = planAt(540, 585);
        plan.placements[1] = second;
        return std::pair(evaluate(p, plan).parts.secondNurses, overlapsAtHome(p, plan));
    };
    EXPECT_EQ(look({0, -1, 585}), std::pair(0.0, Pairs())) << "one nurse does both";
    EXPECT_EQ(look({1, -1, 545}), std::pair(0.0, Pairs())) << "on another day";
    EXPECT_EQ(look({2, -1, 569}), std::pair(30.0, Pairs({{0, 1}}))) << "the first is there until 570";
    EXPECT_EQ(look({2, -1, 501}), std::pair(30.0, Pairs({{1, 0}}))) << "until 541";
    EXPECT_EQ(look({2, -1, 570}), std::pair(30.0, Pairs()));
    EXPECT_EQ(look({2, 0, 560}), std::pair(0.0, Pairs())) << "of two the one is at both";
    p.follows.push_back({0, 1, GapUnit::Minute, 0, 60, true});
    EXPECT_EQ(look({2, -1, 550}), std::pair(0.0, Pairs())) << "ordered to meet";
    p.follows.clear();
    p.jobs[1].kind = VisitKind::Phone;
    EXPECT_EQ(look({2, -1, 550}), std::pair(0.0, Pairs()));
}

TEST(CostModelTest, OneCourierRunServesAPatientAndAnUndeliverableRiderIsDear) {
    WeekProblem p = handWeek();
    p.riders.push_back({{}, PatientId(3), 10, 0, 1, true});
    p.riders.push_back({{}, PatientId(3), 10, 0, 1, true});
    p.riders.push_back({{}, PatientId(3), 10, 0, 1, false});
    WeekPlan plan = planAt(540, 585);
    RiderMatcher(p).assign(plan.placements, plan.riderJob);
    EXPECT_NEAR(evaluate(p, plan).parts.couriers, 45 + 2000, 1e-9);
}

TEST(DutyTimerTest, LeavesLateSoThatNobodyWaits) {
    const WeekProblem p = handWeek();
    DutyTimer timer(p);
    std::vector<Minute> starts;
    RouteCost cost;
    ASSERT_TRUE(timer.time(0, std::vector<std::int32_t>{1, 0}, {}, starts, cost));
    // B first: back from A at the earliest with A at 540; B then as late as 540 - 15 - 40 = 485 allows, but
    // the way to B takes 20 from 480, so 500 is the earliest and A follows at 555.
    EXPECT_EQ(starts, (std::vector<Minute>{500, 555}));
    ASSERT_TRUE(timer.time(0, std::vector<std::int32_t>{0, 1}, {}, starts, cost));
    EXPECT_EQ(starts, (std::vector<Minute>{540, 585}));
    EXPECT_NEAR(cost.cost, 45, 1e-9);
}

TEST(DutyTimerTest, RefusesAnOrderThatHasNoStarts) {
    WeekProblem p = handWeek();
    p.jobs[0].windows[0] = {{540, 550, true}};
    DutyTimer timer(p);
    std::vector<Minute> starts;
    RouteCost cost;
    EXPECT_FALSE(timer.time(0, std::vector<std::int32_t>{1, 0}, {}, starts, cost)); // 555 is too late
    EXPECT_TRUE(timer.time(0, std::vector<std::int32_t>{0, 1}, {}, starts, cost));
}

TEST(TimeSegmentTest, JoiningTellsWaitingAndWarp) {
    // A: 30 minutes, start 540..600. B: 40 minutes, start 700..710. Driving 15. Started at 600 A ends at 630,
    // arrives 645, waits 55: 30 + 15 + 55 + 40 = 140 minutes at least, and only when started at 600.
    const TimeSegment a{30, 0, 540, 600};
    const TimeSegment b{40, 0, 700, 710};
    const TimeSegment ab = joined(a, 15, b);
    EXPECT_EQ(ab.duration, 140);
    EXPECT_EQ(ab.warp, 0);
    EXPECT_EQ(ab.early, 600);
    EXPECT_EQ(ab.late, 600);
    EXPECT_EQ(ab.earliestEnd(), 740);
    // The other way round A is reached at 700 + 40 + 15 = 755, 155 minutes late.
    EXPECT_EQ(joined(b, 15, a).warp, 155);
}

TEST(TryMoveTest, TellsTheCostOfAMoveAndWhatItBreaks) {
    const WeekProblem p = handWeek();
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const MoveCheck fits = tryMove(p, plan, 1, 0, -1);
    EXPECT_TRUE(fits.broken.empty());
    EXPECT_EQ(fits.travelAdded, 25); // 45 instead of 20
    EXPECT_NEAR(fits.after.total() - fits.before.total(), 25 - 1200, 1e-9);
    const MoveCheck early = tryMove(p, plan, 1, 0, 490); // 10 minutes short of the way from the base
    ASSERT_FALSE(early.broken.empty());
    EXPECT_EQ(early.broken[0].rule, Rule::DutyHours);
    EXPECT_EQ(early.broken[0].amount, 10);
    const MoveCheck out = tryMove(p, plan, 0, -1, -1);
    EXPECT_FALSE(out.plan.placements[0].isPlaced());
    EXPECT_TRUE(out.broken.empty());
}

TEST(TryMoveTest, WhoWasPushedAsideComesBackToTheTimePeopleWereTold) {
    WeekProblem p = handWeek();
    Job &told = p.jobs[1];
    told.publishedNurse = 0;
    told.publishedDay = 0;
    told.publishedStart = 615;
    const MoveCheck out = tryMove(p, planAt(540, 590), 0, -1, -1);
    EXPECT_FALSE(out.plan.placements[0].isPlaced());
    EXPECT_EQ(out.plan.placements[1].start, 615);
    const MoveCheck onward = tryMove(p, planAt(540, 590), 0, 1, -1);
    EXPECT_EQ(onward.plan.placements[1].start, 615) << "where it went to another day, too";
    p.jobs[1].windows[0] = {{500, 600, true}};
    const MoveCheck shut = tryMove(p, planAt(540, 590), 0, -1, -1);
    EXPECT_TRUE(shut.broken.empty()) << "no rule is broken for it";
    EXPECT_LE(shut.plan.placements[1].start, 600);
    p.jobs[1].windows[0].clear();
    p.nowDay = 0;
    p.now = 620;
    EXPECT_NE(tryMove(p, planAt(540, 630), 0, -1, -1).plan.placements[1].start, 615) << "that hour is over";
}

TEST(ExplainTest, NamesTheRuleInTheWayAndTheWayOut) {
    WeekProblem p = handWeek();
    p.jobs[1].needs = SkillSet{Skill::Assess};
    p.jobs[1].allowedDays = {true, false};
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const UnplacedReason reason = whyUnplaced(p, plan, 1);
    ASSERT_EQ(reason.blockers.size(), 1U);
    EXPECT_EQ(reason.blockers[0], std::pair(Rule::Skill, 1));
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    ASSERT_FALSE(ways.empty());
    EXPECT_EQ(ways[0].kind, WayOutKind::OtherSkill);
    EXPECT_EQ(ways[0].duty, 0);
}

TEST(ExplainTest, AFullDayIsEasedByOvertimeOrAnotherDay) {
    WeekProblem p = handWeek();
    p.duties[0].to = 590; // back from A at 580; B does not fit any more
    p.jobs[1].allowedDays = {true, false};
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    // B first, 500 to 540, then A at 555 to 585 and home at 595: 5 minutes beyond 590.
    const auto overtime = std::ranges::find(ways, WayOutKind::Overtime, &WayOut::kind);
    ASSERT_NE(overtime, ways.end());
    EXPECT_EQ(overtime->amount, 5);
    const auto otherDay = std::ranges::find(ways, WayOutKind::OtherDay, &WayOut::kind);
    ASSERT_NE(otherDay, ways.end());
    EXPECT_EQ(otherDay->duty, 1);
    EXPECT_EQ(otherDay->amount, 1);
}

TEST(ExplainTest, WhereOnlyTheMostVisitsStandInTheWayOneVisitMoreIsAskedAndNoOvertime) {
    WeekProblem p = handWeek();
    p.duties[0].mostVisits = 1;
    p.jobs[1].allowedDays = {true, false};
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const UnplacedReason reason = whyUnplaced(p, plan, 1);
    ASSERT_EQ(reason.blockers.size(), 1U);
    EXPECT_EQ(reason.blockers[0].first, Rule::MostVisits);
    EXPECT_EQ(reason.freePlaces, 0);
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    const auto more = std::ranges::find(ways, WayOutKind::OneVisitMore, &WayOut::kind);
    ASSERT_NE(more, ways.end());
    EXPECT_EQ(more->duty, 0);
    EXPECT_EQ(more->amount, 1) << "her usual most";
    EXPECT_EQ(std::ranges::find(ways, WayOutKind::Overtime, &WayOut::kind), ways.end());
    EXPECT_TRUE(std::ranges::is_sorted(ways, {}, &WayOut::addedCost)) << "the cheapest first";
    p.duties[0].mostVisits = 0; // away: there is no usual most to go beyond
    const std::vector<WayOut> away = waysOut(p, plan, 1);
    EXPECT_EQ(std::ranges::find(away, WayOutKind::OneVisitMore, &WayOut::kind), away.end());
    plan.placements[0] = {};
    p.duties[0].made = 1;
    const std::vector<WayOut> made = waysOut(p, plan, 1);
    const auto oneMore = std::ranges::find(made, WayOutKind::OneVisitMore, &WayOut::kind);
    ASSERT_NE(oneMore, made.end()) << "who has made all she may is there";
    EXPECT_EQ(oneMore->amount, 1) << "her usual most";
    p.duties[0].isAway = true;
    const std::vector<WayOut> gone = waysOut(p, plan, 1);
    EXPECT_EQ(std::ranges::find(gone, WayOutKind::OneVisitMore, &WayOut::kind), gone.end());
}

void beginAt(Job &job, Minute start) {
    job.hasBegun = true;
    job.lockedDay = 0;
    job.lockedNurse = 0;
    job.lockedStart = start;
}

std::vector<Rule> openTo(const WeekProblem &problem, const WeekPlan &plan) {
    std::vector<Rule> rules;
    for (const RuleBreak &broken : mayBeMended(problem, plan, evaluate(problem, plan).broken))
        rules.push_back(broken.rule);
    return rules;
}

TEST(BegunTest, WhatAVisitThatHasBegunBreaksByItselfNobodyMends) {
    WeekProblem p = handWeek();
    beginAt(p.jobs[0], 540);
    p.jobs[0].barredNurses = {0};
    p.duties[0].mostVisits = 0; // another that was not planned has taken its place
    WeekPlan plan = planAt(540, -1);
    plan.placements[1] = {};
    const Evaluation e = evaluate(p, plan);
    EXPECT_TRUE(breaks(e, Rule::Barred) && breaks(e, Rule::MostVisits, 1));
    EXPECT_TRUE(openTo(p, plan).empty());
    EXPECT_EQ(openTo(p, planAt(540, 585)), std::vector{Rule::MostVisits}) << "the one behind it may go";
    plan.placements[0].start = 600;
    const std::vector<Rule> moved = openTo(p, plan);
    EXPECT_EQ(moved.size(), evaluate(p, plan).broken.size()) << "it may be put back";
    EXPECT_EQ(std::ranges::count(moved, Rule::LockedTime), 1);
}

TEST(BegunTest, WhatIsPutBesideAVisitThatHasBegunIsMendedButForWhatWasToComeBefore) {
    WeekProblem p = handWeek();
    beginAt(p.jobs[1], 585);
    Series series;
    series.jobs = {0, 1};
    p.series = {series};
    p.jobs[0].series = p.jobs[1].series = 0;
    const Evaluation twice = evaluate(p, planAt(540, 585));
    ASSERT_EQ(twice.broken.size(), 1U);
    EXPECT_EQ(twice.broken[0].job, 1) << "told of the later one, which has begun";
    EXPECT_EQ(openTo(p, planAt(540, 585)), std::vector{Rule::SameDayTwice});

    p = handWeek();
    beginAt(p.jobs[1], 585);
    p.follows = {{0, 1, GapUnit::Day, 1, 2, false}};
    WeekPlan late = planAt(540, 585);
    late.placements[0].duty = 1;
    EXPECT_TRUE(breaks(evaluate(p, late), Rule::Linked));
    EXPECT_TRUE(openTo(p, late).empty()) << "late is better than never";
}

const WayOut *wayOf(const std::vector<WayOut> &ways, WayOutKind kind) {
    const auto found = std::ranges::find(ways, kind, &WayOut::kind);
    return found == ways.end() ? nullptr : &*found;
}

TEST(ExplainTest, ALockedDayIsUnlockedAndNotAllowed) {
    WeekProblem p = handWeek();
    p.duties[0].to = 590; // the day it is locked to is full
    p.jobs[1].lockedDay = 0;
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    const WayOut *unlock = wayOf(ways, WayOutKind::UnlockDay);
    ASSERT_NE(unlock, nullptr);
    EXPECT_EQ(unlock->duty, 1);
    EXPECT_EQ(wayOf(ways, WayOutKind::OtherDay), nullptr) << "the day is allowed as it is";
    p.jobs[1].allowedDays = {true, false};
    EXPECT_EQ(wayOf(waysOut(p, plan, 1), WayOutKind::UnlockDay), nullptr) << "unlocked it may not go there";
    p.jobs[1].hasBegun = true;
    EXPECT_TRUE(waysOut(p, plan, 1).empty()) << "somebody is there by now";
}

TEST(ExplainTest, ATimeThatIsLockedIsUnlockedWhereThatIsEnough) {
    WeekProblem p = handWeek();
    p.jobs[1].allowedDays = {true, false};
    p.jobs[1].lockedStart = 560; // beside A neither before it nor after it
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    const WayOut *unlock = wayOf(ways, WayOutKind::UnlockTime);
    ASSERT_NE(unlock, nullptr);
    EXPECT_EQ(unlock->duty, 0);
    EXPECT_NE(unlock->start, 560);
}

TEST(ExplainTest, TwoLocksAreLetGoTogetherOnlyWhereNoSingleOneIsEnough) {
    WeekProblem p = handWeek();
    p.duties[0].to = 500;        // nothing fits on the day it is locked to
    p.jobs[1].lockedDay = 0;     // the other day takes it ...
    p.jobs[1].lockedStart = 560; // ... but not beside A at the time it is locked to
    WeekPlan plan;
    plan.placements = {{1, -1, 540}, {}};
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    const WayOut *both = wayOf(ways, WayOutKind::UnlockDayAndTime);
    ASSERT_NE(both, nullptr);
    EXPECT_EQ(both->duty, 1);
    EXPECT_NE(both->start, 560);
    EXPECT_TRUE(unlockedBy(both->kind).day && unlockedBy(both->kind).time && !unlockedBy(both->kind).nurse);
    EXPECT_EQ(wayOf(ways, WayOutKind::UnlockDay), nullptr);
    EXPECT_EQ(wayOf(ways, WayOutKind::UnlockTime), nullptr);
    WeekProblem eased = p;
    eased.jobs[1].lockedDay = eased.jobs[1].lockedStart = -1;
    const auto there = alternatives(eased, plan, 1);
    ASSERT_FALSE(there.empty());
    EXPECT_EQ(there.front().duty, both->duty);
    EXPECT_TRUE(there.front().broken.empty()) << "what is told can be done";

    p.duties[0].to = 1020; // now it is enough to let the time go, or the day
    plan.placements = {{0, -1, 540}, {}};
    for (const WayOut &way : waysOut(p, plan, 1))
        EXPECT_NE(way.kind, WayOutKind::UnlockDayAndTime);
    p.jobs[1].hasBegun = true;
    EXPECT_TRUE(waysOut(p, plan, 1).empty());
}

TEST(ExplainTest, NoWayOutLeadsToATimeThatIsOver) {
    WeekProblem p = handWeek();
    p.duties[0].to = 590;
    p.jobs[1].allowedDays = {true, false};
    p.nowDay = 1;
    p.now = 900;
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const std::vector<WayOut> ways = waysOut(p, plan, 1);
    const WayOut *otherDay = wayOf(ways, WayOutKind::OtherDay);
    ASSERT_NE(otherDay, nullptr);
    EXPECT_GE(otherDay->start, 900);
    p.now = 1015; // too late to be back in time
    EXPECT_EQ(wayOf(waysOut(p, plan, 1), WayOutKind::OtherDay), nullptr);
    p = handWeek();
    p.jobs[0].allowedDays = {true, false};
    p.nowDay = 0;
    p.now = 700;
    plan.placements = {{}, {}};
    const std::vector<WayOut> wider = waysOut(p, plan, 0);
    for (const WayOut &way : wider)
        if (way.duty == 0) {
            EXPECT_GE(way.start, 700);
        }
}

TEST(ExplainTest, APlaceThatFitsAsThingsAreIsNoWayOut) {
    const WeekProblem p = handWeek();
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    EXPECT_TRUE(waysOut(p, plan, 1).empty());
    const UnplacedReason reason = whyUnplaced(p, plan, 1);
    EXPECT_TRUE(reason.blockers.empty());
    EXPECT_EQ(reason.freePlaces, 2);
    EXPECT_LT(reason.freeCost, 0) << "it pays to place it";
}

TEST(ExplainTest, AlternativesPutTheAllowedOnesFirst) {
    WeekProblem p = handWeek();
    p.jobs[1].allowedDays = {false, true};
    WeekPlan plan;
    plan.placements = {{0, -1, 540}, {}};
    const std::vector<Alternative> all = alternatives(p, plan, 1);
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].duty, 1);
    EXPECT_TRUE(all[0].broken.empty());
    EXPECT_EQ(all[1].broken[0].rule, Rule::Day);
}

TEST(WeekProblemTest, NamesEverythingInconsistent) {
    WeekProblem p = handWeek();
    p.jobs[0].length = -1;
    p.jobs[1].place = 9;
    p.duties[1].day = 0; // twice the same day
    p.duties[0].breakLength = 30;
    const auto checked = checkProblem(p);
    ASSERT_FALSE(checked);
    std::vector<std::string> fields;
    for (const Problem &problem : flattened(checked.error()))
        fields.push_back(problem.field);
    for (const std::string field : {"jobs[0].length", "jobs[1].place", "duties[1]", "duties[0].breakFrom"})
        EXPECT_NE(std::ranges::find(fields, field), fields.end()) << field;
}

} // namespace
} // namespace kitround::rounds
