#pragma once
// How good was a forecast, once the truth is known. Counts: a forecast is a distribution over 0, 1, 2, ...
// Lower is better, except coverage, which should be what the interval promises.
#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace kitround::forecast {

// (level - [actual < quantile]) (actual - quantile): Koenker and Bassett 1978; without the factor 2 some
// texts use (Hyndman and Athanasopoulos, Forecasting: Principles and Practice, 3rd ed., sec. 5.9).
double pinballLoss(double level, double quantile, double actual);
// Sum over k of (F(k) - [actual <= k])^2: the CRPS on whole numbers (Czado, Gneiting and Held, "Predictive
// model assessment for count data", Biometrics 65, 2009).
double rankedProbabilityScore(std::span<const double> pmf, std::int64_t actual);
// Width, and 2 / alpha times the miss (Winkler 1972; Gneiting and Raftery, JASA 102, 2007, eq. 43).
double intervalScore(double alpha, double lower, double upper, double actual);
// Mean absolute error over the training series' mean absolute lag-1 difference (Hyndman and Koehler 2006);
// nothing to scale by (constant training series): 0 stands for "no score".
double meanAbsoluteScaledError(std::span<const double> training, std::span<const double> actual,
                               std::span<const double> forecast);

// F(actual - 1) and F(actual).
struct PitInterval {
    double below = 0;
    double upTo = 0;
};
PitInterval pitInterval(std::span<const double> pmf, std::int64_t actual);

// Chance that the randomised PIT (uniform between the two bounds) falls in the middle `central` of [0, 1].
// Over forecasts that are right its mean is exactly `central`, also for counts, where the coverage of whole
// intervals would exceed it (Czado, Gneiting and Held 2009, sec. 2.1).
double fairCoverage(const PitInterval &pit, double central);

// The non-randomised PIT histogram: mean over forecasts of the ramp from `below` to `upTo` (same source, eq.
// 2). Flat where forecasts are calibrated; a cup: too narrow; a hump: too wide.
class PitHistogram {
public:
    static constexpr std::size_t kBins = 10;
    void add(const PitInterval &pit);
    void add(const PitHistogram &other);
    std::array<double, kBins> shares() const; // sum 1; all 0 where nothing was added
    // Mean of the ramps at u.
    static double ramp(const PitInterval &pit, double u);

private:
    std::array<double, kBins> mass_{};
    double count_ = 0;
};

// Levels of the quantiles whose pinball losses are averaged: 0.05, 0.10, ... 0.95.
inline constexpr std::size_t kLevelCount = 19;
constexpr double levelAt(std::size_t i) {
    return 0.05 * static_cast<double>(i + 1);
}
// Smallest k with F(k) >= level, for all levels at once.
std::array<double, kLevelCount> quantilesOf(std::span<const double> pmf);
double meanPinball(std::span<const double, kLevelCount> quantiles, double actual);

} // namespace kitround::forecast
