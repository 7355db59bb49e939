// Nothing gets a new place before the nurse can be told of it and drive there, and nothing is offered in days
// gone by.
#include "core/rounds/problem/FromNow.h"
#include "core/base/Index.h"
#include "core/rounds/explain/Explain.h"
#include "core/rounds/problem/DayClock.h"
#include "core/rounds/repair/Repair.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

namespace kitround::rounds {
namespace {

constexpr Minute kFivePastTen = 605, kLead = 15, kTwentyPast = kFivePastTen + kLead;

// One day, two nurses at place 0; homes at 1 and 2, which are 10 and 20 minutes away and 15 apart. Told: the
// first nurse comes to the first home at 11:28.
class FromNowTest : public ::testing::Test {
protected:
    FromNowTest() {
        p_.firstDay = Date::of(2026, 11, 22);
        p_.days = 1;
        p_.lead = kLead;
        p_.places.resize(3);
        p_.travel.places = 3;
        p_.travel.minutes = {0, 10, 20, 10, 0, 15, 20, 15, 0};
        p_.travel.metres = {0, 1000, 2000, 1000, 0, 1500, 2000, 1500, 0};
        for (std::int32_t n = 0; n < 2; ++n) {
            NurseInfo nurse;
            nurse.id = NurseId(n + 1);
            p_.nurses.push_back(nurse);
            Duty duty;
            duty.nurse = n;
            p_.duties.push_back(duty);
            Job job;
            job.patient = PatientId(n + 1);
            job.place = n + 1;
            job.length = 40;
            job.allowedDays = {true};
            job.windows.resize(1);
            p_.jobs.push_back(job);
        }
        plan_.placements.resize(2);
        tell(0, 0, 688);
        options_.seconds = 0;
        options_.iterations = 100;
        options_.now = kFivePastTen;
    }
    void tell(std::int32_t job, std::int32_t nurse, Minute start) {
        plan_.placements[at(job)] = {nurse, -1, start};
        p_.jobs[at(job)].publishedNurse = nurse;
        p_.jobs[at(job)].publishedDay = 0;
        p_.jobs[at(job)].publishedStart = start;
    }
    WeekPlan firstNurseCallsOut() const {
        const auto report = repair(withNurseAway(p_, 0, 0, kFivePastTen), plan_, options_);
        EXPECT_TRUE(report);
        return report ? report->plan : WeekPlan{};
    }

    WeekProblem p_;
    WeekPlan plan_;
    RepairOptions options_;
};

TEST_F(FromNowTest, AVisitOfWhoCallsOutIsGivenToNobodyBeforeSheIsToldAndHasDriven) {
    const WeekPlan mended = firstNurseCallsOut();
    ASSERT_EQ(mended.placements.size(), 2U);
    EXPECT_EQ(mended.placements[0].duty, 1);
    EXPECT_GE(mended.placements[0].start, kTwentyPast + 10) << "from her base";
}

TEST_F(FromNowTest, SheDrivesFromTheVisitSheIsAtOrWasAtLast) {
    tell(1, 1, 600); // until 10:40
    const WeekPlan busy = firstNurseCallsOut();
    EXPECT_EQ(busy.placements[1].start, 600) << "it has begun";
    EXPECT_GE(busy.placements[0].start, 640 + 15);
    tell(1, 1, 540); // over since 9:40
    const WeekPlan waiting = firstNurseCallsOut();
    EXPECT_EQ(waiting.placements[1].start, 540);
    EXPECT_GE(waiting.placements[0].start, kTwentyPast + 15);
}

TEST_F(FromNowTest, WhoIsOnTheRoadAlreadyGoesOnAsSheWasTold) {
    tell(1, 1, 620); // she left at ten
    const WeekPlan mended = firstNurseCallsOut();
    EXPECT_EQ(mended.placements[1].duty, 1);
    EXPECT_GE(mended.placements[1].start, 620);
    EXPECT_LE(mended.placements[1].start, 650);
    EXPECT_GE(mended.placements[0].start, mended.placements[1].start + 40 + 15);
}

TEST_F(FromNowTest, APlaceThatIsOfferedLeavesTheLeadAndTheDriveToo) {
    p_.nowDay = 0;
    p_.now = kFivePastTen;
    const MoveCheck other = tryMove(p_, plan_, 0, 1, -1);
    EXPECT_TRUE(other.broken.empty());
    EXPECT_GE(other.plan.placements[0].start, kTwentyPast + 10);
    EXPECT_EQ(tryMove(p_, plan_, 0, 1, 625).plan.placements[0].start, 625) << "a time asked for is taken";
    p_.duties[1].to = 660;
    EXPECT_FALSE(tryMove(p_, plan_, 0, 1, -1).broken.empty()) << "she would be back too late";
}

TEST_F(FromNowTest, WhereTwoGoTheOneWhoIsFartherOffIsWaitedFor) {
    p_.nowDay = 0;
    p_.now = kFivePastTen;
    Job &job = p_.jobs[0];
    job.twoNurses = true;
    job.publishedNurse = job.publishedDay = job.publishedStart = -1;
    plan_.placements[0] = {};
    p_.duties[1].startPlace = p_.duties[1].endPlace = 2; // 15 minutes from the home, the other one 10
    const MoveCheck both = tryMove(p_, plan_, 0, 0, -1);
    EXPECT_TRUE(both.broken.empty());
    EXPECT_EQ(both.plan.placements[0].secondDuty, 1);
    EXPECT_GE(both.plan.placements[0].start, kTwentyPast + 15);
}

TEST_F(FromNowTest, OfTwoWhoGoEachHasToBeTold) {
    p_.nowDay = 0;
    p_.now = kFivePastTen;
    tell(0, 0, 612);
    p_.jobs[0].twoNurses = true;
    plan_.placements[0].secondDuty = 1;
    EXPECT_EQ(soonestStart(p_, plan_, 0), kTwentyPast + 10) << "the second was told nothing";
    EXPECT_EQ(outOfReach(p_, plan_), std::vector<std::int32_t>{0});
    p_.jobs[0].publishedSecondNurse = 1;
    EXPECT_EQ(soonestStart(p_, plan_, 0), 0);
    std::swap(plan_.placements[0].duty, plan_.placements[0].secondDuty); // whichever is named first
    EXPECT_EQ(soonestStart(p_, plan_, 0), 0);
    EXPECT_TRUE(outOfReach(p_, plan_).empty());
}

TEST_F(FromNowTest, ADraftIsOutOfReachOnceNobodyCanBeThereUnlessItsTimeIsAgreed) {
    p_.nowDay = 0;
    p_.now = kFivePastTen;
    plan_.placements[1] = {1, -1, kTwentyPast + 20}; // of a draft; the drive takes 20 minutes
    EXPECT_TRUE(outOfReach(p_, plan_).empty());
    plan_.placements[1].start -= 1;
    EXPECT_EQ(outOfReach(p_, plan_), std::vector<std::int32_t>{1});
    p_.jobs[1].lockedStart = plan_.placements[1].start;
    EXPECT_TRUE(outOfReach(p_, plan_).empty());
    p_.now = plan_.placements[1].start; // nobody went
    EXPECT_EQ(outOfReach(p_, plan_), std::vector<std::int32_t>{1});
    p_.nowDay = p_.days;
    EXPECT_TRUE(outOfReach(p_, plan_).empty()) << "of a week that is over nothing can be planned";
}

// The round alone tells as much as the whole plan.
TEST(SoonestStartTest, IsReadOffTheStopBeforeAsThePlanHasIt) {
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
        WeekProblem week = testing::madeUpWeek({.twoNurseShare = 0.2}, seed);
        SolveOptions options;
        options.iterations = 200;
        options.seed = seed;
        const auto solved = solve(week, options, {}, {});
        ASSERT_TRUE(solved);
        const WeekPlan &plan = solved->plan;
        week.nowDay = 2;
        week.now = 660;
        week.lead = kLead;
        const Evaluation e = evaluate(week, plan);
        int looked = 0;
        for (std::size_t j = 0; j < plan.placements.size(); ++j) {
            const Placement &placement = plan.placements[j];
            if (!placement.isPlaced() || week.duties[at(placement.duty)].day != week.nowDay)
                continue;
            Minute soonest = 0;
            for (const std::int32_t d : {placement.duty, placement.secondDuty}) {
                if (d < 0)
                    continue;
                const auto &stops = e.duties[at(d)].stops;
                const auto stop =
                    std::ranges::find(stops, static_cast<std::int32_t>(j), &DutyTimes::Stop::job);
                ASSERT_NE(stop, stops.end());
                Minute free = std::max(week.now + week.lead, week.duties[at(d)].from);
                if (stop != stops.begin())
                    free = std::max(free, std::prev(stop)->end);
                soonest = std::max(soonest, DayClock(week, week.duties[at(d)]).forward(free, stop->travel));
            }
            EXPECT_EQ(soonestStart(week, plan, static_cast<std::int32_t>(j)), soonest);
            ++looked;
        }
        EXPECT_GT(looked, 5);
    }
}

TEST_F(FromNowTest, OfDaysGoneByThereIsNoWayOut) {
    p_.duties[1].mostVisits = 0; // only an allowed day, or one visit more, would help
    p_.duties[0].mostVisits = 0;
    for (Duty &duty : p_.duties)
        duty.made = 3;
    EXPECT_FALSE(waysOut(p_, plan_, 1).empty());
    p_.nowDay = p_.days;
    EXPECT_TRUE(hasPassed(p_));
    EXPECT_TRUE(waysOut(p_, plan_, 1).empty());
}

TEST_F(FromNowTest, WhereTheDriveAloneIsTooLongThatIsTheReason) {
    constexpr Minute kFar = 8000;
    p_.travel.minutes = {0, 10, kFar, 10, 0, 15, kFar, 15, 0};
    p_.jobs[1].windows[0] = {{540, 900, true}};
    const UnplacedReason why = whyUnplaced(p_, plan_, 1);
    EXPECT_EQ(why.tooFar, 2);
    EXPECT_EQ(why.drive, kFar);
    EXPECT_TRUE(why.blockers.empty()) << "the patient can be visited nearly all day";
    p_.travel.minutes = {0, 10, 20, 10, 0, 15, 20, 15, 0};
    p_.jobs[1].windows[0] = {{1100, 1200, true}}; // when nobody works
    const UnplacedReason hours = whyUnplaced(p_, plan_, 1);
    EXPECT_EQ(hours.tooFar, 0);
    EXPECT_FALSE(hours.blockers.empty());
}

TEST_F(FromNowTest, WhereOnlyOneVisitADayStandsInTheWayThatVisitIsNamed) {
    Series series;
    series.jobs = {0, 1};
    p_.series = {series};
    p_.jobs[0].series = p_.jobs[1].series = 0;
    const UnplacedReason why = whyUnplaced(p_, plan_, 1);
    ASSERT_EQ(why.blockers.size(), 1U);
    EXPECT_EQ(why.blockers[0], std::pair(Rule::SameDayTwice, 1)) << "one day, whichever of the two came";
    ASSERT_EQ(why.beside.size(), 1U);
    EXPECT_EQ(why.beside[0].job, 0);
    EXPECT_EQ(why.beside[0].place.start, 688);
    p_.series[0].fixedDays = {0};
    plan_.placements[0] = {};
    const UnplacedReason made = whyUnplaced(p_, plan_, 1);
    ASSERT_EQ(made.beside.size(), 1U);
    EXPECT_EQ(made.beside[0].job, -1);
}

} // namespace
} // namespace kitround::rounds
