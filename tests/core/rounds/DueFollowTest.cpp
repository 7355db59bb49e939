// Visits that are made one after another, as a week owes them.
#include "tests/core/rounds/DueFixture.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

TEST_F(DueTest, TheVisitsOfTwoOrdersFollowOneAnotherByTheirNumberInTheWeek) {
    order({segment(2, 4)}, kSunday);
    VisitOrder &second = order({segment(3, 4)}, kSunday);
    second.kind = VisitKind::DrainOnly;
    second.after.order = VisitOrderId(1);
    second.after.least = 1;
    second.after.most = 2;
    const auto p = problem({week(0).from, week(1).to});
    ASSERT_TRUE(p) << debugText(p.error());
    ASSERT_EQ(p->follows.size(), 4U) << "two pairs a week; the third drain stands free";
    for (const Follow &follow : p->follows) {
        EXPECT_EQ(p->jobs[static_cast<std::size_t>(follow.first)].kind, VisitKind::Routine);
        EXPECT_EQ(p->jobs[static_cast<std::size_t>(follow.second)].kind, VisitKind::DrainOnly);
        const auto sunday = [&](std::int32_t job) {
            const auto &days = p->jobs[static_cast<std::size_t>(job)].allowedDays;
            return (std::ranges::find(days, true) - days.begin()) / 7;
        };
        EXPECT_EQ(sunday(follow.first), sunday(follow.second)) << "of one week";
    }
}

TEST_F(DueTest, MinutesCountFromTheEndOfTheVisitBefore) {
    order({segment(1, 4)}, kSunday).length = Minutes::of(50);
    VisitOrder &second = order({segment(1, 4)}, kSunday);
    second.kind = VisitKind::DrainOnly;
    second.after = {VisitOrderId(1), {}, GapUnit::Minute, 30, 90, true};
    const auto p = problem(week(0));
    ASSERT_TRUE(p);
    ASSERT_EQ(p->follows.size(), 1U);
    EXPECT_EQ(p->follows[0].least, 50 + 30);
    EXPECT_EQ(p->follows[0].most, 50 + 90);
    EXPECT_TRUE(p->follows[0].byAnother);
}

TEST_F(DueTest, AfterAVisitThatIsMadeOnlyTheDaysAfterItAreLeft) {
    order({segment(1, 4)}, kSunday);
    VisitOrder &second = order({segment(1, 4)}, kSunday);
    second.kind = VisitKind::DrainOnly;
    second.after.order = VisitOrderId(1);
    second.after.least = 1;
    second.after.most = 2;
    stored(VisitStatus::Done, kSunday.plusDays(1));
    s.asOf = kSunday.plusDays(1);
    s.now = {s.asOf, Minutes::of(420)};
    const auto daysOf = [&]() -> std::vector<bool> {
        const auto p = problem(week(0));
        EXPECT_TRUE(p);
        const auto job = std::ranges::find(p->jobs, VisitKind::DrainOnly, &Job::kind);
        return job->allowedDays;
    };
    EXPECT_EQ(daysOf(), (std::vector<bool>{false, false, true, true, false, false, false}));
    s.asOf = kSunday.plusDays(5); // too late for two days: late is better than never
    s.now.date = s.asOf;
    EXPECT_EQ(daysOf(), (std::vector<bool>{false, false, false, false, false, true, true}));
}

TEST_F(DueTest, AnAddedVisitFollowsAnotherAddedOne) {
    Visit &first = stored(VisitStatus::Due, kSunday.plusDays(1), std::nullopt);
    first.kind = VisitKind::Teaching;
    Visit &second = stored(VisitStatus::Due, kSunday.plusDays(1), std::nullopt);
    second.kind = VisitKind::Supervisory;
    second.dueTo = kSunday.plusDays(5);
    second.after.visit = VisitId(1);
    second.after.least = second.after.most = 1;
    for (Visit &v : s.visits) {
        v.on.reset();
        v.startAt.reset();
        v.nurse.reset();
    }
    const auto p = problem(week(0));
    ASSERT_TRUE(p);
    ASSERT_EQ(p->follows.size(), 1U);
    EXPECT_EQ(p->jobs[static_cast<std::size_t>(p->follows[0].first)].visit, VisitId(1));
}

} // namespace
} // namespace kitround::rounds
