// What a person moves by hand is named with its places, says what it means for people, keeps its place where
// that is asked for, and can be undone still after it was saved.
#include "core/desk/views/HandMoves.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

NurseId otherThan(const PublishedWeek &p, NurseId nurse) {
    return nurse == p.s.nurse ? p.s.otherNurse : p.s.nurse;
}

// A week of visits that nobody stored yet.
struct NewWeek {
    Story s;
    WeekPicturePtr opened, planned;

    NewWeek() {
        for (const char *code : {"A", "B", "C"})
            s.visits(s.addHome(code), 2, 4, PublishedWeek::kFrom);
        opened = open();
        planned = PublishedWeek::planned(*opened);
    }
    WeekPicturePtr open() const { return must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr)); }
    WeekPicturePtr store(const WeekPicture &picture) {
        must(s.desk().acceptPlan(PublishedWeek::kFrom, visitsOf(picture), 1, picture.plan.cost, false));
        return open();
    }
};

TEST(HandMovesStory, AMoveIsNamedWithTheVisitAndBothPlaces) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto moved = p.moved(visit);
    const QString mark = visitMark(*p.week, visit.job);
    const Patient *patient =
        p.s.index().patient(p.week->due[static_cast<std::size_t>(visit.job)].visit.patient);
    ASSERT_NE(patient, nullptr);
    EXPECT_EQ(mark, patientMark(*patient));
    const QString name = moveName(*p.week, *moved, visit.job);
    EXPECT_TRUE(name.startsWith(mark + QStringLiteral(" from "))) << name.toStdString();
    EXPECT_TRUE(name.contains(QStringLiteral(" to "))) << name.toStdString();
    for (const NurseId nurse : {p.s.nurse, p.s.otherNurse})
        EXPECT_TRUE(name.contains(nurseNameIn(*p.week, nurse))) << name.toStdString();
    const MoveOffer out = offerRemoval(*p.week, visit.job);
    ASSERT_TRUE(out.isAllowed());
    EXPECT_TRUE(moveName(*p.week, *out.after, visit.job).startsWith(mark + QStringLiteral(" from ")));
    EXPECT_TRUE(moveName(*out.after, *p.week, visit.job).startsWith(mark + QStringLiteral(" on ")));
    EXPECT_EQ(lockName(*p.week, visit.job, {.day = true, .nurse = true, .time = false}),
              QStringLiteral("Lock %1: day, nurse").arg(mark));
    EXPECT_EQ(lockName(*p.week, visit.job, {}), QStringLiteral("Unlock ") + mark);
}

TEST(HandMovesStory, AMoveSaysWhatItMeansForPeople) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, visit.duty);
    const Date day = dayOfDuty(*p.week, visit.duty);
    WeekPicture changed = *p.week;
    changed.problem.jobs[static_cast<std::size_t>(visit.job)].primaryNurse =
        changed.problem.duties[static_cast<std::size_t>(visit.duty)].nurse;
    auto week = withPlan(changed, changed.plan);
    const MoveOffer offer = offerMove(*week, visit.job, otherThan(p, nurse), day);
    ASSERT_TRUE(offer.isAllowed());
    const QString text = moveText(*week, visit.job, offer);
    EXPECT_TRUE(text.startsWith(offer.summary)) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("not the main nurse"))) << text.toStdString();
    EXPECT_FALSE(text.contains(QStringLiteral("visits on that day"))) << text.toStdString();

    for (rounds::Duty &duty : changed.problem.duties)
        duty.made = 10; // she has made that many on the day
    week = withPlan(changed, changed.plan);
    const MoveOffer full = offerMove(*week, visit.job, otherThan(p, nurse), day);
    if (full.isAllowed()) {
        EXPECT_TRUE(moveText(*week, visit.job, full).contains(QStringLiteral("visits on that day")));
    }
    const MoveOffer refused = offerMove(*week, visit.job, nurse, day.plusDays(60));
    EXPECT_EQ(moveText(*week, visit.job, refused), refused.summary);
}

TEST(HandMovesStory, OthersThatStartAtAnotherTimeAreCountedAndWhoWasTold) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    MoveOffer offer = offerMove(*p.week, visit.job, otherThan(p, nurseOfDuty(*p.week, visit.duty)),
                                dayOfDuty(*p.week, visit.duty));
    ASSERT_TRUE(offer.isAllowed());
    auto after = std::make_shared<WeekPicture>(*offer.after);
    int others = 0;
    for (std::size_t j = 0; j < after->plan.placements.size(); ++j) {
        rounds::Placement &placed = after->plan.placements[j];
        if (static_cast<std::int32_t>(j) == visit.job || !placed.isPlaced())
            continue;
        placed.start = p.week->plan.placements[j].start + (others < 2 ? 5 : 0);
        ++others;
    }
    ASSERT_GE(others, 2);
    offer.after = after;
    const QString text = moveText(*p.week, visit.job, offer);
    EXPECT_TRUE(text.contains(QStringLiteral("re-times 2 other visits (2 of them told)")))
        << text.toStdString();
}

TEST(HandMovesStory, AVisitWithoutAPlaceIsPlacedForWhatItsOfferSaid) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const MoveOffer out = offerRemoval(*p.week, visit.job);
    ASSERT_TRUE(out.isAllowed());
    const VisitReasons reasons = reasonsOf(*out.after, visit.job);
    ASSERT_FALSE(reasons.alternatives.empty());
    for (const Suggestion &place : reasons.alternatives) {
        const MoveOffer offer = offerMove(*out.after, visit.job, place.nurse, place.on, place.start);
        ASSERT_TRUE(offer.isAllowed());
        const QString text = moveText(*out.after, visit.job, offer);
        EXPECT_TRUE(text.contains(place.more.front()))
            << text.toStdString() << " / " << place.more.front().toStdString();
    }
}

TEST(HandMovesStory, WhatIsHeldKeepsItsPlaceInTheNextPlanAndIsNotLockedAfterwards) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto moved = p.moved(visit);
    const auto job = static_cast<std::size_t>(visit.job);
    const auto held = heldInPlace(*moved, {visit.job});
    EXPECT_GE(held->problem.jobs[job].lockedDay, 0);
    EXPECT_GE(held->problem.jobs[job].lockedNurse, 0);
    EXPECT_GE(held->problem.jobs[job].lockedStart, 0);
    const auto planned = withLocksOf(*PublishedWeek::planned(*held), *moved);
    EXPECT_TRUE(isSameSpot(planned->plan.placements[job], moved->plan.placements[job]));
    EXPECT_EQ(planned->problem.jobs[job].lockedDay, -1);
    EXPECT_EQ(planned->problem.jobs[job].lockedStart, -1);
    EXPECT_FALSE(planned->due[job].visit.dayIsLocked);
    EXPECT_EQ(standElsewhere(*moved, *planned, {visit.job}), 0);
    EXPECT_EQ(standElsewhere(*p.week, *moved, {visit.job}), 1);
}

TEST(HandMovesStory, ASwapIsReadBeforeItIsMadeAndWhatItMovedCanBeKept) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, visit.duty);
    const Date day = dayOfDuty(*p.week, visit.duty);
    WeekPicture changed = *p.week;
    changed.problem.jobs[static_cast<std::size_t>(visit.job)].primaryNurse =
        changed.problem.duties[static_cast<std::size_t>(visit.duty)].nurse;
    const auto week = withPlan(changed, changed.plan);
    const MoveOffer offer = offerSwap(*week, nurse, day, otherThan(p, nurse), day);
    ASSERT_TRUE(offer.isAllowed()) << offer.summary.toStdString();
    const std::vector<std::int32_t> moved = movedToOtherRounds(*week, *offer.after);
    EXPECT_NE(std::ranges::find(moved, visit.job), moved.end());
    const QStringList lines = swapLines(*week, offer);
    ASSERT_GE(lines.size(), 3);
    EXPECT_EQ(lines[0], offer.summary);
    EXPECT_TRUE(lines[1].endsWith(QStringLiteral("; people were told of each"))) << lines[1].toStdString();
    const Patient *patient =
        p.s.index().patient(p.week->due[static_cast<std::size_t>(visit.job)].visit.patient);
    ASSERT_NE(patient, nullptr);
    EXPECT_EQ(lines[2], QStringLiteral("Not by the main nurse any more: ") + personName(*patient));
    const auto planned =
        withLocksOf(*PublishedWeek::planned(*heldInPlace(*offer.after, moved)), *offer.after);
    EXPECT_EQ(standElsewhere(*offer.after, *planned, moved), 0);
}

TEST(HandMovesStory, WhereNoVisitWouldChangeThereIsNothingToSwap) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto empty = withPlacements(*p.week, std::vector<rounds::Placement>(p.week->due.size()));
    const MoveOffer offer = offerSwap(*empty, p.s.nurse, dayOfDuty(*p.week, visit.duty), p.s.otherNurse,
                                      dayOfDuty(*p.week, visit.duty));
    EXPECT_FALSE(offer.isAllowed());
    EXPECT_TRUE(offer.summary.startsWith(QStringLiteral("Nothing to swap: "))) << offer.summary.toStdString();
    EXPECT_EQ(swapLines(*empty, offer), QStringList{offer.summary});
}

TEST(HandMovesStory, WhatWasMovedByHandToAnHourGoneByIsPlannedAnew) {
    PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto job = static_cast<std::size_t>(visit.job);
    WeekPicture moved = *p.moved(visit);
    rounds::Job &draft = moved.problem.jobs[job]; // of a draft: nobody was told
    draft.publishedNurse = draft.publishedDay = draft.publishedStart = -1;
    const rounds::Placement &stands = moved.plan.placements[job];
    moved.problem.nowDay = moved.problem.duties[static_cast<std::size_t>(stands.duty)].day;
    moved.problem.now = stands.start - 1;
    EXPECT_TRUE(canBeHeld(moved, visit.job));
    EXPECT_EQ(heldInPlace(moved, {visit.job})->problem.jobs[job].lockedStart, stands.start);
    moved.problem.now = stands.start;
    EXPECT_FALSE(canBeHeld(moved, visit.job));
    const auto held = heldInPlace(moved, {visit.job});
    EXPECT_EQ(held->problem.jobs[job].lockedStart, -1);
    EXPECT_EQ(held->problem.jobs[job].lockedDay, -1);
    const auto planned = withLocksOf(*PublishedWeek::planned(*held), moved);
    EXPECT_EQ(standElsewhere(moved, *planned, {visit.job}), 1);
    EXPECT_LT(planFaults(*planned), planFaults(moved)) << "it is not told as nothing better";
}

TEST(HandMovesStory, AnEarlierStateIsLaidOntoTheRecordsThatASaveMade) {
    NewWeek n;
    ASSERT_FALSE(placedJobs(*n.planned).empty());
    ASSERT_FALSE(n.planned->due.front().visit.id.isSet()) << "no record yet";
    const auto fresh = n.store(*n.planned);
    const std::vector<std::int32_t> jobs = jobsAsStored(*n.planned, *fresh);
    ASSERT_EQ(jobs.size(), n.planned->due.size());
    const auto before = laidOnto(*n.opened, *fresh, jobs);
    EXPECT_EQ(unplacedJobs(*before).size(), before->due.size()) << "as it was before planning";
    const auto again = laidOnto(*n.planned, *fresh, jobs);
    WeekPicture otherSeed = *n.opened;
    otherSeed.seed = fresh->seed + 6;
    EXPECT_EQ(laidOnto(otherSeed, *fresh, jobs)->seed, otherSeed.seed)
        << "as it would have been planned then";
    for (std::size_t j = 0; j < again->due.size(); ++j)
        EXPECT_TRUE(isSameSpot(again->plan.placements[j], fresh->plan.placements[j]));
    const std::size_t visits = n.s.snapshot().visits.size();
    const auto stored = n.store(*again);
    EXPECT_EQ(n.s.snapshot().visits.size(), visits) << "nobody is visited twice";
    EXPECT_TRUE(jobsAsStored(*n.opened, *stored).empty()) << "another plan than that on record";
}

} // namespace
} // namespace kitround::desk
