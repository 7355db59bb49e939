// What is said of people on the lists: who may be on record twice, who shares a name, what is overdue, which
// lines a supply clerk reads first, and which fact of a catheter is missing.
#include "core/desk/views/Attention.h"
#include "core/desk/views/NurseLeaving.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/words/Words.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

constexpr Date kMonday = Date::of(2026, 3, 2);

AgencyPtr built(const SmallAgency &agency) {
    return std::make_shared<const Agency>(agency.build());
}

Patient &patientOf(Snapshot &snapshot, const Home &home) {
    return *std::ranges::find(snapshot.patients, home.patient, &Patient::id);
}

const AttentionItem *titled(const std::vector<AttentionItem> &items, AttentionKind kind, const char *part) {
    for (const AttentionItem &item : items)
        if (item.kind == kind && item.title.contains(QLatin1String(part)))
            return &item;
    return nullptr;
}

// Two homes with orders; the first patient has a date of birth.
struct TwoHomes {
    SmallAgency agency{kMonday};
    Home ada, ben;
    TwoHomes() {
        ada = agency.addHome();
        ben = agency.addHome();
        agency.order(ada, everyDays(2, kMonday)).order(ben, everyDays(2, kMonday));
        agency.edit([&](Snapshot &s) {
            name(patientOf(s, ada), "Alder", "Ada");
            patientOf(s, ada).bornOn = Date::of(1941, 7, 9);
            name(patientOf(s, ben), "Birch", "Ben");
        });
    }
    static void name(Patient &patient, const char *family, const char *given) {
        patient.familyName = family;
        patient.givenName = given;
    }
};

TEST(SameNameTest, IsFoundHoweverTheNameIsWritten) {
    const TwoHomes homes;
    const auto agency = built(homes.agency);
    Patient entered;
    TwoHomes::name(entered, " ALDER ", "ada");
    const Patient *found = sameName(*agency, entered);
    ASSERT_NE(found, nullptr) << "no date of birth is no other one";
    EXPECT_EQ(found->id, homes.ada.patient);
    entered.bornOn = Date::of(1941, 7, 9);
    EXPECT_NE(sameName(*agency, entered), nullptr);
    entered.bornOn = Date::of(1950, 7, 9);
    EXPECT_EQ(sameName(*agency, entered), nullptr) << "another date of birth: another person";
    entered.bornOn = Date::of(1941, 7, 9);
    entered.givenName = "Ann";
    EXPECT_EQ(sameName(*agency, entered), nullptr);
}

TEST(SameNameTest, ARecordIsAskedAboutOnlyWhereItsNameOrDateChanges) {
    TwoHomes homes;
    homes.agency.edit([&](Snapshot &s) { TwoHomes::name(patientOf(s, homes.ben), "Alder", "Ada"); });
    const auto agency = built(homes.agency);
    Patient stored = *agency->index().patient(homes.ben.patient);
    stored.phone = "555-0100";
    EXPECT_EQ(sameName(*agency, stored), nullptr) << "was asked when it was entered";
    stored.bornOn = Date::of(1941, 7, 9);
    const Patient *found = sameName(*agency, stored);
    ASSERT_NE(found, nullptr);
    EXPECT_EQ(found->id, homes.ada.patient);
    EXPECT_EQ(sameName(*agency, *agency->index().patient(homes.ada.patient)), nullptr);
}

TEST(SameNameTest, TheQuestionNamesBirthReferenceAndStatus) {
    const TwoHomes homes;
    const auto agency = built(homes.agency);
    const SnapshotIndex &index = agency->index();
    EXPECT_EQ(sameNameText(*agency, *index.patient(homes.ada.patient)),
              QStringLiteral("Alder, Ada, born %1, is here already as P1 (active). Is this another person?")
                  .arg(dayText(Date::of(1941, 7, 9), kMonday)));
    EXPECT_TRUE(
        sameNameText(*agency, *index.patient(homes.ben.patient))
            .startsWith(QStringLiteral("Birch, Ben, born on a day not known, is here already as P2")));
}

TEST(NamesakeTest, TitlesCarryTheReferenceWhereTwoSoundAlike) {
    TwoHomes homes;
    homes.agency.edit([&](Snapshot &s) {
        TwoHomes::name(patientOf(s, homes.ben), "Alder", "Agnes");
        for (Catheter &c : s.catheters)
            c.insertedOn.reset(); // a line of each under Today
    });
    const Home apart = homes.agency.addHome();
    homes.agency.edit([&](Snapshot &s) { s.catheters.back().insertedOn.reset(); });
    const auto agency = built(homes.agency);
    const SnapshotIndex &index = agency->index();
    EXPECT_TRUE(index.hasNamesake(homes.ada.patient));
    EXPECT_TRUE(index.hasNamesake(homes.ben.patient));
    EXPECT_FALSE(index.hasNamesake(apart.patient));
    EXPECT_EQ(personName(*index.patient(homes.ada.patient), index), QStringLiteral("Alder, Ada (P1)"));
    EXPECT_EQ(personName(*index.patient(apart.patient), index), QStringLiteral("Patient3, Invented"));
    const auto items = attention(*agency, nullptr, nullptr);
    EXPECT_NE(titled(items, AttentionKind::UnknownFact, "A. Alder (P1)"), nullptr);
    EXPECT_NE(titled(items, AttentionKind::UnknownFact, "A. Alder (P2)"), nullptr);
    EXPECT_NE(titled(items, AttentionKind::UnknownFact, "I. Patient3"), nullptr);
    EXPECT_EQ(titled(items, AttentionKind::UnknownFact, "(P3)"), nullptr);
}

TEST(DueWordsTest, ADayThatPassedIsOverdueOrOpenSinceAndOneAheadIsTheDay) {
    AttentionItem item;
    EXPECT_EQ(dueWords(item, kMonday), QString());
    item.dueOn = kMonday.plusDays(2);
    EXPECT_EQ(dueWords(item, kMonday), QStringLiteral("Wed 4 Mar"));
    item.dueOn = kMonday;
    EXPECT_EQ(dueWords(item, kMonday), QStringLiteral("Mon 2 Mar"));
    item.dueOn = kMonday.plusDays(-1);
    EXPECT_EQ(dueWords(item, kMonday), QStringLiteral("overdue since Sun 1 Mar"));
    item.dueOn = kMonday.plusDays(-5);
    EXPECT_EQ(dueWords(item, kMonday), QStringLiteral("overdue since Wed 25 Feb, 5 days"));
    item.dueOn = kMonday.plusDays(-1);
    item.order = DrainOrderId(7); // a question: the day it arose
    EXPECT_EQ(dueWords(item, kMonday), QStringLiteral("open since Sun 1 Mar"));
    item.order.reset();
    item.phoneCall = PhoneCallId(7);
    EXPECT_EQ(dueWords(item, kMonday), QStringLiteral("open since Sun 1 Mar"));
}

TEST(HomeRecordTest, FewerThanNoneIsToldInWordsAndAsksForACount) {
    TwoHomes homes;
    homes.agency.counted(homes.ada, SmallAgency::kKit500, 1, kMonday.plusDays(-6));
    homes.agency.drained(homes.ada, kMonday.plusDays(-4), 400, {{SmallAgency::kKit500, 3}});
    const auto agency = built(homes.agency);
    const auto stock = computeStock(agency, {}, {});
    ASSERT_TRUE(stock) << debugText(stock.error());
    const auto items = attention(*agency, stock->get(), nullptr);
    const auto told = std::ranges::find_if(items, [&](const AttentionItem &item) {
        return item.kind == AttentionKind::RunOut && item.patient == homes.ada.patient &&
               item.detail.startsWith(QStringLiteral("The record says 2 fewer than none in the home"));
    });
    ASSERT_NE(told, items.end());
    EXPECT_TRUE(told->detail.contains(QStringLiteral("Count again."))) << told->detail.toStdString();
    EXPECT_FALSE(told->detail.contains(QStringLiteral("-2"))) << told->detail.toStdString();
}

std::vector<AttentionKind> kindsOf(const std::vector<AttentionItem> &items) {
    std::vector<AttentionKind> kinds;
    for (const AttentionItem &item : items)
        kinds.push_back(item.kind);
    return kinds;
}

TEST(ClerksOrderTest, SuppliesComeBeforeTheRestAndAnEmergencyBeforeBoth) {
    TwoHomes homes;
    constexpr UserId kClerk{71}, kCoordinator{72};
    homes.agency.edit([&](Snapshot &s) {
        for (const auto &[id, role] :
             {std::pair(kClerk, UserRole::SupplyClerk), std::pair(kCoordinator, UserRole::Coordinator)}) {
            User user;
            user.id = id;
            user.name = "U" + std::to_string(id.value());
            user.role = role;
            s.users.push_back(user);
        }
    });
    const auto agency = built(homes.agency);
    std::vector<AttentionItem> items;
    const auto add = [&](AttentionKind kind, Harm harm) {
        AttentionItem item;
        item.kind = kind;
        item.harm = harm;
        items.push_back(item);
    };
    add(AttentionKind::CallAbout, Harm::Emergency);
    add(AttentionKind::CallAbout, Harm::Today);
    add(AttentionKind::FirstVisitDue, Harm::Today);
    add(AttentionKind::RunOut, Harm::Today);
    add(AttentionKind::RecertDue, Harm::Soon);
    add(AttentionKind::ReorderDue, Harm::Soon);
    using enum AttentionKind;
    EXPECT_EQ(kindsOf(attentionFor(kClerk, items, *agency)),
              (std::vector{CallAbout, RunOut, ReorderDue, CallAbout, FirstVisitDue, RecertDue}));
    EXPECT_EQ(kindsOf(attentionFor(kCoordinator, items, *agency)), kindsOf(items))
        << "the others' order stays";
}

TEST(UnknownConnectorTest, IsAFactMissingUntilItIsEntered) {
    TwoHomes homes;
    homes.agency.edit([](Snapshot &s) {
        std::ranges::find(s.items, SmallAgency::kKit500, &Item::id)->connector = "A";
        s.catheters[0].connector.clear();
        s.catheters[1].connector = "A";
    });
    const auto items = attention(*built(homes.agency), nullptr, nullptr);
    const AttentionItem *asked =
        titled(items, AttentionKind::UnknownFact, "Which connector has the catheter");
    ASSERT_NE(asked, nullptr);
    EXPECT_EQ(asked->patient, homes.ada.patient);
    EXPECT_TRUE(asked->detail.contains(QStringLiteral("fits class A only"))) << asked->detail.toStdString();
    homes.agency.edit([](Snapshot &s) { s.catheters[0].connector = "A"; });
    EXPECT_EQ(titled(attention(*built(homes.agency), nullptr, nullptr), AttentionKind::UnknownFact,
                     "Which connector"),
              nullptr);
}

// Both homes have her as main nurse, and one of them is to be visited.
struct NurseGoes {
    TwoHomes homes;
    NurseGoes() {
        homes.agency.edit([&](Snapshot &s) {
            Visit visit;
            visit.id = VisitId(500);
            visit.patient = homes.ada.patient;
            visit.status = VisitStatus::Published;
            visit.dueFrom = kMonday.plusDays(1);
            visit.dueTo = kMonday.plusDays(2);
            visit.length = Minutes::of(45);
            visit.on = visit.dueFrom;
            visit.startAt = Minutes::of(540);
            visit.nurse = SmallAgency::kNurse;
            s.visits.push_back(visit);
            visit.id = VisitId(501);
            visit.status = VisitStatus::Drafted;
            visit.on = kMonday.plusDays(3);
            s.visits.push_back(visit);
            visit.id = VisitId(502);
            visit.status = VisitStatus::Done;
            visit.on = kMonday.plusDays(-1);
            s.visits.push_back(visit);
        });
    }
};

TEST(NurseLeavingTest, WhatIsStillHersIsSaidBeforeSheIsMarkedAsGone) {
    const NurseGoes goes;
    const auto agency = built(goes.homes.agency);
    const NurseAhead ahead = nurseAhead(*agency, SmallAgency::kNurse);
    EXPECT_EQ(ahead.published, 1);
    EXPECT_EQ(ahead.drafted, 1);
    EXPECT_EQ(ahead.mainOf.size(), 2U);
    const QString asked = leavingQuestion(*agency, *agency->index().nurse(SmallAgency::kNurse));
    EXPECT_TRUE(
        asked.contains(QStringLiteral("1 published visit, 1 visit of a draft, main nurse of 2 patients")))
        << asked.toStdString();
    EXPECT_EQ(titled(attention(*agency, nullptr, nullptr), AttentionKind::MainNurseLeft, ""), nullptr);
    SmallAgency nobody(kMonday);
    const auto empty = built(nobody);
    EXPECT_TRUE(leavingQuestion(*empty, *empty->index().nurse(SmallAgency::kNurse)).isEmpty());
}

TEST(NurseLeavingTest, WhatSheLeftBehindStandsUnderTodayAndAtHerPatientsUntilItIsHandedOver) {
    NurseGoes goes;
    SmallAgency &agency = goes.homes.agency;
    agency.edit([](Snapshot &s) { s.nurses[0].isActive = false; });
    const auto left = [&agency] {
        const auto now = built(agency);
        std::vector<AttentionItem> items = attention(*now, nullptr, nullptr);
        std::erase_if(items, [](const AttentionItem &i) { return i.kind != AttentionKind::MainNurseLeft; });
        return items;
    };
    ASSERT_EQ(left().size(), 1U);
    EXPECT_TRUE(left()[0].title.startsWith(QStringLiteral("2 patients need a main nurse: ")))
        << left()[0].title.toStdString();
    EXPECT_EQ(left()[0].harm, Harm::Today) << "somebody waits for a visit nobody makes";
    EXPECT_TRUE(left()[0].detail.contains(QStringLiteral("A. Alder"))) << left()[0].detail.toStdString();
    EXPECT_FALSE(detailInCopies(left()[0]).contains(QStringLiteral("Alder")));
    const PatientRow row = patientRows(*built(agency))[0];
    EXPECT_TRUE(row.primaryNurse.endsWith(QStringLiteral("(no longer works here)")));
    EXPECT_TRUE(row.isNurseGone);
    agency.edit([](Snapshot &s) {
        for (Visit &visit : s.visits)
            visit.nurse.reset();
    });
    EXPECT_EQ(left()[0].harm, Harm::Soon);
    agency.edit([](Snapshot &s) {
        for (Patient &patient : s.patients)
            patient.primaryNurse.reset();
    });
    EXPECT_TRUE(left().empty());
}

} // namespace
} // namespace kitround::desk
