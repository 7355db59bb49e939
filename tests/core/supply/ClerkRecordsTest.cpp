// Rules that rest on what the clerk records: a substitution in force, and a car's par.
#include "core/forecast/HomeForecast.h"
#include "core/supply/CarStock.h"
#include "core/supply/Refills.h"
#include "core/supply/Substitutes.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;
using test::steadyHome;

constexpr Date kMonday = Date::of(2026, 3, 2);

// A home on daily kits of 1000 mL whose order lets two of 500 mL stand in; a record from Monday to the 16th.
struct StandInHome {
    StandInHome() : agency(kMonday), home(agency.addHome()) {
        agency.order(home, test::everyDays(1, kMonday), SmallAgency::kKit1000,
                     [](DrainOrder &o) { o.allowsSubstitute = true; });
        agency.edit([](Snapshot &s) { s.items[1].substitutes = {{SmallAgency::kKit500, Eaches::of(2)}}; });
    }
    void record(int days = 14) {
        Substitution s;
        s.id = SubstitutionId(1);
        s.catheter = home.catheter;
        s.item = SmallAgency::kKit1000;
        s.standIn = SmallAgency::kKit500;
        s.from = kMonday;
        s.revertOn = kMonday.plusDays(days);
        agency.edit([&](Snapshot &snapshot) { snapshot.substitutions = {s}; });
    }
    SmallAgency agency;
    Home home;
};

void courierEarlyInTheWeek(Snapshot &s) {
    constexpr std::int64_t kMondayAndTuesday = 0b110;
    s.settings.set(SettingKey::CourierDays, kMondayAndTuesday);
}

TEST(StandsInTest, OnlyARecordInForceMakesAnotherSizeGoodToGo) {
    StandInHome one;
    const auto state = [&](ItemId item, Date on) {
        const Snapshot snapshot = one.agency.build();
        return standsInFor(SnapshotIndex(snapshot), one.home.catheter, item, on).state;
    };
    EXPECT_EQ(state(SmallAgency::kKit1000, kMonday), SubstitutionState::NotOne) << "it is what is ordered";
    EXPECT_EQ(state(SmallAgency::kDressing, kMonday), SubstitutionState::NotOne)
        << "it stands in for nothing";
    EXPECT_EQ(state(SmallAgency::kKit500, kMonday), SubstitutionState::NotRecorded);
    one.record();
    EXPECT_EQ(state(SmallAgency::kKit500, kMonday), SubstitutionState::Recorded);
    EXPECT_EQ(state(SmallAgency::kKit500, kMonday.plusDays(14)), SubstitutionState::NotRecorded)
        << "from that day the ordered size goes again";
    one.agency.edit([](Snapshot &s) { s.drainOrders.front().allowsSubstitute = false; });
    EXPECT_EQ(state(SmallAgency::kKit500, kMonday), SubstitutionState::OrderForbids);
}

TEST(RefillsTest, ALineThatStandsInSaysWhetherItsRecordIsMissing) {
    StandInHome one;
    one.agency.storeroom(SmallAgency::kKit500, 500); // no kit of 1000 mL
    const auto lines = [&] {
        const Snapshot snapshot = one.agency.build();
        const SnapshotIndex index(snapshot);
        return proposeRefills(index, std::vector{steadyHome(one.home.catheter, one.home.patient,
                                                            SmallAgency::kKit1000, 0, 1)})
            .at(0)
            .lines;
    };
    const auto without = lines();
    ASSERT_EQ(without.size(), 2U);
    EXPECT_EQ(without[1].item, SmallAgency::kKit500);
    EXPECT_TRUE(without[1].needsRecord);
    one.record(90);
    const auto with = lines();
    ASSERT_EQ(with.size(), 1U) << "the whole line is what was taught";
    EXPECT_EQ(with[0].item, SmallAgency::kKit500);
    EXPECT_EQ(with[0].substituteFor, SmallAgency::kKit1000);
    EXPECT_FALSE(with[0].needsRecord);
    EXPECT_EQ(with[0].quantity, without[1].quantity) << "two small ones for each large one either way";
}

// Delivered on Tuesday the 3rd; the courier comes on Mondays and Tuesdays; a kit a day for certain. The
// sessions from Tuesday to Sunday, 6, take small kits; what is ordered goes from Monday on, which no later
// day could bring.
TEST(RefillsTest, WhatStandsInIsSentOnlyForTheDrainsBeforeItGoesBack) {
    StandInHome one;
    one.agency.edit([](Snapshot &s) { s.settings.set(SettingKey::BufferSessions, 0); });
    one.agency.edit(courierEarlyInTheWeek);
    one.agency.storeroom(SmallAgency::kKit500, 500);
    one.agency.storeroom(SmallAgency::kKit1000, 500);
    const auto lines = [&](int stock) {
        const Snapshot snapshot = one.agency.build();
        const SnapshotIndex index(snapshot);
        return proposeRefills(index, std::vector{steadyHome(one.home.catheter, one.home.patient,
                                                            SmallAgency::kKit1000, stock, 1)})
            .at(0)
            .lines;
    };
    const auto whole = lines(0);
    ASSERT_EQ(whole.size(), 1U);
    one.record(7);
    const auto parted = lines(0);
    ASSERT_EQ(parted.size(), 2U);
    EXPECT_EQ(parted[0].item, SmallAgency::kKit500);
    EXPECT_EQ(parted[0].onlyUntil, kMonday.plusDays(7));
    EXPECT_EQ(parted[0].quantity, Eaches::of(2 * 6));
    EXPECT_EQ(parted[1].item, SmallAgency::kKit1000);
    EXPECT_EQ(parted[1].onlyFrom, kMonday.plusDays(7));
    EXPECT_FALSE(parted[1].substituteFor);
    EXPECT_EQ(parted[1].quantity, whole[0].quantity - Eaches::of(6)) << "together as many drains as before";
    one.record(8); // the courier of the 9th brings it in time
    const auto first = lines(0);
    ASSERT_EQ(first.size(), 1U) << "what is ordered waits for the later parcel";
    EXPECT_EQ(first[0].item, SmallAgency::kKit500);
    EXPECT_EQ(first[0].quantity, Eaches::of(2 * 7));
    one.record(13); // goes back on Sunday the 15th; the payer allows Saturday, when no courier comes
    one.agency.edit([](Snapshot &s) {
        s.payers.front().refillRuleApplies = true;
        s.payers.front().deliverAtMostBefore = Days::of(1);
    });
    const auto bound = lines(0);
    ASSERT_EQ(bound.size(), 2U) << "no later parcel may bring what is ordered in time";
    EXPECT_EQ(bound[1].onlyFrom, kMonday.plusDays(13));
}

TEST(RefillsTest, WhatStandsInGoesInWholeDrains) {
    StandInHome one;
    one.agency.storeroom(SmallAgency::kKit500, 5);
    one.record(90);
    const Snapshot snapshot = one.agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = proposeRefills(index, std::vector{steadyHome(one.home.catheter, one.home.patient,
                                                                    SmallAgency::kKit1000, 0, 1)})
                           .at(0)
                           .lines;
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(lines[0].quantity, Eaches::of(4)) << "two are used a drain";
    EXPECT_EQ(lines[0].limitedBy, RefillLimit::StoreroomShort);
}

TEST(RefillsTest, WhereNothingIsLeftOfWhatStandsInTheOrderedSizeGoes) {
    StandInHome one;
    one.record(90);
    const auto lines = [&] {
        const Snapshot snapshot = one.agency.build();
        const SnapshotIndex index(snapshot);
        return proposeRefills(index, std::vector{steadyHome(one.home.catheter, one.home.patient,
                                                            SmallAgency::kKit1000, 0, 1)})
            .at(0)
            .lines;
    };
    const auto nothing = lines();
    ASSERT_EQ(nothing.size(), 1U);
    EXPECT_EQ(nothing[0].item, SmallAgency::kKit500) << "neither is there: what was taught is what is short";
    EXPECT_EQ(nothing[0].quantity, Eaches{});
    one.agency.storeroom(SmallAgency::kKit1000, 12);
    const auto ordered = lines();
    ASSERT_EQ(ordered.size(), 1U);
    EXPECT_EQ(ordered[0].item, SmallAgency::kKit1000);
    EXPECT_FALSE(ordered[0].substituteFor);
    EXPECT_EQ(ordered[0].quantity, Eaches::of(12));
    EXPECT_EQ(ordered[0].limitedBy, RefillLimit::StoreroomShort);
    one.agency.edit([&](Snapshot &s) {
        s.items[1].contains = {Material::Latex};
        s.patients.front().allergies = {Material::Latex};
    });
    EXPECT_TRUE(lines().empty()) << "an empty shelf overrides no allergy";
}

TEST(RefillsTest, ARecordedStandInThatMayNotGoAnyMoreIsNotSent) {
    StandInHome one;
    one.agency.storeroom(SmallAgency::kKit500, 500);
    one.agency.storeroom(SmallAgency::kKit1000, 500);
    one.record(90);
    const auto item = [&] {
        const Snapshot snapshot = one.agency.build();
        const SnapshotIndex index(snapshot);
        return proposeRefills(index, std::vector{steadyHome(one.home.catheter, one.home.patient,
                                                            SmallAgency::kKit1000, 0, 1)})
            .at(0)
            .lines.at(0)
            .item;
    };
    EXPECT_EQ(item(), SmallAgency::kKit500);
    one.agency.edit([](Snapshot &s) { s.drainOrders.front().allowsSubstitute = false; });
    EXPECT_EQ(item(), SmallAgency::kKit1000) << "the order allows none any more";
    one.agency.edit([](Snapshot &s) {
        s.drainOrders.front().allowsSubstitute = true;
        s.items[0].contains = {Material::Latex};
        s.patients.front().allergies = {Material::Latex};
    });
    EXPECT_EQ(item(), SmallAgency::kKit1000) << "an allergy came to light";
}

TEST(RefillsTest, NothingStandsInForWhatIsMeantForTheTimeAfter) {
    StandInHome one;
    one.agency.storeroom(SmallAgency::kKit500, 500); // no kit of 1000 mL
    one.agency.edit(courierEarlyInTheWeek);
    one.record(7);
    const Snapshot snapshot = one.agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = proposeRefills(index, std::vector{steadyHome(one.home.catheter, one.home.patient,
                                                                    SmallAgency::kKit1000, 0, 1)})
                           .at(0)
                           .lines;
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_EQ(lines[1].item, SmallAgency::kKit1000);
    EXPECT_EQ(lines[1].quantity, Eaches{});
    EXPECT_EQ(lines[1].limitedBy, RefillLimit::StoreroomShort);
}

TEST(ForecastTest, WhatStandsInAtHomeLastsAsLongAsWhatItStandsFor) {
    StandInHome one;
    one.agency.counted(one.home, SmallAgency::kKit1000, 3, kMonday)
        .counted(one.home, SmallAgency::kKit500, 9, kMonday);
    const auto onHand = [&] {
        const Snapshot snapshot = one.agency.build();
        const SnapshotIndex index(snapshot);
        const auto homes = forecast::forecastAll(index, {}, {}, {});
        for (const forecast::ItemForecast &f : *homes)
            if (f.item == SmallAgency::kKit1000)
                return f.onHand;
        return Eaches::of(-1);
    };
    EXPECT_EQ(onHand(), Eaches::of(3)) << "without a record small kits are not counted on";
    one.record();
    EXPECT_EQ(onHand(), Eaches::of(3 + 4)) << "nine small ones make four sessions";
}

TEST(CarStockTest, WhatIsLooseOfALotAndOfStockWithoutOneAreCountedApart) {
    SmallAgency agency(kMonday);
    const Home home = agency.addHome();
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 5, kMonday.plusDays(200));
    const Place car = Place::car(SmallAgency::kNurse);
    Delivery packed;
    packed.id = DeliveryId(77);
    packed.patient = home.patient;
    packed.status = DeliveryStatus::Picked;
    packed.way = DeliveryWay::WithVisit;
    packed.carriedBy = SmallAgency::kNurse;
    packed.promisedFor = kMonday;
    packed.lines = {{home.catheter, SmallAgency::kKit500, lot, Eaches::of(1)},
                    {home.catheter, SmallAgency::kKit500, std::nullopt, Eaches::of(2)}};
    agency.edit([&](Snapshot &s) {
        s.deliveries.push_back(packed);
        s.balances.push_back({car, SmallAgency::kKit500, lot, Eaches::of(3)});
        s.balances.push_back({car, SmallAgency::kKit500, std::nullopt, Eaches::of(6)});
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(looseInCar(index, SmallAgency::kNurse, SmallAgency::kKit500, lot), Eaches::of(2));
    EXPECT_EQ(looseInCar(index, SmallAgency::kNurse, SmallAgency::kKit500, std::nullopt), Eaches::of(4));
    EXPECT_EQ(packedInCar(index, SmallAgency::kNurse, SmallAgency::kKit500), Eaches::of(3)) << "of all lots";
}

TEST(CarStockTest, ACarIsBroughtToParFromLongDatedFreeStockAndShortDatedGoesBack) {
    SmallAgency agency(kMonday);
    const LotId good = agency.storeroom(SmallAgency::kKit500, 5, kMonday.plusDays(200));
    const LotId old = agency.storeroom(SmallAgency::kKit500, 50, kMonday.plusDays(20));
    const auto inCar = [&](LotId lot, std::int64_t eaches) {
        agency.edit([&](Snapshot &s) {
            s.balances.push_back(
                {Place::car(SmallAgency::kNurse), SmallAgency::kKit500, lot, Eaches::of(eaches)});
        });
    };
    inCar(good, 3);
    inCar(old, 2);
    CarPar par;
    par.id = CarParId(1);
    par.nurse = SmallAgency::kNurse;
    par.item = SmallAgency::kKit500;
    par.par = Eaches::of(9);
    agency.edit([&](Snapshot &s) { s.carPars = {par}; });
    // One of the good lot is packed for a home: there, but not the car's own.
    const Home home = agency.addHome();
    Delivery packed;
    packed.id = DeliveryId(77);
    packed.patient = home.patient;
    packed.status = DeliveryStatus::Picked;
    packed.way = DeliveryWay::WithVisit;
    packed.carriedBy = SmallAgency::kNurse;
    packed.promisedFor = kMonday;
    packed.lines = {{home.catheter, SmallAgency::kKit500, good, Eaches::of(1)}};
    agency.edit([&](Snapshot &s) { s.deliveries.push_back(packed); });

    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto lines = carLines(index);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_EQ(lines[0].inCar, Eaches::of(3 + 2 - 1));
    EXPECT_EQ(lines[0].packed, Eaches::of(1));
    EXPECT_EQ(lines[0].shortDated, Eaches::of(2));
    EXPECT_EQ(lines[0].lacking(), Eaches::of(9 - 2)) << "two of the good lot are free";
    const CarPlan plan = planToPar(index, SmallAgency::kNurse);
    ASSERT_EQ(plan.back.size(), 1U);
    EXPECT_EQ(plan.back[0].lot, old);
    EXPECT_EQ(plan.back[0].quantity, Eaches::of(2));
    ASSERT_EQ(plan.in.size(), 1U) << "nothing short-dated comes in";
    EXPECT_EQ(plan.in[0].lot, good);
    EXPECT_EQ(plan.in[0].quantity, Eaches::of(5));
    ASSERT_EQ(plan.shortOf.size(), 1U);
    EXPECT_EQ(plan.shortOf[0].needed, Eaches::of(7));
    EXPECT_EQ(plan.shortOf[0].given, Eaches::of(5));
}

} // namespace
} // namespace kitround::supply
