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

} // namespace
} // namespace kitround::desk
