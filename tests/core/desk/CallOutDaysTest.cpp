// What a mended plan says besides who moves: who waits for a nurse that is away, for how long she is, what
// only shifts, and what a place for a visit means.
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>
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

TEST(CallOutDays, AMendCountsTheVisitsThatOnlyShift) {
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
        EXPECT_EQ(mended.shifted, shifted) << placed.job;
    }
    EXPECT_EQ(asAgreedText(17),
              QStringLiteral("Within 30 minutes of the time told, which counts as agreed: 17 visits."));
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

TEST(CallOutDays, AFreePlaceSaysWhatItMeansAndKeepsTheCostForTheTip) {
    PublishedWeek p;
    const auto places = reasonsOf(*p.week, p.someVisit().job).alternatives;
    ASSERT_FALSE(places.empty());
    for (const Suggestion &place : places) {
        EXPECT_TRUE(place.text.contains(QStringLiteral("driving"))) << place.text.toStdString();
        EXPECT_FALSE(place.text.contains(QStringLiteral("cost"))) << place.text.toStdString();
        EXPECT_TRUE(place.tip.contains(QStringLiteral("weighted minutes")));
    }
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
}

} // namespace
} // namespace kitround::desk
