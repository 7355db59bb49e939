#include "core/safety/ExpiredStock.h"

#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::safety {
namespace {

using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// Of three lots: four that were good until yesterday, three until today and five until next month.
struct DatedHome {
    DatedHome()
        : home(agency.addHome()), past(agency.storeroom(kKit, 1, kToday.plusDays(-1))),
          last(agency.storeroom(kKit, 1, kToday)), good(agency.storeroom(kKit, 1, kToday.plusDays(30))) {
        stands(past, 4).stands(last, 3).stands(good, 5);
    }
    DatedHome &stands(std::optional<LotId> lot, std::int64_t eaches) {
        agency.edit([&](Snapshot &s) {
            s.balances.push_back({Place::home(home.catheter), kKit, lot, Eaches::of(eaches)});
        });
        return *this;
    }
    DatedHome &recalled(LotId lot) {
        agency.edit([&](Snapshot &s) {
            for (Lot &l : s.lots)
                if (l.id == lot)
                    l.state = LotState::Recalled;
        });
        return *this;
    }
    std::vector<LotAtHome> dated() const {
        const Snapshot snapshot = agency.build();
        return datedLotsAtHome(SnapshotIndex(snapshot), home.catheter, kKit);
    }
    Eaches expired() const {
        const Snapshot snapshot = agency.build();
        return expiredAtHome(SnapshotIndex(snapshot), home.catheter, kKit);
    }

    SmallAgency agency{kToday};
    Home home;
    LotId past, last, good;
};

TEST(ExpiredStockTest, TheLastDayItselfStillCounts) {
    const DatedHome one;
    EXPECT_EQ(one.expired(), Eaches::of(4));
    EXPECT_EQ(one.dated(), (std::vector<LotAtHome>{{one.past, Eaches::of(4), kToday.plusDays(-1)},
                                                   {one.last, Eaches::of(3), kToday},
                                                   {one.good, Eaches::of(5), kToday.plusDays(30)}}));
}

TEST(ExpiredStockTest, WhatWasUsedWithoutALotWasTheOldest) {
    DatedHome one;
    EXPECT_EQ(one.stands(std::nullopt, -3).expired(), Eaches::of(1));
    EXPECT_EQ(one.stands(std::nullopt, -2).expired(), Eaches{});
    ASSERT_EQ(one.dated().size(), 2U);
    EXPECT_EQ(one.dated()[0].left, Eaches::of(2));
    EXPECT_EQ(one.stands(std::nullopt, -20).expired(), Eaches{}) << "below nought nothing is left";
    EXPECT_TRUE(one.dated().empty());
}

TEST(ExpiredStockTest, WhatCameWithoutALotIsNotTakenForAnOldOne) {
    DatedHome one;
    EXPECT_EQ(one.stands(std::nullopt, 6).expired(), Eaches::of(4));
}

TEST(ExpiredStockTest, ARecalledLotIsTakenOffOnce) {
    DatedHome one;
    EXPECT_EQ(one.recalled(one.past).expired(), Eaches{}) << "RecalledStock has it";
    DatedHome other;
    EXPECT_EQ(other.recalled(other.good).expired(), Eaches::of(4));
}

} // namespace
} // namespace kitround::safety
