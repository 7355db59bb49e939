#include "core/forecast/OfferTable.h"

#include "core/forecast/Quadrature.h"
#include "core/forecast/UseRecursion.h"
#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numeric>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

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

} // namespace

// Rows BBP of conjugate_bayes.csv; one unit a session, so units are sessions.
TEST(OfferTableTest, OneUnitASessionIsTheBetaBinomialOfTheCheckValues) {
    for (const CheckRow &row : checkRows("conjugate_bayes.csv", "BBP-")) {
        const std::string &text = row.at("parameters");
        double a = 0, b = 0;
        ASSERT_EQ(std::sscanf(text.c_str(), "prior Beta(%lf,%lf)", &a, &b), 2);
        const double y = numberAfter(text, "y="), n = numberAfter(text, "n=");
        OfferTable table;
        table.build(BetaBelief{a, b}.after(y, n - y), Pmf::certain(1), 7);
        const auto x = static_cast<std::size_t>(numberAfter(row.at("quantity"), "P(X="));
        EXPECT_NEAR(table.unitsAfter(7)[x], std::stod(row.at("expected")), 1e-13) << row.at("id");
    }
}

TEST(OfferTableTest, AgreesWithTheRecursionWhereItsPointsAreExact) {
    const BetaBelief belief{9, 1};
    const Pmf units({0.3, 0.5, 0.15, 0.05});
    OfferTable table;
    table.build(belief, units, 40);
    for (std::size_t offers : {0U, 1U, 7U, 40U}) { // 24 points are exact up to 47 offers
        const std::vector<double> expected = byRecursion(belief, units, offers, 24);
        const auto got = table.unitsAfter(offers);
        for (std::size_t u = 0; u < std::max(expected.size(), got.size()); ++u)
            EXPECT_NEAR(u < got.size() ? got[u] : 0.0, u < expected.size() ? expected[u] : 0.0, 1e-13)
                << offers << " offers, " << u << " units";
    }
}

// Where the recursion has to do with few points (84 days, no log yet), its distribution function stays close.
TEST(OfferTableTest, SixteenPointsOfABroadBeliefStayWithinOnePercentOverTwelveWeeks) {
    const BetaBelief belief{9, 1};
    const Pmf units({0.0, 0.97, 0.03});
    OfferTable table;
    table.build(belief, units, 84);
    const std::vector<double> few = byRecursion(belief, units, 84, 16);
    double exact = 0, rough = 0, worst = 0;
    for (std::size_t u = 0; u < few.size(); ++u) {
        exact += u < table.unitsAfter(84).size() ? table.unitsAfter(84)[u] : 0.0;
        rough += few[u];
        worst = std::max(worst, std::abs(exact - rough));
    }
    EXPECT_LT(worst, 0.01);
}

TEST(OfferTableTest, EveryRowIsWholeAndCertaintyIsCertain) {
    OfferTable table;
    table.build({31.5, 4.2}, Pmf({0.0, 0.96, 0.04}), 84);
    for (std::size_t m = 0; m <= 84; ++m) {
        const auto row = table.unitsAfter(m);
        EXPECT_NEAR(std::accumulate(row.begin(), row.end(), 0.0), 1.0, 1e-13) << m;
        EXPECT_NEAR(table.chanceAbove(m, -1), 1.0, 1e-13);
    }
    table.build({10, 0}, Pmf::certain(2), 5); // built again, smaller
    EXPECT_EQ(table.unitsAfter(5).size(), 11U);
    EXPECT_EQ(table.unitsAfter(5)[10], 1.0);
    EXPECT_EQ(table.chanceAbove(5, 9), 1.0);
    EXPECT_EQ(table.chanceAbove(5, 10), 0.0);
}
