// The morning call-out, a visit that runs over, two nurses who swap: the plan is mended with few moves, and
// who has to be told is listed.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/PlanComparison.h"
#include "core/desk/views/PublishNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kNextWeek = PublishedWeek::kFrom;

std::vector<PlanChange> notSmall(std::vector<PlanChange> changes) {
    std::erase_if(changes, [](const PlanChange &change) { return change.isSmall; });
    return changes;
}

TEST(RepairStory, ACallOutMovesOnlyTheVisitsOfThatNurseAndDayAndIsOnRecord) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    const auto mended = must(repairCallOut(*p.week, {nurse, day, {}, TimeOffKind::Sick}, {}));
    std::size_t hers = 0;
    for (const PlacedJob &placed : placedJobs(*p.week))
        hers += placed.duty == first.duty;
    EXPECT_EQ(mended.changes.size(), hers) << "nobody else is moved where there is room";
    for (const PlanChange &change : mended.changes) {
        EXPECT_FALSE(change.isUnplaced);
        EXPECT_NE(change.was, change.now);
        EXPECT_EQ(p.week->plan.placements[static_cast<std::size_t>(change.job)].duty, first.duty);
    }
    EXPECT_TRUE(mended.after->evaluation.broken.empty());
    EXPECT_GT(mended.addedCost, 0) << "a nurse away is never for nothing";

    const Plan plan =
        must(p.s.desk().acceptCallOut({nurse, day, {}, TimeOffKind::Sick, ""},
                                      {{kNextWeek, visitsOf(*mended.after), 1, mended.after->plan.cost}}))
            .front();
    EXPECT_EQ(plan.status, PlanStatus::Published) << "the week was published, and stays so";
    EXPECT_EQ(plan.version, 2);
    const auto &off = p.s.snapshot().timeOff;
    ASSERT_EQ(off.size(), 1U);
    EXPECT_EQ(off[0].nurse, nurse);
    EXPECT_EQ(off[0].from, day);
    const auto again = must(openWeek(p.s.agency(), kNextWeek, nullptr));
    EXPECT_TRUE(again->evaluation.broken.empty());
    EXPECT_EQ(placedJobs(*again).size(), placedJobs(*p.week).size());
    EXPECT_EQ(dutyOf(*again, nurse, day), -1) << "she has no duty that day any more";
}

TEST(RepairStory, ACallOutAtNoonPlacesNothingInTheMorningAndCountsWhatTheCalendarCounts) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    p.s.now(at(day, 12));
    const auto week = p.open();
    const auto mended = must(repairCallOut(*week, {nurse, day, {}, TimeOffKind::Sick}, {}));
    for (const PlacedJob &placed : placedJobs(*mended.after)) {
        if (dayOfDuty(*mended.after, placed.duty) != day)
            continue;
        const auto job = static_cast<std::size_t>(placed.job);
        const rounds::Placement &is = mended.after->plan.placements[job];
        const rounds::Placement &was = week->plan.placements[job];
        EXPECT_TRUE(is.start >= 12 * 60 || (is.duty == was.duty && is.start == was.start)) << placed.job;
        EXPECT_NE(nurseOfDuty(*mended.after, placed.duty), nurse);
    }
    const auto open = std::ranges::count(mended.changes, true, &PlanChange::isUnplaced);
    EXPECT_EQ(static_cast<std::size_t>(open), unplacedJobs(*mended.after).size());
    bool countsAsNotMade = false;
    for (std::size_t j = 0; j < week->plan.placements.size(); ++j) {
        const rounds::Placement &was = week->plan.placements[j];
        countsAsNotMade = countsAsNotMade || (was.isPlaced() && nurseOfDuty(*week, was.duty) == nurse &&
                                              dayOfDuty(*week, was.duty) == day && was.start < 12 * 60 &&
                                              mended.after->plan.placements[j].duty != was.duty);
    }
    ASSERT_TRUE(countsAsNotMade) << "she had no visit in the morning";
    ASSERT_FALSE(mended.toMind.isEmpty());
    EXPECT_TRUE(mended.toMind.front().contains(QStringLiteral(" before 12:00 count")) &&
                mended.toMind.front().contains(QStringLiteral("as not made: ")))
        << mended.toMind.front().toStdString();
    // Before the day begins nothing of it can have been made.
    const auto early = must(repairCallOut(*p.week, {nurse, day, {}, TimeOffKind::Sick}, {}));
    for (const QString &line : early.toMind)
        EXPECT_FALSE(line.contains(QStringLiteral("as not made"))) << line.toStdString();
}

TEST(RepairStory, ANurseWhoLeavesAtNoonKeepsHerMorning) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    const auto noon = Minutes::of(12 * 60);
    const auto mended = must(repairCallOut(*p.week, {nurse, day, noon, TimeOffKind::Sick}, {}));
    for (const PlacedJob &placed : placedJobs(*mended.after))
        if (nurseOfDuty(*mended.after, placed.duty) == nurse &&
            dayOfDuty(*mended.after, placed.duty) == day) {
            EXPECT_LE(placed.end, 12 * 60);
        }
    must(p.s.desk().acceptCallOut({nurse, day, noon, TimeOffKind::Sick, ""},
                                  {{kNextWeek, visitsOf(*mended.after), 1, 0}}));
    EXPECT_TRUE(p.s.snapshot().timeOff.empty());
    ASSERT_EQ(p.s.snapshot().extraShifts.size(), 1U);
    EXPECT_EQ(p.s.snapshot().extraShifts[0].to, noon);
    EXPECT_TRUE(p.s.snapshot().extraShifts[0].replacesPattern);
    const auto again = must(openWeek(p.s.agency(), kNextWeek, nullptr));
    EXPECT_TRUE(again->evaluation.broken.empty());
}

TEST(RepairStory, ACallOutIsOneStepOrNone) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    const auto before = p.s.auditLength();
    // A plan of another week is refused, and no absence stays behind.
    refused(p.s.desk().acceptCallOut({nurse, day, {}, TimeOffKind::Sick, ""},
                                     {{kNextWeek.plusDays(1), visitsOf(*p.week), 1, 0}}));
    EXPECT_TRUE(p.s.snapshot().timeOff.empty());
    EXPECT_EQ(p.s.auditLength(), before);
}

TEST(RepairStory, LeaveCalledOutIsStillTheManagersToAgreeTo) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    User coordinator;
    coordinator.name = "Casey";
    coordinator.role = UserRole::Coordinator;
    coordinator = must(p.s.desk().save(coordinator));
    p.s.desk().setUser(coordinator.id);
    const std::vector<Desk::PlanRecord> plans{{kNextWeek, visitsOf(*p.week), 1, 0}};
    EXPECT_EQ(firstArg(refused(p.s.desk().acceptCallOut({nurse, day, {}, TimeOffKind::Leave, ""}, plans))),
              "manager_only");
    EXPECT_TRUE(p.s.snapshot().timeOff.empty());
}

TEST(RepairStory, ANurseWithoutShiftOrAWeekThatIsOverIsRefusedInWords) {
    PublishedWeek p;
    const Problem noShift =
        refused(repairCallOut(*p.week, {p.s.nurse, kNextWeek.plusDays(40), {}, TimeOffKind::Sick}, {}));
    EXPECT_EQ(firstArg(noShift), "no_duty");
    p.s.now(at(kNextWeek.plusDays(8), 9));
    const auto old = must(openWeek(p.s.agency(), kNextWeek, nullptr));
    EXPECT_EQ(refused(repairToRecords(*old, {})).field, "week_start");
}

TEST(RepairStory, AVisitThatRunsOverKeepsItsStartAndThoseBehindMakeRoom) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto at = static_cast<std::size_t>(first.job);
    const auto mended = must(repairOverrun(*p.week, first.job, Minutes::of(45), {}));
    EXPECT_EQ(mended.after->plan.placements[at].start, p.week->plan.placements[at].start);
    EXPECT_EQ(mended.after->problem.jobs[at].length, p.week->problem.jobs[at].length + 45);
    EXPECT_TRUE(mended.after->evaluation.broken.empty());
}

TEST(RepairStory, WhichVisitRunsOverIsNamedAndItIsOneOfToday) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const Date day = dayOfDuty(*p.week, first.duty);
    const OverrunAsk ahead = overrunAsk(*p.week, first.job);
    EXPECT_TRUE(ahead.question.isEmpty());
    EXPECT_TRUE(ahead.refusal.contains(dayText(day))) << ahead.refusal.toStdString();
    EXPECT_FALSE(overrunAsk(*p.week, -1).refusal.isEmpty());
    p.s.now(at(day, 8));
    const auto week = p.open();
    const std::int32_t job = p.jobOf(*week, first);
    ASSERT_GE(job, 0);
    const OverrunAsk today = overrunAsk(*week, job);
    EXPECT_TRUE(today.refusal.isEmpty()) << today.refusal.toStdString();
    const PatientId patient = week->due[static_cast<std::size_t>(job)].visit.patient;
    for (const QString &named :
         {personName(*p.s.index().patient(patient)), timeText(Minutes::of(first.start)),
          nurseNameIn(*p.week, nurseOfDuty(*p.week, first.duty))})
        EXPECT_TRUE(today.question.contains(named)) << today.question.toStdString();
}

TEST(RepairStory, WhatStandsElsewhereThanPublishedIsListedUntilItIsPublished) {
    PublishedWeek p;
    EXPECT_TRUE(changesSincePublished(*p.week).empty());
    const PlacedJob first = p.someVisit();
    const auto out = offerRemoval(*p.week, first.job);
    ASSERT_TRUE(out.isAllowed());
    const auto published = publishedPicture(*out.after);
    ASSERT_NE(published, nullptr);
    EXPECT_NEAR(published->evaluation.parts.total(), p.week->evaluation.parts.total(), 1e-6);
    EXPECT_TRUE(costDifferences(*p.week, *published).isEmpty());
    EXPECT_EQ(costChangeText(*p.week, *published),
              QStringLiteral("The plan has as many weighted minutes as before."));
    const QString cost = costChangeText(*published, *out.after);
    EXPECT_TRUE(cost.startsWith(QStringLiteral("Weighted minutes ")) &&
                cost.contains(QStringLiteral("visits not placed +")) && !cost.contains(u'\n'))
        << cost.toStdString();
    const QStringList costs = costDifferences(*published, *out.after);
    ASSERT_GE(costs.size(), 2);
    EXPECT_TRUE(costs.front().startsWith(QStringLiteral("visits not placed"))) << costs.front().toStdString();
    const auto changes = changesSincePublished(*out.after);
    ASSERT_FALSE(changes.empty());
    EXPECT_EQ(changes[0].job, first.job);
    EXPECT_TRUE(changes[0].isUnplaced);
    EXPECT_EQ(std::ranges::count(changes, false, &PlanChange::isSmall), 1);
    EXPECT_TRUE(changesText(*out.after, changes).contains(QStringLiteral("1 visit has no place any more.")));
    const Paper paper = changesPaper(*out.after, changes);
    ASSERT_TRUE(paper.sections.front().table);
    EXPECT_EQ(paper.sections.front().table->rows.size(), changes.size());
    const SnapshotIndex &index = out.after->agency->index();
    EXPECT_EQ(paper.sections.front().table->rows[0][0],
              personName(*index.patient(changes[0].patient), index).toStdString())
        << "who phones has to know whom to ask for";
}

TEST(RepairStory, WhatHasNoPlaceIsListedFirst) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto moved = p.moved(first);
    for (const PlacedJob &other : placedJobs(*moved)) {
        const auto out = offerRemoval(*moved, other.job);
        if (other.job == first.job || !out.isAllowed())
            continue;
        const auto changes = changesSincePublished(*out.after);
        ASSERT_GE(changes.size(), 2U);
        EXPECT_EQ(changes[0].job, other.job) << "somebody has to decide";
        EXPECT_TRUE(changes[0].isUnplaced);
        EXPECT_FALSE(changes[1].isUnplaced);
        return;
    }
    FAIL() << "no other visit could be taken out";
}

TEST(RepairStory, WhatAMoveMeansIsSaidInWeightedMinutes) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const MoveOffer offer = offerMove(*p.week, first.job, nurse == p.s.nurse ? p.s.otherNurse : p.s.nurse,
                                      dayOfDuty(*p.week, first.duty));
    ASSERT_TRUE(offer.isAllowed());
    EXPECT_TRUE(offer.summary.contains(QStringLiteral("min driving, ")) &&
                offer.summary.endsWith(addedMinutesText(p.week->evaluation.parts.total(),
                                                        offer.after->evaluation.parts.total())))
        << offer.summary.toStdString();
    EXPECT_FALSE(offer.summary.contains(QStringLiteral("cost")));
}

TEST(RepairStory, AVisitUnderWayHasBegunAndTakesNoLocks) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    EXPECT_TRUE(reasonsOf(*p.week, first.job).noLocks.isEmpty());
    p.s.now(at(day, 16, 20));
    const auto week = p.open();
    const std::int32_t job = p.jobOf(*week, first);
    ASSERT_GE(job, 0);
    ASSERT_TRUE(week->problem.jobs[static_cast<std::size_t>(job)].hasBegun);
    const QString lock = visitCard(*week, job).lockText;
    EXPECT_TRUE(lock.startsWith(QStringLiteral("Begun ")) && lock.endsWith(QStringLiteral(", stays")))
        << lock.toStdString();
    const VisitReasons reasons = reasonsOf(*week, job);
    EXPECT_TRUE(reasons.facts.contains(lock));
    EXPECT_FALSE(reasons.facts.contains(QStringLiteral("Locked")));
    EXPECT_FALSE(reasons.noLocks.isEmpty());
    const auto unlocked = withLocks(*week, job, {});
    EXPECT_GE(unlocked->problem.jobs[static_cast<std::size_t>(job)].lockedDay, 0);
    const NurseId other = nurse == p.s.nurse ? p.s.otherNurse : p.s.nurse;
    EXPECT_TRUE(offerMove(*week, job, other, day).summary.contains(QStringLiteral("has begun")));
}

TEST(RepairStory, TheVersionInForceIsToldWhileADraftIsNewer) {
    PublishedWeek p;
    const auto told = [&](bool isChanged) {
        return publishedText(*p.s.agency(), PublishedWeek::kFrom, isChanged);
    };
    const QString inForce = QStringLiteral("published version 1, 08:00, is in force; this draft is not");
    EXPECT_TRUE(isPlanPublished(*p.s.agency(), PublishedWeek::kFrom));
    EXPECT_EQ(told(false), QStringLiteral("published, version 1, 08:00"));
    EXPECT_EQ(told(true), inForce) << "changed by hand since";
    p.store(*p.moved(p.someVisit()), false);
    EXPECT_FALSE(isPlanPublished(*p.s.agency(), PublishedWeek::kFrom));
    EXPECT_EQ(told(false), inForce);
    EXPECT_EQ(publishedText(*p.s.agency(), PublishedWeek::kFrom.plusDays(7), false), QString());
}

TEST(RepairStory, AMoveThatIsSavedAsADraftIsListedAgainstWhatPeopleWereTold) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto at = static_cast<std::size_t>(first.job);
    const VisitId id = p.week->due[at].visit.id;
    const VisitPlace told = placeIn(*p.week, p.week->plan.placements[at]);
    const auto draft = p.store(*p.moved(first), false);
    ASSERT_EQ(p.s.visit(id).status, VisitStatus::Drafted);
    const std::int32_t job = p.jobOf(*draft, first);
    const auto changes = changesSincePublished(*draft);
    const auto hers = std::ranges::find(changes, job, &PlanChange::job);
    ASSERT_NE(hers, changes.end());
    EXPECT_EQ(hers->was, placeText(*draft, told));
    EXPECT_EQ(hers->now, placeText(*draft, plannedPlace(p.s.visit(id))));
    EXPECT_FALSE(hers->isSmall);
    EXPECT_GT(draft->evaluation.parts.changes, 0) << "the place that was told is worth keeping";
    const auto published = publishedPicture(*draft);
    ASSERT_NE(published, nullptr);
    EXPECT_NEAR(published->evaluation.parts.total(), p.week->evaluation.parts.total(), 1e-6);
    // Who plans by the published week knows of the draft, and of what is in force.
    const auto items = attention(*p.s.agency(), nullptr, nullptr);
    EXPECT_TRUE(std::ranges::any_of(items, [](const AttentionItem &item) {
        return item.kind == AttentionKind::PlanNotPublished && item.dueOn == kNextWeek &&
               item.title.startsWith(QStringLiteral("Publish the changed week"));
    }));
    const auto handed = handOverItems(items, *p.s.agency());
    EXPECT_TRUE(std::ranges::any_of(handed, [](const HandOverItem &item) {
        return item.what.starts_with("Plan of the week of ") &&
               item.what.find("version 1") != std::string::npos;
    })) << "a draft does not hide that the week was published";
    // A second draft is held against what was published too. Published again, a home still knows what it was
    // told before, until somebody there has heard of it.
    EXPECT_EQ(changesSincePublished(*p.store(*draft, false)).size(), changes.size());
    const auto again = p.store(*draft, true);
    EXPECT_EQ(changesSincePublished(*again).size(), changes.size());
    p.phoneEverybody();
    EXPECT_TRUE(notSmall(changesSincePublished(*p.open())).empty());
}

TEST(RepairStory, WhatChangedAndWhomPublishingHasPhonedGoByWhatTheHomesWereTold) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto index = static_cast<std::size_t>(first.job);
    const VisitPlace told = placeIn(*p.week, p.week->plan.placements[index]);
    rounds::WeekPlan plan = p.week->plan;
    plan.placements[index].start += 20;
    const auto second = p.store(*withPlan(*p.week, plan), true); // as agreed: nobody is phoned
    ASSERT_TRUE(patientCalls(*p.s.agency()).empty());
    const std::int32_t job = p.jobOf(*second, first);
    plan = second->plan;
    plan.placements[static_cast<std::size_t>(job)].start += 20;
    const auto third = withPlan(*second, plan);
    const auto changes = changesSincePublished(*third);
    const auto hers = std::ranges::find(changes, job, &PlanChange::job);
    ASSERT_NE(hers, changes.end());
    EXPECT_FALSE(hers->isSmall) << "40 minutes in all";
    EXPECT_EQ(hers->was, placeText(*third, told));
    EXPECT_EQ(must(publishNews(*third)).patients, QStringList(hers->who));
}

TEST(RepairStory, TwoVisitsOfAHomeThatChangePlacesAreListedAndNeedNoCallAsPublishingHasIt) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto one = static_cast<std::size_t>(first.job);
    std::size_t other = p.week->due.size();
    for (std::size_t j = 0; j < p.week->due.size(); ++j)
        if (j != one && p.week->due[j].visit.patient == p.week->due[one].visit.patient &&
            p.week->due[j].visit.kind == p.week->due[one].visit.kind)
            other = j;
    ASSERT_LT(other, p.week->due.size());
    rounds::WeekPlan plan = p.week->plan;
    std::swap(plan.placements[one], plan.placements[other]);
    const auto changes = notSmall(changesSincePublished(*withPlan(*p.week, plan)));
    ASSERT_EQ(changes.size(), 2U);
    for (const PlanChange &change : changes)
        EXPECT_TRUE(change.note.endsWith(QStringLiteral("no call needed"))) << change.note.toStdString();
    EXPECT_TRUE(must(publishNews(*withPlan(*p.week, plan))).patients.isEmpty());
    // Whoever has to be phoned is not told apart by it.
    const auto moved = p.moved(first);
    const auto news = changesSincePublished(*moved);
    const auto hers = std::ranges::find(news, first.job, &PlanChange::job);
    ASSERT_NE(hers, news.end());
    EXPECT_FALSE(hers->note.contains(QStringLiteral("no call"))) << hers->note.toStdString();
}

TEST(RepairStory, ANewVisitInAPublishedWeekIsAmongWhatChangedAsItIsAmongThosePublishingHasPhoned) {
    PublishedWeek p;
    const auto home = p.s.addHome("E");
    p.s.visits(home, 1, 4, kNextWeek);
    const auto planned = p.planned(*p.open());
    const auto fresh = [&](const WeekPicture &week) {
        std::vector<PlanChange> changes = changesSincePublished(week);
        std::erase_if(changes, [](const PlanChange &change) { return !change.isNew; });
        return changes;
    };
    const auto changes = fresh(*planned);
    ASSERT_FALSE(changes.empty());
    for (const PlanChange &change : changes) {
        EXPECT_EQ(change.patient, home.patient);
        EXPECT_EQ(change.was, QStringLiteral("not expected"));
        EXPECT_TRUE(must(publishNews(*planned)).patients.contains(change.who));
    }
    EXPECT_TRUE(changesText(*planned, changes).contains(QStringLiteral(" new: ")));
    EXPECT_EQ(fresh(*p.store(*planned, true)).size(), changes.size()) << "published, and nobody was phoned";
    p.phoneEverybody();
    EXPECT_TRUE(fresh(*p.open()).empty());
}

TEST(RepairStory, AVisitThatADraftLeavesOutIsListedWithThePlaceThatWasTold) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto out = offerRemoval(*p.week, first.job);
    ASSERT_TRUE(out.isAllowed());
    const auto draft = p.store(*out.after, false);
    const std::int32_t job = p.jobOf(*draft, first);
    const auto changes = changesSincePublished(*draft);
    const auto hers = std::ranges::find(changes, job, &PlanChange::job);
    ASSERT_NE(hers, changes.end());
    EXPECT_TRUE(hers->isUnplaced);
    EXPECT_EQ(
        hers->was,
        placeText(*p.week, placeIn(*p.week, p.week->plan.placements[static_cast<std::size_t>(first.job)])));
    // Mended, it goes back to where people expect it.
    const auto mended = must(repairToRecords(*draft, {}));
    EXPECT_TRUE(std::ranges::all_of(changesSincePublished(*mended.after), &PlanChange::isSmall));
}

TEST(RepairStory, WhatIsCalledOffIsGoneOnlyWherePeopleWereToldOfIt) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const VisitId told = p.week->due[static_cast<std::size_t>(first.job)].visit.id;
    const Visit before = p.s.visit(told);
    const auto home = p.s.addHome("E");
    p.s.visits(home, 1, 4, kNextWeek);
    p.store(*p.planned(*p.open()), false);
    const auto isHers = [&](const Visit &visit) { return visit.patient == home.patient && visit.order; };
    const auto drafted = std::ranges::find_if(p.s.snapshot().visits, isHers);
    ASSERT_NE(drafted, p.s.snapshot().visits.end());
    ASSERT_EQ(drafted->status, VisitStatus::Drafted);
    must(p.s.desk().dropVisit(Visit(*drafted), "not wanted"));
    const auto gone = [&] {
        std::vector<PlanChange> changes = changesSincePublished(*p.open());
        std::erase_if(changes, [](const PlanChange &change) { return !change.isGone; });
        return changes;
    };
    EXPECT_TRUE(gone().empty()) << "a visit of a draft was told to nobody";
    must(p.s.desk().dropVisit(Visit(p.s.visit(told)), "prescriber: one fewer"));
    const auto changes = gone();
    ASSERT_EQ(changes.size(), 1U);
    EXPECT_EQ(changes[0].was, placeText(*p.week, plannedPlace(before))) << "wherever the draft had it";
    EXPECT_EQ(changes[0].patient, before.patient);
}

TEST(RepairStory, OfAVisitForTwoBothNursesWereTold) {
    PublishedWeek p;
    const auto home = p.s.addHome("E");
    Patient patient = *p.s.index().patient(home.patient);
    patient.needsTwoNurses = true;
    must(p.s.desk().save(patient));
    p.s.visits(home, 1, 4, kNextWeek);
    p.store(*p.planned(*p.open()), true);
    p.phoneEverybody();
    p.week = p.open();
    const auto pair = std::ranges::find(p.week->problem.jobs, true, &rounds::Job::twoNurses);
    ASSERT_NE(pair, p.week->problem.jobs.end());
    const auto job = static_cast<std::size_t>(pair - p.week->problem.jobs.begin());
    const rounds::Placement told = p.week->plan.placements[job];
    ASSERT_GE(told.secondDuty, 0);
    rounds::WeekPlan plan = p.week->plan;
    std::swap(plan.placements[job].duty, plan.placements[job].secondDuty);
    const auto swapped = withPlan(*p.week, plan);
    EXPECT_TRUE(notSmall(changesSincePublished(*swapped)).empty()) << "either may be named first";
    const DateRange one{kNextWeek, kNextWeek.plusDays(7)};
    EXPECT_TRUE(comparePlans(planInHand(p.week, one, true), planInHand(swapped, one, false)).visits.empty());
    plan.placements[job] = {};
    const auto without = withPlan(*p.week, plan);
    const auto changes = notSmall(changesSincePublished(*without));
    ASSERT_EQ(changes.size(), 1U);
    for (const NurseId nurse : {p.s.nurse, p.s.otherNurse})
        EXPECT_TRUE(changes[0].was.contains(nurseNameIn(*p.week, nurse))) << changes[0].was.toStdString();
    const auto published = publishedPicture(*without);
    ASSERT_NE(published, nullptr);
    EXPECT_EQ(published->plan.placements[job].duty, told.duty);
    EXPECT_EQ(published->plan.placements[job].secondDuty, told.secondDuty);
}

TEST(RepairStory, AStartThatIsOffByLittleIsListedApart) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    rounds::WeekPlan plan = p.week->plan;
    plan.placements[static_cast<std::size_t>(first.job)].start += 25;
    const auto near = changesSincePublished(*withPlan(*p.week, plan));
    ASSERT_EQ(near.size(), 1U);
    EXPECT_TRUE(near[0].isSmall);
    EXPECT_EQ(near[0].note, QStringLiteral("by 25 minutes"));
    EXPECT_TRUE(changesText(*p.week, near).startsWith(QStringLiteral("Within 30 minutes")))
        << "the tolerance is said";
    plan.placements[static_cast<std::size_t>(first.job)].start += 6;
    const auto far = changesSincePublished(*withPlan(*p.week, plan));
    ASSERT_EQ(far.size(), 1U);
    EXPECT_FALSE(far[0].isSmall);
    EXPECT_TRUE(
        changesText(*p.week, {}).startsWith(QStringLiteral("Every visit stands as people were told")));
    const auto later = must(openWeek(p.s.agency(), kNextWeek.plusDays(7), nullptr));
    EXPECT_TRUE(changesSincePublished(*later).empty());
    EXPECT_TRUE(changesText(*later, {}).startsWith(QStringLiteral("This week is not published yet")))
        << "nobody was told anything of it";
}

TEST(RepairStory, APublishedVisitOfAHomeThatIsAwayIsListedWithItsNurse) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const PatientId patient = p.week->due[static_cast<std::size_t>(first.job)].visit.patient;
    std::int64_t theirs = 0;
    for (const PlacedJob &placed : placedJobs(*p.week))
        theirs += p.week->due[static_cast<std::size_t>(placed.job)].visit.patient == patient ? 1 : 0;
    Hold hold;
    hold.patient = patient;
    hold.kind = HoldKind::Hospital;
    hold.from = kNextWeek;
    must(p.s.desk().save(hold));
    const auto week = must(openWeek(p.s.agency(), kNextWeek, nullptr));
    const auto changes = changesSincePublished(*week);
    const auto gone = std::ranges::find(changes, true, &PlanChange::isGone);
    ASSERT_NE(gone, changes.end());
    EXPECT_EQ(std::ranges::count(changes, true, &PlanChange::isGone), theirs);
    EXPECT_EQ(gone->patient, patient);
    EXPECT_TRUE(gone->now.contains(QStringLiteral("on hold"))) << gone->now.toStdString();
    EXPECT_TRUE(gone->note.startsWith(QStringLiteral("Tell "))) << gone->note.toStdString();
    EXPECT_TRUE(changesText(*week, changes).contains(QStringLiteral("taken out")));
    // Published without them, there is nothing to tell here any more.
    must(p.s.desk().acceptPlan(kNextWeek, visitsOf(*week), 1, 0, true));
    EXPECT_TRUE(changesSincePublished(*must(openWeek(p.s.agency(), kNextWeek, nullptr))).empty());
}

TEST(RepairStory, ALeaveThatIsNotDecidedIsShownAndNotObeyed) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const NurseId other = nurse == p.s.nurse ? p.s.otherNurse : p.s.nurse;
    const Date day = dayOfDuty(*p.week, first.duty);
    TimeOff asked;
    asked.nurse = other;
    asked.from = day;
    asked.to = day.plusDays(1);
    asked.status = LeaveStatus::Requested;
    asked.askedOn = kMonday;
    must(p.s.desk().save(asked));
    const auto week = must(openWeek(p.s.agency(), kNextWeek, nullptr));
    const MoveOffer moved = offerMove(*week, first.job, other, day);
    ASSERT_TRUE(moved.after) << "a request keeps nobody from being planned";
    EXPECT_EQ(undecidedLeave(*moved.after).size(), 1);
    const auto changes = changesSincePublished(*moved.after);
    const auto hers = std::ranges::find(changes, first.job, &PlanChange::job);
    ASSERT_NE(hers, changes.end());
    EXPECT_TRUE(hers->note.contains(QStringLiteral("not decided"))) << hers->note.toStdString();
    const WeekBoard board = boardOf(*week, week->week);
    const auto row = std::ranges::find(board.rows, other, &BoardRow::nurse);
    ASSERT_NE(row, board.rows.end());
    const auto cell = std::ranges::find(row->days, day, &BoardDay::on);
    ASSERT_NE(cell, row->days.end());
    EXPECT_EQ(cell->sign, QStringLiteral("leave asked for"));
}

TEST(RepairStory, ATurnOnCallShowsBesideTheDaysWork) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    ExtraShift turn;
    turn.nurse = nurse;
    turn.on = day;
    turn.from = Minutes::of(18 * 60);
    turn.to = Minutes::of(7 * 60);
    turn.isOnCall = true;
    turn.replacesPattern = false;
    must(p.s.desk().save(turn));
    const auto week = must(openWeek(p.s.agency(), kNextWeek, nullptr));
    const WeekBoard board = boardOf(*week, week->week);
    const auto row = std::ranges::find(board.rows, nurse, &BoardRow::nurse);
    ASSERT_NE(row, board.rows.end());
    const auto cell = std::ranges::find(row->days, day, &BoardDay::on);
    ASSERT_NE(cell, row->days.end());
    EXPECT_FALSE(cell->cards.empty());
    EXPECT_EQ(cell->sign, QStringLiteral("on call"));
    EXPECT_TRUE(cell->signTip.contains(QStringLiteral("18:00"))) << cell->signTip.toStdString();
}

TEST(RepairStory, TwoNursesSwapTheirDaysAndNothingIsLost) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    const NurseId other = nurse == p.s.nurse ? p.s.otherNurse : p.s.nurse;
    ASSERT_GE(dutyOf(*p.week, other, day), 0);
    const auto jobsOf = [](const WeekPicture &week, std::int32_t duty) {
        std::vector<std::int32_t> jobs;
        for (const PlacedJob &placed : placedJobs(week))
            if (placed.duty == duty)
                jobs.push_back(placed.job);
        std::ranges::sort(jobs);
        return jobs;
    };
    const MoveOffer swap = offerSwap(*p.week, nurse, day, other, day);
    ASSERT_TRUE(swap.isAllowed()) << swap.summary.toStdString();
    EXPECT_EQ(jobsOf(*swap.after, dutyOf(*p.week, other, day)), jobsOf(*p.week, first.duty));
    EXPECT_EQ(jobsOf(*swap.after, first.duty), jobsOf(*p.week, dutyOf(*p.week, other, day)));
    const MoveOffer away = offerSwap(*p.week, nurse, day, other, kNextWeek.plusDays(40));
    EXPECT_FALSE(away.isAllowed());
}

} // namespace
} // namespace kitround::desk
