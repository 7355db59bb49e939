#include "core/forecast/backtest/Scores.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {

double pinballLoss(double level, double quantile, double actual) {
    return actual >= quantile ? level * (actual - quantile) : (1.0 - level) * (quantile - actual);
}

double rankedProbabilityScore(std::span<const double> pmf, std::int64_t actual) {
    double score = 0, cdf = 0;
    const std::int64_t last = std::max<std::int64_t>(static_cast<std::int64_t>(pmf.size()), actual);
    for (std::int64_t k = 0; k < last; ++k) {
        if (static_cast<std::size_t>(k) < pmf.size())
            cdf += pmf[static_cast<std::size_t>(k)];
        const double miss = cdf - (actual <= k ? 1.0 : 0.0);
        score += miss * miss;
    }
    return score;
}

double intervalScore(double alpha, double lower, double upper, double actual) {
    KITROUND_REQUIRE(alpha > 0 && alpha < 1 && lower <= upper);
    return upper - lower + 2.0 / alpha * (std::max(lower - actual, 0.0) + std::max(actual - upper, 0.0));
}

double meanAbsoluteScaledError(std::span<const double> training, std::span<const double> actual,
                               std::span<const double> forecast) {
    KITROUND_REQUIRE(actual.size() == forecast.size());
    if (training.size() < 2 || actual.empty())
        return 0;
    double scale = 0, error = 0;
    for (std::size_t i = 1; i < training.size(); ++i)
        scale += std::abs(training[i] - training[i - 1]);
    scale /= static_cast<double>(training.size() - 1);
    for (std::size_t i = 0; i < actual.size(); ++i)
        error += std::abs(actual[i] - forecast[i]);
    error /= static_cast<double>(actual.size());
    return scale > 0 ? error / scale : 0;
}

PitInterval pitInterval(std::span<const double> pmf, std::int64_t actual) {
    PitInterval pit;
    double cdf = 0;
    for (std::size_t k = 0; k < pmf.size() && static_cast<std::int64_t>(k) <= actual; ++k) {
        if (static_cast<std::int64_t>(k) < actual)
            pit.below += pmf[k];
        cdf += pmf[k];
    }
    pit.below = std::min(pit.below, 1.0);
    pit.upTo = std::min(cdf, 1.0);
    return pit;
}

double PitHistogram::ramp(const PitInterval &pit, double u) {
    if (u <= pit.below)
        return 0;
    return u >= pit.upTo ? 1 : (u - pit.below) / (pit.upTo - pit.below);
}

double fairCoverage(const PitInterval &pit, double central) {
    if (pit.upTo <= pit.below) // no chance was given to what happened: outside of every interval
        return 0;
    return PitHistogram::ramp(pit, 0.5 + central / 2) - PitHistogram::ramp(pit, 0.5 - central / 2);
}

void PitHistogram::add(const PitInterval &pit) {
    double before = 0;
    for (std::size_t i = 0; i < kBins; ++i) {
        const double upTo =
            i + 1 == kBins ? 1.0 : ramp(pit, static_cast<double>(i + 1) / static_cast<double>(kBins));
        mass_[i] += upTo - before;
        before = upTo;
    }
    count_ += 1;
}

void PitHistogram::add(const PitHistogram &other) {
    for (std::size_t i = 0; i < kBins; ++i)
        mass_[i] += other.mass_[i];
    count_ += other.count_;
}

std::array<double, PitHistogram::kBins> PitHistogram::shares() const {
    std::array<double, kBins> shares = mass_;
    for (double &share : shares)
        share /= std::max(count_, 1.0);
    return shares;
}

std::array<double, kLevelCount> quantilesOf(std::span<const double> pmf) {
    std::array<double, kLevelCount> quantiles{};
    double cdf = 0;
    std::size_t next = 0;
    for (std::size_t k = 0; k < pmf.size(); ++k) {
        cdf += pmf[k];
        for (; next < kLevelCount && cdf >= levelAt(next) - 1e-12; ++next)
            quantiles[next] = static_cast<double>(k);
    }
    for (; next < kLevelCount; ++next)
        quantiles[next] = static_cast<double>(pmf.size()) - 1.0;
    return quantiles;
}

double meanPinball(std::span<const double, kLevelCount> quantiles, double actual) {
    double sum = 0;
    for (std::size_t i = 0; i < kLevelCount; ++i)
        sum += pinballLoss(levelAt(i), quantiles[i], actual);
    return sum / static_cast<double>(kLevelCount);
}

} // namespace kitround::forecast
