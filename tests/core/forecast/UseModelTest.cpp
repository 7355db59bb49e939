#include "core/forecast/UseModel.h"

#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <cmath>

using namespace kitround;
using namespace kitround::forecast;
using namespace kitround::test;

namespace {

const Date kToday = Date::of(2026, 3, 2); // a Monday

UseModel modelOf(const SmallAgency &agency, std::size_t catheter = 0) {
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto model = learnUse(index, snapshot.catheters[catheter]);
    EXPECT_TRUE(model.has_value());
    return model.value_or(UseModel{});
}

void logEveryOtherDay(SmallAgency &agency, const Home &home, int from, int to, int shift = 0) {
    for (int d = from; d <= to; d += 2)
        agency.drained(home, kToday.plusDays(d + shift), 400, {{SmallAgency::kKit500, 1}});
}

} // namespace

TEST(UseModelTest, WithoutAnOrderThereIsNothingToLearn) {
    SmallAgency agency(kToday);
    agency.addHome();
    const Snapshot snapshot = agency.build();
    EXPECT_EQ(learnUse(SnapshotIndex(snapshot), snapshot.catheters[0]), std::nullopt);
}

TEST(UseModelTest, WithoutALogTheSettingsSpeakAndSaySo) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    const UseModel model = modelOf(agency);
    EXPECT_TRUE(model.isFromDefaults);
    EXPECT_NEAR(model.adherence.a, 9.0, 1e-12); // 900 per mille worth ten sessions
    EXPECT_NEAR(model.adherence.b, 1.0, 1e-12);
    EXPECT_EQ(model.meanVolumeMl, std::nullopt); // unknown is not zero
    ASSERT_EQ(model.items.size(), 2U);
    EXPECT_EQ(model.items[0].item, SmallAgency::kKit500);
    EXPECT_NEAR(model.items[0].perSession.mean(), 1 + 1.5 / 47.5, 0.001); // one kit, and those lost before it
    // ln V is normal with median 400 exp(-0.587^2 / 2) = 336.7; above 500 mL: 1 - Phi(ln(500 / 336.7) /
    // 0.587)
    EXPECT_NEAR(1.0 - model.items[1].perSession[0], 0.2503, 0.0005);
    EXPECT_NEAR(model.exitPerDay, 0.0041 + 0.0053, 1e-12);
}

TEST(UseModelTest, ExitFollowsTheScheduleInTheChestAndDeathAloneInTheAbdomen) {
    SmallAgency agency(kToday);
    agency.order(agency.addHome(), everyDays(1, kToday));
    agency.order(agency.addHome(), timesAWeek(2));
    agency.order(agency.addHome(CavitySite::Abdomen), everyDays(1, kToday));
    EXPECT_NEAR(modelOf(agency, 0).exitPerDay, 0.0099 + 0.0053, 1e-12);
    EXPECT_NEAR(modelOf(agency, 1).exitPerDay, 0.0024 + 0.0053, 1e-12);
    EXPECT_NEAR(modelOf(agency, 2).exitPerDay, 0.0158, 1e-12);
}

TEST(UseModelTest, EachDrainDoneCountsByItsAge) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    agency.edit([](Snapshot &s) { s.settings.set(SettingKey::LogMemoryDays, 4); });
    agency.drained(home, kToday.plusDays(-4), 400).drained(home, kToday.plusDays(-8), 600);
    agency.notDone(home, kToday.plusDays(-6)); // known not to have happened
    const UseModel model = modelOf(agency);
    EXPECT_NEAR(model.adherence.a, 9.0 + 0.5 + 0.25, 1e-12);
    EXPECT_NEAR(model.adherence.b, 1.0 + std::exp2(-1.5), 1e-12);
    EXPECT_NEAR(model.sessionsSeen, 0.75, 1e-12);
    EXPECT_NEAR(*model.meanVolumeMl, (0.5 * 400 + 0.25 * 600) / 0.75, 1e-9);
    EXPECT_FALSE(model.isFromDefaults);
}

TEST(UseModelTest, SilenceAfterTheLastEntrySaysNothing) {
    SmallAgency logged(kToday), silent(kToday);
    const Home a = logged.addHome(), b = silent.addHome();
    logged.order(a, everyDays(2, kToday));
    silent.order(b, everyDays(2, kToday));
    logEveryOtherDay(silent, b, -40, -20);
    const UseModel model = modelOf(silent);
    EXPECT_GT(model.adherence.mean(), modelOf(logged).adherence.mean()); // all that is known was done
    EXPECT_NEAR(model.adherence.b, 1.0, 1e-12);                          // no failure from twenty silent days
}

TEST(UseModelTest, ADayLeftOutInsideTheLogCountsAsHalfAMissedDrain) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    logEveryOtherDay(agency, home, -20, -12);
    logEveryOtherDay(agency, home, -8, -2); // nothing at -10
    EXPECT_NEAR(modelOf(agency).adherence.b, 1.0 + kMissedWithoutEntry * std::exp2(-10.0 / 28.0), 1e-12);
}

TEST(UseModelTest, ADrainADayEarlyOrLateStandsForItsDay) {
    for (int shift : {-1, 1}) {
        SmallAgency agency(kToday);
        const Home home = agency.addHome();
        agency.order(home, everyDays(2, kToday));
        logEveryOtherDay(agency, home, -20, -4, shift);
        const UseModel model = modelOf(agency);
        EXPECT_NEAR(model.adherence.b, 1.0, 1e-12) << shift;
        EXPECT_EQ(model.extraPerDay, 0.0) << shift;
    }
}

TEST(UseModelTest, FreeDaysCountByTheWeekWhicheverDaysTheHomeChose) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, timesAWeek(3));
    for (int week = 1; week <= 4; ++week) // Sunday, Monday, Tuesday
        for (int d = 0; d < 3; ++d)
            agency.drained(home, kToday.plusDays(-1 - 7 * week + d), 300);
    const UseModel model = modelOf(agency);
    EXPECT_NEAR(model.adherence.b, 1.0, 1e-12);
    EXPECT_EQ(model.extraPerDay, 0.0);
    EXPECT_GT(model.adherence.a, 9.0 + 12 * 0.5);
}

TEST(UseModelTest, DrainsBeyondTheOrderAreLearnedAsSuch) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(3, kToday));
    for (int d = -30; d < 0; ++d)
        agency.drained(home, kToday.plusDays(d), 300); // daily against every third day
    const UseModel model = modelOf(agency);
    EXPECT_GT(model.extraPerDay, 0.25);
    EXPECT_LT(model.extraPerDay, 2.0 / 3.0); // shrunk towards the order
}

TEST(UseModelTest, DaysOnHoldAreNeitherDoneNorMissed) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    logEveryOtherDay(agency, home, -20, -16);
    agency.hold(home, kToday.plusDays(-15), kToday.plusDays(-5));
    logEveryOtherDay(agency, home, -4, -2);
    EXPECT_NEAR(modelOf(agency).adherence.b, 1.0, 1e-12);
}

TEST(UseModelTest, WithoutSuppliesWrittenDownTheVolumeCounts) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    for (int d = -60; d < 0; d += 2)
        agency.drained(home, kToday.plusDays(d), 800); // kit of 500 and one extra bottle
    const UseModel model = modelOf(agency);
    EXPECT_GT(1.0 - model.items[1].perSession[0], 0.9);
    EXPECT_NEAR(model.items[1].plainPerSession, 1.0, 1e-12);
    EXPECT_NEAR(model.items[0].plainPerSession, 1.0, 1e-12);
}

TEST(UseModelTest, SuppliesWrittenDownOutweighTheVolume) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday));
    for (int d = -60; d < 0; d += 2) // 480 mL, yet a second bottle was opened
        agency.drained(home, kToday.plusDays(d), 480,
                       {{SmallAgency::kKit500, 1}, {SmallAgency::kBottle500, 1}});
    EXPECT_NEAR(modelOf(agency).items[1].plainPerSession, 1.0, 1e-12);
}

TEST(UseModelTest, AnEntryUnderAnotherKitCountsByItsVolume) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday), SmallAgency::kKit1000);
    for (int d = -60; d < 0; d += 2) // two of 500 stood in for one of 1000
        agency.drained(home, kToday.plusDays(d), 800, {{SmallAgency::kKit500, 2}});
    const UseModel model = modelOf(agency);
    EXPECT_EQ(model.items[0].item, SmallAgency::kKit1000);
    EXPECT_NEAR(model.items[0].plainPerSession, 1.0, 1e-12);
    EXPECT_NEAR(model.items[1].plainPerSession, 0.0, 1e-12);
}

TEST(UseModelTest, WithoutAnExtraBottleOnTheOrderFurtherKitsStandIn) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kToday), SmallAgency::kKit500,
                 [](DrainOrder &o) { o.extraBottle.reset(); });
    for (int d = -60; d < 0; d += 2)
        agency.drained(home, kToday.plusDays(d), 800);
    const UseModel model = modelOf(agency);
    ASSERT_EQ(model.items.size(), 1U);
    EXPECT_NEAR(model.items[0].plainPerSession, 2.0, 1e-12);
}

TEST(UseModelTest, WasteIsLearnedFromWhatWasLost) {
    SmallAgency careful(kToday), wasteful(kToday);
    const Home a = careful.addHome(), b = wasteful.addHome();
    careful.order(a, everyDays(2, kToday));
    wasteful.order(b, everyDays(2, kToday));
    for (int d = -60; d < 0; d += 2) {
        careful.drained(a, kToday.plusDays(d), 300, {{SmallAgency::kKit500, 1}});
        wasteful.drained(b, kToday.plusDays(d), 300, {{SmallAgency::kKit500, 1, d % 4 == 0 ? 1 : 0}});
    }
    EXPECT_LT(modelOf(careful).wasteShare, 0.03);
    EXPECT_GT(modelOf(wasteful).wasteShare, 0.10);
    EXPECT_GT(modelOf(wasteful).items[0].perSession.mean(),
              modelOf(careful).items[0].perSession.mean() + 0.08);
}

TEST(UseModelTest, AsNeededLearnsARateFromTheOrderToTheLastEntry) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, asNeeded(1, 3), SmallAgency::kKit500,
                 [](DrainOrder &o) { o.start = kToday.plusDays(-28); });
    agency.edit([](Snapshot &s) { s.settings.set(SettingKey::LogMemoryDays, 365); });
    const UseModel before = modelOf(agency);
    EXPECT_NEAR(before.asNeededPerDay, 0.5 * 3.0 / 7.0, 1e-12); // half the maximum until the log speaks
    for (int d = -28; d <= -8; d += 4)
        agency.drained(home, kToday.plusDays(d), 300);
    const UseModel model = modelOf(agency);
    // About (1.5 + 6) sessions in (7 + 21) days; the eight silent days do not count.
    EXPECT_NEAR(model.asNeededPerDay, 7.5 / 28.0, 0.01);
}

TEST(UseModelTest, AsNeededWithoutAMaximumIsNotReadAsNoUse) {
    SmallAgency agency(kToday);
    agency.order(agency.addHome(), asNeeded(std::nullopt));
    EXPECT_GT(modelOf(agency).asNeededPerDay, 0.0);
}

TEST(UseModelTest, TheNextOrderSpeaksWhereNoneIsInForceYet) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday), SmallAgency::kKit1000,
                 [](DrainOrder &o) { o.start = kToday.plusDays(5); });
    EXPECT_EQ(modelOf(agency).items[0].item, SmallAgency::kKit1000);
}
