#include "core/forecast/Pmf.h"

#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

Pmf sumOf(const Pmf &one, int times) {
    Pmf sum;
    for (int i = 0; i < times; ++i)
        sum = sum.plus(one);
    return sum;
}

} // namespace

TEST(PmfTest, SurelyZeroByDefault) {
    const Pmf p;
    EXPECT_EQ(p.size(), 1U);
    EXPECT_EQ(p[0], 1.0);
    EXPECT_EQ(p[1], 0.0);
    EXPECT_EQ(p.quantile(0.5), 0);
}

TEST(PmfTest, QuantileIsTheSmallestValueThatReachesTheLevel) {
    const Pmf p({0.25, 0.25, 0.5});
    EXPECT_EQ(p.quantile(0.25), 0); // exactly reached
    EXPECT_EQ(p.quantile(0.26), 1);
    EXPECT_EQ(p.quantile(0.5), 1);
    EXPECT_EQ(p.quantile(1.0), 2);
}

TEST(PmfTest, BelowAndAboveShareTheWhole) {
    const Pmf p({0.1, 0.2, 0.3, 0.4});
    EXPECT_DOUBLE_EQ(p.cdf(-1), 0.0);
    EXPECT_DOUBLE_EQ(p.above(-1), 1.0);
    for (int k = 0; k < 5; ++k)
        EXPECT_NEAR(p.cdf(k) + p.above(k), 1.0, 1e-15);
}

TEST(PmfTest, ASumOfTwoDiceHasItsKnownShape) {
    std::vector<double> die(7, 1.0 / 6.0);
    die[0] = 0;
    const Pmf two = Pmf(die).plus(Pmf(die));
    EXPECT_NEAR(two[7], 6.0 / 36.0, 1e-15);
    EXPECT_NEAR(two[2], 1.0 / 36.0, 1e-15);
    EXPECT_NEAR(two.variance(), 2 * 35.0 / 12.0, 1e-12);
}

TEST(PmfTest, AMixtureIsBetweenItsParts) {
    const Pmf parts[] = {Pmf::certain(0), Pmf::certain(4)};
    const double weights[] = {0.25, 0.75};
    const Pmf mixed = Pmf::mixture(parts, weights);
    EXPECT_DOUBLE_EQ(mixed.mean(), 3.0);
    EXPECT_DOUBLE_EQ(mixed[0], 0.25);
}

TEST(PmfDeathTest, ProbabilitiesThatDoNotSumToOneAreABug) {
    EXPECT_DEATH(Pmf({0.5, 0.4}), "internal check failed");
    EXPECT_DEATH(Pmf({1.5, -0.5}), "internal check failed");
}

// Weekly bottles: scheduled sessions, each done with a chance, bottles a done session. Rows KIT of
// kit_use_exact.csv.
TEST(PmfTest, WeeklyBottlesMatchTheExactCheckValues) {
    for (const CheckRow &row : checkRows("kit_use_exact.csv", "KIT-")) {
        const std::string &parameters = row.at("parameters");
        const int sessions = static_cast<int>(numberAfter(parameters, "scheduled sessions="));
        const double done = numberAfter(parameters, "P(done)=");
        const Pmf week = sumOf(Pmf(pmfAfter(parameters, "session pmf ")).thinned(done), sessions);
        const std::string &quantity = row.at("quantity");
        const double expected = std::stod(row.at("expected"));
        const double tolerance = std::stod(row.at("tolerance"));
        double got = -1;
        if (quantity.rfind("P(weekly", 0) == 0)
            got = week[static_cast<std::size_t>(numberAfter(quantity, "bottles="))];
        else if (quantity.rfind("quantile", 0) == 0)
            got = static_cast<double>(week.quantile(numberAfter(quantity, "quantile ")));
        else if (quantity == "mean")
            got = week.mean();
        else if (quantity == "variance")
            got = week.variance();
        EXPECT_NEAR(got, expected, tolerance) << row.at("id") << ' ' << row.at("source");
    }
}
