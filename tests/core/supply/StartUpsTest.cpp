#include "core/supply/StartUps.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

namespace kitround::supply {
namespace {

using test::asNeeded;
using test::everyDays;
using test::Home;
using test::SmallAgency;

const Date kMonday = Date::of(2026, 3, 2);

std::vector<StartUp> startsOf(const Snapshot &snapshot) {
    const SnapshotIndex index(snapshot);
    return startUps(index, forecast::forecastAll(index, {}, {}, {}).value());
}
// On service since long, with a catheter of two days ago.
Home newHome(SmallAgency &agency) {
    const Home home = agency.addHome();
    agency.edit([](Snapshot &s) { s.catheters.back().insertedOn = kMonday.plusDays(-2); });
    return home;
}
bool hasGap(const StartUp &start, StartUpGap gap) {
    return std::ranges::find(start.gaps, gap) != start.gaps.end();
}

// Every other day from Thursday on: 10 starter days hold the drains of days 1, 3, 5, 7 and 9, five kits.
TEST(StartUpsTest, TheOrdersKitForTheStarterDaysIsThereBeforeTheFirstDrain) {
    SmallAgency agency(kMonday);
    const Home home = newHome(agency);
    const Date first = kMonday.plusDays(3);
    agency.order(home, everyDays(2, first), SmallAgency::kKit500, [&](DrainOrder &o) { o.start = first; });
    const Home known = newHome(agency);
    agency.order(known, everyDays(2, kMonday)).counted(known, SmallAgency::kKit500, 3, kMonday);
    const auto starts = startsOf(agency.build());
    ASSERT_EQ(starts.size(), 1U) << "a home that was counted is not new";
    const StartUp &start = starts.front();
    EXPECT_EQ(start.patient, home.patient);
    EXPECT_EQ(start.firstDrain, first);
    const auto kit = std::ranges::find(start.lines, SmallAgency::kKit500, &StartUpLine::item);
    ASSERT_NE(kit, start.lines.end());
    EXPECT_EQ(kit->quantity, Eaches::of(5));
    EXPECT_EQ(start.deliverOn, kMonday.plusDays(2)) << "Wednesday, the last courier day before";
    EXPECT_EQ(start.way, DeliveryWay::Courier);
    EXPECT_FALSE(start.isLate);
    EXPECT_TRUE(start.gaps.empty());
    const Delivery delivery = deliveryFor(start);
    EXPECT_EQ(delivery.deliverBy, first.plusDays(-1));
    EXPECT_TRUE(
        std::ranges::none_of(delivery.lines, [](const DeliveryLine &l) { return l.quantity.isZero(); }));
}

TEST(StartUpsTest, AVisitOfTheLastDayGoesBeforeTheCourierAndLateIsSaid) {
    SmallAgency agency(kMonday);
    const Home home = newHome(agency);
    agency.order(home, everyDays(1, kMonday.plusDays(2)), SmallAgency::kKit500,
                 [&](DrainOrder &o) { o.start = kMonday.plusDays(2); });
    agency.edit([&](Snapshot &s) {
        Visit visit;
        visit.id = VisitId(7);
        visit.patient = home.patient;
        visit.kind = VisitKind::StartOfCare;
        visit.status = VisitStatus::Published;
        visit.on = kMonday.plusDays(1);
        visit.nurse = SmallAgency::kNurse;
        s.visits.push_back(visit);
    });
    const Home late = newHome(agency);
    agency.order(late, everyDays(1, kMonday));
    const auto starts = startsOf(agency.build());
    ASSERT_EQ(starts.size(), 2U);
    EXPECT_EQ(starts[0].patient, late.patient) << "soonest first drain first";
    EXPECT_TRUE(starts[0].isLate) << "it should drain today";
    EXPECT_EQ(starts[1].visit, VisitId(7));
    EXPECT_EQ(starts[1].way, DeliveryWay::WithVisit);
    EXPECT_EQ(starts[1].deliverOn, kMonday.plusDays(1));
    EXPECT_FALSE(starts[1].isLate);
}

TEST(StartUpsTest, WhatDoesNotFitIsSaidWithWhatWould) {
    SmallAgency agency(kMonday);
    const Home home = newHome(agency);
    agency.order(home, everyDays(2, kMonday.plusDays(3)));
    agency.edit([](Snapshot &s) {
        s.catheters.front().connector = "B";
        for (Item &item : s.items)
            item.connector = item.kind == ItemKind::Kit ? "A" : "";
        Item fits = s.items.front();
        fits.id = ItemId(60);
        fits.code = "KIT-500-B";
        fits.connector = "B";
        s.items.push_back(fits);
    });
    const auto starts = startsOf(agency.build());
    ASSERT_EQ(starts.size(), 1U);
    EXPECT_TRUE(hasGap(starts[0], StartUpGap::BarredItem));
    const auto kit = std::ranges::find(starts[0].lines, SmallAgency::kKit500, &StartUpLine::item);
    ASSERT_TRUE(kit->bar);
    EXPECT_EQ(kit->bar->kind, BarKind::Connector);
    EXPECT_EQ(kit->wouldFit, std::vector<ItemId>{ItemId(60)}) << "same bottle size, other line";
    for (const DeliveryLine &line : deliveryFor(starts[0]).lines)
        EXPECT_NE(line.item, SmallAgency::kKit500);
}

TEST(StartUpsTest, AHomeThatDrainsForMoreThanAWeekIsCountedAndNotSentFirstSupplies) {
    const auto isNew = [](const std::function<void(Snapshot &)> &change) {
        SmallAgency agency(kMonday);
        agency.order(agency.addHome(), everyDays(2, kMonday)).edit(change);
        return !startsOf(agency.build()).empty();
    };
    EXPECT_FALSE(isNew([](Snapshot &) {}));
    EXPECT_FALSE(isNew([](Snapshot &s) { s.catheters[0].insertedOn.reset(); }))
        << "brought in without its day";
    EXPECT_TRUE(isNew([](Snapshot &s) { s.catheters[0].insertedOn = kMonday.plusDays(-7); }));
    EXPECT_TRUE(isNew([](Snapshot &s) { s.drainOrders[0].start = kMonday; })) << "nobody drained before";
    EXPECT_TRUE(isNew([](Snapshot &s) { s.patients[0].startOfCare = kMonday.plusDays(-1); }));
    EXPECT_TRUE(isNew([](Snapshot &s) { s.patients[0].status = CareStatus::Referred; }));
}

TEST(StartUpsTest, WithoutAnOrderOrAMaximumNothingIsGuessed) {
    SmallAgency agency(kMonday);
    const Home unordered = newHome(agency);
    const Home asked = newHome(agency);
    agency.order(asked, asNeeded(std::nullopt));
    const auto starts = startsOf(agency.build());
    ASSERT_EQ(starts.size(), 2U);
    for (const StartUp &start : starts) {
        EXPECT_TRUE(
            hasGap(start, start.patient == unordered.patient ? StartUpGap::NoOrder : StartUpGap::NoMaximum));
        EXPECT_FALSE(start.firstDrain);
        EXPECT_TRUE(deliveryFor(start).lines.empty());
    }
}

} // namespace
} // namespace kitround::supply
