#include "core/forecast/SessionCounts.h"

#include "core/forecast/Quadrature.h"
#include "core/forecast/UnitsTable.h"
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
    UnitsTable table;
    RowTable mixed;
    table.begin({kitround::ItemId(1), units, {}, 0});
    table.addMix(counts[offers], mixed);
    std::vector<double> sum;
    addScaled(sum, mixed[0], 1.0);
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

// Rows BBN of beta_binomial.csv, each with its source.
TEST(SessionCountsTest, TheBetaBinomialMatchesTheCheckValues) {
    for (const CheckRow &row : checkRows("beta_binomial.csv", "BBN-")) {
        const std::string &text = row.at("parameters"), &what = row.at("quantity");
        RowTable table;
        addBetaBinomialRows({numberAfter(text, "a="), numberAfter(text, "b=")},
                            static_cast<std::size_t>(numberAfter(text, "n=")), table);
        std::vector<double> p;
        addScaled(p, table[table.size() - 1], 1.0);
        const Pmf pmf(p);
        const auto is = [&](const char *name) { return what.find(name) != std::string::npos; };
        double got = 0;
        if (is("pmf"))
            got = pmf[static_cast<std::size_t>(numberAfter(text, "k="))];
        else if (is("cdf"))
            got = pmf.cdf(static_cast<std::int64_t>(numberAfter(text, "k=")));
        else if (is("quantile"))
            got = static_cast<double>(pmf.quantile(0.9));
        else if (is("mean"))
            got = pmf.mean();
        else if (is("variance"))
            got = pmf.variance();
        else // E[(X - x)+]
            for (std::size_t k = 0; k < pmf.size(); ++k)
                got += std::max(0.0, static_cast<double>(k) - numberAfter(text, "x=")) * pmf[k];
        const double expected = std::stod(row.at("expected"));
        EXPECT_NEAR(got, expected, 1e-11 * std::max(1.0, expected)) << row.at("id");
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

// Independent: the chances of a sum are the sums of products.
TEST(SessionCountsTest, DrainsBeyondTheOrderAddToTheOthers) {
    RowTable planned, beyond;
    addBetaBinomialRows({9, 1}, 6, planned);
    addBetaBinomialRows({0.5, 14}, 5, beyond);
    std::vector<double> buffer;
    EXPECT_EQ(chanceOf(sumOf(planned[6], beyond[0], buffer), 4), chanceOf(planned[6], 4));
    const RowTable::Row sum = sumOf(planned[6], beyond[5], buffer);
    for (std::size_t n = 0; n <= 11; ++n) {
        double expected = 0;
        for (std::size_t k = 0; k <= n; ++k)
            expected += chanceOf(planned[6], k) * chanceOf(beyond[5], n - k);
        EXPECT_NEAR(chanceOf(sum, n), expected, 1e-15) << n;
    }
}
