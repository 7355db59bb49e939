#include "core/safety/Cautions.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::safety {
namespace {

using test::Home;
using test::SmallAgency;
using Evidence = std::vector<std::string>;

const Date kToday = Date::of(2026, 3, 2);

std::vector<CallItem> cautions(const SmallAgency &agency) {
    const Snapshot snapshot = agency.build();
    return standingCautions(SnapshotIndex(snapshot));
}
bool raises(const SmallAgency &agency, CautionKind kind) {
    const auto items = cautions(agency);
    return std::ranges::find(items, kind, &CallItem::kind) != items.end();
}
SmallAgency draining(int everyDays, int daysSinceLast) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    const Date last = kToday.plusDays(-daysSinceLast);
    agency.order(home, test::everyDays(everyDays, last)).drained(home, last, 400);
    return agency;
}
const Home kFirst{PatientId(1), CatheterId(1)}; // of an agency with one home

TEST(SilenceTest, BeginsTheDayAfterTheGapAndTheAllowance) {
    // Every 2 days and 2 days beyond: 4 days may pass.
    EXPECT_TRUE(cautions(draining(2, 4)).empty());
    const auto items = cautions(draining(2, 5));
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].kind, CautionKind::Silence);
    EXPECT_EQ(items[0].evidence, (Evidence{"2026-02-25", "5", "4"}));
    EXPECT_EQ(items[0].subject, "silence:1:2026-02-25");
    EXPECT_EQ(items[0].raisedAt.date, kToday);
}

TEST(SilenceTest, AKnownMissedDrainIsALogEntry) {
    SmallAgency agency = draining(2, 5);
    agency.notDone(kFirst, kToday.plusDays(-1));
    EXPECT_TRUE(cautions(agency).empty());
}

TEST(SilenceTest, NobodyOnHoldIsSilentNorJustAfterIt) {
    SmallAgency away = draining(1, 20);
    away.hold(kFirst, kToday.plusDays(-19), std::nullopt);
    EXPECT_TRUE(cautions(away).empty());
    SmallAgency back = draining(1, 20); // home since two days: the first drain was due then
    back.hold(kFirst, kToday.plusDays(-19), kToday.plusDays(-2));
    EXPECT_TRUE(cautions(back).empty());
    SmallAgency backLonger = draining(1, 20);
    backLonger.hold(kFirst, kToday.plusDays(-19), kToday.plusDays(-3));
    EXPECT_TRUE(raises(backLonger, CautionKind::Silence));
}

TEST(SilenceTest, StopsWithExitAndRemoval) {
    SmallAgency left = draining(1, 20);
    left.edit([](Snapshot &s) { s.patients[0].status = CareStatus::Deceased; });
    EXPECT_TRUE(cautions(left).empty());
    SmallAgency removed = draining(1, 20);
    removed.edit([](Snapshot &s) { s.catheters[0].removedAt = Instant::fromUnixSeconds(0); });
    EXPECT_TRUE(cautions(removed).empty());
}

TEST(SilenceTest, IsNotHeardBeforeTheFirstDrainIsDue) {
    const auto started = [](int daysAgo) {
        SmallAgency agency(kToday);
        const Home home = agency.addHome();
        agency.order(home, test::everyDays(3, kToday.plusDays(1 - daysAgo)), SmallAgency::kKit500,
                     [&](DrainOrder &o) { o.start = kToday.plusDays(-daysAgo); });
        return agency;
    };
    // Started 3 days ago, first drain the day after that: 2 days ago, and 2 more may pass.
    EXPECT_TRUE(cautions(started(3)).empty());
    const auto items = cautions(started(4));
    ASSERT_EQ(items.size(), 1U);
    EXPECT_EQ(items[0].evidence, (Evidence{"", "3", "2"}));
    EXPECT_EQ(items[0].subject, "silence:1:none");
}

TEST(SilenceTest, ANewOrderGivesItsOwnTime) {
    // Weekly until today, daily from today: six quiet days are no silence.
    SmallAgency agency = draining(7, 6);
    agency.order(kFirst, test::everyDays(1, kToday), SmallAgency::kKit500,
                 [](DrainOrder &o) { o.start = kToday; });
    EXPECT_TRUE(cautions(agency).empty());
}

TEST(SilenceTest, AsNeededOrdersAreNeverSilent) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, test::asNeeded(1, 3)).drained(home, kToday.plusDays(-50), 400);
    EXPECT_TRUE(cautions(agency).empty());
}

TEST(OrdersTest, WithoutAMaximumAreCalledAbout) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.order(home, test::asNeeded(std::nullopt), SmallAgency::kKit500,
                 [](DrainOrder &o) { o.mostPerSession.reset(); });
    const auto items = cautions(agency);
    ASSERT_EQ(items.size(), 2U);
    EXPECT_EQ(items[0].kind, CautionKind::NoMaximumOnOrder);
    EXPECT_EQ(items[0].evidence[0], "as-needed");
    EXPECT_EQ(items[0].subject, "no-as-needed-max:1");
    EXPECT_EQ(items[1].evidence[0], "session");
    EXPECT_EQ(items[1].subject, "no-max:1");
}

TEST(OrdersTest, ACatheterWithoutOneIsCalledAboutUnlessOneIsToCome) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    const auto none = cautions(agency);
    ASSERT_EQ(none.size(), 1U);
    EXPECT_EQ(none[0].kind, CautionKind::NoOrder);
    EXPECT_EQ(none[0].subject, "no-order:1:none");
    agency.order(home, test::everyDays(1, kToday), SmallAgency::kKit500,
                 [](DrainOrder &o) { o.end = kToday; });
    const auto ended = cautions(agency); // first day no longer in force is today
    ASSERT_EQ(ended.size(), 1U);
    EXPECT_EQ(ended[0].evidence, (Evidence{"2026-03-01"}));
    EXPECT_EQ(ended[0].subject, "no-order:1:2026-03-01");
    agency.order(home, test::everyDays(1, kToday), SmallAgency::kKit500,
                 [](DrainOrder &o) { o.start = kToday.plusDays(2); });
    EXPECT_TRUE(cautions(agency).empty());
}

TEST(RecallTest, ReachesHomesAlsoOfThoseWhoLeft) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome(), left = agency.addHome();
    for (const Home &h : {home, left})
        agency.order(h, test::asNeeded(1));
    const LotId lot = agency.storeroom(SmallAgency::kKit500, 50);
    agency.edit([&](Snapshot &s) {
        s.patients[1].status = CareStatus::Discharged;
        for (const Home &h : {home, left})
            s.balances.push_back({Place::home(h.catheter), SmallAgency::kKit500, lot, Eaches::of(6)});
    });
    EXPECT_TRUE(cautions(agency).empty()); // not recalled yet
    agency.edit([&](Snapshot &s) {
        for (Lot &l : s.lots)
            if (l.id == lot) {
                l.state = LotState::Recalled;
                l.stateReason = "seal";
            }
    });
    const auto items = cautions(agency);
    ASSERT_EQ(items.size(), 2U);
    for (const CallItem &item : items) {
        EXPECT_EQ(item.kind, CautionKind::RecalledLotAtHome);
        ASSERT_EQ(item.evidence.size(), 4U);
        EXPECT_EQ(item.evidence[2], "6");
        EXPECT_EQ(item.evidence[3], "seal");
    }
    EXPECT_EQ(items[0].patient, home.patient);
    EXPECT_EQ(items[1].patient, left.patient);
}

TEST(StandingCautionsTest, WhatIsOpenOrWasClosedIsNotRaisedAgain) {
    for (const CallItemStatus status : {CallItemStatus::Open, CallItemStatus::Closed}) {
        SmallAgency agency = draining(2, 9);
        auto items = cautions(agency);
        ASSERT_EQ(items.size(), 1U);
        items[0].status = status;
        agency.edit([&](Snapshot &s) { s.callItems = items; });
        EXPECT_TRUE(cautions(agency).empty());
        agency.drained(kFirst, kToday.plusDays(-7), 300); // a later entry and silence again: a new subject
        EXPECT_EQ(cautions(agency).size(), 1U);
    }
}

TEST(StandingCautionsTest, ComeByUrgencyThenPatient) {
    SmallAgency agency(kToday);
    const Home silent = agency.addHome(), noOrder = agency.addHome(), alsoSilent = agency.addHome();
    agency.order(silent, test::everyDays(1, kToday)).order(alsoSilent, test::everyDays(1, kToday));
    const auto items = cautions(agency);
    ASSERT_EQ(items.size(), 3U);
    EXPECT_EQ(items[0].patient, noOrder.patient); // today before soon
    EXPECT_EQ(items[1].patient, silent.patient);
    EXPECT_EQ(items[2].patient, alsoSilent.patient);
}

} // namespace
} // namespace kitround::safety
