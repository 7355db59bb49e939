#include "core/forecast/backtest/Scores.h"

#include "core/base/Random.h"
#include "core/forecast/Pmf.h"
#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <sstream>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

std::vector<double> poisson(double mean) {
    std::vector<double> p{std::exp(-mean)};
    for (int k = 1; k < 120; ++k)
        p.push_back(p.back() * mean / k);
    return p;
}

// Failures before the r-th success of chance `p`, r whole.
std::vector<double> negativeBinomial(double r, double p) {
    std::vector<double> pmf{std::pow(p, r)};
    for (int k = 1; k < 400; ++k)
        pmf.push_back(pmf.back() * (1 - p) * (r + k - 1) / k);
    return pmf;
}

std::vector<double> forecastIn(const CheckRow &row) {
    const std::string &text = row.at("parameters");
    if (text.rfind("pmf ", 0) == 0)
        return pmfAfter(text, "pmf ");
    if (text.rfind("r=", 0) == 0)
        return negativeBinomial(numberAfter(text, "r="), numberAfter(text, "p="));
    return poisson(numberAfter(text, "mu="));
}

std::vector<double> listAfter(const std::string &text, const std::string &key) {
    const std::size_t at = text.find(key) + key.size() + 1; // behind the bracket
    std::istringstream in(text.substr(at, text.find(']', at) - at));
    std::vector<double> values;
    for (double value = 0; in >> value; in.ignore())
        values.push_back(value);
    EXPECT_FALSE(values.empty()) << key;
    return values;
}

// The score of a normal forecast whose values are cut into steps: the boundary of a step lies on y, so that
// the sum is the midpoint rule of the integral.
double normalScoreInSteps(double mean, double spread, double y, double step) {
    const auto cdf = [&](double x) { return std::erfc((mean - x) / (spread * std::sqrt(2.0))) / 2; };
    const auto before = static_cast<std::int64_t>(std::ceil((y - mean + 10 * spread) / step));
    const auto after = static_cast<std::int64_t>(std::ceil((mean + 10 * spread - y) / step));
    std::vector<double> pmf;
    double below = 0;
    for (std::int64_t k = -before; k < after; ++k) {
        const double upTo = cdf(y + (static_cast<double>(k) + 0.5) * step);
        pmf.push_back(upTo - below);
        below = upTo;
    }
    return step * rankedProbabilityScore(pmf, before);
}

double expected(const CheckRow &row) {
    return std::stod(row.at("expected"));
}

} // namespace

// Sources stand in each row of scores.csv.
TEST(ScoresTest, RankedProbabilityScoresMatchTheCheckValues) {
    for (const CheckRow &row : checkRows("scores.csv", "RPS-")) {
        const auto y = static_cast<std::int64_t>(numberAfter(row.at("parameters"), "y="));
        EXPECT_NEAR(rankedProbabilityScore(forecastIn(row), y), expected(row), 1e-8) << row.at("id");
    }
}

// On a fine grid the score of counts is that of a continuous forecast; two grids take out the error of the
// grid (Richardson's extrapolation: it falls with the square of the step).
TEST(ScoresTest, OnAFineGridTheScoreOfCountsIsThatOfANormalForecast) {
    int seen = 0;
    for (const CheckRow &row : checkRows("scores.csv", "CRPS-")) {
        const std::string &text = row.at("parameters");
        const double mean = numberAfter(text, "mean="), spread = numberAfter(text, "sd="),
                     y = numberAfter(text, "y=");
        const double coarse = normalScoreInSteps(mean, spread, y, 0.002 * spread);
        const double fine = normalScoreInSteps(mean, spread, y, 0.001 * spread);
        EXPECT_NEAR((4 * fine - coarse) / 3, expected(row), tolerance(row)) << row.at("id");
        ++seen;
    }
    EXPECT_EQ(seen, 4);
}

TEST(ScoresTest, PitBoundsMatchTheCheckValues) {
    for (const CheckRow &row : checkRows("scores.csv", "PIT-")) {
        if (row.at("quantity").find("bounds") == std::string::npos)
            continue;
        const auto y = static_cast<std::int64_t>(numberAfter(row.at("parameters"), "y="));
        const PitInterval pit = pitInterval(forecastIn(row), y);
        const bool isLower = row.at("quantity").find("F(y-1)") != std::string::npos;
        EXPECT_NEAR(isLower ? pit.below : pit.upTo, expected(row), 1e-12) << row.at("id");
    }
}

TEST(ScoresTest, TheMeanPitMatchesTheCheckValues) {
    int seen = 0;
    for (const CheckRow &row : checkRows("scores.csv", "PIT-")) {
        if (row.at("quantity").find("mean") == std::string::npos)
            continue;
        const std::string &text = row.at("parameters");
        const std::vector<double> means = listAfter(text, "mus="), ys = listAfter(text, "ys=");
        double sum = 0;
        for (std::size_t i = 0; i < ys.size(); ++i)
            sum += PitHistogram::ramp(pitInterval(poisson(means[i]), static_cast<std::int64_t>(ys[i])),
                                      numberAfter(text, ";u="));
        EXPECT_NEAR(sum / static_cast<double>(ys.size()), expected(row), 1e-11) << row.at("id");
        ++seen;
    }
    EXPECT_GE(seen, 3);
}

TEST(ScoresTest, PinballLossesMatchTheCheckValues) {
    for (const CheckRow &row : checkRows("scores.csv", "PIN-")) {
        const std::string &text = row.at("parameters");
        const double factor = row.at("quantity").find("with factor 2") != std::string::npos ? 2 : 1;
        const double loss =
            pinballLoss(numberAfter(text, "p="), numberAfter(text, "quantile="), numberAfter(text, "y="));
        EXPECT_NEAR(factor * loss, expected(row), 1e-12) << row.at("id");
    }
}

TEST(ScoresTest, IntervalScoresMatchTheCheckValues) {
    for (const CheckRow &row : checkRows("scores.csv", "WIN-")) {
        const std::string &text = row.at("parameters");
        EXPECT_NEAR(intervalScore(numberAfter(text, "alpha="), numberAfter(text, "lower="),
                                  numberAfter(text, "upper="), numberAfter(text, "y=")),
                    expected(row), 1e-12)
            << row.at("id");
    }
}

TEST(ScoresTest, ScaledErrorsMatchTheCheckValues) {
    int seen = 0;
    for (const CheckRow &row : checkRows("scores.csv", "MASE-")) {
        if (row.at("quantity").rfind("MASE", 0) != 0)
            continue; // the squared form is not used
        const std::string &text = row.at("parameters");
        EXPECT_NEAR(meanAbsoluteScaledError(listAfter(text, "train="), listAfter(text, "test="),
                                            listAfter(text, "forecast=")),
                    expected(row), 1e-12)
            << row.at("id");
        ++seen;
    }
    EXPECT_EQ(seen, 2);
}

// Forecasts that are right: every share is as promised, though whole intervals of counts would cover more.
TEST(ScoresTest, OfForecastsThatAreRightTheFairCoverageIsTheNominalOne) {
    const std::vector<double> p = poisson(1.7);
    for (const double central : {0.5, 0.8, 0.9}) {
        double mean = 0;
        for (std::size_t k = 0; k < p.size(); ++k)
            mean += p[k] * fairCoverage(pitInterval(p, static_cast<std::int64_t>(k)), central);
        EXPECT_NEAR(mean, central, 1e-12);
    }
    PitHistogram histogram;
    kitround::Random random(5);
    for (int i = 0; i < 20000; ++i) {
        double u = random.uniform();
        std::int64_t k = 0;
        while ((u -= p[static_cast<std::size_t>(k)]) > 0)
            ++k;
        histogram.add(pitInterval(p, k));
    }
    for (double share : histogram.shares())
        EXPECT_NEAR(share, 0.1, 0.01);
    EXPECT_EQ(fairCoverage(pitInterval(Pmf::certain(3).values(), 4), 0.8), 0.0); // sure, and wrong
}

// 2 x the pinball loss integrated over the levels is the CRPS (Gneiting and Raftery 2007, sec. 4.2).
TEST(ScoresTest, PinballOverAllLevelsIsHalfTheRankedProbabilityScore) {
    const std::vector<double> p = poisson(4.5);
    for (const int y : {0, 4, 9}) {
        double sum = 0;
        constexpr int kSteps = 200000;
        double cdf = p[0];
        int quantile = 0;
        for (int i = 0; i < kSteps; ++i) {
            const double level = (i + 0.5) / kSteps;
            while (cdf < level)
                cdf += p[static_cast<std::size_t>(++quantile)];
            sum += pinballLoss(level, quantile, y) / kSteps;
        }
        EXPECT_NEAR(2 * sum, rankedProbabilityScore(p, y), 1e-4) << y;
    }
}
