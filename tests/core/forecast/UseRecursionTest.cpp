#include "core/forecast/UseRecursion.h"

#include "core/base/Random.h"
#include "core/forecast/Pmf.h"
#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numeric>

using namespace kitround;
using namespace kitround::forecast;
using namespace kitround::test;

namespace {

DayKernel kernelOf(const std::vector<double> &taps) {
    DayKernel kernel;
    kernel.branches = {{{Branch{0, taps}}}};
    return kernel;
}

StateChange changeOf(const std::string &text) {
    double r[6] = {};
    const std::size_t at = text.find("[[");
    EXPECT_EQ(std::sscanf(text.c_str() + at, "[[%lf, %lf, %lf], [%lf, %lf, %lf]", r, r + 1, r + 2, r + 3,
                          r + 4, r + 5),
              6);
    return {r[1], r[2], r[3], r[5]};
}

} // namespace

// Rows STA of kit_use_exact.csv: each day use, then transition.
TEST(UseRecursionTest, TheThreeStateChainMatchesTheExactCheckValues) {
    for (const CheckRow &row : checkRows("kit_use_exact.csv", "STA-")) {
        const std::string &text = row.at("parameters");
        const int days = static_cast<int>(numberAfter(text, "days="));
        const bool everyDay = text.find("sessions every day") != std::string::npos;
        const bool startsActive = text.find("start=active") != std::string::npos;
        ASSERT_TRUE(everyDay || text.find("sessions days 0,3,6") != std::string::npos);
        const StateChange change = changeOf(text);
        const DayKernel kernel = kernelOf(pmfAfter(text, "scheduled day pmf "));

        UseRecursion recursion;
        recursion.reserve(1, 1, 3 * static_cast<std::size_t>(days));
        recursion.begin(std::vector{startsActive ? 1.0 : 0.0}, std::vector{startsActive ? 0.0 : 1.0});
        for (int d = 0; d < days; ++d) {
            if (everyDay || d % 3 == 0)
                recursion.use(kernel);
            recursion.change(change);
        }
        const Pmf total(std::vector<double>(recursion.total().begin(), recursion.total().end()));
        const std::string &quantity = row.at("quantity");
        double got = -1;
        if (quantity.rfind("P(total", 0) == 0)
            got = total[static_cast<std::size_t>(numberAfter(quantity, "bottles="))];
        else if (quantity.rfind("quantile", 0) == 0)
            got = static_cast<double>(total.quantile(numberAfter(quantity, "quantile ")));
        else if (quantity == "mean")
            got = total.mean();
        EXPECT_NEAR(got, std::stod(row.at("expected")), std::stod(row.at("tolerance"))) << row.at("id");
    }
}

// Every path of a short horizon by hand: state, sessions done this week, units; nothing shared with the
// recursion.
TEST(UseRecursionTest, AWeeklyMaximumAndRunningDryMatchEveryPathEnumerated) {
    constexpr int kDays = 6, kMost = 2;               // at most two sessions a week; the week starts on day 3
    const double chanceByCount[] = {0.35, 0.45, 0.2}; // sessions of a day before the week's maximum
    const double units[] = {0.0, 0.7, 0.3};           // of a session
    const StateChange change{0.1, 0.04, 0.3, 0.02};
    const std::int64_t stock[] = {2, 2, 2, 4, 4, 4};

    std::vector<double> expected(40, 0.0);
    double expectedDry = 0;
    std::function<void(int, int, int, int, bool, double)> walk = [&](int day, int state, int week, int used,
                                                                     bool dry, double chance) {
        if (chance == 0.0)
            return;
        if (day == kDays) {
            expected[static_cast<std::size_t>(used)] += chance;
            expectedDry += dry ? chance : 0.0;
            return;
        }
        if (day == 3)
            week = 0;
        const auto next = [&](int nowWeek, int nowUsed, double p) {
            const bool nowDry = dry || (state != 2 && nowUsed > stock[day]);
            if (state == 2)
                return walk(day + 1, 2, nowWeek, nowUsed, nowDry, p);
            const double toOther = state == 0 ? change.activeToPaused : change.pausedToActive;
            const double leaves = state == 0 ? change.activeToLeft : change.pausedToLeft;
            walk(day + 1, 1 - state, nowWeek, nowUsed, nowDry, p * toOther);
            walk(day + 1, 2, nowWeek, nowUsed, nowDry, p * leaves);
            walk(day + 1, state, nowWeek, nowUsed, nowDry, p * (1 - toOther - leaves));
        };
        if (state != 0)
            return next(week, used, chance);
        const int left = kMost - week;
        for (int n = 0; n <= 2; ++n) {
            const int done = std::min(n, left); // what goes beyond the maximum is not done
            if (done == 0)
                next(week, used, chance * chanceByCount[n]);
            else if (done == 1)
                for (int u = 1; u <= 2; ++u)
                    next(week + 1, used + u, chance * chanceByCount[n] * units[u]);
            else
                for (int u = 1; u <= 2; ++u)
                    for (int v = 1; v <= 2; ++v)
                        next(week + 2, used + u + v, chance * chanceByCount[n] * units[u] * units[v]);
        }
    };
    walk(0, 0, 0, 0, false, 1.0);

    DayKernel kernel;
    const Pmf one(std::vector<double>(units, units + 3));
    std::vector<std::vector<Branch>> layers;
    for (int layer = 0; layer <= kMost; ++layer) {
        std::vector<Branch> branches;
        Pmf sum;
        for (int n = 0; n <= kMost - layer; ++n) {
            double chance = chanceByCount[n];
            for (int beyond = n + 1; n == kMost - layer && beyond <= 2; ++beyond)
                chance += chanceByCount[beyond];
            std::vector<double> taps(sum.values().begin(), sum.values().end());
            for (double &t : taps)
                t *= chance;
            branches.push_back({static_cast<std::size_t>(n), taps});
            sum = sum.plus(one);
        }
        layers.push_back(branches);
    }
    kernel.branches = {layers};

    UseRecursion recursion;
    recursion.reserve(1, kMost + 1, 4 * kDays);
    for (const bool absorbs : {false, true}) {
        recursion.begin(std::vector{1.0, 0.0, 0.0}, std::vector{0.0, 0.0, 0.0});
        double dry = 0;
        for (int d = 0; d < kDays; ++d) {
            if (d == 3)
                recursion.startWeek();
            recursion.use(kernel);
            if (absorbs)
                dry += recursion.absorbAbove(stock[d]);
            recursion.change(change);
        }
        if (absorbs) {
            EXPECT_NEAR(dry, expectedDry, 1e-12);
            EXPECT_GT(dry, 0.01); // else the case shows nothing
            continue;
        }
        const std::span<const double> total = recursion.total();
        for (std::size_t u = 0; u < expected.size(); ++u)
            EXPECT_NEAR(u < total.size() ? total[u] : 0.0, expected[u], 1e-12) << u;
    }
}

TEST(UseRecursionTest, AStartFromAWeeksMassesGivesTheUseOfThatWeekAlone) {
    const DayKernel kernel = kernelOf({0.2, 0.8});
    const StateChange change{0.0, 0.05, 0.0, 0.05};
    UseRecursion whole, week;
    whole.reserve(1, 1, 20);
    week.reserve(1, 1, 20);
    whole.begin(std::vector{1.0}, std::vector{0.0});
    for (int d = 0; d < 7; ++d) {
        whole.use(kernel);
        whole.change(change);
    }
    std::vector<double> active(1), paused(1);
    whole.masses(active, paused);
    EXPECT_NEAR(active[0], std::pow(0.95, 7), 1e-15);
    week.begin(active, paused);
    week.use(kernel);
    EXPECT_NEAR(week.total()[1], 0.8 * std::pow(0.95, 7), 1e-15);
    EXPECT_NEAR(week.total()[0] + week.total()[1], 1.0, 1e-15); // who has left uses nothing
}

TEST(UseRecursionTest, APauseStopsUseAndKeepsTheSumWhole) {
    const DayKernel kernel = kernelOf({0.0, 1.0});
    UseRecursion recursion;
    recursion.reserve(1, 1, 10);
    recursion.begin(std::vector{1.0}, std::vector{0.0});
    recursion.use(kernel);
    recursion.pauseAll();
    recursion.use(kernel);
    EXPECT_NEAR(recursion.total()[1], 1.0, 1e-15);
    recursion.change({0, 0, 0.25, 0});
    recursion.use(kernel);
    EXPECT_NEAR(recursion.total()[1], 0.75, 1e-15);
    EXPECT_NEAR(recursion.total()[2], 0.25, 1e-15);
}
