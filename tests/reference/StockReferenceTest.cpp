// What an amount of stock means, against published values: our distributions (Boost.Math behind two of them),
// levels, fill rates, order sizes, and how long homes stay.
#include "core/forecast/CappedSessions.h"
#include "core/forecast/ExitLikelihood.h"
#include "core/forecast/Quadrature.h"
#include "core/supply/CountSum.h"
#include "core/supply/Economics.h"
#include "core/supply/LeadTimes.h"
#include "core/supply/Reorders.h"
#include "tests/reference/CheckValues.h"
#include "tests/reference/PoissonOf.h"

#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

namespace kitround::supply {
namespace {

using forecast::Pmf;
using test::after;
using test::CheckRow;
using test::checkValues;
using test::expected;
using test::has;
using test::listAfter;
using test::poisson;
using test::tolerance;

// A continuous value in steps: it falls in (k - 0.5, k + 0.5] steps.
Pmf normalInSteps(double mean, double spread) {
    return translatedGamma(mean, spread * spread, 0);
}

constexpr double kStep = 0.01; // of a standard deviation

TEST(StockReferenceTest, TheNormalDistributionAsLargeSumsUseIt) {
    const Pmf onTheHalf = normalInSteps(1000.5, 1 / kStep); // its cdf at k is Phi((k - 1000) / 100)
    const Pmf whole = normalInSteps(1000, 1 / kStep);       // its losses are midpoint sums of Phi's tail
    for (const CheckRow &row : checkValues("standard-normal.csv")) {
        const std::string &what = row.at("quantity");
        if (what == "Phi^-1(p)") {
            const auto k = static_cast<double>(onTheHalf.quantile(after(row, "p")) - 1000);
            EXPECT_GE(k * kStep, expected(row) - 1e-9) << row.at("id");
            EXPECT_LT((k - 1) * kStep, expected(row)) << row.at("id");
            continue;
        }
        const double at = after(row, "z") / kStep;
        if (std::abs(at - std::round(at)) > 1e-9)
            continue; // between two steps
        const std::int64_t k = 1000 + std::llround(at);
        if (what == "Phi(z)")
            EXPECT_NEAR(onTheHalf.cdf(k), expected(row), tolerance(row) + 1e-12) << row.at("id");
        else if (what.rfind("Lbar", 0) == 0)
            EXPECT_NEAR(after(row, "z") + kStep * whole.shortage(k), expected(row), 2e-6) << row.at("id");
        else
            EXPECT_NEAR(kStep * whole.shortage(k), expected(row), tolerance(row) + 2e-6) << row.at("id");
    }
}

// Negative binomial as the product makes it: a Poisson count whose rate is a Gamma belief. r may come from
// mean and spread.
Pmf negativeBinomial(double r, double p) {
    std::vector<Pmf> parts;
    std::vector<double> weights;
    for (const forecast::WeightedPoint &point : forecast::gammaRule(r, p / (1 - p), forecast::kMostPoints)) {
        parts.emplace_back(forecast::cappedPoisson(point.at, 300));
        weights.push_back(point.weight);
    }
    return Pmf::mixture(parts, weights);
}

Pmf countOf(const CheckRow &row) {
    const std::string &what = row.at("quantity");
    if (what.rfind("Poisson", 0) == 0)
        return poisson(has(row, "parameters", "mu=") ? after(row, "mu") : after(row, "mean"));
    if (has(row, "parameters", "lambda=")) {
        const double shape = after(row, "shape"), rate = after(row, "rate"), lambda = after(row, "lambda");
        return negativeBinomial(shape, rate / (rate + lambda));
    }
    if (has(row, "parameters", "mean=")) {
        const double mean = after(row, "mean"), sd = after(row, "sd");
        return negativeBinomial(mean * mean / (sd * sd - mean), mean / (sd * sd));
    }
    return negativeBinomial(after(row, "r"), after(row, "p"));
}

TEST(StockReferenceTest, CountsHaveTheirPublishedQuantilesAndLosses) {
    for (const CheckRow &row : checkValues("counts.csv")) {
        const std::string &what = row.at("quantity");
        SCOPED_TRACE(row.at("id"));
        if (what.rfind("gamma", 0) == 0) { // large sums: cut into steps of a hundredth of the spread
            const double shape = after(row, "shape");
            const double scale =
                has(row, "parameters", "rate=") ? 1 / after(row, "rate") : after(row, "scale");
            const double step = 0.01 * std::sqrt(shape) * scale;
            const double mean = shape * scale / step, variance = shape * scale * scale / (step * step);
            const Pmf steps = translatedGamma(mean, variance, 2 * variance * variance / mean);
            if (what.find("quantile") != std::string::npos) {
                EXPECT_NEAR(static_cast<double>(steps.quantile(after(row, "p"))) * step, expected(row), step);
                continue;
            }
            const double x = after(row, "x");
            const auto low = static_cast<std::int64_t>(std::floor(x / step));
            const double rest = x / step - static_cast<double>(low);
            const double loss = step * ((1 - rest) * steps.shortage(low) + rest * steps.shortage(low + 1));
            EXPECT_NEAR(what.find("nbar") == std::string::npos ? loss : x - shape * scale + loss,
                        expected(row), 1e-4 * shape * scale);
            continue;
        }
        if (what.rfind("log score", 0) == 0 || what.rfind("Dawid", 0) == 0) {
            const Pmf forecast = poisson(after(row, "mu"));
            const double y = after(row, "y"), miss = y - forecast.mean(), variance = forecast.variance();
            EXPECT_NEAR(what.front() == 'l' ? -std::log(forecast[static_cast<std::size_t>(y)])
                                            : miss * miss / variance + std::log(variance),
                        expected(row), 1e-9);
            continue;
        }
        const Pmf count = countOf(row);
        // 24 points of the rate carry the negative binomial to a few parts in ten million.
        const double close = what.rfind("Poisson", 0) == 0 ? 1e-9 : 5e-7;
        if (what.find("quantile") != std::string::npos || what.find("smallest k") != std::string::npos) {
            const double level =
                has(row, "parameters", "prob=") ? after(row, "prob")
                : has(row, "parameters", "lambda=")
                    ? std::strtod(row.at("parameters").c_str() + row.at("parameters").rfind("p=") + 2,
                                  nullptr)
                    : after(row, "p");
            // A mean of 1,000 is beyond the exact recursion: three moments, a piece off at most.
            const double off = what.rfind("Poisson", 0) == 0 && after(row, "mu") > kLargestExactRate ? 1 : 0;
            EXPECT_NEAR(static_cast<double>(count.quantile(level)), expected(row), off);
        } else if (what.find("cdf") != std::string::npos || what.rfind("P(", 0) == 0) {
            EXPECT_NEAR(count.cdf(static_cast<std::int64_t>(after(row, "k"))), expected(row), close);
        } else {
            const auto x = static_cast<std::int64_t>(after(row, "x"));
            const double loss = count.shortage(x);
            EXPECT_NEAR(what.find("nbar") == std::string::npos ? loss
                                                               : static_cast<double>(x) - count.mean() + loss,
                        expected(row), close);
        }
    }
}

TEST(StockReferenceTest, TheCheapestLevelIsTheNewsvendors) {
    for (const CheckRow &row : checkValues("newsvendor.csv")) {
        SCOPED_TRACE(row.at("id"));
        const PieceCosts costs{after(row, "p"), after(row, "h")};
        const double periods = has(row, "parameters", "L=") ? after(row, "L") + 1 : 1;
        const bool isNormal = has(row, "parameters", "sd=");
        const double step = isNormal ? 0.01 * after(row, "sd") : 1; // of the normal ones
        Pmf demand;
        if (isNormal)
            demand = normalInSteps(after(row, "mean") * periods / step,
                                   after(row, "sd") * std::sqrt(periods) / step);
        else if (has(row, "parameters", "Poisson"))
            demand = poisson(after(row, "Poisson mean") * periods);
        else
            demand = Pmf({0, .25, .05, .1, .2, .15, .1, .1, .05}); // as the row's parameters say
        const std::int64_t cheapest = demand.quantile(criticalRatio(costs));
        if (row.at("quantity") == "optimal level S*") {
            EXPECT_NEAR(static_cast<double>(cheapest) * step, expected(row), isNormal ? step : 0);
            continue;
        }
        const double level =
            has(row, "parameters", ";S=") ? after(row, "S") / step : static_cast<double>(cheapest);
        const auto below = static_cast<std::int64_t>(std::floor(level)); // a level between two steps
        const double rest = level - static_cast<double>(below);
        const double cost = step * ((1 - rest) * cycleCost(demand, below, costs) +
                                    rest * cycleCost(demand, below + 1, costs));
        EXPECT_NEAR(cost, expected(row), 1e-4 * expected(row));
        EXPECT_LE(cycleCost(demand, cheapest, costs), cycleCost(demand, cheapest + 1, costs));
        EXPECT_LE(cycleCost(demand, cheapest, costs), cycleCost(demand, cheapest - 1, costs));
    }
}

TEST(StockReferenceTest, TheCheapestOrderSizeIsThePublishedOneInWholePieces) {
    for (const CheckRow &row : checkValues("order-size.csv")) {
        SCOPED_TRACE(row.at("id"));
        SupplierItem offer;
        offer.pack = PackSize{Eaches::of(1)};
        offer.leastLine = Cases::of(1);
        OrderCosts costs;
        costs.eachesPerYear = after(row, "lambda");
        costs.perOrder = 100 * after(row, "K"); // money in hundredths
        const bool hasBreaks = has(row, "parameters", "breakpoints");
        if (hasBreaks) {
            const auto from = listAfter(row, "breakpoints"), price = listAfter(row, "unit_costs");
            offer.perCase = Money::of(std::llround(100 * price[0]));
            for (std::size_t i = 1; i < from.size(); ++i)
                offer.breaks.push_back(
                    {Cases::of(std::llround(from[i])), Money::of(std::llround(100 * price[i]))});
            costs.holdingPerYear = after(row, "i");
        } else { // only the holding cost h of a piece is given: 0.3 a year of 0.75
            offer.perCase = Money::of(75);
            costs.holdingPerYear = after(row, "h") / 0.75;
        }
        const auto best = economicOrder(offer, costs);
        ASSERT_TRUE(best);
        const double bought =
            hasBreaks ? 0 : 0.75 * costs.eachesPerYear; // the rows without breaks leave it out
        const std::string &what = row.at("quantity");
        if (what.find("Q*") != std::string::npos && what.find("cost") == std::string::npos)
            EXPECT_NEAR(static_cast<double>(best->count()), expected(row), 0.5);
        else if (what.find("region") != std::string::npos)
            EXPECT_EQ(priceFor(offer, *best), offer.breaks.at(1).perCase); // the last of the three
        else {
            const Cases size =
                has(row, "parameters", ";Q=") ? Cases::of(std::llround(after(row, "Q"))) : *best;
            EXPECT_NEAR(yearlyCost(offer, size, costs) / 100 - bought, expected(row), 1e-4);
        }
    }
}

TEST(StockReferenceTest, FillRatesOfOrderUpToLevels) {
    for (const CheckRow &row : checkValues("reorder-levels.csv")) {
        SCOPED_TRACE(row.at("id"));
        if (row.at("id").rfind("RS", 0) == 0) {
            const double rate = after(row, "Poisson rate"), lead = after(row, "L");
            const Pmf arrival = poisson(rate * lead), next = poisson(rate * (lead + after(row, "R")));
            const std::string &what = row.at("quantity");
            if (what.rfind("smallest S", 0) == 0) {
                const double target = std::stod(what.substr(what.find(">= ") + 3));
                const auto level = static_cast<std::int64_t>(expected(row));
                EXPECT_GE(fillRate(arrival, next, level), target);
                EXPECT_LT(fillRate(arrival, next, level - 1), target);
            } else if (what.find("fill rate") != std::string::npos)
                EXPECT_NEAR(fillRate(arrival, next, std::llround(after(row, "S"))), expected(row), 1e-10);
            else
                EXPECT_NEAR(next.cdf(std::llround(after(row, "S"))), expected(row), 1e-12);
            continue;
        }
        const auto or0 = [&](const std::string &key) {
            return has(row, "parameters", key + "=") ? after(row, key) : 0.0;
        };
        const bool isTable = has(row, "parameters", "z=");
        const double perDay =
            has(row, "parameters", "daily mean=") ? after(row, "daily mean") : after(row, "d");
        const double spread = has(row, "parameters", "daily sd=") ? after(row, "daily sd") : or0("sd_d");
        const double lead = has(row, "parameters", "mean L=") ? after(row, "mean L") : after(row, "L");
        const double leadSpread = has(row, "parameters", ";sd L=") ? after(row, "sd L") : or0("sd_L");
        double z = 1;
        if (isTable)
            z = after(row, "z");
        else if (row.at("quantity").rfind("reorder point", 0) == 0)
            for (const CheckRow &normal : checkValues("standard-normal.csv"))
                if (normal.at("quantity") == "Phi^-1(p)" && after(normal, "p") == after(row, "cycle service"))
                    z = expected(normal);
        if (row.at("quantity").rfind("reorder point", 0) == 0 && z == 1)
            continue; // a level that the normal table here does not hold
        const double safety = textbookSafetyStock(perDay, spread, lead, leadSpread, z);
        EXPECT_NEAR(row.at("quantity").rfind("reorder point", 0) == 0
                        ? textbookReorderPoint(perDay, spread, lead, leadSpread, z)
                        : safety,
                    expected(row), tolerance(row) + 1e-9);
    }
}

std::vector<forecast::Stay> staysIn(const CheckRow &row) {
    const std::string &text = row.at("parameters");
    std::istringstream in(text.substr(text.find(':') + 1));
    std::vector<forecast::Stay> stays;
    for (std::string word; in >> word;)
        stays.push_back({0, 0, std::stoll(word), word.back() != '+'});
    return stays;
}

TEST(StockReferenceTest, TheCurveOfTimeInServiceIsTheProductLimit) {
    for (const CheckRow &row : checkValues("survival.csv")) {
        SCOPED_TRACE(row.at("id"));
        const auto curve = forecast::productLimit(staysIn(row));
        const std::string &what = row.at("quantity");
        if (what == "median survival") {
            const auto half =
                std::ranges::find_if(curve, [](const auto &point) { return point.share <= 0.5; });
            ASSERT_NE(half, curve.end());
            EXPECT_EQ(half->day, std::llround(expected(row)));
            continue;
        }
        if (what.rfind("Nelson-Aalen", 0) == 0) { // the same exits over the same risk sets, added up
            const std::int64_t until = std::stoll(what.substr(what.rfind(' ')));
            double hazard = 0;
            for (const forecast::StayPoint &point : curve)
                if (point.day <= until)
                    hazard += static_cast<double>(point.left) / static_cast<double>(point.atRisk);
            EXPECT_NEAR(hazard, expected(row), tolerance(row));
            continue;
        }
        const bool isError = what.rfind("Greenwood", 0) == 0;
        const std::size_t at = isError ? what.rfind(' ') + 1 : what.find("S(") + 2;
        const forecast::StayPoint point = forecast::curveOn(curve, std::stoll(what.substr(at)));
        EXPECT_NEAR(isError ? point.error : point.share, expected(row), tolerance(row));
    }
}

// Where the log-likelihood is highest, by golden sections.
double likeliestRate(const forecast::ExitLikelihood &likelihood, double published) {
    double low = 0.01, high = 100;
    const double share = (std::sqrt(5.0) - 1) / 2;
    for (int i = 0; i < 100; ++i) {
        const double left = high - share * (high - low), right = low + share * (high - low);
        (likelihood.logAt(left, 0) > likelihood.logAt(right, 0) ? high : low) =
            likelihood.logAt(left, 0) > likelihood.logAt(right, 0) ? right : left;
    }
    return published * (low + high) / 2;
}

TEST(StockReferenceTest, TheRateOfExitsIsExitsOverDaysWithAnExactInterval) {
    constexpr double kPublished = 0.02; // any: the rate is a factor times it
    for (const CheckRow &row : checkValues("exit-rate.csv")) {
        SCOPED_TRACE(row.at("id"));
        const std::string &what = row.at("quantity");
        if (has(row, "parameters", "failures=")) { // times between exits: one over the rate, ends exchanged
            const forecast::ExitRate rate{std::llround(after(row, "failures")),
                                          std::llround(after(row, "T"))};
            const double got = what.find("lower") != std::string::npos   ? 1 / rate.interval(0.9).high
                               : what.find("upper") != std::string::npos ? 1 / rate.interval(0.9).low
                                                                         : 1 / rate.perDay();
            EXPECT_NEAR(got, expected(row), tolerance(row) + 1e-9);
            continue;
        }
        std::vector<forecast::Stay> stays = staysIn(row);
        for (forecast::Stay &stay : stays)
            stay.publishedExitPerDay = kPublished;
        const forecast::ExitRate rate = forecast::exitRateOf(stays);
        const forecast::ExitLikelihood likelihood(stays);
        if (what.find("interval") != std::string::npos)
            EXPECT_NEAR(rate.interval(0.95).low, expected(row), tolerance(row));
        else if (what.find("likelihood") != std::string::npos)
            EXPECT_NEAR(likelihood.logAt(rate.perDay() / kPublished, 0), expected(row), tolerance(row));
        else {
            EXPECT_NEAR(rate.perDay(), expected(row), tolerance(row));
            EXPECT_NEAR(likeliestRate(likelihood, kPublished), expected(row), tolerance(row));
        }
    }
}

TEST(StockReferenceTest, WithoutExitsTheRateMayBeNought) {
    const forecast::ExitRate rate{0, 300};
    EXPECT_EQ(rate.perDay(), 0);
    EXPECT_EQ(rate.interval(0.9).low, 0);
    EXPECT_NEAR(rate.interval(0.9).high, -std::log(0.05) / 300, 1e-12); // no exit in 300 days: exp(-300 h)
}

// By hand: the second is seen only from day 10 on, so it is not among those at risk on day 5.
TEST(StockReferenceTest, WhoIsSeenLateIsNotAtRiskBefore) {
    const auto curve = forecast::productLimit(
        std::vector<forecast::Stay>{{0, 0, 5, true}, {0, 10, 20, true}, {0, 0, 30, false}});
    ASSERT_EQ(curve.size(), 2U);
    EXPECT_EQ(curve[0].atRisk, 2);
    EXPECT_DOUBLE_EQ(curve[0].share, 0.5);
    EXPECT_EQ(curve[1].atRisk, 2);
    EXPECT_DOUBLE_EQ(curve[1].share, 0.25);
    EXPECT_EQ(forecast::curveOn(curve, 4).share, 1);
    EXPECT_EQ(forecast::curveOn(curve, 19).share, 0.5);
}

} // namespace
} // namespace kitround::supply
