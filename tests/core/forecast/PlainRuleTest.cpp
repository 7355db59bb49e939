// The trade's own arithmetic. Expectations are the rows K01-K05, K11 and K24 of worked_checks.csv.
#include "core/forecast/PlainRule.h"

#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

using namespace kitround;
using namespace kitround::forecast;
using namespace kitround::test;

namespace {

std::vector<PlainSession> sessionsOf(const DrainOrder &order, DateRange days,
                                     std::vector<const Hold *> holds = {}, double units = 1) {
    const DrainOrder *orders[] = {&order};
    std::vector<PlainSession> sessions;
    for (const calendar::PlannedDrain &d : calendar::plannedDrains(orders, holds, days))
        sessions.push_back({d.on, d.order, units});
    return sessions;
}

DrainOrder orderOf(const DrainPattern &pattern, Date start) {
    DrainOrder order;
    order.pattern = pattern;
    order.start = start;
    return order;
}

PlainRule ruleFor(const std::vector<PlainSession> &sessions, DateRange days, std::int64_t stock) {
    PlainQuestion q;
    q.sessions = sessions;
    q.days = days;
    q.stockOn = [stock](Date) { return Eaches::of(stock); };
    return plainRule(q);
}

std::int64_t bottles(int volume, int size) {
    return bottlesForSession(Millilitres::of(volume), Millilitres::of(size), std::nullopt).count();
}

} // namespace

TEST(PlainRuleTest, ThirtyDaysEveryOtherDayAreFifteenSessions) { // K01
    const Date first = Date::of(2026, 3, 1);
    EXPECT_EQ(sessionsCovering(everyDays(2, first), Days::of(30)).count(), 15);
    const auto sessions = sessionsOf(orderOf(everyDays(2, first), first), {first, first.plusDays(30)});
    ASSERT_EQ(sessions.size(), 15U);
    EXPECT_EQ(sessions.back().on, first.plusDays(28)); // day 29
}

TEST(PlainRuleTest, ThirtyDaysByFrequency) { // K02
    const Date first = Date::of(2026, 3, 1);
    EXPECT_EQ(sessionsCovering(everyDays(1, first), Days::of(30)).count(), 30);
    EXPECT_EQ(sessionsCovering(timesAWeek(3), Days::of(30)).count(), 13);
    EXPECT_EQ(sessionsCovering(timesAWeek(2, {Weekday::Monday, Weekday::Thursday}), Days::of(30)).count(), 9);
}

TEST(PlainRuleTest, AsNeededCountsTheSmallerMaximumAndNothingWithoutOne) {
    EXPECT_EQ(sessionsCovering(asNeeded(1, 3), Days::of(14)).count(), 6);
    EXPECT_EQ(sessionsCovering(asNeeded(2), Days::of(14)).count(), 28);
    EXPECT_EQ(sessionsCovering(asNeeded(std::nullopt), Days::of(14)).count(), 0);
}

TEST(PlainRuleTest, FifteenInPacksOfTenAreTwoPacksThatLastFortyDays) { // K03
    const PackSize pack{Eaches::of(10)};
    const Cases cases = casesCovering(Eaches::of(15), pack);
    EXPECT_EQ(cases.count(), 2);
    const Date first = Date::of(2026, 3, 1);
    const DateRange days{first, first.plusDays(60)};
    const PlainRule rule =
        ruleFor(sessionsOf(orderOf(everyDays(2, first), first), days), days, toEaches(cases, pack).count());
    EXPECT_EQ((*rule.supplyEnds - first).count() + 1, 40); // over a cap of 30 days
}

TEST(PlainRuleTest, BottlesOpenedBySession) { // K04
    EXPECT_EQ(bottles(450, 500), 1);
    EXPECT_EQ(bottles(600, 500), 2);
    EXPECT_EQ(bottles(600, 1000), 1);
    EXPECT_EQ(bottles(1000, 500), 2);
    EXPECT_EQ(bottles(1000, 1000), 1);
    EXPECT_EQ(bottles(0, 500), 1); // a dry tap still opens one
}

TEST(PlainRuleTest, ThePrescribedMaximumStopsTheSession) {
    EXPECT_EQ(bottlesForSession(Millilitres::of(1400), Millilitres::of(500), Millilitres::of(1000)).count(),
              2);
    EXPECT_EQ(bottlesForSession(Millilitres::of(900), Millilitres::of(500), Millilitres::of(1000)).count(),
              2);
}

TEST(PlainRuleTest, BottlesAreCountedSessionBySessionNotFromTheMeanVolume) { // K05
    const int volumes[] = {400, 400, 700};
    std::int64_t sum = 0;
    for (int v : volumes)
        sum += bottles(v, 500);
    EXPECT_EQ(sum, 4);
    EXPECT_EQ(3 * bottles(500, 500), 3); // what the mean would say

    // The same through the learned model: kits 1, extra bottles 1 in 3 sessions.
    SmallAgency agency(Date::of(2026, 3, 2));
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, agency.asOf()));
    agency.edit([](Snapshot &s) { s.settings.set(SettingKey::LogMemoryDays, 365); });
    const int days[] = {6, 4, 2};
    for (int i = 0; i < 3; ++i)
        agency.drained(home, agency.asOf().plusDays(-days[i]), volumes[i]);
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto model = learnUse(index, snapshot.catheters[0]);
    ASSERT_EQ(model->items.size(), 2U);
    EXPECT_DOUBLE_EQ(model->items[0].plainPerSession, 1.0);
    EXPECT_NEAR(model->items[1].plainPerSession, 1.0 / 3.0, 0.002); // newer entries weigh a little more
}

TEST(PlainRuleTest, FourteenSetsEveryOtherDayEndTheDayBeforeTheNextDrain) { // K11
    const Date first = Date::of(2026, 3, 2);
    const DateRange days{first, first.plusDays(84)};
    const PlainRule rule = ruleFor(sessionsOf(orderOf(everyDays(2, first), first), days), days, 14);
    EXPECT_EQ(rule.lastCoveredDrain, Date::of(2026, 3, 28));
    EXPECT_EQ(rule.supplyEnds, Date::of(2026, 3, 29));
    EXPECT_EQ(*rule.supplyEnds - Days::of(30), Date::of(2026, 2, 27)); // contact not before
    EXPECT_EQ(*rule.supplyEnds - Days::of(10), Date::of(2026, 3, 19)); // delivery not before
}

TEST(PlainRuleTest, AHoldOfSevenDaysMovesTheRunOutBySevenDays) { // K24
    const Date morning = Date::of(2026, 4, 1);
    const DateRange days{morning, morning.plusDays(84)};
    const DrainOrder order = orderOf(everyDays(1, morning), morning);
    EXPECT_EQ(ruleFor(sessionsOf(order, days), days, 20).supplyEnds, Date::of(2026, 4, 20));
    Hold hold;
    hold.from = Date::of(2026, 4, 3);
    hold.to = Date::of(2026, 4, 10); // the 9th is the last day on hold
    EXPECT_EQ(ruleFor(sessionsOf(order, days, {&hold}), days, 20).supplyEnds, Date::of(2026, 4, 27));
}

TEST(PlainRuleTest, NamedWeekdaysEndTheDayBeforeTheNextOne) {
    const Date monday = Date::of(2026, 3, 2);
    const DateRange days{monday, monday.plusDays(28)};
    const DrainOrder order = orderOf(timesAWeek(2, {Weekday::Monday, Weekday::Thursday}), monday);
    const PlainRule rule = ruleFor(sessionsOf(order, days), days, 2);
    EXPECT_EQ(rule.lastCoveredDrain, monday.plusDays(3));
    EXPECT_EQ(rule.supplyEnds, monday.plusDays(6)); // Sunday
}

TEST(PlainRuleTest, AnEmptyShelfEndsBeforeTheFirstDrain) {
    const Date first = Date::of(2026, 3, 2);
    const DateRange days{first, first.plusDays(14)};
    const PlainRule rule = ruleFor(sessionsOf(orderOf(everyDays(2, first), first), days), days, 0);
    EXPECT_EQ(rule.lastCoveredDrain, std::nullopt);
    EXPECT_EQ(rule.supplyEnds, first.plusDays(-1));
}

TEST(PlainRuleTest, WhatLastsBeyondTheDaysAskedForHasNoEnd) {
    const Date first = Date::of(2026, 3, 2);
    const DateRange days{first, first.plusDays(14)};
    const PlainRule rule = ruleFor(sessionsOf(orderOf(everyDays(2, first), first), days), days, 7);
    EXPECT_EQ(rule.supplyEnds, std::nullopt);
    EXPECT_EQ(rule.lastCoveredDrain, first.plusDays(12));
}

TEST(PlainRuleTest, ShareOfABottleASessionIsRoundedUpOverTheWholeNotEachTime) {
    const Date first = Date::of(2026, 3, 2);
    const DateRange days{first, first.plusDays(14)};
    const DrainOrder order = orderOf(everyDays(1, first), first);
    const PlainRule rule = ruleFor(sessionsOf(order, days, {}, 0.2), days, 100);
    EXPECT_EQ(rule.cumulated.front(), 1);
    EXPECT_EQ(rule.cumulated[4], 1); // five sessions of 0.2
    EXPECT_EQ(rule.cumulated[13], 3);
    ASSERT_EQ(rule.weeks(), 2U);
    EXPECT_EQ(rule.inWeek(0), 2);
    EXPECT_EQ(rule.inWeek(1), 1);
}
