// A bottle fails and somebody is harmed: what is kept, who is told, when the report leaves the house, and
// what came of it.
#include "core/desk/paper/IncidentPaper.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/views/Incidents.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

class Failure : public Story {
public:
    Failure() : home(addHome("A")), lot(receive(kit500, "L-17", 20, kMonday.plusDays(400))) {}

    // A serious device event of Monday morning, written down at once.
    Incident reported() {
        Incident incident;
        incident.kind = IncidentKind::Device;
        incident.harm = IncidentHarm::Serious;
        incident.patient = home.patient;
        incident.lot = lot;
        incident.at = at(kMonday, 7);
        incident.learnedOn = kMonday;
        incident.facts = "The bottle had no vacuum; the patient fainted.";
        incident.owner = "Morgan";
        incident.reportDueOn = reportProposed(incident.kind, incident.harm, incident.learnedOn);
        return must(desk().save(incident));
    }
    std::vector<AttentionItem> onToday() {
        auto items = attention(*agency(), nullptr, nullptr);
        std::erase_if(items,
                      [](const AttentionItem &item) { return item.kind != AttentionKind::IncidentReport; });
        return items;
    }
    std::vector<AttentionItem> due() { // those whose report is
        auto items = onToday();
        std::erase_if(items, [](const AttentionItem &item) {
            return !item.title.startsWith(QStringLiteral("External report"));
        });
        return items;
    }
    // The incident's line of the hand-over, or nothing.
    std::optional<HandOverItem> handedOver(const Incident &incident) {
        for (const HandOverItem &item : handOverItems(attention(*agency(), nullptr, nullptr), *agency()))
            if (item.subject == "incident:" + std::to_string(incident.id.value()))
                return item;
        return std::nullopt;
    }
    // What stands in the last column of its timeline, from above.
    std::vector<std::string> history(const Incident &incident) {
        std::vector<AuditEntry> changes = must(desk().audit(50, "incident", incident.id.value()));
        for (const AuditEntry &entry : must(desk().audit(50, "lot", lot.value())))
            changes.push_back(entry);
        std::vector<std::string> all;
        for (const auto &row : incidentTimeline(incident, *agency(), changes).rows)
            all.push_back(row[2]);
        return all;
    }
    QString steps(const Incident &incident) { return incidentSteps(incident, *agency()).join(u'\n'); }

    Home home;
    LotId lot;
};

TEST(IncidentStory, TheReportIsWatchedUntilItIsMade) {
    Failure s;
    Incident incident = s.reported();
    EXPECT_EQ(incident.reportDueOn, kMonday.plusDays(14)) << "ten work days";
    EXPECT_EQ(incidentList(*s.agency()).at(0).state, IncidentState::ReportAhead);
    EXPECT_TRUE(s.due().empty());
    s.now(at(kMonday.plusDays(9), 8)); // Wednesday: Thursday, Friday, Monday are left
    EXPECT_EQ(incidentList(*s.agency()).at(0).state, IncidentState::ReportNear);
    ASSERT_EQ(s.due().size(), 1U);
    EXPECT_EQ(s.due()[0].forRole, UserRole::NurseManager);
    EXPECT_TRUE(s.due()[0].detail.contains(QStringLiteral("Morgan")));
    s.now(at(kMonday.plusDays(15), 8));
    EXPECT_EQ(incidentList(*s.agency()).at(0).state, IncidentState::ReportLate);
    EXPECT_TRUE(s.due().at(0).detail.contains(QStringLiteral("is not made")));

    incident.closedOn = kMonday.plusDays(15);
    incident.outcome = "Supplier replaced the lot.";
    const Problem notReported = refused(s.desk().save(incident));
    EXPECT_EQ(notReported.field, "reported_on") << "not closed with a report open";
    EXPECT_TRUE(words(notReported).contains(QStringLiteral("a report is due by Mon 16 Mar 2026")))
        << words(notReported).toStdString();
    incident.closedOn.reset();
    incident.outcome.clear();
    incident.reportedOn = kMonday.plusDays(15);
    incident = must(s.desk().save(incident));
    EXPECT_TRUE(s.due().empty());
    EXPECT_EQ(incidentList(*s.agency()).at(0).state, IncidentState::Open);
    incident.closedOn = kMonday.plusDays(15);
    EXPECT_EQ(refused(s.desk().save(incident)).field, "outcome");
    incident.outcome = "Supplier replaced the lot.";
    incident = must(s.desk().save(incident));
    EXPECT_EQ(incidentList(*s.agency()).at(0).state, IncidentState::Closed);
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("Supplier replaced the lot.")));
}

TEST(IncidentStory, TheFaultyBottleIsKeptAndItsLotSetAside) {
    Failure s;
    Incident incident = s.reported();
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("do not throw it away")));
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("lot L-17 aside")));
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("Tell the supplier")));
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("Tell the prescriber")));
    incident.keptPlace = "Office, locked drawer";
    incident.supplierToldOn = incident.prescriberToldOn = kMonday;
    incident = must(s.desk().save(incident));
    ASSERT_TRUE(maySetLotAside(incident, *s.agency()));
    must(s.desk().setLotState(s.lot, LotState::Quarantined, "Incident of Monday"));
    EXPECT_FALSE(maySetLotAside(incident, *s.agency()));
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("Office, locked drawer")));
    EXPECT_FALSE(s.steps(incident).contains(QStringLiteral("aside")));
    EXPECT_FALSE(s.steps(incident).contains(QStringLiteral("Tell")));
    incident.lot.reset();
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("read it off the label")));
}

TEST(IncidentStory, AReportIsProposedForSeriousHarmWithADeviceAndDecidedByAPerson) {
    Failure s;
    EXPECT_FALSE(reportProposed(IncidentKind::Device, IncidentHarm::Slight, kMonday));
    EXPECT_FALSE(reportProposed(IncidentKind::Infection, IncidentHarm::Serious, kMonday));
    EXPECT_FALSE(reportProposed(IncidentKind::Device, IncidentHarm::Death, std::nullopt));
    Incident incident = s.reported();
    incident.reportDueOn.reset();
    incident = must(s.desk().save(incident));
    EXPECT_TRUE(s.steps(incident).contains(QStringLiteral("decide whether an external report is made")));
    s.now(at(kMonday.plusDays(30), 8));
    EXPECT_TRUE(s.due().empty()) << "nobody has decided on a day";
}

TEST(IncidentStory, TheFileTellsHowItWentAndNamesNobodyInFull) {
    Failure s;
    Incident incident = s.reported();
    incident.supplierToldOn = kMonday;
    incident = must(s.desk().save(incident));
    const auto changes = must(s.desk().audit(50, "incident", incident.id.value()));
    ASSERT_EQ(changes.size(), 2U);
    const Table timeline = incidentTimeline(incident, *s.agency(), changes);
    const auto has = [&](const std::string &what) {
        return std::ranges::any_of(timeline.rows, [&](const auto &row) { return row[2] == what; });
    };
    EXPECT_TRUE(has("It happened"));
    EXPECT_TRUE(has("Written down"));
    EXPECT_TRUE(has("Changed: Supplier told"));
    EXPECT_TRUE(has("Supplier told"));
    const std::vector<IncidentRow> rows = incidentList(*s.agency());
    const Patient &patient = *s.index().patient(s.home.patient);
    const std::string csv = asCsv(incidentTable(rows));
    EXPECT_NE(csv.find("L-17"), std::string::npos);
    EXPECT_NE(csv.find(patient.code), std::string::npos);
    EXPECT_EQ(csv.find(patient.familyName + ","), std::string::npos);
    const Paper paper = incidentPaper(rows.at(0), *s.agency(), timeline);
    EXPECT_TRUE(std::ranges::any_of(paper.sections, [](const Paper::Section &section) {
        return section.table && section.table->rows.size() >= 4;
    }));
}

TEST(IncidentStory, ADayToComeIsRefusedWhereSomethingIsSaidToBeDone) {
    Failure s;
    const Incident incident = s.reported();
    const auto refusedAt = [&](auto change) {
        Incident changed = incident;
        change(changed);
        const Problem problem = refused(s.desk().save(changed));
        EXPECT_EQ(firstArg(problem), "day_to_come");
        EXPECT_TRUE(words(problem).contains(QStringLiteral("has not come yet")));
        return problem.field;
    };
    const Date tomorrow = kMonday.plusDays(1);
    EXPECT_EQ(refusedAt([&](Incident &i) { i.at = at(kMonday, 9); }), "at") << "it is eight";
    EXPECT_EQ(refusedAt([&](Incident &i) { i.learnedOn = tomorrow; }), "learned_on");
    EXPECT_EQ(refusedAt([&](Incident &i) { i.prescriberToldOn = tomorrow; }), "prescriber_told_on");
    EXPECT_EQ(refusedAt([&](Incident &i) { i.supplierToldOn = tomorrow; }), "supplier_told_on");
    EXPECT_EQ(refusedAt([&](Incident &i) { i.reportedOn = tomorrow; }), "reported_on");
    EXPECT_EQ(refusedAt([&](Incident &i) { i.closedOn = tomorrow; }), "closed_on");
    Patient patient = *s.index().patient(s.home.patient);
    patient.noAllergiesOn = tomorrow;
    EXPECT_EQ(refused(s.desk().save(patient)).field, "no_allergies_on");
    patient.noAllergiesOn = kMonday;
    must(s.desk().save(patient));
}

TEST(IncidentStory, AnOpenOneStandsOnTodayUntilAllAreToldAndIsHandedOverUntilItIsClosed) {
    Failure s;
    Incident incident = s.reported();
    ASSERT_EQ(s.onToday().size(), 1U) << "its report is not near, but nobody is told";
    EXPECT_EQ(s.onToday()[0].forRole, UserRole::NurseManager);
    EXPECT_TRUE(s.onToday()[0].detail.contains(QStringLiteral("Tell the prescriber")));
    ASSERT_TRUE(s.handedOver(incident));
    EXPECT_NE(s.handedOver(incident)->what.find("with Morgan"), std::string::npos);
    EXPECT_EQ(s.handedOver(incident)->what.find("fainted"), std::string::npos);
    incident.supplierToldOn = incident.prescriberToldOn = kMonday;
    incident = must(s.desk().save(incident));
    EXPECT_EQ(s.onToday().size(), 1U) << "its lot is still given out";
    must(s.desk().setLotState(s.lot, LotState::Quarantined, "Incident of Monday"));
    EXPECT_TRUE(s.onToday().empty());
    EXPECT_TRUE(s.handedOver(incident));
    incident.reportedOn = incident.closedOn = kMonday;
    incident.outcome = "Replaced.";
    incident = must(s.desk().save(incident));
    EXPECT_FALSE(s.handedOver(incident));
    EXPECT_TRUE(s.onToday().empty());
}

TEST(IncidentStory, WhatWasNotDoneStaysWithAClosedOne) {
    Failure s;
    Incident incident = s.reported();
    EXPECT_EQ(incidentOpenSteps(incident, *s.agency()).size(), 4) << "keep it, its lot, two to tell";
    incident.reportedOn = incident.closedOn = kMonday;
    incident.outcome = "Replaced.";
    incident = must(s.desk().save(incident));
    EXPECT_TRUE(s.steps(incident).startsWith(QStringLiteral("Closed on")));
    EXPECT_TRUE(
        s.steps(incident).contains(QStringLiteral("Not done when it was closed: Tell the prescriber.")));
    Incident privacy = incident;
    privacy.kind = IncidentKind::Privacy;
    EXPECT_TRUE(s.steps(privacy).contains(QStringLiteral("privacy officer")));
    privacy.told = "Officer told by phone.";
    EXPECT_FALSE(s.steps(privacy).contains(QStringLiteral("privacy officer")));
}

TEST(IncidentStory, ItsHistoryBeginsWithWhatHappenedAndEndsWithTheClosing) {
    Failure s;
    Incident incident = s.reported();
    must(s.desk().setLotState(s.lot, LotState::Quarantined, "Incident of Monday"));
    incident.reportedOn = incident.closedOn = kMonday;
    incident.outcome = "Replaced.";
    incident = must(s.desk().save(incident));
    std::vector<std::string> history = s.history(incident);
    EXPECT_EQ(history.front(), "It happened");
    EXPECT_EQ(history.at(1), "The agency learned of it");
    EXPECT_EQ(history.back(), "Closed");
    EXPECT_EQ(std::ranges::count(history, std::string("Lot L-17 set aside")), 1);
    incident.closedOn.reset();
    incident = must(s.desk().save(incident));
    history = s.history(incident);
    EXPECT_EQ(std::ranges::count(history, std::string("Opened again")), 1);
    EXPECT_EQ(std::ranges::count(history, std::string("Closed")), 0);
    EXPECT_EQ(incidentList(*s.agency()).at(0).device.left(6), QStringLiteral("L-17, ")) << "the lot first";
}

TEST(IncidentStory, OpenOnesStandFirstThoseWithAReportByItsDay) {
    Failure s;
    Incident plain = s.reported();
    plain.id = {};
    plain.rowVersion = 0;
    plain.reportDueOn.reset();
    plain = must(s.desk().save(plain));
    Incident later = plain;
    later.id = {};
    later.rowVersion = 0;
    later.reportDueOn = kMonday.plusDays(3);
    later = must(s.desk().save(later));
    Incident done = plain;
    done.id = {};
    done.rowVersion = 0;
    done.closedOn = kMonday;
    done.outcome = "Nothing found.";
    done = must(s.desk().save(done));
    const std::vector<IncidentRow> rows = incidentList(*s.agency());
    ASSERT_EQ(rows.size(), 4U);
    EXPECT_EQ(rows[0].incident.id, later.id);
    EXPECT_EQ(rows[2].incident.id, plain.id);
    EXPECT_EQ(rows[3].incident.id, done.id);
}

} // namespace
} // namespace kitround::desk
