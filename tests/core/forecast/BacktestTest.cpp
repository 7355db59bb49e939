#include "core/forecast/backtest/Backtest.h"

#include "core/base/Random.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

using namespace kitround;
using namespace kitround::forecast;
using namespace kitround::test;

namespace {

const Date kToday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// Homes that drain every other day nine times in ten, 120 days long; the first leaves three weeks ago.
SmallAgency agencyOf(int homes) {
    Random random(3);
    SmallAgency agency(kToday);
    for (int i = 0; i < homes; ++i) {
        const Home home = agency.addHome();
        agency.edit([](Snapshot &s) { s.catheters.back().insertedOn = kToday.plusDays(-120); });
        agency.order(home, everyDays(2, kToday), kKit,
                     [](DrainOrder &o) { o.start = kToday.plusDays(-120); });
        for (int d = -120; d < (i == 0 ? -21 : 0); d += 2)
            if (random.chance(0.9))
                agency.drained(home, kToday.plusDays(d), 300, {{kKit, 1}});
    }
    agency.edit([](Snapshot &s) {
        s.patients.front().status = CareStatus::Deceased;
        s.patients.front().exitedAt = Instant::fromUnixSeconds(kToday.plusDays(-21).dayNumber() * 86400);
    });
    return agency;
}

} // namespace

TEST(BacktestTest, OnAPastDayNothingLaterIsKnown) {
    SmallAgency agency = agencyOf(2);
    const Date origin = kToday.plusDays(-30);
    agency.hold({PatientId(2), CatheterId(2)}, kToday.plusDays(-35), kToday.plusDays(-25),
                kToday.plusDays(-28));
    agency.hold({PatientId(2), CatheterId(2)}, kToday.plusDays(-10), kToday.plusDays(-5));
    agency.counted({PatientId(2), CatheterId(2)}, kKit, 5, kToday.plusDays(-40));
    agency.counted({PatientId(2), CatheterId(2)}, kKit, 9, kToday.plusDays(-10));
    agency.edit([&](Snapshot &s) { s.drainOrders[1].end = kToday.plusDays(-15); });
    agency.order({PatientId(2), CatheterId(2)}, everyDays(1, kToday), kKit,
                 [](DrainOrder &o) { o.start = kToday.plusDays(-15); });
    const Snapshot past = asKnownOn(agency.build(), origin);
    EXPECT_EQ(past.asOf, origin);
    for (const DrainEntry &e : past.drainEntries)
        EXPECT_LT(e.at.date, origin);
    EXPECT_EQ(past.patients.front().status, CareStatus::Active); // left later
    EXPECT_FALSE(past.patients.front().exitedAt.has_value());
    ASSERT_EQ(past.holds.size(), 1U);
    EXPECT_FALSE(past.holds[0].to.has_value()); // nobody knew yet
    EXPECT_EQ(past.holds[0].expectedReturn, kToday.plusDays(-28));
    ASSERT_EQ(past.homeCounts.size(), 1U);
    EXPECT_EQ(past.drainOrders.size(), 2U);
    EXPECT_FALSE(past.drainOrders[1].end.has_value());
}

TEST(BacktestTest, HomesThatDrainAsBeforeAreForecastWell) {
    const Snapshot snapshot = agencyOf(40).build();
    const SnapshotIndex index(snapshot);
    const auto result = backtest(index, {}, {}, {});
    ASSERT_TRUE(result.has_value());
    ASSERT_EQ(result->origins.size(), 6U);
    EXPECT_EQ(result->origins.front(), kToday.plusDays(-14));
    const ForecastScore score = result->comparison.score();
    // Two lines a home; horizons that fit before today: 2, 3, 3, 4, 4, 5 of the six origins. The home that
    // left is out of service as of the latest origin, and counts with nothing used after it left.
    EXPECT_EQ(score.cases, 2 * (40 * (2 + 3 + 3 + 4 + 4 + 5) - 2));
    EXPECT_GT(score.coverage80, 0.7);
    EXPECT_LE(score.coverage50, score.coverage80);
    EXPECT_LE(score.coverage80, score.coverage90);
    EXPECT_GT(score.pinball, 0.0);
    EXPECT_EQ(result->comparison.scoreOf(4).cases, 2 * 40);
    // One kit every other day at most, and never an extra bottle: seldom and alike, all of them.
    EXPECT_EQ(result->comparison.only(UsePattern::Intermittent).score().cases, score.cases);
    EXPECT_EQ(result->comparison.only(UsePattern::Smooth).score().cases, 0);
}

// One home drains daily, the other every fourth day with one bottle or seven.
TEST(BacktestTest, CasesAreKeptByTheirKindOfUse) {
    SmallAgency agency(kToday);
    const Home daily = agency.addHome(), unlike = agency.addHome();
    agency.edit([](Snapshot &s) {
        for (Catheter &catheter : s.catheters)
            catheter.insertedOn = kToday.plusDays(-120);
    });
    const auto begun = [](DrainOrder &o) { o.start = kToday.plusDays(-120); };
    agency.order(daily, everyDays(1, kToday), kKit, begun).order(unlike, everyDays(4, kToday), kKit, begun);
    for (int d = -120; d < 0; ++d) {
        agency.drained(daily, kToday.plusDays(d), 300, {{kKit, 1}});
        if (d % 4 == 0)
            agency.drained(unlike, kToday.plusDays(d), 300, {{kKit, d % 8 == 0 ? 1 : 7}});
    }
    const Snapshot snapshot = agency.build();
    const auto result = backtest(SnapshotIndex(snapshot), {}, {}, {});
    ASSERT_TRUE(result.has_value());
    const Comparison &all = result->comparison;
    const Comparison smooth = all.only(UsePattern::Smooth), lumpy = all.only(UsePattern::Lumpy);
    const std::int64_t aLine = 2 + 3 + 3 + 4 + 4 + 5; // as above; the extra bottle's lines never used one
    EXPECT_EQ(smooth.score().cases, aLine);
    EXPECT_EQ(lumpy.score().cases, aLine);
    EXPECT_EQ(all.only(UsePattern::Intermittent).score().cases, 2 * aLine);
    EXPECT_EQ(all.score().cases, 4 * aLine);
    EXPECT_LT(smooth.score().pinball, lumpy.score().pinball);
    EXPECT_LT(smooth.bestBaseline().pinball, lumpy.bestBaseline().pinball);
}

TEST(BacktestTest, AnEmptyAgencyHasNothingToCompare) {
    const Snapshot snapshot = SmallAgency(kToday).build();
    const auto result = backtest(SnapshotIndex(snapshot), {}, {}, {});
    ASSERT_TRUE(result.has_value());
    EXPECT_EQ(result->comparison.score().cases, 0);
    EXPECT_EQ(result->comparison.score().pinball, 0.0);
}

TEST(BacktestTest, StoppingSaysCancelled) {
    const Snapshot snapshot = agencyOf(2).build();
    std::stop_source stop;
    stop.request_stop();
    const auto result = backtest(SnapshotIndex(snapshot), {}, stop.get_token(), {});
    ASSERT_FALSE(result.has_value());
    EXPECT_EQ(result.error().code, ProblemCode::Cancelled);
}
