// What the manager's meeting gets on paper: the picture, the lists, and patients told apart.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/ManagerReview.h"
#include "core/desk/views/QualityView.h"
#include "core/desk/words/Words.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;
using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2); // a Monday

TEST(LoadPaperTest, HoldsThePictureTheWatchListAndTheLeaveWithPatientsByReference) {
    SmallAgency small(kToday);
    small.order(small.addHome(), everyDays(2, kToday));
    small.edit([](Snapshot &s) {
        s.catheters[0].insertedOn = kToday.plusDays(-200);
        s.settings.set(SettingKey::WatchDwellDays, 90);
        TimeOff off;
        off.id = TimeOffId(1);
        off.nurse = SmallAgency::kNurse;
        off.from = kToday.plusDays(10);
        off.to = kToday.plusDays(12);
        off.status = LeaveStatus::Requested;
        s.timeOff.push_back(off);
    });
    const auto agency = std::make_shared<const Agency>(small.build());
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    const Paper paper = loadPaper(**open, loadReview(**open));
    const auto section = [&](const QString &heading) {
        const auto found = std::ranges::find(paper.sections, heading, &Paper::Section::heading);
        EXPECT_NE(found, paper.sections.end()) << heading.toStdString();
        return found == paper.sections.end() ? Paper::Section{} : *found;
    };
    const auto load = section(QStringLiteral("Load by nurse and week"));
    ASSERT_TRUE(load.bars);
    const LoadHeat heat = loadHeat(**open);
    ASSERT_EQ(load.bars->rows.size(), heat.rows.size());
    for (std::size_t r = 0; r < heat.rows.size(); ++r) {
        const auto &bars = load.bars->rows[r].bars;
        EXPECT_EQ(bars.size(), static_cast<std::size_t>(load.bars->columns.size()));
        EXPECT_EQ(bars.back().text, heatText(heat.rows[r].cells.back()));
    }
    const auto watched = section(QStringLiteral("Watch list"));
    ASSERT_TRUE(watched.table);
    const Patient &patient = agency->snapshot().patients[0];
    EXPECT_TRUE(std::ranges::any_of(
        watched.table->rows, [&](const auto &row) { return row[1] == patientMark(patient).toStdString(); }));
    const auto leave = section(QStringLiteral("Leave"));
    ASSERT_TRUE(leave.table);
    EXPECT_EQ(leave.table->rows.size(), 1U);
    EXPECT_EQ(leave.table->rows[0][1], dayText(kToday.plusDays(10)).toStdString()) << "a day, not a number";
}

TEST(LoadPaperTest, ListsOfEveryPatientAreCutToTheirWorstLines) {
    SmallAgency small(kToday);
    small.order(small.addHome(), everyDays(2, kToday));
    const auto agency = std::make_shared<const Agency>(small.build());
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    caseload::LoadReview review = loadReview(**open);
    caseload::Continuity seen;
    seen.patient = agency->snapshot().patients[0].id;
    seen.visits = 3;
    review.continuity.assign(1243, seen);
    const Paper paper = loadPaper(**open, review);
    const auto found =
        std::ranges::find(paper.sections, QStringLiteral("Who sees whom"), &Paper::Section::heading);
    ASSERT_NE(found, paper.sections.end());
    ASSERT_TRUE(found->table);
    EXPECT_EQ(found->table->rows.size(), 40U);
    ASSERT_FALSE(found->table->notes.empty());
    EXPECT_NE(found->table->notes[0].find("more: see the program or its CSV"), std::string::npos);
}

TEST(QualityTextTest, NoRateIsMadeOfAHandfulOfEvents) {
    using enum caseload::QualityMeasure;
    EXPECT_EQ(qualityText(InfectionSigns, {4, 1240}), QStringLiteral("4 of 1240"));
    EXPECT_EQ(qualityText(InfectionSigns, {6, 1240}), QStringLiteral("6 of 1240 (4.8)"));
    EXPECT_EQ(qualityText(LateRefills, {6, 60}), QStringLiteral("6 of 60 (10 %)"));
    EXPECT_EQ(qualityText(TaughtInTime, {0, 0}), QStringLiteral("none"));
    const Table table = qualityTable({{.days = {kToday, kToday.plusDays(1)}, .measures = {}}});
    ASSERT_EQ(table.rows.size(), 1U);
    EXPECT_EQ(table.rows[0].size(), table.columns.size());
    EXPECT_TRUE(asCsv(table).starts_with("from,until,infection_signs,infection_signs_of,"));
}

TEST(ManagerTablesTest, TwoOfTheSameInitialsAreToldApartOnPaperAndTwoNamesakesOnTheScreen) {
    SmallAgency small(kToday);
    const Home homes[] = {small.addHome(), small.addHome()};
    small.edit([](Snapshot &s) {
        for (Patient &patient : s.patients) {
            patient.familyName = "Alder";
            patient.givenName = "Ada";
        }
    });
    const Agency agency(small.build());
    caseload::Compliance compliance;
    for (const Home &home : homes) {
        caseload::MissedVisit missed;
        missed.patient = home.patient;
        compliance.missed.push_back(missed);
    }
    for (const PatientNamed named : {PatientNamed::Initials, PatientNamed::InFull}) {
        const Table table = missedTable(compliance, agency, named);
        ASSERT_EQ(table.rows.size(), 2U);
        EXPECT_NE(table.rows[0][1], table.rows[1][1]);
        EXPECT_EQ(table.rows[0][1].find("Alder") != std::string::npos, named == PatientNamed::InFull);
        EXPECT_NE(table.rows[0][1].find(agency.snapshot().patients[0].code), std::string::npos);
    }
}

} // namespace
} // namespace kitround::desk
