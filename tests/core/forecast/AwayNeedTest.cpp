#include "core/forecast/AwayNeed.h"
#include "core/forecast/HomeForecast.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::forecast {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);
const Home kFirst{PatientId(1), CatheterId(1)};

// Every day, each logged with one kit, none lost.
SmallAgency daily(int everyNDays = 1) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(everyNDays, kToday));
    for (int back = 40; back > 0; --back)
        if (back % everyNDays == 0)
            agency.drained(home, kToday.plusDays(-back), 400, {{SmallAgency::kKit500, 1}});
    return agency;
}
AwayNeed need(const SmallAgency &agency, DateRange days, std::int64_t permille = 950) {
    const Snapshot snapshot = agency.build();
    const auto needs = awayNeed(SnapshotIndex(snapshot), kFirst.patient, days, permille);
    EXPECT_FALSE(needs.empty());
    return needs.empty() ? AwayNeed{} : needs.front();
}

TEST(AwayNeedTest, ThePlainRuleIsDrainsTimesKitsInJustTheseDays) {
    const AwayNeed ten = need(daily(), {kToday, kToday.plusDays(10)});
    EXPECT_EQ(ten.item, SmallAgency::kKit500);
    EXPECT_EQ(ten.plain, 10);
    // Every third day from today: 4 in 10 days; from tomorrow on only 3.
    EXPECT_EQ(need(daily(3), {kToday, kToday.plusDays(10)}).plain, 4);
    EXPECT_EQ(need(daily(3), {kToday.plusDays(1), kToday.plusDays(10)}).plain, 3);
}

TEST(AwayNeedTest, NeverLessThanTheRuleAndMoreForAHigherLevel) {
    const DateRange days{kToday.plusDays(5), kToday.plusDays(19)};
    const AwayNeed usual = need(daily(), days, 900), sure = need(daily(), days, 999);
    EXPECT_GE(usual.carry.count(), usual.plain);
    EXPECT_GE(sure.atLevel, usual.atLevel);
    EXPECT_GT(sure.carry.count(), usual.plain) << "a bottle may be lost on the way";
    EXPECT_NEAR(usual.mean, 14, 3);
}

TEST(AwayNeedTest, TheSameAsTheForecastOfTheHomeWhenTheJourneyBeginsToday) {
    const SmallAgency agency = daily();
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto home = forecastHome(index, *index.catheter(kFirst.catheter), {});
    const AwayNeed away = need(agency, {kToday, kToday.plusDays(7)});
    EXPECT_EQ(away.atLevel, home.front().cumulated.at(6).quantile(0.95));
    EXPECT_DOUBLE_EQ(away.mean, home.front().cumulated.at(6).mean());
}

TEST(AwayNeedTest, WhatIsPastItsDayWhenTheyLeaveIsNotTakenAlong) {
    SmallAgency agency = daily();
    agency.counted(kFirst, SmallAgency::kKit500, 4, kToday);
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(1));
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(kFirst.catheter), SmallAgency::kKit500, lot, Eaches::of(3)});
    });
    EXPECT_EQ(need(agency, {kToday.plusDays(1), kToday.plusDays(9)}).atHome, Eaches::of(7));
    EXPECT_EQ(need(agency, {kToday.plusDays(2), kToday.plusDays(9)}).atHome, Eaches::of(4));
}

TEST(AwayNeedTest, TheHoldItselfStopsNothingAndWhatIsAtHomeIsTakenOff) {
    SmallAgency agency = daily();
    agency.hold(kFirst, kToday.plusDays(2), std::nullopt, kToday.plusDays(12), true)
        .counted(kFirst, SmallAgency::kKit500, 4, kToday);
    const AwayNeed away = need(agency, {kToday.plusDays(2), kToday.plusDays(12)});
    EXPECT_EQ(away.plain, 10);
    EXPECT_EQ(away.atHome, Eaches::of(4));
    EXPECT_EQ(away.toSend().count(), away.carry.count() - 4);
}

TEST(AwayNeedTest, NothingIsSaidOfNoDaysOfTooManyOrWithoutAnOrder) {
    const Snapshot snapshot = daily().build();
    const SnapshotIndex index(snapshot);
    EXPECT_TRUE(awayNeed(index, kFirst.patient, {kToday, kToday}, 950).empty());
    EXPECT_TRUE(awayNeed(index, kFirst.patient, {kToday.plusDays(-9), kToday}, 950).empty());
    EXPECT_TRUE(awayNeed(index, kFirst.patient, {kToday, kToday.plusDays(85)}, 950).empty());
    SmallAgency without(kToday);
    without.addHome();
    const Snapshot bare = without.build();
    EXPECT_TRUE(awayNeed(SnapshotIndex(bare), kFirst.patient, {kToday, kToday.plusDays(5)}, 950).empty());
}

} // namespace
} // namespace kitround::forecast
