#pragma once
// Simple forecasts that the tool's own is held against: what a spreadsheet would do. Each gives a rate, units
// a period, from the past periods of one home and item; their spread comes from their own past errors.
#include <cstdint>
#include <map>
#include <span>
#include <vector>

namespace kitround::forecast {

// Mean of the last `n` (fewer where there are fewer); 0 for none. n = 1: the naive forecast.
double movingAverage(std::span<const double> series, std::size_t n);
// Simple exponential smoothing, the level begun at the first value; 0 for none.
double exponentialSmoothing(std::span<const double> series, double alpha);

// Croston, Operational Research Quarterly 23 (1972): sizes and intervals smoothed apart, only at a non-zero
// value; begun at the first non-zero size and its interval counted from the first period (as R forecast
// does).
struct CrostonLevels {
    double size = 0;
    double interval = 0;                                               // 0: nothing but zeros so far
    double rate() const { return interval > 0 ? size / interval : 0; } // units a period
};
CrostonLevels croston(std::span<const double> series, double alpha);
// Syntetos and Boylan, International Journal of Forecasting 21 (2005): Croston times 1 - alpha / 2.
double syntetosBoylan(const CrostonLevels &levels, double alpha);
// Shale, Boylan and Johnston, Journal of the Operational Research Society 57 (2006), for Poisson arrivals:
// Croston times 1 - alpha / (2 - alpha).
double shaleBoylanJohnston(const CrostonLevels &levels, double alpha);

// Teunter, Syntetos and Babai, European Journal of Operational Research 214 (2011): the chance of a non-zero
// value smoothed every period, the size at a non-zero one; begun at the first non-zero size and chance 1 over
// its period's number, then run over all periods from the first.
struct TsbLevels {
    double size = 0;
    double chance = 0;
    double rate() const { return size * chance; }
};
TsbLevels teunterSyntetosBabai(std::span<const double> series, double alphaSize, double alphaChance);

// Past errors of one method over one horizon, in square roots of the forecast, which is how counts spread; a
// quantile of them, put back at a forecast, is the method's quantile.
class PastErrors {
public:
    void add(double forecast, double actual);
    void sort(); // before quantile
    bool isEmpty() const { return errors_.empty(); }
    double quantile(double level, double forecast) const; // never negative; the forecast where none is known

private:
    std::vector<double> errors_;
};

} // namespace kitround::forecast
