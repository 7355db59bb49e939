#include "core/forecast/backtest/Baselines.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {

double movingAverage(std::span<const double> series, std::size_t n) {
    const std::size_t count = std::min(n, series.size());
    double sum = 0;
    for (double value : series.last(count))
        sum += value;
    return count > 0 ? sum / static_cast<double>(count) : 0;
}

double exponentialSmoothing(std::span<const double> series, double alpha) {
    if (series.empty())
        return 0;
    double level = series.front();
    for (double value : series.subspan(1))
        level += alpha * (value - level);
    return level;
}

CrostonLevels croston(std::span<const double> series, double alpha) {
    CrostonLevels levels;
    double since = 0;
    for (double value : series) {
        ++since;
        if (value == 0.0)
            continue;
        if (levels.interval == 0.0)
            levels = {value, since};
        else
            levels = {levels.size + alpha * (value - levels.size),
                      levels.interval + alpha * (since - levels.interval)};
        since = 0;
    }
    return levels;
}

double syntetosBoylan(const CrostonLevels &levels, double alpha) {
    return (1.0 - alpha / 2.0) * levels.rate();
}

double shaleBoylanJohnston(const CrostonLevels &levels, double alpha) {
    return (1.0 - alpha / (2.0 - alpha)) * levels.rate();
}

TsbLevels teunterSyntetosBabai(std::span<const double> series, double alphaSize, double alphaChance) {
    const auto first = std::ranges::find_if(series, [](double value) { return value != 0.0; });
    if (first == series.end())
        return {};
    TsbLevels levels{*first, 1.0 / static_cast<double>(first - series.begin() + 1)};
    for (double value : series) {
        levels.chance += alphaChance * ((value != 0.0 ? 1.0 : 0.0) - levels.chance);
        if (value != 0.0)
            levels.size += alphaSize * (value - levels.size);
    }
    return levels;
}

namespace {

double spreadAt(double forecast) {
    return std::sqrt(std::max(forecast, 1.0));
}

} // namespace

void PastErrors::add(double forecast, double actual) {
    errors_.push_back((actual - forecast) / spreadAt(forecast));
}

void PastErrors::sort() {
    std::ranges::sort(errors_);
}

double PastErrors::quantile(double level, double forecast) const {
    if (errors_.empty())
        return std::max(forecast, 0.0);
    // Between order statistics i and i + 1 (0-based) at level (n - 1): Hyndman and Fan's type 7.
    const double at = level * static_cast<double>(errors_.size() - 1);
    const auto low = static_cast<std::size_t>(at);
    const std::size_t high = std::min(low + 1, errors_.size() - 1);
    const double error = errors_[low] + (at - static_cast<double>(low)) * (errors_[high] - errors_[low]);
    return std::max(forecast + spreadAt(forecast) * error, 0.0);
}

} // namespace kitround::forecast
