// What the manager reads beside the load: ordered visits made, capacity, on-call rest.
#include "core/caseload/Capacity.h"
#include "core/caseload/Compliance.h"
#include "core/caseload/Evenness.h"
#include "core/caseload/OnCall.h"

#include <gtest/gtest.h>

#include <vector>

namespace kitround::caseload {
namespace {

// Values worked by hand from the defining sums (Gini 1912; Jain, Chiu and Hawe, DEC-TR-301, 1984): points of
// five nurses 10, 20, 20, 25, 25. All |x_i - x_j| over pairs: 10+10+15+15+0+5+5+5+5+0 = 70, twice 140;
// 140 / (2 x 25 x 20) = 0.14. Sum 100, squares 100+400+400+625+625 = 2150; 10000 / (5 x 2150) = 0.93023.
TEST(EvennessTest, PointsOfFiveNursesWorkedByHand) {
    const std::vector points{25.0, 10.0, 20.0, 25.0, 20.0};
    EXPECT_NEAR(gini(points), 0.14, 1e-12);
    EXPECT_NEAR(jain(points), 10000.0 / 10750.0, 1e-12);
}

class ReviewTest : public ::testing::Test {
protected:
    ReviewTest() {
        s.asOf = Date::of(2026, 11, 8); // a Sunday; weeks start on it
        s.now = {s.asOf, Minutes::of(600)};
        Patient patient;
        patient.id = PatientId(1);
        patient.status = CareStatus::Active;
        s.patients.push_back(patient);
        Nurse nurse;
        nurse.id = NurseId(1);
        s.nurses.push_back(nurse);
    }
    void order(Date start, int aWeek, int lasting) {
        VisitOrder o;
        o.id = VisitOrderId(static_cast<std::int64_t>(s.visitOrders.size()) + 1);
        o.patient = PatientId(1);
        o.start = start;
        VisitSegment segment;
        segment.leastPerWeek = segment.mostPerWeek = aWeek;
        segment.weeks = lasting;
        o.segments = {segment};
        s.visitOrders.push_back(o);
    }
    Visit &visit(Date on, VisitStatus status) {
        Visit v;
        v.id = VisitId(static_cast<std::int64_t>(s.visits.size()) + 1);
        v.patient = PatientId(1);
        v.order = VisitOrderId(1);
        v.status = status;
        v.on = on;
        s.visits.push_back(v);
        return s.visits.back();
    }
    Compliance review() {
        const SnapshotIndex index(s);
        return frequencyCompliance(index, weeks);
    }
    const DateRange weeks{Date::of(2026, 10, 11), Date::of(2026, 11, 8)};
    Snapshot s;
};

TEST_F(ReviewTest, APartialFirstWeekIsShownButNeverAMiss) {
    order(Date::of(2026, 10, 15), 3, 4); // a Thursday
    visit(Date::of(2026, 10, 16), VisitStatus::Done);
    for (const int day : {19, 21, 23})
        visit(Date::of(2026, 10, 1).plusDays(day - 1), VisitStatus::Done);
    visit(Date::of(2026, 10, 26), VisitStatus::Done);
    const Compliance c = review();
    ASSERT_EQ(c.weeks.size(), 4U);
    EXPECT_TRUE(c.weeks[0].isPartial);
    EXPECT_EQ(c.weeks[0].owed, 3); // Thursday to Saturday hold three
    EXPECT_EQ(c.weeks[0].done, 1);
    EXPECT_EQ(c.weeks[0].shortBy(), 0);
    EXPECT_EQ(c.leftOut, 1);
    EXPECT_EQ(c.patientWeeks, 3);
    EXPECT_EQ(c.kept, 1); // 3 of 3; 1 of 3; 0 of 3
    EXPECT_EQ(c.owed, 9);
    EXPECT_EQ(c.done, 4);
    EXPECT_EQ(c.weeks[2].shortBy(), 2);
}

TEST_F(ReviewTest, AWeekInWhichANewOrderTookOverOwesItsShareAndIsNoMiss) {
    order(Date::of(2026, 10, 4), 2, 9);
    s.visitOrders.back().end = Date::of(2026, 10, 21); // Wednesday
    order(Date::of(2026, 10, 21), 2, 4);
    visit(Date::of(2026, 10, 19), VisitStatus::Done);
    const Compliance c = review();
    int owed = 0;
    for (const PatientWeek &week : c.weeks)
        if (week.week.from == Date::of(2026, 10, 18)) {
            EXPECT_TRUE(week.isPartial);
            EXPECT_EQ(week.shortBy(), 0);
            owed += week.owed;
        }
    EXPECT_EQ(owed, 2) << "two orders of two a week, not four visits";
}

TEST_F(ReviewTest, AWeekOnHoldIsLeftOutAndVisitsBeyondTheOrderMakeUpForNoOtherWeek) {
    order(Date::of(2026, 10, 11), 1, 4);
    visit(Date::of(2026, 10, 12), VisitStatus::Done);
    visit(Date::of(2026, 10, 14), VisitStatus::Done);
    Hold hold;
    hold.id = HoldId(1);
    hold.patient = PatientId(1);
    hold.from = Date::of(2026, 10, 19);
    hold.to = Date::of(2026, 10, 22);
    s.holds.push_back(hold);
    const Compliance c = review();
    EXPECT_EQ(c.leftOut, 1);
    EXPECT_EQ(c.patientWeeks, 3);
    EXPECT_EQ(c.owed, 3);
    EXPECT_EQ(c.done, 1);
}

// Saturday at 21:00 in New York is Sunday, and the next week, in UTC.
TEST_F(ReviewTest, CareEndsOnTheDayOfTheAgencysClock) {
    order(Date::of(2026, 10, 11), 1, 4);
    s.patients[0].exitedAt = Instant::fromIso("2026-10-25T01:00:00Z");
    const Compliance c = review();
    ASSERT_EQ(c.weeks.size(), 2U) << "nothing is owed beyond it";
    EXPECT_FALSE(c.weeks[0].isPartial);
    EXPECT_TRUE(c.weeks[1].isPartial) << "the week of the exit lacks its Saturday";
}

TEST_F(ReviewTest, MissedVisitsSayWhyAndWhoWasNotTold) {
    order(Date::of(2026, 10, 11), 1, 4);
    visit(Date::of(2026, 10, 13), VisitStatus::Missed).missReason = MissReason::NotHome;
    visit(Date::of(2026, 10, 20), VisitStatus::Missed).prescriberToldAt =
        LocalTime{Date::of(2026, 10, 20), Minutes::of(700)};
    visit(Date::of(2026, 11, 9), VisitStatus::Missed); // beyond the weeks asked about
    const Compliance c = review();
    ASSERT_EQ(c.missed.size(), 2U);
    EXPECT_EQ(c.missed[0].reason, MissReason::NotHome);
    EXPECT_EQ(c.untold, 1);
    EXPECT_EQ(c.weeks[0].missed, 1);
}

TEST_F(ReviewTest, CapacityIsShiftsLessBreaksAndNeverAboveTheContract) {
    s.nurses[0].contractPerWeek = Minutes::of(600);
    ShiftPattern shift;
    shift.nurse = NurseId(1);
    shift.from = Minutes::of(480);
    shift.to = Minutes::of(990);
    shift.breakLength = Minutes::of(30);
    shift.validFrom = Date::of(2026, 1, 1);
    shift.weekday = Weekday::Monday;
    s.shiftPatterns.push_back(shift);
    EXPECT_EQ(wholeCapacity(s, weeks), Minutes::of(3 * 480)) << "12 October 2026 is a federal holiday";
    shift.weekday = Weekday::Tuesday;
    s.shiftPatterns.push_back(shift);
    EXPECT_EQ(wholeCapacity(s, weeks), Minutes::of(4 * 600));
    shift.isOnCall = true;
    shift.weekday = Weekday::Friday;
    s.shiftPatterns = {shift};
    EXPECT_EQ(wholeCapacity(s, weeks), Minutes::of(0));
}

TEST_F(ReviewTest, ANightOnCallBeforeADaysWorkIsFlagged) {
    const auto shift = [&](Weekday day, int from, int to, bool isOnCall) {
        ShiftPattern p;
        p.nurse = NurseId(1);
        p.weekday = day;
        p.from = Minutes::of(from);
        p.to = Minutes::of(to);
        p.isOnCall = isOnCall;
        p.validFrom = Date::of(2026, 1, 1);
        s.shiftPatterns.push_back(p);
    };
    shift(Weekday::Monday, 1020, 480, true); // 17:00 to 08:00 of Tuesday
    shift(Weekday::Tuesday, 540, 1020, false);
    shift(Weekday::Friday, 1020, 1380, true); // ends 23:00
    shift(Weekday::Saturday, 600, 900, false);
    const auto duties = callDuties(s, {s.asOf, s.asOf.plusDays(7)});
    ASSERT_EQ(duties.size(), 2U);
    EXPECT_EQ(duties[0].to - duties[0].from, Minutes::of(15 * 60));
    EXPECT_EQ(duties[0].restAfter, Minutes::of(60));
    EXPECT_TRUE(duties[0].isTooShort);
    EXPECT_EQ(duties[1].restAfter, Minutes::of(11 * 60));
    EXPECT_FALSE(duties[1].isTooShort);
    s.settings.set(SettingKey::RestAfterCallHours, 12);
    EXPECT_TRUE(callDuties(s, {s.asOf, s.asOf.plusDays(7)})[1].isTooShort);
}

TEST_F(ReviewTest, DaysOnWhichNobodyIsOnCallAreFound) {
    const auto turn = [](Date on, int from, int to) {
        CallDuty duty;
        duty.nurse = NurseId(1);
        duty.on = on;
        duty.from = Minutes::of(from);
        duty.to = Minutes::of(to);
        return duty;
    };
    const Date first = Date::of(2026, 11, 9);
    const DateRange week{first, first.plusDays(7)};
    EXPECT_EQ(daysWithoutCall({}, week).size(), 7U);
    // A night into the 10th leaves the 10th bare; a weekend from the 13th runs through the 14th.
    const std::vector<Date> bare =
        daysWithoutCall({turn(first, 1020, 1920), turn(first.plusDays(4), 1020, 2 * 1440 + 480)}, week);
    EXPECT_EQ(bare,
              (std::vector{first.plusDays(1), first.plusDays(2), first.plusDays(3), first.plusDays(6)}));
}

TEST_F(ReviewTest, ALongerRestThanADayIsLookedForAsFarAsItIsAskedFor) {
    ExtraShift call;
    call.nurse = NurseId(1);
    call.on = Date::of(2026, 11, 9);
    call.from = Minutes::of(1020);
    call.to = Minutes::of(480); // to 08:00 of the 10th
    call.isOnCall = true;
    call.replacesPattern = false;
    ExtraShift work = call;
    work.on = Date::of(2026, 11, 12); // 47 hours later
    work.from = Minutes::of(420);
    work.to = Minutes::of(900);
    work.isOnCall = false;
    s.extraShifts = {call, work};
    const DateRange turn{call.on, call.on.plusDays(1)}, worked{work.on, work.on.plusDays(1)};
    EXPECT_FALSE(callDuties(s, turn).at(0).restAfter) << "nothing begins within a day";
    EXPECT_TRUE(shortRests(s, worked).empty());
    s.settings.set(SettingKey::RestAfterCallHours, 48);
    const auto duties = callDuties(s, turn);
    ASSERT_EQ(duties.size(), 1U);
    EXPECT_EQ(duties[0].restAfter, Minutes::of(47 * 60));
    EXPECT_TRUE(duties[0].isTooShort);
    const auto found = shortRests(s, worked);
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].rest, Minutes::of(47 * 60));
    s.settings.set(SettingKey::RestAfterCallHours, 47);
    EXPECT_TRUE(shortRests(s, worked).empty());
}

TEST_F(ReviewTest, WorkThatBeginsBeforeTheTurnIsOverLeavesNoRest) {
    ExtraShift call;
    call.nurse = NurseId(1);
    call.on = Date::of(2026, 11, 9);
    call.from = Minutes::of(1020);
    call.to = Minutes::of(540); // to 09:00 of the next day
    call.isOnCall = true;
    ExtraShift work = call;
    work.on = Date::of(2026, 11, 10);
    work.from = Minutes::of(480);
    work.to = Minutes::of(960);
    work.isOnCall = false;
    s.extraShifts = {call, work};
    const auto duties = callDuties(s, {s.asOf, s.asOf.plusDays(7)});
    ASSERT_EQ(duties.size(), 1U);
    EXPECT_EQ(duties[0].restAfter, Minutes::of(0));
    EXPECT_TRUE(duties[0].isTooShort);
}

TEST_F(ReviewTest, ALateShiftBeforeAnEarlyOneLeavesTooShortARest) {
    const auto shift = [&](Date on, int from, int to, bool isOnCall = false) {
        ExtraShift e;
        e.nurse = NurseId(1);
        e.on = on;
        e.from = Minutes::of(from);
        e.to = Minutes::of(to);
        e.replacesPattern = false;
        e.isOnCall = isOnCall;
        s.extraShifts.push_back(e);
    };
    const Date monday = Date::of(2026, 11, 9);
    shift(monday, 480, 720); // two parts of one day: no rest to speak of
    shift(monday, 840, 1320);
    shift(monday.plusDays(1), 420, 900);        // 9 hours after 22:00
    shift(monday.plusDays(2), 300, 900);        // 14 hours
    shift(monday.plusDays(2), 1020, 360, true); // the night after a day's work is what a turn is
    shift(monday.plusDays(3), 540, 900);        // 3 hours after 06:00
    const auto found = shortRests(s, {monday, monday.plusDays(7)});
    ASSERT_EQ(found.size(), 2U);
    EXPECT_EQ(found[0].work.on, monday.plusDays(1));
    EXPECT_EQ(found[0].before.from, Minutes::of(840));
    EXPECT_EQ(found[0].rest, Minutes::of(9 * 60));
    EXPECT_TRUE(found[1].before.isOnCall);
    EXPECT_EQ(found[1].rest, Minutes::of(3 * 60));
    EXPECT_EQ(shortRests(s, {monday.plusDays(1), monday.plusDays(2)}).size(), 1U)
        << "what went before the days counts";
    s.settings.set(SettingKey::RestAfterCallHours, 9);
    EXPECT_EQ(shortRests(s, {monday, monday.plusDays(7)}).size(), 1U);
}

// Units worked by hand: nurse 1 a weekday night (1.00) and Thanksgiving, Thursday 26 November 2026 (2.00);
// nurse 2 a Saturday (1.50). Together 4.50, even share 2.25; Gini |3.0 - 1.5| / (2 x 2.25) / 2 = 1/6.
TEST_F(ReviewTest, TurnsArePaidByTheirDayAndSharedOut) {
    Nurse second = s.nurses.front();
    second.id = NurseId(2);
    s.nurses.push_back(second);
    Nurse third = second;
    third.id = NurseId(3);
    s.nurses.push_back(third);
    const auto turn = [&](std::int64_t nurse, Date on) {
        ExtraShift call;
        call.nurse = NurseId(nurse);
        call.on = on;
        call.from = Minutes::of(1020);
        call.to = Minutes::of(480);
        call.isOnCall = true;
        call.replacesPattern = false;
        s.extraShifts.push_back(call);
    };
    turn(1, Date::of(2026, 11, 24));
    turn(1, Date::of(2026, 11, 26));
    turn(2, Date::of(2026, 11, 28));
    const CallFairness fair = callFairness(s, {Date::of(2026, 11, 22), Date::of(2026, 11, 29)});
    ASSERT_EQ(fair.shares.size(), 2U);
    EXPECT_EQ(fair.shares[0].nurse, NurseId(1));
    EXPECT_EQ(fair.shares[0].nights, 1);
    EXPECT_EQ(fair.shares[0].holidays, 1);
    EXPECT_EQ(fair.shares[1].weekends, 1);
    EXPECT_NEAR(fair.shares[0].units, 3.0, 1e-12);
    EXPECT_NEAR(fair.shares[0].beyondEven, 0.75, 1e-12);
    EXPECT_NEAR(fair.evenShare, 2.25, 1e-12);
    EXPECT_NEAR(fair.gini, 1.0 / 6, 1e-12);
    EXPECT_EQ(fair.withoutTurns, std::vector<NurseId>{NurseId(3)});
}

} // namespace
} // namespace kitround::caseload
