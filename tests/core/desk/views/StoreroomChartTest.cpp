// The picture of an item's coming weeks says what the table beside it says.
#include "core/desk/views/StoreroomChart.h"
#include "tests/core/desk/views/ThreeHomes.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using namespace three_homes;
using ShelfPoint = StoreroomChart::Point;

StoreroomRow rowOf(ItemId item, std::int64_t free) {
    StoreroomRow row;
    row.item = item;
    row.name = QStringLiteral("Kit");
    row.free = Eaches::of(free);
    row.orderUpTo = Eaches::of(150);
    return row;
}

OpenOrderRow coming(std::int64_t eaches, Date on) {
    OpenOrderRow row;
    row.quantity = Eaches::of(eaches);
    row.expectedOn = on;
    return row;
}

StoreroomChart chartOf(const AgencyPtr &agency, std::int64_t free, const std::vector<double> &demand,
                       const std::vector<OpenOrderRow> &open, const std::vector<DemandBand> &bands) {
    return storeroomChart(*agency, rowOf(SmallAgency::kKit500, free),
                          storeroomWeeks(*agency, Eaches::of(free), demand, open, bands), open);
}

ShelfPoint firstOf(const StoreroomChart &chart, Date on) {
    return *std::ranges::find(chart.points, on, &ShelfPoint::on);
}

TEST(StoreroomChartTest, AtTheEndOfAWeekStandsTheFigureOfTheTable) {
    const auto agency = Three().build();
    const std::vector<OpenOrderRow> open{coming(40, kToday.plusDays(3)), coming(30, kToday.plusDays(7))};
    const std::vector<DemandBand> bands{{60, 110}, {120, 200}};
    const auto weeks = storeroomWeeks(*agency, Eaches::of(100), {70, 80}, open, bands);
    const StoreroomChart chart = chartOf(agency, 100, {70, 80}, open, bands);
    EXPECT_EQ(chart.today, kToday);
    EXPECT_EQ(chart.last, kToday.plusDays(14));
    EXPECT_EQ(firstOf(chart, kToday).left, 100);
    EXPECT_EQ(firstOf(chart, kToday).low, 100) << "what stands there today is known";
    for (std::size_t i = 0; i < weeks.size(); ++i) {
        const ShelfPoint end = firstOf(chart, weeks[i].from.plusDays(7));
        EXPECT_NEAR(end.left, weeks[i].left, 1e-9) << i;
        ASSERT_TRUE(end.low && end.high) << i;
        EXPECT_NEAR(*end.low, *weeks[i].leftLow, 1e-9) << i;
        EXPECT_NEAR(*end.high, *weeks[i].leftHigh, 1e-9) << i;
    }
}

TEST(StoreroomChartTest, WhatComesIsAStepOnItsDay) {
    const auto agency = Three().build();
    const Date on = kToday.plusDays(3);
    const StoreroomChart chart =
        chartOf(agency, 100, {70, 80}, {coming(40, on), coming(9, kToday.plusDays(60))}, {});
    std::vector<double> left;
    for (const ShelfPoint &p : chart.points) {
        EXPECT_FALSE(p.low) << "no band without one in the table";
        if (p.on == on)
            left.push_back(p.left);
    }
    ASSERT_EQ(left.size(), 2U) << "before and after";
    EXPECT_NEAR(left[0], 100 - 3 * 10, 1e-9);
    EXPECT_NEAR(left[1], left[0] + 40, 1e-9);
    ASSERT_EQ(chart.arrivals.size(), 1U) << "what comes later than the weeks shown is not in them";
    EXPECT_TRUE(chartText(chart).contains(QStringLiteral("40 on Thu 5 Mar")))
        << chartText(chart).toStdString();
    EXPECT_TRUE(chartText(chart).contains(QStringLiteral("fill up to 150")));
    EXPECT_TRUE(dayFigures(chart, on).contains(QStringLiteral("come in: 40")));
    EXPECT_EQ(dayFigures(chart, kToday.plusDays(-1)), QString());
}

TEST(StoreroomChartTest, TheDayItFallsShortIsSaidAsExpectedAndAtWorst) {
    const auto agency = Three().build();
    const StoreroomChart chart = chartOf(agency, 100, {80, 80}, {}, {{60, 110}, {120, 200}});
    EXPECT_EQ(chart.shortOn, kToday.plusDays(8));
    EXPECT_EQ(chart.shortEarly, kToday.plusDays(6));
    EXPECT_EQ(shortText(chart), QStringLiteral("short on Tue 10 Mar, 1 time in 10 by Sun 8 Mar"));
    const StoreroomChart sure = chartOf(agency, 100, {20, 20}, {}, {{10, 30}, {20, 60}});
    EXPECT_FALSE(sure.shortOn || sure.shortEarly);
    EXPECT_EQ(shortText(sure), QStringLiteral("lasts to Mon 16 Mar"));
    const StoreroomChart likely = chartOf(agency, 100, {40, 40}, {}, {{30, 60}, {60, 120}});
    EXPECT_FALSE(likely.shortOn);
    ASSERT_TRUE(likely.shortEarly);
    EXPECT_TRUE(shortText(likely).startsWith(QStringLiteral("lasts as expected; 1 time in 10")));
}

TEST(StoreroomChartTest, WhatExpiresInTheWeeksIsMarkedAndSaidToBeStillInTheLine) {
    Three three;
    three.agency.storeroom(SmallAgency::kKit500, 12, kToday.plusDays(5));
    three.agency.storeroom(SmallAgency::kKit500, 7, kToday.plusDays(-1)); // of no use today
    const StoreroomChart chart = chartOf(three.build(), 100, {20, 20}, {}, {});
    ASSERT_EQ(chart.expiries.size(), 1U);
    EXPECT_EQ(chart.expiries[0].units, Eaches::of(12));
    EXPECT_EQ(chart.expiries[0].lastDay, kToday.plusDays(5));
    EXPECT_TRUE(chartText(chart).contains(QStringLiteral("until Sat 7 Mar")));
    EXPECT_TRUE(chartText(chart).contains(QStringLiteral("still in the line")));
    EXPECT_TRUE(dayFigures(chart, kToday.plusDays(5)).contains(QStringLiteral("12 of lot")));
}

TEST(StoreroomChartTest, AnItemNobodyUsesSaysWhyThereIsNoPicture) {
    const auto agency = Three().build();
    const StoreroomChart chart = chartOf(agency, 100, {}, {}, {});
    EXPECT_TRUE(chart.points.empty());
    EXPECT_FALSE(chart.nothing.isEmpty());
    EXPECT_EQ(chartText(chart), chart.nothing);
    EXPECT_EQ(dayFigures(chart, kToday), QString());
}

} // namespace
} // namespace kitround::desk
