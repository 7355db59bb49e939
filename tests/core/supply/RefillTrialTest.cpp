// A refill tried elsewhere than proposed: the rules that made it say what is wrong, each with what would do.
#include "core/supply/RefillTrial.h"
#include "core/supply/PromisedDay.h"
#include "tests/core/supply/HandMade.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <optional>

namespace kitround::supply {
namespace {

using test::Home;
using test::SmallAgency;
using test::steadyHome;

const Date kMonday = Date::of(2026, 3, 2);
constexpr ItemId kKit = SmallAgency::kKit500;

Date march(unsigned day) {
    return Date::of(2026, 3, day);
}

// 14 sets every other day: delivered from 19 March, needed and proposed on Monday the 30th, 15 sets (as in
// RefillsTest).
struct Tried {
    explicit Tried(const std::function<void(SmallAgency &, const Home &)> &change = {},
                   std::int64_t onHand = 14, int everyDays = 2, double chance = 1.0) {
        agency.edit([](Snapshot &s) { s.settings.set(SettingKey::BufferSessions, 0); });
        if (change)
            change(agency, home);
        else
            agency.storeroom(kKit, 1000);
        add(home, kKit, onHand, everyDays, chance);
    }
    // Forecast as well, and all proposed anew.
    void add(const Home &of, ItemId item, std::int64_t onHand, int everyDays, double chance = 1.0) {
        forecasts.push_back(steadyHome(of.catheter, of.patient, item, onHand, everyDays, chance));
        index.reset();
        snapshot = agency.build();
        index.emplace(snapshot);
        proposals = proposeRefills(*index, forecasts);
    }
    // The first line of it.
    RefillTrial trial(std::size_t proposal = 0) const {
        const RefillProposal &tried = proposals.at(proposal);
        return RefillTrial(*index, proposals, tried, tried.lines.at(0), forecasts);
    }
    std::vector<TrialBreak> at(Date on, std::int64_t quantity) const {
        return trial().breaks({on, Eaches::of(quantity)});
    }

    SmallAgency agency{kMonday};
    Home home = agency.addHome();
    Snapshot snapshot;
    std::optional<SnapshotIndex> index;
    std::vector<forecast::ItemForecast> forecasts;
    std::vector<RefillProposal> proposals;
};

std::optional<TrialBreak> find(const std::vector<TrialBreak> &breaks, TrialRule rule) {
    const auto found = std::ranges::find(breaks, rule, &TrialBreak::rule);
    return found == breaks.end() ? std::nullopt : std::optional(*found);
}

TEST(RefillTrialTest, TheProposalBreaksNothingAndCoversWhatItSays) {
    const Tried tried;
    const RefillTrial trial = tried.trial();
    EXPECT_EQ(trial.proposed(), (Shipment{march(30), Eaches::of(15)}));
    EXPECT_TRUE(trial.isMovable());
    EXPECT_TRUE(trial.breaks(trial.proposed()).empty());
    EXPECT_EQ(trial.daysHeld(trial.proposed()), tried.proposals[0].lines[0].daysCovered);
    EXPECT_EQ(trial.nextAfter(march(30)), Date::of(2026, 4, 29));
}

TEST(RefillTrialTest, BeforeThePayersFirstDayAndBeyondTheDaysHeldAreTold) {
    const Tried tried;
    const auto breaks = tried.at(march(18), 15);
    ASSERT_EQ(breaks.size(), 2U);
    EXPECT_EQ(breaks[0], (TrialBreak{TrialRule::PayerTooEarly, march(19), std::nullopt}));
    // Eight of the fourteen are used by then: six are left, and thirty days use fifteen.
    EXPECT_EQ(breaks[1], (TrialBreak{TrialRule::DaysHeld, std::nullopt, Eaches::of(9)}));
    EXPECT_TRUE(tried.at(march(19), 9).empty());
    EXPECT_EQ(find(tried.at(march(30), 16), TrialRule::DaysHeld)->most, Eaches::of(15));
}

TEST(RefillTrialTest, AfterTheDayThatKeepsTheTargetIsTooLate) {
    const auto breaks = Tried().at(march(31), 15);
    ASSERT_EQ(breaks.size(), 1U);
    EXPECT_EQ(breaks[0], (TrialBreak{TrialRule::TooLate, march(30), std::nullopt}));
}

TEST(RefillTrialTest, TheDayOfAPromiseIsJudgedByTheWayItGoesAndTheOfferIsNot) {
    const Tried tried;
    const RefillProposal &offer = tried.proposals.at(0);
    Delivery wanted;
    wanted.patient = tried.home.patient;
    const auto on = [&](Date day) {
        wanted.promisedFor = day;
        return dayBreaks(*tried.index, offer, wanted);
    };
    using Breaks = std::vector<TrialBreak>;
    EXPECT_TRUE(on(march(30)).empty());
    EXPECT_TRUE(on(march(27)).empty()) << "another day the courier comes";
    EXPECT_EQ(on(march(28)), (Breaks{{TrialRule::NoDelivery, march(30), std::nullopt}})) << "a Saturday";
    EXPECT_EQ(on(march(31)), (Breaks{{TrialRule::TooLate, march(30), std::nullopt}}));
    EXPECT_EQ(on(march(18)), (Breaks{{TrialRule::PayerTooEarly, march(19), std::nullopt}}));
    EXPECT_TRUE(on(kMonday.plusDays(-1)).empty()) << "a day that is over is refused elsewhere";
    // No such visit is planned, and carried by hand it is not the courier's day that counts.
    wanted.way = DeliveryWay::WithVisit;
    EXPECT_TRUE(on(march(28)).empty());
    // What is only a wish is no day that was offered.
    RefillProposal wish = offer;
    wish.hasNoWay = true;
    wish.deliverOn = march(28);
    wanted.way = DeliveryWay::Courier;
    EXPECT_EQ(dayBreaks(*tried.index, wish, wanted).size(), 1U);
}

TEST(RefillTrialTest, ADayOnWhichNothingComesSaysWhyAndWhenItDoes) {
    const Tried plain;
    EXPECT_EQ(find(plain.at(march(28), 1), TrialRule::NoDelivery)->date, march(30)) << "a Saturday";
    EXPECT_EQ(find(plain.at(kMonday, 1), TrialRule::TooSoon)->date, march(3));
    const Tried closed([](SmallAgency &agency, const Home &home) {
        agency.storeroom(kKit, 1000);
        agency.edit([](Snapshot &s) { s.settings.ownHolidays = {march(26)}; });
        agency.hold(home, march(23), march(25));
    });
    EXPECT_EQ(find(closed.at(march(26), 1), TrialRule::Holiday)->date, march(27));
    EXPECT_EQ(find(closed.at(march(24), 1), TrialRule::OnHold)->date, march(25));
}

TEST(RefillTrialTest, ADayThatWouldBeAskedAboutBeforeThePayersFirstContactIsTold) {
    const Tried tried([](SmallAgency &agency, const Home &) {
        agency.storeroom(kKit, 1000);
        agency.edit([](Snapshot &s) {
            for (Payer &payer : s.payers)
                payer.contactAtMostBefore = payer.deliverAtMostBefore;
        });
    });
    // From the 19th it may be delivered and asked about; what comes on the 19th is handed over on the 18th.
    const std::vector<TrialBreak> early{{TrialRule::ContactTooEarly, march(19), std::nullopt}};
    EXPECT_EQ(tried.at(march(19), 9), early);
    EXPECT_FALSE(find(tried.at(march(20), 9), TrialRule::ContactTooEarly));
    EXPECT_FALSE(find(tried.at(march(21), 9), TrialRule::ContactTooEarly)) << "nothing comes on a Saturday";
    Delivery wanted; // as the call has it
    wanted.patient = tried.home.patient;
    wanted.promisedFor = march(19);
    EXPECT_EQ(dayBreaks(*tried.index, tried.proposals.at(0), wanted), early);
    wanted.promisedFor = march(20);
    EXPECT_TRUE(dayBreaks(*tried.index, tried.proposals.at(0), wanted).empty());
}

TEST(RefillTrialTest, WhatTheStoreroomHasByThenAndHowLongItLastsAreTold) {
    const Tried dry([](SmallAgency &agency, const Home &) { agency.storeroom(kKit, 40); }, 0, 1);
    ASSERT_EQ(dry.trial().proposed(), (Shipment{march(3), Eaches::of(30)}));
    EXPECT_FALSE(find(dry.at(march(3), 40), TrialRule::Storeroom));
    EXPECT_EQ(find(dry.at(march(3), 41), TrialRule::Storeroom)->most, Eaches::of(40));
    EXPECT_FALSE(find(dry.at(march(30), 41), TrialRule::Storeroom)) << "more can be ordered until then";
    const Tried old(
        [](SmallAgency &agency, const Home &) {
            agency.storeroom(kKit, 20);
            agency.storeroom(kKit, 100, march(31)); // less than a home is to be given
        },
        0, 1);
    EXPECT_FALSE(find(old.at(march(3), 20), TrialRule::ShortDated));
    EXPECT_EQ(find(old.at(march(3), 21), TrialRule::ShortDated)->most, Eaches::of(20));
}

// 16 dressings, one with every set: from 23 March, 13 on the 30th.
TEST(RefillTrialTest, OnAnotherDayTheOtherLinesOfTheParcelAreJudgedToo) {
    Tried tried;
    tried.add(tried.home, SmallAgency::kDressing, 16, 2);
    const auto &lines = tried.proposals.at(0).lines;
    ASSERT_EQ(lines.size(), 2U);
    ASSERT_EQ(lines[1].quantity, Eaches::of(13));
    const auto other = [](TrialRule rule, std::optional<Date> date, std::optional<std::int64_t> most) {
        return TrialBreak{rule, date, most ? std::optional(Eaches::of(*most)) : std::nullopt, 1};
    };
    EXPECT_TRUE(tried.at(march(30), 15).empty());
    // Nine of the sixteen are used by the 20th: seven are left, and thirty days use fifteen.
    EXPECT_EQ(tried.at(march(20), 10), (std::vector{other(TrialRule::PayerTooEarly, march(23), {}),
                                                    other(TrialRule::DaysHeld, {}, 8)}));
    EXPECT_EQ(tried.at(march(23), 11), (std::vector{other(TrialRule::DaysHeld, {}, 10)}));
    const auto tooMany = tried.at(march(30), 16);
    ASSERT_EQ(tooMany.size(), 1U) << "another quantity of one line leaves the others as proposed";
    EXPECT_FALSE(tooMany[0].otherLine);
    // No dressing is on the shelf; the 30th is far enough to order for, the 5th is not.
    const auto soon = tried.at(march(5), 1);
    EXPECT_TRUE(std::ranges::count(soon, other(TrialRule::Storeroom, {}, 0)));
    EXPECT_FALSE(find(tried.at(march(23), 11), TrialRule::Storeroom));
}

TEST(RefillTrialTest, ACallJudgesEveryLineInItsOwnQuantity) {
    Tried tried;
    tried.add(tried.home, SmallAgency::kDressing, 16, 2);
    const auto judged = [&](Date on, std::int64_t sets, std::int64_t dressings) {
        return tried.trial().lineBreaks(on, {Eaches::of(sets), Eaches::of(dressings)});
    };
    const TrialBreak payer{TrialRule::PayerTooEarly, march(23), std::nullopt, 1};
    EXPECT_TRUE(judged(march(30), 15, 13).empty()) << "as proposed";
    EXPECT_EQ(judged(march(20), 10, 13),
              (std::vector{payer, TrialBreak{TrialRule::DaysHeld, std::nullopt, Eaches::of(8), 1}}));
    EXPECT_EQ(judged(march(20), 10, 8), std::vector{payer}) << "fewer of them may be held";
    EXPECT_TRUE(judged(march(20), 10, 0).empty()) << "what does not come breaks nothing";
    EXPECT_EQ(judged(march(30), 16, 13),
              (std::vector{TrialBreak{TrialRule::DaysHeld, std::nullopt, Eaches::of(15), 0}}));

    // The payer's day of each line needs no forecast: a promise is judged by it.
    Delivery wanted;
    wanted.patient = tried.home.patient;
    wanted.promisedFor = march(20);
    wanted.lines = {{tried.home.catheter, kKit, std::nullopt, Eaches::of(10)}};
    EXPECT_TRUE(dayBreaks(*tried.index, tried.proposals.at(0), wanted).empty());
    wanted.lines.push_back({tried.home.catheter, SmallAgency::kDressing, std::nullopt, Eaches::of(8)});
    EXPECT_EQ(dayBreaks(*tried.index, tried.proposals.at(0), wanted), std::vector{payer});
}

TEST(RefillTrialTest, WhatTheHomesServedBeforeHaveIsNotFree) {
    Tried tried([](SmallAgency &agency, const Home &) { agency.storeroom(kKit, 40); }, 0, 1);
    tried.add(tried.agency.addHome(), kKit, 0, 1);
    ASSERT_EQ(tried.proposals.size(), 2U);
    ASSERT_EQ(tried.trial(0).proposed(), (Shipment{march(3), Eaches::of(30)}));
    ASSERT_EQ(tried.trial(1).proposed(), (Shipment{march(3), Eaches::of(10)}));
    const auto most = [&](std::size_t proposal, TrialRule rule, std::int64_t quantity) {
        const auto found = find(tried.trial(proposal).breaks({march(3), Eaches::of(quantity)}), rule);
        return found ? found->most : std::nullopt;
    };
    EXPECT_EQ(most(0, TrialRule::Storeroom, 41), Eaches::of(40)) << "the first is asked first";
    EXPECT_FALSE(most(1, TrialRule::Storeroom, 10));
    EXPECT_EQ(most(1, TrialRule::Storeroom, 11), Eaches::of(10));

    Tried old(
        [](SmallAgency &agency, const Home &) {
            agency.storeroom(kKit, 40);
            agency.storeroom(kKit, 100, march(31)); // less than a home is to be given
        },
        0, 1);
    old.add(old.agency.addHome(), kKit, 0, 1);
    const auto short10 = find(old.trial(1).breaks({march(3), Eaches::of(11)}), TrialRule::ShortDated);
    ASSERT_TRUE(short10);
    EXPECT_EQ(short10->most, Eaches::of(10));
    EXPECT_FALSE(find(old.trial(1).breaks({march(3), Eaches::of(10)}), TrialRule::ShortDated));
    EXPECT_EQ(old.proposals[1].lines[0].limitedBy, RefillLimit::Expiry) << "the proposal knows it too";
    EXPECT_EQ(old.proposals[0].lines[0].limitedBy, RefillLimit::None);
}

TEST(RefillTrialTest, MoreThanATaperingHomeWillUseIsTold) {
    const Tried tried({}, 0, 2, 0.5); // every second of the drains ordered
    const Shipment own = tried.trial().proposed();
    ASSERT_EQ(own.on, march(3));
    EXPECT_FALSE(find(tried.trial().breaks(own), TrialRule::Taper));
    // Of sixteen drains until the delivery after, at most eleven are made in nine months of ten.
    const auto breaks = tried.at(march(3), 12);
    EXPECT_EQ(find(breaks, TrialRule::Taper), (TrialBreak{TrialRule::Taper, std::nullopt, Eaches::of(11)}));
    EXPECT_FALSE(find(breaks, TrialRule::DaysHeld)) << "the days held alone would let it";
    EXPECT_FALSE(find(Tried({}, 0, 2).at(march(3), 12), TrialRule::Taper)) << "used as ordered";
}

TEST(RefillTrialTest, WhatIsSentInCasesGoesByTheCaseAndThroughWhatWasProposed) {
    Tried tried([](SmallAgency &agency, const Home &) {
        agency.storeroom(kKit, 1000);
        agency.edit([](Snapshot &s) {
            s.items[0].sendWholeCases = true;
            s.items[0].casePack = {Eaches::of(10)};
        });
    });
    tried.proposals[0].lines[0].quantity = Eaches::of(14); // a case was opened for it
    const RefillTrial trial = tried.trial();
    const auto stepped = [&](int from, int steps) { return trial.stepped(Eaches::of(from), steps).count(); };
    EXPECT_EQ(stepped(14, 1), 20);
    EXPECT_EQ(stepped(14, -1), 10);
    EXPECT_EQ(stepped(10, 1), 14);
    EXPECT_EQ(stepped(20, -2), 10);
    EXPECT_EQ(stepped(10, -1), 10) << "nothing is no refill";
    for (int away = -1; away <= 3; ++away)
        EXPECT_EQ(stepped(static_cast<int>(stepped(14, away)), -away), 14);
    EXPECT_EQ(trial.nearest(Eaches::of(13)), Eaches::of(14));
    EXPECT_EQ(trial.nearest(Eaches::of(18)), Eaches::of(20));
    EXPECT_EQ(trial.nearest(Eaches::of(0)), Eaches::of(10));
}

TEST(RefillTrialTest, ByTheEachWhereItIsSentSo) {
    const Tried tried;
    const RefillTrial trial = tried.trial();
    EXPECT_EQ(trial.stepped(Eaches::of(15), 3), Eaches::of(18));
    EXPECT_EQ(trial.stepped(Eaches::of(2), -5), Eaches::of(1));
    EXPECT_EQ(trial.nearest(Eaches::of(7)), Eaches::of(7));
}

TEST(RefillTrialTest, ALineThatAnotherItemFillsUpIsNotMovedAlone) {
    Tried tried;
    RefillLine stand = tried.proposals[0].lines[0];
    stand.item = SmallAgency::kKit1000;
    stand.substituteFor = kKit;
    tried.proposals[0].lines.push_back(stand);
    EXPECT_FALSE(tried.trial().isMovable());
}

} // namespace
} // namespace kitround::supply
