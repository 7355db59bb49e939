#include "core/supply/ServiceLevels.h"
#include "core/supply/OrderTerms.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;
using test::steadyHome;

constexpr ItemId kKit = SmallAgency::kKit500;

// By hand: the level is the quantile of the demand, the chance what lies above position and order.
TEST(ServiceLevelsTest, ALevelIsALookIntoTheDistribution) {
    SupplierItem offer;
    offer.perCase = Money::of(100);
    offer.breaks = {{Cases::of(3), Money::of(80)}};
    ServiceOutlook outlook;
    outlook.position = Eaches::of(4);
    outlook.pack = PackSize{Eaches::of(5)};
    outlook.offer = &offer;
    std::vector<double> ten(11, 0.0); // 0 to 10, alike
    std::fill(ten.begin(), ten.end(), 1.0 / 11);
    outlook.demand = forecast::Pmf(ten);
    const LevelEffect half = outlook.at(500); // P(X <= 5) = 6/11
    EXPECT_EQ(half.orderUpTo, Eaches::of(5));
    EXPECT_EQ(half.cases, Cases::of(1));
    EXPECT_EQ(half.money, Money::of(100));
    EXPECT_NEAR(half.chanceShort, 1.0 / 11, 1e-12); // more than 4 + 5
    const LevelEffect high = outlook.at(999);
    EXPECT_EQ(high.orderUpTo, Eaches::of(10));
    EXPECT_EQ(high.cases, Cases::of(2));
    EXPECT_EQ(high.money, Money::of(200));
    EXPECT_EQ(high.chanceShort, 0);
    outlook.position = Eaches::of(-5);
    EXPECT_EQ(outlook.at(999).money, Money::of(240)) << "three cases at the price of three";
    outlook.position = Eaches::of(5);
    EXPECT_EQ(outlook.at(500).cases, Cases{}) << "nothing below its level, nothing ordered";
    EXPECT_NEAR(outlook.at(500).chanceShort, 5.0 / 11, 1e-12);
}

TEST(ServiceLevelsTest, AtTheStoredLevelItIsWhatTheReorderListSays) {
    SmallAgency agency(Date::of(2026, 3, 2));
    std::vector<forecast::ItemForecast> forecasts;
    for (int i = 0; i < 6; ++i) {
        const Home home = agency.addHome();
        agency.order(home, test::everyDays(2, agency.asOf()));
        forecasts.push_back(steadyHome(home.catheter, home.patient, kKit, 5, 2, 0.8));
    }
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto outlooks = serviceOutlooks(index, forecasts);
    const auto kit = std::ranges::find(outlooks, kKit, &ServiceOutlook::item);
    ASSERT_NE(kit, outlooks.end());
    int compared = 0;
    for (const SupplierReorder &order : reorderList(index, forecasts))
        for (const ReorderLine &line : order.lines) {
            const auto outlook = std::ranges::find(outlooks, line.item, &ServiceOutlook::item);
            ASSERT_NE(outlook, outlooks.end());
            const LevelEffect effect = outlook->at(line.servicePermille);
            EXPECT_EQ(effect.orderUpTo, line.orderUpTo);
            EXPECT_EQ(effect.cases, line.cases - line.toppedUp);
            ++compared;
        }
    EXPECT_GT(compared, 0);
    LevelEffect before = kit->at(500);
    for (const std::int64_t permille : {800, 900, 950, 990, 999}) {
        const LevelEffect effect = kit->at(permille);
        EXPECT_GE(effect.orderUpTo, before.orderUpTo);
        EXPECT_GE(effect.cases, before.cases);
        EXPECT_LE(effect.chanceShort, before.chanceShort);
        EXPECT_LE(effect.chanceShort, 1 - static_cast<double>(permille) / 1000 + 1e-9);
        before = effect;
    }
}

} // namespace
} // namespace kitround::supply
