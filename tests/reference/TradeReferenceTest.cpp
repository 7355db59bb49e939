// Worked examples of the trade, each by hand beside its rule. Sources: the regulations named; else common
// practice.
#include "core/calendar/Deadlines.h"
#include "core/calendar/DrainCalendar.h"
#include "core/calendar/VisitNotation.h"
#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Weeks.h"

#include <gtest/gtest.h>

namespace kitround::calendar {
namespace {

DrainOrder every(int days, Date anchor) {
    DrainOrder order;
    order.pattern.kind = DrainPatternKind::EveryNDays;
    order.pattern.everyDays = days;
    order.pattern.anchor = anchor;
    order.start = anchor;
    return order;
}

// The drain that the `sets`-th set is used for.
Date lastCovered(const DrainOrder &order, const std::vector<const Hold *> &holds, Date from,
                 std::size_t sets) {
    const std::vector<const DrainOrder *> orders{&order};
    return plannedDrains(orders, holds, {from, from.plusDays(400)}).at(sets - 1).on;
}

TEST(TradeReferenceTest, TwoAWeekForThreeThenOneForSixIsTwelveVisitsInNineWeeks) {
    // K08, common practice: 2*3 + 1*6.
    const auto segments = parseVisitOrder("2w3, 1w6");
    ASSERT_TRUE(segments);
    EXPECT_EQ(totals(*segments), (VisitTotals{12, 12, 9, 0}));
    VisitOrder order;
    order.start = Date::of(2026, 3, 1); // a Sunday
    order.segments = *segments;
    const auto weeks = weeksOwed(order, {order.start, order.start.plusDays(200)}, Weekday::Sunday);
    EXPECT_EQ(weeks.size(), 9U);
}

TEST(TradeReferenceTest, SixtyDaysTouchNineOrTenWeeks) {
    // K09, arithmetic: ceil((w + 60) / 7) with Sunday w = 0.
    const int expected[] = {9, 9, 9, 9, 10, 10, 10};
    for (int w = 0; w < 7; ++w)
        EXPECT_EQ(weeksTouched(Date::of(2026, 3, 1).plusDays(w), Days::of(60), Weekday::Sunday), expected[w])
            << w;
}

TEST(TradeReferenceTest, TheRecertificationWindowIsDay56To60) {
    // K10, 42 CFR 484.55(d) and 484.205: start of care Thursday 2026-01-01 is day 1.
    const CertificationPeriod period =
        certificationPeriod(Date::of(2026, 1, 1), Date::of(2026, 2, 1), AgencySettings());
    EXPECT_EQ(period.recertWindow,
              (DateRange{Date::of(2026, 2, 25), Date::of(2026, 3, 2)})); // to 03-01 inclusive
    EXPECT_EQ(period.days.to, Date::of(2026, 3, 2));
    EXPECT_EQ(period.secondPaymentPeriod, Date::of(2026, 1, 31));
    EXPECT_EQ(certificationPeriod(Date::of(2026, 1, 1), Date::of(2026, 3, 2), AgencySettings()).number, 2);
}

TEST(TradeReferenceTest, FourteenSetsEveryOtherDayLastToThe28th) {
    // K11: supply ends the day before the next drain that no set is left for (our definition); contact from
    // 30 days and delivery from 10 days before (federal DMEPOS refill rule since 2024-01-01, 88 FR 77676).
    const DrainOrder order = every(2, Date::of(2026, 3, 2));
    const Date last = lastCovered(order, {}, Date::of(2026, 3, 2), 14);
    EXPECT_EQ(last, Date::of(2026, 3, 28));
    const Date end = last + *longestGap(order.pattern) - Days::of(1);
    EXPECT_EQ(end, Date::of(2026, 3, 29));
    const Payer payer;
    EXPECT_EQ(end - payer.contactAtMostBefore, Date::of(2026, 2, 27));
    EXPECT_EQ(end - payer.deliverAtMostBefore, Date::of(2026, 3, 19));
}

TEST(TradeReferenceTest, FortyEightHoursRunThroughTheWeekend) {
    // K12, 42 CFR 484.55(a): referral Friday 2026-01-02 16:10, due Sunday 16:10.
    const Zone zone = *Zone::named("America/New_York");
    Patient patient;
    patient.referredAt = zone.toUtc({Date::of(2026, 1, 2), Minutes::of(16 * 60 + 10)});
    EXPECT_EQ(toIso(zone.toLocal(*firstVisitDue(patient, AgencySettings()))), "2026-01-04T16:10");
}

TEST(TradeReferenceTest, SevenDaysInHospitalMoveTheRunOutBySevenDays) {
    // K24: daily, 20 sets on the morning of 2026-04-01; away 04-03 to 04-09 inclusive.
    const DrainOrder order = every(1, Date::of(2026, 4, 1));
    Hold hold;
    hold.from = Date::of(2026, 4, 3);
    hold.to = Date::of(2026, 4, 10);
    EXPECT_EQ(lastCovered(order, {}, Date::of(2026, 4, 1), 20), Date::of(2026, 4, 20));
    EXPECT_EQ(lastCovered(order, {&hold}, Date::of(2026, 4, 1), 20), Date::of(2026, 4, 27));
}

TEST(TradeReferenceTest, HoldsAreNotCatheterDays) {
    // K25: two patients of 30 days, one on hold for 7 of them; 53 where holds are excluded, which ours are.
    const DateRange month{Date::of(2026, 4, 1), Date::of(2026, 5, 1)};
    const Zone zone = *Zone::named("America/Chicago");
    Hold hold;
    hold.from = Date::of(2026, 4, 10);
    hold.to = Date::of(2026, 4, 17);
    const Days days =
        catheterDays(Catheter(), {}, month, zone) + catheterDays(Catheter(), {hold}, month, zone);
    EXPECT_EQ(days, Days::of(53));
}

} // namespace
} // namespace kitround::calendar
