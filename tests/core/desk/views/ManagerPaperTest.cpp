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
    ASSERT_TRUE(load.table);
    EXPECT_EQ(load.table->rows.size(), 2U) << "the bars tell the nurses' figures; the table the week's";
    EXPECT_TRUE(fileNameOf(paper).endsWith(QString::fromStdString(nextWeek(*agency).toIso())))
        << fileNameOf(paper).toStdString();
    const auto watched = section(QStringLiteral("Watch list"));
    ASSERT_TRUE(watched.table);
    const Patient &patient = agency->snapshot().patients[0];
    EXPECT_TRUE(std::ranges::any_of(
        watched.table->rows, [&](const auto &row) { return row[1] == patientMark(patient).toStdString(); }));
    const auto leave = section(QStringLiteral("Leave"));
    ASSERT_TRUE(leave.table);
    EXPECT_EQ(leave.table->rows.size(), 1U);
    const caseload::LoadReview review = loadReview(**open);
    if (!review.left.empty()) {
        const auto left = section(QStringLiteral("Not placed or missed in this week"));
        ASSERT_TRUE(left.table);
        EXPECT_EQ(left.table->rows.size(), review.left.size());
        EXPECT_EQ(left.table->rows[0][1].find(patient.familyName), std::string::npos) << "paper names nobody";
    }
    EXPECT_EQ(leave.table->rows[0][1], dayText(kToday.plusDays(10)).toStdString()) << "a day, not a number";
}

TEST(LoadPaperTest, NursesStandInTheOrderOfTheScreen) {
    SmallAgency small(kToday);
    small.order(small.addHome(), everyDays(2, kToday));
    small.edit([](Snapshot &s) {
        s.nurses.front().familyName = "Alder";
        Nurse second = s.nurses.front();
        second.id = NurseId(2);
        second.code = "N2";
        second.familyName = "Birch";
        s.nurses.push_back(second);
    });
    const auto agency = std::make_shared<const Agency>(small.build());
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    caseload::LoadReview review = loadReview(**open);
    ASSERT_EQ(review.nurses.size(), 2U);
    review.nurses[1].sign = caseload::LoadSign::Red;
    const Paper paper = loadPaper(**open, review);
    const auto nurses = std::ranges::find(paper.sections, QStringLiteral("Nurses"), &Paper::Section::heading);
    ASSERT_NE(nurses, paper.sections.end());
    ASSERT_TRUE(nurses->table);
    EXPECT_EQ(nurses->table->rows.front()[0].rfind("Birch", 0), 0U) << "over full comes first";
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

TEST(LoadPaperTest, NamesTheNursesWhoComeTheDecisionsAndWhoGoesWithWhom) {
    SmallAgency small(kToday);
    const Home home = small.addHome();
    small.order(home, everyDays(2, kToday));
    small.edit([&](Snapshot &s) {
        Nurse second = s.nurses.front();
        second.id = NurseId(2);
        second.code = "N2";
        second.familyName = "Birch";
        second.givenName = "Ben";
        s.nurses.push_back(second);
        User user;
        user.id = UserId(1);
        user.name = "Robin";
        s.users = {user};
        DecisionNote note;
        note.id = DecisionNoteId(1);
        note.weekStart = kToday.plusDays(-7);
        note.kind = DecisionKind::Hire;
        note.text = "A nurse for the north";
        note.by = user.id;
        note.at = {kToday.plusDays(-8), Minutes::of(600)};
        s.decisionNotes = {note};
        for (const std::int64_t back : {3, 5, 9}) {
            Visit visit;
            visit.id = VisitId(back);
            visit.patient = home.patient;
            visit.status = VisitStatus::Done;
            visit.on = kToday.plusDays(-back);
            visit.nurse = back == 9 ? SmallAgency::kNurse : second.id;
            if (back == 3)
                visit.secondNurse = SmallAgency::kNurse;
            visit.twoNurses = back != 9;
            s.visits.push_back(visit);
        }
    });
    const auto agency = std::make_shared<const Agency>(small.build());
    const auto open = openWeek(agency, nextWeek(*agency), nullptr);
    ASSERT_TRUE(open);
    const Paper paper = loadPaper(**open, loadReview(**open));
    const auto rows = [&](const QString &heading) {
        const auto found = std::ranges::find(paper.sections, heading, &Paper::Section::heading);
        EXPECT_TRUE(found != paper.sections.end() && found->table) << heading.toStdString();
        return found == paper.sections.end() || !found->table ? std::vector<std::vector<std::string>>()
                                                              : found->table->rows;
    };
    const auto seen = rows(QStringLiteral("Who sees whom"));
    ASSERT_EQ(seen.size(), 1U);
    EXPECT_TRUE(seen[0].back().starts_with("Birch, Ben 2; ")) << seen[0].back();
    const auto decided = rows(QStringLiteral("Decisions: open ones, and this week's"));
    ASSERT_EQ(decided.size(), 1U);
    EXPECT_EQ(decided[0][0], "open for 1 week");
    EXPECT_EQ(decided[0][3], "A nurse for the north");
    EXPECT_EQ(decided[0][4], "Robin");
    const auto joint = rows(QStringLiteral("Visits by two nurses"));
    ASSERT_EQ(joint.size(), 2U) << "one visit was by one nurse, and asked for no second";
    EXPECT_EQ(joint[0][0], dayText(kToday.plusDays(-3)).toStdString()) << "the newest first";
    EXPECT_EQ(joint[0][2], "Birch, Ben");
    EXPECT_EQ(joint[1][3], "NOBODY") << "it asked for two";
    EXPECT_EQ(rows(QStringLiteral("Quality, the last months")).size(), caseload::kQualityMeasures);
}

QualityTrend trendOf(const SmallAgency &small) {
    const Agency agency(small.build());
    return qualityTrend(agency, caseload::qualityByMonth(agency.index()));
}

TEST(QualityTrendTest, SixWholeWeeksWhereTheLogIsShortAndSixMonthsWhereItIsLong) {
    SmallAgency small(kToday);
    const Home home = small.addHome();
    small.edit([](Snapshot &s) { s.logFrom = kToday.plusDays(-50); });
    small.drained(home, kToday.plusDays(-5), 300);
    small.edit([](Snapshot &s) { s.drainEntries.back().symptoms = {Symptom::Fever}; });
    const QualityTrend weeks = trendOf(small);
    EXPECT_FALSE(weeks.isByMonth);
    ASSERT_EQ(weeks.periods.size(), kTrendPeriods);
    EXPECT_LE(weeks.periods.back().days.to, kToday) << "whole weeks";
    const Table table = qualityTrendTable(weeks);
    ASSERT_EQ(table.rows.size(), caseload::kQualityMeasures);
    EXPECT_EQ(table.rows[0].size(), table.columns.size());
    ASSERT_EQ(asRead(table).rows[0].size(), 2 + kTrendPeriods);
    EXPECT_EQ(asRead(table).rows[0].back(), "1 of 7") << "with what it is counted of";
    EXPECT_EQ(table.rows[0][1], QStringLiteral("\u2581\u2581\u2581\u2581\u2581\u2588").toStdString());
    EXPECT_EQ(asCsv(table).find("trend"), std::string::npos) << "the picture is for people";

    small.edit([](Snapshot &s) { s.logFrom = kToday.plusDays(-300); });
    const QualityTrend months = trendOf(small);
    EXPECT_TRUE(months.isByMonth);
    ASSERT_EQ(months.periods.size(), kTrendPeriods);
    EXPECT_EQ(months.periods.back().days.from, Date::of(2026, 3, 1));

    small.edit([](Snapshot &s) { s.logFrom = kToday; });
    const Table none = qualityTrendTable(trendOf(small));
    EXPECT_TRUE(none.rows.empty());
    const auto headOf = [](const Table &made) {
        const std::string csv = asCsv(made);
        return csv.substr(0, csv.find('\n'));
    };
    EXPECT_EQ(headOf(table), headOf(qualityTrendTable(months))) << "stable, whatever days are told";
    EXPECT_EQ(headOf(table), headOf(none));
    EXPECT_TRUE(headOf(table).starts_with("sign,from_1,until_1,n_1,of_1,from_2,")) << headOf(table);
    EXPECT_NE(asCsv(table).find("Infection signs," + weeks.periods.back().days.from.toIso() + "," +
                                weeks.periods.back().days.to.plusDays(-1).toIso() + ",1,7,"),
              std::string::npos)
        << asCsv(table);
}

TEST(QualityTrendTest, ABarIsItsShareOfTheHighestAndAGreyOneHasNothingToCountOf) {
    EXPECT_EQ(sparkline({{0, 10}, {1, 10}, {2, 10}, {0, 0}}), QStringLiteral("\u2581\u2585\u2588\u2591"));
    EXPECT_EQ(sparkline({{0, 10}, {0, 10}}), QStringLiteral("\u2581\u2581"));
}

TEST(JointVisitsTest, AVisitIsByTwoWhereItWasMadeSoWhateverThePatientsRecordAsksToday) {
    SmallAgency small(kToday);
    const Home home = small.addHome();
    small.edit([&](Snapshot &s) {
        s.patients.front().needsTwoNurses = true; // since this morning
        for (const std::int64_t id : {1, 2, 3, 4}) {
            Visit visit;
            visit.id = VisitId(id);
            visit.patient = home.patient;
            visit.kind = id == 2 ? VisitKind::Phone : VisitKind::Routine;
            visit.status = VisitStatus::Done;
            visit.on = kToday.plusDays(-id);
            visit.nurse = SmallAgency::kNurse;
            visit.twoNurses = id == 2 || id == 3;
            if (id == 4)
                visit.secondNurse = NurseId(2);
            s.visits.push_back(visit);
        }
    });
    const auto joint = jointVisits(Agency(small.build()));
    ASSERT_EQ(joint.size(), 2U) << "neither one of a nurse alone, nor a phone call";
    EXPECT_EQ(joint[0].visit, VisitId(3));
    EXPECT_FALSE(joint[0].with);
    EXPECT_TRUE(joint[0].why.contains(QStringLiteral("patient's record"))) << joint[0].why.toStdString();
    EXPECT_EQ(joint[1].visit, VisitId(4));
    EXPECT_FALSE(joint[1].why.contains(QStringLiteral("patient's record"))) << joint[1].why.toStdString();
}

TEST(QualityTextTest, NoRateIsMadeOfAHandfulOfEvents) {
    using enum caseload::QualityMeasure;
    EXPECT_EQ(qualityText(InfectionSigns, {4, 1240}), QStringLiteral("4 of 1,240"));
    EXPECT_EQ(qualityText(InfectionSigns, {6, 1240}), QStringLiteral("6 of 1,240 (4.8)"));
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
