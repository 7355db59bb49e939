#include "core/calendar/Deadlines.h"

#include <gtest/gtest.h>

namespace kitround::calendar {
namespace {

const AgencySettings kSettings;
Zone newYork() {
    return *Zone::named("America/New_York");
}

TEST(FirstVisitTest, RunsFromTheLaterOfReferralAndReturn) {
    Patient patient;
    EXPECT_FALSE(firstVisitDue(patient, kSettings)); // neither is known, so no deadline is made up
    patient.referredAt = Instant::fromIso("2026-03-02T15:00:00Z");
    EXPECT_EQ(firstVisitDue(patient, kSettings)->toIso(), "2026-03-04T15:00:00Z");
    patient.homeFrom = Instant::fromIso("2026-03-03T20:00:00Z");
    EXPECT_EQ(firstVisitDue(patient, kSettings)->toIso(), "2026-03-05T20:00:00Z");
    patient.referredAt = std::nullopt;
    EXPECT_EQ(firstVisitDue(patient, kSettings)->toIso(), "2026-03-05T20:00:00Z");
}

TEST(FirstVisitTest, FortyEightHoursAreHoursAlsoWhenTheClocksChange) {
    // Saturday 7 March 2026, 09:00 in New York; the night to Sunday is an hour short, so 48 hours end at
    // 10:00.
    Patient patient;
    patient.referredAt = newYork().toUtc({Date::of(2026, 3, 7), Minutes::of(540)});
    EXPECT_EQ(toIso(newYork().toLocal(*firstVisitDue(patient, kSettings))), "2026-03-09T10:00");
}

TEST(CertificationTest, PeriodsFollowOneAnother) {
    const Date start = Date::of(2026, 1, 1);
    for (int day = 0; day < 400; ++day) {
        const Date on = start.plusDays(day);
        const CertificationPeriod period = certificationPeriod(start, on, kSettings);
        ASSERT_TRUE(period.days.contains(on));
        ASSERT_EQ(period.number, day / 60 + 1);
        ASSERT_EQ(period.days.length(), Days::of(60));
        ASSERT_EQ(period.recertWindow.length(), Days::of(5));
        ASSERT_EQ(period.recertWindow.to, period.days.to);
    }
}

TEST(CatheterDaysTest, HoldsAndDaysOutsideDoNotCount) {
    Catheter catheter;
    const DateRange april{Date::of(2026, 4, 1), Date::of(2026, 5, 1)};
    EXPECT_EQ(catheterDays(catheter, {}, april, newYork()), Days::of(30));
    catheter.insertedOn = Date::of(2026, 4, 11);
    EXPECT_EQ(catheterDays(catheter, {}, april, newYork()), Days::of(20));
    Hold hold;
    hold.from = Date::of(2026, 4, 5);
    hold.to = Date::of(2026, 4, 13);
    Hold overlapping = hold; // counted once
    overlapping.from = Date::of(2026, 4, 12);
    overlapping.to = Date::of(2026, 4, 14);
    EXPECT_EQ(catheterDays(catheter, {hold, overlapping}, april, newYork()), Days::of(17));
}

TEST(CatheterDaysTest, TheDayOfRemovalIsTheLocalOne) {
    Catheter catheter;
    // 21:00 in New York on the 20th is the 21st in UTC; the 20th is the day it came out and does not count.
    catheter.removedAt = Instant::fromIso("2026-04-21T01:00:00Z");
    EXPECT_EQ(catheterDays(catheter, {}, {Date::of(2026, 4, 1), Date::of(2026, 5, 1)}, newYork()),
              Days::of(19));
    EXPECT_EQ(catheterDays(catheter, {}, {Date::of(2026, 5, 1), Date::of(2026, 6, 1)}, newYork()),
              Days::of(0));
}

} // namespace
} // namespace kitround::calendar
