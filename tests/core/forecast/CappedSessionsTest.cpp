#include "core/forecast/CappedSessions.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <numeric>

using namespace kitround::forecast;

namespace {

constexpr double kPerDay = 0.7;
constexpr int kMostADay = 2;

struct Expected {
    std::vector<double> all = std::vector<double>(20, 0.0), since = all;
};

// Every outcome of `days` days: the agency's week starts on day `weekStart`, counting afresh on day 1.
Expected enumerate(int days, int weeklyMost, int doneBefore, int weekStart) {
    Expected e;
    const std::function<void(int, int, int, int, double)> walk = [&](int day, int inWeek, int all, int since,
                                                                     double chance) {
        if (day == days) {
            e.all[static_cast<std::size_t>(all)] += chance;
            e.since[static_cast<std::size_t>(since)] += chance;
            return;
        }
        if (day == weekStart)
            inWeek = 0;
        if (day == 1)
            since = 0;
        const int most = weeklyMost > 0 ? std::min(kMostADay, weeklyMost - inWeek) : kMostADay;
        const std::vector<double> p = cappedPoisson(kPerDay, most);
        for (int k = 0; k <= most; ++k)
            walk(day + 1, inWeek + k, all + k, since + k, chance * p[static_cast<std::size_t>(k)]);
    };
    walk(0, doneBefore, 0, 0, 1.0);
    return e;
}

} // namespace

TEST(CappedSessionsTest, EveryOutcomeOfAFewDaysEnumerated) {
    for (const int weeklyMost : {0, 1, 3})
        for (const int doneBefore : {0, 1})
            for (const int weekStart : {0, 2, 99}) {
                CappedSessions sessions(kPerDay, weeklyMost, doneBefore);
                for (int day = 0; day < 5; ++day) {
                    if (day == weekStart)
                        sessions.startWeek();
                    if (day == 1)
                        sessions.countAfresh();
                    sessions.drainOn(kMostADay);
                }
                const Expected e = enumerate(5, weeklyMost, doneBefore, weekStart);
                std::vector<double> all(20, 0.0), since(20, 0.0);
                sessions.addAll(1.0, all);
                sessions.addSince(1.0, since);
                for (std::size_t n = 0; n < 20; ++n) {
                    EXPECT_NEAR(all[n], e.all[n], 1e-14) << weeklyMost << doneBefore << weekStart;
                    EXPECT_NEAR(since[n], e.since[n], 1e-14) << weeklyMost << doneBefore << weekStart;
                }
            }
}

TEST(CappedSessionsTest, ADayWhoseMaximumIsReachedAddsNothing) {
    CappedSessions sessions(2.0, 4, 4);
    sessions.drainOn(1);
    sessions.drainOn(0);
    std::vector<double> all;
    sessions.addAll(1.0, all);
    ASSERT_EQ(all.size(), 1U);
    EXPECT_EQ(all[0], 1.0);
}

TEST(CappedSessionsTest, OfAPoissonAllAboveTheMaximumCountsAtIt) {
    const std::vector<double> p = cappedPoisson(1.0, 2); // 1/e, 1/e, the rest
    EXPECT_NEAR(p[0], 0.36787944117144233, 1e-15);
    EXPECT_NEAR(p[1], 0.36787944117144233, 1e-15);
    EXPECT_NEAR(p[2], 1 - 2 * 0.36787944117144233, 1e-15);
}
