// What a plan asks too much of is said before it is published and stands over its day; the head of the
// calendar and every day sheet say which plan it is.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/PlanState.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

// On call through the night before that round.
void putOnCallBefore(PublishedWeek &p, NurseId nurse, Date day) {
    ExtraShift turn;
    turn.nurse = nurse;
    turn.on = day.plusDays(-1);
    turn.from = Minutes::of(18 * 60);
    turn.to = Minutes::of(7 * 60);
    turn.isOnCall = true;
    turn.replacesPattern = false;
    must(p.s.desk().save(turn));
}

TEST(PlanCautions, ARoundAfterATurnOnCallIsSaidBeforePublishingAndMarked) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, visit.duty);
    const Date day = dayOfDuty(*p.week, visit.duty);
    EXPECT_TRUE(publishCautions(*p.week).isEmpty()) << publishCautions(*p.week).join(u'|').toStdString();
    putOnCallBefore(p, nurse, day);
    const auto week = p.open();
    const QStringList cautions = publishCautions(*week);
    ASSERT_EQ(cautions.size(), 1) << cautions.join(u'|').toStdString();
    EXPECT_TRUE(cautions[0].startsWith(QStringLiteral("Too short a rest: ") + nurseNameIn(*week, nurse)))
        << cautions[0].toStdString();
    EXPECT_TRUE(cautions[0].contains(dayText(day)) && cautions[0].contains(QStringLiteral("on call")))
        << cautions[0].toStdString();
    const std::vector<DayMark> marks = dayMarks(*week, week->week);
    ASSERT_EQ(marks.size(), 7U);
    for (std::size_t d = 0; d < marks.size(); ++d) {
        const bool isIt = week->week.from.plusDays(static_cast<std::int64_t>(d)) == day;
        EXPECT_EQ(marks[d].mark, isIt ? QStringLiteral("short rest") : QString());
        EXPECT_EQ(marks[d].tip, isIt ? cautions[0] : QString());
    }

    // Whoever makes no visit that day drives nowhere too early.
    rounds::WeekPlan plan = week->plan;
    for (rounds::Placement &placed : plan.placements)
        if (placed.isPlaced() && nurseOfDuty(*week, placed.duty) == nurse &&
            dayOfDuty(*week, placed.duty) == day)
            placed = {};
    EXPECT_TRUE(publishCautions(*withPlan(*week, plan)).isEmpty());
}

TEST(PlanCautions, WhoIsOverFullIsNamedWithTheShare) {
    PublishedWeek p;
    Snapshot strict = p.week->agency->snapshot();
    strict.settings.set(SettingKey::AmberLoadPercent, 0);
    strict.settings.set(SettingKey::RedLoadPercent, 1);
    auto week = std::make_shared<WeekPicture>(*p.week);
    week->agency = std::make_shared<const Agency>(std::move(strict));
    const QStringList cautions = publishCautions(*week);
    ASSERT_EQ(cautions.size(), 1) << cautions.join(u'|').toStdString();
    EXPECT_TRUE(cautions[0].contains(QStringLiteral("over full: ")) && cautions[0].contains(u'%'))
        << cautions[0].toStdString();
    EXPECT_TRUE(cautions[0].contains(nurseNameIn(*week, nurseOfDuty(*week, p.someVisit().duty))));
}

TEST(PlanState, TheHeadAlwaysSaysHowThePlanStands) {
    Story s;
    s.visits(s.addHome("A"), 2, 4, PublishedWeek::kFrom);
    const auto open = [&] { return must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr)); };
    const auto stateOf = [&](const WeekPicture &week, bool isChanged) {
        return planStateTexts(week, PublishedWeek::kFrom, isChanged).join(u'|');
    };
    const auto planned = PublishedWeek::planned(*open());
    EXPECT_EQ(stateOf(*planned, false), QStringLiteral("no plan saved yet"));
    EXPECT_EQ(stateOf(*planned, true), QStringLiteral("not saved"));
    EXPECT_TRUE(daySheets(*planned, PublishedWeek::kFrom.plusDays(1))
                    .foot.contains(QStringLiteral("draft of the week of Sun 8 Mar, not published")));
    must(s.desk().acceptPlan(PublishedWeek::kFrom, visitsOf(*planned), 1, 0, false));
    EXPECT_EQ(stateOf(*open(), false), QStringLiteral("draft saved, not published"));
    must(s.desk().acceptPlan(PublishedWeek::kFrom, visitsOf(*open()), 1, 0, true));
    EXPECT_TRUE(stateOf(*open(), false).startsWith(QStringLiteral("published, version ")));
}

TEST(PlanState, ADaySheetSaysWhichPlanItIsOf) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, visit.duty);
    const Date day = dayOfDuty(*p.week, visit.duty);
    const QString plan = QStringLiteral("plan 1 of the week of Sun 8 Mar, published Mon 2 Mar 08:00");
    for (const Paper &paper : {daySheet(*p.week, nurse, day), daySheets(*p.week, day)})
        EXPECT_TRUE(paper.foot.endsWith(QStringLiteral(" · ") + plan)) << paper.foot.toStdString();
    const QString draft = daySheet(*p.moved(visit), nurse, day).foot;
    EXPECT_TRUE(draft.endsWith(QStringLiteral("draft, not published; in force: ") + plan))
        << draft.toStdString();
}

TEST(PlanState, AWeekWithoutVisitsSaysWhatToEnterFirst) {
    Story s;
    const auto week = must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr));
    WeekBoard board = boardOf(*week, week->week);
    EXPECT_TRUE(whatToEnterFirst(board).startsWith(QStringLiteral("No visit is due in this week: ")))
        << whatToEnterFirst(board).toStdString();
    for (BoardRow &row : board.rows)
        for (BoardDay &day : row.days)
            day.hasDuty = false;
    EXPECT_TRUE(whatToEnterFirst(board).contains(QStringLiteral("shifts under Nurses")));
    board.tray.emplace_back();
    EXPECT_TRUE(whatToEnterFirst(board).isEmpty());
}

} // namespace
} // namespace kitround::desk
