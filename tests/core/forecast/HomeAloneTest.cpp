#include "core/forecast/HomeAlone.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::forecast {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// Three homes of one caseload: every other day, one with a parcel on its way and a hold, one as needed.
struct Caseload {
    Caseload() {
        SmallAgency agency(kToday);
        for (int i = 0; i < 3; ++i) {
            const Home home = agency.addHome();
            homes.push_back(home);
            agency.order(home, i == 2 ? test::asNeeded(1) : everyDays(2, kToday));
            for (int back = 40 - i; back >= 3; back -= 2)
                agency.drained(home, kToday.plusDays(-back), 300 + 50 * (back % 5),
                               {{kKit, 1 + back % 7 / 6}});
            agency.counted(home, kKit, 8, kToday.plusDays(-1));
        }
        agency.delivery(homes[1], kKit, 5, kToday.plusDays(4), DeliveryStatus::InTransit);
        agency.hold(homes[1], kToday.plusDays(9), kToday.plusDays(15));
        snapshot = agency.build();
        figures = learnFigures(SnapshotIndex(snapshot));
    }
    std::vector<ItemForecast> of(const SnapshotIndex &index, const Home &home) const {
        return forecastHome(index, *index.catheter(home.catheter), {}, figures);
    }
    std::vector<Home> homes;
    Snapshot snapshot;
    AgencyFigures figures;
};

std::vector<double> chances(const ItemForecast &f) {
    std::vector<double> all;
    for (const DayUse &day : f.days)
        all.push_back(day.chanceDry);
    return all;
}

TEST(HomeAloneTest, AHomeCutOutIsForecastAsInItsAgency) {
    const Caseload caseload;
    const SnapshotIndex agency(caseload.snapshot);
    for (const Home &home : caseload.homes) {
        const Snapshot cut = homeAlone(agency, home.patient);
        EXPECT_EQ(cut.patients.size(), 1U);
        const auto all = caseload.of(agency, home), alone = caseload.of(SnapshotIndex(cut), home);
        ASSERT_EQ(all.size(), alone.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            EXPECT_EQ(all[i].item, alone[i].item);
            EXPECT_EQ(all[i].knowledge, alone[i].knowledge);
            EXPECT_EQ(all[i].onHand, alone[i].onHand);
            EXPECT_EQ(all[i].inTransit, alone[i].inTransit);
            EXPECT_EQ(all[i].unloggedP50, alone[i].unloggedP50);
            EXPECT_EQ(chances(all[i]), chances(alone[i]));
            EXPECT_EQ(all[i].plain.supplyEnds, alone[i].plain.supplyEnds);
        }
    }
}

TEST(HomeAloneTest, AParcelOfNothingChangesNothing) {
    const Caseload caseload;
    const SnapshotIndex agency(caseload.snapshot);
    for (const Home &home : caseload.homes) {
        const ItemForecast line = caseload.of(agency, home).front();
        const ItemForecast with =
            withParcel(agency, caseload.figures, line, {kToday.plusDays(6), Eaches::of(0)});
        EXPECT_EQ(chances(with), chances(line));
        EXPECT_EQ(with.runOutP50, line.runOutP50);
    }
}

TEST(HomeAloneTest, AnEarlierAndALargerParcelNeverMeanMoreRisk) {
    constexpr double kWaysOfCounting =
        5e-3; // a parcel that parts the paths is counted by points of the belief
    const Caseload caseload;
    const SnapshotIndex agency(caseload.snapshot);
    for (const Home &home : caseload.homes) {
        const ItemForecast line = caseload.of(agency, home).front();
        const auto with = [&](int day, int units) {
            return chances(
                withParcel(agency, caseload.figures, line, {kToday.plusDays(day), Eaches::of(units)}));
        };
        const auto early = with(6, 10), late = with(20, 10), large = with(20, 20), none = chances(line);
        for (std::size_t d = 0; d < none.size(); ++d) {
            EXPECT_LE(early[d], late[d] + kWaysOfCounting) << d;
            EXPECT_LE(large[d], late[d] + kWaysOfCounting) << d;
            EXPECT_LE(late[d], none[d] + kWaysOfCounting) << d;
        }
        EXPECT_LT(early[40], none[40]);
    }
}

} // namespace
} // namespace kitround::forecast
