// The refill of the home's picture moved: what it would mean, in figures and words. Nothing is stored.
#include "core/desk/views/RefillWhatIf.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

namespace kitround::desk {
namespace {

using supply::Shipment;
using test::SmallAgency;

constexpr Date kRefillToday = Date::of(2026, 3, 2); // a Monday
// A parcel that parts the paths is counted by points of the belief.
constexpr double kWaysOfCounting = 5e-3;
constexpr ItemId kRefilled = SmallAgency::kKit500;

// One home, drained every other day, with eight sets.
struct Refilled {
    explicit Refilled(const std::function<void(Snapshot &)> &edit = {},
                      const std::function<void(SmallAgency &, const test::Home &)> &add = {}) {
        SmallAgency agency(kRefillToday);
        const test::Home home = agency.addHome();
        agency.order(home, test::everyDays(2, kRefillToday));
        for (int back = 40; back >= 2; back -= 2)
            agency.drained(home, kRefillToday.plusDays(-back), 400, {{kRefilled, 1}});
        agency.counted(home, kRefilled, 8, kRefillToday);
        agency.counted(home, SmallAgency::kBottle500, 60, kRefillToday);
        agency.storeroom(kRefilled, 500);
        if (add)
            add(agency, home);
        if (edit)
            agency.edit(edit);
        auto stock = computeStock(std::make_shared<const Agency>(agency.build()), {}, {});
        picture = stock ? *stock : nullptr;
        for (std::size_t i = 0; picture && i < picture->homes.size(); ++i)
            if (picture->homes[i].item == kRefilled && picture->homes[i].catheter == home.catheter)
                forecast = i;
        chart = homeChart(*picture, forecast, {});
        whatIf = refillWhatIf(picture, forecast, chart);
    }
    const supply::RefillLine &line() const {
        const auto &lines = picture->refills.at(0).lines;
        return *std::ranges::find(lines, kRefilled, &supply::RefillLine::item);
    }
    StockPicturePtr picture;
    std::size_t forecast = 0;
    HomeChart chart;
    RefillWhatIfPtr whatIf;
};

TEST(RefillWhatIfTest, AsProposedItSaysWhatTheProposalSays) {
    const Refilled home;
    ASSERT_TRUE(home.whatIf);
    const RefillOutlook &own = home.whatIf->proposed();
    EXPECT_EQ(own.shipment, (Shipment{home.chart.refill->on, home.chart.refill->units}));
    EXPECT_NEAR(own.chanceDryBefore, home.line().chanceDryBefore, kWaysOfCounting);
    EXPECT_EQ(own.daysHeld, home.line().daysCovered);
    EXPECT_TRUE(own.rules.isEmpty()) << own.rules.join(u'\n').toStdString();
    EXPECT_TRUE(own.sentence.contains(QStringLiteral("as proposed"))) << own.sentence.toStdString();
    // Days by one rule; what may be held in eaches, as it is judged.
    EXPECT_TRUE(own.sentence.contains(
        QStringLiteral(" days by the plain rule; at most %1 for the 30 days a home may hold")
            .arg(numberText(home.line().mostHeld->count()))))
        << own.sentence.toStdString();
}

TEST(RefillWhatIfTest, ThePictureHasItFromItsDayOnAndIsTheSameBefore) {
    const Refilled home;
    const HomeChart &tried = home.whatIf->proposed().chart;
    const auto day = static_cast<std::size_t>((home.chart.refill->on - kRefillToday).count());
    ASSERT_EQ(tried.fan.size(), home.chart.fan.size());
    for (std::size_t d = 0; d < day; ++d)
        EXPECT_EQ(tried.fan[d].p50, home.chart.fan[d].p50);
    EXPECT_EQ(tried.fan[day].p95, home.chart.fan[day].p95 + home.chart.refill->units);
    EXPECT_TRUE(!tried.runOutP10 || *tried.runOutP10 > *home.chart.runOutP10);
    EXPECT_TRUE(dayFigures(tried, home.chart.refill->on).contains(QStringLiteral("Refill tried")));
    EXPECT_FALSE(home.chart.isTried) << "the picture it came from is as it was";
}

TEST(RefillWhatIfTest, EarlierMeansLessRiskAndLaterMoreAndLateIsTold) {
    const Refilled home;
    const Shipment own = home.whatIf->proposed().shipment;
    const auto moved = [&](int days) { return home.whatIf->at(home.whatIf->stepped(own, days, 0)); };
    double before = 0;
    for (const int days : {-6, -3, 0, 3, 6, 10}) {
        const RefillOutlook outlook = moved(days);
        EXPECT_GE(outlook.chanceDryBefore, before - kWaysOfCounting) << days;
        before = outlook.chanceDryBefore;
    }
    EXPECT_GT(before, home.whatIf->proposed().chanceDryBefore + 0.1);
    const RefillOutlook late = moved(10);
    EXPECT_TRUE(late.sentence.contains(QStringLiteral("10 days later than proposed")));
    EXPECT_TRUE(late.rules.join(u'\n').contains(QStringLiteral("to keep the run-out target")));
}

TEST(RefillWhatIfTest, MoreLastsLongerAndTooMuchIsTold) {
    const Refilled home;
    const Shipment own = home.whatIf->proposed().shipment;
    const RefillOutlook more = home.whatIf->at(home.whatIf->stepped(own, 0, 8));
    EXPECT_LE(more.chanceDryToNext, home.whatIf->proposed().chanceDryToNext + kWaysOfCounting);
    EXPECT_GT(more.daysHeld, home.whatIf->proposed().daysHeld);
    EXPECT_TRUE(more.sentence.contains(QStringLiteral("8 more than proposed")));
    EXPECT_TRUE(more.rules.join(u'\n').contains(QStringLiteral("days a home may hold")));
}

TEST(RefillWhatIfTest, ASaturdayIsNoDeliveryDay) {
    const Refilled home;
    const Date saturday = Date::of(2026, 3, 7);
    const RefillOutlook outlook = home.whatIf->at({saturday, Eaches::of(1)});
    EXPECT_TRUE(outlook.rules.contains(
        QStringLiteral("nothing goes to this home that day, the next day possible is Mon 9 Mar")))
        << outlook.rules.join(u'\n').toStdString();
}

TEST(RefillWhatIfTest, TheHomeIsAskedAboutTheMovedLineAndTheOthersAsProposed) {
    const Refilled home;
    const supply::RefillProposal &proposal = home.picture->refills.at(0);
    const Shipment own = home.whatIf->proposed().shipment;
    EXPECT_FALSE(home.whatIf->toOffer(own)) << "as proposed there is nothing to say";
    const Shipment more = home.whatIf->stepped(own, 0, 2);
    const auto tried = home.whatIf->toOffer(more);
    ASSERT_TRUE(tried);
    EXPECT_EQ(proposal.lines.at(tried->line).item, kRefilled);
    ASSERT_EQ(tried->offer.lines.size(), proposal.lines.size());
    for (std::size_t i = 0; i < proposal.lines.size(); ++i)
        EXPECT_EQ(tried->offer.lines[i].quantity,
                  i == tried->line ? more.quantity : proposal.lines[i].quantity);
    EXPECT_EQ(tried->offer.deliverOn, own.on);
    EXPECT_EQ(tried->offer.way, proposal.way);
    EXPECT_EQ(tried->note, QStringLiteral("As tried on the chart; the proposal was %1 eaches for %2.")
                               .arg(numberText(own.quantity.count()), dayText(own.on)));
}

TEST(RefillWhatIfTest, OnAnotherDayItGoesWithWhatGoesToTheHomeThen) {
    const Date friday = Date::of(2026, 3, 6);
    const VisitId onSaturday{71};
    const Refilled home([&](Snapshot &agency) {
        Visit visit;
        visit.id = onSaturday;
        visit.patient = agency.patients.front().id;
        visit.status = VisitStatus::Published;
        visit.on = friday.plusDays(1);
        agency.visits.push_back(visit);
    });
    const Eaches other = home.whatIf->proposed().shipment.quantity + Eaches::of(1);
    const auto on = [&](Date day) { return home.whatIf->toOffer({day, other})->offer; };
    EXPECT_EQ(on(friday).way, DeliveryWay::Courier);
    EXPECT_FALSE(on(friday).withVisit);
    EXPECT_EQ(on(friday.plusDays(1)).way, DeliveryWay::WithVisit);
    EXPECT_EQ(on(friday.plusDays(1)).withVisit, onSaturday);
    EXPECT_TRUE(on(friday.plusDays(2)).hasNoWay) << "a Sunday without a visit";
    EXPECT_FALSE(on(friday.plusDays(2)).withVisit);
}

TEST(RefillWhatIfTest, MovedAndMovedBackItIsTheProposalExactly) {
    const Refilled home;
    const RefillOutlook &own = home.whatIf->proposed();
    for (int days = -3; days <= 12; ++days)
        for (int quantities = -2; quantities <= 3; ++quantities) {
            const Shipment away = home.whatIf->stepped(own.shipment, days, quantities);
            EXPECT_EQ(home.whatIf->stepped(away, -days, -quantities), own.shipment);
            EXPECT_EQ(home.whatIf->nearest(away), away);
        }
    static_cast<void>(home.whatIf->at(home.whatIf->stepped(own.shipment, 5, 2)));
    const RefillOutlook again = home.whatIf->at(own.shipment);
    EXPECT_EQ(again.sentence, own.sentence);
    EXPECT_EQ(again.breaks, own.breaks);
    EXPECT_EQ(again.chanceDryToNext, own.chanceDryToNext);
    for (std::size_t d = 0; d < own.chart.fan.size(); ++d) {
        EXPECT_EQ(again.chart.fan[d].p50, own.chart.fan[d].p50);
        EXPECT_EQ(again.chart.fan[d].chanceDry, own.chart.fan[d].chanceDry);
    }
}

TEST(RefillWhatIfTest, WhatAnotherLineOfTheParcelBreaksIsToldByItsName) {
    const Refilled home({}, [](SmallAgency &agency, const test::Home &first) {
        const test::Home left = agency.addCatheter(first, CavitySite::Chest, Side::Left);
        agency.order(left, test::everyDays(2, kRefillToday));
        for (int back = 40; back >= 2; back -= 2)
            agency.drained(left, kRefillToday.plusDays(-back), 400, {{kRefilled, 1}});
        agency.counted(left, kRefilled, 10, kRefillToday);
        agency.counted(left, SmallAgency::kBottle500, 60, kRefillToday);
    });
    ASSERT_TRUE(home.whatIf);
    const auto &lines = home.picture->refills.at(0).lines;
    ASSERT_EQ(std::ranges::count(lines, kRefilled, &supply::RefillLine::item), 2);
    // The payer lets the eight sets be filled up from 7 March on, the ten from 11 March on.
    const auto aboutLeft = [&](const RefillOutlook &outlook) {
        return outlook.rules.filter(QStringLiteral("chest, left in the same parcel: the payer allows"));
    };
    const Date tuesday = Date::of(2026, 3, 10);
    EXPECT_EQ(aboutLeft(home.whatIf->at({tuesday, Eaches::of(1)})).size(), 1);
    EXPECT_TRUE(aboutLeft(home.whatIf->proposed()).isEmpty());

    // The call says the same of that day.
    const supply::RefillProposal &proposal = home.picture->refills.at(0);
    const SnapshotIndex &index = home.picture->agency->index();
    Delivery wanted;
    wanted.patient = proposal.patient;
    const auto told = [&](Date on) {
        wanted.promisedFor = on;
        return rulesText(index, proposal, parcelBreaks(index, home.picture.get(), proposal, wanted));
    };
    for (const supply::RefillLine &line : lines)
        wanted.lines.push_back({line.catheter, line.item, std::nullopt, line.quantity});
    EXPECT_EQ(told(tuesday).count(QStringLiteral("chest, left: the payer allows")), 1)
        << told(tuesday).toStdString();
    EXPECT_TRUE(told(tuesday).contains(QStringLiteral("chest, left: at most")))
        << "what only a forecast tells: " << told(tuesday).toStdString();
    EXPECT_EQ(told(proposal.deliverOn), QString());

    // Another day wants a reason for all of it; more on the day that was offered is asked about as more.
    const auto toExplain = [&] { return breaksToExplain(index, home.picture.get(), proposal, wanted); };
    wanted.promisedFor = tuesday;
    EXPECT_EQ(toExplain(), parcelBreaks(index, home.picture.get(), proposal, wanted));
    wanted.promisedFor = proposal.deliverOn;
    wanted.lines.front().quantity += Eaches::of(1200);
    EXPECT_FALSE(parcelBreaks(index, home.picture.get(), proposal, wanted).empty());
    EXPECT_TRUE(toExplain().empty());
}

TEST(RefillWhatIfTest, WhatIsPromisedIsNotInTheLinesAndIsCountedByTheRefillMoved) {
    const Date friday = Date::of(2026, 3, 6);
    const Refilled home({}, [&](SmallAgency &agency, const test::Home &at) {
        agency.delivery(at, kRefilled, 5, friday, DeliveryStatus::Promised);
    });
    EXPECT_TRUE(home.chart.notes.join(u' ').contains(QStringLiteral("The 5 promised for Fri 6 Mar are not")))
        << home.chart.notes.join(u' ').toStdString();
    ASSERT_TRUE(home.whatIf);
    const RefillOutlook &own = home.whatIf->proposed();
    EXPECT_TRUE(own.sentence.contains(QStringLiteral("the 5 promised for Fri 6 Mar counted")))
        << own.sentence.toStdString();
    const std::size_t day = 4; // Friday
    ASSERT_GT(own.shipment.on, friday);
    EXPECT_EQ(own.chart.fan[day].p95, home.chart.fan[day].p95 + Eaches::of(5));
    EXPECT_NEAR(own.chanceDryBefore, home.line().chanceDryBefore, kWaysOfCounting);
    EXPECT_TRUE(Refilled().chart.notes.isEmpty());
}

TEST(RefillWhatIfTest, AtADryHomeItTellsWhatTheRefillAchievesAndThatNoDayIsEarlyEnough) {
    const Refilled home([](Snapshot &agency) {
        for (HomeCount &count : agency.homeCounts)
            if (count.item == kRefilled)
                count.counted = Eaches{};
    });
    ASSERT_TRUE(home.whatIf);
    const RefillOutlook &own = home.whatIf->proposed();
    EXPECT_LT(own.chanceDryAfter, own.chanceDryToNext);
    const RefillOutlook late = home.whatIf->at(home.whatIf->stepped(own.shipment, 20, 0));
    EXPECT_TRUE(late.sentence.contains(QStringLiteral("certain to run dry before it comes; ")))
        << late.sentence.toStdString();
    EXPECT_FALSE(late.sentence.contains(QStringLiteral("may run out from")));
    EXPECT_TRUE(home.chart.notes.join(u' ').contains(QStringLiteral("No day possible keeps")));
    EXPECT_TRUE(own.sentence.contains(QStringLiteral(" eaches, as proposed")));
}

TEST(RefillWhatIfTest, WhereNothingIsProposedNothingIsMoved) {
    const Refilled home;
    for (std::size_t i = 0; i < home.picture->homes.size(); ++i)
        if (i != home.forecast) {
            const HomeChart chart = homeChart(*home.picture, i, {});
            EXPECT_EQ(refillWhatIf(home.picture, i, chart) != nullptr, chart.refill.has_value());
        }
    HomeChart unknown = home.chart;
    unknown.fan.clear();
    EXPECT_FALSE(refillWhatIf(home.picture, home.forecast, unknown));
}

} // namespace
} // namespace kitround::desk
