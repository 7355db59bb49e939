// With which week the calendar opens, what its head counts, which visit stays chosen when the records change,
// and how a lock in the way is let go.
#include "core/desk/views/ShownWeek.h"
#include "tests/core/desk/PublishedWeek.h"

#include <algorithm>

namespace kitround::desk {
namespace {

TEST(ShownWeek, TodaysRoundComesBeforeNextWeeksPlan) {
    Story s;
    const auto home = s.addHome("A");
    EXPECT_EQ(firstWeek(*s.agency()), nextWeek(*s.agency())) << "nobody drives today";
    Visit visit = s.publishVisit(home, kMonday, 8);
    EXPECT_EQ(firstWeek(*s.agency()), Date::of(2026, 3, 1));
    s.now(at(kMonday, 12));
    visit.status = VisitStatus::Done;
    visit.startedAt = at(kMonday, 8, 10);
    visit.endedAt = at(kMonday, 9);
    must(s.desk().closeVisit(visit));
    EXPECT_EQ(firstWeek(*s.agency()), nextWeek(*s.agency())) << "today's round is made";
}

TEST(ShownWeek, TheHeadCountsWhatIsMadeBesideWhatIsToDo) {
    Story s;
    const auto home = s.addHome("A");
    Visit visit = s.publishVisit(home, kMonday, 8);
    EXPECT_EQ(visitsCountText(*must(openWeek(s.agency(), kMonday, nullptr))), QStringLiteral("1 visit"));
    s.now(at(kMonday, 12));
    visit.status = VisitStatus::Done;
    visit.startedAt = at(kMonday, 8, 10);
    visit.endedAt = at(kMonday, 9);
    must(s.desk().closeVisit(visit));
    EXPECT_EQ(visitsCountText(*must(openWeek(s.agency(), kMonday, nullptr))),
              QStringLiteral("0 to do, 1 made"));
}

TEST(ShownWeek, AVisitIsFoundAgainWhateverNumberItHas) {
    Story s;
    for (const char *code : {"A", "B", "C"})
        s.visits(s.addHome(code), 2, 4, PublishedWeek::kFrom);
    const auto open = [&] { return must(openWeek(s.agency(), PublishedWeek::kFrom, nullptr)); };
    const auto before = open();
    ASSERT_EQ(before->due.size(), 6U);
    EXPECT_EQ(sameJob(*before, 4, *before), 4);
    EXPECT_EQ(sameJob(*before, -1, *before), -1);
    must(s.desk().dropVisit(before->due.front().visit, "one fewer this week"));
    const auto after = open();
    ASSERT_EQ(after->due.size(), 5U);
    for (std::int32_t job = 2; job < 6; ++job) {
        const std::int32_t is = sameJob(*before, job, *after);
        ASSERT_EQ(is, job - 1);
        EXPECT_EQ(after->due[static_cast<std::size_t>(is)].visit.patient,
                  before->due[static_cast<std::size_t>(job)].visit.patient);
    }
    // Stored since: it has a record now, and stands where it stood.
    const auto planned = PublishedWeek::planned(*after);
    must(s.desk().acceptPlan(PublishedWeek::kFrom, visitsOf(*planned), 1, 0, true));
    const auto stored = open();
    for (const PlacedJob &placed : placedJobs(*planned)) {
        const std::int32_t is = sameJob(*planned, placed.job, *stored);
        ASSERT_GE(is, 0);
        EXPECT_EQ(stored->plan.placements[static_cast<std::size_t>(is)].start, placed.start);
    }
    // Of a visit that is not owed any more nothing is taken for it.
    const Visit gone = stored->due.front().visit;
    must(s.desk().dropVisit(gone, "one fewer this week"));
    EXPECT_EQ(sameJob(*stored, 0, *open()), -1);
}

TEST(ShownWeek, AWayOutLetsGoOfTheLockAndNamesThePlace) {
    const PublishedWeek p;
    const PlacedJob visit = p.someVisit();
    const auto locked = withLocks(*p.week, visit.job, {.day = true, .nurse = true, .time = false});
    rounds::WeekPlan plan = locked->plan;
    plan.placements[static_cast<std::size_t>(visit.job)] = {};
    const auto open = withPlan(*locked, plan);
    const VisitReasons reasons = reasonsOf(*open, visit.job);
    const auto way = std::ranges::find_if(reasons.waysOut, [](const Suggestion &s) {
        return s.step == WayStep::Unlock && s.text.startsWith(QStringLiteral("Unlock the nurse"));
    });
    ASSERT_NE(way, reasons.waysOut.end());
    EXPECT_TRUE(way->kept.day);
    EXPECT_FALSE(way->kept.nurse);
    for (const Suggestion &other : reasons.waysOut)
        EXPECT_FALSE(other.text.startsWith(QStringLiteral("Allow "))) << other.text.toStdString();
    const auto unlocked = withLocks(*open, visit.job, way->kept);
    const auto job = static_cast<std::size_t>(visit.job);
    EXPECT_GE(unlocked->problem.jobs[job].lockedDay, 0) << "what is not let go stays";
    EXPECT_EQ(unlocked->problem.jobs[job].lockedNurse, -1);
    EXPECT_TRUE(offerMove(*unlocked, visit.job, way->nurse, way->on, way->start).isAllowed());
    EXPECT_EQ(withLocks(*unlocked, visit.job, {.day = false, .nurse = true})->problem.jobs[job].lockedNurse,
              -1)
        << "without a place there is nothing to lock it to";
}

} // namespace
} // namespace kitround::desk
