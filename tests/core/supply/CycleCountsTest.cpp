#include "core/supply/CycleCounts.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::supply {
namespace {

using test::SmallAgency;

const Date kMonday = Date::of(2026, 3, 2);

// Yearly values 365 x use x price each, by hand: 70, 20, 7 and 3 in a hundred.
TEST(CycleCountsTest, ClassesFollowTheShareOfTheYearlyUseValueAndSetTheInterval) {
    SmallAgency agency(kMonday);
    agency.edit([](Snapshot &s) {
        for (SupplierItem &offer : s.supplierItems) {
            offer.perCase = Money::of(100 * offer.pack.eachesPerCase.count());
            offer.breaks.clear();
        }
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    std::vector<ItemId> sold;
    for (const SupplierItem &offer : snapshot.supplierItems)
        if (std::ranges::find(sold, offer.item) == sold.end())
            sold.push_back(offer.item);
    ASSERT_GE(sold.size(), 4U);
    EXPECT_DOUBLE_EQ(minorPerEach(index, sold[0]), 100);
    const std::map<ItemId, double> perDay{{sold[0], 7.0}, {sold[1], 2.0}, {sold[2], 0.7}, {sold[3], 0.3}};
    const std::map<ItemId, Date> last{{sold[0], kMonday.plusDays(-31)},
                                      {sold[1], kMonday.plusDays(-31)},
                                      {sold[2], kMonday.plusDays(-31)},
                                      {sold[3], kMonday.plusDays(-200)}};
    const auto due = countsDue(index, perDay, last, countRulesOf(snapshot.settings));
    const auto of = [&](ItemId item) { return *std::ranges::find(due, item, &CountDue::item); };
    EXPECT_EQ(of(sold[0]).countClass, StockClass::A);
    EXPECT_EQ(of(sold[1]).countClass, StockClass::A) << "it crosses the 80 %: still above the border";
    EXPECT_EQ(of(sold[2]).countClass, StockClass::B);
    EXPECT_EQ(of(sold[3]).countClass, StockClass::C);
    EXPECT_EQ(of(sold[0]).yearlyValue, Money::of(255500));
    EXPECT_TRUE(of(sold[0]).isDue(kMonday));
    EXPECT_EQ(of(sold[0]).dueOn, kMonday.plusDays(-1));
    EXPECT_EQ(of(sold[2]).dueOn, kMonday.plusDays(59));
    EXPECT_FALSE(of(sold[2]).isDue(kMonday));
    EXPECT_TRUE(of(sold[3]).isDue(kMonday));
    EXPECT_EQ(due.front().item, sold[3]) << "longest due first";
    for (const CountDue &item : due)
        if (!last.contains(item.item)) {
            EXPECT_EQ(item.dueOn, kMonday) << "never counted: today";
        }
}

TEST(CycleCountsTest, OnlyWhatIsPickedStandsInTheWayOfACount) {
    SmallAgency agency(kMonday);
    const auto open = [&](DeliveryStatus status, std::optional<NurseId> carriedBy = std::nullopt) {
        agency.edit([&](Snapshot &s) {
            Delivery d;
            d.id = DeliveryId(1);
            d.status = status;
            d.way = carriedBy ? DeliveryWay::WithVisit : DeliveryWay::Courier;
            d.carriedBy = carriedBy;
            d.lines = {{CatheterId(1), s.items.front().id, std::nullopt, Eaches::of(2)}};
            s.deliveries = {d};
        });
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        return openPicksOf(index, snapshot.items.front().id);
    };
    EXPECT_EQ(open(DeliveryStatus::Promised), 0) << "it is still on the shelf";
    EXPECT_EQ(open(DeliveryStatus::Picked), 1);
    EXPECT_EQ(open(DeliveryStatus::InTransit), 0);
    EXPECT_EQ(open(DeliveryStatus::Picked, NurseId(1)), 0) << "it lies in her car";
}

TEST(CycleCountsTest, ACountThatDiffersByTheCaseLooksLikeTheWrongUnit) {
    const PackSize ten{Eaches::of(10)};
    EXPECT_TRUE(looksLikeWrongUnit(Eaches::of(40), Eaches::of(4), ten));
    EXPECT_TRUE(looksLikeWrongUnit(Eaches::of(4), Eaches::of(40), ten));
    EXPECT_FALSE(looksLikeWrongUnit(Eaches::of(40), Eaches::of(39), ten));
    EXPECT_FALSE(looksLikeWrongUnit(Eaches::of(0), Eaches::of(0), ten));
    EXPECT_FALSE(looksLikeWrongUnit(Eaches::of(1), Eaches::of(1), PackSize{Eaches::of(1)}));
}

} // namespace
} // namespace kitround::supply
