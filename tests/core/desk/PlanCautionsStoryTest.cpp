// What a plan asks too much of is said before it is published and stands over its day; the head of the
// calendar and every day sheet say which plan it is.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/HandMoves.h"
#include "core/desk/views/PlanCautions.h"
#include "core/desk/views/PlanState.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>
#include <iterator>
#include <tuple>

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

TEST(PlanCautions, OfAHomeOnNoMapOffersAndPublishingSayThatDrivingIsAGuess) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const QString guess = QStringLiteral("place unknown: driving is a guess");
    const auto offers = [](const WeekPicture &week, std::int32_t job) {
        QStringList all;
        for (const Suggestion &place : reasonsOf(week, job).alternatives) {
            all << place.more.join(u'|');
            if (const MoveOffer offer = offerMove(week, job, place.nurse, place.on, place.start);
                offer.isAllowed())
                all << moveText(week, job, offer);
        }
        return all;
    };
    EXPECT_TRUE(offers(*p.week, visit.job).filter(guess).isEmpty());
    Patient home = *p.s.index().patient(p.week->due[static_cast<std::size_t>(visit.job)].visit.patient);
    home.address.point.reset();
    must(p.s.desk().save(home));
    const auto week = p.open();
    const std::int32_t job = p.jobOf(*week, visit);
    ASSERT_GE(job, 0);
    const QStringList said = offers(*week, job);
    ASSERT_FALSE(said.isEmpty());
    EXPECT_EQ(said.filter(guess).size(), said.size()) << said.join(u'\n').toStdString();
    const QStringList cautions = publishCautions(*week);
    ASSERT_FALSE(cautions.isEmpty());
    EXPECT_EQ(cautions.back(),
              QStringLiteral("Place unknown, driving is a guess: %1.").arg(personName(home)));
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

TEST(PlanState, TheDaySheetsOfAllDaysComeInOneGoEachNursesTogether) {
    PublishedWeek p;
    std::vector<std::tuple<QString, NurseId, Date>> driven;
    for (const PlacedJob &placed : placedJobs(*p.week))
        driven.emplace_back(nurseNameIn(*p.week, nurseOfDuty(*p.week, placed.duty)),
                            nurseOfDuty(*p.week, placed.duty), dayOfDuty(*p.week, placed.duty));
    std::ranges::sort(driven);
    driven.erase(std::ranges::unique(driven).begin(), driven.end());
    ASSERT_GT(driven.size(), 1U);
    const Paper all = daySheetsFrom(*p.week, PublishedWeek::kFrom, std::nullopt);
    ASSERT_EQ(all.sections.size(), driven.size());
    for (std::size_t i = 0; i < driven.size(); ++i) {
        const auto &[name, nurse, on] = driven[i];
        EXPECT_EQ(all.sections[i].heading, QStringLiteral("%1, %2").arg(name, dayText(on)));
        EXPECT_EQ(all.sections[i].startsPage, i > 0);
        EXPECT_TRUE(all.sections[i].table.has_value());
    }
    EXPECT_TRUE(all.foot.contains(QStringLiteral("plan 1 of the week of Sun 8 Mar")))
        << all.foot.toStdString();
    const NurseId one = std::get<1>(driven.front());
    const auto hers = std::ranges::count_if(driven, [&](const auto &day) { return std::get<1>(day) == one; });
    EXPECT_EQ(std::ssize(daySheetsFrom(*p.week, PublishedWeek::kFrom, one).sections), hers);
    // A draft that changes one day: each sheet says which plan it is of.
    const PlacedJob visit = p.someVisit();
    const Paper mixed = daySheetsFrom(*p.moved(visit), PublishedWeek::kFrom, std::nullopt);
    for (const Paper::Section &sheet : mixed.sections)
        EXPECT_EQ(sheet.lines.front().startsWith(QStringLiteral("Of the draft")),
                  sheet.heading.endsWith(dayText(dayOfDuty(*p.week, visit.duty))))
            << sheet.lines.front().toStdString();
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
