#include "core/records/Snapshot.h"

#include "core/base/Random.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround {
namespace {

const Date kToday = Date::of(2026, 3, 2);

TEST(SnapshotIndexTest, FindsByIdAndOnlyWhatIsThere) {
    test::SmallAgency agency(kToday);
    const test::Home home = agency.addHome();
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    ASSERT_NE(index.patient(home.patient), nullptr);
    EXPECT_EQ(index.patient(home.patient)->id, home.patient);
    EXPECT_EQ(index.patient(PatientId(999)), nullptr);
    EXPECT_EQ(index.item(test::SmallAgency::kKit500)->id, test::SmallAgency::kKit500);
    EXPECT_EQ(index.lot(LotId(999)), nullptr);
    EXPECT_EQ(index.visit(VisitId(1)), nullptr);
    EXPECT_TRUE(index.ordersOf(CatheterId(999)).empty());
    EXPECT_TRUE(index.entriesOf(CatheterId(999)).empty());
}

TEST(SnapshotIndexTest, EntriesOfACatheterAreAllOfItsOwn) {
    test::SmallAgency agency(kToday);
    const test::Home one = agency.addHome(), other = agency.addHome();
    const test::Home second = agency.addCatheter(one, CavitySite::Abdomen, Side::Midline);
    for (int day = 1; day <= 3; ++day)
        agency.drained(one, kToday.plusDays(-day), 100 * day).drained(second, kToday.plusDays(-day), 50);
    agency.drained(other, kToday.plusDays(-1), 400);
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto entries = index.entriesOf(one.catheter);
    ASSERT_EQ(entries.size(), 3U);
    EXPECT_TRUE(std::ranges::is_sorted(entries, {}, &DrainEntry::at));
    for (const DrainEntry &entry : entries)
        EXPECT_EQ(entry.catheter, one.catheter);
    EXPECT_EQ(index.entriesOf(other.catheter).size(), 1U);
    EXPECT_EQ(index.cathetersOf(one.patient).size(), 2U);
}

TEST(SnapshotIndexTest, OfTwoOrdersTheLaterStartIsInForce) {
    test::SmallAgency agency(kToday);
    const test::Home home = agency.addHome();
    const auto from = [](Date start, std::optional<Date> end) {
        return [=](DrainOrder &order) {
            order.start = start;
            order.end = end;
        };
    };
    agency.order(home, test::everyDays(1, kToday), test::SmallAgency::kKit500, from(kToday, std::nullopt))
        .order(home, test::everyDays(2, kToday), test::SmallAgency::kKit500,
               from(kToday.plusDays(-30), kToday.plusDays(5)));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(index.orderInForce(home.catheter, kToday.plusDays(-31)), nullptr);
    EXPECT_EQ(index.orderInForce(home.catheter, kToday.plusDays(-1))->pattern.everyDays, 2);
    EXPECT_EQ(index.orderInForce(home.catheter, kToday)->pattern.everyDays, 1);
}

TEST(SnapshotIndexTest, AHoldCoversItsDaysButNotTheDayOfReturn) {
    test::SmallAgency agency(kToday);
    const test::Home home = agency.addHome();
    agency.hold(home, kToday, kToday.plusDays(3));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(index.holdOn(home.patient, kToday.plusDays(-1)), nullptr);
    EXPECT_NE(index.holdOn(home.patient, kToday), nullptr);
    EXPECT_NE(index.holdOn(home.patient, kToday.plusDays(2)), nullptr);
    EXPECT_EQ(index.holdOn(home.patient, kToday.plusDays(3)), nullptr);
}

TEST(SnapshotIndexTest, BalancesAreSumsOverLotsWhateverTheirOrder) {
    Random random(4);
    Snapshot snapshot;
    std::vector<Place> places{Place::storeroom(), Place::quarantine(), Place::home(CatheterId(1)),
                              Place::home(CatheterId(2)), Place::car(NurseId(1))};
    for (int i = 0; i < 200; ++i)
        snapshot.balances.push_back({places[random.below(places.size())], ItemId(random.between(1, 4)),
                                     LotId(random.between(1, 30)), Eaches::of(random.between(-3, 20))});
    const SnapshotIndex index(snapshot);
    for (const Place &place : places) {
        std::size_t rows = 0;
        for (std::int64_t item = 1; item <= 5; ++item) {
            Eaches sum;
            for (const StockBalance &b : snapshot.balances)
                if (b.place == place && b.item == ItemId(item)) {
                    sum += b.quantity;
                    ++rows;
                }
            EXPECT_EQ(index.balance(place, ItemId(item)), sum);
        }
        EXPECT_EQ(index.balancesAt(place).size(), rows);
    }
    EXPECT_EQ(index.balance(Place::home(CatheterId(3)), ItemId(1)), Eaches::of(0));
}

TEST(SnapshotIndexTest, TheLastCountOfAnItemIsTheLatest) {
    test::SmallAgency agency(kToday);
    const test::Home home = agency.addHome();
    agency.counted(home, test::SmallAgency::kKit500, 9, kToday.plusDays(-10))
        .counted(home, test::SmallAgency::kKit500, 4, kToday.plusDays(-2))
        .counted(home, test::SmallAgency::kBottle500, 1, kToday.plusDays(-1));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(index.lastCount(home.catheter, test::SmallAgency::kKit500)->counted, Eaches::of(4));
    EXPECT_EQ(index.lastCount(home.catheter, test::SmallAgency::kKit1000), nullptr);
}

TEST(SnapshotIndexTest, ServiceEndsWithRemovalOrExit) {
    test::SmallAgency agency(kToday);
    const test::Home home = agency.addHome(), removed = agency.addHome(), left = agency.addHome();
    agency.edit([&](Snapshot &s) {
        for (Catheter &c : s.catheters)
            if (c.id == removed.catheter)
                c.removedAt = Instant::fromUnixSeconds(0);
        for (Patient &p : s.patients)
            if (p.id == left.patient)
                p.status = CareStatus::Deceased;
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_TRUE(index.isInService(*index.catheter(home.catheter)));
    EXPECT_FALSE(index.isInService(*index.catheter(removed.catheter)));
    EXPECT_FALSE(index.isInService(*index.catheter(left.catheter)));
}

} // namespace
} // namespace kitround
