#include "core/supply/ExpiryList.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::supply {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

const Date kToday = Date::of(2026, 3, 2);

std::vector<forecast::ItemForecast> forecastsOf(const SnapshotIndex &index) {
    return forecast::forecastAll(index, {}, {}, {}).value();
}
const ExpiryLine &lineOf(const std::vector<ExpiryLine> &lines, LotId lot) {
    const auto found =
        std::ranges::find_if(lines, [&](const ExpiryLine &line) { return line.at.lot == lot; });
    EXPECT_NE(found, lines.end());
    return *found;
}
// Nobody new comes, so that only the homes on record use anything.
SmallAgency agencyWithoutReferrals() {
    SmallAgency agency(kToday);
    agency.edit([](Snapshot &s) { s.settings.set(SettingKey::ReferralsPerWeekHundredths, 0); });
    return agency;
}

TEST(ExpiryListTest, BandsAreTheLeastThatHoldsTheDaysLeft) {
    SmallAgency agency = agencyWithoutReferrals();
    std::vector<std::pair<LotId, int>> expected;
    for (const auto &[days, band] : std::vector<std::pair<int, int>>{
             {-1, 0}, {0, 30}, {30, 30}, {31, 60}, {60, 60}, {61, 90}, {90, 90}, {91, 180}, {180, 180}})
        expected.push_back({agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(days)), band});
    const LotId later = agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(181));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = expiryList(index, forecastsOf(index));
    ASSERT_EQ(lines.size(), expected.size());
    for (const auto &[lot, band] : expected)
        EXPECT_EQ(lineOf(lines, lot).band, band);
    EXPECT_TRUE(std::ranges::none_of(lines, [&](const ExpiryLine &l) { return l.at.lot == later; }));
}

TEST(ExpiryListTest, TheBandsAndTheLifeToReturnAreTheAgencysOwn) {
    SmallAgency agency = agencyWithoutReferrals();
    agency.edit([](Snapshot &s) {
        s.settings.set(SettingKey::ExpiryListDaysFirst, 14);
        s.settings.set(SettingKey::ExpiryListDaysSecond, 45);
        s.settings.set(SettingKey::ExpiryListDaysThird, 45);
        s.settings.set(SettingKey::ExpiryListDaysLast, 100);
        s.settings.set(SettingKey::ReturnLeastLifeDays, 50);
    });
    const LotId soon = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(20));
    const LotId later = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(60));
    const LotId beyond = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(101));
    const Snapshot snapshot = agency.build();
    EXPECT_EQ(expiryBands(snapshot.settings), (std::vector<int>{14, 45, 100})) << "none twice";
    const SnapshotIndex index(snapshot);
    const auto lines = expiryList(index, forecastsOf(index));
    EXPECT_EQ(lineOf(lines, soon).band, 45);
    EXPECT_EQ(lineOf(lines, soon).move, ExpiryMove::KeepToTheEnd);
    EXPECT_EQ(lineOf(lines, later).band, 100);
    EXPECT_EQ(lineOf(lines, later).move, ExpiryMove::ReturnToSupplier);
    EXPECT_TRUE(std::ranges::none_of(lines, [&](const ExpiryLine &l) { return l.at.lot == beyond; }));
}

// Ten eaches that nobody uses are all lost: 10 x 100.00 / 10 a case = 100.00.
TEST(ExpiryListTest, WhatNobodyUsesIsLostAndAskedBackWhileItLasts) {
    SmallAgency agency = agencyWithoutReferrals();
    const LotId past = agency.storeroom(SmallAgency::kKit500, 10, kToday.plusDays(-3));
    const LotId soon = agency.storeroom(SmallAgency::kKit500, 10, kToday.plusDays(40));
    const LotId later = agency.storeroom(SmallAgency::kKit500, 10, kToday.plusDays(120));
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = expiryList(index, forecastsOf(index));
    for (const LotId lot : {past, soon, later}) {
        EXPECT_DOUBLE_EQ(lineOf(lines, lot).expectedWaste, 10);
        EXPECT_DOUBLE_EQ(lineOf(lines, lot).expectedUse, 0);
        EXPECT_EQ(lineOf(lines, lot).wasteValue, Money::of(10000));
    }
    EXPECT_EQ(lineOf(lines, past).move, ExpiryMove::Discard);
    EXPECT_EQ(lineOf(lines, soon).move, ExpiryMove::KeepToTheEnd);
    EXPECT_EQ(lineOf(lines, later).move, ExpiryMove::ReturnToSupplier);
}

// A daily home uses a kit a day. A lot with 100 days left is given out for the 40 days in which 60 remain
// for the home; one with 30 days left is not given out at all unless somebody puts it first.
TEST(ExpiryListTest, AShortDatedLotIsUsedOnlyWhereSomebodyPutsItFirst) {
    SmallAgency agency = agencyWithoutReferrals();
    const Home home = agency.addHome();
    agency.order(home, everyDays(1, kToday)).counted(home, SmallAgency::kKit500, 0, kToday);
    for (int day = 1; day <= 40; ++day)
        agency.drained(home, kToday.plusDays(-day), 400, {{SmallAgency::kKit500, 1, 0}});
    const LotId good = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(100));
    const LotId shortDated = agency.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(30));
    {
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        const auto lines = expiryList(index, forecastsOf(index));
        EXPECT_LT(lineOf(lines, good).expectedWaste, kLeastWaste);
        EXPECT_EQ(lineOf(lines, good).move, ExpiryMove::UseHere);
        EXPECT_DOUBLE_EQ(lineOf(lines, shortDated).expectedWaste, 5);
        EXPECT_EQ(lineOf(lines, shortDated).move, ExpiryMove::PutFirst);
        EXPECT_EQ(lineOf(lines, shortDated).home, home.patient);
        EXPECT_EQ(lineOf(lines, shortDated).homeTakes, Eaches::of(5));
    }
    agency.edit([&](Snapshot &s) {
        for (Lot &lot : s.lots)
            lot.isPickedFirst = lot.id == shortDated;
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = expiryList(index, forecastsOf(index));
    EXPECT_LT(lineOf(lines, shortDated).expectedWaste, kLeastWaste);
    EXPECT_EQ(lineOf(lines, shortDated).move, ExpiryMove::UseHere);
    const PickResult pick = pickFirstExpiring(index, Place::storeroom(), SmallAgency::kKit500, Eaches::of(6),
                                              kToday, Days::of(60));
    ASSERT_EQ(pick.picks.size(), 2U);
    EXPECT_EQ(pick.picks[0], (Pick{shortDated, Eaches::of(5), true})) << "first, and still marked";
    EXPECT_EQ(pick.picks[1], (Pick{good, Eaches::of(1), false}));
}

TEST(ExpiryListTest, NothingIsEverProposedFromOneHomeToAnother) {
    SmallAgency agency = agencyWithoutReferrals();
    const Home full = agency.addHome();
    const Home empty = agency.addHome();
    for (const Home &home : {full, empty})
        agency.order(home, everyDays(1, kToday));
    agency.counted(empty, SmallAgency::kKit500, 0, kToday);
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(20));
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(full.catheter), SmallAgency::kKit500, lot, Eaches::of(100)});
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    for (const ExpiryLine &line : expiryList(index, forecastsOf(index))) {
        if (line.at.place.kind != PlaceKind::Home)
            continue;
        EXPECT_EQ(line.move, ExpiryMove::SendLess);
        EXPECT_FALSE(line.home);
        EXPECT_GT(line.expectedUse, 10) << "it drains every day for three weeks";
        EXPECT_LT(line.expectedUse, 22);
    }
}

// By the lots two times ten stand there, by the ledger eight: the oldest twelve were used.
TEST(ExpiryListTest, AHomesOldestLotsWereUsedWhereTheLedgerHoldsLess) {
    SmallAgency agency = agencyWithoutReferrals();
    const Home home = agency.addHome();
    const LotId first = agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(20));
    const LotId second = agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(40));
    const Place place = Place::home(home.catheter);
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({place, SmallAgency::kKit500, std::nullopt, Eaches::of(-12)});
        s.balances.push_back({place, SmallAgency::kKit500, first, Eaches::of(10)});
        s.balances.push_back({place, SmallAgency::kKit500, second, Eaches::of(10)});
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    std::vector<std::pair<LotId, Eaches>> atHome;
    for (const ExpiryLine &line : expiryList(index, forecastsOf(index)))
        if (line.at.place == place)
            atHome.push_back({line.at.lot, line.at.quantity});
    EXPECT_EQ(atHome, (std::vector<std::pair<LotId, Eaches>>{{second, Eaches::of(8)}}));
}

// Seven of a lot in the car, four of them in a parcel: three are free, and the storeroom would use them.
TEST(ExpiryListTest, ParcelsInTheCarAreNotOnTheList) {
    SmallAgency agency = agencyWithoutReferrals();
    const Home home = agency.addHome();
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 1, kToday.plusDays(170));
    agency.delivery(home, SmallAgency::kKit500, 4, kToday, DeliveryStatus::Picked);
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::car(SmallAgency::kNurse), SmallAgency::kKit500, lot, Eaches::of(7)});
        s.deliveries.back().way = DeliveryWay::WithVisit;
        s.deliveries.back().carriedBy = SmallAgency::kNurse;
        s.deliveries.back().lines.front().lot = lot;
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = expiryList(index, forecastsOf(index));
    const auto car = std::ranges::find_if(
        lines, [](const ExpiryLine &line) { return line.at.place.kind == PlaceKind::Car; });
    ASSERT_NE(car, lines.end());
    EXPECT_EQ(car->at.quantity, Eaches::of(3));
}

} // namespace
} // namespace kitround::supply
