// The clerk's lists, against arithmetic by hand: shortage, suppliers, use against order.
#include "core/supply/Shortage.h"
#include "core/supply/SupplierPerformance.h"
#include "core/supply/UseReview.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;
using test::steadyHome;

const Date kMonday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// Homes that use one kit a day for certain; what they hold says when they are dry.
struct ShortTown {
    ShortTown() {
        for (const int onHand : {9, 1, 4}) {
            const Home home = agency.addHome();
            agency.order(home, test::everyDays(1, kMonday));
            forecasts.push_back(steadyHome(home.catheter, home.patient, kKit, onHand, 1));
            forecasts.back().runOutP10 = kMonday.plusDays(onHand);
            homes.push_back(home);
        }
        agency.edit([](Snapshot &s) {
            s.settings.set(SettingKey::ReferralsPerWeekHundredths, 0);
            s.settings.set(SettingKey::CourierLeadDays, 1);
        });
    }
    std::vector<Shortage> board() {
        snapshot = agency.build();
        return shortages(SnapshotIndex(snapshot), forecasts);
    }
    SmallAgency agency{kMonday};
    std::vector<Home> homes;
    std::vector<forecast::ItemForecast> forecasts;
    Snapshot snapshot;
};

TEST(ShortageTest, TheShelfGoesToTheSoonestAtRiskAndTheRestIsAsked) {
    ShortTown town;
    town.agency.storeroom(kKit, 9);
    const auto board = town.board();
    ASSERT_EQ(board.size(), 1U);
    const Shortage &kits = board.front();
    EXPECT_EQ(kits.item, kKit);
    EXPECT_EQ(kits.free, Eaches::of(9));
    EXPECT_FALSE(kits.isOrdered);
    const std::int64_t days = (kits.arrival - kMonday).count() + 1 + 1; // day of arrival, and the courier's
    ASSERT_GE(kits.homes.size(), 2U);
    EXPECT_EQ(kits.homes[0].patient, town.homes[1].patient) << "dry first";
    EXPECT_EQ(kits.homes[0].wanted, Eaches::of(days - 1));
    EXPECT_EQ(kits.homes[0].step, ShortageStep::Ration);
    EXPECT_EQ(kits.homes[1].patient, town.homes[2].patient);
    EXPECT_EQ(kits.homes[1].wanted, Eaches::of(days - 4));
    EXPECT_EQ(kits.homes[1].step, ShortageStep::Ask) << "no more is there than the first one needs";
    EXPECT_EQ(kits.homes[1].quantity, Eaches::of(9) - kits.homes[0].wanted)
        << "the rest of the shelf, in part";
    Eaches given;
    for (const ShortageHome &home : kits.homes)
        given += home.quantity;
    EXPECT_LE(given, kits.free) << "nothing is given twice";
}

TEST(ShortageTest, WhoRunsDryFirstStandsFirstWhateverTheItem) {
    ShortTown town;
    for (forecast::ItemForecast &f : town.forecasts)
        f.runOutP10 = kMonday.plusDays(4);
    const Home other = town.agency.addHome();
    town.agency.order(other, test::everyDays(1, kMonday));
    town.forecasts.push_back(steadyHome(other.catheter, other.patient, SmallAgency::kKit1000, 1, 1));
    town.forecasts.back().runOutP10 = kMonday.plusDays(1);
    const auto board = town.board();
    ASSERT_EQ(board.size(), 2U);
    EXPECT_EQ(board[0].item, SmallAgency::kKit1000);
    EXPECT_EQ(board[0].homes.front().patient, other.patient);
}

TEST(ShortageTest, AnotherSizeStandsInOnlyWhereTheOrderAllows) {
    ShortTown town;
    town.agency.storeroom(SmallAgency::kKit1000, 40);
    town.agency.edit([](Snapshot &s) {
        for (Item &item : s.items)
            if (item.id == kKit)
                item.substitutes = {{SmallAgency::kKit1000, Eaches::of(1)}};
    });
    for (const Shortage &shortage : town.board())
        if (shortage.item == kKit) {
            for (const ShortageHome &home : shortage.homes)
                EXPECT_EQ(home.step, ShortageStep::Ask) << "no order allows it";
        }
    town.agency.edit([&](Snapshot &s) {
        for (DrainOrder &order : s.drainOrders)
            order.allowsSubstitute = order.catheter == town.homes[1].catheter;
    });
    const auto board = town.board();
    const auto kits = std::ranges::find(board, kKit, &Shortage::item);
    ASSERT_NE(kits, board.end());
    for (const ShortageHome &home : kits->homes) {
        const bool isAllowed = home.catheter == town.homes[1].catheter;
        EXPECT_EQ(home.step, isAllowed ? ShortageStep::Substitute : ShortageStep::Ask);
        if (isAllowed) {
            EXPECT_EQ(home.quantity, home.wanted);
        }
    }
}

TEST(ShortageTest, EnoughOnTheShelfIsNoShortageAndAnUnknownHomeIsCountedFirst) {
    ShortTown town;
    town.agency.storeroom(kKit, 400);
    EXPECT_TRUE(town.board().empty());
    ShortTown unknown;
    unknown.forecasts[1].knowledge = forecast::StockKnowledge::Unknown;
    const auto board = unknown.board();
    ASSERT_EQ(board.size(), 1U);
    EXPECT_EQ(board[0].homes.back().patient, unknown.homes[1].patient);
    EXPECT_EQ(board[0].homes.back().step, ShortageStep::CountFirst);
    EXPECT_FALSE(board[0].homes.back().atRisk);
}

TEST(SupplierPerformanceTest, ActualLeadTimesFillAndPricesAreThoseOfTheReceipts) {
    SmallAgency agency(kMonday);
    agency.edit([](Snapshot &s) {
        SupplierItem &offer = *std::ranges::find(s.supplierItems, kKit, &SupplierItem::item);
        offer.perCase = Money::of(1000);
        offer.breaks.clear();
        for (int i = 0; i < 2; ++i) {
            PurchaseOrder order;
            order.id = PurchaseOrderId(i + 1);
            order.supplier = SmallAgency::kSupplier;
            order.status = PurchaseStatus::Received;
            order.orderedOn = kMonday.plusDays(-40 + 10 * i);
            order.expectedOn = order.orderedOn->plusDays(7);
            order.lines = {{.item = kKit,
                            .cases = Cases::of(4),
                            .pack = offer.pack,
                            .perCase = Money::of(1100),
                            .received = {},
                            .backorderedUntil = std::nullopt,
                            .reason = {}}};
            s.purchaseOrders.push_back(order);
            // The first comes whole after 6 days; of the second half after 9, half after 20.
            const Eaches whole = toEaches(Cases::of(4), offer.pack);
            const auto came = [&](int days, Eaches quantity) {
                Receipt receipt;
                receipt.id = ReceiptId(static_cast<std::int64_t>(s.receipts.size()) + 1);
                receipt.order = order.id;
                receipt.supplier = order.supplier;
                receipt.at = {order.orderedOn->plusDays(days), Minutes::of(600)};
                receipt.lines = {{kKit, LotId(1), quantity, {}}};
                s.receipts.push_back(receipt);
            };
            if (i == 0) {
                came(6, whole);
            } else {
                came(9, Eaches::of(whole.count() / 2));
                came(20, Eaches::of(whole.count() / 2));
            }
        }
    });
    const Snapshot snapshot = agency.build();
    const auto all = supplierPerformance(SnapshotIndex(snapshot));
    ASSERT_EQ(all.size(), snapshot.suppliers.size());
    const SupplierPerformance &p = all.front();
    EXPECT_EQ(p.orders, 2);
    ASSERT_TRUE(p.leadMean);
    EXPECT_DOUBLE_EQ(*p.leadMean, 7.5); // 6 and 9: the first receipts
    EXPECT_NEAR(p.leadSpread, 2.1213203435596424, 1e-12);
    EXPECT_DOUBLE_EQ(p.fillRate.value_or(0), 0.75);
    EXPECT_DOUBLE_EQ(p.onTime.value_or(0), 0.5);
    EXPECT_EQ(p.paid, Money::of(8800));
    EXPECT_EQ(p.listed, Money::of(8000));
}

TEST(UseReviewTest, MissedDrainsAreNoSavingAndHoldsAreNotMissed) {
    SmallAgency agency(kMonday);
    const Home steady = agency.addHome(), misses = agency.addHome(), spoils = agency.addHome(),
               away = agency.addHome(), asNeeded = agency.addHome();
    for (const Home &home : {steady, misses, spoils, away})
        agency.order(home, test::everyDays(2, kMonday.plusDays(-60)));
    agency.order(asNeeded, test::asNeeded(1));
    agency.hold(away, kMonday.plusDays(-28), kMonday.plusDays(-7));
    for (int back = 28; back >= 2; back -= 2) {
        const Date on = kMonday.plusDays(-back);
        agency.drained(steady, on, 400, {{kKit, 1, 0}});
        if (back % 4 == 0)
            agency.drained(misses, on, 400, {{kKit, 1, 0}});
        agency.drained(spoils, on, 400, {{kKit, 1, back % 4 == 0 ? 1 : 0}});
        if (back < 7)
            agency.drained(away, on, 400, {{kKit, 1, 0}});
        agency.drained(asNeeded, on, 400, {{kKit, 1, 0}});
    }
    const Snapshot snapshot = agency.build();
    const auto lines = useReview(SnapshotIndex(snapshot));
    const auto of = [&](const Home &home) {
        return std::ranges::find(lines, home.catheter, &UseLine::catheter);
    };
    ASSERT_EQ(lines.size(), 4U) << "as needed has no plan to hold it against";
    EXPECT_EQ(of(steady)->verdict, UseVerdict::AsOrdered);
    EXPECT_EQ(of(steady)->planned, 14);
    EXPECT_EQ(of(misses)->verdict, UseVerdict::Under);
    EXPECT_EQ(of(misses)->missed(), 7);
    EXPECT_EQ(of(spoils)->verdict, UseVerdict::Over);
    EXPECT_EQ(of(spoils)->used, 21);
    EXPECT_EQ(of(spoils)->missed(), 0);
    EXPECT_EQ(of(away)->verdict, UseVerdict::AsOrdered) << "days on hold are not planned";
    EXPECT_NE(lines.front().verdict, UseVerdict::AsOrdered) << "what parts stands first";
}

} // namespace
} // namespace kitround::supply
