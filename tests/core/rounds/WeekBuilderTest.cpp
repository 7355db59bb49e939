// What the planning problem knows of the place that people were told.
#include "core/rounds/problem/WeekBuilder.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

namespace kitround::rounds {
namespace {

constexpr DateRange kWeek{Date::of(2026, 11, 1), Date::of(2026, 11, 8)}; // from a Sunday

class WeekBuilderTest : public ::testing::Test {
protected:
    WeekBuilderTest() {
        s.asOf = kWeek.from;
        s.now = {s.asOf, Minutes::of(7 * 60)};
        s.logFrom = kWeek.from.plusDays(-90);
        Patient patient;
        patient.id = PatientId(1);
        patient.status = CareStatus::Active;
        s.patients = {patient};
        Nurse nurse;
        nurse.id = NurseId(1);
        s.nurses = {nurse};
        // Published for Tuesday at nine, in a draft since on Thursday at ten.
        Visit visit;
        visit.id = VisitId(1);
        visit.patient = patient.id;
        visit.status = VisitStatus::Drafted;
        visit.dueFrom = kWeek.from;
        visit.dueTo = kWeek.to;
        visit.length = Minutes::of(45);
        visit.on = kWeek.from.plusDays(4);
        visit.startAt = Minutes::of(600);
        visit.nurse = nurse.id;
        s.visits = {visit};
        Plan plan;
        plan.weekStart = kWeek.from;
        plan.status = PlanStatus::Published;
        plan.visits = {{visit.id, kWeek.from.plusDays(2), Minutes::of(540), nurse.id, {}, {}, {}}};
        s.plansInForce = {plan};
    }
    Visit &visit() { return s.visits.front(); }
    void addTurn(Date on) {
        ExtraShift turn;
        turn.nurse = NurseId(1);
        turn.on = on;
        turn.from = Minutes::of(480);
        turn.to = Minutes::of(1020);
        s.extraShifts.push_back(turn);
    }
    WeekProblem problem() const {
        const SnapshotIndex index(s);
        auto made = buildWeek(index, kWeek, visitsDue(index, kWeek), {});
        if (!made)
            throw std::runtime_error(debugText(made.error()));
        return *std::move(made);
    }
    Job job() const {
        const WeekProblem week = problem();
        const auto found = std::ranges::find(week.jobs, VisitId(1), &Job::visit);
        if (found == week.jobs.end())
            throw std::runtime_error("the visit is not due");
        return *found;
    }
    // Published for nine today; it is ten.
    void beginAtNine() {
        s.asOf = kWeek.from.plusDays(2);
        s.now = {s.asOf, Minutes::of(600)};
        addTurn(s.asOf);
        visit().status = VisitStatus::Published;
        visit().on = s.asOf;
        visit().startAt = Minutes::of(540);
    }
    Snapshot s;
};

TEST_F(WeekBuilderTest, ADraftDoesNotHideThePlaceThatWasTold) {
    const Job drafted = job();
    EXPECT_EQ(drafted.publishedNurse, 0);
    EXPECT_EQ(drafted.publishedDay, 2);
    EXPECT_EQ(drafted.publishedStart, 540);
    visit().status = VisitStatus::Due; // left out of the draft
    visit().on.reset();
    visit().startAt.reset();
    visit().nurse.reset();
    EXPECT_EQ(job().publishedDay, 2);
}

TEST_F(WeekBuilderTest, APublishedVisitSaysItself) {
    visit().status = VisitStatus::Published;
    EXPECT_EQ(job().publishedDay, 4);
    EXPECT_EQ(job().publishedStart, 600);
}

TEST_F(WeekBuilderTest, WhatNobodyWasToldOfOrStoodInAnotherWeekHasNoPlaceToKeep) {
    s.plansInForce.front().visits.front().on = kWeek.from.plusDays(-1);
    EXPECT_EQ(job().publishedDay, -1);
    s.plansInForce.clear();
    EXPECT_EQ(job().publishedNurse, -1);
}

TEST_F(WeekBuilderTest, WhatHasBegunIsLockedUnlessADraftMovedIt) {
    s.asOf = kWeek.from.plusDays(2);
    s.now = {s.asOf, Minutes::of(600)};
    const Job drafted = job();
    EXPECT_EQ(drafted.lockedDay, -1);
    ASSERT_TRUE(drafted.allowedDays.at(2));
    for (const TimeWindow &window : drafted.windows.at(2))
        EXPECT_GE(window.from, 600) << "nothing is planned for an hour gone by";
    addTurn(s.asOf);
    visit().status = VisitStatus::Published;
    visit().on = s.asOf;
    visit().startAt = Minutes::of(540);
    EXPECT_EQ(job().lockedDay, 2);
    EXPECT_EQ(job().lockedStart, 540);
}

TEST_F(WeekBuilderTest, WhatIsToComeTodayIsNotPlannedForAnHourGoneBy) {
    s.asOf = kWeek.from.plusDays(2);
    s.now = {s.asOf, Minutes::of(600)};
    addTurn(s.asOf);
    visit().status = VisitStatus::Published;
    visit().on = s.asOf;
    visit().startAt = Minutes::of(700);
    const Job later = job();
    EXPECT_FALSE(later.hasBegun);
    ASSERT_TRUE(later.allowedDays.at(2));
    for (const TimeWindow &window : later.windows.at(2))
        EXPECT_GE(window.from, 600);
}

TEST_F(WeekBuilderTest, ANurseWhoIsOffDidNotBeginAndWhatHasBegunMayStandOnAnyDay) {
    s.asOf = kWeek.from.plusDays(2);
    s.now = {s.asOf, Minutes::of(600)};
    visit().status = VisitStatus::Published;
    visit().on = s.asOf;
    visit().startAt = Minutes::of(540);
    const Job off = job();
    EXPECT_EQ(off.lockedDay, -1);
    EXPECT_FALSE(off.hasBegun);
    for (const TimeWindow &window : off.windows.at(2))
        EXPECT_GE(window.from, 600);
    addTurn(s.asOf);
    visit().dueFrom = s.asOf.plusDays(1);
    visit().dayIsLocked = true;
    const Job begun = job();
    EXPECT_TRUE(begun.hasBegun);
    EXPECT_EQ(begun.askedDay, 2);
    EXPECT_TRUE(begun.allowedDays.at(2));
}

TEST_F(WeekBuilderTest, WhereTwoGoBothAreLockedToWhatHasBegunAndOneAloneBeginsNothing) {
    beginAtNine();
    Nurse other;
    other.id = NurseId(2);
    s.nurses.push_back(other);
    visit().twoNurses = true;
    visit().secondNurse = other.id;
    EXPECT_FALSE(job().hasBegun) << "the other is off";
    addTurn(s.asOf);
    s.extraShifts.back().nurse = other.id;
    const Job begun = job();
    EXPECT_TRUE(begun.hasBegun);
    EXPECT_EQ(begun.lockedNurse, 0);
    EXPECT_EQ(begun.lockedSecondNurse, 1);
    EXPECT_EQ(begun.publishedSecondNurse, 1);
}

TEST_F(WeekBuilderTest, TheVisitOfTheMorningOfAnAdmissionWasMade) {
    beginAtNine();
    for (const std::int64_t days : {1, 30}) { // with days left in the week, and without any
        Hold hold;
        hold.id = HoldId(1);
        hold.patient = PatientId(1);
        hold.from = s.asOf;
        hold.to = s.asOf.plusDays(days);
        s.holds = {hold};
        const Job held = job();
        EXPECT_TRUE(held.hasBegun) << days;
        EXPECT_EQ(held.lockedDay, 2);
        EXPECT_TRUE(held.allowedDays.at(2));
    }
    visit().startAt = Minutes::of(660); // still to come
    s.holds.front().to = s.asOf.plusDays(1);
    EXPECT_FALSE(job().allowedDays.at(2));
}

TEST_F(WeekBuilderTest, WhatHasBegunTooSoonAfterAnotherHasBegunAllTheSame) {
    beginAtNine();
    Visit made = visit();
    made.id = VisitId(2);
    made.status = VisitStatus::Done;
    made.startAt = Minutes::of(480);
    s.visits.push_back(made);
    visit().after = {{}, made.id, GapUnit::Day, 1, 2, true};
    const Job begun = job();
    EXPECT_TRUE(begun.hasBegun);
    EXPECT_TRUE(begun.allowedDays.at(2));
    EXPECT_TRUE(begun.barredNurses.empty());
    visit().startAt = Minutes::of(660); // still to come
    EXPECT_FALSE(job().allowedDays.at(2));
}

TEST_F(WeekBuilderTest, AVisitMadePastMidnightCountsAsLongAsItTook) {
    beginAtNine();
    Visit made = visit();
    made.id = VisitId(2);
    made.status = VisitStatus::Done;
    made.on = s.asOf.plusDays(-1);
    made.startedAt = LocalTime{*made.on, Minutes::of(23 * 60 + 30)};
    made.endedAt = LocalTime{s.asOf, Minutes::of(90)};
    s.visits.push_back(made);
    const auto notes = notesLength(s.settings, made.kind);
    EXPECT_EQ(problem().nurses.front().alreadyWorked.front(), 120 + notes.count());
}

TEST_F(WeekBuilderTest, WhatANurseHasMadeTodayIsOfTheVisitsSheMayMake) {
    beginAtNine();
    const auto most = [&] { return problem().duties.front().mostVisits; };
    const int whole = most();
    EXPECT_EQ(whole, s.nurses.front().mostVisitsADay);
    Visit made = visit();
    made.id = VisitId(2);
    made.status = VisitStatus::Done;
    s.visits.push_back(made);
    EXPECT_EQ(most(), whole - 1);
    EXPECT_EQ(problem().duties.front().made, 1);
    s.visits.back().on = s.asOf.plusDays(-1);
    EXPECT_EQ(most(), whole);
}

TEST_F(WeekBuilderTest, WhoStartsAtTheStoreroomEndsThereUnlessAnotherPlaceIsOnTheMap) {
    addTurn(kWeek.from.plusDays(3));
    s.settings.storeroom.point = GeoPoint{40.0, -75.0};
    s.nurses.front().startsAtStoreroom = true;
    const WeekProblem there = problem();
    ASSERT_EQ(there.duties.size(), 1U);
    EXPECT_EQ(there.duties.front().startPlace, 0);
    EXPECT_EQ(there.duties.front().endPlace, 0);
    s.nurses.front().base.point = GeoPoint{40.1, -75.1};
    const WeekProblem home = problem();
    EXPECT_EQ(home.duties.front().startPlace, 0);
    EXPECT_NE(home.duties.front().endPlace, 0);
    EXPECT_EQ(home.places.size(), there.places.size() + 1);
}

} // namespace
} // namespace kitround::rounds
