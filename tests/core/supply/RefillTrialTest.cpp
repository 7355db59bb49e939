// A refill tried elsewhere than proposed: the rules that made it say what is wrong, each with what would do.
#include "core/supply/RefillTrial.h"
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
                   std::int64_t onHand = 14, int everyDays = 2) {
        SmallAgency agency(kMonday);
        const Home home = agency.addHome();
        agency.edit([](Snapshot &s) { s.settings.set(SettingKey::BufferSessions, 0); });
        if (change)
            change(agency, home);
        else
            agency.storeroom(kKit, 1000);
        snapshot = agency.build();
        index.emplace(snapshot);
        forecasts = {steadyHome(home.catheter, home.patient, kKit, onHand, everyDays)};
        proposals = proposeRefills(*index, forecasts);
    }
    RefillTrial trial() const {
        return RefillTrial(*index, proposals.at(0), proposals.at(0).lines.at(0), forecasts.at(0));
    }
    std::vector<TrialBreak> at(Date on, std::int64_t quantity) const {
        return trial().breaks({on, Eaches::of(quantity)});
    }

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
