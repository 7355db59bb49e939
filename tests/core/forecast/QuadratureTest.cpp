#include "core/forecast/Quadrature.h"
#include "core/forecast/UseModel.h"

#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

#include <cmath>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

double momentOf(const std::vector<WeightedPoint> &rule, int power) {
    double sum = 0;
    for (const WeightedPoint &p : rule)
        sum += p.weight * std::pow(p.at, power);
    return sum;
}

double choose(int n, int k) {
    return std::round(std::exp(std::lgamma(n + 1) - std::lgamma(k + 1) - std::lgamma(n - k + 1)));
}

double binomial(int n, int k, double p) {
    return choose(n, k) * std::pow(p, k) * std::pow(1 - p, n - k);
}

double logBeta(double a, double b) {
    return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
}

double betaBinomial(int n, int k, double a, double b) {
    return choose(n, k) * std::exp(logBeta(a + k, b + n - k) - logBeta(a, b));
}

} // namespace

TEST(QuadratureTest, FivePointsCarryTheFirstNineMomentsOfABeta) {
    for (const auto &[a, b] :
         {std::pair(9.0, 1.0), std::pair(0.4, 0.7), std::pair(43.2, 5.1), std::pair(1.0, 1.0)}) {
        const auto rule = betaRule(a, b, 5);
        double expected = 1; // E p^k = product of (a + i) / (a + b + i)
        for (int k = 0; k <= 9; ++k) {
            EXPECT_NEAR(momentOf(rule, k), expected, 1e-13) << a << ' ' << b << ' ' << k;
            expected *= (a + k) / (a + b + k);
        }
        EXPECT_GT(
            std::abs(momentOf(betaRule(a, b, 2), 4) -
                     a * (a + 1) * (a + 2) * (a + 3) / ((a + b) * (a + b + 1) * (a + b + 2) * (a + b + 3))),
            1e-12); // two points carry three only
    }
}

TEST(QuadratureTest, FivePointsCarryTheFirstNineMomentsOfAGamma) {
    const double shape = 6, rate = 7;
    const auto points = gammaRule(shape, rate, 5);
    double expected = 1;
    for (int k = 0; k <= 9; ++k) {
        EXPECT_NEAR(momentOf(points, k) / expected, 1.0, 1e-12) << k;
        expected *= (shape + k) / rate;
    }
}

TEST(QuadratureTest, CertaintyIsOnePoint) {
    EXPECT_EQ(betaRule(10, 0, 5).size(), 1U);
    EXPECT_EQ(betaRule(10, 0, 5)[0].at, 1.0);
    EXPECT_EQ(betaRule(0, 3, 5)[0].at, 0.0);
}

// Rows BBP of conjugate_bayes.csv: posterior after y of n, then the chance of x among 7.
TEST(QuadratureTest, BetaBinomialPredictivesMatchTheCheckValues) {
    for (const CheckRow &row : checkRows("conjugate_bayes.csv", "BBP-")) {
        const std::string &text = row.at("parameters");
        double a = 0, b = 0;
        ASSERT_EQ(std::sscanf(text.c_str(), "prior Beta(%lf,%lf)", &a, &b), 2);
        const double y = numberAfter(text, "y="), n = numberAfter(text, "n=");
        const BetaBelief posterior = BetaBelief{a, b}.after(y, n - y);
        const int x = static_cast<int>(numberAfter(row.at("quantity"), "P(X="));
        const int m = static_cast<int>(numberAfter(row.at("quantity"), " of "));
        double got = 0;
        for (const WeightedPoint &p : betaRule(posterior.a, posterior.b, 5))
            got += p.weight * binomial(m, x, p.at);
        EXPECT_NEAR(got, std::stod(row.at("expected")), std::stod(row.at("tolerance"))) << row.at("id");
        EXPECT_NEAR(got, betaBinomial(m, x, posterior.a, posterior.b), 1e-13) << row.at("id");
    }
}

// Rows BET-001 to 003: the posterior itself.
TEST(QuadratureTest, BetaPosteriorMatchesTheCheckValues) {
    const BetaBelief posterior = BetaBelief{1, 1}.after(437, 980 - 437);
    const std::map<std::string, double> got = {
        {"posterior a", posterior.a}, {"posterior b", posterior.b}, {"posterior mean", posterior.mean()}};
    int checked = 0;
    for (const CheckRow &row : checkRows("conjugate_bayes.csv", "BET-")) {
        const auto at = got.find(row.at("quantity"));
        if (at == got.end())
            continue; // the quantiles of the posterior are not used here
        EXPECT_NEAR(at->second, std::stod(row.at("expected")), std::stod(row.at("tolerance")))
            << row.at("id");
        ++checked;
    }
    EXPECT_EQ(checked, 3);
}

// Rows GPP: Poisson counts under a Gamma belief are negative binomial.
TEST(QuadratureTest, GammaPoissonPredictivesMatchTheCheckValues) {
    int checked = 0;
    for (const CheckRow &row : checkRows("conjugate_bayes.csv", "GPP-")) {
        const std::string &text = row.at("parameters");
        const double shape = numberAfter(text, "shape="), rate = numberAfter(text, "rate=");
        const double exposure = numberAfter(text, "exposure=");
        const std::string &quantity = row.at("quantity");
        const std::size_t at = quantity.find("P(Y=");
        if (at == std::string::npos)
            continue;
        const int y = static_cast<int>(numberAfter(quantity, "P(Y="));
        double got = 0;
        for (const WeightedPoint &p : gammaRule(shape, rate, kMostPoints)) {
            const double mean = p.at * exposure;
            got += p.weight * std::exp(-mean) * std::pow(mean, y) / std::tgamma(y + 1.0);
        }
        // The widest belief against its exposure (shape 2.5, rate 0.8, exposure 2) is not a polynomial any
        // more.
        EXPECT_NEAR(got, std::stod(row.at("expected")),
                    exposure > rate ? 1e-4 : std::stod(row.at("tolerance")))
            << row.at("id");
        ++checked;
    }
    EXPECT_GE(checked, 9);
    const RateBelief posterior = RateBelief{10, 2}.after(6 + 2 + 2 + 1, 4); // GPO-005 to 007
    EXPECT_EQ(posterior.shape, 21);
    EXPECT_EQ(posterior.days, 6);
    EXPECT_DOUBLE_EQ(posterior.mean(), 3.5);
}
