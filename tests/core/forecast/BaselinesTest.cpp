#include "core/forecast/backtest/Baselines.h"

#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

using namespace kitround::forecast;
using namespace kitround::test;

namespace {

double meanSquareOfOneStepErrors(const std::vector<double> &series, double alpha) {
    double sum = 0;
    for (std::size_t t = 1; t < series.size(); ++t) {
        const double error = series[t] - exponentialSmoothing(std::span(series).first(t), alpha);
        sum += error * error;
    }
    return sum / static_cast<double>(series.size() - 1);
}

} // namespace

// Against the R package named in each row of croston_sba_tsb.csv.
TEST(BaselinesTest, CrostonMatchesTheCheckValues) {
    for (const CheckRow &row : checkRows("croston_sba_tsb.csv", "CRO-")) {
        const double alpha = numberAfter(row.at("parameters"), "alpha=");
        const std::string &what = row.at("quantity");
        if (what.rfind("asymptotic", 0) == 0) { // the factor alone, on a rate of one
            EXPECT_NEAR(syntetosBoylan({1, 1}, alpha), std::stod(row.at("expected")), tolerance(row))
                << row.at("id");
            continue;
        }
        const CrostonLevels levels = croston(seriesIn(row), alpha);
        const double got = what.rfind("SBA", 0) == 0                      ? syntetosBoylan(levels, alpha)
                           : what.rfind("SBJ", 0) == 0                    ? shaleBoylanJohnston(levels, alpha)
                           : what.find("size level") != std::string::npos ? levels.size
                           : what.find("interval level") != std::string::npos ? levels.interval
                                                                              : levels.rate();
        EXPECT_NEAR(got, std::stod(row.at("expected")), tolerance(row)) << row.at("id");
    }
}

TEST(BaselinesTest, TeunterSyntetosBabaiMatchesTheCheckValues) {
    for (const CheckRow &row : checkRows("croston_sba_tsb.csv", "TSB-")) {
        const std::string &text = row.at("parameters");
        const TsbLevels levels = teunterSyntetosBabai(seriesIn(row), numberAfter(text, "alpha_size="),
                                                      numberAfter(text, "alpha_prob="));
        const std::string &what = row.at("quantity");
        const double got = what.find("probability") != std::string::npos  ? levels.chance
                           : what.find("size level") != std::string::npos ? levels.size
                                                                          : levels.rate();
        EXPECT_NEAR(got, std::stod(row.at("expected")), tolerance(row)) << row.at("id");
    }
}

// The handbook's S_t smooths the first t - 1 observations, as do forecasts for a period.
TEST(BaselinesTest, ExponentialSmoothingMatchesTheCheckValues) {
    int seen = 0;
    for (const CheckRow &row : checkRows("exponential_smoothing.csv", "SES-")) {
        const std::string &what = row.at("quantity");
        std::vector<double> series = seriesIn(row);
        for (const std::string key : {"smoothed value S_", "forecast for period "})
            if (what.rfind(key, 0) == 0)
                series.resize(static_cast<std::size_t>(numberAfter(what, key)) - 1);
        const double alpha = numberAfter(row.at("parameters"), "alpha=");
        const double got = what.rfind("MSE", 0) == 0 ? meanSquareOfOneStepErrors(series, alpha)
                                                     : exponentialSmoothing(series, alpha);
        EXPECT_NEAR(got, std::stod(row.at("expected")), tolerance(row)) << row.at("id");
        ++seen;
    }
    EXPECT_EQ(seen, 23);
}

TEST(BaselinesTest, NothingSeenForecastsNothing) {
    const std::vector<double> none, zeros(5, 0.0);
    EXPECT_EQ(movingAverage(none, 4), 0.0);
    EXPECT_EQ(exponentialSmoothing(none, 0.2), 0.0);
    EXPECT_EQ(croston(zeros, 0.1).rate(), 0.0);
    EXPECT_EQ(teunterSyntetosBabai(zeros, 0.1, 0.1).rate(), 0.0);
}

TEST(BaselinesTest, TheMovingAverageTakesTheLatest) {
    const std::vector<double> series{9, 1, 2, 3};
    EXPECT_DOUBLE_EQ(movingAverage(series, 3), 2.0);
    EXPECT_DOUBLE_EQ(movingAverage(series, 1), 3.0);
    EXPECT_DOUBLE_EQ(movingAverage(series, 9), 15.0 / 4);
}

TEST(BaselinesTest, PastErrorsScaleWithTheRootOfTheForecastAndNeverGoBelowZero) {
    PastErrors errors;
    for (const double actual : {2.0, 4.0, 6.0}) // of a forecast of 4: -1, 0 and 1 roots
        errors.add(4.0, actual);
    errors.sort();
    EXPECT_DOUBLE_EQ(errors.quantile(0.5, 9.0), 9.0);
    EXPECT_DOUBLE_EQ(errors.quantile(1.0, 9.0), 12.0);
    EXPECT_DOUBLE_EQ(errors.quantile(0.75, 9.0), 10.5);
    EXPECT_DOUBLE_EQ(errors.quantile(0.0, 0.0), 0.0);
    EXPECT_DOUBLE_EQ(PastErrors().quantile(0.9, 5.0), 5.0);
}
