// Quality by month, every count worked by hand.
#include "core/caseload/Quality.h"
#include "core/calendar/Zone.h"
#include "core/caseload/CareDays.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::caseload {
namespace {

using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2);
constexpr Date kFebruary = Date::of(2026, 2, 1);

class QualityTest : public ::testing::Test {
protected:
    QualityTest() {
        agency_.edit([](Snapshot &s) { s.logFrom = Date::of(2026, 1, 20); });
    }
    void sign(const Home &home, Date on, Symptom symptom) {
        agency_.drained(home, on, 300);
        agency_.edit([&](Snapshot &s) { s.drainEntries.back().symptoms = {symptom}; });
    }
    void visit(const Home &home, Date on, VisitKind kind) {
        agency_.edit([&](Snapshot &s) {
            Visit made;
            made.id = VisitId(static_cast<std::int64_t>(s.visits.size()) + 1);
            made.patient = home.patient;
            made.kind = kind;
            made.status = VisitStatus::Done;
            made.on = on;
            s.visits.push_back(made);
        });
    }
    static Instant newYork(Date on, int hour, int minute) {
        return calendar::Zone::named("America/New_York").value().toUtc({on, Minutes::of(60 * hour + minute)});
    }
    std::vector<QualityMonth> run() {
        snapshot_ = agency_.build();
        return qualityByMonth(SnapshotIndex(snapshot_));
    }

    SmallAgency agency_{kToday};
    Snapshot snapshot_;
};

TEST_F(QualityTest, MonthsAreThoseWhollyInTheLogAndThisOneSoFar) {
    const auto months = run();
    ASSERT_EQ(months.size(), 2U) << "January is loaded from the 20th only";
    EXPECT_EQ(months[0].days, (DateRange{kFebruary, Date::of(2026, 3, 1)}));
    EXPECT_EQ(months[1].days, (DateRange{Date::of(2026, 3, 1), Date::of(2026, 3, 3)}));
}

// Two catheters for 28 days, less four days in hospital: 52. One catheter had signs, twice.
TEST_F(QualityTest, HoldsAreNoCatheterDaysAndACatheterCountsOnceAMonth) {
    const Home well = agency_.addHome(), ill = agency_.addHome();
    agency_.hold(ill, Date::of(2026, 2, 10), Date::of(2026, 2, 14));
    sign(ill, Date::of(2026, 2, 3), Symptom::Redness);
    sign(ill, Date::of(2026, 2, 4), Symptom::Fever);
    sign(well, Date::of(2026, 2, 4), Symptom::Cough);
    const QualityMonth february = run().front();
    EXPECT_EQ(february[QualityMeasure::InfectionSigns], (QualityCount{1, 52}));
    EXPECT_EQ(february[QualityMeasure::HospitalStays], (QualityCount{1, 52}));
}

TEST_F(QualityTest, UnplannedVisitsAreCountedOfThoseMadeAndLateRefillsOfThosePromisedAgainstADay) {
    const Home home = agency_.addHome();
    visit(home, kFebruary, VisitKind::Routine);
    visit(home, kFebruary.plusDays(3), VisitKind::AsNeeded);
    visit(home, kToday, VisitKind::AsNeeded);
    for (const int day : {5, 12, 19})
        agency_.delivery(home, SmallAgency::kKit500, 4, kFebruary.plusDays(day));
    agency_.edit([](Snapshot &s) {
        s.deliveries[0].deliverBy = s.deliveries[0].deliveredAt->date; // on its day
        s.deliveries[1].deliverBy = s.deliveries[1].deliveredAt->date.plusDays(-1);
        s.deliveries[2].deliverBy.reset();
    });
    const QualityMonth february = run().front();
    EXPECT_EQ(february[QualityMeasure::UnplannedVisits], (QualityCount{1, 2}));
    EXPECT_EQ(february[QualityMeasure::LateRefills], (QualityCount{1, 2}));
}

// Started on 1 February: day 14 is the 14th. One was taught that day, one on the 15th.
TEST_F(QualityTest, TeachingOnDayFourteenIsInTimeAndTheDayAfterIsNot) {
    const Home inTime = agency_.addHome(), late = agency_.addHome();
    agency_.edit([](Snapshot &s) {
        for (Patient &patient : s.patients)
            patient.startOfCare = kFebruary;
    });
    visit(inTime, Date::of(2026, 2, 14), VisitKind::Teaching);
    visit(late, Date::of(2026, 2, 15), VisitKind::Teaching);
    EXPECT_EQ(run().front()[QualityMeasure::TaughtInTime], (QualityCount{1, 2}));
    agency_.edit([](Snapshot &s) { s.patients[1].startOfCare = kToday.plusDays(-13); });
    EXPECT_EQ(run().back()[QualityMeasure::TaughtInTime], (QualityCount{0, 0})) << "today is its day 14";
}

// Planned for January, made on 1 February; planned for February, made in March.
TEST_F(QualityTest, AVisitCountsOnTheDayItWasMade) {
    const Home home = agency_.addHome();
    visit(home, kFebruary.plusDays(-1), VisitKind::AsNeeded);
    visit(home, Date::of(2026, 2, 28), VisitKind::Routine);
    agency_.edit([](Snapshot &s) {
        s.visits[0].startedAt = LocalTime{kFebruary, Minutes::of(540)};
        s.visits[1].startedAt = LocalTime{Date::of(2026, 3, 1), Minutes::of(540)};
    });
    const auto months = run();
    EXPECT_EQ(months[0][QualityMeasure::UnplannedVisits], (QualityCount{1, 1}));
    EXPECT_EQ(months[1][QualityMeasure::UnplannedVisits], (QualityCount{0, 1}));
}

TEST_F(QualityTest, ATeachingPlannedInTimeAndMadeLaterIsLate) {
    const Home home = agency_.addHome();
    agency_.edit([](Snapshot &s) { s.patients[0].startOfCare = kFebruary; });
    visit(home, Date::of(2026, 2, 14), VisitKind::Teaching);
    agency_.edit([](Snapshot &s) {
        s.visits[0].startedAt = LocalTime{Date::of(2026, 2, 15), Minutes::of(540)};
    });
    EXPECT_EQ(run().front()[QualityMeasure::TaughtInTime], (QualityCount{0, 1}));
}

// All began on 1 February. One died on day 14 at 20:30, which is the 15th in UTC; one left on day 15.
TEST_F(QualityTest, WhoLeftBeforeTheDaysForTeachingWereOverIsLeftOut) {
    agency_.addHome();
    agency_.addHome();
    agency_.edit([](Snapshot &s) {
        for (Patient &patient : s.patients)
            patient.startOfCare = kFebruary;
        s.patients[0].exitedAt = newYork(Date::of(2026, 2, 14), 20, 30);
        s.patients[1].exitedAt = newYork(Date::of(2026, 2, 15), 9, 0);
    });
    EXPECT_EQ(run().front()[QualityMeasure::TaughtInTime], (QualityCount{0, 1}));
}

// At 20:30 in New York it is the next day in UTC; the day of the exit is none of care.
TEST_F(QualityTest, CareEndsOnTheDayOfTheAgencysClock) {
    agency_.addHome();
    agency_.addHome();
    const Date day = Date::of(2026, 2, 10);
    agency_.edit([&](Snapshot &s) {
        s.settings.timeZone = "America/New_York";
        s.patients[0].exitedAt = newYork(day, 20, 30);
        s.catheters[1].removedAt = newYork(day, 20, 30);
    });
    snapshot_ = agency_.build();
    const SnapshotIndex index(snapshot_);
    EXPECT_EQ(careEndedOn(index, snapshot_.patients[0]), day);
    EXPECT_FALSE(careEndedOn(index, snapshot_.patients[1]));
    for (const Patient &patient : snapshot_.patients) {
        EXPECT_TRUE(isPatientDay(index, patient, day.plusDays(-1)));
        EXPECT_FALSE(isPatientDay(index, patient, day));
    }
}

} // namespace
} // namespace kitround::caseload
