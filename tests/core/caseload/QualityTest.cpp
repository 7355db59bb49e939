// Quality by month, every count worked by hand.
#include "core/caseload/Quality.h"
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

} // namespace
} // namespace kitround::caseload
