#include "core/safety/RecalledStock.h"

#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::safety {
namespace {

using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

// Five kits counted at 07:00 without a lot and fourteen of a recalled one: 19 by the ledger.
struct RecalledHome {
    RecalledHome() : home(agency.addHome()), lot(agency.storeroom(kKit, 50)) {
        agency.counted(home, kKit, 5, kToday).edit([this](Snapshot &s) {
            s.balances.push_back({Place::home(home.catheter), kKit, lot, Eaches::of(14)});
            for (Lot &l : s.lots)
                if (l.id == lot)
                    l.state = LotState::Recalled;
        });
    }
    void said(RecallAnswer answer, std::int64_t setAside, int hour) {
        agency.edit([&](Snapshot &s) {
            RecallOutcome o;
            o.id = RecallOutcomeId(static_cast<std::int64_t>(s.recallOutcomes.size()) + 1);
            o.lot = lot;
            o.catheter = home.catheter;
            o.at = {kToday, Minutes::of(60 * hour)};
            o.answer = answer;
            o.setAside = Eaches::of(setAside);
            s.recallOutcomes.push_back(o);
        });
    }
    std::vector<RecalledAtHome> found() const {
        const Snapshot snapshot = agency.build();
        return recalledAtHome(SnapshotIndex(snapshot), home.catheter);
    }
    Eaches notUsable() const {
        const Snapshot snapshot = agency.build();
        return notUsableAtHome(SnapshotIndex(snapshot), home.catheter, kKit);
    }

    SmallAgency agency{kToday};
    Home home;
    LotId lot;
};

TEST(RecalledStockTest, AllOfTheLotMayStandThereUntilTheHomeWasReached) {
    RecalledHome one;
    ASSERT_EQ(one.found().size(), 1U);
    EXPECT_EQ(one.found()[0].atMost, Eaches::of(14));
    EXPECT_FALSE(one.found()[0].isSetAside);
    EXPECT_EQ(one.notUsable(), Eaches::of(14));
    one.said(RecallAnswer::NoAnswer, 0, 6);
    one.said(RecallAnswer::MessageLeft, 0, 6);
    one.said(RecallAnswer::Declined, 0, 6);
    EXPECT_EQ(one.notUsable(), Eaches::of(14));
}

TEST(RecalledStockTest, WhatTheHomeSaidStandsAndALaterMessageTakesNothingBack) {
    RecalledHome gone;
    gone.said(RecallAnswer::NoneLeft, 0, 6);
    gone.said(RecallAnswer::NoAnswer, 0, 8);
    EXPECT_TRUE(gone.found().empty());
    EXPECT_EQ(gone.notUsable(), Eaches{});

    RecalledHome aside;
    aside.said(RecallAnswer::SetAside, 6, 8); // after the count: it held them
    ASSERT_EQ(aside.found().size(), 1U);
    EXPECT_TRUE(aside.found()[0].isSetAside);
    EXPECT_EQ(aside.found()[0].atMost, Eaches::of(6));
    EXPECT_EQ(aside.notUsable(), Eaches::of(6));
}

TEST(RecalledStockTest, ACountAfterTheyWereSetAsideIsOfTheOthersAlone) {
    RecalledHome one;
    one.said(RecallAnswer::SetAside, 6, 7); // counted at seven as well
    ASSERT_EQ(one.found().size(), 1U);
    EXPECT_EQ(one.found()[0].atMost, Eaches::of(6));
    EXPECT_EQ(one.notUsable(), Eaches{});
}

TEST(RecalledStockTest, WhatWasSetAsideIsBesideACountUntilOneHasLeftItOut) {
    const auto asideAt = [](const RecalledHome &one, int hour, std::vector<RecallOutcome> told = {}) {
        const Snapshot snapshot = one.agency.build();
        return setAsideUncounted(SnapshotIndex(snapshot), one.home.catheter, kKit,
                                 {kToday, Minutes::of(60 * hour)}, told);
    };
    RecalledHome one; // counted at seven
    EXPECT_EQ(asideAt(one, 9), Eaches{}) << "nobody has set aside anything";
    one.said(RecallAnswer::SetAside, 6, 8);
    EXPECT_EQ(asideAt(one, 7), Eaches{}) << "a count of before held them";
    EXPECT_EQ(asideAt(one, 9), Eaches::of(6));
    RecallOutcome corrected = one.agency.build().recallOutcomes.back();
    corrected.setAside = Eaches::of(4);
    EXPECT_EQ(asideAt(one, 9, {corrected}), Eaches::of(4)) << "what is told now stands";
    corrected.answer = RecallAnswer::NoneLeft;
    EXPECT_EQ(asideAt(one, 9, {corrected}), Eaches{});
    one.said(RecallAnswer::NoAnswer, 0, 9);
    EXPECT_EQ(asideAt(one, 9), Eaches::of(6)) << "a later try takes nothing back";

    RecalledHome counted;
    counted.said(RecallAnswer::SetAside, 6, 7);
    EXPECT_EQ(asideAt(counted, 9), Eaches{}) << "the count of that minute has left them out";
}

TEST(RecalledStockTest, NeverMoreIsTakenOffThanTheLedgerShows) {
    RecalledHome one;
    one.agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(one.home.catheter), kKit, std::nullopt, Eaches::of(-16)});
    });
    EXPECT_LE(one.notUsable(), Eaches::of(3));
    EXPECT_GE(one.notUsable(), Eaches{});
}

} // namespace
} // namespace kitround::safety
