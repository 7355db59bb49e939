#include "core/forecast/HomeForecast.h"

#include "tests/core/forecast/EveryOutcome.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

using namespace kitround;
using namespace kitround::forecast;
using namespace kitround::test;

namespace {

const Date kToday = Date::of(2026, 3, 2); // a Monday
constexpr ItemId kKit = SmallAgency::kKit500;

std::vector<ItemForecast> forecastsOf(const SmallAgency &agency, const ForecastOptions &options = {}) {
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    return forecastHome(index, snapshot.catheters[0], options);
}

ItemForecast kitOf(const SmallAgency &agency, const ForecastOptions &options = {}) {
    const auto all = forecastsOf(agency, options);
    EXPECT_FALSE(all.empty());
    return all.empty() ? ItemForecast{} : all[0];
}

// Nobody leaves, nothing is lost, every drain is done.
void makeCertain(Snapshot &s) {
    using enum SettingKey;
    s.settings.set(AdherencePermille, 1000);
    s.settings.set(WastePermille, 0);
    for (SettingKey k : {RemovalPerMyriadDaily, RemovalPerMyriadEveryOther, RemovalPerMyriadLess,
                         DeathPerMyriadChest, DeathPerMyriadAbdomen})
        s.settings.set(k, 0);
}

} // namespace

TEST(HomeForecastTest, ShortHorizonMatchesEveryOutcomeEnumerated) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday));
    for (int d = -9; d < 0; ++d)
        agency.drained(home, kToday.plusDays(d), d % 3 == 0 ? 700 : 400);
    agency.counted(home, kKit, 4, kToday).counted(home, SmallAgency::kBottle500, 1, kToday);
    const auto all = forecastsOf(agency, {Days::of(6), true});
    ASSERT_EQ(all.size(), 2U);
    EXPECT_FALSE(all[1].model.items[0].levels.empty());
    const std::int64_t stock[] = {4, 1};
    for (std::size_t i = 0; i < 2; ++i) {
        Enumeration e;
        e.offered.assign(6, true);
        e.stock.assign(6, stock[i]);
        expectSame(all[i], e);
        EXPECT_GT(all[i].days[5].chanceDry, 0.1); // else dryness shows nothing
    }
}

TEST(HomeForecastTest, SilentDaysAndAParcelMatchEveryOutcomeEnumerated) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday));
    for (int d = -9; d <= -3; ++d) // nothing written down for two days
        agency.drained(home, kToday.plusDays(d), 400, {{kKit, 1}});
    agency.counted(home, kKit, 12, kToday.plusDays(-9));
    agency.delivery(home, kKit, 2, kToday.plusDays(3), DeliveryStatus::InTransit);
    const ItemForecast f = kitOf(agency, {Days::of(6), true});
    EXPECT_EQ(f.onHand.count(), 5);
    EXPECT_EQ(f.inTransit.count(), 2);
    EXPECT_EQ(f.unloggedP50.count(), 2);
    Enumeration e;
    e.silentDays = 2;
    e.offered.assign(8, true);
    e.stock = {5, 5, 5, 7, 7, 7};
    expectSame(f, e);
    EXPECT_GT(f.days[2].chanceDry, 0.01);
}

TEST(HomeForecastTest, AnOpenHoldMatchesEveryOutcomeEnumerated) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    agency.hold(home, kToday.plusDays(-1), std::nullopt, kToday.plusDays(3));
    agency.counted(home, kKit, 1, kToday);
    const ItemForecast f = kitOf(agency, {Days::of(8), true});
    EXPECT_TRUE(f.isOnHold);
    Enumeration e;
    for (int d = 0; d < 8; ++d)
        e.offered.push_back(d % 2 == 0);
    e.stock.assign(8, 1);
    e.startsPaused = true;
    e.returnChance = 1.0 / 3.0;
    expectSame(f, e);
}

TEST(HomeForecastTest, UnderCertaintyTheDistributionIsThePlainRule) { // K11 and K24 through the whole engine
    for (const bool onHold : {false, true}) {
        const Date morning = Date::of(2026, 4, 1);
        SmallAgency agency(morning);
        const Home home = agency.addHome();
        agency.order(home, everyDays(1, morning)).edit(makeCertain).counted(home, kKit, 20, morning);
        if (onHold)
            agency.hold(home, Date::of(2026, 4, 3), Date::of(2026, 4, 10));
        const ItemForecast f = kitOf(agency);
        const Date end = onHold ? Date::of(2026, 4, 27) : Date::of(2026, 4, 20);
        EXPECT_EQ(f.plain.supplyEnds, end);
        EXPECT_EQ(f.runOutP10, end.plusDays(1)); // the first drain that finds nothing
        EXPECT_EQ(f.runOutP50, end.plusDays(1));
        EXPECT_EQ(f.runOutP90, end.plusDays(1));
        EXPECT_NEAR(f.daysOfSupply, static_cast<double>((end.plusDays(1) - morning).count()), 1e-9);
        for (std::size_t d = 0; d < f.days.size(); ++d) {
            EXPECT_EQ(f.days[d].p05, f.plain.cumulated[d]);
            EXPECT_EQ(f.days[d].p95, f.plain.cumulated[d]);
        }
        for (std::size_t w = 0; w < f.weeks.size(); ++w)
            EXPECT_EQ(f.weeks[w].p50, f.plain.inWeek(w));
    }
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday)).edit(makeCertain).counted(home, kKit, 14, kToday);
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.plain.lastCoveredDrain, Date::of(2026, 3, 28));
    EXPECT_EQ(f.plain.supplyEnds, Date::of(2026, 3, 29));
    EXPECT_EQ(f.runOutP50, Date::of(2026, 3, 30));
}

TEST(HomeForecastTest, TwelveWeeksAndEightyFourDays) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.weeks.size(), 12U);
    EXPECT_EQ(f.days.size(), 84U);
    EXPECT_EQ(f.cumulated.size(), 84U);
    EXPECT_EQ(f.dayOf(0), kToday);
    EXPECT_EQ(f.weeks[11].from, kToday.plusDays(77));
    EXPECT_TRUE(kitOf(agency, {Days::of(84), false}).cumulated.empty());
}

TEST(HomeForecastTest, UnknownStockHasNoRunOutYetUseIsForecast) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.knowledge, StockKnowledge::Unknown);
    EXPECT_EQ(f.runOutP10, std::nullopt);
    EXPECT_EQ(f.runOutP50, std::nullopt);
    EXPECT_EQ(f.runOutP90, std::nullopt);
    EXPECT_EQ(f.plain.supplyEnds, std::nullopt);
    EXPECT_GT(f.cumulated.back().mean(), 10.0);
    EXPECT_GT(f.weeks[0].mean, 2.0);
}

TEST(HomeForecastTest, DeliveredWithoutACountIsKnownAsSuch) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday), kKit, [](DrainOrder &o) { o.start = kToday.plusDays(-2); });
    agency.delivery(home, kKit, 10, kToday.plusDays(-3));
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.knowledge, StockKnowledge::DeliveredOnly);
    EXPECT_EQ(f.onHand.count(), 10);
    EXPECT_EQ(f.unloggedP50.count(), 1); // one planned drain since, and nobody wrote it down
    EXPECT_TRUE(f.runOutP50.has_value());
}

namespace {

// Counted nine days ago and drained daily since: two days nobody wrote down, one entry names no supplies. Two
// kits are left by the ledger.
SmallAgency withUnrecordedDrains() {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday));
    agency.counted(home, kKit, 8, kToday.plusDays(-9));
    for (int d = -9; d < 0; ++d)
        if (d == -4)
            agency.drained(home, kToday.plusDays(d), 400);
        else if (d != -7 && d != -5)
            agency.drained(home, kToday.plusDays(d), 400, {{kKit, 1}});
    agency.edit(makeCertain);
    return agency;
}

} // namespace

// Beta(0.9, 2.1) before counts tell (Habits.cpp: three in ten, worth three drains), so of the two silent days
// P(both done) = 0.9 x 1.9 / (3 x 4) and P(one of them) = 2 x 0.9 x 2.1 / (3 x 4); the entry without supplies
// took a kit for certain.
TEST(HomeForecastTest, DrainsThatTheLedgerDoesNotKnowAreTakenFromTheShelf) {
    constexpr double kBoth = 0.9 * 1.9 / 12, kOne = 2 * 0.9 * 2.1 / 12;
    for (const char *variant : {"one order", "a parcel later", "the order changes"}) {
        SmallAgency agency = withUnrecordedDrains();
        const Home home{PatientId(1), CatheterId(1)};
        if (variant == std::string("a parcel later"))
            agency.delivery(home, kKit, 10, kToday.plusDays(3), DeliveryStatus::InTransit);
        if (variant == std::string("the order changes"))
            agency.edit([](Snapshot &s) { s.drainOrders[0].end = kToday.plusDays(20); })
                .order(home, everyDays(2, kToday), kKit,
                       [](DrainOrder &o) { o.start = kToday.plusDays(20); });
        const ItemForecast f = kitOf(agency);
        ASSERT_EQ(f.onHand.count(), 2) << variant;
        EXPECT_NEAR(f.model.doneUnlogged.a, 0.9, 1e-12);
        EXPECT_NEAR(f.model.doneUnlogged.b, 2.1, 1e-12);
        const double today = f.model.adherenceAhead.mean();
        EXPECT_NEAR(f.days[0].chanceDry, kBoth + kOne * today, 1e-12) << variant;
        EXPECT_EQ(f.unloggedP50.count(), 1) << variant;
    }
}

TEST(HomeForecastTest, ADrainOfThisMorningWithoutSuppliesTookItsKit) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).edit(makeCertain).counted(home, kKit, 5, kToday);
    const std::int64_t before = kitOf(agency).unloggedP50.count();
    agency.drained(home, kToday, 400);
    EXPECT_EQ(before, 0);
    EXPECT_EQ(kitOf(agency).unloggedP50.count(), 1);
}

TEST(HomeForecastTest, CountsTellHowMuchIsNotWrittenDown) {
    // Two silent days between two counts, as above: both were done, or neither was.
    const auto after = [](std::int64_t counted) {
        SmallAgency agency = withUnrecordedDrains();
        const Home home{PatientId(1), CatheterId(1)};
        agency.counted(home, kKit, counted, kToday.plusDays(-3));
        return kitOf(agency).model.doneUnlogged;
    };
    const BetaBelief neither = after(4), both = after(2); // four kits or six were used in six days
    EXPECT_LT(neither.mean(), 0.3);
    EXPECT_GT(both.mean(), 0.5);
    EXPECT_GT(neither.a + neither.b, 4.5); // two drains more, little discounted
    // A count that is short where every drain was written down tells nothing of drains that were not.
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).counted(home, kKit, 9, kToday.plusDays(-4));
    for (int d = -4; d < -1; ++d)
        agency.drained(home, kToday.plusDays(d), 400, {{kKit, 1}});
    agency.counted(home, kKit, 2, kToday.plusDays(-1));
    EXPECT_NEAR(kitOf(agency).model.doneUnlogged.mean(), 0.3, 1e-12);
}

TEST(HomeForecastTest, PromisedIsNotStock) {
    SmallAgency agency(kToday), with(kToday);
    for (SmallAgency *a : {&agency, &with}) {
        const Home home = a->addHome();
        a->order(home, everyDays(2, kToday)).counted(home, kKit, 6, kToday);
        if (a == &with)
            a->delivery(home, kKit, 20, kToday.plusDays(2), DeliveryStatus::Promised);
    }
    EXPECT_EQ(kitOf(with).promised.count(), 20);
    EXPECT_EQ(kitOf(with).runOutP50, kitOf(agency).runOutP50);
}

TEST(HomeForecastTest, AParcelThatIsLateIsExpectedTomorrow) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).edit(makeCertain).counted(home, kKit, 1, kToday);
    agency.delivery(home, kKit, 5, kToday.plusDays(-2), DeliveryStatus::InTransit);
    EXPECT_EQ(kitOf(agency).runOutP50, kToday.plusDays(6)); // 1 + 5 drains
}

TEST(HomeForecastTest, RunningDryBeforeTheParcelStaysDry) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).edit(makeCertain).counted(home, kKit, 2, kToday);
    agency.delivery(home, kKit, 50, kToday.plusDays(4), DeliveryStatus::InTransit);
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.runOutP10, kToday.plusDays(2));
    EXPECT_NEAR(f.days[30].chanceDry, 1.0, 1e-12);
}

TEST(HomeForecastTest, TodaysDrainAlreadyLoggedIsNotAskedForAgain) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday)).edit(makeCertain).counted(home, kKit, 10, kToday);
    agency.drained(home, kToday, 400, {{kKit, 1}});
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.onHand.count(), 9);
    EXPECT_EQ(f.days[0].p95, 0);
    EXPECT_EQ(f.days[2].p50, 1);
}

TEST(HomeForecastTest, ADrainDoneADayEarlyIsNotAskedForAgain) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday)).edit(makeCertain).counted(home, kKit, 10, kToday.plusDays(-3));
    agency.drained(home, kToday.plusDays(-2), 400, {{kKit, 1}})
        .drained(home, kToday.plusDays(-1), 400, {{kKit, 1}});
    EXPECT_EQ(kitOf(agency).days[1].p95, 0); // yesterday's stands for today's
    EXPECT_EQ(kitOf(agency).days[2].p50, 1);
}

TEST(HomeForecastTest, FreeDaysAskForTheRestOfTheWeeksCount) {
    SmallAgency agency(Date::of(2026, 3, 4)); // a Wednesday; the week began on Sunday
    const Home home = agency.addHome();
    agency.order(home, timesAWeek(3)).edit(makeCertain);
    for (int d : {-3, -2, -1})
        agency.drained(home, agency.asOf().plusDays(d), 400, {{kKit, 1}});
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.days[3].p95, 0);  // Saturday: the week's three are done
    EXPECT_EQ(f.days[10].p50, 3); // the Saturday after
}

TEST(HomeForecastTest, AsNeededNeverExceedsTheMaximumOfAWeek) {
    SmallAgency agency(Date::of(2026, 3, 1)); // a Sunday: forecast weeks are the agency's weeks
    const Home home = agency.addHome();
    agency.order(home, asNeeded(2, 3)).edit(makeCertain);
    agency.edit([](Snapshot &s) { s.settings.set(SettingKey::LogMemoryDays, 365); });
    for (int d = -42; d < 0; ++d)
        if (d % 7 != 0)
            agency.drained(home, agency.asOf().plusDays(d), 300, {{kKit, 1}}); // far above the order
    const ItemForecast f = kitOf(agency);
    EXPECT_GT(f.weeks[0].mean, 2.5);
    EXPECT_LE(f.cumulated[6].size(), 4U);
    EXPECT_LE(f.cumulated[83].size(), 12U * 3 + 1);
    EXPECT_LE(f.weeks[5].p90, 3);
}

TEST(HomeForecastTest, ANewOrdersKitIsForecastFromItsStart) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    const Date change = kToday.plusDays(14);
    agency.order(home, everyDays(1, kToday), kKit, [&](DrainOrder &o) { o.end = change; });
    agency.order(home, everyDays(1, kToday), SmallAgency::kKit1000, [&](DrainOrder &o) { o.start = change; });
    agency.edit(makeCertain);
    const auto all = forecastsOf(agency);
    ASSERT_EQ(all.size(), 4U); // two kits and their extra bottles
    EXPECT_EQ(all[0].item, kKit);
    EXPECT_EQ(all[0].days[83].p50, 14);
    const auto large = std::ranges::find(all, SmallAgency::kKit1000, &ItemForecast::item);
    ASSERT_NE(large, all.end());
    EXPECT_EQ(large->days[13].p95, 0);
    EXPECT_EQ(large->days[83].p05, 70);
}

TEST(HomeForecastTest, NobodyInServiceOrNoOrderGivesNoForecast) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    EXPECT_TRUE(forecastsOf(agency).empty());
    agency.order(home, everyDays(1, kToday));
    EXPECT_FALSE(forecastsOf(agency).empty());
    agency.edit([](Snapshot &s) { s.patients[0].status = CareStatus::Deceased; });
    EXPECT_TRUE(forecastsOf(agency).empty());
}

TEST(HomeForecastTest, ANegativeLedgerIsShownAndTakenAsNoneLeft) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).edit(makeCertain).counted(home, kKit, 1, kToday.plusDays(-3));
    for (int d : {-3, -2, -1})
        agency.drained(home, kToday.plusDays(d), 400, {{kKit, 1}});
    const ItemForecast f = kitOf(agency);
    EXPECT_EQ(f.onHand.count(), -2);
    EXPECT_EQ(f.runOutP50, kToday);
}

TEST(HomeForecastTest, WhatIsPastItsLastDayIsNoStock) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).edit(makeCertain).counted(home, kKit, 2, kToday.plusDays(-1));
    const LotId lot = agency.storeroom(kKit, 10, kToday.plusDays(-1));
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(home.catheter), kKit, lot, Eaches::of(4)});
    });
    const ItemForecast mixed = kitOf(agency);
    EXPECT_EQ(mixed.onHand.count(), 6);
    EXPECT_EQ(mixed.expired.count(), 4);
    EXPECT_EQ(mixed.usable().count(), 2);
    SmallAgency empty(kToday);
    const Home old = empty.addHome();
    empty.order(old, everyDays(1, kToday)).edit(makeCertain).counted(old, kKit, 0, kToday);
    const LotId gone = empty.storeroom(kKit, 10, kToday.plusDays(-400));
    empty.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(old.catheter), kKit, gone, Eaches::of(4)});
    });
    const ItemForecast f = kitOf(empty);
    EXPECT_EQ(f.onHand.count(), 4);
    EXPECT_EQ(f.expired.count(), 4);
    EXPECT_EQ(f.runOutP10, kToday) << "dry now";
    EXPECT_EQ(f.runOutP50, kToday);
    EXPECT_NEAR(f.daysOfSupply, 0, 1e-9);
}

TEST(HomeForecastTest, AllHomesComeByCatheterThenItemAndEqualTheSingleOnes) {
    SmallAgency agency(kToday);
    for (int i = 0; i < 3; ++i) {
        const Home home = agency.addHome();
        agency.order(home, everyDays(1 + i, kToday), i == 1 ? SmallAgency::kKit1000 : kKit);
        agency.counted(home, i == 1 ? SmallAgency::kKit1000 : kKit, 10 + i, kToday);
    }
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    double lastShare = -1;
    const auto all = forecastAll(index, {}, {}, [&](const Progress &p) {
        EXPECT_GE(p.share, lastShare);
        lastShare = p.share;
    });
    ASSERT_TRUE(all.has_value());
    EXPECT_EQ(lastShare, 1.0);
    ASSERT_EQ(all->size(), 6U);
    for (std::size_t i = 1; i < all->size(); ++i)
        EXPECT_LT(std::pair((*all)[i - 1].catheter, (*all)[i - 1].item),
                  std::pair((*all)[i].catheter, (*all)[i].item));
    for (const ItemForecast &f : *all) {
        const auto single = forecastHome(index, *index.catheter(f.catheter), {});
        const auto same = std::ranges::find(single, f.item, &ItemForecast::item);
        ASSERT_NE(same, single.end());
        for (std::size_t d = 0; d < f.days.size(); ++d) {
            ASSERT_EQ(f.cumulated[d].mean(),
                      same->cumulated[d].mean()); // to the bit: buffers must not leak from home to home
            ASSERT_EQ(f.days[d].chanceDry, same->days[d].chanceDry);
        }
    }
}

TEST(HomeForecastTest, StoppingSaysCancelled) {
    SmallAgency agency(kToday);
    agency.order(agency.addHome(), everyDays(1, kToday));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    std::stop_source stop;
    stop.request_stop();
    const auto all = forecastAll(index, {}, stop.get_token(), {});
    ASSERT_FALSE(all.has_value());
    EXPECT_EQ(all.error().code, ProblemCode::Cancelled);
}
