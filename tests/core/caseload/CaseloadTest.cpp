#include "core/caseload/Capacity.h"
#include "core/caseload/Evenness.h"
#include "core/caseload/Load.h"
#include "core/caseload/OwnFigures.h"
#include "core/rounds/due/VisitsDue.h"

#include <gtest/gtest.h>

namespace kitround::caseload {
namespace {

TEST(EvennessTest, GiniOfWorkedValues) {
    // 1, 2, 3: the six differences sum to 8, twice counted; 8 / (2 x 9 x 2) = 2/9.
    EXPECT_NEAR(gini(std::vector{3.0, 1.0, 2.0}), 2.0 / 9.0, 1e-12);
    // All in one of four hands: (n - 1) / n.
    EXPECT_NEAR(gini(std::vector{0.0, 0.0, 0.0, 5.0}), 0.75, 1e-12);
    EXPECT_EQ(gini(std::vector{4.0, 4.0}), 0);
    EXPECT_EQ(gini({}), 0);
    EXPECT_EQ(gini(std::vector{0.0, 0.0}), 0);
}

TEST(EvennessTest, JainOfWorkedValues) {
    // (1 + 2 + 3)^2 / (3 x 14) = 36 / 42.
    EXPECT_NEAR(jain(std::vector{1.0, 2.0, 3.0}), 36.0 / 42.0, 1e-12);
    EXPECT_NEAR(jain(std::vector{0.0, 0.0, 0.0, 5.0}), 0.25, 1e-12);
    EXPECT_EQ(jain(std::vector{4.0, 4.0}), 1);
    EXPECT_EQ(jain({}), 1);
}

class LoadTest : public ::testing::Test {
protected:
    LoadTest() {
        s.asOf = Date::of(2026, 11, 8);
        s.now = {s.asOf, Minutes::of(0)};
        Nurse nurse;
        nurse.id = NurseId(1);
        nurse.familyName = "Invented";
        s.nurses.push_back(nurse);
        Patient patient;
        patient.id = PatientId(1);
        patient.status = CareStatus::Active;
        patient.primaryNurse = nurse.id;
        s.patients.push_back(patient);
        for (const Weekday day : kAllWeekdays) {
            if (day == Weekday::Sunday || day == Weekday::Saturday)
                continue;
            ShiftPattern shift;
            shift.id = ShiftPatternId(1 + int(day));
            shift.nurse = nurse.id;
            shift.weekday = day;
            shift.from = Minutes::of(480);
            shift.to = Minutes::of(990); // 510 minutes less the break of 30: 480
            shift.breakLength = Minutes::of(30);
            shift.validFrom = Date::of(2026, 1, 1);
            s.shiftPatterns.push_back(shift);
        }
    }
    Visit &done(VisitKind kind, Date on) {
        Visit v;
        v.id = VisitId(static_cast<std::int64_t>(s.visits.size()) + 1);
        v.patient = PatientId(1);
        v.kind = kind;
        v.status = VisitStatus::Done;
        v.on = on;
        v.length = visitLength(s.settings, kind);
        v.nurse = NurseId(1);
        s.visits.push_back(v);
        return s.visits.back();
    }
    LoadReview review() {
        const SnapshotIndex index(s);
        return reviewLoad(index, week, {}, rounds::WeekProblem{}, rounds::WeekPlan{});
    }
    const DateRange week{Date::of(2026, 11, 1), Date::of(2026, 11, 8)};
    Snapshot s;
};

// Row K16 of the worked checks of the trade, a week in points: 1 start (2.0), 1 recertification (1.5), 18
// routine (18.0) and 110 miles (110 / 60 = 1.833) make 23.33 (weights: common practice).
TEST_F(LoadTest, PointsOfAWorkedWeek) {
    done(VisitKind::StartOfCare, week.from.plusDays(1)).driven = Metres::of(177028); // 110 miles
    done(VisitKind::Recertification, week.from.plusDays(1));
    for (int k = 0; k < 18; ++k)
        done(VisitKind::Routine, week.from.plusDays(1 + k % 5));
    const LoadReview r = review();
    ASSERT_EQ(r.nurses.size(), 1U);
    EXPECT_NEAR(r.nurses[0].points, 23.33, 0.01);
    EXPECT_EQ(r.nurses[0].visits, 20);
    EXPECT_EQ(r.nurses[0].starts, 1);
    EXPECT_EQ(r.nurses[0].mileage, Money::of(7975)); // 110 x 72.5 cents
    EXPECT_EQ(r.nurses[0].primaryPatients, 1);
    EXPECT_EQ(r.placed, 20);
}

TEST_F(LoadTest, NotesCountIntoTheShareOfCapacity) {
    for (int k = 0; k < 20; ++k)
        done(VisitKind::Routine, week.from.plusDays(1 + k % 5));
    const LoadReview r = review();
    // Capacity: 5 days x 480 = 2400, the contract. Load: 20 x (45 + 15) = 1200.
    EXPECT_EQ(r.nurses[0].capacity, Minutes::of(2400));
    EXPECT_NEAR(r.nurses[0].share, 0.5, 1e-12);
    EXPECT_EQ(r.nurses[0].sign, LoadSign::Usual);
    EXPECT_EQ(r.nurses[0].mostVisitsInADay, 4);
}

TEST_F(LoadTest, APublishedVisitOfADayGoneByThatNobodyRecordedCountsAsTheWorkItWasPlannedToBe) {
    Visit &visit = done(VisitKind::Routine, week.from.plusDays(1));
    const LoadReview made = review();
    visit.status = VisitStatus::Published;
    const LoadReview open = review();
    EXPECT_EQ(open.placed, made.placed);
    EXPECT_EQ(open.nurses[0].visits, 1);
    EXPECT_EQ(open.nurses[0].direct, made.nurses[0].direct);
    visit.status = VisitStatus::Missed;
    EXPECT_EQ(review().nurses[0].visits, 0);
}

TEST_F(LoadTest, TooManyVisitsInADayShowRedThoughTheWeekIsLight) {
    for (int k = 0; k < 8; ++k)
        done(VisitKind::Routine, week.from.plusDays(2));
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Red);
}

// Nearly full above 6 visits on one day, over full above 7; by share above 90 and 100 % of 2400 minutes.
TEST_F(LoadTest, ASignThatOneDayGivesIsTold) {
    for (int k = 0; k < 7; ++k)
        done(VisitKind::Routine, week.from.plusDays(2)); // 7 x (45 + 15) = 420 minutes
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Amber);
    EXPECT_EQ(review().nurses[0].mostVisitsInADay, 7);
    EXPECT_TRUE(review().nurses[0].isByDay);
    s.visits.back().on = week.from.plusDays(3); // 6 and 1: no day is full
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Light) << "420 of 2400 minutes";
    EXPECT_FALSE(review().nurses[0].isByDay);
}

TEST_F(LoadTest, EachMissedVisitThatIsCountedIsListedToo) {
    Visit &refused = done(VisitKind::Routine, week.from.plusDays(3));
    refused.status = VisitStatus::Missed;
    refused.missReason = MissReason::Refused;
    Visit &early = done(VisitKind::Teaching, week.from.plusDays(1));
    early.status = VisitStatus::Missed;
    early.prescriberToldAt = LocalTime{week.from.plusDays(1), Minutes::of(900)};
    const LoadReview r = review();
    EXPECT_EQ(r.missed, 2);
    ASSERT_EQ(r.left.size(), 2U);
    EXPECT_EQ(r.left[0].kind, VisitKind::Teaching) << "by day";
    EXPECT_TRUE(r.left[0].isMissed && r.left[0].prescriberTold);
    EXPECT_EQ(r.left[1].days.from, week.from.plusDays(3));
    EXPECT_EQ(r.left[1].reason, MissReason::Refused);
    EXPECT_FALSE(r.left[1].prescriberTold);
}

TEST_F(LoadTest, AWeekOfNextToNothingIsNoUsualOne) {
    done(VisitKind::Routine, week.from.plusDays(1)); // 60 of 2400 minutes
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Light);
    for (int k = 1; k < 16; ++k) // 16 x 60 are 40 %
        done(VisitKind::Routine, week.from.plusDays(1 + k % 5));
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Usual);
}

TEST_F(LoadTest, ASignThatTheShareGivesIsNotTheDays) {
    const auto day = [this](int k) { return week.from.plusDays(1 + k % 5); };
    for (int k = 0; k < 11; ++k)
        done(VisitKind::Routine, day(k)).length = Minutes::of(200); // 11 x (200 + 15) = 2365: 98.5 %
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Amber);
    EXPECT_FALSE(review().nurses[0].isByDay);
    for (std::size_t k = 0; k < 11; ++k) // 7 on Tuesday, 4 on Wednesday: the share says as much
        s.visits[k].on = week.from.plusDays(k < 7 ? 2 : 3);
    EXPECT_EQ(review().nurses[0].mostVisitsInADay, 7);
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Amber);
    EXPECT_FALSE(review().nurses[0].isByDay);
    s.visits[7].on = week.from.plusDays(2); // an eighth: over full, which the share does not say
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Red);
    EXPECT_TRUE(review().nurses[0].isByDay);
}

TEST_F(LoadTest, WorkWithoutCapacityHasNoShareButShowsRed) {
    s.shiftPatterns.clear();
    done(VisitKind::Routine, week.from.plusDays(2));
    const LoadReview r = review();
    EXPECT_EQ(r.nurses[0].share, 0);
    EXPECT_EQ(r.nurses[0].sign, LoadSign::Red);
}

TEST_F(LoadTest, WhoHasNoShiftsIsNotAway) {
    s.shiftPatterns.clear();
    EXPECT_EQ(review().nurses[0].sign, LoadSign::NoShifts);
    TimeOff off;
    off.id = TimeOffId(1);
    off.nurse = NurseId(1);
    off.from = week.from.plusDays(-7);
    off.to = week.from; // over before the week
    s.timeOff.push_back(off);
    EXPECT_EQ(review().nurses[0].sign, LoadSign::NoShifts);
    s.timeOff[0].to = week.from.plusDays(1);
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Away);
}

// 11 November 2026 is Veterans Day, a Wednesday.
TEST_F(LoadTest, AHolidayWithoutVisitsIsNoCapacityButForWhomIsPutDownForThatDay) {
    const DateRange holidays{Date::of(2026, 11, 8), Date::of(2026, 11, 15)};
    s.settings.holidaysAreWorked = false;
    EXPECT_EQ(wholeCapacity(s, holidays), Minutes::of(4 * 480));
    ExtraShift extra;
    extra.id = ExtraShiftId(1);
    extra.nurse = NurseId(1);
    extra.on = Date::of(2026, 11, 11);
    extra.from = Minutes::of(480);
    extra.to = Minutes::of(720);
    s.extraShifts.push_back(extra);
    EXPECT_EQ(wholeCapacity(s, holidays), Minutes::of(4 * 480 + 240));
    s.extraShifts.clear();
    s.settings.holidaysAreWorked = true;
    EXPECT_EQ(wholeCapacity(s, holidays), Minutes::of(5 * 480));
}

TEST_F(LoadTest, AHolidayLowersTheTargetOfPoints) {
    const DateRange holidays{Date::of(2026, 11, 8), Date::of(2026, 11, 15)};
    const auto target = [&] {
        const SnapshotIndex index(s);
        return reviewLoad(index, holidays, {}, rounds::WeekProblem{}, rounds::WeekPlan{})
            .nurses[0]
            .pointsCapacity;
    };
    s.settings.holidaysAreWorked = true;
    const double full = target();
    s.settings.holidaysAreWorked = false;
    EXPECT_NEAR(target(), full * 4 / 5, 1e-9);
    s.settings.holidaysAreWorked = true;
    s.settings.ownHolidays = {Date::of(2026, 11, 12)};
    EXPECT_NEAR(target(), full * 4 / 5, 1e-9) << "the agency's own";
}

// Two days off of five leave 1440 minutes; overtime begins beyond the contract of the whole week, 2400.
TEST_F(LoadTest, AShareAboveFullMayHaveNoOvertimeAndSaysTheMinutesBeyondCapacity) {
    TimeOff off;
    off.id = TimeOffId(1);
    off.nurse = NurseId(1);
    off.from = week.from;
    off.to = week.from.plusDays(3);
    s.timeOff.push_back(off);
    for (int k = 0; k < 8; ++k)
        done(VisitKind::Routine, week.from.plusDays(3 + k % 3)).length = Minutes::of(200); // 8 x 215 = 1720
    const LoadReview r = review();
    EXPECT_EQ(r.nurses[0].capacity, Minutes::of(1440));
    EXPECT_EQ(r.nurses[0].sign, LoadSign::Red);
    EXPECT_EQ(r.nurses[0].overtime, Minutes());
    EXPECT_EQ(r.nurses[0].beyondCapacity, Minutes::of(280));
    EXPECT_EQ(r.beyondCapacity, Minutes::of(280));
}

TEST_F(LoadTest, AWeekThatReadsAsAHundredPercentIsNotOverFull) {
    for (int k = 0; k < 10; ++k) // 9 x (225 + 15) and 233 + 15: 2408 of 2400 minutes
        done(VisitKind::Routine, week.from.plusDays(1 + k % 5)).length = Minutes::of(k == 0 ? 233 : 225);
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Amber);
    s.visits[0].length = Minutes::of(245); // 2420: 101 %
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Red);
}

TEST_F(LoadTest, LeaveLowersTheTargetOfPointsAndAWholeWeekOfItIsAway) {
    const double full = review().nurses[0].pointsCapacity;
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Free);
    TimeOff off;
    off.id = TimeOffId(1);
    off.nurse = NurseId(1);
    off.from = week.from;
    off.to = week.from.plusDays(3); // Sunday to Tuesday: two days of five
    s.timeOff.push_back(off);
    EXPECT_NEAR(review().nurses[0].pointsCapacity, full * 3 / 5, 1e-9);
    s.timeOff[0].to = week.to;
    EXPECT_EQ(review().nurses[0].pointsCapacity, 0);
    EXPECT_EQ(review().nurses[0].sign, LoadSign::Away);
}

// The road to a visit made is what the miles say; without them the map's, there and home as the planner
// counts.
TEST_F(LoadTest, TravelOfVisitsMadeCountsIntoTheShare) {
    done(VisitKind::Routine, week.from.plusDays(1)).driven = Metres::of(16093); // 10 miles
    s.patients[0].address.area = AreaKind::Suburban;
    LoadReview r = review();
    EXPECT_EQ(r.nurses[0].travel, Minutes::of(26)); // 10 miles at 28 an hour, and 5 minutes a stop
    EXPECT_NEAR(r.nurses[0].share, (45 + 15 + 26) / 2400.0, 1e-12);
    s.visits.back().driven.reset();
    EXPECT_EQ(review().nurses[0].travel, Minutes()) << "no miles and no points: nothing is made up";
    s.nurses[0].base.point = GeoPoint{40.0, -75.0};
    s.patients[0].address.point = GeoPoint{40.1, -75.0};
    const auto way = rounds::travelTable({{s.nurses[0].base.point, s.nurses[0].base.area},
                                          {s.patients[0].address.point, s.patients[0].address.area}},
                                         s.settings)
                         .minutesBetween(0, 1);
    EXPECT_EQ(review().nurses[0].travel, Minutes::of(2 * way));
    done(VisitKind::Phone, week.from.plusDays(2));
    EXPECT_EQ(review().nurses[0].travel, Minutes::of(2 * way)) << "nobody drives to a telephone";
}

TEST_F(LoadTest, ContinuityIsTheShareOfTheMainNurseOnRecordElseOfTheOneSeenMost) {
    Nurse other = s.nurses[0];
    other.id = NurseId(2);
    s.nurses.push_back(other);
    for (int k = 0; k < 3; ++k)
        done(VisitKind::Routine, week.from.plusDays(k));
    done(VisitKind::Routine, week.from.plusDays(4)).nurse = NurseId(2);
    const LoadReview r = review();
    ASSERT_EQ(r.continuity.size(), 1U);
    EXPECT_EQ(r.continuity[0].nurses, 2);
    EXPECT_NEAR(r.continuity[0].mainShare, 0.75, 1e-12);
    EXPECT_TRUE(r.continuity[0].isMainNamed);
    s.patients[0].primaryNurse = NurseId(2); // comes less often, and is the main nurse all the same
    EXPECT_NEAR(review().continuity[0].mainShare, 0.25, 1e-12);
    s.patients[0].primaryNurse.reset();
    EXPECT_NEAR(review().continuity[0].mainShare, 0.75, 1e-12);
    EXPECT_EQ(review().continuity[0].mainNurse, NurseId(1));
    EXPECT_FALSE(review().continuity[0].isMainNamed);
}

TEST_F(LoadTest, OwnMinutesAreTheMedianAndUsedFromEnoughVisitsOn) {
    const auto timed = [&](int minutes) {
        Visit &v = done(VisitKind::Routine, week.from);
        v.startedAt = LocalTime{week.from, Minutes::of(600)};
        v.endedAt = LocalTime{week.from, Minutes::of(600 + minutes)};
    };
    for (int k = 0; k < 19; ++k)
        timed(k < 10 ? 40 : 60);
    timed(-20); // wrong way round: tells nothing
    auto figures = ownVisitMinutes(s);
    ASSERT_EQ(figures.size(), 1U);
    EXPECT_EQ(figures[0].key, SettingKey::VisitMinutesRoutine);
    EXPECT_EQ(figures[0].value, 40);
    EXPECT_EQ(figures[0].n, 19);
    EXPECT_FALSE(figures[0].isUsed);
    timed(60); // 10 of 40 and 10 of 60: the middle is 50
    figures = ownVisitMinutes(s);
    EXPECT_EQ(figures[0].value, 50);
    EXPECT_TRUE(figures[0].isUsed);
}

} // namespace
} // namespace kitround::caseload
