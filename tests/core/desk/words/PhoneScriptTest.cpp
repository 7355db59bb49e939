#include "core/desk/words/PhoneScript.h"

#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

QString all(const std::vector<ScriptStep> &steps) {
    QString text;
    for (const ScriptStep &step : steps)
        text += step.say + u'\n' + step.note + u'\n';
    return text;
}

TEST(PhoneScriptTest, AsksForCountChangesSignsNeedAndDayAndNeverSaysTheRecordFirst) {
    test::SmallAgency agency(Date::of(2026, 3, 2));
    const test::Home home = agency.addHome();
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    supply::RefillProposal proposal;
    proposal.patient = home.patient;
    proposal.deliverOn = Date::of(2026, 3, 9);
    proposal.deliverFrom = Date::of(2026, 3, 6);
    proposal.deliverBy = Date::of(2026, 3, 11);
    supply::RefillLine line;
    line.catheter = home.catheter;
    line.item = test::SmallAgency::kKit500;
    line.onHand = Eaches::of(77);
    line.quantity = Eaches::of(20);
    proposal.lines = {line};
    const std::vector<ScriptStep> steps = phoneScript(proposal, index);
    const QString text = all(steps);
    for (const char *part : {"unopened", "changed", "breathlessness", "20 of", "Mon 9 Mar", "Fri 6 Mar",
                             "Give no advice", "Nothing is sent without a yes"})
        EXPECT_TRUE(text.contains(QString::fromLatin1(part))) << part;
    for (const ScriptStep &step : steps)
        EXPECT_FALSE(step.say.contains(QStringLiteral("77"))) << step.say.toStdString();
    EXPECT_FALSE(text.contains(u'%'));
    EXPECT_TRUE(text.contains(QStringLiteral("Not before Fri 6 Mar (the payer's first day); by Wed 11 Mar")));
    proposal.first = supply::DeliveryDay{Date::of(2026, 3, 9), DeliveryWay::Courier, std::nullopt, {}};
    EXPECT_TRUE(all(phoneScript(proposal, index))
                    .contains(QStringLiteral("Not before Mon 9 Mar (the first courier day); by Wed 11 Mar")))
        << "nothing comes on the payer's day";
    proposal.first->way = DeliveryWay::WithVisit;
    EXPECT_TRUE(all(phoneScript(proposal, index))
                    .contains(QStringLiteral("Not before Mon 9 Mar (the first visit that can bring it)")));
    proposal.lines.front().recalled = Eaches::of(7);
    EXPECT_TRUE(all(phoneScript(proposal, index)).contains(QStringLiteral("70 without the recalled")))
        << "the count is of the others alone";
    proposal.stockIsUnknown = true;
    EXPECT_TRUE(all(phoneScript(proposal, index)).contains(QStringLiteral("store the count first")));
    proposal.way = DeliveryWay::WithVisit;
    EXPECT_TRUE(all(phoneScript(proposal, index)).contains(QStringLiteral("The nurse would bring it")));
    proposal.hasNoWay = true;
    EXPECT_TRUE(all(phoneScript(proposal, index)).contains(QStringLiteral("Which day suits you")));
}

TEST(PhoneScriptTest, ADayThatComesTooLateIsSaidToBeLateWithWhomToAsk) {
    test::SmallAgency agency(Date::of(2026, 3, 2));
    const test::Home home = agency.addHome();
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    supply::RefillProposal proposal;
    proposal.patient = home.patient;
    proposal.deliverFrom = Date::of(2026, 3, 2);
    proposal.deliverBy = Date::of(2026, 3, 5);
    proposal.deliverOn = Date::of(2026, 3, 6);
    QString text = all(phoneScript(proposal, index));
    EXPECT_FALSE(text.contains(QStringLiteral("at the latest")));
    for (const char *part :
         {"will be late", "Thu 5 Mar", "the nurse can carry it", "courier", "clinical lead"})
        EXPECT_TRUE(text.contains(QString::fromLatin1(part))) << part;
    proposal.deliverFrom = proposal.deliverOn = Date::of(2026, 4, 3);
    text = all(phoneScript(proposal, index));
    EXPECT_FALSE(text.contains(QStringLiteral("at the latest")));
    EXPECT_TRUE(text.contains(QStringLiteral("ask the payer")));
    EXPECT_FALSE(text.contains(u'%'));
}

TEST(PhoneScriptTest, ARecalledLotIsSetAsideBeforeTheCountOfTheOthers) {
    test::SmallAgency agency(Date::of(2026, 3, 2));
    const test::Home home = agency.addHome();
    const LotId lot = agency.storeroom(test::SmallAgency::kKit500, 50);
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(home.catheter), test::SmallAgency::kKit500, lot, Eaches::of(14)});
        for (Lot &l : s.lots)
            if (l.id == lot) {
                l.number = "L-14";
                l.state = LotState::Recalled;
            }
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    supply::RefillProposal proposal;
    proposal.patient = home.patient;
    proposal.deliverFrom = proposal.deliverOn = proposal.deliverBy = Date::of(2026, 3, 9);
    const std::vector<ScriptStep> steps = phoneScript(proposal, index);
    ASSERT_GT(steps.size(), 2U);
    for (const char *part : {"lot L-14", "set those aside", "not use them", "without them"})
        EXPECT_TRUE(steps[1].say.contains(QString::fromLatin1(part))) << part;
    EXPECT_TRUE(steps[1].note.contains(QStringLiteral("up to 14 of recalled lot L-14")));
    EXPECT_TRUE(steps[2].say.contains(QStringLiteral("unopened"))) << "then the count";
}

TEST(PhoneScriptTest, WhatIsPastItsLastDayIsLookedForBeforeTheCount) {
    test::SmallAgency agency(Date::of(2026, 3, 2));
    const test::Home home = agency.addHome();
    const LotId lot = agency.storeroom(test::SmallAgency::kKit500, 50, Date::of(2026, 3, 1));
    agency.edit([&](Snapshot &s) {
        s.balances.push_back({Place::home(home.catheter), test::SmallAgency::kKit500, lot, Eaches::of(4)});
    });
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    supply::RefillProposal proposal;
    proposal.patient = home.patient;
    proposal.deliverFrom = proposal.deliverOn = proposal.deliverBy = Date::of(2026, 3, 9);
    const std::vector<ScriptStep> steps = phoneScript(proposal, index);
    ASSERT_GT(steps.size(), 2U);
    EXPECT_TRUE(steps[1].say.contains(QStringLiteral("past it, and not use them")))
        << steps[1].say.toStdString();
    EXPECT_TRUE(steps[1].note.contains(QStringLiteral("past its last day Sun 1 Mar")))
        << steps[1].note.toStdString();
    EXPECT_TRUE(steps[1].note.contains(QStringLiteral("Count them with the others")));
    EXPECT_TRUE(steps[2].say.contains(QStringLiteral("unopened"))) << "then the count";
}

TEST(PhoneScriptTest, TheGeneralScriptNamesNobody) {
    AgencySettings settings;
    settings.agencyName = "Invented Home Care";
    const QString text = all(phoneScript(settings));
    EXPECT_TRUE(text.contains(QStringLiteral("Invented Home Care")));
    EXPECT_TRUE(text.contains(QStringLiteral("Give no advice")));
    EXPECT_FALSE(text.contains(u'%'));
}

TEST(PhoneScriptTest, UsedBottlesAreTheAgencysOwnSheetOrNothing) {
    AgencySettings settings;
    EXPECT_TRUE(all(phoneScript(settings)).contains(QStringLiteral("has named no sheet")));
    settings.usedBottleRules = "Sheet 12 of the invented county";
    const QString text = all(phoneScript(settings));
    EXPECT_TRUE(text.contains(QStringLiteral("our sheet says: Sheet 12")));
    EXPECT_FALSE(text.contains(QStringLiteral("has named no sheet")));
}

} // namespace
} // namespace kitround::desk
