// A bottle fails and somebody is harmed: what is kept, who is told, when the report leaves the house, and
// what came of it.
#include "core/desk/paper/IncidentPaper.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/Incidents.h"
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
    std::vector<AttentionItem> due() {
        auto items = attention(*agency(), nullptr, nullptr);
        std::erase_if(items,
                      [](const AttentionItem &item) { return item.kind != AttentionKind::IncidentReport; });
        return items;
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
    EXPECT_EQ(refused(s.desk().save(incident)).field, "reported_on") << "not closed with a report open";
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
