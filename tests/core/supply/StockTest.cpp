#include "core/base/Random.h"
#include "core/supply/CarStock.h"
#include "core/supply/Ledger.h"
#include "core/supply/Lots.h"
#include "core/supply/OrderNumbers.h"
#include "core/supply/Recall.h"
#include "core/supply/StoreroomShare.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <initializer_list>
#include <map>
#include <numeric>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);
const LocalTime kNow{kToday, Minutes::of(8 * 60)};

Eaches sumOf(const std::vector<StockBalance> &rows) {
    Eaches sum;
    for (const StockBalance &row : rows)
        sum += row.quantity;
    return sum;
}

std::vector<StockMovement> randomMovements(Random &random, int count) {
    const std::vector<Place> places = {Place::supplier(SupplierId(1)),
                                       Place::storeroom(),
                                       Place::quarantine(),
                                       Place::car(NurseId(1)),
                                       Place::transit(DeliveryId(4)),
                                       Place::home(CatheterId(1)),
                                       Place::home(CatheterId(2)),
                                       Place::used(DrainEntryId(7)),
                                       Place::wasted()};
    std::vector<StockMovement> movements;
    for (int i = 0; i < count; ++i) {
        StockMovement m;
        m.id = MovementId(i + 1);
        m.at = kNow;
        m.item = ItemId(static_cast<std::int64_t>(1 + random.below(3)));
        if (random.below(2) == 0)
            m.lot = LotId(static_cast<std::int64_t>(1 + random.below(2)));
        m.quantity = Eaches::of(static_cast<std::int64_t>(1 + random.below(20)));
        m.from = places[random.below(places.size())];
        m.to = places[random.below(places.size())];
        movements.push_back(m);
    }
    return movements;
}

TEST(LedgerTest, BalancesEqualWhatCameInLessWhatWentOut) {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        Random random(seed);
        const auto movements = randomMovements(random, 60);
        Eaches net;
        for (const StockMovement &m : movements) {
            if (isInside(m.to.kind))
                net += m.quantity;
            if (isInside(m.from.kind))
                net -= m.quantity;
        }
        const auto rows = balancesOf(movements);
        EXPECT_EQ(sumOf(rows), net) << "seed " << seed;
        EXPECT_TRUE(std::ranges::none_of(rows, [](const StockBalance &b) { return b.quantity.isZero(); }));
        EXPECT_TRUE(std::ranges::is_sorted(
            rows, {}, [](const StockBalance &b) { return std::tuple(b.place, b.item, b.lot); }));
    }
}

TEST(LedgerTest, UndoingEverythingLeavesNothing) {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        Random random(seed);
        auto movements = randomMovements(random, 40);
        const auto before = balancesOf(movements);
        const auto extra = randomMovements(random, 25);
        movements.insert(movements.end(), extra.begin(), extra.end());
        const auto contrary = undoing(extra, kNow);
        movements.insert(movements.end(), contrary.begin(), contrary.end());
        EXPECT_EQ(balancesOf(movements), before) << "seed " << seed;
        ASSERT_EQ(contrary.size(), extra.size());
        EXPECT_EQ(contrary.front().undoes, extra.back().id);
    }
}

TEST(LedgerTest, ACountMakesTheLedgerEqualToIt) {
    for (const auto &[ledger, counted] : std::vector<std::pair<int, int>>{{7, 4}, {4, 7}, {-2, 3}, {0, 5}}) {
        StockMovement start;
        start.item = ItemId(1);
        start.quantity = Eaches::of(std::abs(ledger));
        start.from = ledger > 0 ? Place::variance() : Place::home(CatheterId(1));
        start.to = ledger > 0 ? Place::home(CatheterId(1)) : Place::variance();
        std::vector<StockMovement> all;
        if (ledger != 0)
            all.push_back(start);
        const auto m = movementForCount(Place::home(CatheterId(1)), ItemId(1), Eaches::of(ledger),
                                        Eaches::of(counted), kNow);
        ASSERT_TRUE(m);
        EXPECT_GT(m->quantity.count(), 0);
        all.push_back(*m);
        EXPECT_EQ(sumOf(balancesOf(all)), Eaches::of(counted));
    }
    EXPECT_FALSE(movementForCount(Place::storeroom(), ItemId(1), Eaches::of(3), Eaches::of(3), kNow));
}

TEST(LedgerTest, AnEntryTakesWhatWasUsedAndWhatWasLost) {
    DrainEntry entry;
    entry.id = DrainEntryId(9);
    entry.catheter = CatheterId(3);
    entry.at = kNow;
    entry.supplies = {{ItemId(1), Eaches::of(1), Eaches::of(1), LotId(5)},
                      {ItemId(3), Eaches::of(2), {}, {}}};
    const auto movements = movementsForEntry(entry);
    ASSERT_EQ(movements.size(), 3U);
    EXPECT_EQ(movements[0].to, Place::used(entry.id));
    EXPECT_EQ(movements[1].to, (Place{PlaceKind::Wasted, entry.id.value()})); // undoing finds it by this
    EXPECT_EQ(movements[1].lot, LotId(5));
    EXPECT_EQ(movements[2].quantity, Eaches::of(2));
    EXPECT_EQ(sumOf(balancesOf(movements)), Eaches::of(-4));
}

TEST(LedgerTest, APositionCountsEachPieceOnceAndNothingUnusableAsFree) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.storeroom(SmallAgency::kKit500, 30);
    const LotId expired = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(-1));
    const LotId recalled = agency.storeroom(SmallAgency::kKit500, 4);
    agency.delivery(home, SmallAgency::kKit500, 6, kToday.plusDays(2), DeliveryStatus::Promised);
    agency.edit([&](Snapshot &s) {
        for (Lot &lot : s.lots)
            if (lot.id == recalled)
                lot.state = LotState::Recalled;
        PurchaseOrder order;
        order.id = PurchaseOrderId(1);
        order.supplier = SmallAgency::kSupplier;
        order.status = PurchaseStatus::PartlyReceived;
        order.lines = {{SmallAgency::kKit500, Cases::of(3), {Eaches::of(10)}, {}, Eaches::of(12), {}, {}}};
        s.purchaseOrders = {order};
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const Position position = positionOf(index, SmallAgency::kKit500);
    EXPECT_EQ(position.storeroom, Eaches::of(30));
    EXPECT_EQ(position.unusable, Eaches::of(9));
    EXPECT_EQ(position.free(), Eaches::of(24));
    EXPECT_EQ(position.onOrder, Eaches::of(18));
    EXPECT_FALSE(isUsable(index, expired, kToday));
    EXPECT_TRUE(isUsable(index, expired, kToday.plusDays(-1))); // the last day of use
}

TEST(LotsTest, PicksPlusMissingIsTheNeedAndNothingExpiredOrRecalledIsGiven) {
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        Random random(seed);
        SmallAgency agency(kToday);
        std::vector<std::pair<LotId, int>> lots;
        for (int i = 0; i < 6; ++i) {
            const auto quantity = static_cast<int>(1 + random.below(12));
            const auto life = static_cast<std::int64_t>(random.below(200)) - 40;
            lots.emplace_back(agency.storeroom(SmallAgency::kKit500, quantity, kToday.plusDays(life)),
                              quantity);
        }
        agency.edit([&](Snapshot &s) {
            for (Lot &lot : s.lots)
                if (random.below(5) == 0)
                    lot.state = random.below(2) == 0 ? LotState::Recalled : LotState::Quarantined;
        });
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        const Eaches need = Eaches::of(static_cast<std::int64_t>(random.below(60)));
        const auto result =
            pickFirstExpiring(index, Place::storeroom(), SmallAgency::kKit500, need, kToday, Days::of(60));
        Eaches given;
        bool shortBefore = false;
        std::optional<Date> last;
        for (const Pick &pick : result.picks) {
            const Lot *lot = index.lot(pick.lot);
            ASSERT_NE(lot, nullptr);
            EXPECT_EQ(lot->state, LotState::Usable) << "seed " << seed;
            EXPECT_GE(*lot->expiresOn, kToday) << "seed " << seed;
            EXPECT_EQ(pick.isShortDated, (*lot->expiresOn - kToday).count() < 60);
            EXPECT_TRUE(pick.isShortDated || !shortBefore) << "short-dated goes last, seed " << seed;
            if (last && pick.isShortDated == shortBefore) {
                EXPECT_LE(*last, *lot->expiresOn) << "seed " << seed;
            }
            last = lot->expiresOn;
            shortBefore = pick.isShortDated;
            given += pick.quantity;
        }
        EXPECT_EQ(given + result.missing, need) << "seed " << seed;
        Eaches usable;
        for (const auto &[lot, quantity] : lots)
            if (isUsable(index, lot, kToday))
                usable += Eaches::of(quantity);
        EXPECT_EQ(given, std::min(need, usable)) << "seed " << seed;
    }
}

TEST(LotsTest, ShortDatedIsTheSameDayWhereverALotStands) {
    for (const int left : {59, 60}) { // an item asks for sixty days
        const bool isShort = left < 60;
        SmallAgency agency(kToday);
        const LotId lot = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(left));
        agency.edit([&](Snapshot &s) {
            s.balances.push_back({Place::car(SmallAgency::kNurse), SmallAgency::kKit500, lot, Eaches::of(3)});
        });
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        EXPECT_EQ(isShortDated(*index.lot(lot), kToday, Days::of(60)), isShort);
        EXPECT_EQ(carLines(index).at(0).shortDated, Eaches::of(isShort ? 3 : 0));
        EXPECT_EQ(StoreroomShare(index).longDated(SmallAgency::kKit500, kToday), Eaches::of(isShort ? 0 : 5));
    }
}

TEST(LotsTest, WhatIsPromisedAlreadyIsNotFreeForAnotherWhateverItsLife) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.storeroom(SmallAgency::kKit500, 20);
    agency.storeroom(SmallAgency::kKit500, 30, kToday.plusDays(40)); // short-dated: given last
    const Date on = kToday.plusDays(2);
    const auto free = [&] {
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        const StoreroomShare share(index);
        return std::pair(share.available(SmallAgency::kKit500, on).count(),
                         share.longDated(SmallAgency::kKit500, on).count());
    };
    EXPECT_EQ(free(), std::pair(std::int64_t{50}, std::int64_t{20}));
    agency.delivery(home, SmallAgency::kKit500, 15, on, DeliveryStatus::Promised);
    EXPECT_EQ(free(), std::pair(std::int64_t{35}, std::int64_t{5}));
    agency.delivery(home, SmallAgency::kKit500, 15, on, DeliveryStatus::Promised);
    EXPECT_EQ(free(), std::pair(std::int64_t{20}, std::int64_t{0}));
    agency.delivery(home, SmallAgency::kKit500, 25, on, DeliveryStatus::Promised);
    EXPECT_EQ(free(), std::pair(std::int64_t{0}, std::int64_t{0}));
}

TEST(LotsTest, WhatIsOverBeforeTheDayIsNotThereForIt) {
    SmallAgency agency(kToday);
    agency.storeroom(SmallAgency::kKit500, 20);
    agency.storeroom(SmallAgency::kKit500, 30, kToday.plusDays(2));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const StoreroomShare share(index);
    EXPECT_EQ(share.available(SmallAgency::kKit500, kToday.plusDays(2)), Eaches::of(50)) << "its last day";
    EXPECT_EQ(share.available(SmallAgency::kKit500, kToday.plusDays(3)), Eaches::of(20));
}

TEST(LotsTest, ADeliveryArrivesWhenItDidOrWhenItCan) {
    Delivery delivery;
    delivery.promisedFor = kToday.plusDays(3);
    EXPECT_EQ(arrivalOf(delivery, kToday), kToday.plusDays(3));
    EXPECT_EQ(arrivalOf(delivery, kToday.plusDays(5)), kToday.plusDays(5)) << "not before today";
    delivery.deliveredAt = LocalTime{kToday.plusDays(4), Minutes::of(600)};
    EXPECT_EQ(arrivalOf(delivery, kToday.plusDays(9)), kToday.plusDays(4));
}

TEST(LotsTest, TheExpiringListLooksIntoHomesToo) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    const LotId late = agency.storeroom(SmallAgency::kKit500, 3, kToday.plusDays(90));
    const LotId far = agency.storeroom(SmallAgency::kKit500, 3, kToday.plusDays(91));
    Snapshot snapshot = agency.build();
    Lot old;
    old.id = LotId(90);
    old.item = SmallAgency::kKit500;
    old.expiresOn = kToday.plusDays(-3);
    snapshot.lots.push_back(old);
    snapshot.balances.push_back({Place::home(home.catheter), SmallAgency::kKit500, old.id, Eaches::of(2)});
    const SnapshotIndex index(snapshot);
    const auto rows = expiringLots(index, Days::of(90));
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[0].place, Place::home(home.catheter));
    EXPECT_EQ(rows[1].lot, late);
    EXPECT_TRUE(std::ranges::none_of(rows, [&](const ExpiringLot &r) { return r.lot == far; }));
}

StockMovement moved(Place from, Place to, int quantity, LotId lot) {
    StockMovement m;
    m.at = kNow;
    m.item = SmallAgency::kKit500;
    m.lot = lot;
    m.quantity = Eaches::of(quantity);
    m.from = from;
    m.to = to;
    return m;
}

TEST(RecallTest, ATraceReachesHomesOnHoldAndThoseWhoLeft) {
    SmallAgency agency(kToday);
    const Home steady = agency.addHome();
    const Home held = agency.addHome();
    const Home left = agency.addHome();
    agency.hold(held, kToday.plusDays(-3), std::nullopt);
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 5);
    agency.edit([&](Snapshot &s) {
        for (Patient &p : s.patients)
            if (p.id == left.patient)
                p.status = CareStatus::Discharged;
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const std::vector<StockMovement> movements = {
        moved(Place::supplier(SupplierId(1)), Place::storeroom(), 30, lot),
        moved(Place::storeroom(), Place::home(steady.catheter), 10, lot),
        moved(Place::storeroom(), Place::home(held.catheter), 8, lot),
        moved(Place::storeroom(), Place::home(left.catheter), 7, lot),
        moved(Place::home(steady.catheter), Place::used(DrainEntryId(41)), 2, lot),
        moved(Place::home(steady.catheter), {PlaceKind::Wasted, 43}, 1, lot), // lost in a drain
        moved(Place::home(left.catheter), Place::wasted(), 1, lot),           // thrown away
        moved(Place::home(left.catheter), Place::used(DrainEntryId(42)), 6, lot),
        moved(Place::storeroom(), Place::home(steady.catheter), 99, LotId(77)), // another lot
    };
    const LotTrace trace = traceLot(index, lot, movements);
    ASSERT_EQ(trace.stops.size(), 1U);
    EXPECT_EQ(trace.stops[0].received, Eaches::of(30));
    EXPECT_EQ(trace.stops[0].there, Eaches::of(5));
    ASSERT_EQ(trace.homes.size(), 3U);
    EXPECT_EQ(trace.homes[0].patient, held.patient);
    EXPECT_EQ(trace.homes[0].there, Eaches::of(8));
    EXPECT_TRUE(trace.homes[0].drains.empty());
    EXPECT_TRUE(trace.homes[0].isOnHold);
    EXPECT_EQ(trace.homes[1].there, Eaches::of(7));
    EXPECT_EQ(trace.homes[1].used, Eaches::of(3));
    EXPECT_EQ(trace.homes[1].drains, (std::vector{DrainEntryId(41), DrainEntryId(43)}));
    EXPECT_TRUE(trace.homes[2].hasLeft);
    EXPECT_EQ(trace.homes[2].there, Eaches{});
    Eaches conserved = trace.stops[0].there;
    for (const RecallHome &home : trace.homes)
        conserved += home.there + home.used;
    EXPECT_EQ(conserved, Eaches::of(30));
}

TEST(RecallTest, AnUndoneHandoverIsNoReceiptAndWhoNeverHadTheLotIsNotCalled) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 5);
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    std::vector<StockMovement> movements = {moved(Place::storeroom(), Place::home(home.catheter), 4, lot)};
    movements[0].id = MovementId(1);
    const auto contrary = undoing(movements, kNow);
    movements.insert(movements.end(), contrary.begin(), contrary.end());
    EXPECT_TRUE(traceLot(index, lot, movements).homes.empty());
    movements.push_back(moved(Place::storeroom(), Place::home(home.catheter), 3, lot));
    const LotTrace trace = traceLot(index, lot, movements);
    ASSERT_EQ(trace.homes.size(), 1U);
    EXPECT_EQ(trace.homes[0].received, Eaches::of(3));
    EXPECT_EQ(trace.homes[0].there, Eaches::of(3));
}

TEST(RecallTest, ANoticeMatchesAsItIsWritten) {
    SmallAgency agency(kToday);
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 5);
    agency.edit([&](Snapshot &s) { s.lots.front().number = "AB-12 345x"; });
    const Snapshot snapshot = agency.build();
    for (const char *number : {"AB-12 345x", "ab12345X", " a b 1 2 3 4 5 x", "AB12", "ab-123"})
        EXPECT_EQ(lotsMatching(snapshot, SmallAgency::kKit500, number), std::vector{lot}) << number;
    for (const char *number : {"", "--", "AB1", "B12345X", "AB12345XY"})
        EXPECT_TRUE(lotsMatching(snapshot, SmallAgency::kKit500, number).empty()) << number;
    EXPECT_TRUE(lotsMatching(snapshot, SmallAgency::kKit1000, "AB12345X").empty());
    EXPECT_EQ(lotsMatching(snapshot, ItemId(), "AB12345X"), std::vector{lot});
}

TEST(OrderNumbersTest, ANumberTypedTooHighIsPassedOverAndNeverGivenTwice) {
    Snapshot agency;
    agency.asOf = kToday;
    const auto next = [&](std::initializer_list<const char *> numbers) {
        std::vector<PurchaseOrder> orders;
        for (const char *number : numbers)
            orders.emplace_back().number = number;
        return nextOrderNumber(agency, orders);
    };
    EXPECT_EQ(next({}), "PO-2026-0001");
    EXPECT_EQ(next({"PO-2026-0041", "PO-2026-9223372036854775807"}), "PO-2026-0042");
    EXPECT_EQ(next({"PO-2026-999999", "PO-2026-1000000"}), "PO-2026-1000001");
}

} // namespace
} // namespace kitround::supply
