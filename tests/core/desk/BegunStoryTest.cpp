// The running week planned anew: what has begun stays, whatever rule it breaks.
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekRepair.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

TEST(BegunStory, PlannedAnewInTheRunningWeekWhatHasBegunStaysAndNothingComesBeforeNow) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const NurseId nurse = nurseOfDuty(*p.week, first.duty);
    const Date day = dayOfDuty(*p.week, first.duty);
    const auto now = Minutes::of(first.start + 5);
    Patient patient = *p.s.index().patient(p.week->due[static_cast<std::size_t>(first.job)].visit.patient);
    patient.barredNurses = {nurse}; // heard of when she is at the door
    must(p.s.desk().save(patient));
    p.s.now({day, now});
    const auto week = p.open();
    const auto job = static_cast<std::size_t>(p.jobOf(*week, first));
    ASSERT_TRUE(week->problem.jobs[job].hasBegun);
    const auto planned = p.planned(*week);
    const rounds::Placement &stands = planned->plan.placements[job];
    EXPECT_EQ(stands.duty, week->plan.placements[job].duty);
    EXPECT_EQ(stands.start, first.start);
    EXPECT_EQ(visitsOf(*planned)[job].status, VisitStatus::Published) << "nobody has to be told anything";
    for (const PlacedJob &placed : placedJobs(*planned)) {
        if (dayOfDuty(*planned, placed.duty) != day)
            continue;
        const auto at = static_cast<std::size_t>(placed.job);
        EXPECT_TRUE(placed.start >= now.count() || week->problem.jobs[at].hasBegun) << placed.job;
    }
    EXPECT_FALSE(planned->evaluation.broken.empty()) << "she is barred, and there";
    EXPECT_TRUE(brokenRules(*planned).isEmpty()) << "nobody can mend it: publishing does not wait for it";
    EXPECT_TRUE(brokenRules(*planned, p.jobOf(*planned, first)).isEmpty());
    EXPECT_TRUE(brokenRulesTable(*planned).rows.empty());
    EXPECT_FALSE(leastCost(*week, week->plan.cost, {}, {})) << "a bound of plans that break no rule";
}

TEST(BegunStory, NobodyTakesItOutOfThePlan) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    ASSERT_TRUE(offerRemoval(*p.week, first.job).isAllowed());
    p.s.now({dayOfDuty(*p.week, first.duty), Minutes::of(first.start + 5)});
    const auto week = p.open();
    const MoveOffer out = offerRemoval(*week, p.jobOf(*week, first));
    EXPECT_FALSE(out.isAllowed());
    EXPECT_TRUE(out.summary.startsWith(QStringLiteral("The visit has begun"))) << out.summary.toStdString();
}

TEST(BegunStory, TheVisitOfTheMorningOfAnAdmissionStaysWhereItWasMade) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const Visit made = p.week->due[static_cast<std::size_t>(first.job)].visit;
    const Date day = dayOfDuty(*p.week, first.duty);
    p.s.now({day, Minutes::of(first.start + 30)});
    Hold hold;
    hold.patient = made.patient;
    hold.kind = HoldKind::Hospital;
    hold.from = day;
    must(p.s.desk().save(hold));
    ASSERT_EQ(p.s.visit(made.id).status, VisitStatus::Published) << "still to be closed by hand";
    const auto week = p.open();
    ASSERT_GE(p.jobOf(*week, first), 0);
    const auto again = p.store(*p.planned(*week), true);
    EXPECT_EQ(plannedPlace(p.s.visit(made.id)), plannedPlace(made));
    EXPECT_TRUE(std::ranges::none_of(changesSincePublished(*again), &PlanChange::isGone));
}

TEST(BegunStory, ADraftOfThisMorningThatNobodyWasToldOfHasNotBegunAndFindsAnotherPlace) {
    PublishedWeek p;
    const PlacedJob first = p.someVisit();
    const auto draft = p.store(*p.moved(first), false); // the other nurse, who was not told
    const rounds::Placement drafted =
        draft->plan.placements[static_cast<std::size_t>(p.jobOf(*draft, first))];
    const Date day = dayOfDuty(*draft, drafted.duty);
    const auto now = Minutes::of(drafted.start + 5);
    p.s.now({day, now});
    const auto week = p.open();
    const std::int32_t job = p.jobOf(*week, first);
    ASSERT_GE(job, 0);
    const auto mended = must(repairToRecords(*week, {}));
    const rounds::Placement &is = mended.after->plan.placements[static_cast<std::size_t>(job)];
    EXPECT_TRUE(!is.isPlaced() || dayOfDuty(*mended.after, is.duty) > day || is.start >= now.count());
}

TEST(BegunStory, ADraftThatCannotBeReachedAnyMoreIsPlannedAnewWhateverThatCosts) {
    PublishedWeek p;
    const auto placed = placedJobs(*p.week);
    const PlacedJob first = *std::ranges::min_element(placed, {}, [&](const PlacedJob &visit) {
        return std::pair(dayOfDuty(*p.week, visit.duty), visit.start);
    });
    const auto job = static_cast<std::size_t>(first.job);
    const auto day =
        static_cast<std::size_t>(p.week->problem.duties[static_cast<std::size_t>(first.duty)].day);
    WeekPicture draft = *p.week;
    rounds::Job &visit = draft.problem.jobs[job]; // nobody was told of it, and it can be at no other time
    visit.publishedNurse = visit.publishedDay = visit.publishedStart = -1;
    visit.allowedDays.assign(visit.allowedDays.size(), false);
    visit.allowedDays[day] = true;
    visit.windows[day] = {{first.start, first.start, true}};
    draft.problem.nowDay = static_cast<std::int32_t>(day);
    draft.problem.now = first.start - 120;
    const auto inTime = withPlan(draft, draft.plan);
    EXPECT_EQ(planFaults(*inTime), 0U);
    EXPECT_TRUE(p.planned(*inTime)->plan.placements[job].isPlaced());
    draft.problem.now = first.start - 5;
    const auto late = withPlan(draft, draft.plan);
    ASSERT_TRUE(late->broken.empty());
    EXPECT_EQ(planFaults(*late), 1U);
    const auto planned = p.planned(*late);
    EXPECT_FALSE(planned->plan.placements[job].isPlaced()) << "nobody could be there";
    EXPECT_GT(planned->plan.cost, late->plan.cost);
    EXPECT_EQ(planFaults(*planned), 0U);
    EXPECT_FALSE(isNoBetter(*planned, *late)) << "it is taken, and told as a new plan";
    EXPECT_TRUE(isNoBetter(*late, *late));
}

} // namespace
} // namespace kitround::desk
