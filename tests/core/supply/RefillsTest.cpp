#include "core/supply/Refills.h"
#include "core/base/Random.h"
#include "core/supply/DeliveryDays.h"
#include "core/supply/RefillNeeds.h"
#include "core/supply/StoreroomShare.h"
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

// 30 days held, no buffer, one set a session: plain arithmetic.
void plainSettings(Snapshot &s) {
    s.settings.set(SettingKey::BufferSessions, 0);
}

struct OneHome {
    explicit OneHome(Date today = kMonday) : agency(today) {
        home = agency.addHome();
        agency.edit(plainSettings).storeroom(kKit, 1000);
    }
    SmallAgency agency;
    Home home;

    std::vector<RefillProposal> propose(const std::vector<forecast::ItemForecast> &forecasts) {
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        return proposeRefills(index, forecasts);
    }
    forecast::ItemForecast steady(std::int64_t onHand, int everyDays, double chance = 1.0) const {
        return steadyHome(home.catheter, home.patient, kKit, onHand, everyDays, chance);
    }
};

// Federal refill rule since 2024-01-01 (88 FR 77676): need confirmed within 30 days before, delivery not
// earlier than 10 days before the supply ends. 14 sets every other day from 2 March: last covered drain 28
// March, supply ends 29 March; contact from 27 February, delivery from 19 March.
TEST(RefillsTest, ContactAndDeliveryDatesFollowThePayersRule) {
    OneHome one;
    const auto proposals = one.propose({one.steady(14, 2)});
    ASSERT_EQ(proposals.size(), 1U);
    const RefillProposal &p = proposals[0];
    EXPECT_EQ(p.supplyEnds, Date::of(2026, 3, 29));
    EXPECT_EQ(p.callFrom, Date::of(2026, 2, 27));
    EXPECT_EQ(p.deliverFrom, Date::of(2026, 3, 19));
    EXPECT_EQ(p.deliverBy, Date::of(2026, 3, 30)); // the drain of the 30th is the first uncovered
    EXPECT_EQ(p.deliverOn, Date::of(2026, 3, 30)); // a Monday
    EXPECT_EQ(p.callBy, Date::of(2026, 3, 27));    // handed to the courier on Friday
    EXPECT_EQ(p.urgency, RefillUrgency::Later);
    ASSERT_EQ(p.lines.size(), 1U);
    EXPECT_EQ(p.lines[0].quantity, Eaches::of(15));
    EXPECT_EQ(p.lines[0].daysCovered, 30);
    EXPECT_EQ(p.lines[0].chanceDryBefore, 0);
    EXPECT_EQ(p.lines[0].chanceDryIfNot, 1); // the next courier comes on the 31st
}

// The payer allows a Thursday on which the agency is closed. Of an empty home the payer asks
// nothing: what the courier can do from now on decides, and after his cut-off that is a day later.
TEST(RefillsTest, TheFirstDayIsTheLaterOfThePayersAndTheCouriers) {
    OneHome one;
    const auto plain = one.propose({one.steady(14, 2)});
    ASSERT_EQ(plain.size(), 1U);
    ASSERT_TRUE(plain[0].first);
    EXPECT_EQ(plain[0].first->on, plain[0].deliverFrom) << "a Thursday: both";
    one.agency.edit([](Snapshot &s) { s.settings.ownHolidays = {Date::of(2026, 3, 19)}; });
    const auto closed = one.propose({one.steady(14, 2)});
    ASSERT_EQ(closed.size(), 1U);
    EXPECT_EQ(closed[0].deliverFrom, Date::of(2026, 3, 19));
    ASSERT_TRUE(closed[0].first);
    EXPECT_EQ(closed[0].first->on, Date::of(2026, 3, 20));
    EXPECT_EQ(closed[0].first->way, DeliveryWay::Courier);
    const auto dry = one.propose({one.steady(0, 1)});
    ASSERT_EQ(dry.size(), 1U);
    ASSERT_TRUE(dry[0].first);
    EXPECT_EQ(dry[0].deliverFrom, kMonday);
    EXPECT_EQ(dry[0].first->on, Date::of(2026, 3, 3));
    one.agency.edit([](Snapshot &s) { s.now.minute = Minutes::of(15 * 60); });
    const auto late = one.propose({one.steady(0, 1)});
    ASSERT_EQ(late.size(), 1U);
    ASSERT_TRUE(late[0].first);
    EXPECT_EQ(late[0].first->on, Date::of(2026, 3, 4)) << "after the cut-off";
}

// From the delivery of 30 March to the one of 20 April eleven sets, to the last of them 22 days. A cycle
// longer than the payer lets a home hold is not aimed at.
TEST(RefillsTest, ADeliveryAimsAtTheAgencysUsualDaysAndNeverBeyondThePayers) {
    OneHome one;
    one.agency.edit([](Snapshot &s) { s.settings.set(SettingKey::RefillCycleDays, 21); });
    const auto three = one.propose({one.steady(14, 2)});
    ASSERT_EQ(three.size(), 1U);
    EXPECT_EQ(three[0].deliverOn, Date::of(2026, 3, 30));
    ASSERT_EQ(three[0].lines.size(), 1U);
    EXPECT_EQ(three[0].lines[0].quantity, Eaches::of(11));
    EXPECT_EQ(three[0].lines[0].daysCovered, 22);
    one.agency.edit([](Snapshot &s) { s.settings.set(SettingKey::RefillCycleDays, 60); });
    const auto longer = one.propose({one.steady(14, 2)});
    ASSERT_EQ(longer.size(), 1U);
    EXPECT_EQ(longer[0].lines.at(0).quantity, Eaches::of(15));
}

TEST(RefillsTest, WithUncertainUseTheDeliveryComesWhileTheTargetStillHolds) {
    OneHome one;
    const double target = 0.03; // SmallAgency's setting
    const auto forecast = one.steady(10, 1, 0.8);
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    const RefillProposal &p = proposals[0];
    const auto use = [&](std::int64_t days) {
        return forecast.cumulated[static_cast<std::size_t>(days - 1)].above(10);
    };
    const std::int64_t by = (p.deliverBy - kMonday).count();
    EXPECT_LE(use(by), target);
    EXPECT_GT(use(by + 1), target);
    EXPECT_LE(p.deliverOn, p.deliverBy);
    EXPECT_LE(p.lines.at(0).chanceDryBefore, target);
}

TEST(RefillsTest, ADryHomeIsOverdueAndIsServedByTheNextCourier) {
    OneHome one;
    const auto proposals = one.propose({one.steady(0, 1)});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].urgency, RefillUrgency::Overdue);
    EXPECT_EQ(proposals[0].deliverOn, Date::of(2026, 3, 3));
    EXPECT_EQ(proposals[0].callBy, kMonday);
}

TEST(RefillsTest, AnEmptyHomeHasUsedUpItsSupplyWhateverThePlainRuleSays) {
    OneHome one;
    // A further bottle every 20 days by the plain rule: its ten days before are still to come.
    auto forecast = one.steady(0, 1, 0.4);
    for (std::size_t d = 0; d < forecast.plain.cumulated.size(); ++d)
        forecast.plain.cumulated[d] = static_cast<std::int32_t>((d + 1) / 20);
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].deliverFrom, kMonday);
    EXPECT_EQ(proposals[0].deliverOn, Date::of(2026, 3, 3));
    EXPECT_EQ(proposals[0].urgency, RefillUrgency::Overdue);

    // One every 60 days: the window of contact, 30 days before, would open long after the delivery.
    for (std::size_t d = 0; d < forecast.plain.cumulated.size(); ++d)
        forecast.plain.cumulated[d] = static_cast<std::int32_t>((d + 1) / 60);
    const auto rare = one.propose({forecast});
    ASSERT_EQ(rare.size(), 1U);
    EXPECT_EQ(rare[0].urgency, RefillUrgency::Overdue);
    EXPECT_EQ(rare[0].callFrom, kMonday);
    EXPECT_EQ(rare[0].callBy, kMonday);
    EXPECT_EQ(rare[0].deliverOn, Date::of(2026, 3, 3));
}

TEST(RefillsTest, ADayThatWouldBeAskedAboutBeforeThePayersFirstContactIsNotProposed) {
    OneHome one;
    one.agency.edit([](Snapshot &s) { s.payers.front().contactAtMostBefore = Days::of(0); });
    const auto proposals = one.propose({one.steady(14, 2)}); // ends on Sunday 29 March, needed by the 30th
    ASSERT_EQ(proposals.size(), 1U);
    const RefillProposal &p = proposals[0];
    EXPECT_EQ(p.callFrom, Date::of(2026, 3, 29));
    EXPECT_EQ(p.deliverOn, Date::of(2026, 3, 31)); // handed over on Monday; for Monday it would be Friday
    EXPECT_EQ(p.callBy, Date::of(2026, 3, 30));
    EXPECT_TRUE(p.payerRuleBinds);
}

// An agency of one home drawn at random: its payer's windows, courier, stock and use.
RefillProposal drawnProposal(std::uint64_t seed, OneHome &one, bool &isProposed) {
    Random random(seed);
    const auto days = [&](std::uint64_t most) {
        return Days::of(static_cast<std::int64_t>(random.below(most + 1)));
    };
    one.agency.edit([&](Snapshot &s) {
        Payer &payer = s.payers.front();
        payer.refillRuleApplies = random.below(5) != 0;
        payer.contactAtMostBefore = days(40);
        payer.deliverAtMostBefore = days(20);
        s.settings.set(SettingKey::CourierLeadDays, 1 + static_cast<std::int64_t>(random.below(5)));
        s.patients.front().allowsCourier = random.below(4) != 0;
        for (std::int64_t i = 1; i <= 3; ++i) {
            Visit visit;
            visit.id = VisitId(i);
            visit.patient = one.home.patient;
            visit.status = VisitStatus::Published;
            visit.on = kMonday + days(40);
            s.visits.push_back(visit);
        }
    });
    auto forecast = one.steady(static_cast<std::int64_t>(random.below(25)),
                               1 + static_cast<int>(random.below(4)), random.below(2) == 0 ? 1.0 : 0.6);
    if (random.below(3) == 0) // the plain rule knows of far less use
        for (std::int32_t &use : forecast.plain.cumulated)
            use /= 1 + static_cast<std::int32_t>(random.below(6));
    std::ranges::sort(forecast.plain.cumulated);
    if (random.below(4) == 0)
        forecast.recalled = forecast.onHand;
    const auto proposals = one.propose({forecast});
    isProposed = !proposals.empty() && !proposals.front().lines.empty();
    return isProposed ? proposals.front() : RefillProposal{};
}

TEST(RefillsTest, NobodyIsCalledAfterTheDeliveryNorBeforeThePayersDay) {
    int proposed = 0, overdue = 0, bound = 0;
    for (std::uint64_t seed = 1; seed <= 400; ++seed) {
        OneHome one;
        bool isProposed = false;
        const RefillProposal p = drawnProposal(seed, one, isProposed);
        if (!isProposed)
            continue;
        ++proposed;
        overdue += p.urgency == RefillUrgency::Overdue ? 1 : 0;
        bound += p.payerRuleBinds ? 1 : 0;
        EXPECT_LE(p.callFrom, p.callBy) << seed;
        EXPECT_GE(p.callBy, kMonday) << seed;
        EXPECT_LE(p.callBy, p.deliverOn) << seed;
        EXPECT_LE(p.deliverFrom, p.deliverOn) << seed;
        if (p.hasNoWay)
            continue;
        const Snapshot snapshot = one.agency.build();
        const SnapshotIndex index(snapshot);
        const CourierCalendar courier(snapshot.settings, snapshot.now, Days::of(84));
        const auto days = deliveryDays(index, snapshot.patients.front(), courier, p.deliverOn);
        const auto day = std::ranges::find_if(
            days, [&](const DeliveryDay &d) { return d.on == p.deliverOn && d.way == p.way; });
        ASSERT_NE(day, days.end()) << seed;
        EXPECT_LE(p.callBy, day->callBy) << seed;
    }
    EXPECT_GT(proposed, 200);
    EXPECT_GT(overdue, 10);
    EXPECT_GT(bound, 10);
}

// A parcel that is on its way arrives before anything sent now could: what may happen until then is past
// helping, and no second parcel is due.
TEST(RefillsTest, WhatAParcelOnItsWayCannotPreventIsNoReasonForAnother) {
    OneHome one;
    auto forecast = one.steady(0, 1);
    for (std::size_t d = 0; d < forecast.cumulated.size(); ++d) {
        forecast::DayUse day;
        day.chanceDry = 1; // today's drain, before the parcel comes
        forecast.days.push_back(day);
    }
    forecast.inTransit = Eaches::of(100);
    EXPECT_TRUE(one.propose({forecast}).empty());
    forecast.inTransit = Eaches::of(10); // the eleventh drain, ten days on, is not covered
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].deliverBy, kMonday.plusDays(10));
    forecast.inTransit = Eaches::of(3); // does not last to a week after the first courier
    ASSERT_EQ(one.propose({forecast}).size(), 1U);
    EXPECT_EQ(one.propose({forecast})[0].urgency, RefillUrgency::Overdue);
}

TEST(RefillsTest, AnAsNeededHomeIsNotSentMoreThanNineMonthsOfTenUse) {
    OneHome one;
    auto forecast = one.steady(0, 1, 0.2);
    forecast.plain.cumulated.clear();
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    ASSERT_EQ(proposals[0].lines.size(), 1U);
    const std::size_t held = 1 + 30; // the delivery comes tomorrow, 30 days may be held
    std::int64_t p90 = 0;
    while (forecast.cumulated[held - 1].above(p90) > 0.1)
        ++p90;
    EXPECT_EQ(proposals[0].lines[0].quantity, Eaches::of(p90));
    EXPECT_TRUE(proposals[0].lines[0].coversByMean);
    EXPECT_EQ(proposals[0].lines[0].limitedBy, RefillLimit::DaysHeld);
}

TEST(RefillsTest, APlannedVisitCarriesTheDeliveryInsteadOfACourier) {
    OneHome one;
    Visit visit;
    visit.id = VisitId(1);
    visit.patient = one.home.patient;
    visit.status = VisitStatus::Published;
    visit.on = Date::of(2026, 3, 26);
    one.agency.edit([&](Snapshot &s) { s.visits = {visit}; });
    const auto proposals = one.propose({one.steady(14, 2)});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].deliverOn, Date::of(2026, 3, 26));
    EXPECT_EQ(proposals[0].withVisit, VisitId(1));
    EXPECT_EQ(proposals[0].callBy, Date::of(2026, 3, 25));
    // A visit before the payer's first day of delivery carries nothing.
    visit.on = Date::of(2026, 3, 18);
    one.agency.edit([&](Snapshot &s) { s.visits = {visit}; });
    EXPECT_EQ(one.propose({one.steady(14, 2)}).at(0).way, DeliveryWay::Courier);
}

TEST(RefillsTest, NobodyOnHoldOrGoneIsProposedAndPromisedGoodsCount) {
    OneHome held;
    held.agency.hold(held.home, kMonday.plusDays(-1), std::nullopt);
    EXPECT_TRUE(held.propose({held.steady(0, 1)}).empty());

    OneHome gone;
    gone.agency.edit([](Snapshot &s) { s.patients.front().status = CareStatus::Deceased; });
    EXPECT_TRUE(gone.propose({gone.steady(0, 1)}).empty());

    OneHome promised;
    auto forecast = promised.steady(0, 1);
    forecast.promised = Eaches::of(84);
    EXPECT_TRUE(promised.propose({forecast}).empty());
}

TEST(RefillsTest, AnUnknownStockAsksForACountAndDoesNotCryOverdue) {
    OneHome one;
    one.agency.drained(one.home, kMonday.plusDays(-2), 400);
    auto forecast = one.steady(0, 2);
    forecast.knowledge = forecast::StockKnowledge::Unknown;
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_TRUE(proposals[0].stockIsUnknown);
    EXPECT_EQ(proposals[0].urgency, RefillUrgency::CallToday);
    EXPECT_TRUE(proposals[0].lines.at(0).stockIsUnknown);
    EXPECT_EQ(proposals[0].lines.at(0).quantity, Eaches::of(15)); // as for an empty home
}

TEST(RefillsTest, AHomeIsNotCalledBeforeItsFirstDeliveryHasCome) {
    OneHome one;
    auto forecast = one.steady(0, 2);
    forecast.knowledge = forecast::StockKnowledge::Unknown;
    EXPECT_TRUE(one.propose({forecast}).empty()) << "First deliveries has it";
    one.agency.delivery(one.home, kKit, 5, kMonday.plusDays(1), DeliveryStatus::InTransit);
    EXPECT_TRUE(one.propose({forecast}).empty());
    one.agency.delivery(one.home, kKit, 5, kMonday.plusDays(-3), DeliveryStatus::Delivered);
    EXPECT_EQ(one.propose({forecast}).size(), 1U);
}

TEST(RefillsTest, WhatMayBeOfARecalledLotIsNoStock) {
    OneHome one;
    auto forecast = one.steady(40, 2);
    EXPECT_NE(one.propose({forecast}).empty() ? RefillUrgency::Later : one.propose({forecast})[0].urgency,
              RefillUrgency::Overdue);
    forecast.recalled = Eaches::of(40);
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].urgency, RefillUrgency::Overdue);
    EXPECT_EQ(proposals[0].lines.at(0).recalled, Eaches::of(40));
    EXPECT_EQ(proposals[0].lines.at(0).quantity, one.propose({one.steady(0, 2)})[0].lines.at(0).quantity);
}

TEST(RefillsTest, WhatIsPastItsLastDayIsNoStock) {
    OneHome one;
    auto forecast = one.steady(40, 2);
    forecast.expired = Eaches::of(40);
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].urgency, RefillUrgency::Overdue);
    EXPECT_EQ(proposals[0].lines.at(0).expired, Eaches::of(40));
    EXPECT_EQ(proposals[0].lines.at(0).quantity, one.propose({one.steady(0, 2)})[0].lines.at(0).quantity);
}

TEST(RefillsTest, AfterADeliveryOnlyWhatItBringsAndLeavesDecidesWhetherTheHomeRunsDry) {
    OneHome one;
    const auto certain = [&](std::int64_t onHand, std::int64_t sent) {
        const auto forecast = one.steady(onHand, 1);
        return chanceDryAfter(HomeLine(forecast, kMonday), 4, 34, Eaches::of(sent));
    };
    EXPECT_EQ(certain(0, 30), 0) << "dry for four days, but thirty last for the thirty after";
    EXPECT_EQ(certain(0, 29), 1);
    EXPECT_EQ(certain(6, 28), 0) << "two are left when it comes";
    EXPECT_EQ(certain(6, 27), 1);
    const auto unsure = one.steady(0, 1, 0.5);
    double before = 1;
    for (std::int64_t sent = 0; sent < 40; ++sent) {
        const double chance = chanceDryAfter(HomeLine(unsure, kMonday), 4, 34, Eaches::of(sent));
        EXPECT_LE(chance, before) << sent;
        before = chance;
    }
    EXPECT_LT(before, 1e-6);
}

TEST(RefillsTest, TheEarlyRunOutCountsWhatIsPromised) {
    OneHome one;
    auto forecast = one.steady(2, 1);
    forecast.runOutP10 = kMonday.plusDays(2);
    forecast.promised = Eaches::of(8);
    const auto proposals = one.propose({forecast});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_EQ(proposals[0].runOutP10, kMonday.plusDays(10)) << "ten drains are covered";
}

TEST(RefillsTest, APromiseFarBeyondTheOfferIsToldWithItsFigures) {
    OneHome one;
    const auto proposals = one.propose({one.steady(0, 2)});
    ASSERT_EQ(proposals.size(), 1U);
    const RefillLine &offered = proposals[0].lines.at(0);
    EXPECT_EQ(offered.mostHeld, Eaches::of(15));
    const Snapshot snapshot = one.agency.build();
    const SnapshotIndex index(snapshot);
    const auto over = [&](std::int64_t eaches) {
        Delivery wanted;
        wanted.promisedFor = proposals[0].deliverOn;
        wanted.lines = {{one.home.catheter, kKit, std::nullopt, Eaches::of(eaches)}};
        return overOffer(index, proposals[0], wanted);
    };
    EXPECT_TRUE(over(offered.quantity.count()).empty());
    EXPECT_TRUE(over(1).empty()) << "less needs no reason";
    ASSERT_EQ(over(16).size(), 1U);
    EXPECT_EQ(over(16)[0].mostHeld, Eaches::of(15));
    EXPECT_FALSE(over(16)[0].free);
    EXPECT_EQ(over(16)[0].offered, offered.quantity);
    EXPECT_EQ(over(1001)[0].free, Eaches::of(1000));
}

TEST(RefillsTest, WhatIsFreeForAPromiseIsWhatTheStoreroomHasGoodOnItsDay) {
    SmallAgency agency(kMonday);
    const Home home = agency.addHome();
    agency.storeroom(kKit, 1000, kMonday.plusDays(1));
    agency.storeroom(kKit, 7);
    RefillProposal offer;
    RefillLine line;
    line.catheter = home.catheter;
    line.item = kKit;
    line.quantity = Eaches::of(5);
    offer.lines = {line};
    Delivery wanted;
    wanted.promisedFor = kMonday.plusDays(3);
    wanted.lines = {{home.catheter, kKit, std::nullopt, Eaches::of(9)}};
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    const auto over = overOffer(index, offer, wanted);
    ASSERT_EQ(over.size(), 1U) << "a thousand of today are out of date by then";
    EXPECT_EQ(over[0].free, Eaches::of(7));
    EXPECT_EQ(over[0].free, StoreroomShare(index).available(kKit, wanted.promisedFor));
    wanted.promisedFor = kMonday;
    EXPECT_TRUE(overOffer(index, offer, wanted).empty());
}

TEST(RefillsTest, TwoCathetersHaveTheirOwnLines) {
    OneHome one;
    const Home other = one.agency.addCatheter(one.home, CavitySite::Chest, Side::Left);
    const auto second = steadyHome(other.catheter, other.patient, kKit, 2, 1);
    const auto proposals = one.propose({one.steady(4, 2), second});
    ASSERT_EQ(proposals.size(), 1U);
    ASSERT_EQ(proposals[0].lines.size(), 2U);
    EXPECT_EQ(proposals[0].lines[0].catheter, one.home.catheter);
    EXPECT_EQ(proposals[0].lines[1].catheter, other.catheter);
    EXPECT_EQ(proposals[0].supplyEnds, Date::of(2026, 3, 3)); // the second runs dry first
}

TEST(RefillsTest, AnItemTheAllergyBarsIsLeftOutAndSaid) {
    OneHome one;
    one.agency.edit([](Snapshot &s) {
        s.patients.front().allergies = {Material::Latex};
        s.items[0].contents = {{SmallAgency::kDressing, Eaches::of(1)}};
        for (Item &item : s.items)
            if (item.id == SmallAgency::kDressing)
                item.contains = {Material::Latex}; // inside the kit
    });
    const auto proposals = one.propose({one.steady(0, 1)});
    ASSERT_EQ(proposals.size(), 1U);
    EXPECT_TRUE(proposals[0].lines.empty());
    ASSERT_EQ(proposals[0].barred.size(), 1U);
    EXPECT_EQ(proposals[0].barred[0].why, (Bar{BarKind::Allergy, Material::Latex}));
}

TEST(RefillsTest, AnItemThatDoesNotFitTheLineIsLeftOut) {
    OneHome one;
    one.agency.edit([](Snapshot &s) {
        s.items[0].connector = "round";
        s.catheters.front().connector = "flat";
    });
    EXPECT_EQ(one.propose({one.steady(0, 1)}).at(0).barred.at(0).why.kind, BarKind::Connector);
    one.agency.edit([](Snapshot &s) { s.catheters.front().connector.clear(); }); // unknown bars nothing
    EXPECT_TRUE(one.propose({one.steady(0, 1)}).at(0).barred.empty());
}

TEST(RefillsTest, AShortStoreroomSendsWhatTheOrderAllowsInstead) {
    SmallAgency agency(kMonday);
    const Home home = agency.addHome();
    agency.order(home, test::everyDays(1, kMonday), SmallAgency::kKit1000,
                 [](DrainOrder &o) { o.allowsSubstitute = true; });
    agency.edit(plainSettings).edit([](Snapshot &s) { s.items[1].substitutes = {{kKit, Eaches::of(2)}}; });
    agency.storeroom(SmallAgency::kKit1000, 12);
    agency.storeroom(kKit, 500);
    const auto forecast = steadyHome(home.catheter, home.patient, SmallAgency::kKit1000, 0, 1);
    {
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        const auto lines = proposeRefills(index, std::vector{forecast}).at(0).lines;
        ASSERT_EQ(lines.size(), 2U);
        EXPECT_EQ(lines[0].quantity, Eaches::of(12));
        EXPECT_EQ(lines[0].limitedBy, RefillLimit::StoreroomShort);
        EXPECT_EQ(lines[1].item, kKit);
        EXPECT_EQ(lines[1].substituteFor, SmallAgency::kKit1000);
        EXPECT_EQ(lines[1].quantity, Eaches::of(2 * (30 - 12)));
    }
    agency.edit([](Snapshot &s) { s.drainOrders.front().allowsSubstitute = false; });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    EXPECT_EQ(proposeRefills(index, std::vector{forecast}).at(0).lines.size(), 1U);
}

TEST(RefillsTest, TheStoreroomIsNeverSharedOutTwice) {
    SmallAgency agency(kMonday);
    agency.edit(plainSettings);
    std::vector<forecast::ItemForecast> forecasts;
    for (int i = 0; i < 6; ++i) {
        const Home home = agency.addHome();
        forecasts.push_back(steadyHome(home.catheter, home.patient, kKit, i / 2, 1));
    }
    agency.storeroom(kKit, 70);
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    Eaches given;
    for (const RefillProposal &p : proposeRefills(index, forecasts))
        for (const RefillLine &line : p.lines)
            given += line.quantity;
    EXPECT_EQ(given, Eaches::of(70));
}

} // namespace
} // namespace kitround::supply
