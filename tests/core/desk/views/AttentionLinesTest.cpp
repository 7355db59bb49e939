// What comes first under Today, which form settles a line, and whose a line is.
#include "core/calendar/Weeks.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/words/Words.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

constexpr Date kNow = Date::of(2026, 3, 2); // a Monday

AgencyPtr built(const SmallAgency &agency) {
    return std::make_shared<const Agency>(agency.build());
}

std::vector<AttentionItem> linesOf(const AgencyPtr &agency) {
    const auto stock = computeStock(agency, {}, {});
    EXPECT_TRUE(stock);
    return attention(*agency, stock ? stock->get() : nullptr, nullptr);
}

std::ptrdiff_t placeOf(const std::vector<AttentionItem> &lines, AttentionKind kind) {
    const auto found = std::ranges::find(lines, kind, &AttentionItem::kind);
    EXPECT_NE(found, lines.end()) << words(kind).toStdString();
    return found - lines.begin();
}

AttentionItem stockLineOf(const AgencyPtr &agency, PatientId patient) {
    for (const AttentionItem &line : linesOf(agency))
        if (line.kind == AttentionKind::UnknownStock && line.patient == patient)
            return line;
    ADD_FAILURE() << "no line about the stock of that home";
    return {};
}

// Tomorrow's visit was published for nine and stands at eleven.
void moveTomorrow(SmallAgency &agency, PatientId patient) {
    agency.edit([&](Snapshot &s) {
        Visit visit;
        visit.id = VisitId(900);
        visit.patient = patient;
        visit.kind = VisitKind::Routine;
        visit.status = VisitStatus::Published;
        visit.dueFrom = kNow;
        visit.dueTo = kNow.plusDays(5);
        visit.on = kNow.plusDays(1);
        visit.startAt = Minutes::of(660);
        visit.nurse = SmallAgency::kNurse;
        s.visits.push_back(visit);
        PlannedVisit planned;
        planned.visit = visit.id;
        planned.on = *visit.on;
        planned.startAt = Minutes::of(540);
        planned.nurse = SmallAgency::kNurse;
        Plan plan;
        plan.id = PlanId(900);
        plan.weekStart = calendar::weekStartOf(kNow, s.settings.weekStart);
        plan.status = PlanStatus::Published;
        plan.visits = {planned};
        s.firstPublished.push_back(plan);
        plan.visits[0].startAt = Minutes::of(660);
        s.plansInForce.push_back(plan);
    });
}

TEST(AttentionLinesTest, AVisitThatMovedTomorrowStandsBeforeRunOutsAndRefillCalls) {
    SmallAgency agency(kNow);
    const Home dry = agency.addHome();
    agency.order(dry, everyDays(2, kNow));
    for (int back = 20; back >= 2; back -= 2)
        agency.drained(dry, kNow.plusDays(-back), 400);
    agency.counted(dry, SmallAgency::kKit500, 0, kNow);
    moveTomorrow(agency, dry.patient);
    const auto lines = linesOf(built(agency));
    const auto phone = placeOf(lines, AttentionKind::PatientsToPhone);
    EXPECT_LT(phone, placeOf(lines, AttentionKind::RunOut));
    EXPECT_LT(phone, placeOf(lines, AttentionKind::RefillCall));
}

TEST(AttentionLinesTest, ANewHomeIsSentItsFirstSuppliesAndAnUncountedOneIsAsked) {
    SmallAgency agency(kNow);
    const Home fresh = agency.addHome(), uncounted = agency.addHome();
    for (const Home &home : {fresh, uncounted})
        agency.order(home, everyDays(2, kNow));
    agency.drained(uncounted, kNow.plusDays(-2), 400);
    agency.edit([](Snapshot &s) { s.catheters.front().insertedOn = kNow.plusDays(-2); });
    const AgencyPtr before = built(agency);
    const AttentionItem first = stockLineOf(before, fresh.patient);
    EXPECT_EQ(first.form, NextForm::FirstDelivery);
    EXPECT_EQ(first.formOf, fresh.patient);
    EXPECT_TRUE(first.title.startsWith(QStringLiteral("First supplies"))) << first.title.toStdString();
    EXPECT_TRUE(first.detail.contains(QStringLiteral("nothing was ever delivered")))
        << first.detail.toStdString();
    EXPECT_TRUE(formText(first, *before).contains(QStringLiteral("first delivery")));
    const AttentionItem ask = stockLineOf(before, uncounted.patient);
    EXPECT_EQ(ask.form, NextForm::Count);
    EXPECT_TRUE(ask.title.startsWith(QStringLiteral("What does"))) << ask.title.toStdString();
    EXPECT_TRUE(ask.detail.contains(QStringLiteral("record the count"))) << ask.detail.toStdString();
    EXPECT_EQ(formText(ask, *before), QStringLiteral("Record a count…"));

    agency.delivery(fresh, SmallAgency::kKit500, 10, kNow.plusDays(1), DeliveryStatus::Promised);
    const AttentionItem promised = stockLineOf(built(agency), fresh.patient);
    EXPECT_EQ(promised.form, NextForm::Count) << "it is not promised twice";
    EXPECT_TRUE(promised.detail.contains(QStringLiteral("on its way"))) << promised.detail.toStdString();
}

TEST(AttentionLinesTest, ADeliverySaysWhichWayItComes) {
    SmallAgency agency(kNow);
    const Home home = agency.addHome();
    agency.delivery(home, SmallAgency::kKit500, 10, kNow.plusDays(1), DeliveryStatus::Promised);
    const auto detail = [&](DeliveryWay way) {
        agency.edit([way](Snapshot &s) { s.deliveries.front().way = way; });
        const auto lines = attention(*built(agency), nullptr, nullptr);
        const auto found = std::ranges::find(lines, AttentionKind::DeliveryDue, &AttentionItem::kind);
        return found == lines.end() ? QString() : found->detail;
    };
    EXPECT_TRUE(detail(DeliveryWay::WithVisit).contains(QStringLiteral(", to come with a visit; it is ")));
    EXPECT_TRUE(detail(DeliveryWay::Courier).contains(QStringLiteral(", by courier; it is ")));
}

// Brought in from a list: care goes on since months, and the list of counts has not come yet.
TEST(AttentionLinesTest, AHomeInUseSinceBeforeTheRecordsBeginIsCountedFirst) {
    SmallAgency agency(kNow);
    const Home home = agency.addHome();
    agency.order(home, everyDays(2, kNow));
    const AgencyPtr before = built(agency);
    const AttentionItem ask = stockLineOf(before, home.patient);
    EXPECT_EQ(ask.form, NextForm::Count);
    EXPECT_TRUE(ask.title.startsWith(QStringLiteral("Count the home of "))) << ask.title.toStdString();
    EXPECT_FALSE(ask.detail.contains(QStringLiteral("new catheter"))) << ask.detail.toStdString();
    EXPECT_EQ(formText(ask, *before), QStringLiteral("Record a count…"));
}

TEST(AttentionLinesTest, EachCatheterIsToldAsItStandsNewOnesAndTheCountForThemselves) {
    SmallAgency agency(kNow);
    const Home old = agency.addHome();
    const Home left = agency.addCatheter(old, CavitySite::Chest, Side::Left);
    const Home belly = agency.addCatheter(old, CavitySite::Abdomen, Side::Right);
    for (const Home &home : {old, left, belly})
        agency.order(home, everyDays(2, kNow));
    agency.drained(old, kNow.plusDays(-2), 400);
    agency.edit([&](Snapshot &s) {
        for (Catheter &catheter : s.catheters)
            if (catheter.id != old.catheter)
                catheter.insertedOn = kNow.plusDays(-2);
    });
    const AgencyPtr now = built(agency);
    std::vector<AttentionItem> told;
    for (const AttentionItem &line : linesOf(now))
        if (line.kind == AttentionKind::UnknownStock)
            told.push_back(line);
    ASSERT_EQ(told.size(), 3U);
    const auto firstOf = [&](const Home &home) {
        return std::ranges::find(told, std::optional(home.catheter), &AttentionItem::firstFor);
    };
    const auto first = firstOf(left), second = firstOf(belly);
    const auto count = std::ranges::find(told, NextForm::Count, &AttentionItem::form);
    ASSERT_NE(first, told.end());
    ASSERT_NE(second, told.end());
    ASSERT_NE(count, told.end()) << "one was drained and never counted";
    for (const auto &line : {first, second})
        EXPECT_EQ(line->form, NextForm::FirstDelivery);
    const auto names = [&](const AttentionItem &line, const Home &home) {
        const Catheter *catheter = now->index().catheter(home.catheter);
        return line.detail.contains(QStringLiteral("(%1)").arg(catheterText(*catheter)));
    };
    EXPECT_TRUE(names(*first, left)) << first->detail.toStdString();
    EXPECT_FALSE(names(*first, old) || names(*first, belly)) << first->detail.toStdString();
    EXPECT_TRUE(names(*second, belly)) << second->detail.toStdString();
    EXPECT_NE(first->title, second->title);
    EXPECT_NE(handOverSubject(*first, *now), handOverSubject(*second, *now));
    EXPECT_TRUE(names(*count, old)) << count->detail.toStdString();
    EXPECT_FALSE(names(*count, left) || names(*count, belly)) << count->detail.toStdString();
    EXPECT_NE(handOverSubject(*first, *now), handOverSubject(*count, *now)) << "each has its own taker";
}

TEST(AttentionLinesTest, TheLineAboutAllergiesOpensTheFormOfTheFirstWhoWasNotAsked) {
    SmallAgency agency(kNow);
    const Home first = agency.addHome();
    agency.addHome();
    agency.edit([](Snapshot &s) {
        for (Patient &p : s.patients)
            p.noAllergiesOn.reset();
    });
    const auto line = [&](const Agency &now) {
        const auto lines = attention(now, nullptr, nullptr);
        const auto found = std::ranges::find(lines, NextForm::Allergies, &AttentionItem::form);
        EXPECT_NE(found, lines.end());
        return found == lines.end() ? AttentionItem() : *found;
    };
    const AgencyPtr both = built(agency);
    EXPECT_EQ(line(*both).formOf, first.patient);
    EXPECT_TRUE(formText(line(*both), *both).startsWith(QStringLiteral("Enter those of ")));
    agency.edit([](Snapshot &s) { s.patients[0].noAllergiesOn = kNow; });
    const AgencyPtr one = built(agency);
    EXPECT_NE(line(*one).formOf, first.patient);
    EXPECT_EQ(formText(line(*one), *one), QStringLiteral("Enter the allergies…"));
}

constexpr UserId kCoordinator{1}, kClerk{2}, kManager{3};

class MineTest : public ::testing::Test {
protected:
    MineTest() {
        agency.edit([](Snapshot &s) {
            s.users.clear();
            for (const auto &[id, name, role] : {std::tuple(kCoordinator, "Kim", UserRole::Coordinator),
                                                 std::tuple(kClerk, "Robin", UserRole::SupplyClerk),
                                                 std::tuple(kManager, "Ada", UserRole::NurseManager)}) {
                User user;
                user.id = id;
                user.name = name;
                user.role = role;
                s.users.push_back(user);
            }
        });
    }
    static AttentionItem line(AttentionKind kind, Harm harm = Harm::Today, std::optional<UserId> owner = {}) {
        AttentionItem item;
        item.kind = kind;
        item.harm = harm;
        item.owner = owner;
        return item;
    }
    bool isMine(UserId user, const AttentionItem &item) const {
        return !mineOf(user, {item}, *built(agency)).empty();
    }
    // As the start page does: what the user is shown at all, and of that what is the user's own.
    std::vector<AttentionItem> ownLines(UserId user) const {
        const AgencyPtr now = built(agency);
        return mineOf(user, attentionFor(user, attention(*now, nullptr, nullptr), *now), *now);
    }
    bool hasOwn(UserId user, AttentionKind kind) const {
        const auto own = ownLines(user);
        return std::ranges::find(own, kind, &AttentionItem::kind) != own.end();
    }
    void leaves(UserId user) {
        agency.edit([&](Snapshot &s) { std::ranges::find(s.users, user, &User::id)->isActive = false; });
    }
    // Patient data was lost and nobody was told yet.
    void lose(IncidentId id, const char *owner) {
        agency.edit([&](Snapshot &s) {
            Incident incident;
            incident.id = id;
            incident.kind = IncidentKind::Privacy;
            incident.at = s.now;
            incident.learnedOn = s.asOf;
            incident.facts = "A list was left in a lift.";
            incident.owner = owner;
            s.incidents.push_back(incident);
        });
    }
    // Handed over by the coordinator at eight, `id` seconds past; accepted there and then, or waiting.
    void handOver(std::int64_t id, const std::string &subject, std::optional<UserId> acceptedBy) {
        const Instant at = Instant::fromUnixSeconds(kNow.dayNumber() * 86400 + 13 * 3600 + id);
        HandOverItem item;
        item.subject = subject;
        item.what = "call";
        item.acceptedBy = acceptedBy;
        if (acceptedBy)
            item.acceptedAt = at;
        HandOver record;
        record.id = HandOverId(id);
        record.handedBy = kCoordinator;
        record.handedAt = at;
        record.items = {item};
        agency.edit([&](Snapshot &s) { s.handOvers.push_back(record); });
    }

    SmallAgency agency{kNow};
};

TEST_F(MineTest, TheWorkOfARoleIsItsOwnAndAnEmergencyEverybodys) {
    const auto phone = line(AttentionKind::PatientsToPhone), dry = line(AttentionKind::RunOut),
               leave = line(AttentionKind::LeaveWaiting), call = line(AttentionKind::CallAbout);
    EXPECT_TRUE(isMine(kCoordinator, phone));
    EXPECT_FALSE(isMine(kClerk, phone));
    EXPECT_TRUE(isMine(kClerk, dry));
    EXPECT_FALSE(isMine(kCoordinator, dry));
    EXPECT_TRUE(isMine(kManager, leave));
    EXPECT_FALSE(isMine(kCoordinator, leave));
    EXPECT_TRUE(isMine(kCoordinator, call));
    EXPECT_TRUE(isMine(kManager, call));
    EXPECT_FALSE(isMine(kClerk, call)) << "care is not asked of who looks after the shelf";
    EXPECT_TRUE(isMine(kClerk, line(AttentionKind::HandOverWaiting)));
    for (const UserId user : {kCoordinator, kClerk, kManager})
        EXPECT_TRUE(isMine(user, line(AttentionKind::CallAbout, Harm::Emergency, kManager)));
}

TEST_F(MineTest, WhatSomebodyHasByNameIsThatPersonsAlone) {
    const auto taken = line(AttentionKind::RunOut, Harm::Today, kCoordinator);
    EXPECT_TRUE(isMine(kCoordinator, taken));
    EXPECT_FALSE(isMine(kClerk, taken));
    EXPECT_EQ(ownerText(taken, *built(agency)), QStringLiteral("Kim has it."));
    EXPECT_TRUE(ownerText(line(AttentionKind::RunOut), *built(agency)).isEmpty());
}

TEST_F(MineTest, TheWorkOfARoleThatNobodyHasIsEverybodys) {
    agency.edit([](Snapshot &s) { std::erase_if(s.users, [](const User &u) { return u.id == kClerk; }); });
    EXPECT_TRUE(isMine(kCoordinator, line(AttentionKind::RunOut)));
    EXPECT_TRUE(isMine(kManager, line(AttentionKind::RunOut)));
}

TEST_F(MineTest, ACallThatCameInIsWhoseNameStandsOnItElseItsTopics) {
    const auto lineOf = [&](CallTopic topic, const char *owner) {
        agency.edit([&](Snapshot &s) {
            PhoneCall call;
            call.id = PhoneCallId(7);
            call.at = s.now;
            call.topic = topic;
            call.words = "asks";
            call.owner = owner;
            s.phoneCalls = {call};
        });
        const auto lines = attention(*built(agency), nullptr, nullptr);
        const auto found = std::ranges::find(lines, std::optional(PhoneCallId(7)), &AttentionItem::phoneCall);
        EXPECT_NE(found, lines.end());
        return found == lines.end() ? AttentionItem() : *found;
    };
    EXPECT_EQ(lineOf(CallTopic::Supply, " kim ").owner, kCoordinator) << "however it is written";
    const AttentionItem supply = lineOf(CallTopic::Supply, "whoever is in");
    EXPECT_FALSE(supply.owner) << "that is nobody's name";
    EXPECT_TRUE(isMine(kClerk, supply));
    EXPECT_FALSE(isMine(kCoordinator, supply));
    const AttentionItem visit = lineOf(CallTopic::Schedule, "");
    EXPECT_TRUE(isMine(kCoordinator, visit));
    EXPECT_FALSE(isMine(kClerk, visit));
}

TEST_F(MineTest, WhoAcceptedALineHasItUntilItIsHandedOn) {
    const Home home = agency.addHome();
    agency.edit([&](Snapshot &s) {
        CallItem call;
        call.id = CallItemId(5);
        call.patient = home.patient;
        call.kind = CautionKind::SymptomToday;
        call.urgency = CautionUrgency::Today;
        call.evidence = {"collapse"};
        call.raisedAt = s.now;
        s.callItems.push_back(call);
    });
    const auto theLine = [&] {
        const auto lines = attention(*built(agency), nullptr, nullptr);
        const auto found = std::ranges::find(lines, std::optional(CallItemId(5)), &AttentionItem::callItem);
        EXPECT_NE(found, lines.end());
        return found == lines.end() ? AttentionItem() : *found;
    };
    EXPECT_FALSE(theLine().owner);
    const std::string subject = handOverSubject(theLine(), *built(agency));
    handOver(1, subject, kManager);
    EXPECT_EQ(theLine().owner, kManager);
    EXPECT_FALSE(isMine(kCoordinator, theLine()));
    handOver(2, subject, std::nullopt);
    EXPECT_FALSE(theLine().owner) << "handed on: whose it will be is open";
    handOver(3, subject, kManager);
    agency.edit([](Snapshot &s) { s.handOvers.erase(s.handOvers.begin() + 1); });
    EXPECT_EQ(theLine().owner, kManager);
    leaves(kManager);
    EXPECT_FALSE(theLine().owner) << "who accepted it has left";
    EXPECT_TRUE(isMine(kCoordinator, theLine()));
}

TEST_F(MineTest, AnIncidentIsItsOwnersElseTheManagers) {
    lose(IncidentId(4), "Kim");
    EXPECT_TRUE(hasOwn(kCoordinator, AttentionKind::IncidentReport)) << "she has it by name";
    EXPECT_FALSE(hasOwn(kManager, AttentionKind::IncidentReport));
    const auto isShown = [&](UserId user) {
        const AgencyPtr now = built(agency);
        const auto lines = attentionFor(user, attention(*now, nullptr, nullptr), *now);
        return std::ranges::find(lines, AttentionKind::IncidentReport, &AttentionItem::kind) != lines.end();
    };
    EXPECT_TRUE(isShown(kManager));
    EXPECT_FALSE(isShown(kClerk)) << "neither the owner's nor the manager's";
    leaves(kCoordinator);
    EXPECT_TRUE(hasOwn(kManager, AttentionKind::IncidentReport)) << "its owner has left";
}

TEST_F(MineTest, AnIncidentThatWasAcceptedIsWhoAcceptedIt) {
    lose(IncidentId(4), "");
    EXPECT_TRUE(hasOwn(kManager, AttentionKind::IncidentReport));
    const AgencyPtr now = built(agency);
    const auto lines = attention(*now, nullptr, nullptr);
    const auto handed = handOverItems(lines, *now);
    const auto line = std::ranges::find(lines, AttentionKind::IncidentReport, &AttentionItem::kind);
    ASSERT_NE(line, lines.end());
    const std::string subject = handOverSubject(*line, *now);
    EXPECT_EQ(std::ranges::count(handed, subject, &HandOverItem::subject), 1) << subject;
    handOver(1, subject, kClerk);
    EXPECT_TRUE(hasOwn(kClerk, AttentionKind::IncidentReport));
    EXPECT_FALSE(hasOwn(kManager, AttentionKind::IncidentReport));
}

TEST_F(MineTest, AWatchOfSomebodyWhoLeftIsWhoeverLooksAfterPeople) {
    const Home home = agency.addHome();
    agency.edit([&](Snapshot &s) {
        WatchEntry entry;
        entry.id = WatchEntryId(3);
        entry.patient = home.patient;
        entry.since = s.now;
        entry.ownerUser = kManager;
        entry.nextStep = "Phone the daughter";
        entry.nextOn = s.asOf;
        s.watchEntries.push_back(entry);
    });
    EXPECT_TRUE(hasOwn(kManager, AttentionKind::WatchDue));
    EXPECT_FALSE(hasOwn(kCoordinator, AttentionKind::WatchDue));
    leaves(kManager);
    EXPECT_TRUE(hasOwn(kCoordinator, AttentionKind::WatchDue));
}

TEST_F(MineTest, CareIsTheClerksWhereNobodyElseWorksWithTheFile) {
    const auto call = line(AttentionKind::CallAbout);
    leaves(kCoordinator);
    EXPECT_FALSE(isMine(kClerk, call)) << "the manager looks after people";
    leaves(kManager);
    EXPECT_TRUE(isMine(kClerk, call));
}

TEST(AttentionLinesTest, ANewAgencyIsLedThroughItsFirstSteps) {
    SmallAgency agency;
    const auto steps = [&] {
        std::vector<std::string> places;
        for (const AttentionItem &line : linesOf(built(agency)))
            if (!line.workplace.empty()) {
                places.push_back(line.workplace);
                EXPECT_EQ(line.kind, AttentionKind::UnknownFact);
                EXPECT_FALSE(line.detail.isEmpty());
            }
        return places;
    };
    const std::vector<std::string> kept = steps(); // it has a nurse, items and a supplier
    ASSERT_FALSE(kept.empty());
    EXPECT_EQ(kept.back(), "patients");
    EXPECT_EQ(std::ranges::count(kept, "nurses"), 0);
    agency.edit([](Snapshot &s) {
        s.nurses.clear();
        s.items.clear();
        s.suppliers.clear();
        s.supplierItems.clear();
        s.settings.storeroom.point.reset();
    });
    EXPECT_EQ(steps(),
              (std::vector<std::string>{"settings", "nurses", "catalogue", "suppliers", "patients"}));
    SmallAgency grown;
    grown.addHome();
    for (const AttentionItem &line : linesOf(built(grown)))
        EXPECT_TRUE(line.workplace.empty()) << line.title.toStdString();
}

QString stepDetail(const SmallAgency &agency, const char *workplace) {
    for (const AttentionItem &line : linesOf(built(agency)))
        if (line.workplace == workplace)
            return line.detail;
    return {};
}

TEST(AttentionLinesTest, ANurseWithoutSkillOrShiftIsNoStepDone) {
    SmallAgency agency;
    EXPECT_TRUE(stepDetail(agency, "nurses").isEmpty());
    agency.edit([](Snapshot &s) { s.shiftPatterns.clear(); });
    const QString noShift = stepDetail(agency, "nurses");
    EXPECT_TRUE(noShift.contains(QStringLiteral("no shift"))) << noShift.toStdString();
    EXPECT_FALSE(noShift.contains(QStringLiteral("no skill"))) << noShift.toStdString();
    agency.edit([](Snapshot &s) { s.nurses.front().skills.clear(); });
    const QString neither = stepDetail(agency, "nurses");
    EXPECT_TRUE(neither.contains(QStringLiteral("no skill"))) << neither.toStdString();
    EXPECT_TRUE(neither.contains(QStringLiteral("no shift"))) << neither.toStdString();
    EXPECT_TRUE(neither.contains(QStringLiteral("Nurse"))) << "by name";
}

TEST(AttentionLinesTest, APlaceThatCanHardlyBeMeantIsAskedAbout) {
    const auto asks = [](const SmallAgency &agency) {
        QStringList titles;
        for (const AttentionItem &line : linesOf(built(agency)))
            if (line.detail.contains(QStringLiteral("is minus"))) {
                EXPECT_EQ(line.kind, AttentionKind::UnknownFact);
                titles << line.title;
            }
        return titles;
    };
    SmallAgency agency;
    const GeoPoint right{40.0, -75.0}, wrong{40.0, 75.0};
    agency.edit([&](Snapshot &s) { s.settings.storeroom.point = wrong; });
    const QString step = stepDetail(agency, "settings");
    EXPECT_TRUE(step.contains(QStringLiteral("75.00"))) << step.toStdString();
    EXPECT_TRUE(step.contains(QStringLiteral("-75"))) << step.toStdString();
    agency.addHome();
    agency.edit([&](Snapshot &s) { s.patients.front().address.point = right; });
    EXPECT_EQ(asks(agency), QStringList{QStringLiteral("Is the storeroom's place on the map right?")})
        << "one line, not one for each home";
    agency.edit([&](Snapshot &s) {
        s.settings.storeroom.point = right;
        s.patients.front().address.point = wrong;
    });
    ASSERT_EQ(asks(agency).size(), 1);
    EXPECT_TRUE(asks(agency).front().startsWith(QStringLiteral("Is the home of")));
    agency.edit([&](Snapshot &s) {
        s.patients.front().address.point = right;
        s.nurses.front().base.point = wrong;
    });
    ASSERT_EQ(asks(agency).size(), 1);
    EXPECT_TRUE(asks(agency).front().contains(QStringLiteral("Nurse")));
}

} // namespace
} // namespace kitround::desk
