// What a mended plan says besides who moves: who waits for a nurse that is away, for how long she is, what
// only shifts, and what a place for a visit means.
#include "core/desk/views/DayBoard.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Reasons.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>
#include <cstdlib>
#include <memory>

namespace kitround::desk {
namespace {

// The other nurse is away all week: whom the call-out leaves waiting, waits for the same nurse.
TEST(CallOutDays, VisitsThatGoBackToTheNurseWhoIsSickSayThatTheyWait) {
    PublishedWeek p;
    TimeOff course;
    course.nurse = p.s.otherNurse;
    course.kind = TimeOffKind::Training;
    course.from = PublishedWeek::kFrom;
    course.to = PublishedWeek::kFrom.plusDays(7);
    must(p.s.desk().save(course));
    p.week = p.store(*p.planned(*p.open()), true);
    Date day = PublishedWeek::kFrom.plusDays(7);
    for (const PlacedJob &placed : placedJobs(*p.week))
        day = std::min(day, dayOfDuty(*p.week, placed.duty));
    p.s.now(at(day, 0, 30)); // no day before it is left
    const auto week = p.open();
    const auto mended = must(repairCallOut(*week, {p.s.nurse, day, {}, TimeOffKind::Sick}, {}));
    std::int64_t waiting = 0;
    for (const PlanChange &change : mended.changes) {
        const bool waits = change.note.startsWith(QStringLiteral("Waits for Birch, Bea: back by then?"));
        const rounds::Placement &was = week->plan.placements[static_cast<std::size_t>(change.job)];
        const bool stoodLater = was.isPlaced() && dayOfDuty(*week, was.duty) > day;
        EXPECT_EQ(waits, !change.isUnplaced && !stoodLater) << change.now.toStdString();
        waiting += waits ? 1 : 0;
    }
    ASSERT_GT(waiting, 0);
    ASSERT_EQ(mended.toMind.size(), 1);
    EXPECT_TRUE(mended.toMind.front().contains(QStringLiteral("Birch, Bea, who is away on ")) &&
                mended.toMind.front().contains(QStringLiteral("(sick)")))
        << mended.toMind.front().toStdString();
    // Away longer, nothing waits for a day on which she is not there.
    const Date last = PublishedWeek::kFrom.plusDays(6);
    const auto longer = must(repairCallOut(*week, {p.s.nurse, day, {}, TimeOffKind::Sick, last}, {}));
    EXPECT_TRUE(placedJobs(*longer.after).empty());
    EXPECT_TRUE(longer.toMind.isEmpty());
}

TEST(CallOutDays, ACallOutOfSeveralDaysKeepsThemAllFreeAndIsOnRecord) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty), last = day.plusDays(1);
    const auto mended = must(repairCallOut(*p.week, {nurse, day, {}, TimeOffKind::Sick, last}, {}));
    for (const PlacedJob &placed : placedJobs(*mended.after)) {
        const Date on = dayOfDuty(*mended.after, placed.duty);
        EXPECT_FALSE(nurseOfDuty(*mended.after, placed.duty) == nurse && on >= day && on <= last);
    }
    const std::vector<Desk::PlanRecord> plans{{PublishedWeek::kFrom, visitsOf(*mended.after), 1, 0}};
    const auto noon = Minutes::of(12 * 60);
    must(p.s.desk().acceptCallOut({nurse, day, noon, TimeOffKind::Sick, "", last}, plans));
    ASSERT_EQ(p.s.snapshot().timeOff.size(), 1U) << "the first day is a shorter shift";
    EXPECT_EQ(p.s.snapshot().timeOff[0].from, last);
    EXPECT_EQ(p.s.snapshot().timeOff[0].to, last.plusDays(1));
    EXPECT_EQ(p.s.snapshot().extraShifts.size(), 1U);
}

TEST(CallOutDays, AMendListsTheVisitsThatOnlyShiftApart) {
    PublishedWeek p;
    for (const PlacedJob &placed : placedJobs(*p.week)) {
        const auto mended = must(repairOverrun(*p.week, placed.job, Minutes::of(20), {}));
        std::int64_t shifted = 0;
        for (std::size_t j = 0; j < p.week->due.size(); ++j) {
            const auto job = static_cast<std::int32_t>(j);
            if (std::ranges::find(mended.changes, job, &PlanChange::job) == mended.changes.end() &&
                mended.after->plan.placements[j].start != p.week->plan.placements[j].start)
                ++shifted;
        }
        EXPECT_EQ(static_cast<std::int64_t>(mended.shifted.size()), shifted) << placed.job;
        for (const PlanChange &change : mended.shifted) {
            EXPECT_TRUE(change.isSmall && !change.isNew) << "in grey";
            EXPECT_FALSE(change.who.isEmpty() || change.now.isEmpty()) << "who is shifted is named";
            EXPECT_TRUE(change.note.startsWith(QStringLiteral("by "))) << change.note.toStdString();
        }
    }
    EXPECT_EQ(asAgreedText(17),
              QStringLiteral("Within 30 minutes of the time told, which counts as agreed: 17 visits."));
}

TEST(CallOutDays, AVisitThatFindsAPlaceByTheWayIsNotCountedAsMoved) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto out = offerRemoval(*p.week, first.job);
    ASSERT_TRUE(out.isAllowed());
    const auto mended = must(repairToRecords(*out.after, {}));
    const auto placed = std::ranges::find(mended.changes, first.job, &PlanChange::job);
    ASSERT_NE(placed, mended.changes.end());
    EXPECT_TRUE(placed->isNew && !placed->isUnplaced);
    EXPECT_EQ(std::ranges::count(mended.changes, true, &PlanChange::isNew), 1);
}

TEST(CallOutDays, AStartOfCareThatMovesToAnotherDaySaysSo) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto job = static_cast<std::size_t>(first.job);
    auto starts = std::make_shared<WeekPicture>(*p.week);
    starts->due[job].visit.kind = VisitKind::StartOfCare;
    rounds::WeekPlan plan = p.week->plan;
    const std::int32_t day = p.week->problem.duties[static_cast<std::size_t>(first.duty)].day;
    const auto next = std::ranges::find(p.week->problem.duties, day + 1, &rounds::Duty::day);
    ASSERT_NE(next, p.week->problem.duties.end());
    plan.placements[job].duty = static_cast<std::int32_t>(next - p.week->problem.duties.begin());
    const auto changes = changesSincePublished(*withPlan(*starts, plan));
    const auto hers = std::ranges::find(changes, first.job, &PlanChange::job);
    ASSERT_NE(hers, changes.end());
    EXPECT_TRUE(hers->note.startsWith(QStringLiteral("Start of care 1 day later, owed by ")))
        << hers->note.toStdString();
}

TEST(CallOutDays, APlaceSaysWhatItMeansAndWhatItsRankIsMadeOf) {
    PublishedWeek p;
    const auto places = reasonsOf(*p.week, p.someVisit().job).alternatives;
    ASSERT_FALSE(places.empty());
    for (const Suggestion &place : places) {
        ASSERT_GE(place.more.size(), 2) << place.text.toStdString();
        EXPECT_TRUE(place.more[0].contains(QStringLiteral("weighted minute"))) << "they stand by it";
        EXPECT_TRUE(place.more[1].contains(QStringLiteral("driving"))) << place.more[1].toStdString();
        int sum = 0; // of the parts, each rounded by itself
        if (place.more.size() > 2 && !place.more[2].startsWith(QStringLiteral("re-times")))
            for (const QString &part : place.more[2].split(QStringLiteral(", ")))
                sum += part.section(u' ', -1).replace(QChar(0x2212), u'-').toInt();
        else // the driving alone, which is not said twice
            sum = place.more[1].section(u' ', 0, 0).replace(QChar(0x2212), u'-').toInt();
        EXPECT_TRUE(place.more[0].contains(QStringLiteral("no weighted")) ||
                    std::abs(std::abs(sum) - place.more[0].section(u' ', 1, 1).toInt()) <= 5)
            << place.more.join(u'\n').toStdString();
        EXPECT_TRUE(place.tip.contains(QStringLiteral("weighted minute")));
        EXPECT_TRUE(place.tip.endsWith(weightedMinutesMeaning()));
    }
}

TEST(CallOutDays, APlaceAndItsTipSayTheSameFigure) {
    PublishedWeek p;
    int places = 0;
    for (const PlacedJob &visit : placedJobs(*p.week))
        for (const Suggestion &place : reasonsOf(*p.week, visit.job).alternatives) {
            ++places;
            EXPECT_TRUE(place.tip.startsWith(QStringLiteral("It %1. ").arg(place.more.front())))
                << place.more.front().toStdString() << " / " << place.tip.toStdString();
            const MoveOffer offer = offerMove(*p.week, visit.job, place.nurse, place.on, place.start);
            EXPECT_TRUE(offer.summary.endsWith(place.more.front())) << offer.summary.toStdString();
        }
    EXPECT_GT(places, 0);
}

TEST(WeekBoardPast, WhatWasDoneStaysInSightAndIsNotToBePlanned) {
    Story s;
    const auto home = s.addHome("A");
    Visit visit = s.publishVisit(home, kMonday, 8);
    s.now(at(kMonday, 12));
    visit.status = VisitStatus::Done;
    visit.startedAt = at(kMonday, 8, 10);
    visit.endedAt = at(kMonday, 9);
    must(s.desk().closeVisit(visit));
    const auto week = must(openWeek(s.agency(), kMonday, nullptr));
    std::vector<VisitCard> past;
    for (const BoardRow &row : boardOf(*week, week->week).rows)
        for (const BoardDay &day : row.days) {
            EXPECT_TRUE(day.cards.empty());
            past.insert(past.end(), day.past.begin(), day.past.end());
            EXPECT_TRUE(day.past.empty() || (day.on == kMonday && row.nurse == visit.nurse));
        }
    ASSERT_EQ(past.size(), 1U);
    EXPECT_EQ(past[0].job, -1);
    EXPECT_EQ(past[0].status, VisitStatus::Done);
    EXPECT_EQ(past[0].start, Minutes::of(8 * 60 + 10));

    const DayBoard today = dayBoardOf(*week, kMonday);
    const auto hers = std::ranges::find(today.rounds, *visit.nurse, &DayRound::nurse);
    ASSERT_NE(hers, today.rounds.end());
    EXPECT_TRUE(hers->hasDuty && hers->stops.empty());
    ASSERT_EQ(hers->past.size(), 1U);
    EXPECT_EQ(hers->past[0].status, VisitStatus::Done);
    EXPECT_EQ(hers->past[0].start, Minutes::of(8 * 60 + 10));
    EXPECT_EQ(hers->past[0].end, Minutes::of(9 * 60));
}

TEST(WeekBoardPast, AMissedVisitOfADayGoneByStandsInTheDayViewThoughNobodyIsOnDutyAnyMore) {
    Story s;
    const auto home = s.addHome("A");
    Visit visit = s.publishVisit(home, kMonday, 19);
    s.now(at(kMonday, 21));
    visit.status = VisitStatus::Missed;
    visit.missReason = MissReason::NotHome;
    visit.prescriberToldAt = at(kMonday, 20);
    must(s.desk().closeVisit(visit));
    s.now(at(kMonday.plusDays(1), 9));
    const auto week = must(openWeek(s.agency(), kMonday, nullptr));
    const DayBoard monday = dayBoardOf(*week, kMonday);
    ASSERT_EQ(monday.rounds.size(), 1U);
    const DayRound &round = monday.rounds.front();
    EXPECT_EQ(round.nurse, visit.nurse);
    EXPECT_FALSE(round.hasDuty);
    ASSERT_EQ(round.past.size(), 1U);
    EXPECT_EQ(round.past[0].status, VisitStatus::Missed);
    EXPECT_EQ(round.past[0].start, Minutes::of(19 * 60));
    EXPECT_GE(monday.to, round.past[0].end) << "the hours reach as far as it did";
}

TEST(WeekBoardPast, APublishedVisitOfADayGoneByStaysAndSaysThatNobodyRecordedIt) {
    Story s;
    const Visit visit = s.publishVisit(s.addHome("A"), kMonday, 9);
    s.now(at(kMonday.plusDays(1), 9));
    const auto week = must(openWeek(s.agency(), kMonday, nullptr));
    std::vector<VisitCard> past;
    const WeekBoard board = boardOf(*week, week->week);
    for (const BoardRow &row : board.rows)
        for (const BoardDay &day : row.days)
            past.insert(past.end(), day.past.begin(), day.past.end());
    ASSERT_EQ(past.size(), 1U);
    EXPECT_TRUE(past[0].isUnrecorded);
    EXPECT_EQ(past[0].job, -1);
    EXPECT_EQ(past[0].visit, visit.id) << "by which it is recorded";
    const VisitReasons reasons = reasonsOfOver(*week, visit);
    EXPECT_FALSE(reasons.noLocks.isEmpty());
    EXPECT_TRUE(reasons.alternatives.empty() && reasons.waysOut.empty());
    ASSERT_EQ(reasons.facts.size(), 2);
    EXPECT_TRUE(reasons.facts[0].endsWith(QStringLiteral("planned at 09:00")));
    EXPECT_TRUE(reasons.facts[1].contains(QStringLiteral("not recorded")));
    EXPECT_TRUE(past[0].kind.endsWith(QStringLiteral("not recorded"))) << past[0].kind.toStdString();
    const auto hers = std::ranges::find(board.rows, *visit.nurse, &BoardRow::nurse);
    ASSERT_NE(hers, board.rows.end());
    EXPECT_EQ(hers->load.visits, 1) << "planned work of the week";
    const DayBoard monday = dayBoardOf(*week, kMonday);
    ASSERT_EQ(monday.rounds.size(), 1U);
    EXPECT_TRUE(monday.rounds[0].past.at(0).isUnrecorded);
}

} // namespace
} // namespace kitround::desk
