#include "core/forecast/SessionCounts.h"

#include "core/forecast/Quadrature.h"
#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numeric>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

double chanceOf(const RowTable::Row &row, std::size_t n) {
    return n < row.least || n >= row.end() ? 0.0 : row.p[n - row.least];
}

// Units of 0, 1, 2, ... sessions, one convolution after another.
RowTable unitsOfSessions(const Pmf &units, std::size_t most) {
    RowTable table;
    Pmf sum;
    for (std::size_t n = 0; n <= most; ++n) {
        table.add({0, sum.values()});
        sum = sum.plus(units);
    }
    return table;
}

std::vector<double> byRecursion(const BetaBelief &belief, const Pmf &units, std::size_t offers, int points) {
    DayKernel kernel;
    std::vector<double> weights;
    for (const WeightedPoint &p : betaRule(belief.a, belief.b, points)) {
        const Pmf day = units.thinned(p.at);
        kernel.branches.push_back({{Branch{0, {day.values().begin(), day.values().end()}}}});
        weights.push_back(p.weight);
    }
    UseRecursion recursion;
    recursion.reserve(weights.size(), 1, offers * (units.size() - 1));
    recursion.begin(weights, std::vector<double>(weights.size(), 0.0));
    for (std::size_t i = 0; i < offers; ++i)
        recursion.use(kernel);
    return {recursion.total().begin(), recursion.total().end()};
}

std::vector<double> byTable(const BetaBelief &belief, const Pmf &units, std::size_t offers) {
    RowTable counts;
    addBetaBinomialRows(belief, offers, counts);
    std::vector<double> buffer, sum;
    addScaled(sum, unitsOfSessions(units, offers).mix(counts[offers], buffer), 1.0);
    return sum;
}

double at(const std::vector<double> &p, std::size_t k) {
    return k < p.size() ? p[k] : 0.0;
}

} // namespace

// Rows BBP of conjugate_bayes.csv: the posterior predictive of sessions done.
TEST(SessionCountsTest, SessionsOfManyOffersAreTheBetaBinomialOfTheCheckValues) {
    for (const CheckRow &row : checkRows("conjugate_bayes.csv", "BBP-")) {
        const std::string &text = row.at("parameters");
        double a = 0, b = 0;
        ASSERT_EQ(std::sscanf(text.c_str(), "prior Beta(%lf,%lf)", &a, &b), 2);
        const double y = numberAfter(text, "y="), n = numberAfter(text, "n=");
        RowTable table;
        addBetaBinomialRows(BetaBelief{a, b}.after(y, n - y), 7, table);
        const auto x = static_cast<std::size_t>(numberAfter(row.at("quantity"), "P(X="));
        EXPECT_NEAR(chanceOf(table[7], x), std::stod(row.at("expected")), 1e-13) << row.at("id");
    }
}

TEST(SessionCountsTest, UnitsOfCountedSessionsAgreeWithTheRecursionWhereItsPointsAreExact) {
    const BetaBelief belief{9, 1};
    const Pmf units({0.3, 0.5, 0.15, 0.05});
    for (std::size_t offers : {0U, 1U, 7U, 40U}) { // 24 points are exact up to 47 offers
        const std::vector<double> expected = byRecursion(belief, units, offers, 24);
        const std::vector<double> got = byTable(belief, units, offers);
        for (std::size_t u = 0; u < std::max(expected.size(), got.size()); ++u)
            EXPECT_NEAR(at(got, u), at(expected, u), 1e-13) << offers << " offers, " << u << " units";
    }
}

// Where the recursion has to do with few points (84 days, no log yet), its distribution function stays close.
TEST(SessionCountsTest, SixteenPointsOfABroadBeliefStayWithinOnePercentOverTwelveWeeks) {
    const BetaBelief belief{9, 1};
    const Pmf units({0.0, 0.97, 0.03});
    const std::vector<double> few = byRecursion(belief, units, 84, 16), all = byTable(belief, units, 84);
    double exact = 0, rough = 0, worst = 0;
    for (std::size_t u = 0; u < few.size(); ++u) {
        exact += at(all, u);
        rough += few[u];
        worst = std::max(worst, std::abs(exact - rough));
    }
    EXPECT_LT(worst, 0.01);
}

TEST(SessionCountsTest, EveryRowIsWholeAndCertaintyIsCertain) {
    RowTable table;
    addBetaBinomialRows({31.5, 4.2}, 84, table);
    for (std::size_t m = 0; m <= 84; ++m) {
        EXPECT_NEAR(std::accumulate(table[m].p.begin(), table[m].p.end(), 0.0), 1.0, 1e-13) << m;
        EXPECT_NEAR(chanceAbove(table[m], -1), 1.0, 1e-13);
    }
    table.clear(); // built again, smaller
    addBetaBinomialRows({10, 0}, 5, table);
    ASSERT_EQ(table.size(), 6U);
    EXPECT_EQ(table[5].least, 5U);
    EXPECT_EQ(table[5].p.size(), 1U);
    EXPECT_EQ(chanceAbove(table[5], 4), 1.0);
    EXPECT_EQ(chanceAbove(table[5], 5), 0.0);
}

// C(10, 3) 0.2^3 0.8^7 = 120 x 0.008 x 0.2097152
TEST(SessionCountsTest, DrainsBeyondTheOrderAreBinomialAndAddToTheOthers) {
    RowTable beyond;
    addBinomialRows(0.2, 10, beyond);
    EXPECT_NEAR(chanceOf(beyond[10], 3), 0.201326592, 1e-12);
    EXPECT_EQ(beyond[0].p.size(), 1U);
    std::vector<double> buffer;
    const RowTable::Row sum = sumOf(beyond[4], beyond[6], buffer);
    for (std::size_t n = 0; n <= 10; ++n)
        EXPECT_NEAR(chanceOf(sum, n), chanceOf(beyond[10], n), 1e-14);
}
