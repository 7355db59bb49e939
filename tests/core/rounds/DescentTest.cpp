// The classic moves, each on a made-up day that no other one betters, and what they are for: in a plan that
// is given out no single visit has a cheaper place.
#include "core/rounds/search/Descent.h"

#include "core/base/Index.h"
#include "core/rounds/explain/Explain.h"
#include "core/rounds/search/Solver.h"
#include "tests/core/rounds/MadeUpWeek.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

namespace kitround::rounds {
namespace {

struct At {
    int x, y;
};

// Two nurses drive from (0, 0) and back, along streets; only the way costs. `most`: visits in a round.
class Town {
public:
    explicit Town(int most, int days = 1) {
        week_.firstDay = Date::of(2026, 11, 22);
        week_.days = days;
        week_.weights = {};
        week_.weights.waitMinute = week_.weights.notPrimary = week_.weights.notKnown = week_.weights.uneven =
            week_.weights.overtimeMinute = week_.weights.gapDay = week_.weights.changed = 0;
        points_.push_back({0, 0});
        for (std::int32_t nurse = 0; nurse < 2; ++nurse) {
            NurseInfo info;
            info.id = NurseId(nurse + 1);
            week_.nurses.push_back(info);
            for (std::int32_t day = 0; day < days; ++day) {
                Duty duty;
                duty.nurse = nurse;
                duty.day = day;
                duty.from = 0;
                duty.to = 2000;
                duty.mostVisits = most;
                week_.duties.push_back(duty);
            }
        }
    }
    std::int32_t visit(At at) {
        Job job;
        job.patient = PatientId(static_cast<std::int64_t>(week_.jobs.size()) + 1);
        job.place = static_cast<std::int32_t>(points_.size());
        job.length = 1;
        job.notes = 0;
        job.allowedDays.assign(kitround::at(week_.days), true);
        job.windows.resize(kitround::at(week_.days));
        week_.jobs.push_back(job);
        points_.push_back(at);
        return static_cast<std::int32_t>(week_.jobs.size()) - 1;
    }
    WeekProblem &week() { return week_; }
    using Rounds = std::vector<std::vector<std::int32_t>>; // by duty

    // From the rounds given to where the moves end.
    Rounds descend(const Rounds &from) {
        week_.travel.places = points_.size();
        week_.places.resize(points_.size());
        for (const At &a : points_)
            for (const At &b : points_) {
                const int minutes = std::abs(a.x - b.x) + std::abs(a.y - b.y);
                week_.travel.minutes.edit().push_back(minutes);
                week_.travel.metres.edit().push_back(1000 * minutes);
            }
        EXPECT_TRUE(checkProblem(week_));
        WorkingPlan plan(week_);
        Inserter inserter(plan);
        Recreate recreate(plan, inserter);
        const Nearness near(week_);
        for (std::size_t d = 0; d < from.size(); ++d)
            for (std::size_t i = 0; i < from[d].size(); ++i)
                EXPECT_TRUE(plan.insert(from[d][i], static_cast<std::int32_t>(d), i));
        plan.mark();
        before = plan.cost();
        after = Descent(plan, inserter, recreate, near).run(before, [] { return false; });
        const WeekPlan result = plan.plan();
        EXPECT_TRUE(evaluate(week_, result).broken.empty());
        EXPECT_NEAR(evaluate(week_, result).parts.total(), after, 1e-6);
        Rounds rounds;
        for (std::size_t d = 0; d < week_.duties.size(); ++d)
            rounds.push_back(plan.route(static_cast<std::int32_t>(d)).jobs);
        return rounds;
    }
    double before = 0, after = 0;

private:
    WeekProblem week_;
    std::vector<At> points_;
};

TEST(DescentTest, AVisitGoesWhereItIsNear) {
    Town town(5);
    const auto a = town.visit({50, 0}), b = town.visit({-50, 0}), c = town.visit({60, 0});
    town.descend({{a}, {c, b}});
    EXPECT_EQ(town.before, 100 + 220);
    EXPECT_EQ(town.after, 120 + 100);
}

// Full rounds: neither can take one more. Exchanged ends would carry the last visits along.
TEST(DescentTest, TwoVisitsChangePlaces) {
    Town town(3);
    const auto a1 = town.visit({50, 20}), a2 = town.visit({60, 20}), a3 = town.visit({70, 20});
    const auto b1 = town.visit({50, -20}), b2 = town.visit({60, -20}), b3 = town.visit({70, -20});
    const Town::Rounds found = town.descend({{a1, b2, a3}, {b1, a2, b3}});
    EXPECT_TRUE(std::ranges::is_permutation(found[0], std::vector{a1, a2, a3}));
    EXPECT_TRUE(std::ranges::is_permutation(found[1], std::vector{b1, b2, b3}));
    EXPECT_EQ(town.before - town.after, 4 * 40);
}

// Two far homes side by side: one of them alone saves the first nurse nothing, and the other has no room for
// all that comes behind them.
TEST(DescentTest, ARunOfVisitsMovesAsOne) {
    Town town(4);
    const auto a1 = town.visit({-50, 0}), a2 = town.visit({-51, 0});
    const auto b1 = town.visit({50, 30}), b2 = town.visit({51, 30});
    const auto c1 = town.visit({50, 50}), c2 = town.visit({51, 50});
    town.week().weights.notPrimary = 500; // the others stay with their nurses
    town.week().jobs[at(a1)].primaryNurse = town.week().jobs[at(a2)].primaryNurse = 0;
    town.week().jobs[at(b1)].primaryNurse = town.week().jobs[at(b2)].primaryNurse = 1;
    town.descend({{a1, c1, c2, a2}, {b1, b2}});
    EXPECT_EQ(town.after, 102 + 202);
}

// Both cross over half way: one visit alone, or one against one, would cross again.
TEST(DescentTest, TheEndsOfTwoRoundsChangePlaces) {
    Town town(4);
    std::vector<std::int32_t> north, south;
    for (int k = 1; k <= 4; ++k) {
        north.push_back(town.visit({10 * k, 50}));
        south.push_back(town.visit({10 * k, -50}));
    }
    const Town::Rounds found =
        town.descend({{north[0], north[1], south[2], south[3]}, {south[0], south[1], north[2], north[3]}});
    EXPECT_EQ(found, (Town::Rounds{north, south}));
    EXPECT_EQ(town.before - town.after, 200);
}

// Each nurse drives to the other's own patients, who live together: one patient alone would cost two ways.
TEST(DescentTest, TwoWholeDaysChangePlaces) {
    Town town(3);
    std::vector<std::int32_t> east, west;
    for (int k = 0; k < 3; ++k) {
        east.push_back(town.visit({100 + k, 0}));
        west.push_back(town.visit({-100 - k, 0}));
    }
    town.week().weights.notPrimary = 15;
    for (int k = 0; k < 3; ++k) {
        town.week().jobs[at(east[at(k)])].primaryNurse = 1;
        town.week().jobs[at(west[at(k)])].primaryNurse = 0;
    }
    const Town::Rounds found = town.descend({east, west});
    EXPECT_EQ(found, (Town::Rounds{west, east}));
    EXPECT_EQ(town.before - town.after, 6 * 15);
}

// Two visits a week, on days 0 and 2 or on 1 and 3: one alone cannot change its day.
TEST(DescentTest, ASeriesTakesOtherDaysAsAWhole) {
    Town town(2, 4);
    const auto first = town.visit({50, 0}), second = town.visit({50, 0});
    const auto other = town.visit({50, 1}), another = town.visit({50, 1});
    for (const std::int32_t job : {other, another})
        town.week().jobs[at(job)].allowedDays.assign(4, false);
    town.week().jobs[at(other)].allowedDays[1] = true;
    town.week().jobs[at(another)].allowedDays[3] = true;
    Series series;
    series.jobs = {first, second};
    series.patterns = {0b0101, 0b1010};
    town.week().series.push_back(series);
    for (const std::int32_t job : series.jobs)
        town.week().jobs[at(job)].series = 0;
    const Town::Rounds found = town.descend({{first}, {other}, {second}, {another}});
    EXPECT_EQ(found[1].size(), 2U);
    EXPECT_EQ(found[3].size(), 2U);
    EXPECT_EQ(town.after, 2 * 102);
}

TEST(DescentTest, NoVisitOfAPlanGivenOutHasACheaperPlace) {
    int cheaperBefore = 0;
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
        // Nobody was told of a time: a move by hand brings the round it leaves back to those (TryMove).
        const WeekProblem week =
            testing::madeUpWeek({.patients = 30, .nurses = 4, .windowShare = 0.5, .softShare = 0.3}, seed);
        const auto cheaper = [&](const WeekPlan &plan) {
            int count = 0;
            for (std::size_t job = 0; job < week.jobs.size(); ++job) {
                if (!plan.placements[job].isPlaced() || week.jobs[job].twoNurses)
                    continue;
                const auto ways = alternatives(week, plan, static_cast<std::int32_t>(job));
                count += !ways.empty() && ways.front().broken.empty() && ways.front().addedCost < -1e-6;
            }
            return count;
        };
        WorkingPlan first(week);
        Inserter inserter(first);
        Recreate(first, inserter).construct({});
        cheaperBefore += cheaper(first.plan());
        SolveOptions options;
        options.seed = seed;
        options.iterations = 10; // hardly any search: the moves must do it
        const auto solved = solve(week, options, {}, {});
        ASSERT_TRUE(solved);
        EXPECT_EQ(cheaper(solved->plan), 0) << "seed " << seed;
    }
    EXPECT_GT(cheaperBefore, 10) << "else this shows nothing";
}

} // namespace
} // namespace kitround::rounds
