// Lines of Today of which there are many: told as one with their number, and none is lost.
#include "core/calendar/Weeks.h"
#include "core/desk/paper/Papers.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/views/WeekView.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using test::Home;
using test::SmallAgency;

constexpr Date kToday = Date::of(2026, 3, 2); // a Monday

Visit visitOn(PatientId patient, std::size_t number, Date on, VisitStatus status) {
    Visit visit;
    visit.id = VisitId(static_cast<std::int64_t>(number) + 500);
    visit.patient = patient;
    visit.status = status;
    visit.dueFrom = on;
    visit.dueTo = on.plusDays(1);
    visit.length = Minutes::of(45);
    visit.on = on;
    visit.startAt = Minutes::of(540);
    visit.nurse = SmallAgency::kNurse;
    return visit;
}

// So many homes, each with a visit missed on that day of which the prescriber was not told.
AgencyPtr withMissed(std::size_t homes, Date on) {
    SmallAgency agency(kToday);
    for (std::size_t i = 0; i < homes; ++i) {
        const Home home = agency.addHome();
        agency.edit([&](Snapshot &s) {
            s.visits.push_back(visitOn(home.patient, i, on, VisitStatus::Missed));
            s.visits.back().missReason = MissReason::Refused;
        });
    }
    return std::make_shared<const Agency>(agency.build());
}

std::vector<AttentionItem> only(AttentionKind kind, std::vector<AttentionItem> lines) {
    std::erase_if(lines, [kind](const AttentionItem &line) { return line.kind != kind; });
    return lines;
}

std::size_t mattersIn(const std::vector<AttentionItem> &lines) {
    std::size_t matters = 0;
    for (const AttentionItem &line : lines)
        matters += line.folded.empty() ? 1 : line.folded.size();
    return matters;
}

TEST(AttentionFoldTest, MoreThanAHandfulIsOneLineWithItsNumberAndTheFirstByName) {
    const AgencyPtr agency = withMissed(12, kToday.plusDays(-3));
    const auto lines = attention(*agency, nullptr, nullptr);
    const auto folded = foldedLines(lines, *agency);
    EXPECT_EQ(mattersIn(folded), lines.size()) << "none is lost";
    const auto told = only(AttentionKind::MissUntold, folded);
    ASSERT_EQ(told.size(), 1U);
    const AttentionItem &many = told.front();
    ASSERT_EQ(many.folded.size(), 12U);
    EXPECT_TRUE(many.title.startsWith(QStringLiteral("12 missed visits"))) << many.title.toStdString();
    EXPECT_TRUE(many.title.contains(QStringLiteral("First: "))) << many.title.toStdString();
    EXPECT_EQ(many.harm, Harm::Today);
    EXPECT_EQ(many.dueOn, kToday.plusDays(-3));
    EXPECT_TRUE(dueWords(many, kToday).startsWith(QStringLiteral("overdue since")));
    EXPECT_FALSE(many.patient || many.visit) << "no step of a single one";
    EXPECT_FALSE(detailInCopies(many).contains(QStringLiteral("First")));
    EXPECT_TRUE(detailInCopies(many).startsWith(QStringLiteral("12 ")));
    EXPECT_EQ(only(AttentionKind::MissUntold, foldedLines(lines, *agency, {foldKey(many)})).size(), 12U)
        << "asked for one by one";
    const auto few = attention(*withMissed(8, kToday.plusDays(-3)), nullptr, nullptr);
    EXPECT_EQ(only(AttentionKind::MissUntold, foldedLines(few, *agency)).size(), 8U);
    const Paper paper = attentionPaper(folded, *agency);
    ASSERT_TRUE(paper.sections.front().table);
    EXPECT_EQ(paper.sections.front().table->rows.size(), lines.size()) << "a list to work from names each";
}

TEST(AttentionFoldTest, WhatHurtsByItselfTodayKeepsALineEachUpToABound) {
    SmallAgency referred(kToday);
    for (int i = 0; i < 25; ++i)
        referred.addHome();
    referred.edit([](Snapshot &s) {
        for (Patient &patient : s.patients) {
            patient.status = CareStatus::Referred;
            patient.startOfCare.reset();
            patient.referredAt = Instant::fromUnixSeconds(kToday.plusDays(-1).dayNumber() * 86400);
        }
    });
    const AgencyPtr agency = std::make_shared<const Agency>(referred.build());
    const auto lines = only(AttentionKind::FirstVisitDue, attention(*agency, nullptr, nullptr));
    ASSERT_EQ(lines.size(), 25U);
    EXPECT_EQ(lines.front().harm, Harm::Today);
    const auto folded = foldedLines(lines, *agency);
    ASSERT_EQ(folded.size(), 21U);
    EXPECT_TRUE(folded.front().folded.empty());
    EXPECT_EQ(folded.back().folded.size(), 5U);
    EXPECT_TRUE(folded.back().title.startsWith(QStringLiteral("5 more first visits due")))
        << folded.back().title.toStdString();
    const std::vector<AttentionItem> less(lines.begin(), lines.begin() + 21);
    EXPECT_EQ(foldedLines(less, *agency).size(), 21U) << "one more alone gains nothing";
}

TEST(AttentionFoldTest, WhatSomebodyHasByNameOrHasToBeToldInPersonStandsForItself) {
    const AgencyPtr agency = withMissed(12, kToday.plusDays(-3));
    auto lines = only(AttentionKind::MissUntold, attention(*agency, nullptr, nullptr));
    lines.front().owner = UserId(1);
    EXPECT_TRUE(foldKey(lines.front()).empty());
    EXPECT_EQ(foldedLines(lines, *agency).size(), 2U);
    for (AttentionItem &line : lines)
        line.kind = AttentionKind::CallAbout;
    EXPECT_EQ(foldedLines(lines, *agency).size(), 12U);
}

TEST(AttentionFoldTest, ManyMaximaToConfirmAreOneLine) {
    SmallAgency agency(kToday);
    for (int i = 0; i < 12; ++i)
        agency.order(agency.addHome(), test::everyDays(2, kToday), SmallAgency::kKit500,
                     [](DrainOrder &order) { order.mostPerSession = Millilitres::of(1500); });
    const AgencyPtr now = std::make_shared<const Agency>(agency.build());
    const auto lines = attention(*now, nullptr, nullptr);
    EXPECT_EQ(only(AttentionKind::MaximumToConfirm, lines).size(), 12U);
    const auto folded = only(AttentionKind::MaximumToConfirm, foldedLines(lines, *now));
    ASSERT_EQ(folded.size(), 1U);
    EXPECT_TRUE(folded[0].title.startsWith(QStringLiteral("12 orders whose maximum is to be confirmed")))
        << folded[0].title.toStdString();
    EXPECT_FALSE(folded[0].order) << "no one answer settles all of them";
}

TEST(AttentionFoldTest, TheHandOverTellsManyOfAKindAsOneWithTheirExactNumber) {
    const AgencyPtr agency = withMissed(12, kToday.plusDays(-3));
    const auto lines = attention(*agency, nullptr, nullptr);
    const HandOverBoard board = handOverBoard(lines, *agency);
    ASSERT_GE(board.open.size(), 12U) << "what is handed over and printed has every line";
    const auto isMany = [](const HandOverRow &row) { return !row.folded.empty(); };
    const auto rows = foldedRows(board.open);
    ASSERT_EQ(std::ranges::count_if(rows, isMany), 1);
    const HandOverRow &many = *std::ranges::find_if(rows, isMany);
    EXPECT_EQ(many.folded.size(), 12U);
    EXPECT_EQ(rows.size(), board.open.size() - 11) << "none is lost";
    EXPECT_TRUE(many.item.what.starts_with("12 missed visits: was the prescriber told? First: "))
        << many.item.what;
    EXPECT_FALSE(many.item.patient);
    EXPECT_EQ(foldedRows(board.open, {many.foldKey}).size(), board.open.size()) << "asked for one by one";
}

TEST(AttentionFoldTest, WhatIsInDifferentHandsIsNotToldTogether) {
    const AgencyPtr agency = withMissed(18, kToday.plusDays(-3));
    std::vector<HandOverRow> rows = handOverBoard(attention(*agency, nullptr, nullptr), *agency).open;
    const std::string kind = "attention:" + std::to_string(static_cast<int>(AttentionKind::MissUntold)) + ":";
    std::erase_if(rows, [&](const HandOverRow &row) { return !row.item.subject.starts_with(kind); });
    ASSERT_EQ(rows.size(), 18U);
    ASSERT_EQ(foldedRows(rows).size(), 1U);
    for (std::size_t i = 0; i < 9; ++i)
        rows[i].takenBy = QStringLiteral("Kim");
    EXPECT_EQ(foldedRows(rows).size(), 2U);
    for (std::size_t i = 0; i < 5; ++i)
        rows[i].handOver = HandOverId(7); // waits
    EXPECT_EQ(foldedRows(rows).size(), 5U + 4U + 1U) << "a handful is read one by one";
}

TEST(AttentionFoldTest, VisitsWithoutAPlaceAreALineAWeek) {
    SmallAgency agency(kToday);
    const Date week = calendar::weekStartOf(kToday, agency.build().settings.weekStart);
    for (std::size_t i = 0; i < 12; ++i) {
        const Home home = agency.addHome();
        agency.edit([&](Snapshot &s) {
            Visit due = visitOn(home.patient, i, kToday.plusDays(2), VisitStatus::Due);
            due.on.reset();
            due.startAt.reset();
            due.nurse.reset();
            s.visits.push_back(due);
        });
    }
    agency.edit([&](Snapshot &s) {
        Plan plan;
        plan.id = PlanId(900);
        plan.weekStart = week;
        plan.status = PlanStatus::Published;
        s.plans.push_back(plan);
        s.plansInForce.push_back(plan);
    });
    const AgencyPtr now = std::make_shared<const Agency>(agency.build());
    const auto thisWeek = openWeek(now, kToday, nullptr);
    ASSERT_TRUE(thisWeek);
    const auto lines = attention(*now, nullptr, nullptr, thisWeek->get());
    const auto single = only(AttentionKind::VisitNotPlaced, lines);
    const auto many = only(AttentionKind::VisitNotPlaced, foldedLines(lines, *now));
    EXPECT_EQ(single.size(), unplacedJobs(**thisWeek).size()) << "as many as the calendar has";
    ASSERT_GE(single.size(), 12U);
    ASSERT_LT(many.size(), single.size());
    EXPECT_EQ(mattersIn(many), single.size());
    for (const AttentionItem &line : many)
        EXPECT_EQ(line.weekOf, week);
    EXPECT_TRUE(std::ranges::any_of(many, [](const AttentionItem &line) {
        return line.title.contains(QStringLiteral("visits not placed, week of "));
    }));
}

TEST(AttentionFoldTest, ManyDaysWithVisitsToRecordEndInOneLine) {
    SmallAgency agency(kToday);
    const Home home = agency.addHome();
    agency.edit([&](Snapshot &s) {
        for (std::size_t i = 0; i < 12; ++i)
            s.visits.push_back(
                visitOn(home.patient, i, kToday.plusDays(-1 - static_cast<int>(i)), VisitStatus::Published));
    });
    const AgencyPtr now = std::make_shared<const Agency>(agency.build());
    const auto lines = only(AttentionKind::VisitsUnrecorded, attention(*now, nullptr, nullptr));
    ASSERT_EQ(lines.size(), 8U);
    EXPECT_EQ(lines.front().dueOn, kToday.plusDays(-12));
    EXPECT_TRUE(lines.front().title.startsWith(QStringLiteral("5 visits since")))
        << lines.front().title.toStdString();
}

} // namespace
} // namespace kitround::desk
